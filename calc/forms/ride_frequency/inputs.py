"""What ride frequency asks: springs, loads and oil of both ends, and the ratio wanted."""

from collections.abc import Mapping

from calc.asking.declare import number
from calc.forms.bottles import BottleRow, bottles_owned
from calc.forms.end_damper import BothDampers, EndDamper
from calc.forms.entered import CornerRow, WeighedEnd, WithArms
from calc.forms.filling import EndFill, by_syringe
from calc.forms.gas import ShutIn
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.forms.oil_warm import warm_oil
from calc.forms.recorded import ArmPlaces, Tyre, at_ends
from calc.model.corners import End
from calc.replying.inputs import from_car, rows


class EndRow(WeighedEnd):
    spring_rate: float = from_car("{row}.spring_rate")
    motion_ratio: float = from_car("{row}.motion_ratio")
    unsprung: float = from_car("{row}.unsprung")
    oil: float = from_car("{row}.oil")
    wanted: float = number(
        label="Damping ratio wanted", kind="ratio", usual="0.3 to 1", possible="0.02 to 5",
        measure="1 comes back from a bump without overshoot, 0.5 overshoots by a sixth (worked "
                "out, not a rule of the trade: try what the track asks for).",
        start="0.6",
    )  # fmt: skip


class Asked(WithArms, BothDampers):
    end: tuple[EndRow, ...] = rows(label="Ends of the car", each=END_LABELS, every=True)
    corner: tuple[CornerRow, ...] = rows(label="Corners", each=CORNER_LABELS, every=True)
    speed: float = number(
        label="Shaft speed used", kind="speed", usual="0.01 to 0.2 m/s",
        possible="0.001 to 2 m/s", start="0.05 m/s",
        measure="The ratio holds for one shaft speed: 20 to 50 mm/s for chassis roll and dive.",
    )  # fmt: skip
    warm: float = warm_oil()
    bottles: tuple[BottleRow, ...] = bottles_owned()
    syringe: float = by_syringe()
    dampers: Mapping[End, EndDamper] = at_ends()
    gases: Mapping[End, ShutIn] = at_ends()
    fills: Mapping[End, EndFill] = at_ends()
    arms: Mapping[End, ArmPlaces] = at_ends(prefix="arm.")
    tyres: Mapping[End, Tyre] = at_ends()

    def gas(self, end: End) -> ShutIn:
        return self.gases[end]
