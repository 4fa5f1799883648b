"""Records: dataclasses whose attributes declare their entry; paths into them, and their JSON.

A record says everything once: label, unit kind, ranges and how to measure stand in the attribute's
metadata, where the forms, the stored JSON and the tests read them.
"""

import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import Field, field, fields, replace
from typing import Any, TypeGuard, TypeVar

from calc.asking import declare
from calc.asking.entry import Choice, Number, Refused, Text
from calc.language import abridged, later, tr

Declared = Number | Choice | Text
_Record = TypeVar("_Record")
MOST = 20  # rows of a list: bottles, springs


def number(*, start: str = "", kind: str, **declared: Any) -> Any:
    """A `declare.number`; the start is the value of the demo car. One without is optional."""
    entry = declare.number(kind=kind, optional=not start, **declared)
    default = declare.si(start, kind) if start else None
    return field(default=default, metadata={"entry": entry})


def choice(**declared: Any) -> Any:
    entry = declare.choice(**declared)
    return field(default=entry.start, metadata={"entry": entry})


def text(*, start: str = "", **declared: Any) -> Any:
    return field(default=start, metadata={"entry": declare.text(**declared)})


def part(kind: type, **demo: Any) -> Any:
    """A record in the record; `demo` as in `with_quantities`."""
    return field(default_factory=lambda: with_quantities(kind, **demo), metadata={"part": kind})


def many(kind: type, *demo: Mapping[str, str]) -> Any:
    """A list of records; `demo` as in `with_quantities`."""
    made: tuple[Any, ...] = tuple(with_quantities(kind, **values) for values in demo)
    return field(default=made, metadata={"many": kind})


def uncertainties(*names: str) -> Any:
    """Standard uncertainties (SI) of these numbers of a row, by name; of one that is not there the
    tool of its entry decides."""
    return field(default_factory=dict, metadata={"u": names})


def with_quantities(kind: type[_Record], **values: Any) -> _Record:
    """A record with its numbers given with their units: stroke="22 mm"."""
    entries = {item.name: item.metadata.get("entry") for item in fields(kind)}  # type: ignore[arg-type]
    read = {
        name: declare.si(value, entry.kind) if isinstance(entry, Number) else value
        for name, value in values.items()
        for entry in [entries[name]]
    }
    return kind(**read)


def declared(item: Field[Any]) -> bool:
    """Whether an attribute of a record is a single entry, not a part or a list."""
    return "entry" in item.metadata


def entry_at(kind: type, path: str) -> Declared:
    """The declaration behind a path such as "front.pitch" or "bottles.2.left"."""
    for name in path.split("."):
        if name.isdigit():
            continue
        meta = next(f.metadata for f in fields(kind) if f.name == name)
        if "entry" in meta:
            entry: Declared = meta["entry"]
            return entry
        kind = meta.get("part") or meta["many"]
    raise KeyError(path)


def get(record: Any, path: str) -> Any:
    """The value at a path; None where a list has no such row."""
    value: Any = record
    for name in path.split("."):
        if name.isdigit():
            value = value[int(name) - 1] if int(name) <= len(value) else None
            if value is None:
                return None
        else:
            value = getattr(value, name)
    return value


def in_list(path: str) -> bool:
    """Whether a path such as "bottles.2.left" leads into a list of the record."""
    return any(name.isdigit() for name in path.split("."))


def listed(kind: type, name: str, rows: Sequence[Mapping[str, Any]]) -> tuple[Any, ...]:
    """The list `name` of a record, made of the values of its rows."""
    one = next(item.metadata["many"] for item in fields(kind) if item.name == name)
    return tuple(one(**row) for row in rows)


def put(record: Any, path: str, value: Any) -> Any:
    """A copy of the record with another value at the path."""
    return _put(record, path.split("."), value)


def _put(record: Any, names: list[str], value: Any) -> Any:
    head, *rest = names
    if head.isdigit():
        index = int(head) - 1
        items = list(record)
        items[index] = _put(items[index], rest, value)
        return tuple(items)
    inner = _put(getattr(record, head), rest, value) if rest else value
    return replace(record, **{head: inner})


def plain(record: Any) -> dict[str, Any]:
    """The record as plain JSON values; an attribute that is kept `apart` has a form of its own, and
    uncertainties are left out where there are none."""
    made: dict[str, Any] = {}
    for item in stored_fields(type(record)):
        value = getattr(record, item.name)
        if "u" in item.metadata:
            if not value:
                continue
            value = dict(value)
        elif "part" in item.metadata:
            value = plain(value)
        elif "many" in item.metadata:
            value = [plain(one) for one in value]
        made[item.name] = value
    return made


def stored_fields(kind: type) -> tuple[Field[Any], ...]:
    """The attributes that `plain` and `built` go through."""
    return tuple(item for item in fields(kind) if "apart" not in item.metadata)


def built(kind: type, stored: object, where: str) -> Any:
    """The record in stored JSON values, every one of them checked. Raises Refused."""
    if not isinstance(stored, dict):
        raise _damaged(_SOMEWHERE, where)
    known = {item.name: item.metadata for item in stored_fields(kind)}
    needed = (name for name, meta in known.items() if "u" not in meta)
    if missing := [name for name in needed if name not in stored]:
        raise _damaged(
            later("{record} is damaged at {where}: {names} is missing."),
            where,
            names=abridged(missing, _NAMED),
        )
    if not stored.keys() <= known.keys():
        raise _damaged(later("{record} is damaged at {where}: it holds something unknown."), where)
    return kind(
        **{
            name: _value(meta, stored[name], f"{where}.{name}")
            for name, meta in known.items()
            if name in stored
        }
    )


def built_at(kind: type, path: str, stored: object, where: str) -> Any:
    """The value at a path in its stored form, checked; a list whole. Raises Refused."""
    *above, last = path.split(".")
    for name in above:
        kind = next(item.metadata["part"] for item in fields(kind) if item.name == name)
    item = next(item for item in fields(kind) if item.name == last)
    return _value(item.metadata, stored, where)


_NAMED = 5  # attributes that a damaged record lacks
_SOMEWHERE = later("{record} is damaged at {where}.")
_RECORDS = {
    "car": later("The car record"),
    "set-up": later("The set-up"),
    "log": later("The log"),
}


def _damaged(sentence: str, where: str, **more: str) -> Refused:
    """Which record is damaged, and where: the first word of the place is the record's name."""
    record = tr(_RECORDS[where.partition(".")[0]])
    return Refused(tr(sentence, record=record, where=where, **more))


def _value(meta: Mapping[str, Any], stored: object, where: str) -> Any:
    if "part" in meta:
        return built(meta["part"], stored, where)
    if "many" in meta:
        if not isinstance(stored, list) or len(stored) > MOST:
            raise _damaged(_SOMEWHERE, where)
        return tuple(built(meta["many"], one, where) for one in stored)
    if "u" in meta:
        return _uncertainties(meta["u"], stored, where)
    entry = meta.get("entry")
    if isinstance(entry, Number):
        if stored is None and entry.optional:
            return None
        if not _is_number(stored):
            raise _damaged(later("{record} is damaged at {where}: a number is missing."), where)
        return entry.check(float(stored))
    if isinstance(entry, Choice | Text) and isinstance(stored, str):
        return entry.read(stored)
    if entry is None and isinstance(stored, bool):
        return stored
    raise _damaged(_SOMEWHERE, where)


def _uncertainties(names: Sequence[str], stored: object, where: str) -> dict[str, float]:
    if not isinstance(stored, dict) or not stored.keys() <= {*names}:
        raise _damaged(_SOMEWHERE, where)
    if not all(_is_number(u) and u >= 0 for u in stored.values()):
        raise _damaged(_SOMEWHERE, where)
    return {name: float(u) for name, u in stored.items()}


def _is_number(stored: object) -> TypeGuard[float]:
    """Whether a stored value is a finite float, or an int that makes one."""
    if isinstance(stored, bool) or not isinstance(stored, int | float):
        return False
    return abs(stored) < sys.float_info.max


def numbers(kind: type, prefix: str = "") -> Iterator[tuple[str, Number]]:
    """Every number of the schema with its path; lists stand with their first row."""
    for item in fields(kind):
        path = prefix + item.name
        if "part" in item.metadata:
            yield from numbers(item.metadata["part"], path + ".")
        elif "many" in item.metadata:
            yield from numbers(item.metadata["many"], path + ".1.")
        elif isinstance(item.metadata.get("entry"), Number):
            yield path, item.metadata["entry"]
