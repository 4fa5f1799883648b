"""The rule by which two readings are alike, against probabilities that scipy works out."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize, stats

from calc.physics.alike import K, difference_doubt, judged

SIZES = st.floats(1e-6, 1e3)
SHARES = st.floats(0.01, 3)


@settings(max_examples=25, deadline=None)
@given(limit=SIZES, share=SHARES)
def test_a_wrong_proof_is_as_rare_as_the_standards_say(limit: float, share: float) -> None:
    """Two parts that differ by just the limit are called alike, or not alike, in 2.3 of 100 cases
    at most: JCGM 106:2012, 8.3.2, a guard band of twice the standard uncertainty (from memory)."""
    u = share * limit
    seen = stats.norm(loc=limit, scale=u)

    def edge(said: str, far: float) -> float:
        """How far apart the readings are where the verdict changes, by bisection."""
        changes = optimize.bisect(
            lambda d: (judged(d, u, limit) == said) - 0.5, 0.0, far, xtol=1e-13 * limit
        )
        return float(changes)

    if judged(0.0, u, limit) == "alike":
        most = edge("alike", limit)
        assert seen.cdf(most) - seen.cdf(-most) <= stats.norm.sf(K) * (1 + 1e-6)
    beyond = edge("apart", 2 * limit + 4 * u)
    # From the far side the tail adds a little where the gauge is coarse.
    assert seen.sf(beyond) + seen.cdf(-beyond) <= 2 * stats.norm.sf(K) * (1 + 1e-6)
    assert seen.sf(beyond) == pytest.approx(stats.norm.sf(K), rel=1e-6)


@given(difference=st.floats(-1e3, 1e3), u=st.floats(0, 1e3), limit=SIZES)
def test_the_three_zones(difference: float, u: float, limit: float) -> None:
    """ISO 14253-1:2013 (from memory): proved, its contrary proved, and between them neither. The
    sides have no meaning, and a finer gauge never turns one proof into the other."""
    said = judged(difference, u, limit)
    assert said == judged(-difference, u, limit)
    finer = judged(difference, u / 2, limit)
    assert finer == said or said == "open"
    assert judged(difference, 0.0, limit) == ("alike" if abs(difference) <= limit else "apart")


@pytest.mark.parametrize(
    ("difference", "u", "limit", "said"),
    [
        # Limit 0.125 mm (a quarter turn of M3, pitch 0.5 mm by ISO 261), two calliper readings of
        # 0.05 mm: u = 0.05 mm / sqrt(12) * sqrt(2) = 0.0204 mm, so proofs end at 0.0842 and
        # 0.1658 mm.
        (0.0840e-3, 0.05e-3 / 12**0.5 * 2**0.5, 0.125e-3, "alike"),
        (0.0844e-3, 0.05e-3 / 12**0.5 * 2**0.5, 0.125e-3, "open"),
        (0.1657e-3, 0.05e-3 / 12**0.5 * 2**0.5, 0.125e-3, "open"),
        (0.1660e-3, 0.05e-3 / 12**0.5 * 2**0.5, 0.125e-3, "apart"),
        # A ruler of 0.5 mm proves nothing about that, even where both readings are the same.
        (0.0, 0.5e-3 / 12**0.5 * 2**0.5, 0.125e-3, "open"),
    ],
)
def test_where_the_zones_end(difference: float, u: float, limit: float, said: str) -> None:
    assert judged(difference, u, limit) == said


@given(SIZES, SIZES)
def test_the_doubt_of_a_difference(one: float, other: float) -> None:
    """JCGM 100:2008, 5.1.2: the root of the sum of squares."""
    assert difference_doubt(one, other) == pytest.approx((one**2 + other**2) ** 0.5)


def test_what_cannot_be_is_refused() -> None:
    for wrong in ((float("nan"), 0.1, 1.0), (0.1, -1.0, 1.0), (0.1, 0.1, 0.0)):
        with pytest.raises(ValueError, match="must"):
            judged(*wrong)
    with pytest.raises(ValueError, match="must"):
        difference_doubt(-1.0, 0.0)
