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
