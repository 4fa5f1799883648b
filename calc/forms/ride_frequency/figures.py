"""Both ends of the car as a mass on a spring with a damper: figures, not words."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import cos, exp, pi, sin, sqrt

from calc.forms.common.end_damper import Bench, piston_of
from calc.forms.fields import sprung_load
from calc.model.corners import Corner, End
from calc.physics.damper import Piston
from calc.physics.linkage import wheel_damping, wheel_rate
from calc.physics.ride import (
    damping_for_ratio,
    damping_ratio,
    natural_frequency,
    overshoot,
)
from calc.replying.form import Given, part
from calc.units import STANDARD_GRAVITY


@dataclass(frozen=True)
class Ride:
    """One corner of an end, SI; `bench` says at which speed and temperature its damper works."""

    end: End
    mass: float
    rate: float
    motion_ratio: float
    oil: float
    wanted: float
    piston: Piston
    bench: Bench

    @cached_property
    def wheel_rate(self) -> float:
        return wheel_rate(rate=self.rate, motion_ratio=self.motion_ratio)

    @cached_property
    def frequency(self) -> float:
        return natural_frequency(rate=self.wheel_rate, mass=self.mass)

    def ratio(self, grade: float) -> float:
        """Damping ratio with an oil of this grade."""
        damping = self.bench.damping(self.piston, grade)
        at_wheel = wheel_damping(damping=damping, motion_ratio=self.motion_ratio)
        return damping_ratio(damping=at_wheel, rate=self.wheel_rate, mass=self.mass)

    def damping_for(self, ratio: float) -> float:
        """Damping coefficient of the shaft, N s/m, that gives a damping ratio."""
        at_wheel = damping_for_ratio(ratio=ratio, rate=self.wheel_rate, mass=self.mass)
        return at_wheel / self.motion_ratio**2

    def grade_for(self, ratio: float) -> float:
        """The oil, m2/s at 25 C, that gives a damping ratio. Raises PhysicsError."""
        return self.bench.grade_for(self.piston, self.damping_for(ratio))


def ride(given: Given, end: End) -> Ride:
    """An end of the car: the mean of its two corners. Raises Problem."""
    row = next(row for row in given.rows("end") if row.key == end)
    loads = [corner.load for corner in given.rows("corner") if Corner(corner.key).end is end]
    load = sprung_load(sum(loads) / len(loads), row.unsprung, f"end.{end}.unsprung")
    return Ride(
        end=end,
        mass=load / STANDARD_GRAVITY,
        rate=row.spring_rate,
        motion_ratio=row.motion_ratio,
        oil=row.oil,
        wanted=row.wanted,
        piston=piston_of(given, end, f"end.{end}.oil"),
        bench=Bench(given.warm, given.speed, given.law_now, given.piston_law),
    )


def figures(given: Given) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact."""
    made = {**_of_end(given, End.FRONT), **_of_end(given, End.REAR)}
    made["frequency_ratio"] = made["rear_frequency"] / made["front_frequency"]
    return made


@part
def _of_end(given: Given, end: End) -> Mapping[str, float]:
    one = ride(given, end)
    ratio = one.ratio(one.oil)
    return {
        f"{end}_frequency": one.frequency,
        f"{end}_ratio": ratio,
        f"{end}_overshoot": overshoot(ratio),
        f"{end}_wheel_rate": one.wheel_rate,
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
