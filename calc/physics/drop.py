"""Drop test: a mass pulls the shaft of a damper, without its spring, over a timed distance.

The shaft soon reaches the speed at which damping balances the weight. Masses in kg (all that
hangs), distance in m, times in s, coefficients in N s/m, forces in N.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.physics import sample
from calc.physics.failure import Cause, PhysicsError
from calc.physics.linear import polynomial_fit
from calc.physics.require import not_negative, positive
from calc.physics.ride import GRAVITY

HAND = 0.1
"""Standard deviation of a time stopped by hand, s, both presses together, of marks that are waited
for: 4304 times taken at swimming meetings (D. Faux and J. Godolphin, Am. J. Phys. 87, 2019,
110-115, abstract)."""


@dataclass(frozen=True)
class Friction:
    """Damping coefficient and seal friction apart, each with its standard error.

    Friction below zero: damping grows faster than the speed, or the runs scatter.
    """

    coefficient: float
    coefficient_error: float
    friction: float
    friction_error: float


def _check(distance: float, times: Sequence[float]) -> None:
    positive(distance=distance)
    positive(**{f"time {place}": time for place, time in enumerate(times, 1)})


def damping_coefficient(
    mass: float, distance: float, times: Sequence[float], friction: float = 0.0
) -> sample.Mean:
    """Force over speed of the drops, c = (m g - friction) t/L, with the standard error of the runs.

    Scatter alone: uncertainties of scale and ruler come on top. ValueError below two runs.
    """
    _check(distance, times)
    pull = _pull(mass, friction)
    time = sample.mean(times)
    return sample.Mean(pull * time.value / distance, pull * time.error / distance, time.count)


def _pull(mass: float, friction: float) -> float:
    positive(mass=mass)
    not_negative(friction=friction)
    if not mass * GRAVITY > friction:
        raise ValueError("The friction holds the mass: nothing drops")
    return mass * GRAVITY - friction


def run_up(mass: float, coefficient: float) -> float:
    """Distance by which a drop from rest lags behind one at full speed, m: v m/c with v = m g/c.

    Start the watch further down than a few times this.
    """
    positive(mass=mass, coefficient=coefficient)
    return mass * mass * GRAVITY / coefficient**2


def friction_and_damping(
    masses: Sequence[float], distance: float, times: Sequence[float]
) -> Friction:
    """Both from drops with two masses or more: m g = friction + c v. masses: of each timed run.

    Least squares of the speed, which scatters, on the force, which is known; the line is then
    read the other way, as a calibration is. Errors to first order. Damping has to grow in
    proportion to the speed between the speeds of the test. ValueError for fewer than two masses or
    three runs, PhysicsError where a heavier mass is no faster.
    """
    _check(distance, times)
    positive(**{f"mass {place}": mass for place, mass in enumerate(masses, 1)})
    if len(masses) != len(times) or len(times) < 3 or len(set(masses)) < 2:
        raise ValueError("Take three timed runs or more, with two masses or more between them")
    forces = [mass * GRAVITY for mass in masses]
    middle = math.fsum(forces) / len(forces)
    # Seen from the middle of the forces, the errors of level and slope are independent.
    fit = polynomial_fit([f - middle for f in forces], [distance / t for t in times], 1)
    (level, slope), errors = fit.coefficients, fit.errors
    if not slope > 0 or errors is None:
        raise PhysicsError(Cause.HEAVIER_NOT_FASTER)
    return Friction(
        coefficient=1 / slope,
        coefficient_error=errors[1] / slope**2,
        friction=middle - level / slope,
        friction_error=math.hypot(errors[0], errors[1] * level / slope) / slope,
    )
