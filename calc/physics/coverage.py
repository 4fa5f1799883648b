"""Coverage factor of an uncertainty that comes from few readings."""

from calc.physics.root import rising_root
from calc.physics.sample import two_sided

COVERAGE_PROBABILITY = 0.9545
"""Share of values within two standard deviations of a normal distribution: coverage factor 2."""
_WIDEST = 20.0


def coverage_factor(degrees: float) -> float:
    """Factor on a standard error that holds as much as 2 does for many readings.

    Student's t for degrees of freedom of 1 and more: 13.97 for 1, 2.28 for 10 (JCGM 100:2008,
    table G.2).
    """
    if degrees < 1:
        raise ValueError("a scatter needs at least one reading to spare")
    return rising_root(
        lambda t: 1 - two_sided(t, degrees) - COVERAGE_PROBABILITY, 0.0, _WIDEST, 1e-9
    )
