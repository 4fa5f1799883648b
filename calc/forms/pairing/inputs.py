"""What pairing asks: measured springs, pistons or dampers, and the end they are for."""

from typing import Literal

from calc.asking.declare import choice, number, text
from calc.asking.entry import only
from calc.forms.entered import EndLoads
from calc.forms.fields import which_end
from calc.forms.oil_warm import warm_oil
from calc.forms.piston import DamperInputs, PistonModel
from calc.model.corners import End
from calc.replying.inputs import Row, from_car, group, rows, up_to

Kind = Literal["springs", "pistons", "dampers"]
_SPRINGS, _PISTONS = only("parts", "springs"), only("parts", "pistons")
MOST = 8


class SpringRow(Row[str]):
    rate: float = number(
        label="Rate", kind="rate", usual="0.1 to 5 N/mm", possible="0.005 to 200 N/mm",
        measure="All on one scale, pressed by the same amount, one after the other.",
        relative=0.005,
    )  # fmt: skip
    free: float = number(
        label="Free length", kind="length", usual="20 to 120 mm", possible="5 to 500 mm",
        measure="Standing on the bench, with nothing on it, by the calliper.", tool="calliper",
    )  # fmt: skip


class PistonRow(Row[str]):
    hole: float = number(
        label="Diameter of its holes", kind="length", usual="0.8 to 2 mm", possible="0.2 to 8 mm",
        measure="The thickest pin or drill shank that goes through all of them without force.",
        relative=0.01,
    )  # fmt: skip


_BY_HAND = "0.2 s"
"""A step as doubtful as the mean of three times stopped by hand, see `calc.physics.drop.HAND`."""


class DamperRow(Row[str]):
    time: float = number(
        label="Time under the hanging weight", kind="time", usual="0.5 to 30 s",
        possible="0.02 to 3600 s", reads=_BY_HAND,
        measure="The same mass over the same distance, no spring; the mean of several runs.",
    )  # fmt: skip
    letter: str = text(
        label="Letter on the cap", longest=12, optional=True,
        measure="With it the time goes into the record of that damper.",
    )  # fmt: skip


class Asked(PistonModel):
    parts: Kind = choice(
        label="Parts to pair",
        options={"springs": "springs", "pistons": "pistons", "dampers": "dampers"},
        measure="Mark each part with a letter or a dot before you measure, in the order of the "
        "rows.",
    )
    pairs: Literal["2", "1", "3", "4"] = choice(
        label="Pairs wanted",
        options={"2": "two pairs", "1": "one pair", "3": "three pairs", "4": "four pairs"},
    )
    axle: End = which_end(only("parts", "springs", "pistons"))
    springs: tuple[SpringRow, ...] = rows(
        label="Springs measured", each=up_to(MOST, "Spring"), least=2, when=_SPRINGS,
        examples=(
            ("0.642 N/mm", "40 mm"), ("0.655 N/mm", "40.2 mm"), ("0.668 N/mm", "39.9 mm"),
            ("0.644 N/mm", "40.1 mm"), ("0.66 N/mm", "40 mm"), ("0.651 N/mm", "39.8 mm"),
            ("0.649 N/mm", "40 mm"), ("0.671 N/mm", "40.1 mm"),
        ),
    )  # fmt: skip
    pistons: tuple[PistonRow, ...] = rows(
        label="Pistons measured", each=up_to(MOST, "Piston"), least=2, when=_PISTONS,
        examples=(
            ("1.6 mm",), ("1.62 mm",), ("1.58 mm",), ("1.6 mm",), ("1.63 mm",), ("1.61 mm",),
            ("1.64 mm",), ("1.59 mm",),
        ),
    )  # fmt: skip
    dampers: tuple[DamperRow, ...] = rows(
        label="Dampers measured", each=up_to(MOST, "Damper"), least=2,
        when=only("parts", "dampers"),
        examples=(
            ("1.69 s",), ("1.79 s",), ("1.72 s",), ("1.81 s",), ("1.9 s",), ("1.66 s",),
            ("1.85 s",), ("1.74 s",),
        ),
    )  # fmt: skip
    motion_ratio: float = from_car("{axle}.motion_ratio", when=_SPRINGS)
    pitch: float = from_car("{axle}.pitch", when=_SPRINGS)
    turn_step: float = from_car("tools.turn_step", when=_SPRINGS)
    loads: EndLoads = group(when=_SPRINGS)
    oil: float = from_car("{axle}.oil", when=_PISTONS)
    warm: float = warm_oil(when=_PISTONS)
    speed: float = number(
        label="Shaft speed", kind="speed", usual="0.005 to 1.5 m/s", possible="0.001 to 2 m/s",
        start="0.1 m/s", when=_PISTONS,
        measure="Where you feel the difference: 100 mm/s is rolling over bumps.",
    )  # fmt: skip
    piston: DamperInputs = group(when=_PISTONS)
