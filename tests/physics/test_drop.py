"""Properties of the drop test."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics import drop
from calc.physics.failure import Cause, PhysicsError
from calc.physics.ride import GRAVITY

MASSES = st.floats(0.02, 2)
COEFFICIENTS = st.floats(1, 500)
FRICTIONS = st.floats(0, 0.15)
DISTANCE = 0.03


@given(MASSES, COEFFICIENTS, FRICTIONS)
def test_equal_runs_give_the_coefficient_without_error(
    mass: float, coefficient: float, friction: float
) -> None:
    time = DISTANCE * coefficient / (mass * GRAVITY - friction)
    found = drop.damping_coefficient(mass, DISTANCE, [time] * 3, friction)
    assert found.value == pytest.approx(coefficient)
    assert found.error == pytest.approx(0, abs=1e-9 * coefficient)
    assert found.count == 3


@given(COEFFICIENTS, FRICTIONS, st.floats(0.05, 0.5), st.floats(1.2, 5))
def test_two_masses_separate_friction_from_damping(
    coefficient: float, friction: float, mass: float, ratio: float
) -> None:
    masses = [mass, mass, ratio * mass, ratio * mass]
    times = [DISTANCE * coefficient / (m * GRAVITY - friction) for m in masses]
    found = drop.friction_and_damping(masses, DISTANCE, times)
    assert found.coefficient == pytest.approx(coefficient, rel=1e-9)
    assert found.friction == pytest.approx(friction, abs=1e-9)
    assert found.coefficient_error == pytest.approx(0, abs=1e-6 * coefficient)
    assert found.friction_error == pytest.approx(0, abs=1e-6)


@given(MASSES, COEFFICIENTS)
def test_the_run_up_is_what_a_drop_from_rest_lags_behind(mass: float, coefficient: float) -> None:
    """The exact drop from rest, x = v (t - tau (1 - exp(-t/tau))), after twenty time constants."""
    tau, speed = mass / coefficient, mass * GRAVITY / coefficient
    time = 20 * tau
    fallen = speed * (time - tau * (1 - math.exp(-time / tau)))
    assert speed * time - fallen == pytest.approx(drop.run_up(mass, coefficient), rel=1e-6)


def test_a_mass_that_friction_holds_does_not_drop() -> None:
    with pytest.raises(ValueError, match="nothing drops"):
        drop.damping_coefficient(0.01, DISTANCE, [1.0, 1.1], friction=0.2)


@pytest.mark.parametrize(
    ("masses", "times"),
    [
        ([0.05, 0.1], [3.0, 1.5]),
        ([0.1, 0.1, 0.1], [1.5, 1.51, 1.52]),
        ([0.05, 0.1, 0.1], [3.0, 1.5]),
    ],
)
def test_too_few_runs_or_masses_are_refused(masses: list[float], times: list[float]) -> None:
    with pytest.raises(ValueError, match="three timed runs"):
        drop.friction_and_damping(masses, DISTANCE, times)


def test_a_heavier_mass_that_is_slower_is_refused() -> None:
    with pytest.raises(PhysicsError, match=Cause.HEAVIER_NOT_FASTER.name):
        drop.friction_and_damping([0.05, 0.05, 0.1], DISTANCE, [1.4, 1.5, 1.6])


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_what_cannot_be_gives_no_number(bad: float) -> None:
    for call in (
        lambda: drop.damping_coefficient(bad, DISTANCE, [1.0, 1.1]),
        lambda: drop.damping_coefficient(0.1, bad, [1.0, 1.1]),
        lambda: drop.damping_coefficient(0.1, DISTANCE, [1.0, bad]),
        lambda: drop.friction_and_damping([0.1, bad, 0.2], DISTANCE, [1.0, 1.1, 0.5]),
        lambda: drop.run_up(0.1, bad),
    ):
        with pytest.raises(ValueError, match="must be above 0"):
            call()
