"""Ride figures against textbooks, and against scipy's solution of the moving mass."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from calc.model.standing import carrying
from calc.physics import ride
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("ride", "natural_frequency"), ids=str)
def test_frequency_is_as_printed(case: Case) -> None:
    assert ride.natural_frequency(**case.given) == case.printed["frequency"]


@pytest.mark.parametrize("case", load("ride", "overshoot"), ids=str)
def test_overshoot_is_as_printed(case: Case) -> None:
    assert ride.overshoot(**case.given) == case.printed["overshoot"]


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


@given(ratio=st.floats(0.05, 3.0), frequency=st.floats(1.0, 8.0), share=st.floats(0.05, 2.0))
@settings(max_examples=50, deadline=None)
def test_a_released_mass_comes_back_as_scipy_integrates_it(
    ratio: float, frequency: float, share: float
) -> None:
    omega = 2 * np.pi * frequency
    time = share / frequency
    found = solve_ivp(
        lambda _, y: [y[1], -2 * ratio * omega * y[1] - omega**2 * y[0]],
        (0, time),
        [1.0, 0.0],
        rtol=1e-9,
        atol=1e-11,
    )
    assert ride.free_decay(ratio=ratio, frequency=frequency, time=time) == pytest.approx(
        float(found.y[0, -1]), abs=1e-6
    )


def test_critical_damping_is_the_limit_from_both_sides() -> None:
    sides = [ride.free_decay(ratio=r, frequency=3.0, time=0.1) for r in (1 - 1e-6, 1.0, 1 + 1e-6)]
    assert sides == pytest.approx([sides[1]] * 3, rel=1e-5)


@pytest.mark.parametrize("ratio", [0.05, 0.2, 0.5, 0.8])
def test_a_tyre_under_the_spring_makes_ride_slower_and_less_damped(ratio: float) -> None:
    """The body on spring and damper side by side, a tyre ten times as stiff below: the poles of the
    equations of motion by numpy, without the rule of springs in series, which is exact for light
    damping alone: at a ratio of 0.5 it is 5 % low, at 0.8 17 %."""
    wheel, mass, tyre = 285.0, 0.29, 2850.0
    seat = carrying(rate=wheel, load=mass * 9.80665, motion_ratio=1.0, tyre_rate=tyre)
    damping = seat.damping_for(ratio)
    # z: body, x: hub. m z'' = -f, f = kt x, f = k (z - x) + c (z' - x').
    matrix = np.array(
        [
            [0.0, 1.0, 0.0],
            [0.0, 0.0, -tyre / mass],
            [wheel / damping, 1.0, -(wheel + tyre) / damping],
        ]
    )
    pole = max(np.linalg.eigvals(matrix), key=lambda one: one.imag)
    assert -pole.real / abs(pole) == pytest.approx(ratio, rel=0.01 + 0.35 * ratio**2)
    if ratio <= 0.2:  # a stiff damper carries some of the spring's share to the tyre
        assert abs(pole) / (2 * np.pi) == pytest.approx(seat.frequency, rel=0.01)
    rigid = carrying(rate=wheel, load=mass * 9.80665, motion_ratio=1.0)
    assert rigid.frequency / seat.frequency == pytest.approx((1 + wheel / tyre) ** 0.5, rel=1e-9)


@pytest.mark.parametrize("ratio", [0.1, 0.25, 0.5])
@pytest.mark.parametrize("stiffer", [3.0, 8.0])
def test_a_stiff_damper_leaves_the_body_to_its_tyre(ratio: float, stiffer: float) -> None:
    """The poles by numpy: m z'' = -f, the same force f in a tyre and in a damper, exact where no
    spring stands beside the damper; and with one, of which the tyre is so many times as stiff and
    the ratio minds nothing."""
    wheel, mass, motion = 140.0, 0.29, 0.7
    tyre = stiffer * wheel
    seat = carrying(
        rate=wheel / motion**2, load=mass * 9.80665, motion_ratio=motion, tyre_rate=tyre
    )
    stiff = brentq(lambda c: seat.ratio_on_tyre(c) - ratio, 0.1, 1e4)
    damping = stiff * motion**2

    def poles(beside: float) -> complex:
        """m c s^3 + m (kt + k) s^2 + kt c s + kt k = 0."""
        roots = np.roots([mass * damping, mass * (tyre + beside), tyre * damping, tyre * beside])
        return complex(max(roots, key=lambda one: one.imag))

    for beside, near in ((0.0, 1e-9), (wheel, 0.2)):
        pole = poles(beside)
        found = ride.ratio_in_series(damping=damping, rate=tyre, mass=mass)
        assert -pole.real / abs(pole) == pytest.approx(found, rel=near)
    assert ratio < seat.damping_ratio(stiff)


@pytest.mark.parametrize("case", load("ride", "second order"), ids=str)
def test_a_damper_chosen_for_a_ratio_lets_it_swing_by_what_is_printed(case: Case) -> None:
    """Through the damping of a mass on a spring and back."""
    damping = ride.damping_for_ratio(ratio=case.given["ratio"], rate=450.0, mass=0.36)
    found = ride.damping_ratio(damping=damping, rate=450.0, mass=0.36)
    assert ride.overshoot(found) == case.printed["overshoot"]
    # It is furthest past its rest half a damped swing after it was let go.
    frequency = ride.natural_frequency(rate=450.0, mass=0.36)
    turn = 0.5 / (frequency * (1 - found**2) ** 0.5)
    assert (
        -ride.free_decay(ratio=found, frequency=frequency, time=turn) == case.printed["overshoot"]
    )
