"""Linkage against hand-worked figures, and against numpy where no figure is printed."""

import numpy as np
import pytest

from calc.physics import linkage
from calc.physics.linkage import Linkage
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("linkage", "wheel_rate"), ids=str)
def test_wheel_rate_is_as_printed(case: Case) -> None:
    assert linkage.wheel_rate(**case.given) == case.printed["wheel_rate"]


@pytest.mark.parametrize("case", load("linkage", "lift_per_turn"), ids=str)
def test_lift_per_turn_is_as_printed(case: Case) -> None:
    assert linkage.lift_per_turn(**case.given) == case.printed["lift"]


@pytest.mark.parametrize("case", load("linkage", "damper_length"), ids=str)
def test_whole_triangles_give_their_length_and_lever_arm(case: Case) -> None:
    points = {name: tuple(point) for name, point in case.given.items()}
    drawn = linkage.position(Linkage(pivot=(0.0, 0.0), **points), 0.0)
    assert drawn.damper_length == case.printed["damper_length"]
    assert drawn.motion_ratio == case.printed["motion_ratio"]


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
