"""The end of a build: what was read goes into the records of the dampers, and into the car."""

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from calc.asking.typed import Measured
from calc.kept import log
from calc.kept.build.evening import SLUG, Evening
from calc.kept.build.readings import READINGS
from calc.kept.build.verdict import verdict
from calc.kept.deeds import Deed
from calc.kept.log import Entry, Moment
from calc.kept.seen import BUILT, Seen
from calc.model.car import Car, number_at
from calc.model.corners import Corner
from calc.model.origin import Origin, entered
from calc.physics.alike import difference_doubt
from calc.units import tidy

OF_CORNER = {"stroke": "corners.{corner}.stroke", "engaged": "corners.{corner}.engaged"}
"""What the record of the car has of each damper."""
_OF_END = {
    "length": "{end}.damper_length", "oil": "{end}.oil", "closed": "{end}.inside.closed_at",
    "rate": "{end}.spring_rate", "free": "{end}.spring_free",
}  # fmt: skip
"""What it has of a pair: the mean of both, unless they are proved to differ."""


def readings(evening: Evening, corner: Corner) -> dict[str, Measured]:
    """All that was read of a damper and holds, with its standard uncertainty (SI)."""
    found: dict[str, Measured] = {}
    for name, about in READINGS.items():
        one = evening.reading(name, corner)
        if one is not None:
            found[name] = Measured(one.value, about.doubt(evening.car, one))
    return found


def can_finish(evening: Evening) -> bool:
    """Whether there is anything to write, and nothing wrong in what was typed."""
    return evening.has_begun() and not evening.problems


M = TypeVar("M", bound=Moment)


def finished(evening: Evening, at: M) -> tuple[Car, tuple[Entry, ...]]:
    """The car with what was read, and a line of the log for each damper of which anything was
    ticked or read."""
    car, entries = evening.car, []
    for place, corner in enumerate(evening.corners):
        read = readings(evening, corner)
        if not read and not any(evening.is_done(key, corner) for key in evening.steps):
            continue
        learned = _of_corner(read, corner, at.time)
        if corner is corner.end.corners[1]:
            learned |= _of_pair(evening, corner, at.time)
        seen = Seen(BUILT, evening.name(corner), evening.kind(corner.end), read)
        # Each line a thousandth of a second behind the one before, so that they keep their order.
        moment = replace(at, id=f"{at.id}-{place + 1}", time=at.time + (place + 1) * 1e-3)
        deed = Deed(learned=learned, when=at.time, of=SLUG)
        car, entry = log.happened(car, moment, log.DAMPER, deed, corner=corner, damper=seen)
        entries.append(entry)
    return car, tuple(entries)


def _of_corner(
    read: Mapping[str, Measured], corner: Corner, when: float
) -> dict[str, tuple[float, Origin]]:
    return {
        path.format(corner=corner): (read[name].value, Origin("measured", when, u=read[name].u))
        for name, path in OF_CORNER.items()
        if name in read
    }


def _of_pair(evening: Evening, corner: Corner, when: float) -> dict[str, tuple[float, Origin]]:
    apart = {one.reading for one in verdict(evening, corner.end).compared if one.judged == "apart"}
    found: dict[str, tuple[float, Origin]] = {}
    for name, path in _OF_END.items():
        left, right = (evening.reading(name, each) for each in corner.end.corners)
        if left is None or right is None or name in apart:
            continue
        where = path.format(end=corner.end)
        entry, about = number_at(where), READINGS[name]
        value = tidy((left.value + right.value) / 2)
        u = difference_doubt(*(about.doubt(evening.car, one) for one in (left, right))) / 2
        is_label = entry.kind == "viscosity" and left.u is None and right.u is None
        found[where] = value, entered(entry, when, None if is_label else u)
    return found


def kept_for_next(evening: Evening) -> dict[str, str]:
    """What stays of a build for the next one: the list and the dampers, not what was done. An end
    that was not built keeps its ticks and readings."""

    def is_done_with(name: str) -> bool:
        corner = name.rpartition(".")[2]
        return name.startswith(("tick.", "read.")) and corner in evening.corners

    return {name: text for name, text in evening.texts.items() if not is_done_with(name)}
