"""A damper with its oil at work: what it does at the shaft and at the wheel, and its oil."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, inf, isfinite, log

from calc.model.oil import at_temperature
from calc.model.standing import Seat
from calc.physics import damper
from calc.physics.damper import Direction, Piston
from calc.physics.failure import Cause, PhysicsError
from calc.physics.root import rising_root

DIRECTIONS: tuple[Direction, ...] = ("compression", "rebound")
_SMALL = 1e-3  # relative step for an elasticity


def directions(piston: Piston) -> tuple[Direction, ...]:
    """Both where they differ, else one that stands for both."""
    differs = any(group.one_way != "both" for group in piston.holes)
    return DIRECTIONS if differs else DIRECTIONS[:1]


def mean_of(each: Mapping[Direction, float]) -> float:
    """Of a damping coefficient, N s/m, in the directions that differ."""
    return sum(each.values()) / len(each)


@dataclass(frozen=True)
class Bench:
    """An oil at its temperature, at one shaft speed: K, m/s, the factors of both laws; `behind` is
    the absolute pressure of the gas over it, Pa, no limit where it is not minded."""

    warm: float
    speed: float
    oil_law: float = 1.0
    piston_law: float = 1.0
    behind: float = inf

    def warmed(self, grade: float) -> tuple[float, float]:
        """Kinematic viscosity, m2/s, and density, kg/m3, of a grade at the temperature."""
        return at_temperature(grade, self.warm, self.oil_law)

    def damping(self, piston: Piston, grade: float) -> float:
        """Damping coefficient of the shaft, N s/m, the mean of both directions."""
        return mean_of(self.damping_each(piston, grade))

    def damping_each(self, piston: Piston, grade: float) -> dict[Direction, float]:
        """Damping coefficient of the shaft, N s/m, in each direction that differs at its speed."""
        return {way: self.damping_in(way, piston, grade) for way in self.ways(piston, grade)}

    def damping_in(self, way: Direction, piston: Piston, grade: float) -> float:
        """Damping coefficient of the shaft, N s/m, in one direction; in compression no more than
        the gas holds."""
        warm, behind = self.warmed(grade), self._behind
        made = damper.damping_coefficient(piston, self.speed, *warm, way, behind)
        return self.piston_law * made

    def parts_from(self, piston: Piston, grade: float) -> float:
        """Shaft speed, m/s, from which the oil under the piston parts in compression."""
        return damper.parting_speed(piston, *self.warmed(grade), self._behind)

    def parts(self, piston: Piston, grade: float) -> bool:
        """Whether it does so at the speed of this bench."""
        return isfinite(self.behind) and self.speed > self.parts_from(piston, grade)

    @property
    def _behind(self) -> float:
        """The gas as the law has it: holes a tenth harder to pass, and the oil parts sooner."""
        return self.behind / self.piston_law

    def ways(self, piston: Piston, grade: float) -> tuple[Direction, ...]:
        """The directions that differ at its speed."""
        return DIRECTIONS if self.parts(piston, grade) else directions(piston)

    def grade_for(self, piston: Piston, damping: float) -> float:
        """The grade, m2/s at 25 C, that gives a damping coefficient. Raises PhysicsError."""

        def excess(log_grade: float) -> float:
            return log(self.damping(piston, exp(log_grade)) / damping)

        low, high = log(damper.THINNEST), log(damper.THICKEST)
        if excess(low) > 0:
            raise PhysicsError(Cause.TOO_STIFF_WITH_ANY_OIL)
        if excess(high) < 0:
            raise PhysicsError(Cause.TOO_SOFT_WITH_ANY_OIL)
        return exp(rising_root(excess, low, high, 1e-9))

    def elasticity(self, piston: Piston, grade: float) -> float:
        """By what share the damping grows for each share that the oil is thicker; 1 in slow
        motion, less where the jet counts."""
        thicker = self.damping(piston, grade * (1 + _SMALL))
        thinner = self.damping(piston, grade * (1 - _SMALL))
        return log(thicker / thinner) / log((1 + _SMALL) / (1 - _SMALL))


@dataclass(frozen=True)
class Damped:
    """A corner of the car with its damper: the body on the spring, at the wheel."""

    seat: Seat
    piston: Piston
    bench: Bench

    def ratio(self, grade: float) -> float:
        """Damping ratio with an oil of this grade, m2/s at 25 C."""
        return self.seat.damping_ratio(self.bench.damping(self.piston, grade))

    def ratio_in(self, way: Direction, grade: float) -> float:
        """Damping ratio in one direction of the shaft with an oil of this grade."""
        return self.seat.damping_ratio(self.bench.damping_in(way, self.piston, grade))

    def ratio_on_tyre(self, grade: float) -> float:
        """Damping ratio on the tyre alone, were the spring held still by an oil of this grade."""
        return self.seat.ratio_on_tyre(self.bench.damping(self.piston, grade))

    def grade_for(self, ratio: float) -> float:
        """The oil, m2/s at 25 C, that gives a damping ratio. Raises PhysicsError."""
        return self.bench.grade_for(self.piston, self.seat.damping_for(ratio))
