"""Actions of a hand: rounding to the step of a tool, the words for turning and for waiting."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from calc.answering.answer import Quantity, Step
from calc.language import tr
from calc.units import METRIC, NBSP, spelt, turns_number, turns_text, unit_of

RIGHT_HAND, LEFT_HAND = "right", "left"  # of a thread


def to_step(value: float, step: float) -> float:
    """The multiple of `step` nearest to the value; halves go away from zero, as a hand counts."""
    whole = int(abs(value) / step + 0.5 + 1e-9)
    return (whole if value >= 0 else -whole) * step


def step_places(step: float, kind: str) -> int:
    """Decimals of the metric unit that show a step of a tool without losing a digit of it, three at
    most."""
    shown = step / unit_of(kind, METRIC).factor
    return next((n for n in range(3) if math.isclose(round(shown, n), shown, rel_tol=1e-9)), 3)


def turn_words(turns: float) -> str:
    """ "1 1/4 turns down"; turns > 0 move the collar down, towards the cup."""
    if turns == 0:
        return tr("no turn")
    count = turns_text(abs(turns))
    return tr("{turns} down", turns=count) if turns > 0 else tr("{turns} up", turns=count)


def way_of(turns: float) -> Literal["", "up", "down"]:
    """Where a collar goes that is turned so; turns > 0 move it down."""
    return "" if turns == 0 else "down" if turns > 0 else "up"


def way_words(turns: float, thread_hand: str) -> str:
    """The direction of turning and its effect, because a car on its back has no down: "Clockwise,
    seen from the cap end (tighter; car up)."; nothing for no turn."""
    if turns == 0:
        return ""
    clockwise = (turns > 0) != (thread_hand == LEFT_HAND)
    if turns > 0:
        return (
            tr("Clockwise, seen from the cap end (tighter; car up).")
            if clockwise
            else tr("Anticlockwise, seen from the cap end (tighter; car up).")
        )
    return (
        tr("Clockwise, seen from the cap end (looser; car down).")
        if clockwise
        else tr("Anticlockwise, seen from the cap end (looser; car down).")
    )


_FINEST = 1 / 8  # turns; what a hand can tell apart


@dataclass(frozen=True)
class GiveOrTake:
    """What is said of an instruction's doubt; `large` where it is at least a step of the hand, so
    that it belongs to the headline. Where not even the way is sure, `turned_by` names the inputs
    that could turn it by themselves, the furthest first, or the one that comes nearest to that."""

    says: str
    large: bool
    turned_by: tuple[str, ...] = ()


def give_or_take(step: Step, quantities: Iterable[Quantity]) -> GiveOrTake | None:
    """The doubt of the turns in eighths, rounded outwards: how far they may be off, or from where
    to where they may be where one side is further; nothing where it is unknown."""
    exact = next((q for q in quantities if q.name == step.of), None)
    if exact is None or not exact.u:
        return None
    turns, (back, forth) = abs(exact.value), exact.reach
    if exact.value < 0:
        back, forth = forth, back
    wide = max(back, forth)
    unit = _FINEST if wide <= 1 else 2 * _FINEST if wide <= 3 else 1.0
    rounded = _up(wide, unit)
    if not rounded:
        return None
    shown = turns_text(rounded)
    turned_by: tuple[str, ...] = ()
    if back >= turns:
        turned_by = _turned_by(exact)
        again = tr(
            "Measure again first; what makes it unsure: {entry}.", entry=exact.inputs[turned_by[0]]
        )
        says = f"{tr('Give or take {turns}.', turns=shown)} {again}"
    elif wide < _FINEST / 2:
        says = tr("Give or take less than {turns}.", turns=shown)
    elif exact.ends:
        least, most = -_up(back - turns, unit), _up(turns + forth, unit)
        says = tr("It may be {least} to {most}.", least=turns_number(least), most=turns_text(most))
    else:
        says = tr("Give or take {turns}.", turns=shown)
    return GiveOrTake(says, rounded >= step.step, turned_by)


def _turned_by(exact: Quantity) -> tuple[str, ...]:
    """Which inputs could turn the way, each by itself, or else would most nearly."""
    side = 1 if exact.value < 0 else 0
    backs = {name: both[side] for name, both in exact.alone.items()}
    furthest = sorted(backs, key=lambda name: -backs[name])
    return tuple(name for name in furthest if backs[name] >= abs(exact.value)) or (*furthest[:1],)


def _up(turns: float, unit: float) -> float:
    """The next multiple of a unit that is not below the turns."""
    return math.ceil(turns / unit - 1e-9) * unit


def wait_words(seconds: float) -> str:
    """A waiting time in steps that one keeps: "4 min", "3.5 h", "6 days"; rounded up."""
    for most, unit, step, word in (
        (60.0, 1.0, 5, "s"), (5400.0, 60.0, 1, "min"), (172800.0, 3600.0, 0.5, "h"),
    ):  # fmt: skip
        if seconds <= most:
            count = math.ceil(seconds / unit / step - 1e-9) * step
            return spelt(f"{count:g}") + NBSP + word
    return f"{math.ceil(seconds / 86400):,}{NBSP}".replace(",", NBSP) + tr("days")


def wait_range(shortest: float, longest: float) -> tuple[str, str]:
    """Two waiting times in words, with their unit once where it is the same: "28", "42 min"."""
    first, last = wait_words(shortest), wait_words(longest)
    number, _, unit = first.rpartition(NBSP)
    return (number if last.endswith(NBSP + unit) else first), last
