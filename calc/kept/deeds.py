"""What was done to a car, as events: the car as it is now is what they make of the car before.

A `Deed` says what the hand did (collars turned, parts fitted, oil poured), what its owner has
measured, or which set-up the car was put back to; `carried_out` is the one function that makes of
a car and a deed the car afterwards, with all that follows from it. What the deed replaced stands
in `was`, so that the newest is taken out again to the byte. The page keeps the car now beside the
deeds, because a season has thousands of them.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any

from calc.asking import record
from calc.asking.entry import Number, Refused
from calc.language import tr
from calc.model import origin
from calc.model.car import (
    Bottle,
    Car,
    Spring,
    assumed_again,
    collar_path,
    declared,
    forget,
    number_at,
    put,
    singles,
)
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.following import followed
from calc.model.origin import Origin, is_number

LISTS = ("bottles", "springs")


@dataclass(frozen=True)
class Deed:
    """What happens to a car in one go.

    turns    how far each collar is turned down, by corner; up is negative
    crept    how far a collar was found off its mark, by corner: the log was wrong, not the hand
    fitted   values of parts that the work changes, by path, with where they come from
    poured   volumes taken out of bottles in m³, by the number of the bottle's row, each for all
             dampers of some ends together; for none where it was not said
    bottled  bottles filled with what was mixed
    listed   springs that come into the list
    learned  values that somebody has entered, by path, with where they come from: nothing follows
    forgotten  values that nobody knows any more, by path: of a part that was taken off
    """

    turns: Mapping[Corner, float] = field(default_factory=dict)
    crept: Mapping[Corner, float] = field(default_factory=dict)
    fitted: Mapping[str, tuple[Any, Origin]] = field(default_factory=dict)
    poured: Mapping[tuple[End, ...], Mapping[int, float]] = field(default_factory=dict)
    bottled: tuple[Bottle, ...] = ()
    listed: tuple[Spring, ...] = ()
    learned: Mapping[str, tuple[Any, Origin]] = field(default_factory=dict)
    forgotten: tuple[str, ...] = ()
    when: float = 0.0
    of: str = ""

    @property
    def is_empty(self) -> bool:
        done = self.turns or self.crept or self.fitted or self.poured or self.bottled
        return not (done or self.listed or self.learned or self.forgotten)


Was = Mapping[str, tuple[Any, Origin | None]]
"""What stood at a path before, and its origin; None where it was not known."""


def carried_out(car: Car, deed: Deed) -> Car:
    """The car after a deed. Pure; raises Refused where no car can be like that."""
    after = car
    for path in deed.forgotten:
        after = forget(after, path)
    for path, (value, source) in deed.learned.items():
        after = _set(after, path, value, source)
    if deed.learned:
        after = assumed_again(after)
    for corner, turns in deed.crept.items():
        after = _turned(after, corner, turns)
    before = after
    for path, (value, source) in deed.fitted.items():
        after = _set(after, path, value, source)
    for corner, turns in deed.turns.items():
        after = _turned(after, corner, turns)
    for row in sorted({row for rows in deed.poured.values() for row in rows}):
        volume = sum(rows.get(row, 0.0) for rows in deed.poured.values())
        after = _drawn(after, row, volume)
    after = _listed(_bottled(after, deed.bottled), deed.listed)
    if after == before:
        return after
    said = frozenset(deed.fitted)
    return followed(before, after, deed.turns, said=said, when=deed.when, of=deed.of)


def _set(car: Car, path: str, value: Any, source: Origin) -> Car:
    entry = declared().get(path)
    if entry is None:
        return put(car, path, value)
    checked = entry.check(value) if isinstance(entry, Number) else entry.read(value)
    return put(car, path, checked, source)


def _turned(car: Car, corner: Corner, turns: float) -> Car:
    """The car with a collar elsewhere: where it stands is counted, not measured."""
    path = collar_path(corner)
    entry = number_at(path)
    where = entry.check(record.get(car, path) + turns)
    return put(car, path, where, car.origins.get(path, Origin("measured")))


_LEFT_PLACES = 7
"""Decimals of m3, 0.1 mL: what is left in a bottle was told by eye."""


def _drawn(car: Car, row: int, volume: float) -> Car:
    """The car with less in a bottle; where the amount is not known, it stays so."""
    held = car.bottles[row - 1].left if row <= len(car.bottles) else None
    if held is None:
        return car
    return put(car, f"bottles.{row}.left", round(max(0.0, held - volume), _LEFT_PLACES))


def _bottled(car: Car, filled: tuple[Bottle, ...]) -> Car:
    """The car with these bottles too. An empty one gives its row up where the list is full; Refused
    where there is none."""
    bottles = [*car.bottles]
    for bottle in filled:
        empty = next((at for at, one in enumerate(bottles) if one.at_most <= 0), None)
        if len(bottles) < record.MOST:
            bottles.append(bottle)
        elif empty is not None:
            bottles[empty] = bottle
        else:
            raise Refused(tr("The list of bottles is full: delete one before you fill another."))
    return replace(car, bottles=tuple(bottles))


def _listed(car: Car, springs: tuple[Spring, ...]) -> Car:
    """The car with these springs too. Refused where the list has no room for them."""
    if len(car.springs) + len(springs) > record.MOST:
        raise Refused(tr("The list of springs is full: delete one before you add another."))
    return replace(car, springs=(*car.springs, *springs))


def replaced(before: Car, after: Car) -> Was:
    """What a deed has replaced: everything in which the car after it differs."""
    was: dict[str, tuple[Any, Origin | None]] = {}
    for path in declared():
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


def plain(deed: Deed) -> dict[str, Any]:
    """The deed as JSON values; what is empty is left out."""
    told: dict[str, Any] = {
        "turns": {str(corner): turns for corner, turns in deed.turns.items()},
        "crept": {str(corner): turns for corner, turns in deed.crept.items()},
        "fitted": plain_values(deed.fitted),
        "poured": {
            " ".join(ends): {str(row): volume for row, volume in rows.items()}
            for ends, rows in deed.poured.items()
        },
        "bottled": [record.plain(bottle) for bottle in deed.bottled],
        "listed": [record.plain(spring) for spring in deed.listed],
        "learned": plain_values(deed.learned),
        "forgotten": [*deed.forgotten],
        "when": deed.when,
        "of": deed.of,
    }
    return {name: value for name, value in told.items() if value}


def plain_values(values: Mapping[str, tuple[Any, Origin | None]]) -> dict[str, list[Any]]:
    """Values of the record with their origins as JSON values; those of a list have none."""
    return {
        path: [[record.plain(row) for row in value], None]
        if path in LISTS
        else [value, None if source is None else origin.one_plain(source)]
        for path, (value, source) in values.items()
    }


def built(stored: object, where: str) -> Deed:
    """The deed in stored JSON values, every one of them checked. Raises Refused."""
    if not isinstance(stored, dict) or not set(stored) <= _NAMES:
        raise damaged(where)
    when, of = stored.get("when", 0.0), stored.get("of", "")
    if not is_number(when) or not isinstance(of, str) or len(of) > origin.OF_LONGEST:
        raise damaged(where)
    forgotten = stored.get("forgotten", [])
    if not isinstance(forgotten, list) or not all(
        isinstance(path, str) and path in singles() for path in forgotten
    ):
        raise damaged(where)
    bottled = record.built_at(Car, "bottles", stored.get("bottled", []), "log")
    if any(one.left is None for one in bottled):
        raise damaged(where)
    return Deed(
        turns=_turns(stored.get("turns", {}), where),
        crept=_turns(stored.get("crept", {}), where),
        fitted=_sourced(stored.get("fitted", {}), where),
        poured=_poured(stored.get("poured", {}), where),
        bottled=bottled,
        listed=record.built_at(Car, "springs", stored.get("listed", []), "log"),
        learned=_sourced(stored.get("learned", {}), where),
        forgotten=tuple(forgotten),
        when=float(when),
        of=of,
    )


_NAMES = frozenset(item.name for item in fields(Deed))
_MOST_TURNS = 400.0
_ROWS = frozenset(str(n) for n in range(1, record.MOST + 1))
_ENDS: Mapping[str, tuple[End, ...]] = {
    " ".join(ends): ends for ends in ((), (End.FRONT,), (End.REAR,), ENDS)
}


def damaged(where: str) -> Refused:
    """What is said of an entry that was altered; `where` is its place in the log."""
    return Refused(tr("The log is damaged at {where}.", where=where))


def _numbers(stored: object, where: str) -> dict[str, float]:
    if not isinstance(stored, dict) or not all(map(is_number, stored.values())):
        raise damaged(where)
    return {str(name): float(value) for name, value in stored.items()}


def _poured(stored: object, where: str) -> dict[tuple[End, ...], dict[int, float]]:
    """By the ends; the first lines told of none."""
    if not isinstance(stored, dict):
        raise damaged(where)
    by_ends = stored if any(isinstance(one, dict) for one in stored.values()) else {"": stored}
    poured = {}
    for ends, told in by_ends.items():
        rows = _numbers(told, where)
        if ends not in _ENDS or not all(row in _ROWS for row in rows):
            raise damaged(where)
        poured[_ENDS[ends]] = {int(row): volume for row, volume in rows.items()}
    return {ends: rows for ends, rows in poured.items() if rows}


def _turns(stored: object, where: str) -> dict[Corner, float]:
    told = _numbers(stored, where)
    if not set(told) <= set(CORNERS) or any(abs(n) > _MOST_TURNS for n in told.values()):
        raise damaged(where)
    return {Corner(name): turns for name, turns in told.items()}


def _sourced(stored: object, where: str) -> dict[str, tuple[Any, Origin]]:
    values = built_values(stored, where)
    if any(source is None and path not in LISTS for path, (_, source) in values.items()):
        raise damaged(where)
    return {path: (value, source or Origin("measured")) for path, (value, source) in values.items()}


def built_values(stored: object, where: str) -> dict[str, tuple[Any, Origin | None]]:
    """Values of the record with their origins in stored JSON values. Raises Refused."""
    if not isinstance(stored, dict):
        raise damaged(where)
    made: dict[str, tuple[Any, Origin | None]] = {}
    for path, told in stored.items():
        if path not in declared() and path not in LISTS:
            raise damaged(where)
        if not isinstance(told, list) or len(told) != 2:
            raise damaged(where)
        value = record.built_at(Car, path, told[0], "log")
        source = None if told[1] is None else origin.one_built(told[1], declared().get(path), path)
        made[path] = value, source
    return made
