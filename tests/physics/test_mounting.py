"""What must hold of a damper in its holes, whatever the drawing."""

from math import isclose

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from calc.physics import linkage
from calc.physics.failure import Cause, PhysicsError
from calc.physics.linkage import Linkage
from calc.physics.mounting import (
    Hole,
    drawn_hole,
    measured_hole,
    rate_at_wheel,
    rest,
    scaled,
    spring_force,
)
from calc.physics.stack import Stack, single

MM = 1e-3


@st.composite
def holes(draw: st.DrawFn) -> Hole:
    """Arms and dampers as they are drawn on cars, at ride height."""
    reach = draw(st.floats(40, 120)) * MM
    share = draw(st.floats(0.5, 0.9))
    lower = (share * reach, draw(st.floats(0, 6)) * MM)
    upper = (lower[0] * draw(st.floats(0.3, 0.9)), draw(st.floats(50, 110)) * MM)
    drawn = Linkage((0.0, 0.0), lower, upper, (reach, draw(st.floats(-8, 4)) * MM))
    length = linkage.position(drawn, 0.0).damper_length
    stroke = draw(st.floats(0.1, 0.25)) * length
    try:
        return drawn_hole(drawn, longest=length + 0.3 * stroke, stroke=stroke)
    except ValueError:
        assume(False)
        raise


STACKS = st.builds(
    lambda rate, free: single(rate=rate, free=free, solid=0.3 * free),
    st.floats(200, 3000),
    st.floats(0.03, 0.08),
)


@given(hole=holes(), stack=STACKS, share=st.floats(0.1, 0.6))
@settings(max_examples=100, deadline=None)
def test_the_car_rests_where_the_energy_is_least(hole: Hole, stack: Stack, share: float) -> None:
    """The weight falls, the spring is pressed: scipy looks for the least sum of both."""
    seat = hole.at(hole.low).length - stack.free * 0.97  # pressed a little at full droop
    load = share * spring_force(hole.at(hole.high), stack, seat=seat) * hole.at(hole.high).ratio

    def energy(rise: float) -> float:
        press = max(0.0, stack.free - (hole.at(rise).length - seat))
        return 0.5 * stack.springs[0].rate * press**2 - load * rise

    assume(stack.free - (hole.at(hole.high).length - seat) < stack.travel)
    found = rest(hole, stack, seat=seat, load=load)
    theirs = minimize_scalar(
        energy, bounds=(hole.low, hole.high), method="bounded", options={"xatol": 1e-10}
    )
    assert energy(found) <= energy(theirs.x) + 1e-12 * abs(energy(theirs.x))


@given(hole=holes(), stack=STACKS, share=st.floats(0.15, 0.85))
@settings(max_examples=100, deadline=None)
def test_the_wheel_rate_is_the_slope_of_the_wheel_force(
    hole: Hole, stack: Stack, share: float
) -> None:
    seat = hole.at(hole.low).length - 0.98 * stack.free
    rise = hole.low + share * (hole.high - hole.low)
    assume(stack.free - (hole.at(hole.high).length - seat) < stack.travel)
    step = 1e-6

    def wheel_force(at: float) -> float:
        return spring_force(hole.at(at), stack, seat=seat) * hole.at(at).ratio

    slope = (wheel_force(rise + step) - wheel_force(rise - step)) / (2 * step)
    assert isclose(rate_at_wheel(hole, stack, seat=seat, rise=rise), slope, rel_tol=1e-5)


@given(ratio=st.floats(0.4, 1.2), slope=st.floats(-4, 4), rise=st.floats(-0.01, 0.02))
@settings(max_examples=60)
def test_measured_pairs_give_a_length_whose_slope_is_the_ratio(
    ratio: float, slope: float, rise: float
) -> None:
    fit = linkage.RatioFit(ratio, slope, None, None, None)
    hole = measured_hole(fit, length=0.07, low=-0.01, high=0.02)
    step = 1e-6
    down, up = hole.at(rise - step).length, hole.at(rise + step).length
    assert isclose((down - up) / (2 * step), hole.at(rise).ratio, rel_tol=1e-6)


DRAWN = Linkage((0.0, 0.0), (0.046, 0.0), (0.022, 0.062), (0.066, -0.004))


def test_the_ends_of_the_travel_are_where_the_damper_is_out_and_in() -> None:
    hole = drawn_hole(DRAWN, longest=0.0718, stroke=0.022)
    assert isclose(hole.at(hole.low).length, 0.0718, rel_tol=1e-12)
    assert isclose(hole.at(hole.high).length, 0.0498, rel_tol=1e-12)
    assert hole.low < 0 < hole.high


def test_stops_take_what_the_spring_does_not() -> None:
    hole = drawn_hole(DRAWN, longest=0.0718, stroke=0.022)
    stack = single(rate=650.0, free=0.04, solid=0.013)
    seat = 0.0718 - 0.0385
    assert rest(hole, stack, seat=seat, load=0.1) == hole.low
    assert rest(hole, stack, seat=seat, load=500.0) == hole.high
    assert rate_at_wheel(hole, stack, seat=0.02, rise=hole.low) == 0.0


def test_a_damper_that_does_not_reach_is_refused() -> None:
    with pytest.raises(PhysicsError, match=Cause.DROOP_OUT_OF_REACH.name):
        drawn_hole(DRAWN, longest=0.2, stroke=0.02)
    with pytest.raises(PhysicsError, match=Cause.BUMP_OUT_OF_REACH.name):
        drawn_hole(DRAWN, longest=0.07, stroke=0.07)


def test_a_scaled_hole_has_the_same_lengths_and_another_ratio() -> None:
    """Definition: the ratio so many times as high at every height, for a drawing whose ratio is
    known to be out."""
    plain = drawn_hole(DRAWN, longest=0.0718, stroke=0.022)
    more = scaled(plain, 1.05)
    for rise in (plain.low, 0.0, plain.high):
        was, then = plain.at(rise), more.at(rise)
        assert (then.length, then.ratio) == (was.length, pytest.approx(1.05 * was.ratio))
        assert then.slope == pytest.approx(1.05 * was.slope)
    assert scaled(plain, 1.0) is plain
