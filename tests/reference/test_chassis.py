"""The body on four corners against figures worked by hand, and against numpy."""

import numpy as np
import pytest

from calc.model.standing import Seat, SpringSize, stack_of
from calc.physics import chassis
from calc.physics.chassis import Corner
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("chassis", "axle_turns"), ids=str)
def test_turns_for_heights_along_the_body_are_as_printed(case: Case) -> None:
    assert list(chassis.axle_turns(**case.given)) == case.printed["turns"]


@pytest.mark.parametrize("case", load("chassis", "warp"), ids=str)
def test_one_corner_out_loads_the_diagonals(case: Case) -> None:
    places = [(0.3, 0.1), (0.3, -0.1), (0.0, 0.1), (0.0, -0.1)]
    corners = [Corner(x, y, case.given["rate"], case.given["out"]) for x, y in places]
    assert list(chassis.turn_collars(corners, [1, 0, 0, 0]).loads) == case.printed["loads"]


@pytest.mark.parametrize("case", load("chassis", "shares"), ids=str)
def test_shares_of_four_scales_are_as_printed(case: Case) -> None:
    got = chassis.shares(case.given["loads"])
    assert {name: getattr(got, name) for name in case.printed} == case.printed


@pytest.mark.parametrize("case", load("chassis", "droop"), ids=str)
def test_the_droop_stop_is_left_where_the_spring_holds_the_load(case: Case) -> None:
    given = case.given
    stack = stack_of([SpringSize(given["rate"], 0.1)])
    seat = Seat(stack, given["corner_load"], given["motion_ratio"], 0.1 - given["preload"])
    assert seat.spare / given["pitch"] == case.printed["turns"]
    assert seat.on_stop == case.printed["on_stop"]


def test_the_body_moves_as_numpy_solves_it() -> None:
    corners = [
        Corner(0.31, 0.12, 1900.0, 1.2e-3, 9e3),
        Corner(0.31, -0.12, 2100.0, 1.1e-3, 9e3),
        Corner(0.01, 0.13, 2600.0, 1.4e-3),
        Corner(0.0, -0.13, 2500.0, 1.5e-3, 11e3),
    ]
    turns = np.array([1.25, -0.5, 0.0, 2.0])
    got = chassis.turn_collars(corners, turns.tolist())
    arms = np.array([[1.0, c.x, c.y] for c in corners])
    # Springs as a weighted least-squares problem: the least energy is the balance of forces.
    compliance = [1 / c.wheel_rate + 1 / c.tyre_rate for c in corners]
    root = 1 / np.sqrt(np.array(compliance))
    lifts = turns * np.array([c.turn_lift for c in corners])
    body, *_ = np.linalg.lstsq(arms * root[:, None], lifts * root, rcond=None)
    assert [got.heave, got.pitch, got.roll] == pytest.approx(body.tolist(), rel=1e-9)
    loads = root**2 * (lifts - arms @ body)
    assert list(got.loads) == pytest.approx(loads.tolist(), rel=1e-8)
