"""What must hold of arms and motion ratios whatever the drawing."""

from math import hypot, isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics import linkage
from calc.physics.failure import Cause, PhysicsError
from calc.physics.linkage import Linkage, Position

MM = 1e-3


@st.composite
def linkages(draw: st.DrawFn) -> Linkage:
    """Arms as they are drawn on cars of 1:5 to 1:18, drooping or rising, damper leaning in."""

    def span(low: float, high: float) -> float:
        return draw(st.floats(low, high)) * MM

    reach = span(30, 200)
    wheel = (reach, span(-0.3, 0.3) * reach / MM)
    share = draw(st.floats(0.3, 0.95))
    lower = (share * wheel[0], share * wheel[1] + span(0, 8))
    upper = (lower[0] * draw(st.floats(0.1, 1.0)), lower[1] + span(40, 150))
    shift = (span(-50, 50), span(-50, 50))
    points = ((0.0, 0.0), lower, upper, wheel)
    return Linkage(*((x + shift[0], z + shift[1]) for x, z in points))


def middle(drawn: Linkage, share: float) -> Position:
    """The linkage with its wheel moved by a share of a quarter of its reach."""
    return linkage.position(drawn, share * 0.25 * (drawn.wheel[0] - drawn.pivot[0]))


@given(drawn=linkages())
@settings(max_examples=150)
def test_the_ratio_is_the_lever_arm_of_the_damper_over_that_of_the_wheel(drawn: Linkage) -> None:
    # Virtual work: moments about the pivot, worked with the points themselves.
    now = linkage.position(drawn, 0.0)
    (px, pz), (lx, lz), (ux, uz) = drawn.pivot, drawn.lower, drawn.upper
    area = (lx - px) * (uz - pz) - (lz - pz) * (ux - px)
    arm = area / hypot(ux - lx, uz - lz)
    assert isclose(now.motion_ratio, arm / (drawn.wheel[0] - px), rel_tol=1e-9)


@given(drawn=linkages(), share=st.floats(-1, 1))
@settings(max_examples=150)
def test_the_ratio_and_its_slope_are_the_derivatives_of_the_damper_length(
    drawn: Linkage, share: float
) -> None:
    now = middle(drawn, share)
    step = 1e-5
    up = linkage.position(drawn, now.wheel_rise + step)
    down = linkage.position(drawn, now.wheel_rise - step)
    ratio = (down.damper_length - up.damper_length) / (2 * step)
    slope = (up.motion_ratio - down.motion_ratio) / (2 * step)
    assert isclose(now.motion_ratio, ratio, rel_tol=1e-6)
    assert isclose(now.motion_ratio_slope, slope, rel_tol=1e-5, abs_tol=1e-4)


@given(drawn=linkages(), share=st.floats(-1, 1))
@settings(max_examples=150)
def test_height_and_damper_length_lead_to_the_same_position(drawn: Linkage, share: float) -> None:
    now = middle(drawn, share)
    back = linkage.position_for_length(drawn, now.damper_length)
    assert isclose(back.wheel_rise, now.wheel_rise, abs_tol=1e-9)
    assert isclose(back.motion_ratio, now.motion_ratio, rel_tol=1e-6)


@given(drawn=linkages(), share=st.floats(-1, 1), rate=st.floats(100, 1e5), force=st.floats(0, 200))
@settings(max_examples=150)
def test_wheel_rate_is_the_slope_of_the_wheel_force(
    drawn: Linkage, share: float, rate: float, force: float
) -> None:
    now = middle(drawn, share)
    step = 1e-6

    def wheel_force(rise: float) -> float:
        there = linkage.position(drawn, rise)
        spring = force + rate * (now.damper_length - there.damper_length)
        return spring * there.motion_ratio

    slope = (wheel_force(now.wheel_rise + step) - wheel_force(now.wheel_rise - step)) / (2 * step)
    exact = linkage.wheel_rate(
        rate=rate,
        motion_ratio=now.motion_ratio,
        force=force,
        motion_ratio_slope=now.motion_ratio_slope,
    )
    assert isclose(exact, slope, rel_tol=1e-5, abs_tol=1e-3)


def test_droop_lies_below_bump_and_the_damper_has_its_lengths_there() -> None:
    drawn = Linkage((0.0, 0.0), (0.05, 0.0), (0.02, 0.09), (0.075, -0.005))
    droop, bump = linkage.travel_range(drawn, shortest=0.085, longest=0.105)
    assert droop.wheel_rise < 0.0 < bump.wheel_rise
    assert isclose(droop.damper_length, 0.105, rel_tol=1e-12)
    assert isclose(bump.damper_length, 0.085, rel_tol=1e-12)


GOOD = {"pivot": (0.0, 0.0), "lower": (0.05, 0.0), "upper": (0.02, 0.09), "wheel": (0.08, 0.0)}


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"wheel": (-0.01, 0.0)}, Cause.WHEEL_INSIDE_PIVOT.name),
        ({"wheel": (1e-9, 0.05)}, Cause.WHEEL_INSIDE_PIVOT.name),
        ({"lower": (0.0, 0.0)}, Cause.LOWER_MOUNT_ON_PIVOT.name),
        ({"upper": (0.0, 0.0)}, Cause.UPPER_MOUNT_ON_PIVOT.name),
        ({"upper": (0.05, 0.0)}, Cause.MOUNTS_COINCIDE.name),
        ({"upper": (0.02, -0.09)}, Cause.LONGER_IN_BUMP.name),
        ({"upper": (0.10, 0.0)}, Cause.LONGER_IN_BUMP.name),
        ({"upper": (0.02, float("nan"))}, "must be a number"),
    ],
)
def test_impossible_drawings_are_refused(
    change: dict[str, tuple[float, float]], complaint: str
) -> None:
    with pytest.raises(ValueError, match=complaint):
        Linkage(**{**GOOD, **change})


def test_impossible_positions_are_refused() -> None:
    drawn = Linkage(**GOOD)
    with pytest.raises(ValueError, match="cannot reach"):
        linkage.position(drawn, 0.081)
    with pytest.raises(ValueError, match="cannot reach"):
        linkage.position(drawn, -0.081)
    with pytest.raises(ValueError, match="dead centre"):
        linkage.position(drawn, 0.0799)
    with pytest.raises(ValueError, match=r"only from 0\.0422 to 0\.1422 m"):
        linkage.position_for_length(drawn, 0.2)
    with pytest.raises(ValueError, match="upright"):
        linkage.position_for_length(drawn, 0.1421)
    with pytest.raises(ValueError, match="longer at full droop"):
        linkage.travel_range(drawn, shortest=0.1, longest=0.1)


@pytest.mark.parametrize(
    ("shortest", "longest", "cause"),
    [
        (0.1, 0.2, Cause.DROOP_OUT_OF_REACH),
        (0.04, 0.1, Cause.BUMP_OUT_OF_REACH),
        (-0.1, 0.1, Cause.BUMP_OUT_OF_REACH),
    ],
)
def test_a_stop_that_the_arm_does_not_reach_is_named(
    shortest: float, longest: float, cause: Cause
) -> None:
    with pytest.raises(PhysicsError) as failure:
        linkage.travel_range(Linkage(**GOOD), shortest=shortest, longest=longest)
    assert failure.value.cause == cause


@given(
    ratio=st.floats(0.3, 1.2),
    slope=st.floats(-8.0, 8.0),
    steps=st.lists(st.integers(-20, 20), min_size=3, max_size=9, unique=True),
)
@settings(max_examples=150)
def test_exact_readings_give_the_ratio_and_its_slope_back(
    ratio: float, slope: float, steps: list[int]
) -> None:
    travels = [step * MM for step in steps]
    damper = [0.001 + ratio * z + 0.5 * slope * z * z for z in travels]
    fit = linkage.fit_motion_ratio(travels, damper)
    assert isclose(fit.ratio, ratio, rel_tol=1e-8)
    assert isclose(fit.slope, slope, abs_tol=1e-6)
    assert isclose(fit.ratio_at(0.01), ratio + 0.01 * slope, rel_tol=1e-6)


def test_two_readings_make_a_straight_ratio_without_an_error() -> None:
    fit = linkage.fit_motion_ratio([0.0, 0.02], [0.0, 0.013], curved=False)
    assert isclose(fit.ratio, 0.65, rel_tol=1e-12)
    assert (fit.slope, fit.ratio_error, fit.slope_error, fit.scatter) == (0.0, None, None, None)


def test_readings_with_the_wrong_sign_or_too_few_are_refused() -> None:
    with pytest.raises(PhysicsError, match=r"TOO_FEW_READINGS.*'needed': 3"):
        linkage.fit_motion_ratio([0.0, 0.01, 0.01], [0.0, 0.006, 0.007])
    with pytest.raises(PhysicsError, match=Cause.RATIO_NOT_POSITIVE.name):
        linkage.fit_motion_ratio([0.0, 0.01, 0.02], [0.0, -0.006, -0.012])
    with pytest.raises(PhysicsError, match=Cause.READINGS_TOO_ALIKE.name):
        linkage.fit_motion_ratio([0.01, 0.01 + 1e-15], [0.005, 0.006], curved=False)
    # The last one goes back a little.
    with pytest.raises(PhysicsError, match=Cause.RATIO_NOT_POSITIVE.name):
        linkage.fit_motion_ratio([0.0, 0.01, 0.02], [0.0, 0.006, 0.0055])


def test_damping_goes_to_the_wheel_with_the_square_of_the_ratio() -> None:
    assert isclose(linkage.wheel_damping(damping=20.0, motion_ratio=0.5), 5.0)
