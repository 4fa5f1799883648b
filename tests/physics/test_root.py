"""The bracketed root finder, against scipy's."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize

from calc.physics.root import NoRoot, rising_root


@given(st.floats(-5, 5), st.floats(0.1, 20), st.integers(1, 4))
def test_it_finds_what_scipy_finds(at: float, steepness: float, bend: int) -> None:
    def f(x: float) -> float:
        return math.expm1(steepness * (x - at) / 10) + (x - at) ** (2 * bend + 1)

    assert rising_root(f, -9, 9) == pytest.approx(optimize.brentq(f, -9, 9), abs=1e-9)


@pytest.mark.parametrize(("low", "high"), [(2.0, 5.0), (-1.0, 2.0)])
def test_a_root_at_a_bound_is_found(low: float, high: float) -> None:
    assert rising_root(lambda x: x - 2, low, high) == 2


@pytest.mark.parametrize(("low", "high"), [(3.0, 5.0), (-1.0, 1.0)])
def test_bounds_without_a_root_are_refused(low: float, high: float) -> None:
    with pytest.raises(NoRoot):
        rising_root(lambda x: x - 2, low, high)


def test_a_flat_start_does_not_stall() -> None:
    """Where plain false position creeps along one bound."""
    calls = 0

    def f(x: float) -> float:
        nonlocal calls
        calls += 1
        return math.exp(x) - 1e-3

    assert rising_root(f, -30, 20) == pytest.approx(math.log(1e-3), abs=1e-9)
    assert calls < 100


def test_the_cubic_that_newton_solved() -> None:
    """x^3 - 2 x - 5 = 0: J. Wallis 1685 (A Treatise of Algebra, from memory), 2.09455148."""
    assert rising_root(lambda x: x**3 - 2 * x - 5, 0.0, 5.0) == pytest.approx(2.09455148, abs=5e-9)
