"""What corner loads asks: four scale readings, the cross weight wanted, springs and geometry."""

from collections.abc import Mapping
from typing import Literal

from calc.asking.declare import choice, number
from calc.forms.entered import CornerRow, OnCorners, SprungEnd
from calc.forms.friction import EndFriction
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.forms.recorded import ArmPlaces, Shaft, Tyre, at_ends
from calc.model.corners import End
from calc.replying.inputs import assumed, from_car, rows

Where = Literal["all", "front", "rear"]
_LEVEL_U = 0.1e-3
"""m, standard uncertainty; a board and the scales on it lie no better than that without being
levelled by a gauge (common practice, no source)."""


class Asked(OnCorners):
    corner: tuple[CornerRow, ...] = rows(
        label="Readings at the four wheels", each=CORNER_LABELS, every=True,
        measure="Ready to run, battery in, wheels straight, the scales level; roll the car on, "
                "bounce it, read. Lift it, set it down, read again, and type the mean. Two scales "
                "will do: the front pair, then the rear pair, blocks as high as the scales under "
                "the other axle.",
    )  # fmt: skip
    cross_wanted: float = number(
        label="Cross weight wanted", kind="share", usual="48 to 52 %", possible="20 to 80 %",
        measure="Front left + rear right, of the whole. 50% is even; anything else is tweak.",
        start="50 %",
    )  # fmt: skip
    where: Where = choice(
        label="Turn the collars of",
        options={"all": "all four corners", "front": "the front pair", "rear": "the rear pair"},
        measure="All four: one diagonal down, the other up, which keeps the car level. One pair "
        "alone lets it lean a little.",
    )
    end: tuple[SprungEnd, ...] = rows(label="Ends of the car", each=END_LABELS, every=True)
    wheelbase: float = from_car("body.wheelbase")
    turn_step: float = from_car("tools.turn_step")
    thread_hand: Literal["right", "left"] = from_car("thread_hand")
    frictions: Mapping[End, EndFriction] = at_ends()
    tyres: Mapping[End, Tyre] = at_ends()
    shafts: Mapping[End, Shaft] = at_ends()
    arms: Mapping[End, ArmPlaces] = at_ends(prefix="arm.")
    level: float = assumed("how level the scales stand", 0.0, _LEVEL_U)
