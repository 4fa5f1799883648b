"""What the car record takes over once work is done: a value, its path, and its words."""

import math
from collections.abc import Mapping
from typing import Any

from calc.answering.answer import Write, Written
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


_OF_END = {
    "ride_height": (later("{end} ride height {value}"), "length", None),
    "droop_length": (later("{end} from collar to cup at full droop {value}"), "length", None),
    "damper_length": (later("{end} dampers {value} long, fully out"), "length", None),
    "motion_ratio": (later("{end} motion ratio {value}"), "ratio", None),
    "spring_rate": (later("{end} spring rate {value}"), "rate", None),
    "spring_free": (later("{end} spring free length {value}"), "length", None),
    "spring_solid": (later("{end} spring solid length {value}"), "length", None),
    "holes": (later("{end} holes in the piston {value}"), "count", None),
    "hole": (later("{end} diameter of a hole {value}"), "length", None),
    "piston_thickness": (later("{end} piston thickness {value}"), "length", None),
    "oil": (later("{end} oil {value}"), "viscosity", None),
    "inside.held": (later("{end} dampers hold {value}"), "volume", None),
    "inside.closed_at": (later("{end} caps closed {value} in"), "length", 1),
}
_OF_CORNER = {
    "load": (later("{corner} load {value}"), "mass", 0),
    "stroke": (later("{corner} stroke {value}"), "length", None),
    "damper_length": (later("{corner} {value} long, fully out"), "length", None),
    "engaged": (later("{corner} rod end: {value} of thread"), "length", 1),
}
"""The words for a value by its name in an end and at a corner of the record, its kind, decimals."""


def end_write(
    asked: Inputs,
    end: End,
    name: str,
    value: float,
    how: Written = "predicted",
    u: float | None = None,
) -> Write:
    """A value of an end, SI."""
    words, kind, decimals = _OF_END[name]
    says = tr(words, end=end_word(end), value=asked.say(value, kind, decimals))
    return Write(f"{end}.{name}", value, says, how, u)


def corner_write(
    asked: Inputs, corner: Corner, name: str, value: float, u: float | None = None
) -> Write:
    """A value of a corner, SI."""
    words, kind, decimals = _OF_CORNER[name]
    says = tr(words, corner=corner_word(corner), value=asked.say(value, kind, decimals))
    return Write(f"corners.{corner}.{name}", value, says, u=u)


def after_turns(asked: Inputs, length: str, turns: float, pitch: str) -> float:
    """Standard uncertainty, m, of the length at a field after turns of the pitch at another."""
    return math.hypot(asked.u[length], turns * asked.u[pitch])


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
