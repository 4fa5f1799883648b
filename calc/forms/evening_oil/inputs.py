"""What oil for the evening asks: all four dampers, what is wasted, the bottles, the tool."""

from dataclasses import replace
from typing import Literal

from calc.asking.declare import choice, number, text
from calc.asking.entry import only
from calc.forms.bottles import BottleRow, bottles_owned
from calc.forms.names import END_LABELS
from calc.model.corners import End
from calc.replying.inputs import Inputs, Row, assumed, from_car, rows, up_to

_SET, _WEIGHTS = only("task", "set"), only("task", "weights")


class EndRow(Row[End]):
    target: float = from_car("{row}.oil", label="Oil wanted, at 25 °C", fills_only=True)
    held: float = from_car("{row}.inside.held")


class LineRow(Row[str]):
    weight: float = number(
        label="Weight number", kind="ratio", usual="10 to 80", possible="1 to 300",
        measure="As it stands in the maker's table or on the bottle.",
    )  # fmt: skip
    viscosity: float = number(
        label="Its viscosity at 25 °C", kind="viscosity", usual="100 to 1500 cSt",
        possible="5 to 200000 cSt", relative=0.03, measure="In the same line of that table.",
    )  # fmt: skip


class Asked(Inputs):
    task: Literal["set", "weights"] = choice(
        label="Task",
        options={"set": "oil for all four dampers", "weights": "my own weight numbers"},
    )
    end: tuple[EndRow, ...] = rows(
        label="Dampers of each end", each=END_LABELS, every=True, when=_SET
    )
    waste: float = number(
        label="Waste of each fill", kind="share", usual="5 to 40 %", possible="0 to 300 %",
        start="15 %", typical="15 %", when=_SET,
        measure="Oil that runs over or stays in syringe and beaker, as a share of the fill "
        "(common practice, no source). Measure yours once.",
    )  # fmt: skip
    spare: float = number(
        label="Surplus to keep of each oil", kind="volume", usual="0 to 30 mL",
        possible="0 to 500 mL",
        start="5 mL", typical="5 mL", when=_SET,
        measure="The surplus of the mix goes into a bottle of its own, for topping up.",
    )  # fmt: skip
    name: str = replace(
        text(
            label="Name of the blend",
            measure="It goes on the label and into your list.",
            optional=True,
        ),
        when=_SET,
    )
    step: Literal["syringe", "drop"] = choice(
        label="Measure with", options={"syringe": "a syringe", "drop": "drops"}, when=_SET
    )
    syringe: float = from_car("tools.syringe", when=_SET + only("step", "syringe"))
    drop: float = from_car("tools.drop", when=_SET + only("step", "drop"))
    bottles: tuple[BottleRow, ...] = bottles_owned(least=1, when=_SET)
    line: tuple[LineRow, ...] = rows(
        label="Two lines of your table", each=up_to(2, "Line"), least=2, when=_WEIGHTS,
        examples=(("30", "360 cSt"), ("50", "680 cSt")),
    )  # fmt: skip
    law: float = assumed("which mixing rule the oil follows")
    reading: float = assumed("how exactly the thick oil is measured")
