"""A damper in one of its mounting holes over the whole travel, and where the car rests on it.

SI floats. Wheel rise is counted from ride height, bump positive.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from calc.physics.linkage import Linkage, RatioFit, position, travel_range, wheel_rate
from calc.physics.require import positive
from calc.physics.root import rising_root
from calc.physics.stack import Stack


@dataclass(frozen=True, slots=True)
class Spot:
    """The damper at one wheel height: length between its mounts in m, motion ratio, and the slope
    of that in 1/m of wheel rise."""

    length: float
    ratio: float
    slope: float


@dataclass(frozen=True)
class Hole:
    """A mounting hole: the damper at any wheel rise from full droop (`low`) to full bump (`high`),
    both in m."""

    at: Callable[[float], Spot]
    low: float
    high: float

    @property
    def ride(self) -> Spot:
        """The damper at ride height."""
        return self.at(0.0)


def drawn_hole(linkage: Linkage, *, longest: float, stroke: float) -> Hole:
    """A hole of a drawing at ride height; `longest`: the damper fully out, mount to mount, m.

    Raises PhysicsError where the arm does not reach full droop or full bump.
    """
    positive(longest=longest, stroke=stroke)
    droop, bump = travel_range(linkage, shortest=longest - stroke, longest=longest)

    @cache  # an answer asks for the ends and for ride height again and again
    def at(rise: float) -> Spot:
        now = position(linkage, rise)
        return Spot(now.damper_length, now.motion_ratio, now.motion_ratio_slope)

    return Hole(at, droop.wheel_rise, bump.wheel_rise)


def measured_hole(fit: RatioFit, *, length: float, low: float, high: float) -> Hole:
    """A hole of measured pairs; `length`: mount to mount at ride height, m."""
    positive(length=length)

    def at(rise: float) -> Spot:
        travel = (fit.ratio + fit.slope * rise / 2) * rise
        return Spot(length - travel, fit.ratio_at(rise), fit.slope)

    return Hole(at, low, high)


def scaled(hole: Hole, factor: float) -> Hole:
    """The hole with a motion ratio so many times as high all over its travel."""
    if factor == 1.0:
        return hole

    def at(rise: float) -> Spot:
        spot = hole.at(rise)
        return Spot(spot.length, spot.ratio * factor, spot.slope * factor)

    return Hole(at, hole.low, hole.high)


def spring_force(spot: Spot, stack: Stack, *, seat: float) -> float:
    """Force of the spring, N; `seat`: how much longer the damper is than it, m."""
    return stack.force(stack.free - (spot.length - seat))


def rate_at_wheel(hole: Hole, stack: Stack, *, seat: float, rise: float) -> float:
    """Rate at the wheel, N/m: k MR^2 + F dMR/dz; 0 while the spring is loose."""
    spot = hole.at(rise)
    force = spring_force(spot, stack, seat=seat)
    if force <= 0:
        return 0.0
    return wheel_rate(
        rate=stack.rate(force),
        motion_ratio=spot.ratio,
        force=force,
        motion_ratio_slope=spot.slope,
    )


def rest(hole: Hole, stack: Stack, *, seat: float, load: float) -> float:
    """Wheel rise in m at which a load in N at the wheel rests on the spring (virtual work).

    At an end of the travel where a stop takes the load.
    """
    positive(load=load)

    def excess(rise: float) -> float:
        spot = hole.at(rise)
        return spring_force(spot, stack, seat=seat) * spot.ratio - load

    if excess(hole.low) >= 0:
        return hole.low
    return hole.high if excess(hole.high) <= 0 else rising_root(excess, hole.low, hole.high)
