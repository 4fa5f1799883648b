"""Both ends of the car as a mass on a spring with a damper: figures, not words."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, exp, pi, sin, sqrt

from calc.forms.end_damper import bench, piston_of
from calc.forms.entered import at_end, end_row, masses_at
from calc.forms.findings import said_at
from calc.forms.inputs import growth_of
from calc.model.corners import End
from calc.model.damper import Damped
from calc.model.standing import Seat, carrying, spring_load
from calc.physics.ride import overshoot
from calc.replying.form import Given, part


@dataclass(frozen=True)
class Ride(Damped):
    """The mean corner of an end, with the oil in it and the damping ratio wanted."""

    end: End
    oil: float
    wanted: float


def ride(given: Given, end: End) -> Ride:
    """An end of the car: the mean of its two corners. Raises Problem."""
    row = end_row(given, end)
    return Ride(
        seat=_seat(given, end),
        piston=piston_of(given, end),
        bench=bench(given),
        end=end,
        oil=row.oil,
        wanted=row.wanted,
    )


def _seat(given: Given, end: End) -> Seat:
    row, masses = end_row(given, end), masses_at(given, end)
    with said_at(at_end(end)):
        return carrying(
            rate=row.spring_rate,
            load=spring_load(sum(masses) / len(masses), row.unsprung),
            motion_ratio=row.motion_ratio,
            growth=growth_of(given, end),
        ).check()


@part
def _damping(given: Given, end: End) -> float:
    """Of the shaft, N s/m, with the oil that is in."""
    return bench(given).damping(piston_of(given, end), end_row(given, end).oil)


def figures(given: Given) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact."""
    made = {**_of_end(given, End.FRONT), **_of_end(given, End.REAR)}
    made["frequency_ratio"] = made["rear_frequency"] / made["front_frequency"]
    return made


@part
def _of_end(given: Given, end: End) -> Mapping[str, float]:
    seat = _seat(given, end)
    ratio = seat.damping_ratio(_damping(given, end))
    return {
        f"{end}_frequency": seat.frequency,
        f"{end}_ratio": ratio,
        f"{end}_overshoot": overshoot(ratio),
        f"{end}_wheel_rate": seat.wheel_rate,
    }


def settled(ratio: float, frequency: float, time: float) -> float:
    """What is left of a displacement after a time in s: a mass let go on spring and damper."""
    omega = 2 * pi * frequency
    if abs(ratio - 1) < 1e-9:
        return exp(-omega * time) * (1 + omega * time)
    if ratio < 1:
        swing = omega * sqrt(1 - ratio**2)
        decay = ratio * omega
        return exp(-decay * time) * (cos(swing * time) + decay / swing * sin(swing * time))
    root = sqrt(ratio**2 - 1)
    slow, fast = omega * (ratio - root), omega * (ratio + root)
    return (fast * exp(-slow * time) - slow * exp(-fast * time)) / (fast - slow)
