"""What motion ratio asks: the arm as it is drawn, or measured travels; spring and loads."""

from typing import Any, Literal

from calc.asking.declare import choice, number
from calc.asking.entry import When, only
from calc.forms.arm import DrawnArm, drawn_arm
from calc.forms.entered import EndLoads
from calc.forms.fields import which_end
from calc.forms.friction import EndFriction
from calc.forms.recorded import DrawnBody, Tyre, at_the_end
from calc.language import later
from calc.model.corners import End
from calc.replying.inputs import Inputs, Row, assumed, from_car, group, rows, up_to

_DRAWN, _PAIRS, _TWO = only("known", "geometry"), only("known", "pairs"), only("holes", "two")
_FLAT_U = 0.01
"""Relative, standard uncertainty of a ratio by the drawing: dampers lean along the car by up to ten
degrees, of which the cosine is 0.985, and pins have play."""
_SCATTER = later("how the measured pairs scatter about their curve")


def _travel(label: str, measure: str, when: When = ()) -> Any:
    return number(
        label=label, kind="length", usual="-15 to 40 mm", possible="-300 to 300 mm",
        measure=measure, tool="ruler", when=when,
    )  # fmt: skip


def _apart(label: str, measure: str, example: str) -> Any:
    return number(
        label=label, kind="length", usual="30 to 150 mm", possible="5 to 1000 mm",
        measure=measure, example=example, tool="ruler", when=_PAIRS + _TWO,
    )  # fmt: skip


class Pair(Row[str]):
    wheel: float = _travel(
        "Wheel", "Up from where it sits at ride height; down is negative."
    )  # fmt: skip
    other: float = _travel(
        "Damper, other hole", "How much shorter the damper gets with its end in the other hole.",
        when=_TWO,
    )  # fmt: skip
    damper: float = _travel(
        "Damper", "How much shorter the damper gets; longer is negative."
    )  # fmt: skip


class Asked(Inputs):
    axle: End = which_end()
    known: Literal["geometry", "pairs"] = choice(
        label="What do you know",
        options={"geometry": "where the pins are", "pairs": "measured travels"},
        measure="Motion ratio is damper travel divided by wheel travel; some write the inverse.",
    )
    holes: Literal["two", "one"] = choice(
        label="Which holes", options={"two": "this one and another", "one": "this one only"}
    )
    arm: DrawnArm = drawn_arm(when=_DRAWN, two=_TWO)
    pairs: tuple[Pair, ...] = rows(
        label="Travels from ride height", each=up_to(8, "Pair"), least=2, when=_PAIRS,
        measure="Springs off, the chassis on a block at ride height. Two pairs of readings give "
                "a ratio, four or more show how it changes.",
        examples=(
            ("-8 mm", "-4.9 mm", "-5.1 mm"), ("-4 mm", "-2.45 mm", "-2.6 mm"),
            ("0 mm", "0 mm", "0 mm"), ("8 mm", "5.1 mm", "5.3 mm"),
            ("16 mm", "10.5 mm", "10.75 mm"), ("24 mm", "16.2 mm", "16.25 mm"),
        ),
    )  # fmt: skip
    apart: float = _apart(
        "Mount to mount at ride height, this hole",
        "From the middle of one screw to the middle of the other.",
        "66.5 mm",
    )
    other_apart: float = _apart(
        "Mount to mount at ride height, other hole",
        "The same with the chassis at the same height.",
        "67.1 mm",
    )
    stroke: float = from_car("{axle}.stroke")
    spring_rate: float = from_car("{axle}.spring_rate")
    spring_free: float = from_car("{axle}.spring_free")
    spring_solid: float = from_car("{axle}.spring_solid")
    droop_length: float = from_car("{axle}.droop_length")
    pitch: float = from_car("{axle}.pitch")
    oil: float = from_car("{axle}.oil", when=_TWO)
    loads: EndLoads = group()
    turn_step: float = from_car("tools.turn_step")
    thread_hand: Literal["right", "left"] = from_car("thread_hand", when=_TWO)
    friction: EndFriction = group(when=_TWO, change=at_the_end)
    tyre: Tyre = group(change=at_the_end)
    body: DrawnBody = group(when=_TWO, change=at_the_end)
    flat: float = assumed("how well the flat drawing fits the arm", 1.0, _FLAT_U)
    damper_scatter: float = assumed(_SCATTER, 0.0)
    other_scatter: float = assumed(_SCATTER, 0.0)
