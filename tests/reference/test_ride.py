"""Ride figures against textbooks, and against scipy's solution of the moving mass."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from calc.physics import ride
from calc.physics.stack import single
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("ride", "natural_frequency"), ids=str)
def test_frequency_is_as_printed(case: Case) -> None:
    assert ride.natural_frequency(**case.given) == case.printed["frequency"]


@pytest.mark.parametrize("case", load("ride", "overshoot"), ids=str)
def test_overshoot_is_as_printed(case: Case) -> None:
    assert ride.overshoot(**case.given) == case.printed["overshoot"]


@pytest.mark.parametrize("case", load("ride", "full_bump"), ids=str)
def test_full_bump_is_as_printed(case: Case) -> None:
    given = case.given
    spring = single(rate=given["rate"], free=given["free_length"], solid=given["solid_length"])
    pressed = given["preload"] + given["stroke"]
    assert spring.force(pressed) == case.printed["force"]
    assert spring.travel - pressed == case.printed["margin"]


@pytest.mark.parametrize("case", load("ride", "sag"), ids=str)
def test_sag_is_as_printed(case: Case) -> None:
    spring = single(rate=case.given["rate"], free=1.0, solid=0.1)
    assert spring.compression(case.given["force"]) - case.given["preload"] == case.printed["sag"]


@pytest.mark.parametrize("ratio", [0.05, 0.3, 0.7])
def test_a_released_mass_swings_as_far_and_as_fast_as_scipy_finds(ratio: float) -> None:
    rate, mass = 900.0, 0.45
    damping = ride.damping_for_ratio(ratio=ratio, rate=rate, mass=mass)
    damped = ride.natural_frequency(rate=rate, mass=mass) * np.sqrt(1 - ratio**2)

    def motion(_: float, state: np.ndarray) -> list[float]:
        place, speed = state
        return [speed, -(damping * speed + rate * place) / mass]

    # Half a damped period after its release the mass turns round on the other side.
    end = solve_ivp(motion, (0.0, 0.5 / damped), [1.0, 0.0], rtol=1e-10, atol=1e-12).y[:, -1]
    assert end[0] == pytest.approx(-ride.overshoot(ratio), rel=1e-6)
    assert end[1] == pytest.approx(0.0, abs=1e-6)
