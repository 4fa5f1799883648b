"""Whether two measured values are alike, with the doubt of the gauge.

The rule is that of ISO 14253-1:2013 for one limit (from memory): conformity is proved below the
limit less the expanded uncertainty, its contrary above the limit plus it, and between them nothing
is proved. At k = 2 a wrong proof is then met in 2.3 of 100 cases at most (JCGM 106:2012, 8.3.2);
the edition of 2017 is content with 5 (from memory).
"""

import math
from typing import Literal

from calc.physics.require import finite, not_negative, positive

Judged = Literal["alike", "apart", "open"]
K = 2.0
"""Coverage factor of the guard band."""


def difference_doubt(one: float, other: float) -> float:
    """Standard uncertainty of the difference of two independent readings, from theirs (JCGM
    100:2008, 5.1.2)."""
    not_negative(one=one, other=other)
    return math.hypot(one, other)


def judged(difference: float, u: float, limit: float) -> Judged:
    """Whether values that lie `difference` apart are alike within `limit`; `u` is the standard
    uncertainty of the difference. All in one unit. Raises ValueError where one cannot be."""
    finite(difference=difference)
    not_negative(u=u)
    positive(limit=limit)
    if abs(difference) + K * u <= limit:
        return "alike"
    return "apart" if abs(difference) - K * u > limit else "open"
