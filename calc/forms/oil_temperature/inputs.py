"""What oil and temperature asks, and its figures."""

from typing import Literal

from calc.asking.declare import choice
from calc.asking.entry import only
from calc.forms.bottles import BottleRow, bottles_owned
from calc.forms.fields import which_end
from calc.forms.filling import EndFill, by_syringe
from calc.forms.oil_warm import LAW, temperature_now
from calc.forms.recorded import at_the_end
from calc.model.corners import End
from calc.physics import oil
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Inputs, assumed, from_car, group

_SAME = only("ask", "same")


class Asked(Inputs):
    ask: Literal["same", "viscosity"] = choice(
        label="Question",
        options={
            "same": "the oil that feels as it did",
            "viscosity": "the viscosity of my oil now",
        },
    )
    axle: End = which_end()
    oil: float = from_car("{axle}.oil")
    worked_at: float = from_car("{axle}.oil_at", "worked_at", when=_SAME)
    now: float = temperature_now()
    bottles: tuple[BottleRow, ...] = bottles_owned(when=_SAME)
    syringe: float = by_syringe(when=_SAME)
    fill: EndFill = group(when=_SAME, change=at_the_end)
    law_then: float = assumed(LAW)
    law_now: float = assumed(LAW)
    law_between: float = assumed(LAW)


def then_of(asked: Asked) -> float:
    """The temperature to compare with: when the set-up worked, else 25 °C."""
    return asked.worked_at if asked.ask == "same" else oil.ROOM


class FeelFigures(Figures):
    wanted: float | None = figure(
        "Oil that feels now as it did at {then}, by label (25 °C)", kind="viscosity"
    )
    viscosity_then: float | None = figure(
        "Viscosity of the oil in the dampers at {then}", kind="viscosity"
    )
    viscosity_now: float = figure("Viscosity of the oil in the dampers at {now}", kind="viscosity")
    dynamic_now: float = figure("Its dynamic viscosity at {now}", kind="dynamic")
    change: float = figure("Thicker or thinner (−) than at {then}", kind="share")
