"""How a car rides: frequency, damping ratio, sag, what full bump does to a spring. SI floats."""

from math import exp, pi, sqrt

from calc.physics.require import finite, not_negative, positive

GRAVITY = 9.80665  # m/s2, standard: a kilogram on a scale is this many newtons


def natural_frequency(*, rate: float, mass: float) -> float:
    """Undamped frequency in Hz of a mass in kg on a rate in N/m: sqrt(k/m) / (2 pi).

    For a ride frequency: the wheel rate, and the sprung mass on that wheel.
    """
    positive(rate=rate, mass=mass)
    return sqrt(rate / mass) / (2.0 * pi)


def rate_for_frequency(*, frequency: float, mass: float) -> float:
    """Rate in N/m on which a mass in kg has a frequency in Hz: m (2 pi f)^2."""
    positive(frequency=frequency, mass=mass)
    return mass * (2.0 * pi * frequency) ** 2


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


def sag(*, rate: float, preload: float, force: float) -> float:
    """Shaft travel in m from full droop to rest under a force in N at the spring; 0 on the stop.

    rate in N/m; preload, the compression at full droop, in m (below 0: loose).
    """
    positive(rate=rate)
    not_negative(force=force)
    finite(preload=preload)
    return max(0.0, force / rate - preload)


def full_bump_force(*, rate: float, preload: float, stroke: float) -> float:
    """Force of the spring in N with the shaft pushed in by its whole stroke in m."""
    positive(rate=rate, stroke=stroke)
    finite(preload=preload)
    return rate * max(0.0, preload + stroke)


def bind_margin(*, free_length: float, solid_length: float, preload: float, stroke: float) -> float:
    """Room in m left between the coils at full bump; below 0: they bind before the stroke ends.

    A loose spring (preload below 0) has so much more room.
    """
    positive(free_length=free_length, solid_length=solid_length, stroke=stroke)
    finite(preload=preload)
    if solid_length >= free_length:
        raise ValueError("the spring must be longer free than with its coils touching")
    return free_length - preload - stroke - solid_length
