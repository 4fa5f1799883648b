"""The types of the page's questions and of stored records in TypeScript, from those in Python.

    python -m site_src.build.declarations      writes them where the checker and editors find them

Nobody writes them by hand: a question, a name in it or a type is changed in live/questions.py only.
"""

from __future__ import annotations

import json
import os
import tempfile
from collections import abc
from collections.abc import Iterator, Mapping
from dataclasses import Field, fields, is_dataclass
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from calc.asking.entry import Choice, Number
from calc.kept.log import Entry
from calc.kept.setups import Setup
from calc.model.car import Car
from site_src.build.toolchain import ROOT
from site_src.live.questions import QUESTIONS
from site_src.live.wire import STORED, declared, optional

PLACE = Path(".cache", "types", "questions.d.ts")
SIMPLE: Mapping[Any, str] = {str: "string", float: "number", bool: "boolean", NoneType: "null"}
NAMES: dict[type, str] = {Car: "Car", Entry: "LogEntry", Setup: "Setup"}
"""Records that are stored on their own, as the scripts call them."""
HEAD = (
    "// Made by site_src/build/declarations.py from site_src/live/questions.py: change it there.\n"
)
TABLE = "/** What is said with a question, and its reply. */\ninterface Talk"


def declarations() -> str:
    """Every record that a question or its reply is made of, then the table of the questions."""
    found: dict[type, str] = {}
    for kind in NAMES:
        _declare(kind, found)
    for question in QUESTIONS.values():
        _declare(question.asked, found)
        _declare(question.reply, found)
    names = [_name(kind) for kind in found]
    if twice := sorted({name for name in names if names.count(name) > 1}):
        raise ValueError(f"two records are called the same: {', '.join(twice)}")
    types = "".join(f"type {_name(kind)} = {spelt};\n" for kind, spelt in found.items())
    table = "".join(
        f"  {one.name}: [{_name(one.asked)}, {_name(one.reply)}];\n" for one in QUESTIONS.values()
    )
    return f"{HEAD}\n{types}\n{TABLE} {{\n{table}}}\n"


def write(root: Path = ROOT) -> Path:
    """Bring the file under `root` up to date. Others may be reading it: it is never half there."""
    place, content = root / PLACE, declarations()
    if not place.exists() or place.read_text("utf-8") != content:
        place.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=place.parent)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(content)
        Path(temporary).replace(place)
    return place


def _name(kind: type) -> str:
    return NAMES.get(kind, kind.__name__)


def _declare(kind: type, found: dict[type, str]) -> None:
    """Add the type of a record, and those that it is made of before it."""
    if kind in found:
        return
    if kind in STORED:
        found[kind] = f"{{ {'; '.join(stored(kind))} }}"
        return
    spared = optional(kind)
    lines = [
        f"{name}?: {_spelt(_present(one), found)}"
        if name in spared
        else f"{name}: {_spelt(one, found)}"
        for name, one in declared(kind).items()
    ]
    found[kind] = f"{{ {'; '.join(lines)} }}"


def _present(kind: Any) -> Any:
    """The type of a name that may be left out where it is there: None is never written then."""
    if get_origin(kind) not in (Union, UnionType):
        return kind
    (there,) = (one for one in get_args(kind) if one is not NoneType)
    return there


def _spelt(kind: Any, found: dict[type, str]) -> str:
    """The TypeScript of a type that live/wire.py reads."""
    if kind in SIMPLE:
        return SIMPLE[kind]
    if isinstance(kind, type) and is_dataclass(kind):
        _declare(kind, found)
        return _name(kind)
    origin, arguments = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _spelt(arguments[1].kind, found)
    if origin is Literal:
        return " | ".join(map(json.dumps, arguments))
    if origin in (Union, UnionType):
        return " | ".join(_spelt(one, found) for one in arguments)
    if origin is abc.Mapping:
        return f"Record<string, {_spelt(arguments[1], found)}>"
    if origin is tuple and arguments[1:] == (...,):
        return f"Array<{_spelt(arguments[0], found)}>"
    if origin is tuple:
        return f"[{', '.join(_spelt(one, found) for one in arguments)}]"
    raise TypeError(f"no type of TypeScript stands for {kind}")


def stored(kind: type) -> Iterator[str]:
    """The attributes of a stored record, whose types its declared entries say."""
    if kind is Car:
        yield "schema: number"  # written beside the attributes
    for item in fields(kind):
        if {"apart", "u"} & item.metadata.keys():  # of no entry, not in what the first version kept
            yield f"{item.name}?: object"
        else:
            yield f"{item.name}: {_entry(item)}"


def _entry(item: Field[Any]) -> str:
    meta = item.metadata
    if "part" in meta:
        part = meta["part"]
        return NAMES.get(part) or f"{{ {'; '.join(stored(part))} }}"
    if "many" in meta:
        return f"Array<{{ {'; '.join(stored(meta['many']))} }}>"
    entry = meta.get("entry")
    if isinstance(entry, Number):
        return "number"
    if isinstance(entry, Choice):
        return " | ".join(json.dumps(value) for value, *_ in entry.options)
    return "string" if entry else "boolean"


if __name__ == "__main__":
    print(write().relative_to(ROOT))
