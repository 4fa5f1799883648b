"""What ride frequency asks: springs, loads and oil of both ends, and the ratio wanted."""

from calc.asking.declare import number
from calc.forms.bottles import BottleRow, amount_to_make, bottles_owned
from calc.forms.inputs import growth_assumed
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.forms.oil_warm import warm_oil
from calc.forms.piston import DamperInputs, PistonModel, piston_from
from calc.forms.recorded import ArmPlaces, Tyre, of_end
from calc.model.corners import ENDS, Corner, End
from calc.model.damper import Bench
from calc.physics.damper import Piston
from calc.replying.inputs import Inputs, Row, from_car, group, rows


class EndRow(Row[End]):
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


class CornerRow(Row[Corner]):
    load: float = from_car("corners.{row}.load")


class Asked(Inputs):
    end: tuple[EndRow, ...] = rows(label="Ends of the car", each=END_LABELS, every=True)
    corner: tuple[CornerRow, ...] = rows(label="Corners", each=CORNER_LABELS, every=True)
    speed: float = number(
        label="Shaft speed used", kind="speed", usual="0.01 to 0.2 m/s",
        possible="0.001 to 2 m/s", start="0.05 m/s",
        measure="The ratio holds for one shaft speed: 20 to 50 mm/s for chassis roll and dive.",
    )  # fmt: skip
    warm: float = warm_oil()
    amount: float = amount_to_make()
    bottles: tuple[BottleRow, ...] = bottles_owned()
    front_damper: DamperInputs = group(prefix="front.", change=of_end(End.FRONT))
    rear_damper: DamperInputs = group(prefix="rear.", change=of_end(End.REAR))
    front_arm: ArmPlaces = group(prefix="front.arm.", change=of_end(End.FRONT))
    rear_arm: ArmPlaces = group(prefix="rear.arm.", change=of_end(End.REAR))
    front_tyre: Tyre = group(prefix="front.", change=of_end(End.FRONT))
    rear_tyre: Tyre = group(prefix="rear.", change=of_end(End.REAR))
    # The models are those of one damper, each end with its own piston.
    law_now: float = PistonModel.law_now
    piston_law: float = PistonModel.piston_law
    front_off_centre: float = PistonModel.off_centre
    rear_off_centre: float = PistonModel.off_centre
    front_growth: float = growth_assumed()
    rear_growth: float = growth_assumed()

    def end_row(self, end: End) -> EndRow:
        return self.end[ENDS.index(end)]

    def masses(self, end: End) -> list[float]:
        """What the scales under both wheels of an end show, kg."""
        rows = self.corner
        return [rows[corner.place].load for corner in end.corners]

    def arm(self, end: End) -> ArmPlaces:
        return self.front_arm if end is End.FRONT else self.rear_arm

    def tyre_rate(self, end: End) -> float:
        return (self.front_tyre if end is End.FRONT else self.rear_tyre).tyre_rate

    def growth(self, end: End) -> float:
        return self.front_growth if end is End.FRONT else self.rear_growth

    def piston(self, end: End) -> Piston:
        """Raises Problem."""
        if end is End.FRONT:
            return piston_from(self.front_damper, self.front_damper, self.front_off_centre)
        return piston_from(self.rear_damper, self.rear_damper, self.rear_off_centre)

    def bench(self) -> Bench:
        """The oil at its temperature and shaft speed, with the factors of both laws."""
        return Bench(self.warm, self.speed, self.law_now, self.piston_law)
