"""A car record as a body on four springs, to confirm what a form promises."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from scipy.optimize import brentq, root

from calc.model.car import Axle, Car
from calc.model.corners import CORNERS
from calc.physics.chassis import Wheel
from calc.physics.linkage import lift_per_turn
from calc.physics.settle import LoadLine, Stance, balance_point, measured_line, settle
from calc.physics.spring import Spring
from calc.units import STANDARD_GRAVITY
from tests.springs import pair_force

Load = Callable[[float], float]  # wheel load in N against the rise of the body in m


def axle_of(car: Car, key: str) -> Axle:
    return car.front if key.startswith("front") else car.rear


def corner(car: Car, key: str) -> Wheel:
    axle = axle_of(car, key)
    side = 1.0 if key.endswith("left") else -1.0
    return Wheel(
        x=car.body.wheelbase if key.startswith("front") else 0.0,
        y=side * axle.track / 2,
        wheel_rate=axle.spring_rate * axle.motion_ratio**2,
        turn_lift=lift_per_turn(pitch=axle.pitch, motion_ratio=axle.motion_ratio),
    )


def loads(car: Car) -> list[float]:
    """What the springs carry at each wheel, N."""
    return [
        (getattr(car.corners, key).load - axle_of(car, key).unsprung) * STANDARD_GRAVITY
        for key in CORNERS
    ]


def preload(car: Car, key: str, droop_length: float) -> float:
    """Wheel load at which the corner leaves its droop stop, N; below 0 where it is loose."""
    axle = axle_of(car, key)
    return (axle.spring_free - droop_length) * axle.spring_rate * axle.motion_ratio


def standing(car: Car) -> list[LoadLine]:
    """The legs of a car that stands level at height 0 under its loads."""
    return [
        measured_line(
            corner(car, key),
            load=load,
            preload=preload(car, key, axle_of(car, key).droop_length),
            height=0.0,
        )
        for key, load in zip(CORNERS, loads(car), strict=True)
    ]


def respring(
    legs: Sequence[LoadLine], before: Car, after: Car, droop_lengths: Sequence[float]
) -> Stance:
    """Where the body rests once other springs are in; full droop is where it was."""
    made = [
        replace(leg, wheel=corner(after, key), preload=preload(after, key, length))
        for leg, key, length in zip(legs, CORNERS, droop_lengths, strict=True)
    ]
    weights = loads(before)
    centre = balance_point([leg.wheel for leg in legs], weights)
    return settle(made, weight=sum(weights), centre=centre)


def heights(stance: Stance, car: Car) -> list[float]:
    """Of the body at the four wheels, m."""
    places = (corner(car, key) for key in CORNERS)
    return [stance.height((place.x, place.y)) for place in places]


def rest(car: Car, curves: Sequence[Load], extra: Sequence[float] = (0.0, 0.0, 0.0)) -> list[float]:
    """Rise of the body at the four wheels, m, when the wheels bear by these curves: scipy finds the
    rest, no linear spring assumed. extra: weight added, N, and its moments about the rear axle and
    the middle of the car, N m."""
    places = [corner(car, key) for key in CORNERS]
    arms = np.array([[1.0, place.x, place.y] for place in places])
    pull = arms.T @ np.array(loads(car)) + np.array(extra)

    def out_of_balance(body: Any) -> Any:
        borne = [curve(rise) for curve, rise in zip(curves, arms @ body, strict=True)]
        return arms.T @ np.array(borne) - pull

    found = root(out_of_balance, np.zeros(3), tol=1e-13)
    assert np.abs(found.fun).max() < 1e-7
    return [float(rise) for rise in arms @ found.x]


def travel(axle: Axle, load: float) -> float:
    """Shaft travel from full droop under a wheel load in N, with the spring of the record."""
    force = load / axle.motion_ratio
    return force / axle.spring_rate - (axle.spring_free - axle.droop_length)


def spring_curve(axle: Axle, load: float, rate: float, gap: float) -> Load:
    """Wheel load against the rise of the body, of a spring of a rate that is pressed by `gap` m at
    full droop, in a corner that stood under `load`."""
    ratio, stood = axle.motion_ratio, travel(axle, load)
    return lambda rise: ratio * rate * max(0.0, gap + stood - ratio * rise)


def on_tyre(curve: Load, load: float, rate: float) -> Load:
    """A curve over a tyre of a rate, N/m, that stood under `load`: the body that has risen so far
    from the ground has risen from its wheel by what the tyre gives more."""

    def borne(rise: float) -> float:
        most = curve(rise - load / rate - 1.0) + load
        return float(
            brentq(lambda f: f - curve(rise + (f - load) / rate), 0.0, most, xtol=1e-13, rtol=1e-15)
        )

    return borne


def pair_curve(axle: Axle, load: float, pair: tuple[Spring, Spring], gap: float) -> Load:
    """Wheel load against the rise of the body, of two springs in series."""
    ratio, stood = axle.motion_ratio, travel(axle, load)
    return lambda rise: ratio * pair_force(*pair, compression=gap + stood - ratio * rise)
