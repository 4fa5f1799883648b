"""Which blending law an oil follows, as an input that nobody types."""

import math
from collections.abc import Sequence

from calc.language import later
from calc.physics import oil

LAW = later("which blending law the oil follows")
LAW_UNCERTAINTY = 1 / math.sqrt(3)  # of anything within ±1, each as likely


def by_law(parts: Sequence[tuple[float, float]], law: float) -> float:
    """Viscosity of a blend; `law` goes from -1 (double-log) over 0 (log) to 1 (cube-root)."""
    middle, (low, high) = oil.blend(parts), oil.band(parts)
    return middle * math.pow(high / middle if law > 0 else low / middle, abs(law))
