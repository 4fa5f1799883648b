"""What oil blend asks."""

from typing import Any, Literal

from calc.asking.declare import choice, number
from calc.asking.entry import only
from calc.forms.bottles import BottleRow, bottles_owned
from calc.forms.fields import which_end
from calc.language import later
from calc.model.corners import End
from calc.replying.inputs import Inputs, Row, assumed, from_car, rows, up_to

Task = Literal["blend", "bottles", "shift", "made"]
_BLEND, _SHIFT = only("task", "blend"), only("task", "shift")
_OWN_BOTTLES = only("task", "bottles")
_MEASURED_OUT = only("task", "blend", "shift", "bottles")


def _oil(label: str, measure: str = "The cSt number on the bottle.", **more: Any) -> Any:
    return number(
        label=label, kind="viscosity", usual="100 to 1500 cSt", possible="5 to 200000 cSt",
        measure=measure, relative=0.03, **more,
    )  # fmt: skip


def _amount(label: str, measure: str, **more: Any) -> Any:
    return number(
        label=label, kind="volume", usual="1 to 100 mL", possible="0.05 to 5000 mL",
        measure=measure, **more,
    )  # fmt: skip


class OilRow(Row[str]):
    viscosity: float = _oil("Viscosity at 25 °C")
    amount: float = _amount("Amount", "Any unit of volume.", relative=0.02)


class Asked(Inputs):
    task: Task = choice(
        label="Task",
        options={
            "blend": "blend two bottles to a target",
            "bottles": "find the best two of my bottles",
            "shift": "shift the oil that is in a damper",
            "made": "what did I make",
        },
    )
    thin: float = _oil("Thin oil, at 25 °C", example="300 cSt", when=_BLEND)
    thick: float = _oil("Thick oil, at 25 °C", example="500 cSt", when=_BLEND)
    axle: End = which_end(_SHIFT)
    now: float = from_car("{axle}.oil", when=_SHIFT, label="Oil in the damper, at 25 °C")
    added: float = _oil("Oil to add, at 25 °C", example="800 cSt", when=_SHIFT)
    target: float = number(
        label="Viscosity wanted, at 25 °C", kind="viscosity", usual="100 to 1500 cSt",
        possible="5 to 200000 cSt", example="450 cSt", when=_MEASURED_OUT,
        measure="On most bottles two digits are wt, three or more cSt. A wt number works too, once "
        "two lines of its table are noted under Oil for the evening: write 35 wt.",
    )  # fmt: skip
    amount: float = _amount(
        "Amount to make", "Four small dampers hold about 15 mL in all.", start="20 mL",
        when=only("task", "blend", "bottles"),
    )  # fmt: skip
    held: float = from_car("{axle}.inside.held", when=_SHIFT)
    step: Literal["syringe", "drop", "scale", "parts"] = choice(
        label="Measure with",
        options={
            "syringe": "a syringe",
            "drop": "drops",
            "scale": "a scale",
            "parts": "whole parts",
        },
        when=_MEASURED_OUT,
    )
    syringe: float = from_car("tools.syringe", when=_MEASURED_OUT + only("step", "syringe"))
    drop: float = from_car("tools.drop", when=_MEASURED_OUT + only("step", "drop"))
    oil_scale: float = from_car("tools.oil_scale", when=_MEASURED_OUT + only("step", "scale"))
    measured_share: float | None = number(
        label="One measured blend: share of the thick oil", kind="share", usual="10 to 90 %",
        possible="1 to 99 %", optional=True, when=_BLEND,
        measure="Only if you measured a blend of these two oils; it then replaces the mixing "
                "rule.",
    )  # fmt: skip
    measured: float | None = _oil(
        "One measured blend: its viscosity", "Measured at 25 °C.", optional=True, when=_BLEND
    )
    oils: tuple[OilRow, ...] = rows(
        label="What went in", each=up_to(6, "Oil"), least=1, when=only("task", "made"),
        examples=(("300 cSt", "12 mL"), ("500 cSt", "8 mL")),
    )  # fmt: skip
    goes: Literal["bottle", "dampers"] = choice(
        label="The mix goes",
        options={"bottle": "into a bottle of its own", "dampers": "into the dampers at once"},
        when=_OWN_BOTTLES,
    )
    bottles: tuple[BottleRow, ...] = bottles_owned(least=1, when=_OWN_BOTTLES)
    poured_thin: float = assumed("how exactly the thin oil is measured")
    poured_thick: float = assumed("how exactly the thick oil is measured")
    law: float = assumed(later("which mixing rule the oil follows"))
