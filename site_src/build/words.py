"""All translatable texts, found in the sources, and the dictionaries kept in step with them.

A text is a literal in `tr("...")` or `later("...")` in Python, a template or a script, or part of a
declaration: of a form, one of its entries, an attribute of a record, a `figure("...")` or an
`assumed("...")`.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any

from jinja2 import Environment, nodes

from calc.asking.entry import Choice, Entry, Rows
from calc.forms.catalogue import FORMS
from calc.kept.build.build import DUE_AFTER, KIND, NAME, OWN, SCOPE
from calc.kept.build.readings import READINGS
from calc.kept.log import Entry as LogEntry
from calc.kept.setups import SAVE, Setup
from calc.language import ENGLISH, NAMES, dictionary
from calc.model.car import Car
from calc.replying.form import Form
from site_src.build.toolchain import ROOT
from site_src.pages.script_texts import in_scripts

LANGUAGES = ROOT / "calc" / "languages"
OTHERS = tuple(code for code in NAMES if code != ENGLISH)
_CALLS = ("tr", "later", "figure", "assumed")


def gathered() -> set[str]:
    """The keys of all texts: the English, with its sense behind it."""
    found = declared()
    for path in sorted((*_files("calc", "py"), *_files("site_src", "py"))):
        found |= in_python(path.read_text("utf-8"))
    for path in _files("site_src", "html"):
        found |= in_template(path.read_text("utf-8"))
    return found | in_scripts()


def _files(folder: str, ending: str) -> Iterator[Path]:
    return (ROOT / folder).rglob(f"*.{ending}")


def in_python(source: str) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and node.args and _name(node.func) in _CALLS:
            senses = [keyword.value for keyword in node.keywords if keyword.arg == "sense"]
            found |= {_key(text, _one(senses)) for text in _literals(node.args[0])}
    return found


def _name(called: ast.expr) -> str:
    if isinstance(called, ast.Attribute):
        return called.attr
    return called.id if isinstance(called, ast.Name) else ""


def _literals(node: ast.expr) -> Iterator[str]:
    """The text of a literal, or both texts of a conditional expression."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from (*_literals(node.body), *_literals(node.orelse))


def _one(senses: Iterable[ast.expr]) -> str:
    return next((text for sense in senses for text in _literals(sense)), "")


def _key(text: str, sense: str) -> str:
    return f"{text} ({sense})" if sense else text


def in_template(source: str) -> set[str]:
    found = set()
    for call in Environment().parse(source).find_all(nodes.Call):
        if isinstance(call.node, nodes.Name) and call.node.name in _CALLS and call.args:
            senses = [pair.value for pair in call.kwargs if pair.key == "sense"]
            sense = next((text for one in senses for text in _constants(one)), "")
            found |= {_key(text, sense) for text in _constants(call.args[0])}
    return found


def _constants(node: nodes.Node) -> Iterator[str]:
    if isinstance(node, nodes.Const) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, nodes.CondExpr):
        yield from (*_constants(node.expr1), *(_constants(node.expr2) if node.expr2 else ()))


def declared() -> set[str]:
    """Texts that forms, their entries and the records declare; they are translated only when
    shown."""
    return declared_by_records().union(*map(of_form, FORMS))


def declared_by_records() -> set[str]:
    """Texts of the car, of a set-up with the form that saves it, of an entry of the log and of the
    build list."""
    entries = [entry for kind in (Car, Setup, LogEntry) for entry in _of_record(kind)]
    entries += [reading.entry for reading in READINGS.values()]
    entries += [NAME, OWN, DUE_AFTER, SCOPE, *KIND.values()]
    return of_form(SAVE).union(*map(of_entry, entries))


def of_form(form: Form) -> set[str]:
    return {form.title, form.asks} | {text for entry in form.fields for text in of_entry(entry)}


def of_entry(entry: Entry) -> set[str]:
    parts = () if isinstance(entry, Choice | Rows) else entry.parts
    found = {*(parts or (entry.label,)), entry.measure}
    if isinstance(entry, Choice):
        found |= {text for _, text in entry.options}
    if isinstance(entry, Rows):
        found |= {_without_number(label) for _, label in entry.rows}
        found |= {text for column in entry.columns for text in of_entry(column)}
    return found - {""}


def _without_number(label: str) -> str:
    word, _, number = label.rpartition(" ")
    return word if number.isdigit() else label


def _of_record(kind: Any) -> Iterator[Entry]:
    for item in fields(kind):
        inner = item.metadata.get("part") or item.metadata.get("many")
        if inner:
            yield from _of_record(inner)
        elif "entry" in item.metadata:
            yield item.metadata["entry"]


def write() -> Mapping[str, int]:
    """Bring the dictionaries in step with the sources: a new text gets an empty translation, an
    unused one is removed. Returns the number of empty ones by language."""
    keys, empty = gathered(), {}
    for code in OTHERS:
        known = dictionary(code)
        words = {key: known.get(key, "") for key in sorted(keys)}
        text = json.dumps(words, ensure_ascii=False, indent=1)
        (LANGUAGES / f"{code}.json").write_text(f"{text}\n", "utf-8")
        empty[code] = sum(not translated for translated in words.values())
    return empty
