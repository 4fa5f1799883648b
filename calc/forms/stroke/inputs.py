"""What stroke asks."""

from typing import Literal

from calc.asking.declare import choice
from calc.asking.entry import only
from calc.forms.fields import rod_end_material
from calc.forms.names import CORNER_LABELS
from calc.model.corners import Corner
from calc.replying.inputs import Inputs, Row, from_car, rows


class DamperRow(Row[Corner]):
    stroke: float = from_car("corners.{row}.stroke")
    wanted: float = from_car(
        "{end}.stroke", label="Stroke wanted", tool="", when=only("aim", "wanted")
    )
    engaged: float = from_car("corners.{row}.engaged")
    length: float | None = from_car("corners.{row}.damper_length", optional=True)


class Asked(Inputs):
    aim: Literal["wanted", "alike"] = choice(
        label="Aim",
        options={"wanted": "the stroke wanted", "alike": "each pair alike"},
        measure="“Each pair alike” screws in the rod end of the damper with more stroke, so it "
        "gains thread.",
    )
    damper: tuple[DamperRow, ...] = rows(label="Dampers", each=CORNER_LABELS, every=True)
    pitch: float = from_car("rod_end.pitch")
    thread: float = from_car("rod_end.thread")
    material: Literal["plastic", "aluminium", "steel"] = rod_end_material()
    turn_step: float = from_car("tools.turn_step")
