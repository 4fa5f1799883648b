"""What must hold of a body at rest, on its springs, on its stops, or with wheels in the air."""

from itertools import product
from math import inf, isclose

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics import chassis, settle
from calc.physics.chassis import Wheel
from calc.physics.settle import LoadLine
from tests.physics.examples import EVEN

PLACES = ((0.3, 0.1), (0.3, -0.1), (0.0, 0.12), (0.0, -0.12))
SHARE = st.floats(0.05, 1.0)


@st.composite
def legs(draw: st.DrawFn) -> list[LoadLine]:
    """Four legs of any usual spring, tight, loose, or level with their load."""
    made = []
    for x, y in PLACES:
        corner = Wheel(
            x,
            y,
            draw(st.floats(100.0, 2e4)),
            draw(st.floats(0.4e-3, 4e-3)),
            draw(st.just(inf) | st.floats(1e3, 1e5)),
        )
        made.append(LoadLine(corner, draw(st.floats(-10, 60)), draw(st.floats(0.01, 0.08))))
    return made


CARS = {
    "car": legs(),
    "weight": st.floats(2.0, 200.0),
    "hung": st.tuples(SHARE, SHARE, SHARE, SHARE),
}


def centre_of(car: list[LoadLine], hung: tuple[float, ...]) -> tuple[float, float]:
    return settle.balance_point([leg.wheel for leg in car], hung)


@given(**CARS)
@settings(max_examples=200)
def test_at_rest_the_loads_add_up_and_their_moments_balance(
    car: list[LoadLine], weight: float, hung: tuple[float, ...]
) -> None:
    centre = centre_of(car, hung)
    rest = settle.settle(car, weight=weight, centre=centre)
    assert isclose(sum(rest.loads), weight, rel_tol=1e-8)
    where = settle.balance_point([leg.wheel for leg in car], rest.loads)
    assert isclose(where[0], centre[0], abs_tol=1e-8)
    assert isclose(where[1], centre[1], abs_tol=1e-8)
    assert min(rest.loads) >= 0.0


@given(**CARS)
@settings(max_examples=200)
def test_every_load_is_what_its_spring_stop_and_tyre_give_at_that_height(
    car: list[LoadLine], weight: float, hung: tuple[float, ...]
) -> None:
    rest = settle.settle(car, weight=weight, centre=centre_of(car, hung))
    for leg, load, on_stop, lifted in zip(car, rest.loads, rest.on_stop, rest.lifted, strict=True):
        drop = leg.droop_height - rest.height((leg.wheel.x, leg.wheel.y))
        tyre = load / leg.wheel.tyre_rate
        travel = drop - tyre  # of the wheel against the body, from full droop
        if lifted:
            assert drop <= max(0.0, -leg.preload / leg.wheel.wheel_rate) + 1e-9
        elif on_stop:
            assert isclose(load, leg.preload + leg.stop_rate * travel, abs_tol=1e-6 * weight)
            assert travel <= 1e-9
        else:
            spring = leg.preload + leg.wheel.wheel_rate * travel
            assert isclose(load, spring, abs_tol=1e-6 * weight)


def _by_trial(car: list[LoadLine], weight: float, centre: tuple[float, float]) -> list[np.ndarray]:
    """Loads of every choice of hanging, stopped and sprung corners that fits its own answer."""
    arms = np.array([[1.0, leg.wheel.x, leg.wheel.y] for leg in car])
    found = []
    for states in product((0, 1, 2), repeat=4):
        rate, base = np.zeros(4), np.zeros(4)
        for i, (state, leg) in enumerate(zip(states, car, strict=True)):
            own = (0.0, leg.stop_rate, leg.wheel.wheel_rate)[state]
            soft = own / leg.wheel.tyre_rate
            rate[i] = own / (1 + soft)
            base[i] = (leg.preload if state else 0.0) / (1 + soft)
        heights = np.array([leg.droop_height for leg in car])
        matrix = arms.T @ (rate[:, None] * arms)
        right = arms.T @ (base + rate * heights) - weight * np.array([1.0, *centre])
        if np.linalg.matrix_rank(matrix, hermitian=True) < 3:
            continue
        loads = base + rate * (heights - arms @ np.linalg.solve(matrix, right))
        drops = heights - arms @ np.linalg.solve(matrix, right)
        near = 1e-7 * weight
        fits = [
            (drop <= leg.knots[0] + 1e-9, -near <= f <= leg.preload + near, f >= leg.preload - near)
            for f, drop, leg in zip(loads, drops, car, strict=True)
        ]
        if all(fit[state] for fit, state in zip(fits, states, strict=True)) and min(loads) >= -near:
            found.append(loads)
    return found


@given(**CARS)
@settings(max_examples=100)
def test_trying_every_state_of_every_corner_finds_the_same_loads(
    car: list[LoadLine], weight: float, hung: tuple[float, ...]
) -> None:
    centre = centre_of(car, hung)
    rest = settle.settle(car, weight=weight, centre=centre)
    trials = _by_trial(car, weight, centre)
    assert trials
    for loads in trials:
        assert list(rest.loads) == pytest.approx(loads.tolist(), abs=1e-5 * weight)


@given(**CARS)
@settings(max_examples=150)
def test_a_measured_car_comes_to_rest_as_it_was_measured(
    car: list[LoadLine], weight: float, hung: tuple[float, ...]
) -> None:
    loads = [weight * share / sum(hung) for share in hung]
    measured = [
        settle.measured_line(leg.wheel, load=load, preload=leg.preload, height=0.025)
        for leg, load in zip(car, loads, strict=True)
    ]
    rest = settle.settle(measured, weight=weight, centre=centre_of(car, hung))
    assert list(rest.loads) == pytest.approx(loads, rel=1e-6)
    for place in PLACES:
        assert isclose(rest.height(place), 0.025, abs_tol=1e-9)


@given(
    **CARS, turns=st.tuples(*[st.floats(-1, 1)] * 4), spare=st.tuples(*[st.floats(0.3, 0.9)] * 4)
)
@settings(max_examples=150)
def test_clear_of_stops_and_ground_the_quicker_equations_agree(
    car: list[LoadLine],
    weight: float,
    hung: tuple[float, ...],
    turns: tuple[float, ...],
    spare: tuple[float, ...],
) -> None:
    corners = [leg.wheel for leg in car]
    loads = [weight * share / sum(hung) for share in hung]
    change = chassis.turn_collars(corners, turns)
    added = [c.wheel_rate * c.turn_lift * n for c, n in zip(corners, turns, strict=True)]
    # Preload so far below the load, before and after, that no stop and no gap comes into play.
    before = [
        settle.measured_line(c, load=f, preload=share * min(f, f + d - a), height=0.03)
        for c, f, d, a, share in zip(corners, loads, change.loads, added, spare, strict=True)
        if min(f, f + d - a) > 0 and f + d > 0
    ]
    if len(before) < 4 or any(n < -leg.preload for n, leg in zip(added, before, strict=True)):
        return
    after = [settle.turned(leg, n) for leg, n in zip(before, turns, strict=True)]
    rest = settle.settle(after, weight=weight, centre=centre_of(car, hung))
    for place in PLACES:
        assert isclose(rest.height(place), 0.03 + change.rise(place), abs_tol=1e-8)
    wanted = [f + d for f, d in zip(loads, change.loads, strict=True)]
    assert list(rest.loads) == pytest.approx(wanted, rel=1e-6)


MIDDLE = (0.15, 0.0)


def test_a_car_on_its_droop_stops_does_not_rise_with_its_collars() -> None:
    car = [settle.measured_line(c, load=5.0, preload=9.0, height=0.03) for c in EVEN]
    up = [settle.turned(leg, 2.0) for leg in car]
    rest = settle.settle(up, weight=20.0, centre=MIDDLE)
    assert rest.on_stop == (True,) * 4 and rest.lifted == (False,) * 4
    # The stop itself gives a little: 4 N more on 200 N/mm.
    assert isclose(rest.height(MIDDLE), 0.03, abs_tol=3e-5)


def test_a_corner_wound_far_up_lifts_the_wheel_beside_it() -> None:
    # Much droop: the springs are loose for 20 mm of wheel travel before they reach their length.
    car = [settle.measured_line(c, load=5.0, preload=-40.0, height=0.03) for c in EVEN]
    car[0] = settle.turned(car[0], 15.0)
    rest = settle.settle(car, weight=20.0, centre=(0.16, 0.0))
    assert rest.lifted == (False, False, True, False)
    assert rest.on_stop == (False,) * 4


def test_even_loads_on_a_far_twisted_car_still_find_a_rest() -> None:
    car = [settle.measured_line(c, load=5.0, preload=1.0, height=0.03) for c in EVEN]
    twisted = [
        settle.turned(leg, n) for leg, n in zip(car, (30.0, -30.0, -30.0, 30.0), strict=True)
    ]
    rest = settle.settle(twisted, weight=20.0, centre=MIDDLE)
    assert rest.lifted == (False, True, True, False)
    assert isclose(sum(rest.loads), 20.0, rel_tol=1e-9)


@pytest.mark.parametrize("centre", [(0.31, 0.0), (-0.01, 0.0), (0.15, 0.1), (0.15, -0.11)])
def test_a_weight_outside_the_wheels_tips_the_car(centre: tuple[float, float]) -> None:
    car = [settle.measured_line(c, load=5.0, preload=1.0, height=0.03) for c in EVEN]
    with pytest.raises(ValueError, match="tips over"):
        settle.settle(car, weight=20.0, centre=centre)
