"""How a car rides: frequency, damping ratio, overshoot. SI floats."""

from math import exp, pi, sqrt

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
