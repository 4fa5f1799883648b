"""Helical compression springs: rate, preload, two in series, solid length. SI floats."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import Literal

from calc.physics.failure import Cause, PhysicsError
from calc.physics.linear import polynomial_fit
from calc.physics.require import finite, not_negative, positive

Ends = Literal["closed", "ground"]

# Shear modulus of spring wire at room temperature, Pa: EN 10270-1 (patented cold drawn steel) and
# EN 10270-3 (stainless). A measured rate is better than any of them.
SHEAR_MODULUS = {"steel": 81.5e9, "stainless_1_4310": 73e9}
# Music wire is printed anywhere between these, by handbook and by wire diameter.
STAINLESS_MODULUS = (68.5e9, 73e9)
"""Stainless wire 1.4310 (type 302): from the least that handbooks print to EN 10270-3."""
MUSIC_WIRE_MODULUS = (78.5e9, 82.7e9)


@dataclass(frozen=True, slots=True)
class Spring:
    """A spring: rate in N/m, and travel in m from free length to coil bind (inf: no limit)."""

    rate: float
    travel: float = inf

    def __post_init__(self) -> None:
        positive(rate=self.rate)
        if not self.travel > 0.0:
            raise ValueError("a spring needs some travel before its coils touch")


@dataclass(frozen=True, slots=True)
class RateFit:
    """A rate from readings (N/m, m, N); the errors and the scatter are None for two readings.

    The line goes through the mean of the lengths at `middle_force`, whose standard error is
    independent of that of the rate; both move the free length.
    """

    rate: float
    rate_error: float | None
    middle_length: float
    middle_force: float
    middle_error: float | None
    scatter: float | None

    @property
    def free_length(self) -> float:
        return self.free_at()

    def free_at(self, *, steeper: float = 0.0, higher: float = 0.0) -> float:
        """Where the line reaches no force, if it were so much steeper (N/m) and higher (N)."""
        return self.middle_length + (self.middle_force + higher) / (self.rate + steeper)


def spring_force(*, rate: float, compression: float) -> float:
    """Force of a spring in N: rate in N/m, compression in m from its free length.

    A loose spring (compression below 0) gives no force. Hooke's law.
    """
    positive(rate=rate)
    finite(compression=compression)
    return rate * max(0.0, compression)


def preload_from_turns(*, pitch: float, turns: float) -> float:
    """Preload in m after turns of the collar past the first touch at full droop; pitch in m."""
    positive(pitch=pitch)
    finite(turns=turns)
    return pitch * turns


def spring_rate(
    *, wire: float, mean_diameter: float, active_coils: float, shear_modulus: float
) -> float:
    """Rate of a helical compression spring of round wire, in N/m.

    wire, mean_diameter in m; shear_modulus in Pa. Holds for mean_diameter/wire from 4 to 20.
    R = G d^4 / (8 D^3 n): EN 13906-1:2013, the rate equation.
    Raises ValueError where a coil cannot exist (mean_diameter <= wire).
    """
    positive(
        wire=wire,
        mean_diameter=mean_diameter,
        active_coils=active_coils,
        shear_modulus=shear_modulus,
    )
    if mean_diameter <= wire:
        raise ValueError("the mean coil diameter must be larger than the wire")
    return shear_modulus * wire**4 / (8.0 * mean_diameter**3 * active_coils)


def clipped_rate(*, rate: float, active_coils: float, clipped: float) -> float:
    """Rate in N/m after clipping coils off: the rate goes with one over the active coils.

    clipped counts active coils lost; the new end, bent flat against its seat, loses about
    three quarters of a coil more, which the user adds. EN 13906-1:2013, the rate equation.
    """
    positive(rate=rate, active_coils=active_coils)
    not_negative(clipped=clipped)
    if clipped >= active_coils:
        raise ValueError("no active coil would be left")
    return rate * active_coils / (active_coils - clipped)


def solid_length(*, wire: float, total_coils: float, ends: Ends) -> float:
    """Length in m with every coil touching: total_coils d, and one d more if ends are not ground.

    total_coils counts the end coils too (two more than the active coils when both ends are
    closed). Shigley's Mechanical Engineering Design, table 10-1.
    """
    positive(wire=wire, total_coils=total_coils)
    return (total_coils + (1.0 if ends == "closed" else 0.0)) * wire


def solid_length_limit(*, wire: float, total_coils: float, ends: Ends) -> float:
    """Longest solid length in m that the standard allows: plan coil bind with this one.

    (n_t + 1.5) d with closed ends, n_t d with ground ends: EN 13906-1, cold coiled springs.
    """
    positive(wire=wire, total_coils=total_coils)
    return (total_coils + (1.5 if ends == "closed" else 0.0)) * wire


def series_rate(first: float, second: float) -> float:
    """Rate in N/m of two springs one behind the other, neither bound: 1/k = 1/k1 + 1/k2."""
    positive(first=first, second=second)
    return first * second / (first + second)


def rate_from_readings(lengths: Sequence[float], forces: Sequence[float]) -> RateFit:
    """Rate of a spring from its lengths in m under forces in N: a straight line through them.

    Ordinary least squares of force on length; a scale that does not start at zero shifts the free
    length and not the rate. Raises PhysicsError for fewer than two different lengths, or where the
    force does not rise as the spring gets shorter.
    """
    for length, force in zip(lengths, forces, strict=True):
        positive(length=length)
        finite(force=force)
    middle = sum(lengths) / max(1, len(lengths))
    fit = polynomial_fit([length - middle for length in lengths], forces, 1)
    at_middle, slope = fit.coefficients
    if slope >= 0.0:
        raise PhysicsError(Cause.FORCE_NOT_RISING)
    middle_error, rate_error = fit.errors or (None, None)
    return RateFit(
        rate=-slope,
        rate_error=rate_error,
        middle_length=middle,
        middle_force=at_middle,
        middle_error=middle_error,
        scatter=fit.scatter,
    )
