"""A record for each damper, the four on the car and the spares, from the lines of the log.

A damper is known by the letter on its cap; one without a letter by the corner that it is at. The
log says all that happened to it, so a record is made of its lines and kept nowhere else.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from calc.asking.entry import Refused
from calc.asking.typed import Measured
from calc.forms.names import damper_label
from calc.kept import log
from calc.kept.deeds import Deed
from calc.kept.log import DAMPER, Entry, Moment
from calc.kept.seen import BLED, BUILT, DID, FITTED, LEAK, RAN, SHELF, Seen
from calc.language import tr
from calc.model.car import Car
from calc.model.corners import CORNERS, Corner

OPENED = frozenset({BUILT, BLED})
"""What opens a damper: runs are counted from there."""


@dataclass(frozen=True)
class Record:
    """One damper: where it is (empty on the shelf) and since when (s since 1970; 0 where it never
    was elsewhere), its lines from the oldest to the newest, the runs since it was opened, and what
    was last read of it."""

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
    key = seen.name or entry.corner
    before = found.get(key, Record(seen.name, entry.corner))
    if entry.corner:
        _make_room(found, key, entry.corner)
    opened = seen.did in OPENED
    found[key] = replace(
        before,
        corner=entry.corner,
        since=before.since if before.corner == entry.corner else entry.time,
        kind=seen.kind or before.kind,
        lines=(*before.lines, entry),
        opened=entry if opened else before.opened,
        runs=0 if opened else before.runs,
        leaks=seen.did == LEAK or (before.leaks and not opened),
        read={**before.read, **{name: (one, entry) for name, one in seen.read.items()}},
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


def happened(
    car: Car, at: Moment, did: str, name: str, corner: str, note: str = ""
) -> tuple[Car, Entry]:
    """The line of the log that tells what was done with a damper. Raises Refused."""
    if did not in DID or did == BUILT:
        raise Refused(tr("Damper: choose what was done."))
    needs_corner = did == FITTED or (did in (BLED, LEAK) and not name)
    if corner not in tuple(CORNERS) and (corner or needs_corner):
        raise Refused(tr("Corner: choose one of the four."))
    if did == SHELF and not name:
        raise Refused(tr("A damper without a letter cannot be told from others on the shelf."))
    where = "" if did in (SHELF, RAN) else corner
    return log.happened(car, at, DAMPER, Deed(), note, corner=where, damper=Seen(did, name))


def due(record: Record, runs: float | None) -> bool:
    """Whether a damper is to be opened: it leaks, or has run as often as its owner allows."""
    return record.leaks or (runs is not None and record.runs >= runs)
