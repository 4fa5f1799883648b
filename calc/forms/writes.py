"""What the car record takes over once work is done: a value, its path, and its words."""

import math
from collections.abc import Mapping
from typing import Any

from calc.answering.answer import Write
from calc.answering.hand import turn_words
from calc.forms.arm import DrawnArm
from calc.forms.names import collar_word, corner_word, end_word
from calc.language import later, tr
from calc.model.car import collar_path
from calc.model.corners import Corner, End
from calc.replying.inputs import Inputs


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


def stroke_write(asked: Inputs, corner: Corner, stroke: float, u: float) -> Write:
    """How far the shaft of a damper travels, m."""
    says = tr(
        "{damper} stroke {stroke}",
        damper=corner_word(corner),
        stroke=asked.say(stroke, "length"),
    )
    return Write(f"corners.{corner}.stroke", stroke, says, u=u)


def height_write(asked: Inputs, end: End, height: float) -> Write:
    """The ride height of an end, m."""
    says = tr("{end} ride height {height}", end=end_word(end), height=asked.say(height, "length"))
    return Write(f"{end}.ride_height", height, says)


def ratio_write(asked: Inputs, end: End, ratio: float) -> Write:
    says = tr("{end} motion ratio {ratio}", end=end_word(end), ratio=asked.say(ratio, "ratio"))
    return Write(f"{end}.motion_ratio", ratio, says)


def oil_write(asked: Inputs, end: End, grade: float) -> Write:
    """The oil in the dampers of an end, m2/s at 25 °C."""
    says = tr("{end} oil {value}", end=end_word(end), value=asked.say(grade, "viscosity"))
    return Write(f"{end}.oil", grade, says)


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
