"""What length and travel asks: both dampers of an end, and where the wheel stands with them."""

from typing import Any, Literal

from calc.asking.declare import number
from calc.forms.fields import rod_end_material, which_end
from calc.forms.recorded import ArmPlaces, at_the_end
from calc.model.corners import End
from calc.replying.inputs import Inputs, from_car, group


def _droop(label: str, example: str) -> Any:
    return number(
        label=label, kind="length", example=example, usual="2 to 40 mm", possible="0.1 to 300 mm",
        tool="height_gauge",
        measure="Car at ride height on the floor. Lift the chassis at this wheel until the "
                "tyre is just free: how far the chassis came up there is the droop.",
    )  # fmt: skip


class Asked(Inputs):
    axle: End = which_end()
    length_left: float = from_car(
        "corners.{axle}_left.damper_length", "length_left",
        label="Length of the left damper, fully out",
    )  # fmt: skip
    length_right: float = from_car(
        "corners.{axle}_right.damper_length", "length_right",
        label="Length of the right damper, fully out",
    )  # fmt: skip
    droop_left: float = _droop("Droop of the left wheel", "8.5 mm")
    droop_right: float = _droop("Droop of the right wheel", "8.5 mm")
    wanted_droop: float | None = number(
        label="Droop wanted", kind="length", usual="2 to 40 mm", possible="0.1 to 300 mm",
        optional=True, example="7 mm", measure="At the wheel. Leave it empty to see what there is.",
    )  # fmt: skip
    wanted_bump: float | None = number(
        label="Bump travel wanted", kind="length", usual="5 to 60 mm", possible="0.1 to 300 mm",
        optional=True,
        measure="At the wheel, from ride height up. Leave it empty to see what there is.",
    )  # fmt: skip
    spacers: float = number(
        label="Spacers under each piston now", kind="length", start="0 mm", typical="0 mm",
        usual="0 to 15 mm", possible="0 to 100 mm",
        measure="Between the piston and the seal: they limit the way out. All of them together.",
    )  # fmt: skip
    spacers_above: float = number(
        label="Spacers above each piston now", kind="length", start="0 mm", typical="0 mm",
        usual="0 to 15 mm", possible="0 to 100 mm",
        measure="Between the piston and the cap, bump stops on the shaft included: they limit the "
        "way in. All of them together.",
    )  # fmt: skip
    spacer_step: float = number(
        label="Thinnest spacer you have", kind="length", start="0.5 mm", typical="0.5 mm",
        usual="0.2 to 2 mm", possible="0.05 to 10 mm",
        measure="The smallest step you can shim in.",
    )  # fmt: skip
    motion_ratio: float = from_car("{axle}.motion_ratio")
    stroke_left: float = from_car(
        "corners.{axle}_left.stroke", "stroke_left", label="Stroke of the left damper"
    )
    stroke_right: float = from_car(
        "corners.{axle}_right.stroke", "stroke_right", label="Stroke of the right damper"
    )
    ride_height: float = from_car("{axle}.ride_height")
    droop_length: float = from_car("{axle}.droop_length")
    spring_solid: float = from_car("{axle}.spring_solid")
    rod_pitch: float = from_car("rod_end.pitch", "rod_pitch")
    engaged_left: float | None = from_car(
        "corners.{axle}_left.engaged",
        "engaged_left",
        label="Thread in the left rod end",
        optional=True,
    )
    engaged_right: float | None = from_car(
        "corners.{axle}_right.engaged",
        "engaged_right",
        label="Thread in the right rod end",
        optional=True,
    )
    rod_thread: float | None = from_car("rod_end.thread", "rod_thread", optional=True)
    material: Literal["plastic", "aluminium", "steel"] = rod_end_material()
    turn_step: float = from_car("tools.turn_step")
    arm: ArmPlaces = group(prefix="arm.", change=at_the_end)


Stop = Literal["damper", "ground", "coils"]
