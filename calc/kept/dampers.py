"""A record for each damper, the four on the car and the spares, from the lines of the log.

A damper is known by the letter on its cap; one without a letter by the corner that it is at. The
log says all that happened to it, so a record is made of its lines and kept nowhere else.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from calc.asking import record
from calc.asking.entry import Refused
from calc.asking.typed import Measured
from calc.forms.names import damper_label
from calc.kept import log
from calc.kept.build.build import SLUG
from calc.kept.build.readings import READINGS
from calc.kept.deeds import Deed
from calc.kept.log import DAMPER, Entry, Moment
from calc.kept.seen import BLED, BUILT, DID, FITTED, LEAK, MEASURED, RAN, SHELF, STOPPED, Seen
from calc.language import tr
from calc.model.car import Car, is_known
from calc.model.corners import CORNERS, Corner
from calc.model.origin import Origin

_OF_THE_LIST = frozenset({BUILT, STOPPED, MEASURED})
"""What a list or a form notes, no button of the record."""
OPENED = frozenset({BUILT, BLED})
"""What opens a damper: runs are counted from there."""
M = TypeVar("M", bound=Moment)


@dataclass(frozen=True)
class Record:
    """One damper: where it is (empty on the shelf) and since when (s since 1970; 0 where it never
    was elsewhere), its lines from the oldest to the newest, the runs since it was opened, and what
    was last read of it with the line that tells it, as of when it was measured."""

    name: str
    corner: str = ""
    since: float = 0.0
    kind: str = ""
    lines: tuple[Entry, ...] = ()
    opened: Entry | None = None
    runs: int = 0
    leaks: bool = False
    read: Mapping[str, tuple[Measured, Entry]] = field(default_factory=dict)

    @property
    def key(self) -> str:
        """Finds it: its letter, else its corner."""
        return self.name or self.corner

    @property
    def label(self) -> str:
        """ "A, front left", "Front left", "A, on the shelf"."""
        return damper_label(self.name, Corner(self.corner) if self.corner else None)


def records(entries: Iterable[Entry]) -> tuple[Record, ...]:
    """Every damper that the log knows, those on the car first, in the order of the corners."""
    found: dict[str, Record] = {}
    for entry in sorted(entries, key=lambda one: one.time):
        if entry.kind == DAMPER and entry.damper is not None:
            _tell(found, entry, entry.damper)
    places: dict[str, int] = {corner: place for place, corner in enumerate(CORNERS)}
    shelf = len(places)
    return tuple(sorted(found.values(), key=lambda one: (places.get(one.corner, shelf), one.name)))


def _tell(found: dict[str, Record], entry: Entry, seen: Seen) -> None:
    """Add a line to the record that it belongs to."""
    if seen.did == RAN:
        for key, one in found.items():
            if one.corner:
                found[key] = replace(one, runs=one.runs + 1)
        return
    at = (one.key for one in found.values() if one.corner == entry.corner)
    # What names only a corner is about the damper that is there.
    key = seen.name or next(at, entry.corner)
    before = found.get(key, Record(seen.name, entry.corner))
    corner = before.corner if seen.did == MEASURED else entry.corner
    if corner:
        _make_room(found, key, corner)
    opened = seen.did in OPENED
    found[key] = replace(
        before,
        corner=corner,
        since=before.since if before.corner == corner else entry.time,
        kind=seen.kind or before.kind,
        lines=(*before.lines, entry),
        opened=entry if opened else before.opened,
        runs=0 if opened else before.runs,
        leaks=seen.did == LEAK or (before.leaks and not opened),
        read={
            **before.read,
            **{
                name: (one, replace(entry, time=seen.when.get(name, entry.time)))
                for name, one in seen.read.items()
            },
        },
    )


def _make_room(found: dict[str, Record], key: str, corner: str) -> None:
    """A damper that comes to a corner sends the one that was there to the shelf; the record of one
    without a letter ends there, since nothing would find it again."""
    for other, one in [*found.items()]:
        if other == key or one.corner != corner:
            continue
        if one.name:
            found[other] = replace(one, corner="")
        else:
            del found[other]


def since_then(car: Car, one: Record, name: str) -> Origin | None:
    """Where the car's value of a reading comes from, if a form has measured it of this damper since
    its record has; None where the record's is the newer, or the car has none of each damper."""
    about = READINGS[name]
    if not one.corner or not about.of_corner:
        return None
    source = car.origins.get(about.path.format(corner=one.corner))
    _, entry = one.read.get(name, (None, None))
    newest = max(one.since, entry.time if entry else 0.0)
    return source if source is not None and source.when >= newest else None


def _going(did: str, car: Car, one: Record) -> Seen:
    """That it goes elsewhere, with what forms have measured of it since its record, and when."""
    found, when = {}, {}
    for name, about in READINGS.items():
        source = since_then(car, one, name)
        if source is not None and source.how == "measured":
            value = record.get(car, about.path.format(corner=one.corner))
            found[name] = Measured(value, about.doubt(car, Measured(value, source.u)))
            when[name] = source.when
    return Seen(did, one.name, read=found, when=when)


def happened(
    car: Car, at: M, did: str, name: str, corner: str, lines: Iterable[Entry] = ()
) -> tuple[Car, tuple[Entry, ...]]:
    """What was done with a damper: the car after it, and the lines of the log that tell of it.

    `lines` are those of the dampers before. What the car knows of a corner goes with its damper:
    one that leaves takes along what a form has measured of it, one that comes brings what is in its
    record. Raises Refused.
    """
    if did not in DID or did in _OF_THE_LIST:
        raise Refused(tr("Damper: choose what was done."))
    needs_corner = did == FITTED or (did in (BLED, LEAK) and not name)
    if corner not in tuple(CORNERS) and (corner or needs_corner):
        raise log.no_corner()
    if did == SHELF and not name:
        raise Refused(
            tr("A damper without a letter cannot be told apart from others on the shelf.")
        )
    if did not in (SHELF, FITTED):
        where = "" if did == RAN else corner
        car, entry = log.happened(car, at, DAMPER, Deed(), corner=where, damper=Seen(did, name))
        return car, (entry,)
    return _moved(car, at, name, corner if did == FITTED else "", records(lines))


def _moved(
    car: Car, at: M, name: str, corner: str, there: Iterable[Record]
) -> tuple[Car, tuple[Entry, ...]]:
    """A damper goes to a corner, or onto the shelf; one that stands there makes room."""
    there = tuple(there)
    mine = next((one for one in there if one.name == name), Record(name))
    entries = []
    for one in there:
        if one is not mine and one.name and corner and one.corner == corner:
            seen = _going(SHELF, car, one)
            moment = log.part_of(at, "room")
            entries.append(log.happened(car, moment, DAMPER, Deed(), damper=seen)[1])
    seen = _going(FITTED if corner else SHELF, car, mine)
    deed = Deed(
        forgotten=_places(car, mine.corner, corner), learned=_brought(car, mine, corner),
        when=at.time, of=SLUG,
    )  # fmt: skip
    car, entry = log.happened(car, log.after(at, 1), DAMPER, deed, corner=corner, damper=seen)
    return car, (*entries, entry)


def _places(car: Car, *corners: str) -> tuple[str, ...]:
    """What is known of the dampers at these corners; nothing of the demo car, which knows all."""
    paths = (
        about.path.format(corner=corner)
        for corner in dict.fromkeys(corners)
        for about in READINGS.values()
        if corner and about.of_corner
    )
    return () if car.demo else tuple(path for path in paths if is_known(car, path))


def _brought(car: Car, mine: Record, corner: str) -> dict[str, tuple[float, Origin]]:
    """What was measured of a damper and when, for the corner that it comes to."""
    found = {}
    for name, about in READINGS.items():
        read, entry = mine.read.get(name, (None, None))
        source = since_then(car, mine, name)
        if not corner or not about.of_corner:
            continue
        path = about.path.format(corner=corner)
        if source is not None:
            found[path] = record.get(car, about.path.format(corner=mine.corner)), source
        elif read is not None and entry is not None:
            found[path] = read.value, Origin("measured", entry.time, u=read.u)
    return found


def due(record: Record, runs: float | None) -> bool:
    """Whether a damper is to be opened: it leaks, or has run as often as its owner allows."""
    return record.leaks or (runs is not None and record.runs >= runs)
