"""What must hold of frequency and damping over the whole range."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics import ride

RATE = st.floats(20.0, 5e4)
MASS = st.floats(0.02, 20.0)
RATIO = st.floats(0.0, 3.0)


@given(rate=RATE, mass=MASS, times=st.floats(0.1, 10.0))
def test_the_frequency_goes_with_the_root_of_the_rate(
    rate: float, mass: float, times: float
) -> None:
    before = ride.natural_frequency(rate=rate, mass=mass)
    assert isclose(
        ride.natural_frequency(rate=times**2 * rate, mass=mass), times * before, rel_tol=1e-9
    )


@given(rate=RATE, mass=MASS, ratio=RATIO)
def test_damping_and_its_ratio_are_inverse(rate: float, mass: float, ratio: float) -> None:
    damping = ride.damping_for_ratio(ratio=ratio, rate=rate, mass=mass)
    assert isclose(ride.damping_ratio(damping=damping, rate=rate, mass=mass), ratio, abs_tol=1e-12)


@given(low=RATIO, more=st.floats(0.0, 1.0))
def test_more_damping_never_swings_further(low: float, more: float) -> None:
    assert 1.0 >= ride.overshoot(low) >= ride.overshoot(low + more) >= 0.0


def test_no_damping_swings_all_the_way_and_critical_damping_not_at_all() -> None:
    assert ride.overshoot(0.0) == 1.0
    assert ride.overshoot(1.0) == 0.0


def test_what_cannot_exist_gives_no_number() -> None:
    with pytest.raises(ValueError, match="mass must be above 0"):
        ride.natural_frequency(rate=500.0, mass=0.0)
    with pytest.raises(ValueError, match="ratio must not be below 0"):
        ride.overshoot(-0.1)
