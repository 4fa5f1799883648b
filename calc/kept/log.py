"""The collar log: what was done to which collar and when, and where every collar stands since.

The car record says where a collar stands; an entry of the log says what changed it. Both change
together, so the newest entry and the car never differ. Turns are counted down from the collar's
mark, up is negative.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from calc.asking import record
from calc.asking.entry import Number, Refused
from calc.asking.record import choice, number, part, text
from calc.forms.names import CORNER_LABELS
from calc.language import tr
from calc.model.car import Car, entry_at, put
from calc.model.corners import CORNERS, Corner

TURN, BASE, CHECK, NOTE = "turn", "base", "check", "note"
KINDS = (
    (TURN, "Turned"),
    (BASE, "Base set"),
    (CHECK, "Mark checked"),
    (NOTE, "Note"),
)
NOTE_LONGEST = 200
_CORNER_OPTIONS = (("", "All"), *CORNER_LABELS)
_DAY = 86_400.0


def kind_label(kind: str) -> str:
    """What was done, as a label: "Mark checked"."""
    return tr(dict(KINDS)[kind])


def place(corner: Corner) -> str:
    """The path of a corner's collar in the car record."""
    return f"corners.{corner}.collar"


def _stand(corner: Corner) -> Any:
    """The car's own declaration of a collar, so that both have the same range."""
    entry = replace(entry_at(place(corner)), label=dict(CORNER_LABELS)[corner])
    return field(default=0.0, metadata={"entry": entry})


@dataclass(frozen=True)
class Stands:
    """Where the four collars stand, in turns down from their marks."""

    front_left: float = _stand(Corner.FRONT_LEFT)
    front_right: float = _stand(Corner.FRONT_RIGHT)
    rear_left: float = _stand(Corner.REAR_LEFT)
    rear_right: float = _stand(Corner.REAR_RIGHT)


@dataclass(frozen=True)
class Entry:
    """One line of the log. `turns` is what the collar moved by, or what it was found off its mark;
    `stands` is where the collars stood afterwards. `time` is in s since 1970 (UTC), `zone` the
    time zone of the phone in s east."""

    id: str = text(label="Number of the entry", longest=60)
    car: str = text(label="Number of the car", longest=60)
    time: float = number(
        label="Time", kind="time", start="0 s", usual="0 to 100000000000 s",
        possible="0 to 100000000000 s", measure="The clock of the phone.",
    )  # fmt: skip
    zone: float = number(
        label="Time zone", kind="time", start="0 s", usual="-86400 to 86400 s",
        possible="-86400 to 86400 s", measure="The clock of the phone.",
    )  # fmt: skip
    kind: str = choice(label="What was done", options=dict(KINDS))
    corner: str = choice(label="Corner", options=dict(_CORNER_OPTIONS))
    turns: float = number(
        label="Turns down", kind="turns", start="0 turns", usual="-20 to 20 turns",
        possible="-400 to 400 turns", measure="Up is negative.",
    )  # fmt: skip
    stands: Stands = part(Stands)
    note: str = text(label="Note", longest=NOTE_LONGEST, optional=True)


@dataclass(frozen=True)
class Moment:
    """What the page knows when something is done: a number for the entry, whose car, the clock."""

    id: str
    car: str
    time: float
    zone: float


def to_json(entry: Entry) -> dict[str, Any]:
    return record.plain(entry)


def from_json(stored: object, where: str = "log") -> Entry:
    """The entry in stored JSON values, every one of them checked. Raises Refused."""
    entry: Entry = record.built(Entry, stored, where)
    if (entry.kind in (TURN, CHECK)) == (entry.corner == ""):
        raise Refused(
            tr("The log is damaged at {where}: the corner does not fit what was done.", where=where)
        )
    if entry.kind in (BASE, NOTE) and entry.turns:
        raise Refused(tr("The log is damaged at {where}: nothing was turned there.", where=where))
    return entry


def stands(car: Car) -> Stands:
    return Stands(*(collar(car, corner) for corner in CORNERS))


def collar(car: Car, corner: Corner) -> float:
    value: float = record.get(car, place(corner))
    return value


def turn(car: Car, at: Moment, corner: str, turns: float, note: str = "") -> tuple[Car, Entry]:
    """The car with a collar turned, and the entry that says so. Raises Refused."""
    return _moved(car, at, TURN, corner, turns, note)


def check(car: Car, at: Moment, corner: str, drift: float, note: str = "") -> tuple[Car, Entry]:
    """The witness mark looked at: `drift` is how far the collar was found from where the log has
    it, 0 if still there. From then on the car has the collar where it was found. Raises Refused."""
    return _moved(car, at, CHECK, corner, drift, note)


def _moved(
    car: Car, at: Moment, kind: str, corner: str, turns: float, note: str
) -> tuple[Car, Entry]:
    if corner not in CORNERS:
        raise Refused(tr("Corner: choose one of the four."))
    at_corner = Corner(corner)
    entry = entry_at(place(at_corner))
    assert isinstance(entry, Number)
    where = entry.check(collar(car, at_corner) + turns)
    moved = put(car, place(at_corner), where) if turns else car
    return moved, _entry(moved, at, kind, corner, turns, note)


def set_base(car: Car, at: Moment, note: str = "") -> Entry:
    """From here on net turns are counted from where the collars stand now."""
    return _entry(car, at, BASE, "", 0.0, note)


def noted(car: Car, at: Moment, note: str) -> Entry:
    """A note alone. Raises Refused for an empty one."""
    entry = _entry(car, at, NOTE, "", 0.0, note)
    if not entry.note:
        raise Refused(tr("Note: nothing was entered; any words will do."))
    return entry


def _entry(car: Car, at: Moment, kind: str, corner: str, turns: float, note: str) -> Entry:
    made = Entry(at.id, at.car, at.time, at.zone, kind, corner, turns, stands(car), note)
    return from_json(to_json(made))


def changes(before: Car, after: Car, at: Moment, note: str) -> tuple[Entry, ...]:
    """The entries for every collar that stands elsewhere in the second car, as of one deed."""
    made: list[Entry] = []
    car = before
    for corner in CORNERS:
        turns = collar(after, corner) - collar(before, corner)
        if turns:
            car = put(car, place(corner), collar(after, corner))
            one = replace(at, id=f"{at.id}-{len(made) + 1}")
            made.append(_entry(car, one, TURN, corner, turns, note))
    return tuple(made)


def undone(car: Car, entry: Entry) -> Car:
    """The car as it was before its newest entry."""
    if not entry.turns:
        return car
    corner = Corner(entry.corner)
    return put(car, place(corner), collar(car, corner) - entry.turns)


def net(car: Car, base: Stands) -> dict[Corner, float]:
    """Turns down from the base, by corner."""
    return {corner: collar(car, corner) - getattr(base, corner) for corner in CORNERS}


def moved(turns: float) -> bool:
    """Whether turns are more than what sums of decimal steps leave behind."""
    return abs(turns) > 1e-9


def home(car: Car, base: Stands) -> Car:
    """The car with every collar back where it stood at the base."""
    for corner in CORNERS:
        if collar(car, corner) != getattr(base, corner):
            car = put(car, place(corner), getattr(base, corner))
    return car


def last_base(entries: Sequence[Entry]) -> Entry | None:
    return max(
        (entry for entry in entries if entry.kind == BASE), key=lambda e: e.time, default=None
    )


def drift(entries: Sequence[Entry], corner: Corner) -> float:
    """The sum of what the checks of a corner found off its mark."""
    return sum(e.turns for e in entries if e.kind == CHECK and e.corner == corner)
