"""The collar log: what was done to which collar and when, and where every collar stands since.

The car record says where a collar stands; an entry of the log says what changed it. Both change
together, so the newest entry and the car never differ. Turns are counted down from the collar's
mark, up is negative.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, TypeVar

from calc.asking import record
from calc.asking.entry import Refused
from calc.asking.record import choice, number, part, text
from calc.forms.names import CORNER_LABELS
from calc.kept import deeds, seen
from calc.kept.deeds import Deed, Was, damaged
from calc.kept.seen import Seen
from calc.language import tr
from calc.model.car import Car, collar_path, entry_at, put
from calc.model.corners import CORNERS, Corner

COLLAR_LOG = "log"
"""What a prediction comes from that follows from a turn at the log's buttons."""
TURN, BASE, CHECK, NOTE = "turn", "base", "check", "note"
ENTERED, DONE, SETUP, HOME = "entered", "done", "setup", "home"
DAMPER = "damper"
KINDS = (
    (TURN, "Turned"),
    (BASE, "Base set"),
    (CHECK, "Mark checked"),
    (NOTE, "Note"),
    (ENTERED, "Entered"),
    (DONE, "Carried out"),
    (SETUP, "Set-up restored"),
    (HOME, "Back to base"),
    (DAMPER, "Damper"),
)
AT_HAND = (ENTERED, CHECK)
"""Kinds of lines that tell of what is known, while nothing on the car has moved."""
NOTE_LONGEST = 200
_CORNER_OPTIONS = (("", "All"), *CORNER_LABELS)


def is_work_of(slug: str, entry: "Entry") -> bool:
    """Whether a line says that an instruction of a form was carried out, or what it measured."""
    return entry.kind in (DONE, DAMPER) and entry.does.of == slug


def kind_label(kind: str) -> str:
    """What was done, as a label: "Mark checked"."""
    return tr(dict(KINDS)[kind])


def _stand(corner: Corner) -> Any:
    """The car's own declaration of a collar, so that both have the same range."""
    entry = replace(entry_at(collar_path(corner)), label=dict(CORNER_LABELS)[corner])
    return field(default=0.0, metadata={"entry": entry})


@dataclass(frozen=True)
class Stands:
    """Where the four collars stand, in turns down from their marks."""

    front_left: float = _stand(Corner.FRONT_LEFT)
    front_right: float = _stand(Corner.FRONT_RIGHT)
    rear_left: float = _stand(Corner.REAR_LEFT)
    rear_right: float = _stand(Corner.REAR_RIGHT)

    def at(self, corner: Corner) -> float:
        turns: float = getattr(self, corner)
        return turns

    def turned(self, corner: Corner, turns: float) -> "Stands":
        """With one collar turned further down."""
        return replace(self, **{corner: self.at(corner) + turns})


@dataclass(frozen=True)
class Entry:
    """What happened to a car at one time. `turns` is what the collar moved by, or what it was found
    off its mark; `stands` is where the collars stood afterwards; `does` is what was done and `was`
    what it has replaced, which entries of the first version do not know; `damper` is what one
    damper was found to be, at its corner or on the shelf. `time` is in s since 1970 (UTC), `zone`
    the time zone of the phone in s east."""

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
    does: Deed = field(default=Deed(), metadata={"apart": True})
    was: Was = field(default_factory=dict, metadata={"apart": True})
    damper: Seen | None = field(default=None, metadata={"apart": True})


@dataclass(frozen=True)
class Moment:
    """What the page knows when something is done: a number for the entry, whose car, the clock."""

    id: str
    car: str
    time: float
    zone: float


def to_json(entry: Entry) -> dict[str, Any]:
    told = record.plain(entry)
    if entry.does != Deed():
        told["does"] = deeds.plain(entry.does)
    if entry.was:
        told["was"] = deeds.plain_values(entry.was)
    if entry.damper is not None:
        told["damper"] = seen.to_json(entry.damper)
    return told


def from_json(stored: object, where: str = "log") -> Entry:
    """The entry in stored JSON values, every one of them checked. Raises Refused."""
    apart = {"does", "was", "damper"}
    told = stored if isinstance(stored, dict) else {}
    flat = {name: value for name, value in told.items() if name not in apart} if told else stored
    entry: Entry = record.built(Entry, flat, where)
    if "does" in told:
        entry = replace(entry, does=deeds.built(told["does"], f"{where}.does"))
    if "was" in told:
        entry = replace(entry, was=deeds.built_values(told["was"], f"{where}.was"))
    if "damper" in told:
        entry = replace(entry, damper=seen.from_json(told["damper"], f"{where}.damper"))
    damper = entry.damper
    nowhere = damper is not None and damper.did != seen.RAN and not (damper.name or entry.corner)
    if (entry.kind == DAMPER) != (damper is not None) or nowhere:
        raise damaged(where)
    if entry.kind != DAMPER and (entry.kind in (TURN, CHECK)) == (entry.corner == ""):
        raise Refused(
            tr("The log is damaged at {where}: the corner does not fit what was done.", where=where)
        )
    if entry.kind not in (TURN, CHECK) and entry.turns:
        raise Refused(tr("The log is damaged at {where}: nothing was turned there.", where=where))
    return entry


def stands(car: Car) -> Stands:
    return Stands(*(car.corner(corner).collar for corner in CORNERS))


def turn(car: Car, at: Moment, corner: str, turns: float, note: str = "") -> tuple[Car, Entry]:
    """The car with a collar turned, and the entry that says so. Raises Refused."""
    return _at_corner(car, at, TURN, corner, turns, note)


def check(car: Car, at: Moment, corner: str, drift: float, note: str = "") -> tuple[Car, Entry]:
    """The witness mark looked at: `drift` is how far the collar was found from where the log has
    it, 0 if still there. From then on the car has the collar where it was found. Raises Refused."""
    return _at_corner(car, at, CHECK, corner, drift, note)


def _at_corner(
    car: Car, at: Moment, kind: str, corner: str, turns: float, note: str
) -> tuple[Car, Entry]:
    if corner not in CORNERS:
        raise no_corner()
    moved = {Corner(corner): turns} if turns else {}
    if kind == TURN:
        deed = Deed(turns=moved, when=at.time, of=COLLAR_LOG)
    else:
        deed = Deed(crept=moved, when=at.time, of=COLLAR_LOG)
    return happened(car, at, kind, deed, note, corner=corner, turns=turns)


def no_corner() -> Refused:
    return Refused(tr("Corner: choose one of the four."))


def happened(
    car: Car,
    at: Moment,
    kind: str,
    deed: Deed,
    note: str = "",
    *,
    corner: str = "",
    turns: float = 0.0,
    damper: Seen | None = None,
) -> tuple[Car, Entry]:
    """The car after a deed, and the entry of the log that tells of it; `corner`, `turns` and
    `damper` are those of the entry. Raises Refused."""
    after = deeds.carried_out(car, deed)
    entry = Entry(
        at.id, at.car, at.time, at.zone, kind, corner, turns, stands(after), note,
        does=deed, was=deeds.replaced(car, after), damper=damper,
    )  # fmt: skip
    return after, from_json(to_json(entry))


M = TypeVar("M", bound=Moment)


def part_of(at: M, part: str, place: int = 0) -> M:
    """The moment of one of several lines that tell of what is done at once: a number of its own,
    and its place among them."""
    return replace(after(at, place), id=f"{at.id}-{part}")


def after(at: M, place: int) -> M:
    """The moment of the line at a place behind the first one of what is done at once: so many
    thousandths of a second later, so that the lines keep their order."""
    return replace(at, time=at.time + place * 1e-3)


def together(car: Car, newest: Entry, deed: Deed, at: M) -> tuple[Car, Deed, M]:
    """The car before the newest entry and a deed in its place, where that too is values entered on
    the same page: what is typed letter by letter is one line, not one for each letter."""
    if newest.kind != ENTERED or newest.car != at.car or newest.does.of != deed.of:
        return car, deed, at
    joined = replace(deed, learned={**newest.does.learned, **deed.learned})
    return undone(car, newest), joined, replace(at, id=newest.id)


def set_base(car: Car, at: Moment, note: str = "") -> Entry:
    """From here on net turns are counted from where the collars stand now."""
    return happened(car, at, BASE, Deed(), note)[1]


def noted(car: Car, at: Moment, note: str) -> Entry:
    """A note alone. Raises Refused for an empty one."""
    entry = happened(car, at, NOTE, Deed(), note)[1]
    if not entry.note:
        raise Refused(tr("Note: nothing was entered; any words will do."))
    return entry


def lines(entry: Entry) -> tuple[Entry, ...]:
    """An entry as lines of the log: one for each collar that was turned, as if by itself, after
    one for the rest of the work."""
    turned = {corner: n for corner, n in entry.does.turns.items() if moved(n)}
    if entry.corner or not turned:
        return (entry,)
    at = entry.stands
    for corner, n in turned.items():
        at = at.turned(corner, -n)
    rest = replace(entry.does, turns={})
    made = [] if rest.is_empty else [replace(entry, stands=at, does=rest)]
    for corner, n in turned.items():
        at = at.turned(corner, n)
        made.append(replace(entry, kind=TURN, corner=corner, turns=n, stands=at))
    return tuple(made)


def undone(car: Car, entry: Entry) -> Car:
    """The car as it was before its newest entry."""
    if entry.was:
        return deeds.taken_out(car, entry.was)
    if not entry.turns or not entry.does.is_empty:
        return car
    corner = Corner(entry.corner)  # of the first version, which moved the collar alone
    return put(car, collar_path(corner), car.corner(corner).collar - entry.turns)


def net(car: Car, base: Stands) -> dict[Corner, float]:
    """Turns down from the base, by corner."""
    return {corner: car.corner(corner).collar - base.at(corner) for corner in CORNERS}


def moved(turns: float) -> bool:
    """Whether turns are more than what sums of decimal steps leave behind."""
    return abs(turns) > 1e-9


def turns_back(car: Car, base: Stands) -> dict[Corner, float]:
    """Turns down of each collar that is not where it stood at the base, to bring it there."""
    return {corner: -n for corner, n in net(car, base).items() if moved(n)}


def home(car: Car, base: Stands, at: Moment) -> tuple[Car, Entry]:
    """Every collar turned back to where it stood at the base."""
    turns = turns_back(car, base)
    return happened(car, at, HOME, Deed(turns=turns, when=at.time, of=COLLAR_LOG))


def no_base() -> str:
    return tr("No base is set yet: the first entry sets it where the collars are now.")


def last_base(entries: Sequence[Entry]) -> Entry | None:
    return max(
        (entry for entry in entries if entry.kind == BASE), key=lambda e: e.time, default=None
    )


def drift(entries: Sequence[Entry], corner: Corner) -> float:
    """The sum of what the checks of a corner found off its mark."""
    return sum(e.turns for e in entries if e.kind == CHECK and e.corner == corner)
