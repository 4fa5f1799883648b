"""What oil for today asks: when each oil was right, the day, the bottles, the time there is."""

from collections.abc import Mapping

from calc.forms.bottles import BottleRow, bottles_owned
from calc.forms.filling import EndFill, by_syringe
from calc.forms.hurry import IN_A_HURRY, Hurry
from calc.forms.oil_warm import LAW, temperature_now
from calc.forms.recorded import FOLDED, at_ends
from calc.model.corners import End
from calc.model.oil import clamp
from calc.physics.warm import same_feel
from calc.replying.inputs import Inputs, assumed, from_car, group


class Asked(Inputs):
    front_at: float = from_car("front.oil_at", label="The front oil was right at")
    rear_at: float = from_car("rear.oil_at", label="The rear oil was right at")
    now: float = temperature_now()
    hurry: Hurry = group()
    front_oil: float = from_car("front.oil", label="Oil in the front dampers")
    rear_oil: float = from_car("rear.oil", label="Oil in the rear dampers")
    bottles: tuple[BottleRow, ...] = bottles_owned()
    syringe: float = by_syringe()
    front_length: float | None = from_car(
        "front.inside.length", "front_length", label="Front, inside length of the body",
        optional=True, group=FOLDED, when=IN_A_HURRY,
    )  # fmt: skip
    rear_length: float | None = from_car(
        "rear.inside.length", "rear_length", label="Rear, inside length of the body",
        optional=True, group=FOLDED, when=IN_A_HURRY,
    )  # fmt: skip
    fills: Mapping[End, EndFill] = at_ends()
    front_law: float = assumed(LAW)
    rear_law: float = assumed(LAW)

    def grade(self, end: End) -> float:
        """The oil in the dampers of an end, m2/s at 25 C."""
        return self.front_oil if end is End.FRONT else self.rear_oil

    def then(self, end: End) -> float:
        """The temperature, K, at which the oil of an end was right, as far as the law goes."""
        return clamp(self.front_at if end is End.FRONT else self.rear_at)

    def wanted(self, end: End, now: float | None = None) -> float:
        """The oil that feels now as the one in the dampers did, m2/s at 25 C."""
        return same_feel(self.grade(end), self.then(end), clamp(self.now if now is None else now))

    def length(self, end: End) -> float | None:
        """The inside length of a damper of an end, m, where it is known."""
        return self.front_length if end is End.FRONT else self.rear_length
