"""The dampers of an end as the car record has them: what they do at the wheel, which oil for it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import exp, log

from calc.asking.entry import Number
from calc.forms.common.piston import DOUBTS, DamperInputs, directions, piston_from
from calc.forms.inputs import Inputs, record_inputs
from calc.forms.names import END_LABELS, end_word
from calc.language import tr
from calc.model.car import Car
from calc.model.corners import End
from calc.model.oil import within
from calc.physics import damper, oil
from calc.physics.damper import Piston
from calc.physics.failure import Cause, PhysicsError
from calc.physics.root import rising_root
from calc.replying.form import Given, Problem

_PISTON = [entry for entry in DamperInputs.fields if isinstance(entry, Number)]
_OFF_CENTRE = "off_centre"
_SMALL = 1e-3  # relative step for an elasticity


def piston_inputs(car: Car, end: End) -> Inputs:
    """The pistons of an end as inputs of `with_inputs`, named "front.hole" and so on."""
    paths = {f"{end}.{entry.name}": entry.car.format(axle=end) for entry in _PISTON}
    made = record_inputs(car, paths, tr(dict(END_LABELS)[end]))
    return {**made, f"{end}.{_OFF_CENTRE}": DOUBTS[_OFF_CENTRE]}


def piston_of(given: Given, end: End, at: str, other: Mapping[str, float] | None = None) -> Piston:
    """The piston of an end from `piston_inputs`, some of it with `other` values.

    Raises Problem, at the entry `at`, where the record holds no piston that can be.
    """
    names = [entry.name for entry in _PISTON] + [_OFF_CENTRE]
    own = {name: given.numbers[f"{end}.{name}"] for name in names}
    labels = {entry.name: entry.said for entry in _PISTON}
    flat = replace(given, numbers={**own, **(other or {})}, labels=labels)
    try:
        damper_of_end = DamperInputs(flat)
        return piston_from(damper_of_end, damper_of_end, flat.numbers[_OFF_CENTRE])
    except Problem as problem:
        sentence = tr(
            "The {end} damper in the car record: {problem}", end=end_word(end), problem=problem
        )
        raise Problem(at, sentence) from problem


@dataclass(frozen=True)
class Bench:
    """An oil at its temperature, at one shaft speed: K, m/s, the factors of both laws."""

    warm: float
    speed: float
    oil_law: float = 1.0
    piston_law: float = 1.0

    def warmed(self, grade: float) -> tuple[float, float]:
        """Kinematic viscosity, m2/s, and density, kg/m3, of a grade at the temperature."""
        warm = within(self.warm)
        return oil.viscosity_at(grade, warm) * self.oil_law, oil.density(grade, warm)

    def damping(self, piston: Piston, grade: float) -> float:
        """Damping coefficient of the shaft, N s/m, the mean of both directions."""
        ways, warm = directions(piston), self.warmed(grade)
        each = [damper.damping_coefficient(piston, self.speed, *warm, way) for way in ways]
        return self.piston_law * sum(each) / len(each)

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
