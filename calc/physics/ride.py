"""How a car rides: frequency, damping ratio, overshoot, decay. SI floats."""

from math import cos, exp, pi, sin, sqrt

from calc.physics.require import not_negative, positive

GRAVITY = 9.80665  # m/s2, standard: a kilogram on a scale is this many newtons


def natural_frequency(*, rate: float, mass: float) -> float:
    """Undamped frequency in Hz of a mass in kg on a rate in N/m: sqrt(k/m) / (2 pi).

    For a ride frequency: the wheel rate, and the sprung mass on that wheel.
    """
    positive(rate=rate, mass=mass)
    return sqrt(rate / mass) / (2.0 * pi)


def damping_ratio(*, damping: float, rate: float, mass: float) -> float:
    """Damping coefficient in N s/m as a share of the critical one: c / (2 sqrt(k m)).

    All three at the wheel (damping and rate times MR^2), mass the sprung mass in kg.
    """
    positive(rate=rate, mass=mass)
    not_negative(damping=damping)
    return damping / (2.0 * sqrt(rate * mass))


def ratio_in_series(*, damping: float, rate: float, mass: float) -> float:
    """Damping ratio of a mass in kg on a rate in N/m and a damper in N s/m one after the other:
    sqrt(k m) / (2 c), from m c s^2 + m k s + k c = 0. The stiffer the damper, the less it damps.
    """
    positive(damping=damping, rate=rate, mass=mass)
    return sqrt(rate * mass) / (2.0 * damping)


def damping_for_ratio(*, ratio: float, rate: float, mass: float) -> float:
    """Damping coefficient in N s/m that gives a damping ratio: 2 ratio sqrt(k m)."""
    positive(rate=rate, mass=mass)
    not_negative(ratio=ratio)
    return 2.0 * ratio * sqrt(rate * mass)


def overshoot(ratio: float) -> float:
    """How far a released mass swings past its rest, as a share of where it started.

    exp(-pi zeta / sqrt(1 - zeta^2)); none from a damping ratio of 1 on.
    """
    not_negative(ratio=ratio)
    return exp(-pi * ratio / sqrt(1.0 - ratio**2)) if ratio < 1.0 else 0.0


_CRITICAL = 1e-9
"""A damping ratio this near to 1 is taken as 1, where both other solutions divide by nothing."""


def free_decay(*, ratio: float, frequency: float, time: float) -> float:
    """What is left of a displacement after a time in s, as a share of it: a mass let go from rest
    on a spring and a damper, of an undamped frequency in Hz and a damping ratio.

    m z'' + c z' + k z = 0 with z(0) = 1, z'(0) = 0, solved below, at and above critical damping;
    the tests integrate it.
    """
    positive(frequency=frequency)
    not_negative(ratio=ratio, time=time)
    omega = 2.0 * pi * frequency
    if abs(ratio - 1.0) < _CRITICAL:
        return exp(-omega * time) * (1.0 + omega * time)
    if ratio < 1.0:
        swing = omega * sqrt(1.0 - ratio**2)
        decay = ratio * omega
        return exp(-decay * time) * (cos(swing * time) + decay / swing * sin(swing * time))
    root = sqrt(ratio**2 - 1.0)
    slow, fast = omega * (ratio - root), omega * (ratio + root)
    return (fast * exp(-slow * time) - slow * exp(-fast * time)) / (fast - slow)
