"""The end of a build: what was read goes into the records of the dampers, and into the car."""

from collections.abc import Iterator, Mapping
from typing import TypeVar

from calc.asking.typed import Measured
from calc.kept import log
from calc.kept.build.build import ASIDE, SLUG, Build
from calc.kept.build.readings import READINGS
from calc.kept.build.verdict import verdict
from calc.kept.deeds import Deed
from calc.kept.log import Entry, Moment
from calc.kept.seen import BUILT, MEASURED, STOPPED, Seen
from calc.language import tr
from calc.model.car import Car, is_sure, number_at
from calc.model.corners import Corner
from calc.model.origin import Origin, entered
from calc.physics.alike import difference_doubt
from calc.units import tidy


def readings(build: Build, corner: Corner) -> dict[str, Measured]:
    """All that was read of a damper and holds, with its standard uncertainty (SI)."""
    found: dict[str, Measured] = {}
    for name, about in READINGS.items():
        one = build.reading(name, corner)
        if one is not None:
            found[name] = Measured(one.value, about.doubt(build.car, one))
    return found


def can_finish(build: Build) -> bool:
    """Whether there is anything to write, and nothing wrong in what was typed."""
    return build.has_begun() and not build.problems


M = TypeVar("M", bound=Moment)


def finished(build: Build, at: M) -> tuple[Car, tuple[Entry, ...]]:
    """The car with what was read, and a line of the log for each damper of which anything was
    ticked or read."""
    car, entries = build.car, []
    for corner, moment in _worked_on(build, at):
        read = readings(build, corner)
        learned = _of_corner(read, corner, at.time)
        if corner is corner.end.corners[1]:
            learned |= _of_pair(build, corner, at.time)
        seen = Seen(BUILT, build.name(corner), build.kind(corner.end), read)
        deed = Deed(learned=learned, when=at.time, of=SLUG)
        car, entry = log.happened(car, moment, log.DAMPER, deed, corner=corner, damper=seen)
        entries.append(entry)
    return car, (*_aside(build, at), *entries)


def given_up(build: Build, at: M) -> tuple[Entry, ...]:
    """A line of the log for each damper of which anything was ticked or read: how far it was built,
    and what was measured of it. The car learns nothing by it."""
    entries = []
    for corner, moment in _worked_on(build, at):
        done, steps = build.progress(corner)
        note = tr("{done} of {all} steps done", done=done, all=steps)
        seen = Seen(STOPPED, build.name(corner), build.kind(corner.end), readings(build, corner))
        _, entry = log.happened(
            build.car, moment, log.DAMPER, Deed(), note, corner=corner, damper=seen
        )
        entries.append(entry)
    return (*_aside(build, at), *entries)


def _aside(build: Build, at: M) -> Iterator[Entry]:
    """A line of the log for each damper whose place another one has taken: what was read of it."""
    for place, (letter, read) in enumerate(build.aside.items(), 1):
        with_doubt = {
            name: Measured(one.value, READINGS[name].doubt(build.car, one))
            for name, one in read.items()
        }
        seen = Seen(MEASURED, letter, read=with_doubt)
        moment = log.part_of(at, f"aside-{place}")
        yield log.happened(build.car, moment, log.DAMPER, Deed(), damper=seen)[1]


def _worked_on(build: Build, at: M) -> Iterator[tuple[Corner, M]]:
    """The dampers of which anything was ticked or read, with a moment for the line of each."""
    for place, corner in enumerate(build.corners, 1):
        ticked = any(build.is_done(key, corner) for key in build.steps)
        if ticked or readings(build, corner):
            yield corner, log.part_of(at, f"{place}", place)


def _of_corner(
    read: Mapping[str, Measured], corner: Corner, when: float
) -> dict[str, tuple[float, Origin]]:
    return {
        READINGS[name].path.format(corner=corner): (one.value, Origin("measured", when, u=one.u))
        for name, one in read.items()
        if READINGS[name].of_corner
    }


def _of_pair(build: Build, corner: Corner, when: float) -> dict[str, tuple[float, Origin]]:
    """The means of both, but for what they are proved to differ in."""
    apart = {one.reading for one in verdict(build, corner.end).compared if one.judged == "apart"}
    found: dict[str, tuple[float, Origin]] = {}
    for name, about in READINGS.items():
        left, right = (build.reading(name, each) for each in corner.end.corners)
        home = about.of_pair or ("" if about.of_corner else about.path)
        where = home.format(end=corner.end)
        if left is None or right is None or name in apart or not where:
            continue
        if about.is_wanted and is_sure(build.car, where):
            continue
        entry = number_at(where)
        value = tidy((left.value + right.value) / 2)
        u = difference_doubt(*(about.doubt(build.car, one) for one in (left, right))) / 2
        is_label = entry.kind == "viscosity" and left.u is None and right.u is None
        found[where] = value, entered(entry, when, None if is_label else u)
    return found


def kept_for_next(build: Build) -> dict[str, str]:
    """The texts for the next build: the list and the dampers as they are; what was done is empty
    and not gone, so that no older backup brings it back. An end that was not built keeps its ticks
    and readings, and what cannot be read stays for a hand to put right."""

    def is_done_with(name: str) -> bool:
        what, key, whose = (*name.split(".", 2), "", "")[:3]
        if whose.startswith(ASIDE):
            return what == "tick" or key in build.aside.get(whose.removeprefix(ASIDE), {})
        done = what in ("tick", "read") and whose in build.corners
        return done and name not in build.problems

    return {name: "" if is_done_with(name) else text for name, text in build.texts.items()}
