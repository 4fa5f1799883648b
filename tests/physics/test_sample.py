"""Properties of the statistics of repeated readings."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.physics import sample
from calc.physics.failure import Cause, PhysicsError

TIMES = st.floats(0.05, 100)
RUNS = st.lists(TIMES, min_size=2, max_size=12)


@given(RUNS, RUNS)
def test_left_and_right_change_places(left: list[float], right: list[float]) -> None:
    assume(max(left) > min(left) * 1.0001)
    one, other = sample.welch(left, right), sample.welch(right, left)
    assert one.t == pytest.approx(-other.t)
    assert (one.degrees, one.p) == pytest.approx((other.degrees, other.p))
    assert 0 <= one.p <= 1
    fewest = min(len(left), len(right)) - 1
    assert fewest * (1 - 1e-9) <= one.degrees <= (len(left) + len(right) - 2) * (1 + 1e-9)


@given(RUNS)
def test_a_set_does_not_differ_from_itself(runs: list[float]) -> None:
    assume(max(runs) > min(runs) * 1.0001)
    assert sample.welch(runs, runs).p == pytest.approx(1)


def test_sets_far_apart_differ() -> None:
    assert sample.welch([1.50, 1.51, 1.52], [2.50, 2.51, 2.52]).p < 1e-6


def test_runs_without_scatter_cannot_be_compared() -> None:
    with pytest.raises(PhysicsError, match=Cause.NO_SCATTER.name):
        sample.welch([1.5, 1.5], [1.6, 1.6])


@given(st.floats(1, 100), st.integers(2, 12))
def test_equal_readings_are_never_odd(value: float, count: int) -> None:
    assert sample.outliers([value] * count) == []


def test_one_slip_among_equal_readings_is_odd() -> None:
    """More than half are equal, so that the usual spread, MAD, is nought."""
    assert sample.outliers([1.2, 1.2, 1.2, 1.2, 1.9]) == [4]
    assert sample.outliers([1.2, 1.2, 1.3]) == []


@given(st.lists(st.integers(1, 9999), min_size=2, max_size=12), st.integers(-5000, 5000))
def test_scores_know_no_unit_and_no_zero(hundredths: list[int], shift: int) -> None:
    """Times in hundredths of a second, whole numbers: the same to the last digit in any unit."""
    scores = sample.modified_z_scores(hundredths)
    moved = [4 * (value + shift) for value in hundredths]
    assert sample.modified_z_scores(moved) == pytest.approx(scores, rel=1e-12)


@given(st.floats(0.5, 50), st.floats(0.5, 50), st.floats(0, 1))
def test_incomplete_beta_is_a_chance_and_mirrors(a: float, b: float, x: float) -> None:
    value = sample.incomplete_beta(a, b, x)
    assert -1e-12 <= value <= 1 + 1e-12
    assert value + sample.incomplete_beta(b, a, 1 - x) == pytest.approx(1, abs=1e-9)


@pytest.mark.parametrize("x", [-0.1, 1.1, math.nan])
def test_incomplete_beta_ends_at_nought_and_one(x: float) -> None:
    with pytest.raises(ValueError, match="0 to 1"):
        sample.incomplete_beta(2.0, 3.0, x)
    with pytest.raises(ValueError, match="above 0"):
        sample.incomplete_beta(0.0, 3.0, 0.5)


@pytest.mark.parametrize("readings", [[], [1.5]])
def test_one_reading_has_no_scatter(readings: list[float]) -> None:
    for answer in (sample.mean, sample.modified_z_scores, sample.outliers):
        with pytest.raises(ValueError, match="two or more"):
            answer(readings)


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_a_reading_that_is_no_number_is_named(bad: float) -> None:
    with pytest.raises(ValueError, match="reading 2"):
        sample.mean([1.5, bad, 1.6])
