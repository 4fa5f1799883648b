"""What was done to a car, as events: the car as it is now is what they make of the car before.

A `Deed` says what the hand did (collars turned, parts fitted, oil poured), what its owner has
measured, or which set-up the car was put back to; `carried_out` is the one function that makes of
a car and a deed the car afterwards, with all that follows from it. What the deed replaced stands
in `was`, so that the newest is taken out again to the byte and an older one by unwinding those
behind it and carrying them out again.

    car now = fold(car before, deeds)

The page keeps the car now beside the deeds, because a season has thousands of them.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import reduce
from typing import Any

from calc.asking import record
from calc.asking.entry import Number
from calc.model import origin
from calc.model.car import Car, put, singles
from calc.model.following import followed
from calc.model.origin import Origin

LISTS = ("bottles", "springs")


@dataclass(frozen=True)
class Deed:
    """What happens to a car in one go.

    turns    how far each collar is turned down, by corner; up is negative
    crept    how far a collar was found off its mark, by corner: the log was wrong, not the hand
    fitted   values of parts that the work changes, by path, with where they come from
    poured   volumes taken out of bottles in m³, by the number of the bottle's row
    learned  values that somebody has entered, by path, with where they come from: nothing follows
    """

    turns: Mapping[str, float] = field(default_factory=dict)
    crept: Mapping[str, float] = field(default_factory=dict)
    fitted: Mapping[str, tuple[Any, Origin]] = field(default_factory=dict)
    poured: Mapping[int, float] = field(default_factory=dict)
    learned: Mapping[str, tuple[Any, Origin]] = field(default_factory=dict)
    when: float = 0.0
    of: str = ""

    @property
    def is_empty(self) -> bool:
        return not (self.turns or self.crept or self.fitted or self.poured or self.learned)


Was = Mapping[str, tuple[Any, Origin | None]]
"""What stood at a path before, and its origin; None where it was not known."""


def carried_out(car: Car, deed: Deed) -> Car:
    """The car after a deed. Pure; raises Refused where no car can be like that."""
    after = car
    for path, (value, source) in deed.learned.items():
        after = _set(after, path, value, source)
    for corner, turns in deed.crept.items():
        after = _turned(after, corner, turns)
    before = after
    for path, (value, source) in deed.fitted.items():
        after = _set(after, path, value, source)
    for corner, turns in deed.turns.items():
        after = _turned(after, corner, turns)
    for row, volume in deed.poured.items():
        after = _drawn(after, row, volume)
    return followed(before, after, deed.turns, deed.when, deed.of) if after != before else after


def fold(car: Car, deeds: Iterable[Deed]) -> Car:
    """The car after all of them."""
    return reduce(carried_out, deeds, car)


def _set(car: Car, path: str, value: Any, source: Origin) -> Car:
    entry = singles().get(path)
    if entry is None:
        return put(car, path, value)
    checked = entry.check(value) if isinstance(entry, Number) else entry.read(value)
    return put(car, path, checked, source)


def _turned(car: Car, corner: str, turns: float) -> Car:
    """The car with a collar elsewhere: where it stands is counted, not measured."""
    path = f"corners.{corner}.collar"
    entry = singles()[path]
    assert isinstance(entry, Number)
    where = entry.check(record.get(car, path) + turns)
    return put(car, path, where, car.origins.get(path, Origin("measured")))


def _drawn(car: Car, row: int, volume: float) -> Car:
    if row > len(car.bottles):
        return car
    left = car.bottles[row - 1].left
    return put(car, f"bottles.{row}.left", max(0.0, left - volume))


def replaced(before: Car, after: Car) -> Was:
    """What a deed has replaced: everything in which the car after it differs."""
    was: dict[str, tuple[Any, Origin | None]] = {}
    for path in singles():
        old, source = record.get(before, path), before.origins.get(path)
        if old != record.get(after, path) or source != after.origins.get(path):
            was[path] = old, source
    for name in LISTS:
        if getattr(before, name) != getattr(after, name):
            was[name] = tuple(getattr(before, name)), None
    return was


def taken_out(car: Car, was: Was) -> Car:
    """The car before its newest deed, to the byte."""
    origins = dict(car.origins)
    for path, (value, source) in was.items():
        car = record.put(car, path, value)
        if source is None:
            origins.pop(path, None)
        else:
            origins[path] = source
    return replace(car, origins=origins)


def taken_out_between(
    car: Car, newer: Sequence[tuple[Deed, Was]], was: Was
) -> tuple[Car, tuple[Was, ...]]:
    """The car without a deed that others have followed, and what each of those then replaces.

    `newer` are those behind it, oldest first; `was` is that of the deed itself. Raises Refused
    where one of them cannot be carried out any more.
    """
    for _, one in reversed(newer):
        car = taken_out(car, one)
    car = taken_out(car, was)
    made: list[Was] = []
    for deed, _ in newer:
        after = carried_out(car, deed)
        made.append(replaced(car, after))
        car = after
    return car, tuple(made)


def plain(deed: Deed) -> dict[str, Any]:
    """The deed as JSON values; what is empty is left out."""
    told: dict[str, Any] = {
        "turns": dict(deed.turns),
        "crept": dict(deed.crept),
        "fitted": {path: _with_origin(value, one) for path, (value, one) in deed.fitted.items()},
        "poured": {str(row): volume for row, volume in deed.poured.items()},
        "learned": {path: _with_origin(value, one) for path, (value, one) in deed.learned.items()},
    }
    return {name: value for name, value in told.items() if value}


def _with_origin(value: Any, source: Origin | None) -> list[Any]:
    told = None if source is None else origin.plain({"": source})[""]
    return [record.plain_list(value) if isinstance(value, tuple) else value, told]


def plain_was(was: Was) -> dict[str, Any]:
    return {path: _with_origin(value, source) for path, (value, source) in was.items()}
