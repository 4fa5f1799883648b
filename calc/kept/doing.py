"""The deeds that a form, the collar log and a set-up lead to."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from calc import units
from calc.answering.answer import Answer, Write
from calc.asking import record
from calc.asking.typed import Measured
from calc.forms.bottles import as_labelled
from calc.kept import log
from calc.kept.deeds import Deed, carried_out
from calc.kept.labels import label_of
from calc.kept.log import Entry, Moment
from calc.kept.seen import MEASURED, Seen
from calc.language import abridged, tr
from calc.model.car import (
    OWNED,
    Bottle,
    Car,
    Spring,
    collar_path,
    entry_uncertainty,
    is_known,
    is_sure,
    number_at,
    singles,
)
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.following import FOLLOWS, GAUGED, added, follows, is_gauged
from calc.model.origin import Origin, entered
from calc.replying.form import Form
from calc.replying.learned import learned, usual

_NAMED = 6  # readings of a whole car
_MOVED = (*FOLLOWS, ".engaged")
"""How the paths end of what work moves from where it was."""


def saved(
    form: Form, typed: Mapping[str, str], car: Car, when: float, system: str = units.METRIC
) -> Deed:
    """What was typed in a form is taken over into the car."""
    return Deed(learned=learned(form, typed, car, when, system), when=when, of=form.slug)


def assumed(form: Form, typed: Mapping[str, str], car: Car, when: float) -> Deed:
    """What is usual stands in for all that the form needs and nobody knows."""
    return Deed(learned=usual(form, typed, car, when), when=when, of=form.slug)


def done(answer: Answer | None, car: Car, when: float, of: str) -> Deed:
    """The answer of a form (`of`, its slug) is carried out, on a car to which what was typed has
    been saved; empty where there is nothing to do."""
    if answer is None:
        return Deed()
    written = _written(answer, car, when, of)
    looked_at = {write.path for write in answer.writes if not write.replaces}
    return Deed(
        turns=_turns(answer, car),
        fitted={path: one for path, one in written.items() if path not in looked_at},
        poured=_poured(answer),
        bottled=tuple(
            Bottle(
                one.name,
                as_labelled(one.viscosity),
                as_labelled(one.volume),
                {"viscosity": one.uncertain.u},
            )
            for one in answer.bottled
        ),
        listed=tuple(
            Spring(one.name, one.rate, one.free, one.solid, one.u) for one in answer.listed
        ),
        learned={path: one for path, one in written.items() if path in looked_at},
        when=when,
        of=of,
    )


def measure_again(before: Car, after: Car) -> str:
    """What work has changed of all that a gauge showed, predicted now or not known, as a sentence,
    heights first; empty where that is nothing."""
    labels = [
        label_of(path)
        for gauged in GAUGED
        for path, source in after.origins.items()
        if path.endswith(gauged) and source.how in ("predicted", "stale")
        if source != before.origins.get(path)
    ]
    return tr("Measure again: {entries}.", entries=abridged(labels, _NAMED)) if labels else ""


def measured(
    answer: Answer | None, car: Car, at: Moment, of: str, newest: Entry | None = None
) -> tuple[Entry, ...]:
    """Lines of the log for all that the answer of a form (`of`, its slug) measures of single
    dampers; none where the newest line says the same already."""
    entries = []
    for place, one in enumerate(answer.measured if answer else (), 1):
        seen = Seen(MEASURED, one.letter, read={one.reading: Measured(one.value, one.u)})
        moment = log.part_of(at, f"d{place}", place)
        _, entry = log.happened(
            car,
            moment,
            log.DAMPER,
            Deed(when=at.time, of=of),
            one.says,
            corner=one.corner,
            damper=seen,
        )
        entries.append(entry)
    if entries and newest is not None and _told(entries[-1]) == _told(newest):
        return ()
    return tuple(entries)


def _told(entry: Entry) -> tuple[str, str, Seen | None]:
    """What a line says of a damper, whenever it was written."""
    return entry.corner, entry.note, entry.damper


def _poured(answer: Answer) -> dict[tuple[End, ...], dict[int, float]]:
    poured: dict[tuple[End, ...], dict[int, float]] = {}
    for one in answer.pours:
        rows = poured.setdefault(tuple(map(End, one.ends)), {})
        rows[one.row] = rows.get(one.row, 0.0) + one.volume
    return poured


def _turns(answer: Answer, car: Car) -> dict[Corner, float]:
    found = {}
    for corner in CORNERS:
        stood = car.corner(corner).collar
        for write in answer.writes:
            if write.path == collar_path(corner) and write.value != stood:
                found[corner] = write.value - stood
    return found


def _written(answer: Answer, car: Car, when: float, of: str) -> dict[str, tuple[float, Origin]]:
    """What the record takes over of parts that the work replaces, and of those that were only
    looked at. What follows from them and from the collars is left to `carried_out`, which knows
    how to work it out on every path alike; only what another mounting hole does to the damper, and
    how a car that weighs otherwise rests on its wheels, is the form's to say."""
    said = {write.path: write.value for write in answer.writes}
    moved_mounts = any(".arm." in path for path in said)
    weighs_otherwise = bool(added(car, said))
    found: dict[str, tuple[float, Origin]] = {}
    for write in answer.writes:
        weighed = weighs_otherwise and is_gauged(write.path)
        is_worked_out = follows(write.path) and not (moved_mounts or weighed)
        if write.path.endswith(".collar") or is_worked_out:
            continue
        if write.value != record.get(car, write.path) or write.how == "entered":
            found[write.path] = write.value, _origin(write, car, when, of)
    return found


def _origin(write: Write, car: Car, when: float, of: str) -> Origin:
    """Where a value comes from that the work has brought into the car. What it has only moved stays
    assumed where it was."""
    if write.moved_from in car.origins:
        return car.origins[write.moved_from]
    source = car.origins.get(write.path)
    if source is not None and source.how == "assumed" and write.path.endswith(_MOVED):
        return source
    if write.how == "entered":
        entry = number_at(write.path)
        by_tool = entry_uncertainty(car, entry, write.value)
        u = None if write.u is None or math.isclose(write.u, by_tool) else write.u
        return entered(entry, when, u)
    return Origin(write.how, when, of, write.u)


def back_to(car: Car, wanted: Car, when: float, of: str) -> Deed:
    """The car set as it was in a set-up: what its owner has (tools, bottles, springs) stays. The
    collars are turned, all else is put back as it was known then, and what was only assumed then is
    left; heights and loads follow from the work, where enough is known now to tell, else they are
    those of then, not looked at since."""
    turns = {
        corner: further
        for corner in CORNERS
        if (further := wanted.corner(corner).collar - car.corner(corner).collar)
    }
    turned, lengths = {*map(collar_path, turns)}, _lengths_set(car, wanted)
    fitted: dict[str, tuple[Any, Origin]] = {}
    for path in _put_back(car, wanted):
        if path in turned:
            continue
        value, source = record.get(wanted, path), wanted.origins.get(path, Origin("noted"))
        if value != record.get(car, path) or not is_known(car, path) or path in lengths:
            if follows(path):
                source = Origin("predicted", when, of, source.u)
            fitted[path] = value, source
    deed = Deed(turns=turns, fitted=fitted, when=when, of=of)
    return replace(deed, fitted={**fitted, **_as_then(car, wanted, deed)})


def _put_back(car: Car, wanted: Car) -> Iterator[str]:
    """The values of a set-up that are put back as they are: those that its owner knew, and that do
    not follow from the work. Where dampers change their holes what follows is put back as well."""
    moved_mounts = any(car.axle(end).arm != wanted.axle(end).arm for end in ENDS)
    for path in singles():
        if path.partition(".")[0] in OWNED or not is_sure(wanted, path):
            continue
        is_worked_out = path.endswith(".collar") or (follows(path) and not moved_mounts)
        if not (is_worked_out and is_known(car, path)):
            yield path


def _lengths_set(car: Car, wanted: Car) -> set[str]:
    """Paths of the lengths of dampers whose rod end is turned: they would follow from that, but the
    set-up says them."""
    return {
        f"{of_damper}.damper_length"
        for corner in CORNERS
        for of_damper in (f"corners.{corner}", corner.end)
        if any(
            getattr(car.corner(corner), name) != getattr(wanted.corner(corner), name)
            for name in ("engaged", "damper_length")
        )
    }


def _as_then(car: Car, wanted: Car, deed: Deed) -> dict[str, tuple[Any, Origin]]:
    """Readings of then in place of those that the work would leave unknown."""
    after = carried_out(car, deed)
    return {
        path: (
            record.get(wanted, path),
            Origin("predicted", deed.when, deed.of, wanted.origins[path].u),
        )
        for path in car.origins
        if follows(path) and path in wanted.origins and is_sure(wanted, path)
        if is_known(car, path) and not is_known(after, path)
    }
