"""Values of the record in words: their labels with the place in front, their texts in the user's
units, to the digits that an entry has, or that the origin of a value leaves."""

from collections.abc import Iterator, Mapping
from dataclasses import fields
from functools import cache
from typing import Any

from calc import units
from calc.answering.hand import turn_words
from calc.asking.entry import Choice, Number, Text
from calc.asking.typed import Measured
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.kept.build.readings import READINGS
from calc.kept.seen import Seen
from calc.language import inside, spoken, tr
from calc.model.car import OWNED, Car, singles
from calc.model.origin import Origin

_PLACES: Mapping[str, str] = {**dict(CORNER_LABELS), **dict(END_LABELS)}


def entries(kind: type = Car, path: str = "", place: str = "") -> Iterator[tuple[str, str, Any]]:
    """(path, label with its place, declaration) of all that belongs to a set-up."""
    for item in fields(kind):
        if (not path and item.name in OWNED) or "apart" in item.metadata:
            continue
        here, meta = path + item.name, item.metadata
        if "part" in meta:
            yield from entries(meta["part"], here + ".", _PLACES.get(item.name, place))
        else:
            entry, label = meta["entry"], meta["entry"].said
            if place:
                label = tr("{row}, {column}", row=tr(place), column=inside(label))
            yield here, label, entry


def reads(value: Any, entry: Number | Choice | Text) -> str:
    """The value to the digits an entry shows, whatever the units chosen."""
    return units.entry_text(value, entry.kind) if isinstance(entry, Number) else str(value)


def said(
    value: Any, entry: Number | Choice | Text, system: str, source: Origin | None = None
) -> str:
    """The value with its unit, to the digits that its origin leaves; turns of a collar with their
    way."""
    if isinstance(entry, Number) and entry.kind == "turns" and entry.possible[0] < 0 and value:
        return turn_words(value)
    if isinstance(entry, Number):
        return _plain(value, entry.kind, system, source.leaves if source else None)
    return dict(entry.said_options)[value] if isinstance(entry, Choice) else str(value)


def _plain(value: float, kind: str, system: str, leaves: float | None) -> str:
    unit = units.unit_of(kind, system)
    text = units.entry_text(value, kind, system, leaves).replace("-", "−")
    return text + (units.gap(unit) + units.symbol_text(kind, system) if unit.symbol else "")


def reading_text(name: str, read: Measured, system: str) -> str:
    """What was read of a damper, with as many decimals as usual; with more where it was measured
    finer."""
    kind = READINGS[name].entry.kind
    fine = units.decimals_for(read.u or 0.0, kind, system) - 1
    return units.show(read.value, kind, system, max(units.unit_of(kind, system).decimals, fine))


def readings_of(seen: Seen, system: str) -> list[str]:
    """All that a line of the log tells of a damper, each with its label."""
    return [
        f"{READINGS[name].entry.said} {reading_text(name, read, system)}"
        for name, read in seen.read.items()
    ]


def label_of(path: str) -> str:
    """The label of a value with its end or corner in front, in the language spoken."""
    return _labels(spoken().code)[path]


@cache
def _labels(code: str) -> dict[str, str]:
    """All labels in the language spoken, whose code is their key here."""
    owned = {path: entry.said for path, entry in singles().items()}
    return owned | {path: label for path, label, _ in entries()}
