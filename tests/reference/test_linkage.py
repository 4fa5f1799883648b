"""Linkage against hand-worked figures, and against numpy where no figure is printed."""

import numpy as np
import pytest
from scipy import integrate, optimize
from scipy.differentiate import derivative

from calc.physics import linkage, mounting
from calc.physics.linkage import Linkage
from calc.physics.stack import single
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("linkage", "damper_length"), ids=str)
def test_whole_triangles_give_their_length_and_lever_arm(case: Case) -> None:
    points = {name: tuple(point) for name, point in case.given.items()}
    drawn = linkage.position(Linkage(pivot=(0.0, 0.0), **points), 0.0)
    assert drawn.damper_length == case.printed["damper_length"]
    assert drawn.motion_ratio == case.printed["motion_ratio"]


@pytest.mark.parametrize("case", load("linkage", "damper_length"), ids=str)
def test_a_whole_triangle_stands_as_drawn_at_its_whole_length(case: Case) -> None:
    drawn = Linkage(pivot=(0.0, 0.0), **{name: tuple(at) for name, at in case.given.items()})
    there = linkage.position_for_length(drawn, case.printed["damper_length"].expected)
    assert there.wheel_rise == pytest.approx(0.0, abs=1e-9)
    assert there.motion_ratio == case.printed["motion_ratio"]


DRAWN = Linkage((0.0, 0.0), (46e-3, 2e-3), (22e-3, 62e-3), (66e-3, -4e-3))


@pytest.mark.parametrize("length", [48e-3, 55e-3, 64.6e-3, 72e-3])
def test_a_length_is_reached_where_a_root_finder_reaches_it(length: float) -> None:
    """Points turned about the pivot by complex numbers, the angle by `scipy.optimize.brentq`."""
    lower, upper, wheel = 46e-3 + 2e-3j, 22e-3 + 62e-3j, 66e-3 - 4e-3j
    angle = optimize.brentq(lambda a: abs(lower * np.exp(1j * a) - upper) - length, -0.8, 0.8)
    rise = (wheel * np.exp(1j * angle) - wheel).imag
    assert linkage.position_for_length(DRAWN, length).wheel_rise == pytest.approx(rise, abs=1e-9)
    droop, bump = linkage.travel_range(DRAWN, shortest=length, longest=75e-3)
    assert bump.wheel_rise == pytest.approx(rise, abs=1e-9) and droop.wheel_rise < rise
    droop, _ = linkage.travel_range(DRAWN, shortest=45e-3, longest=length)
    assert droop.wheel_rise == pytest.approx(rise, abs=1e-9)


@pytest.mark.parametrize("rise", [-8e-3, 0.0, 11e-3])
def test_a_damper_in_measured_pairs_shortens_by_the_integral_of_its_ratio(rise: float) -> None:
    """The ratio is the derivative of the fitted parabola (`numpy.polyder`), and the length its
    integral (`scipy.integrate.quad`)."""
    wheel = [-0.012, -0.006, 0.0, 0.007, 0.014]
    damper = [-0.0079, -0.0041, 0.0, 0.0050, 0.0098]
    fit = linkage.fit_motion_ratio(wheel, damper)
    slope = np.polyder(np.polyfit(wheel, damper, 2))
    assert fit.ratio_at(rise) == pytest.approx(float(np.polyval(slope, rise)), rel=1e-9)
    hole = mounting.measured_hole(fit, length=70e-3, low=-0.012, high=0.014)
    shorter = integrate.quad(lambda z: float(np.polyval(slope, z)), 0.0, rise)[0]
    assert hole.at(rise).length == pytest.approx(70e-3 - shorter, rel=1e-9)
    assert hole.ride.length == 70e-3


def test_the_rate_at_the_wheel_is_the_second_derivative_of_the_energy() -> None:
    """Energy of the spring over the rise of the wheel, twice derived by `scipy.differentiate`; at
    ride height the damper is as long as its mounts are apart (`numpy.linalg.norm`)."""
    hole = mounting.drawn_hole(DRAWN, longest=72e-3, stroke=22e-3)
    apart = np.linalg.norm(np.array(DRAWN.upper) - DRAWN.lower)
    assert hole.ride.length == pytest.approx(float(apart), rel=1e-12)
    spring, seat = single(rate=650.0, free=40e-3, solid=13e-3), 33e-3

    def energy(rise: float) -> float:
        return 0.5 * 650.0 * (40e-3 - (hole.at(rise).length - seat)) ** 2

    def force(rise: np.ndarray) -> np.ndarray:
        return np.asarray(derivative(np.vectorize(energy), rise, initial_step=1e-3).df)

    for rise in (0.0, 6e-3, 12e-3):
        slope = derivative(force, rise, initial_step=1e-3, tolerances={"rtol": 1e-6}).df
        ours = mounting.rate_at_wheel(hole, spring, seat=seat, rise=rise)
        assert ours == pytest.approx(float(slope), rel=1e-4)
        spot = hole.at(rise)
        pressed = 650.0 * (40e-3 - (spot.length - seat))
        rate = linkage.wheel_rate(
            rate=650.0, motion_ratio=spot.ratio, force=pressed, motion_ratio_slope=spot.slope
        )
        assert rate == pytest.approx(float(slope), rel=1e-4)


@pytest.mark.parametrize("case", load("spring", "line"), ids=str)
def test_the_fit_reaches_the_certified_coefficients(case: Case) -> None:
    """Line and parabola as certified: the ratio is the first coefficient, its slope twice the
    second."""
    curved = case.given["degree"] == 2
    found = linkage.fit_motion_ratio(case.given["x"], case.given["y"], curved=curved)
    coefficients, errors = case.printed["coefficients"], case.printed["errors"]
    assert (found.ratio, found.ratio_error) == (coefficients[1], errors[1])
    if curved:
        assert (found.slope / 2, (found.slope_error or 0.0) / 2) == (coefficients[2], errors[2])


def test_fit_of_a_curved_ratio_agrees_with_numpy() -> None:
    wheel = np.array([-0.012, -0.008, -0.003, 0.0, 0.004, 0.009, 0.014])
    damper = np.array([-0.0079, -0.0054, -0.0019, 0.0001, 0.0027, 0.0064, 0.0098])
    fit = linkage.fit_motion_ratio(wheel.tolist(), damper.tolist())
    (curve, slope, _), covariance = np.polyfit(wheel, damper, 2, cov=True)
    assert fit.ratio == pytest.approx(slope, rel=1e-9)
    assert fit.slope == pytest.approx(2 * curve, rel=1e-9)
    assert fit.ratio_error == pytest.approx(np.sqrt(covariance[1, 1]), rel=1e-9)
    assert fit.slope_error == pytest.approx(2 * np.sqrt(covariance[0, 0]), rel=1e-9)


def in_space(kick_up: float, angle: float) -> tuple[float, float]:
    """Height of the wheel and length of the damper of the demo's front arm, its hinge pin kicked
    up, turned by an angle about that pin: points in space, turned as O. Rodrigues (1840) does."""
    pin = np.array([np.cos(kick_up), 0.0, np.sin(kick_up)])  # along the car, out, up

    def place(out: float, up: float) -> np.ndarray:
        """A point of the plane square to the pin that is seen along the car at (out, up)."""
        return np.array([-up * np.tan(kick_up), out, up])

    def turned(point: np.ndarray) -> np.ndarray:
        along = pin * (pin @ point) * (1 - np.cos(angle))
        return point * np.cos(angle) + np.cross(pin, point) * np.sin(angle) + along

    wheel, lower = turned(place(66.0, -4.0)), turned(place(46.0, 0.0))
    return float(wheel[2]), float(np.linalg.norm(place(22.0, 62.0) - lower))


@pytest.mark.parametrize(
    ("degrees", "too_low"), [(0, 0.0), (15, 0.03), (20, 0.06), (25, 0.09), (30, 0.13)]
)
def test_a_pin_kicked_up_makes_the_ratio_higher(degrees: int, too_low: float) -> None:
    """In space, by differences; and the shares that an independent review of the project found for
    a drawing that takes no notice of the kick-up, its tower square to the pin."""
    kick_up, step = np.radians(degrees), 1e-5
    near = [in_space(kick_up, n * step) for n in (-1, 0, 1)]
    ratio = -(near[2][1] - near[0][1]) / (near[2][0] - near[0][0])
    pins = [(32e-3, 30e-3), (78e-3, 30e-3), (54e-3, 92e-3), (98e-3, 26e-3)]
    here = linkage.position(linkage.Linkage(*pins, kick_up=kick_up), 0.0)
    assert here.motion_ratio == pytest.approx(ratio, rel=1e-6)
    assert here.damper_length == pytest.approx(near[1][1] * 1e-3, rel=1e-9)
    bump, droop = (in_space(kick_up, n * 1e-3) for n in (1, -1))
    rise = (bump[0] - near[1][0]) * 1e-3
    there = linkage.position(linkage.Linkage(*pins, kick_up=kick_up), rise)
    assert there.damper_length == pytest.approx(bump[1] * 1e-3, rel=1e-9)
    (z0, l0), (z1, l1), (z2, l2) = droop, near[1], bump
    second = 2 * ((l2 - l1) / (z2 - z1) - (l1 - l0) / (z1 - z0)) / (z2 - z0)
    assert here.motion_ratio_slope == pytest.approx(-second * 1e3, rel=1e-3)
    flat = linkage.position(linkage.Linkage(*pins), 0.0).motion_ratio
    assert 1 - flat / ratio == pytest.approx(too_low, abs=0.025)


@pytest.mark.parametrize(("near", "rate"), [(30e-3, 650.0), (50e-3, 2000.0), (80e-3, 400.0)])
def test_a_level_arm_under_an_upright_damper_is_a_lever(near: float, rate: float) -> None:
    """Barton and Fieldhouse 2018 (Automotive Chassis Engineering, section 3.9, read): spring over
    arm in the share of the lever from its pivot, the rate at the wheel as the square of that. The
    same lever for a dashpot and for a collar; a far mount keeps the damper upright."""
    far, wheel = 1e3, 100e-3
    share, load = near / wheel, 5.0
    arm = Linkage(pivot=(0.0, 0.0), lower=(near, 0.0), upper=(near, far), wheel=(wheel, 0.0))
    hole = mounting.drawn_hole(arm, longest=far + 2e-3, stroke=4e-3)
    spring = single(rate=rate, free=60e-3, solid=5e-3)
    seat = far - (60e-3 - load / share / rate)
    assert mounting.spring_force(hole.ride, spring, seat=seat) == pytest.approx(load / share)
    assert mounting.rest(hole, spring, seat=seat, load=load) == pytest.approx(0.0, abs=1e-9)
    at_wheel = mounting.rate_at_wheel(hole, spring, seat=seat, rise=0.0)
    assert at_wheel == pytest.approx(rate * share**2, rel=1e-4)
    alone = linkage.wheel_rate(
        rate=rate, motion_ratio=hole.ride.ratio, force=load / share, motion_ratio_slope=0.0
    )
    assert alone == pytest.approx(rate * share**2, rel=1e-4)
    assert linkage.wheel_damping(damping=rate, motion_ratio=hole.ride.ratio) == pytest.approx(
        rate * share**2, rel=1e-4
    )
    lift = linkage.lift_per_turn(pitch=1e-3, motion_ratio=hole.ride.ratio)
    assert lift == pytest.approx(1e-3 * wheel / near, rel=1e-4)
    droop, bump = linkage.travel_range(arm, shortest=far - 2e-3, longest=far + 2e-3)
    travel = bump.wheel_rise - droop.wheel_rise
    assert travel == pytest.approx(4e-3 * wheel / near, rel=2e-3)
