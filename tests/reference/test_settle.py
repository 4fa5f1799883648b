"""A corner on its droop stop, on its spring and over its tyre against root finders and numpy: the
hub between the two is an unknown of its own here, not a rate in series."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import optimize
from scipy.differentiate import derivative
from scipy.spatial.transform import Rotation

from calc.physics import chassis, settle
from calc.physics.chassis import Wheel
from calc.physics.settle import LoadLine, Stance
from tests.reference.cases import Case, load

CORNERS = st.builds(
    Wheel, st.just(0.3), st.just(0.1), st.floats(200.0, 5e3), st.floats(0.5e-3, 3e-3),
    st.floats(2e3, 1e5),
)  # fmt: skip
LEGS = st.builds(LoadLine, CORNERS, st.floats(-10.0, 30.0), st.floats(0.01, 0.06))
DROPS = st.floats(-5e-3, 40e-3)


def borne(leg: LoadLine, drop: float) -> float:
    """Load, N, with the body a drop below where the wheel just touches at full droop: the tyre is
    pressed by as much as balances spring and stop, found by `brentq`."""

    def held(bump: float) -> float:
        """What holds the wheel down, N, the wheel so far up against the body."""
        rate = leg.wheel.wheel_rate if leg.preload <= 0 or bump > 0 else leg.stop_rate
        return max(0.0, leg.preload + rate * bump)

    def over(bump: float) -> float:
        return held(bump) - leg.wheel.tyre_rate * max(0.0, drop - bump)

    return held(optimize.brentq(over, -0.1, 0.5, xtol=1e-15))


@given(leg=LEGS, drop=DROPS)
def test_the_load_is_where_tyre_and_spring_balance(leg: LoadLine, drop: float) -> None:
    assert leg.load(drop) == pytest.approx(borne(leg, drop), abs=1e-6)


@given(leg=LEGS, drop=DROPS)
def test_the_slope_is_the_derivative_of_that_load(leg: LoadLine, drop: float) -> None:
    assume(min(abs(drop - knot) for knot in leg.knots) > 1e-5)
    slope = derivative(
        np.vectorize(lambda at: borne(leg, at)), drop, initial_step=4e-6, order=2, maxiter=1
    )
    assert leg.slope(drop) == pytest.approx(float(slope.df), rel=1e-3, abs=1e-2)


@given(leg=LEGS, load=st.floats(0.5, 60.0), height=st.floats(0.01, 0.05))
def test_a_measured_leg_bears_its_load_where_it_was_measured(
    leg: LoadLine, load: float, height: float
) -> None:
    made = settle.measured_line(leg.wheel, load=load, preload=leg.preload, height=height)
    assert borne(made, made.droop_height - height) == pytest.approx(load, abs=1e-6)


@given(leg=LEGS, turns=st.floats(-4.0, 4.0), drop=st.floats(0.0, 0.1))
def test_a_turned_collar_lifts_by_its_lift_under_the_same_load(
    leg: LoadLine, turns: float, drop: float
) -> None:
    """On its spring before and after, a leg bears the old load that much higher up, which is the
    lift of a turn as its corner has it."""
    load, after = borne(leg, drop), settle.turned(leg, turns)
    assume(load > max(0.0, leg.preload, after.preload))
    lifted = borne(after, drop - turns * leg.wheel.turn_lift)
    assert lifted == pytest.approx(load, abs=1e-6)


@given(
    heave=st.floats(0.0, 0.05), nose=st.floats(-0.01, 0.01), left=st.floats(-0.01, 0.01),
    point=st.tuples(st.floats(-0.1, 0.4), st.floats(-0.2, 0.2)),
)  # fmt: skip
def test_a_leaning_body_is_as_high_as_a_turned_one(
    heave: float, nose: float, left: float, point: tuple[float, float]
) -> None:
    """The body turned in space by `scipy.spatial.transform`, in the axes of ISO 8855:2011 (from
    memory): x ahead, y to the left, z up, so that a nose going up turns backwards about y and a
    left side going up forwards about x. To first order in the angles."""
    turned = Rotation.from_euler("xy", [left, -nose]).apply([*point, 0.0])
    stance = Stance(heave, np.tan(nose), np.tan(left), (), (), ())
    assert stance.height(point) == pytest.approx(heave + turned[2], abs=1e-4)


@pytest.mark.parametrize("out", [0.0, 0.2, 0.45])
def test_a_table_with_a_weight_on_its_diagonal_stands_as_euler_has_it(out: float) -> None:
    """L. Euler 1774 (De pressione ponderis in planum cui incumbit, from memory): a stiff
    square table on four like legs that give, the weight a share `out` of the half diagonal off the
    middle: (1 + 2 out)/4 and (1 - 2 out)/4 of it on that diagonal, a quarter on each other leg.
    From a half on the far leg hangs."""
    places = [(0.1, 0.1), (0.1, -0.1), (-0.1, 0.1), (-0.1, -0.1)]
    corners = [Wheel(x, y, 2e3, 1e-3) for x, y in places]
    legs = [LoadLine(corner, 0.0, 0.05) for corner in corners]
    rest = settle.settle(legs, weight=20.0, centre=(0.1 * out, 0.1 * out))
    shares = [(1 + 2 * out) / 4, 0.25, 0.25, (1 - 2 * out) / 4]
    assert rest.loads == pytest.approx([20.0 * share for share in shares], rel=1e-6)
    assert settle.balance_point(corners, rest.loads) == pytest.approx((0.1 * out, 0.1 * out))
    drops = [legs[n].droop_height - rest.height(place) for n, place in enumerate(places)]
    assert [legs[n].load(drop) for n, drop in enumerate(drops)] == pytest.approx(rest.loads)
    assert [leg.slope(drop) for leg, drop in zip(legs, drops, strict=True)] == [2e3] * 4
    assert chassis.shares(rest.loads).front == pytest.approx(0.5 + out / 2)
    heights = [rest.height(place) for place in places]
    as_stood = [
        settle.measured_line(corner, load=load, preload=0.0, height=height)
        for corner, load, height in zip(corners, rest.loads, heights, strict=True)
    ]
    assert [leg.droop_height for leg in as_stood] == pytest.approx([0.05] * 4)
    far = settle.settle(legs, weight=20.0, centre=(0.06, 0.06))
    assert far.lifted == (False, False, False, True)


@pytest.mark.parametrize("case", load("settle", "piers"), ids=str)
def test_a_weight_off_the_middle_of_four_piers_rests_on_them_as_printed(case: Case) -> None:
    """The one pier that would have to pull is held down here by a weight on the middle."""
    long, wide = case.given["apart"]
    places = [(x * long / 2, y * wide / 2) for x in (1, -1) for y in (1, -1)]
    legs = [LoadLine(Wheel(x, y, 1e5, 1e-3), 0.0, 0.05) for x, y in places]
    weight, held = case.given["weight"], 4 * case.given["weight"]
    off = [place * weight / (weight + held) for place in case.given["off"]]
    rest = settle.settle(legs, weight=weight + held, centre=(off[0], off[1]))
    assert sorted(load - held / 4 for load in rest.loads) == case.printed["loads"]
    assert settle.balance_point([leg.wheel for leg in legs], rest.loads) == pytest.approx(off)
