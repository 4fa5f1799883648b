"""What must hold of frequency, damping, sag and full bump over the whole range."""

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics import ride
from calc.physics.spring import compression_for, spring_force

RATE = st.floats(20.0, 5e4)
MASS = st.floats(0.02, 20.0)
RATIO = st.floats(0.0, 3.0)


@given(rate=RATE, mass=MASS)
def test_frequency_and_rate_are_inverse(rate: float, mass: float) -> None:
    frequency = ride.natural_frequency(rate=rate, mass=mass)
    assert isclose(ride.rate_for_frequency(frequency=frequency, mass=mass), rate, rel_tol=1e-9)


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


@given(rate=RATE, preload=st.floats(-0.01, 0.03), force=st.floats(0.0, 100.0))
def test_sag_and_preload_make_the_compression_under_the_load(
    rate: float, preload: float, force: float
) -> None:
    sag = ride.sag(rate=rate, preload=preload, force=force)
    needed = compression_for(rate=rate, force=force)
    assert isclose(sag + preload, max(needed, preload), abs_tol=1e-12)


@given(rate=RATE, preload=st.floats(-0.05, 0.03), stroke=st.floats(0.005, 0.06))
def test_full_bump_is_the_spring_pushed_by_preload_and_stroke(
    rate: float, preload: float, stroke: float
) -> None:
    force = ride.full_bump_force(rate=rate, preload=preload, stroke=stroke)
    assert force == spring_force(rate=rate, compression=preload + stroke)


def test_a_turn_of_preload_takes_its_pitch_from_the_bind_margin() -> None:
    spring = {"free_length": 0.08, "solid_length": 0.03, "stroke": 0.028}
    margin = ride.bind_margin(**spring, preload=0.021)
    assert isclose(margin, 0.001, abs_tol=1e-12)
    assert isclose(ride.bind_margin(**spring, preload=0.0225), -0.0005, abs_tol=1e-12)


def test_what_cannot_exist_gives_no_number() -> None:
    with pytest.raises(ValueError, match="mass must be above 0"):
        ride.natural_frequency(rate=500.0, mass=0.0)
    with pytest.raises(ValueError, match="ratio must not be below 0"):
        ride.overshoot(-0.1)
    with pytest.raises(ValueError, match="longer free"):
        ride.bind_margin(free_length=0.03, solid_length=0.03, preload=0.0, stroke=0.01)
