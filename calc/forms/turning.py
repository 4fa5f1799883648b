"""Collars and rod ends turned: instructions for a hand."""

from typing import Protocol

from calc.answering.answer import AtCorner, Step
from calc.answering.hand import turn_words, way_of, way_words
from calc.forms.names import collar_label, end_word, rod_end_label
from calc.language import tr
from calc.model.corners import Corner, End
from calc.replying.inputs import Inputs
from calc.units import turns_number, turns_text


class ByHand(Protocol):
    """What a form asks of the collars: the hand of their thread, and the smallest turn."""

    @property
    def thread_hand(self) -> str: ...

    @property
    def turn_step(self) -> float: ...


def turned_step(asked: ByHand, text: str, turns: float, gives: str = "", *, of: str) -> Step:
    """An instruction whose `text` has these turns; `gives` is what comes of it, `of` names the
    quantity of the exact turns."""
    gives = " ".join(filter(None, (way_words(turns, asked.thread_hand), gives)))
    return Step(text, gives, way_of(turns), of, asked.turn_step)


def corner_step(asked: ByHand, corner: Corner, turns: float, gives: str = "", *, of: str) -> Step:
    """One collar, the rest as in `turned_step`."""
    text = f"{collar_label(corner)}: {turn_words(turns)}."
    return turned_step(asked, text, turns, gives, of=of)


def at_corner(corner: Corner, turns: float, *more: str) -> AtCorner:
    """A corner seen from above: its collar turned, and what that comes to."""
    return AtCorner(
        corner, (turns_number(abs(turns)), *more), way_of(turns), says=turn_words(turns)
    )


def rod_end_turned(corner: Corner, out: float) -> str:
    """The instruction for a rod end: so many turns out, below 0 in."""
    rod_end, turns = rod_end_label(corner), turns_text(abs(out))
    if out > 0:
        return tr("{rod_end}: {turns} out (longer).", rod_end=rod_end, turns=turns)
    if out < 0:
        return tr("{rod_end}: {turns} in (shorter).", rod_end=rod_end, turns=turns)
    return tr("{rod_end}: leave it.", rod_end=rod_end)


def rod_end_way(out: float) -> str:
    """Which way the hand turns a rod end that goes so many turns out."""
    if out > 0:
        return tr("Anticlockwise, with the rod end pointing at you.")
    return tr("Clockwise, with the rod end pointing at you.") if out < 0 else ""


def both_turned(end: End, turns: float) -> str:
    """The instruction for both collars of an end, turned alike."""
    return tr("Both {end} collars: {turns}.", end=end_word(end), turns=turn_words(turns))


def none_turned() -> str:
    """The instruction where no collar of the car is turned."""
    return tr("Leave all four collars as they are.")


def end_steps(
    asked: ByHand, end: End, left: float, right: float, *, of: tuple[str, str]
) -> list[Step]:
    """Both collars of an end: in one instruction where they are turned alike. `of` names the
    quantities of the exact turns."""
    if left == right:
        # Made where nothing is turned too: what a form asks must not hang on what comes out.
        alike = turned_step(asked, both_turned(end, left), left, of=of[0])
        leave = Step(tr("Leave both {end} collars where they are.", end=end_word(end)))
        return [alike if left else leave]
    pairs = zip(end.corners, (left, right), of, strict=True)
    return [
        corner_step(asked, corner, n, of=name) if n else _leave(corner) for corner, n, name in pairs
    ]


def _leave(corner: Corner) -> Step:
    return Step(tr("{collar}: leave it.", collar=collar_label(corner)))


_NOTHING = 0.005e-3  # m; less than this is not shown


def as_before(asked: Inputs, off: float) -> str:
    """How high the car sits that rose by so many m, as the end of a sentence."""
    if abs(off) < _NOTHING:
        return tr("as high as before")
    length = asked.say(abs(off), "length")
    if off > 0:
        return tr("{length} higher than before", length=length)
    return tr("{length} lower than before", length=length)


def measured_again(gives: str) -> Step:
    """The last instruction once collars are turned; `gives` is what the gauge has to show."""
    return Step(tr("Bounce the car and measure the height again."), gives)


def stands_then(asked: Inputs, off: float) -> Step:
    """The last instruction where the car has risen by so many m."""
    says = tr("By these numbers it sits {as_before}.", as_before=as_before(asked, off))
    return measured_again(says)


def both(end: End, turns: float) -> dict[Corner, float]:
    """Both collars of an end turned alike."""
    return dict.fromkeys(end.corners, turns)
