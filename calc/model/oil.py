"""Damper oil where the laws of it are known: the range of temperature, the blend by each law."""

import math
from collections.abc import Sequence

from calc.physics import oil


def clamp(temperature: float) -> float:
    """The temperature, or the end of the law's range that is nearest to it."""
    return min(max(temperature, oil.COLDEST), oil.HOTTEST)


def at_temperature(grade: float, temperature: float, law: float = 1.0) -> tuple[float, float]:
    """Kinematic viscosity, m2/s, and density, kg/m3, of a grade (m2/s at 25 C) at a temperature in
    K, or at the end of the law's range; `law` is the factor by which the oil follows it."""
    warm = clamp(temperature)
    return oil.viscosity_at(grade, warm) * law, oil.density(grade, warm)


LAW_UNCERTAINTY = 1 / math.sqrt(3)
"""Standard uncertainty of the `law` of a blend: anything within ±1 is as likely (JCGM 100:2008,
4.3.7)."""


def by_law(parts: Sequence[tuple[float, float]], law: float) -> float:
    """Kinematic viscosity, m2/s, of a blend of (amount, viscosity in m2/s); `law` goes from -1
    (double-log) over 0 (log) to 1 (chain)."""
    middle, (low, high) = oil.blend(parts), oil.band(parts)
    return middle * math.pow(high / middle if law > 0 else low / middle, abs(law))


def share_by_law(target: float, thin: float, thick: float, law: float) -> float:
    """Share (0 to 1) of the thick oil for a target; viscosities in m2/s, `law` as in `by_law`.
    Raises ValueError where the target does not lie between the two."""
    middle = oil.share_of_thick(target, thin, thick)
    edge = oil.share_of_thick(target, thin, thick, oil.BAND[-1] if law > 0 else oil.BAND[0])
    return middle + abs(law) * (edge - middle)
