"""Statistics of repeated readings: mean and its error, outliers, and whether two sets differ.

Pure numbers, in any one unit. Standard library only.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from calc.physics.failure import Cause, PhysicsError
from calc.physics.require import finite, positive

OUTLIER = 3.5
"""Modified z-score above which a reading counts as an outlier (Iglewicz and Hoaglin)."""


@dataclass(frozen=True)
class Mean:
    """A mean, its standard error and the number of readings behind it."""

    value: float
    error: float
    count: int


@dataclass(frozen=True)
class Welch:
    """Two means compared. p: chance of a difference this large, either way, were there none."""

    t: float
    degrees: float
    p: float


def _readings(readings: Sequence[float]) -> None:
    if len(readings) < 2:
        raise ValueError("One reading shows no scatter: take two or more")
    finite(**{f"reading {place}": value for place, value in enumerate(readings, 1)})


def mean(readings: Sequence[float]) -> Mean:
    """Mean and its standard error s/sqrt(n) (JCGM 100:2008, 4.2). ValueError below two readings."""
    _readings(readings)
    error = statistics.stdev(readings) / math.sqrt(len(readings))
    return Mean(statistics.fmean(readings), error, len(readings))


def modified_z_scores(readings: Sequence[float]) -> list[float]:
    """0.6745 (x - median)/MAD of each reading (Iglewicz and Hoaglin 1993; NIST 1.3.5.17).

    Where half the readings or more are equal, MAD is 0 and the mean distance from the median stands
    in: (x - median)/(1.2533 mean distance), which has the same scale for normal scatter.
    """
    _readings(readings)
    middle = statistics.median(readings)
    distances = [abs(value - middle) for value in readings]
    scale = statistics.median(distances) / 0.6745 or statistics.fmean(distances) * 1.2533
    return [(value - middle) / scale if scale else 0.0 for value in readings]


def outliers(readings: Sequence[float]) -> list[int]:
    """Places, from 0, of readings with a modified z-score above OUTLIER: to point out, not drop."""
    return [place for place, z in enumerate(modified_z_scores(readings)) if abs(z) > OUTLIER]


def welch(left: Sequence[float], right: Sequence[float]) -> Welch:
    """Welch's test of two means with unequal scatter (B. L. Welch, Biometrika 34, 1947, 28-35).

    Raises ValueError below two readings a side, PhysicsError where neither side scatters at all.
    """
    one, other = mean(left), mean(right)
    variance = one.error**2 + other.error**2
    if not variance > 0:
        raise PhysicsError(Cause.NO_SCATTER)
    t = (one.value - other.value) / math.sqrt(variance)
    # As shares of the variance, so that the fourth powers of tiny errors do not vanish.
    shares = (one.error**2 / variance, other.error**2 / variance)
    degrees = 1 / (shares[0] ** 2 / (one.count - 1) + shares[1] ** 2 / (other.count - 1))
    return Welch(t, degrees, two_sided(t, degrees))


def two_sided(t: float, degrees: float) -> float:
    """Chance that Student's t with these degrees of freedom is further from 0 than `t`."""
    positive(degrees=degrees)
    return incomplete_beta(degrees / 2, 0.5, degrees / (degrees + t * t))


def incomplete_beta(a: float, b: float, x: float) -> float:
    """Regularised incomplete beta function I_x(a, b), for a, b above 0 and x from 0 to 1.

    NIST Digital Library of Mathematical Functions, 8.17.22, by the modified Lentz method.
    """
    positive(a=a, b=b)
    if not 0 <= x <= 1:
        raise ValueError("x is from 0 to 1")
    if x in (0.0, 1.0):
        return x
    if x > (a + 1) / (a + b + 2):  # beyond it the fraction converges slowly: 8.17.4
        return 1 - incomplete_beta(b, a, 1 - x)
    log_front = a * math.log(x) + b * math.log1p(-x) - math.log(a)
    log_front += math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    return math.exp(log_front) / _fraction(a, b, x)


def _fraction(a: float, b: float, x: float) -> float:
    """The continued fraction 1 + d1/(1 + d2/(1 + ...)) of 8.17.22."""
    value = numerator = 1.0
    denominator = 0.0
    for step in range(1, 10_000):
        half = step // 2
        if step % 2:
            term = -(a + half) * (a + b + half) * x / ((a + 2 * half) * (a + 2 * half + 1))
        else:
            term = half * (b - half) * x / ((a + 2 * half - 1) * (a + 2 * half))
        denominator = 1 / ((1 + term * denominator) or 1e-300)
        numerator = (1 + term / numerator) or 1e-300
        value *= numerator * denominator
        if abs(numerator * denominator - 1) < 1e-15:
            return value
    raise ArithmeticError("The continued fraction did not settle")
