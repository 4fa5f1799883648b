"""Properties of rising bubbles."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics import bubbles
from tests.physics.examples import DENSITY

DIAMETERS = st.floats(1e-5, 3e-3)
VISCOSITIES = st.floats(1e-5, 0.1)
HEIGHTS = st.floats(1e-3, 0.2)


@given(HEIGHTS, DIAMETERS, VISCOSITIES)
def test_a_clean_bubble_takes_two_thirds_of_the_time(
    height: float, diameter: float, viscosity: float
) -> None:
    longest, shortest = bubbles.rise_times(height, diameter, viscosity, DENSITY)
    assert shortest == pytest.approx(longest / 1.5)
    assert height / bubbles.slow_speed(diameter, viscosity, DENSITY) == pytest.approx(longest)
    assert height / bubbles.fast_speed(diameter, viscosity, DENSITY) == pytest.approx(shortest)


@given(DIAMETERS, VISCOSITIES)
def test_half_the_size_takes_four_times_as_long(diameter: float, viscosity: float) -> None:
    whole, half = (bubbles.slow_speed(d, viscosity, DENSITY) for d in (diameter, diameter / 2))
    assert whole == pytest.approx(4 * half)


@given(HEIGHTS, st.floats(1, 1e6), VISCOSITIES)
def test_the_largest_bubble_left_just_needs_the_time(
    height: float, time: float, viscosity: float
) -> None:
    diameter = bubbles.cleared_diameter(height, time, viscosity, DENSITY)
    assert bubbles.rise_times(height, diameter, viscosity, DENSITY)[0] == pytest.approx(time)


@given(st.floats(1e3, 2e5), st.floats(1e2, 2e5))
def test_the_gas_in_a_bubble_obeys_boyle(pressure: float, vacuum: float) -> None:
    grown = bubbles.diameter_factor(pressure, vacuum)
    assert grown**3 * vacuum == pytest.approx(pressure)
    assert bubbles.speed_factor(pressure, vacuum) == pytest.approx(grown**2)


def test_the_laws_hold_for_usual_bubbles_in_damper_oil() -> None:
    speed = bubbles.fast_speed(1e-3, 100e-6, DENSITY)
    assert bubbles.reynolds(speed, 1e-3, 100e-6) < bubbles.CREEPING
    large = bubbles.fast_speed(5e-3, 100e-6, DENSITY)
    assert bubbles.reynolds(large, 5e-3, 100e-6) > bubbles.CREEPING


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_what_cannot_be_gives_no_number(bad: float) -> None:
    for call in (
        lambda: bubbles.slow_speed(bad, 350e-6, DENSITY),
        lambda: bubbles.fast_speed(1e-3, bad, DENSITY),
        lambda: bubbles.rise_times(bad, 1e-3, 350e-6, DENSITY),
        lambda: bubbles.cleared_diameter(0.03, bad, 350e-6, DENSITY),
        lambda: bubbles.diameter_factor(101325.0, bad),
        lambda: bubbles.reynolds(0.1, 1e-3, bad),
    ):
        with pytest.raises(ValueError, match="must be above 0"):
            call()


def test_a_gas_as_heavy_as_the_oil_does_not_rise() -> None:
    with pytest.raises(ValueError, match="lighter"):
        bubbles.slow_speed(1e-3, 350e-6, DENSITY, gas_density=DENSITY)
