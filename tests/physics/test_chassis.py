"""What must hold of a body on four corners, whatever the car."""

from math import inf, isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics import chassis
from calc.physics.chassis import Wheel
from tests.physics.examples import EVEN

RISE = st.floats(-0.02, 0.02)
TURN = st.floats(-8.0, 8.0)
FOUR_TURNS = st.tuples(TURN, TURN, TURN, TURN)
LOAD = st.floats(0.5, 60.0)


@st.composite
def cars(draw: st.DrawFn, alike: bool = False) -> list[Wheel]:
    """Cars of every usual size; with alike, left and right are the same."""
    wheelbase = draw(st.floats(0.1, 0.7))
    corners = []
    for x in (wheelbase, 0.0):
        half = draw(st.floats(0.05, 0.25))
        for side in (half, -half):
            if side > 0 or not alike:
                rate = draw(st.floats(100.0, 2e4))
                lift = draw(st.floats(0.4e-3, 4e-3))
                tyre = draw(st.just(inf) | st.floats(1e3, 1e5))
            corners.append(Wheel(x, side, rate, lift, tyre))
    return corners


@given(car=cars(), turns=FOUR_TURNS)
@settings(max_examples=150)
def test_loads_only_move_about_and_their_moments_balance(
    car: list[Wheel], turns: tuple[float, ...]
) -> None:
    loads = chassis.turn_collars(car, turns).loads
    size = sum(abs(load) for load in loads) + 1e-6
    assert abs(sum(loads)) < 1e-8 * size
    assert abs(sum(f * c.x for f, c in zip(loads, car, strict=True))) < 1e-8 * size
    assert abs(sum(f * c.y for f, c in zip(loads, car, strict=True))) < 1e-8 * size


@given(car=cars(), rises=st.tuples(RISE, RISE, RISE))
@settings(max_examples=150)
def test_seats_moved_like_a_plane_move_the_body_with_them_and_no_load(
    car: list[Wheel], rises: tuple[float, float, float]
) -> None:
    heave, pitch, roll = rises
    turns = [(heave + pitch * c.x + roll * c.y) / c.turn_lift for c in car]
    change = chassis.turn_collars(car, turns)
    assert all(abs(load) < 1e-6 for load in change.loads)
    assert all(
        isclose(change.rise((c.x, c.y)), n * c.turn_lift, abs_tol=1e-9)
        for c, n in zip(car, turns, strict=True)
    )


@given(car=cars(alike=True), front=TURN, rear=TURN)
@settings(max_examples=150)
def test_axles_turned_alike_follow_the_quick_model(
    car: list[Wheel], front: float, rear: float
) -> None:
    change = chassis.turn_collars(car, (front, front, rear, rear))
    for points in ((car[0].x, 0.0), (-0.05, 0.5 * car[0].x), (car[0].x + 0.08, 0.05)):
        turns = chassis.axle_turns(
            wheelbase=car[0].x,
            lifts=(car[0].turn_lift, car[2].turn_lift),
            points=points,
            rises=(change.rise((points[0], 0.0)), change.rise((points[1], 0.0))),
        )
        assert turns == pytest.approx((front, rear), abs=1e-6)


@given(
    wheelbase=st.floats(0.1, 0.7),
    lifts=st.tuples(st.floats(0.4e-3, 4e-3), st.floats(0.4e-3, 4e-3)),
    rises=st.tuples(RISE, RISE),
    first=st.floats(-0.2, 0.3),
    apart=st.floats(0.05, 0.6),
)
def test_turns_for_two_heights_give_those_heights(
    wheelbase: float,
    lifts: tuple[float, float],
    rises: tuple[float, float],
    first: float,
    apart: float,
) -> None:
    points = (first, first + apart)
    turns = chassis.axle_turns(wheelbase=wheelbase, lifts=lifts, points=points, rises=rises)
    front, rear = (n * lift for n, lift in zip(turns, lifts, strict=True))
    back = [rear + (front - rear) * x / wheelbase for x in points]
    assert all(isclose(a, b, abs_tol=1e-9) for a, b in zip(back, rises, strict=True))


@given(car=cars(), loads=st.tuples(LOAD, LOAD, LOAD, LOAD), target=st.floats(0.45, 0.55))
@settings(max_examples=150)
def test_turns_for_a_cross_weight_reach_it(
    car: list[Wheel], loads: tuple[float, ...], target: float
) -> None:
    still = chassis.turn_collars(car, chassis.still_turns(car, loads, target))
    cross = loads[0] + loads[3] + still.loads[0] + still.loads[3]
    assert isclose(cross / sum(loads), target, abs_tol=1e-8)
    assert max(abs(still.rise((c.x, c.y))) for c in car) < 1e-8


def test_cars_that_cannot_stand_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="four corners"):
        chassis.turn_collars(EVEN[:3], (1, 0, 0))
    with pytest.raises(ValueError, match="ahead of the rear"):
        chassis.turn_collars(EVEN[2:] + EVEN[:2], (1, 0, 0, 0))
    with pytest.raises(ValueError, match="left of the right"):
        chassis.turn_collars([EVEN[1], EVEN[0], *EVEN[2:]], (1, 0, 0, 0))
    with pytest.raises(ValueError, match="same place"):
        chassis.axle_turns(wheelbase=0.3, lifts=(1e-3, 1e-3), points=(0.1, 0.1), rises=(0, 0))
    with pytest.raises(ValueError, match="between 0 and 1"):
        chassis.still_turns(EVEN, (5, 5, 5, 5), 50.0)
    with pytest.raises(ValueError, match="total must be above 0"):
        chassis.shares((0, 0, 0, 0))
    with pytest.raises(ValueError, match="load must not be below 0"):
        chassis.shares((5, 5, -1, 5))


def test_scales_show_the_sum_and_nothing_where_a_wheel_would_pull() -> None:
    """Definition: what they showed and what is more; no wheel pulls its scale up."""
    change = chassis.Change(0.0, 0.0, 0.0, (1.5, -1.5, -2.5, 2.5))
    assert change.on_scales((5.0, 1.0, 2.5, 4.0)) == [6.5, 0.0, 0.0, 6.5]
