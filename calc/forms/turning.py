"""Collars turned: instructions for a hand, and what the car record takes over once it is done."""

import math
from collections.abc import Mapping
from typing import Any

from calc.answering.answer import AtCorner, Step, Write
from calc.answering.hand import turn_words, way_of, way_words
from calc.forms.arm import DrawnArm
from calc.forms.names import collar_label, collar_word, corner_word, end_word, rod_end_label
from calc.language import later, tr
from calc.model.car import collar_path
from calc.model.corners import Corner, End
from calc.replying.inputs import Inputs
from calc.units import turns_number, turns_text


def corner_step(
    hand: str, corner: Corner, turns: float, gives: str = "", *, of: str = "", step: float = 0.0
) -> Step:
    """One collar on a thread of this hand; `gives` is what comes of it, `of` names the quantity of
    the exact turns, `step` is that of the hand."""
    way = way_words(turns, hand)
    text = f"{collar_label(corner)}: {turn_words(turns)}."
    return Step(text, " ".join(filter(None, (way, gives))), way_of(turns), of, step)


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


def end_steps(
    hand: str, end: End, left: float, right: float, *, of: tuple[str, str], step: float
) -> list[Step]:
    """Both collars of an end: in one instruction where they are turned alike. `of` names the
    quantities of the exact turns, `step` is that of the hand."""
    at = end_word(end)
    if left == right == 0:
        return [Step(tr("Leave both {end} collars where they are.", end=at))]
    if left == right:
        text = tr("Both {end} collars: {turns}.", end=at, turns=turn_words(left))
        return [Step(text, way_words(left, hand), way_of(left), of[0], step)]
    pairs = zip(end.corners, (left, right), of, strict=True)
    return [
        corner_step(hand, corner, n, of=name, step=step) if n else _leave(corner)
        for corner, n, name in pairs
    ]


def _leave(corner: Corner) -> Step:
    return Step(tr("{collar}: leave it.", collar=collar_label(corner)))


def collar_writes(asked: Inputs, turns: Mapping[Corner, float]) -> list[Write]:
    """Where the collars that are turned stand then."""
    return [
        Write(
            collar_path(corner),
            asked.car.corner(corner).collar + n,
            f"{collar_word(corner)}: {turn_words(n)}",
        )
        for corner, n in turns.items()
        if n
    ]


_NOTHING = 0.005e-3  # m; less than this is not shown


def as_before(asked: Inputs, off: float) -> str:
    """How high the car sits that rose by so many m, as the end of a sentence."""
    if abs(off) < _NOTHING:
        return tr("as high as before")
    length = asked.say(abs(off), "length")
    if off > 0:
        return tr("{length} higher than before", length=length)
    return tr("{length} lower than before", length=length)


def both(end: End, turns: float) -> dict[Corner, float]:
    """Both collars of an end turned alike."""
    return dict.fromkeys(end.corners, turns)


def droop_write(asked: Inputs, end: End, length: float) -> Write:
    """The springs of an end at full droop, m."""
    says = tr(
        "{end} from collar to cup at full droop {length}",
        end=end_word(end),
        length=asked.say(length, "length"),
    )
    return Write(f"{end}.droop_length", length, says)


def after_turns(asked: Inputs, length: str, turns: float, pitch: str) -> float:
    """Standard uncertainty, m, of the length at a field after turns of the pitch at another."""
    return math.hypot(asked.u[length], turns * asked.u[pitch])


def thread_write(asked: Inputs, corner: Corner, thread: float, u: float) -> Write:
    """How much thread of a shaft its rod end holds on, m."""
    says = tr(
        "{damper} rod end: {thread} of thread",
        damper=corner_word(corner),
        thread=asked.say(thread, "length", 1),
    )
    return Write(f"corners.{corner}.engaged", thread, says, u=u)


def length_write(asked: Inputs, corner: Corner, length: float, u: float) -> Write:
    """How long a damper is fully out, m."""
    says = tr(
        "{damper} {length} long, fully out",
        damper=corner_word(corner),
        length=asked.say(length, "length"),
    )
    return Write(f"corners.{corner}.damper_length", length, says, u=u)


def height_write(asked: Inputs, end: End, height: float) -> Write:
    """The ride height of an end, m."""
    says = tr("{end} ride height {height}", end=end_word(end), height=asked.say(height, "length"))
    return Write(f"{end}.ride_height", height, says)


def ratio_write(asked: Inputs, end: End, ratio: float) -> Write:
    says = tr("{end} motion ratio {ratio}", end=end_word(end), ratio=asked.say(ratio, "ratio"))
    return Write(f"{end}.motion_ratio", ratio, says)


_MOUNTS = (
    (DrawnArm.lower_out, DrawnArm.other_lower_out, later("{end} lower mount out {length}")),
    (DrawnArm.lower_up, DrawnArm.other_lower_up, later("{end} lower mount up {length}")),
    (DrawnArm.upper_out, DrawnArm.other_upper_out, later("{end} upper mount out {length}")),
    (DrawnArm.upper_up, DrawnArm.other_upper_up, later("{end} upper mount up {length}")),
)


def hole_writes(end: End, arm: DrawnArm) -> list[Write]:
    """Both mounting holes of an end change their places in the record."""
    made, say, numbers = [], arm.of.say, arm.of.numbers
    for here, there, words in _MOUNTS:
        was, becomes = numbers[arm.at(here)], numbers[arm.at(there)]
        if was != becomes:
            fitted, left = _home(end, here), _home(end, there)
            says = tr(words, end=end_word(end), length=say(becomes, "length"))
            made.append(Write(fitted, becomes, says, moved_from=left))
            says = tr("in the other hole {length}", length=say(was, "length"))
            made.append(Write(left, was, says, moved_from=fitted))
    return made


def _home(end: End, declared: Any) -> str:
    """Where a field of the chosen end is in the record."""
    path: str = declared.car
    return path.format(axle=end)
