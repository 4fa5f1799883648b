"""From the shaft to the wheel and back where the motion ratio grows evenly. SI floats.

The ratio is dx/dz at ride height, its slope d2x/dz2: shaft travel x = ratio z + slope z^2 / 2 for
a wheel travel z from there, bump positive in both.
"""

from math import sqrt

from calc.physics.failure import Cause, PhysicsError
from calc.physics.require import finite, positive


def shaft_travel(*, wheel: float, motion_ratio: float, slope: float = 0.0) -> float:
    """Shaft travel, m, of a wheel travel in m from ride height. Raises PhysicsError where the
    damper would pass its dead centre on the way."""
    finite(wheel=wheel, slope=slope)
    positive(motion_ratio=motion_ratio)
    if motion_ratio + slope * wheel <= 0.0:
        raise PhysicsError(Cause.DEAD_CENTRE)
    return motion_ratio * wheel + slope * wheel**2 / 2


def wheel_travel(*, shaft: float, motion_ratio: float, slope: float = 0.0) -> float:
    """Wheel travel, m, of a shaft travel in m from ride height. Raises PhysicsError likewise."""
    finite(shaft=shaft, slope=slope)
    positive(motion_ratio=motion_ratio)
    under = motion_ratio**2 + 2 * slope * shaft
    if under <= 0.0:
        raise PhysicsError(Cause.DEAD_CENTRE)
    return 2 * shaft / (motion_ratio + sqrt(under))
