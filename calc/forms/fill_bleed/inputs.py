"""What fill and bleed asks: dampers of both ends to fill, the air in one, its oil and bubbles."""

from typing import Literal

from calc.asking.declare import choice, number
from calc.asking.entry import only
from calc.forms.fields import which_end
from calc.forms.names import END_LABELS
from calc.forms.piston import DamperInputs, PistonModel
from calc.forms.recorded import at_the_end
from calc.model.corners import End
from calc.replying.inputs import Row, assumed, from_car, group, rows

Task = Literal["bleed", "fill", "gas"]
_FILL, _GAS, _BLEED = only("task", "fill"), only("task", "gas"), only("task", "bleed")
_ONE_END = only("task", "gas", "bleed")


class EndRow(Row[End]):
    length: float = from_car("{row}.inside.length")
    bore: float = from_car("{row}.bore")
    shaft: float = from_car("{row}.shaft")
    closed_at: float = from_car("{row}.inside.closed_at")
    parts: float = from_car("{row}.inside.parts")
    oil: float = from_car("{row}.oil")


class Asked(PistonModel):
    task: Task = choice(
        label="Task",
        options={
            "bleed": "wait for the bubbles",
            "fill": "how much oil goes in",
            "gas": "trapped air and rebound",
        },
    )
    axle: End = which_end(_ONE_END)
    end: tuple[EndRow, ...] = rows(
        label="Dampers of each end", each=END_LABELS, every=True, when=_FILL
    )
    syringe: float = from_car("tools.syringe", when=_FILL)
    stroke: float = from_car("{axle}.stroke", when=_GAS)
    gas: float = from_car("{axle}.inside.gas", when=_GAS)
    closed_at: float = from_car("{axle}.inside.closed_at", when=_GAS)
    held: float = from_car("{axle}.inside.held", when=_GAS)
    rebound_wanted: float | None = number(
        label="Rebound wanted, share of the stroke", kind="share", usual="10 to 100 %",
        possible="1 to 100 %", optional=True, when=_GAS,
        measure="How far the shaft is to come back by itself; leave it empty to see what it "
                "does now.",
    )  # fmt: skip
    came_back: float | None = number(
        label="Rebound measured", kind="length", usual="2 to 40 mm", possible="0.1 to 300 mm",
        optional=True, tool="ruler", when=_GAS,
        measure="Push the shaft all the way in, let go, and measure how far it comes out by "
                "itself; the seal drag is worked out from it. Leave it empty before the build.",
    )  # fmt: skip
    friction: float = number(
        label="Seal drag", kind="force", usual="0 to 1 N", possible="0 to 50 N",
        measure="From a hanging-weight test with two masses; 0 where you do not know it. If you "
                "measured the rebound, that counts instead.",
        start="0 N",
        when=_GAS,
    )  # fmt: skip
    ruler: float = from_car("tools.ruler", when=_GAS)
    oil: float = from_car("{axle}.oil", when=_ONE_END)
    warm: float = number(
        label="Temperature of the oil", kind="temperature", usual="0 to 80 °C",
        possible="-60 to 300 °C", start="20 °C", relative=1 / 300, when=_ONE_END,
        measure="On the bench: room temperature, unless you warm the oil.",
    )  # fmt: skip
    height: float = from_car(
        "{axle}.inside.length", label="Height of the oil", fills_only=True, when=_BLEED,
        measure="From the lowest bubble to the surface: the whole body at most.",
    )  # fmt: skip
    bubble: float = number(
        label="Diameter of the smallest bubble that matters", kind="length",
        usual="0.05 to 1 mm", possible="0.005 to 5 mm", start="0.1 mm", when=_BLEED,
        measure="In clear oil you can just see a tenth of a millimetre.",
    )  # fmt: skip
    patience: float | None = number(
        label="Time you can wait", kind="wait", usual="5 to 240 min", possible="1 to 1000000 s",
        measure="Leave it empty to see how long you have to wait.", optional=True, when=_BLEED,
    )  # fmt: skip
    pump: float | None = number(
        label="Pressure in the vacuum chamber (absolute)", kind="pressure", usual="10 to 60 kPa",
        possible="0.1 to 120 kPa", optional=True, when=_BLEED,
        measure="Air pressure less what the vacuum gauge shows. Leave it empty without a pump.",
    )  # fmt: skip
    room: float = number(
        label="Air pressure", kind="pressure", usual="85 to 104 kPa", possible="40 to 120 kPa",
        measure="101.3 kPa at sea level, about 12% less for every 1000 m up.", start="101.325 kPa",
        relative=0.01, when=_ONE_END,
    )  # fmt: skip
    piston: DamperInputs = group(when=_GAS, change=at_the_end)
    closed_then: float = assumed("where the cap was closed when the rebound was measured", 0.0)
