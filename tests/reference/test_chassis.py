"""The body on four corners against statics and least energy by numpy and scipy."""

from functools import reduce
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import linalg, optimize

from calc.model.standing import Seat, SpringSize, stack_of
from calc.physics import chassis
from calc.physics.chassis import Wheel
from tests.reference.cases import Case, load


@given(
    load=st.floats(2.0, 8.0), rate=st.floats(300.0, 900.0), preload=st.floats(0.0, 30e-3),
    ratio=st.floats(0.4, 0.9),
)  # fmt: skip
def test_the_droop_stop_is_left_where_the_least_energy_leaves_it(
    load: float, rate: float, preload: float, ratio: float
) -> None:
    """Spring and weight from full droop, by `scipy.optimize.minimize_scalar`: the wheel begins to
    rise where the collar has gone up by the distance that the seat says is to spare."""
    seat = Seat(stack_of([SpringSize(rate, 0.1)]), load, ratio, 0.1 - preload)

    def rise(less: float) -> float:
        def energy(wheel: float) -> float:
            return 0.5 * rate * (preload - less + ratio * wheel) ** 2 - load * wheel

        found = optimize.minimize_scalar(
            energy, bounds=(0.0, 0.2), method="bounded", options={"xatol": 1e-10}
        )
        return float(found.x)

    up = -seat.spare
    assert rise(up - 1e-4) < 1e-8
    assert rise(up + 1e-4) == pytest.approx(1e-4 / ratio, rel=1e-3)
    assert seat.on_stop == (up > 0)


@given(
    wheelbase=st.floats(0.1, 0.7), lifts=st.tuples(*[st.floats(0.5e-3, 4e-3)] * 2),
    points=st.tuples(st.floats(-0.1, 0.2), st.floats(0.25, 0.8)),
    rises=st.tuples(*[st.floats(-0.02, 0.02)] * 2),
)  # fmt: skip
def test_turns_are_those_of_the_line_that_numpy_fits(
    wheelbase: float, lifts: tuple[float, float], points: tuple[float, float],
    rises: tuple[float, float],
) -> None:  # fmt: skip
    line = np.polyfit(points, rises, 1)
    front, rear = np.polyval(line, [wheelbase, 0.0]) / lifts
    found = chassis.axle_turns(wheelbase=wheelbase, lifts=lifts, points=points, rises=rises)
    assert found == pytest.approx((front, rear), rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("case", load("spring", "series_rate"), ids=str)
def test_a_tyre_under_a_spring_is_one_more_in_the_row(case: Case) -> None:
    """Three in a row of a printed example, each the tyre of those before it."""

    def under(rate: float, tyre: float) -> float:
        return Wheel(0.3, 0.1, 1.0, 1e-3, tyre).above_tyre(rate)

    spring, tyre, *more = case.given["rates"]
    first = Wheel(0.3, 0.1, spring, 1e-3, tyre).rate
    assert reduce(under, more, first) == case.printed["rate"]


def test_corners_stand_where_the_axes_of_the_standard_put_them() -> None:
    """ISO 8855:2011 (from memory): x points ahead and y to the left, so the front wheels have the
    larger x and the left ones the larger y. Any other order of four wheels is refused."""
    ahead, left = {"fl": 1, "fr": 1, "rl": 0, "rr": 0}, {"fl": 1, "fr": 0, "rl": 1, "rr": 0}
    made = {key: Wheel(ahead[key], left[key], 2e3, 1e-3) for key in ahead}
    chassis.check_corners(list(made.values()))
    for order in permutations(made):
        if order != tuple(made):
            with pytest.raises(ValueError, match="wheels must stand"):
                chassis.check_corners([made[key] for key in order])


LOADS = st.tuples(*[st.floats(1.0, 60.0)] * 4)
PLACES = np.array([[0.3, 0.1], [0.3, -0.1], [0.0, 0.1], [0.0, -0.1]])


@given(LOADS)
def test_shares_are_where_the_weight_hangs(loads: tuple[float, ...]) -> None:
    """Moments about the rear axle and the middle: on a rectangle of wheels the front share is the
    place of the weight over the wheelbase, the left one is half the track beside it; by
    `numpy.average`. The diagonal by turning the wheels of one side end for end."""
    ahead, beside = np.average(PLACES, axis=0, weights=loads)
    found = chassis.shares(loads)
    assert found.front == pytest.approx(ahead / 0.3)
    assert found.left == pytest.approx(0.5 + beside / 0.2)
    swapped = np.average(PLACES[[0, 3, 2, 1]], axis=0, weights=loads)
    assert found.cross == pytest.approx(swapped[0] / 0.3)


@given(LOADS, st.floats(0.45, 0.55), st.tuples(*[st.floats(300.0, 3e3)] * 4))
def test_turns_that_keep_the_body_still_load_the_diagonals_alone(
    loads: tuple[float, ...], target: float, rates: tuple[float, ...]
) -> None:
    """Without force and moments there is one way to load four wheels, the null space of the three
    equations (`scipy.linalg.null_space`); each collar goes as far as its spring and tyre give."""
    tyre = 9e3
    corners = [Wheel(x, y, rate, 1.2e-3, tyre) for (x, y), rate in zip(PLACES, rates, strict=True)]
    (warp,) = linalg.null_space(np.column_stack([np.ones(4), PLACES]).T).T
    wanted = target * sum(loads) - loads[0] - loads[3]
    moved = warp * wanted / (warp[0] + warp[3])
    given_way = moved / np.array(rates) + moved / tyre
    found = chassis.still_turns(corners, loads, target)
    assert found == pytest.approx((given_way / 1.2e-3).tolist(), rel=1e-6, abs=1e-9)


def test_the_body_moves_as_numpy_solves_it() -> None:
    corners = [
        Wheel(0.31, 0.12, 1900.0, 1.2e-3, 9e3),
        Wheel(0.31, -0.12, 2100.0, 1.1e-3, 9e3),
        Wheel(0.01, 0.13, 2600.0, 1.4e-3),
        Wheel(0.0, -0.13, 2500.0, 1.5e-3, 11e3),
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


@given(
    rates=st.tuples(*[st.floats(300.0, 3e3)] * 4),
    tyre=st.floats(1.5e3, 1e5),
    pair=st.permutations(range(4)),
)
def test_what_one_seat_does_to_another_wheel_that_one_does_to_it(
    rates: tuple[float, ...], tyre: float, pair: list[int]
) -> None:
    """The law of reciprocal deflections, J. C. Maxwell 1864 (from memory), for loads that come of
    seats: a seat raised by a millimetre loads another wheel as much as that one's seat does this
    wheel; and the body sinks nowhere more than a raised seat lifts it, as energy is kept."""
    corners = [Wheel(x, y, rate, 1e-3, tyre) for (x, y), rate in zip(PLACES, rates, strict=True)]
    here, there = pair[:2]

    def raised(place: int) -> chassis.Change:
        seats = [1e-3 if n == place else 0.0 for n in range(4)]
        by_hand = chassis.turn_collars(corners, [float(bool(up)) for up in seats])
        moved = chassis.move_seats(corners, seats)
        assert by_hand == moved
        return moved

    one, other = raised(here), raised(there)
    assert one.loads[there] == pytest.approx(other.loads[here], rel=1e-6, abs=1e-9)
    own = one.loads[here] / 1e-3
    assert 0 < own < corners[here].rate
    lift = one.rise((corners[here].x, corners[here].y))
    assert lift == pytest.approx(1e-3 * (1 - own / corners[here].rate), rel=1e-6)
    assert abs(one.cross) == pytest.approx(abs(one.loads[1] + one.loads[2]), rel=1e-6, abs=1e-9)
