"""Oil at the temperature of the day, there and back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics.warm import dynamic_at, same_feel

GRADES = st.floats(50e-6, 5000e-6)
TEMPERATURES = st.floats(263.15, 333.15)


@given(GRADES, TEMPERATURES, TEMPERATURES)
def test_the_same_feel_is_the_same_dynamic_viscosity(
    grade: float, before: float, now: float
) -> None:
    other = same_feel(grade, before, now)
    assert dynamic_at(other, now) == pytest.approx(dynamic_at(grade, before), rel=1e-6)


@given(GRADES, TEMPERATURES)
def test_on_a_day_alike_the_oil_stays(grade: float, temperature: float) -> None:
    assert same_feel(grade, temperature, temperature) == pytest.approx(grade, rel=1e-6)


def test_a_warmer_day_asks_for_thicker_oil() -> None:
    assert same_feel(350e-6, 288.15, 308.15) > 1.3 * 350e-6
