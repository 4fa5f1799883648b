"""The block of the ride height: how far to turn for the wanted one, and what each turn gives."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from calc import units
from calc.answering.hand import LEFT_HAND
from calc.answering.uncertainty import COVERAGE
from calc.forms.collar_turns.end import QuickEnd, quick_ends
from calc.forms.collar_turns.ends import heights_after, joined, turns_by_hand
from calc.forms.collar_turns.ends_words import height_after
from calc.forms.collar_turns.inputs import Asked
from calc.forms.names import end_label, end_word
from calc.language import abridged, tr
from calc.model.car import Car
from calc.model.corners import ENDS, End
from calc.model.standing import Finding
from calc.replying.inputs import Problem
from calc.sheet.asking import Said, ask, of_ends
from calc.sheet.grid import (
    Grid,
    Part,
    Role,
    doubt,
    end_letter,
    hand_turns,
    length,
    tells_nothing,
    up_or_down,
)
from calc.units import NBSP

TURNS = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0)
_NAMED = 3  # assumed entries that are named before the rest is counted
_WHOLE = frozenset(n for n, turns in enumerate(TURNS) if turns == int(turns))
_KEEP = (3, 1, 5, 6, 0, 2, 4)  # 1, 1/2, 2, 3 first
_DOT = f"{NBSP}· "  # never at the head of a line


@dataclass(frozen=True)
class _Turned:
    """An end, and the turns and the height in m that the hand sets, where one is wanted; `u` is
    that of a height, `u_lift` that of what a turn moves, both in m."""

    asked: Asked
    end: QuickEnd
    wish: tuple[float, float] | None
    u: float
    u_lift: float

    @property
    def u_moved(self) -> float:
        """The uncertainty of what a turn moves, as a share."""
        return self.u_lift / abs(self.end.lift) if self.end.lift else 0.0


def height(car: Car, system: str) -> Part:
    """Both ends; one of which too little is known, or hardly, has no table, and what to measure is
    named."""
    made, notes = _both(car, system)
    u = max((one.u for one in made.values()), default=0.0)
    most = max((TURNS[-1] * one.end.lift for one in made.values()), default=0.0)
    unit, sure = units.unit_of("length", system).symbol, doubt(u, "length", system)
    if tells_nothing(u, most):
        notes += _to_measure(made.values(), f"{sure}{NBSP}{unit}")
        made, sure = {}, ""
    elif any(COVERAGE * one.u_moved >= 1.0 for one in made.values()):
        notes += _to_measure(made.values(), _share(made.values()))
        made, sure = {}, ""
    grids = tuple(_grid(key, made[key], system) for key in ENDS if key in made)
    wishes = [(one.end.key, *one.wish) for one in made.values() if one.wish]
    about = [_way(car)] if grids else []
    if sure:
        about.append(", ".join(_sure(made.values(), f"{sure}{NBSP}{unit}")))
    elif grids:
        about.append(unit)
    notes += _beyond(made.values())
    lead, said = _lead(wishes, system), tuple(dict.fromkeys(notes))
    narrow = (_joined(grids, made, system),) if len(grids) == len(ENDS) else ()
    return Part(grids, "; ".join(about), lead, said, narrow)


def _to_measure(made: Iterable[_Turned], sure: str) -> Iterator[str]:
    """What makes the heights or the moves so doubtful; `sure` is their ± with its unit."""
    yield tr("Worked out to {doubt} only: measure first, then print again.", doubt=sure)
    found = dict.fromkeys(
        label
        for one in made
        for name, label in one.asked.labels.items()
        if name in one.asked.guessed
    )
    if found:
        yield tr("Assumed: {entries}.", entries=abridged(tuple(found), _NAMED))


def _sure(made: Iterable[_Turned], sure: str) -> Iterator[str]:
    """How far off a height may be (`sure`, with its unit), and what a turn moves."""
    yield tr("heights {doubt}", doubt=sure).replace(" ", NBSP)
    if moved := _share(made):
        yield tr("moves {doubt}", doubt=moved).replace(" ", NBSP)


def _share(made: Iterable[_Turned]) -> str:
    """The ± of what a turn moves, the larger of both ends; nothing where there is none."""
    share = doubt(max(one.u_moved for one in made), "share", units.METRIC)
    percent = units.unit_of("share", units.METRIC)
    return share and share + units.gap(percent) + percent.symbol


def _beyond(made: Iterable[_Turned]) -> Iterator[str]:
    """From which turns on a spring is loose or an end topped out, among those of the grids."""
    loose, topped = [], []
    for one in made:
        end = one.end
        if not end.stop_known:
            continue
        name = end_word(end.key)
        for up in (0.0, *TURNS):
            if Finding.LOOSE in end.seat.down(-up * end.pitch).findings:
                turns = up_or_down(-up)
                loose.append(tr("{end} from {turns}", end=name, turns=turns) if up else name)
                break
        down = next((n for n in TURNS if n > end.turns_left > 0), 0.0)
        if down:
            topped.append(tr("{end} from {turns}", end=name, turns=up_or_down(down)))
    if loose:
        yield tr("Spring loose at full droop: {ends}.", ends=", ".join(loose))
    if topped:
        yield tr("Topped out (on its droop stops): {ends}.", ends=", ".join(topped))


def _joined(grids: Sequence[Grid], made: Mapping[End, _Turned], system: str) -> Grid:
    """Both ends in one grid, the turns in the middle."""
    front, rear = grids
    rows = tuple((f[0], f[2], f[1], r[0], r[2]) for f, r in zip(front.rows, rear.rows, strict=True))
    first, second = ((f"{end_letter(key)}{NBSP}↑", f"{end_letter(key)}{NBSP}↓") for key in ENDS)
    roles: tuple[Role, ...] = ("answer", "answer", "key", "answer", "answer")
    heads = (*first, front.heads[1], *second)
    title = _DOT.join(_now(end_letter(key), made[key], system) for key in ENDS)
    return replace(front, title=title, heads=heads, roles=roles, rows=rows)


def _now(name: str, made: _Turned, system: str) -> str:
    """The name of an end, with its height."""
    now = tr("{end} now {height}", end=name, height=length(made.end.height, system))
    return now.replace(" ", NBSP)


def _way(car: Car) -> str:
    if car.thread_hand == LEFT_HAND:
        said = tr("BOTH collars of an end. ↓ down = anticlockwise from the cap = car up")
    else:
        said = tr("BOTH collars of an end. ↓ down = clockwise from the cap = car up")
    return said.replace("↓ ", f"↓{NBSP}").replace(" =", f"{NBSP}=")


def _both(car: Car, system: str) -> tuple[dict[End, _Turned], list[str]]:
    """Both ends together where all is known, because each moves the other's measuring point; else
    each alone."""
    whole = ask("collar-turns", {"scope": "both"}, car, system)
    if whole.reply.answer:
        made = _turned(whole, "{end}_")
        return {one.end.key: one for one in made}, list(whole.notes)
    found: dict[End, _Turned] = {}
    notes, reasons = [], {}
    for key in ENDS:
        try:
            found[key], said = _alone(key, car, system)
            notes += said
        except Problem as problem:
            reasons[key] = str(problem)
    return found, [*notes, *of_ends(reasons)]


def _alone(key: End, car: Car, system: str) -> tuple[_Turned, list[str]]:
    """One end; a height nobody wants is not asked for. Raises Problem."""
    typed = {"scope": "axle", "axle": key}
    said = ask("collar-turns", typed, car, system)
    if said.reply.open == ("wanted_height",):
        said = ask("collar-turns", {**typed, "ask": "height"}, car, system)
    notes = list(said.notes)
    (made,) = _turned(said, "")
    return made, notes


def _turned(said: Said, prefix: str) -> list[_Turned]:
    """`prefix` is that of the quantities of an end. Raises Problem."""
    asked: Asked = joined(said.asked)
    ends, wanted = quick_ends(asked), asked.ask == "turns"
    turns = turns_by_hand(asked, ends)
    heights = heights_after(asked, ends, turns)
    return [
        _Turned(
            asked,
            end,
            (n, then) if wanted else None,
            said.u(prefix.format(end=end.key) + "height_after"),
            said.u(prefix.format(end=end.key) + "lift_per_turn"),
        )
        for end, n, then in zip(ends, turns, heights, strict=True)
    ]


def _lead(wishes: Sequence[tuple[End, float, float]], system: str) -> tuple[str, ...]:
    if not wishes:
        return ()
    parts = [
        f"{end_word(key)}{NBSP}{up_or_down(turns)}{NBSP}({length(then, system)})"
        for key, turns, then in wishes
    ]
    return (tr("Turns to the height you want: {ends}", ends=_DOT.join(parts)),)


def _grid(key: End, made: _Turned, system: str) -> Grid:
    heads = (tr("↑ gives"), tr("turns", sense="head"), tr("↓ gives"), tr("moves"))
    roles: tuple[Role, ...] = ("answer", "key", "answer", "small")
    rows = []
    for turns in TURNS:
        shown = hand_turns(turns)
        up, down = (height_after(made.asked, made.end, n) for n in (-turns, turns))
        moves = units.number_text(turns * made.end.lift, "length", system)
        rows.append((length(up, system), shown, length(down, system), moves))
    title = _now(end_label(key), made, system)
    return Grid(heads, roles, tuple(rows), title, ruled=_WHOLE, keep=_KEEP)
