"""The best steps for four collars: as good as trying every one, within limits, and few."""

import random
from itertools import product
from math import inf, nan

import numpy as np
import pytest

from calc.physics.chassis import Wheel, turn_collars
from calc.physics.turns import NEAR, Wish, best_turns

# Every set of quarter turns up to two turns either way: 17^4 of them.
EVERY = np.array(list(product(range(-8, 9), repeat=4)), dtype=float)
TWO_TURNS = ((-2.0, 2.0),) * 4
LOADS = (7.0, 6.5, 8.2, 8.6)


def any_car(dice: random.Random) -> list[Wheel]:
    wheelbase, half = dice.uniform(0.12, 0.6), dice.uniform(0.05, 0.22)
    return [
        Wheel(x, y, dice.uniform(200, 9e3), dice.uniform(0.5e-3, 3e-3), dice.choice([inf, 2e4]))
        for x in (wheelbase, 0.0)
        for y in (half, -half)
    ]


def any_wish(dice: random.Random, car: list[Wheel]) -> Wish:
    points = tuple((c.x + dice.uniform(-0.06, 0.06), c.y * dice.uniform(0.4, 1.2)) for c in car)
    # Some wishes lie beyond what two turns can bring.
    rises = tuple(dice.uniform(-3e-3, 3e-3) * dice.choice([1, 1, 3]) for _ in points)
    tolerance = dice.choice([0.1e-3, 0.2e-3, 0.5e-3])
    return Wish(points, rises, tolerance, dice.choice([None, dice.uniform(0.45, 0.55)]))


def misfit_of_every(car: list[Wheel], wish: Wish) -> np.ndarray:
    """Squared misses of every set in EVERY, from the springs' energy by numpy alone."""
    arms = np.array([[1.0, c.x, c.y] for c in car])
    rates = np.array([1 / (1 / c.wheel_rate + 1 / c.tyre_rate) for c in car])
    lifts = EVERY * 0.25 * np.array([c.turn_lift for c in car])
    root = np.sqrt(rates)
    body = np.linalg.lstsq(arms * root[:, None], (lifts * root).T, rcond=None)[0]
    loads = rates * (lifts - (arms @ body).T)
    places = np.array([[1.0, x, y] for x, y in wish.points])
    misses = ((places @ body).T - np.array(wish.rises)) / wish.height_tolerance
    diagonal = loads[:, 0] + loads[:, 3]
    if wish.cross_weight is None:
        warp = diagonal / (rates.mean() * 10 * wish.height_tolerance)
    else:
        reached = (LOADS[0] + LOADS[3] + diagonal) / sum(LOADS)
        warp = (reached - wish.cross_weight) / wish.cross_tolerance
    return (misses**2).sum(axis=1) + warp**2 + 1e-6 * (EVERY**2).sum(axis=1)


@pytest.mark.parametrize("seed", range(120))
def test_no_set_within_two_turns_is_better_or_as_good_with_fewer_turns(seed: int) -> None:
    dice = random.Random(seed)
    car = any_car(dice)
    wish = any_wish(dice, car)
    plan = best_turns(car, wish, loads=LOADS, limits=TWO_TURNS)
    misfits = misfit_of_every(car, wish)
    near = np.flatnonzero(misfits <= misfits.min() + NEAR)
    counts = np.abs(EVERY[near]).sum(axis=1)
    calm = near[counts == counts.min()]
    best = calm[misfits[calm].argmin()]
    assert plan.steps == tuple(EVERY[best].astype(int))
    assert plan.misfit == pytest.approx(misfits[best], rel=1e-6, abs=1e-8)


@pytest.mark.parametrize("seed", range(20))
def test_heights_that_whole_steps_give_are_found_again(seed: int) -> None:
    dice = random.Random(seed)
    car = any_car(dice)
    cross = 0.0
    while not 0.0 < cross < 1.0:  # steps that would lift a wheel are drawn again
        steps = tuple(dice.randint(-8, 8) for _ in car)
        brought = turn_collars(car, [0.25 * n for n in steps])
        cross = (LOADS[0] + LOADS[3] + brought.loads[0] + brought.loads[3]) / sum(LOADS)
    points = tuple((c.x, c.y) for c in car)
    wish = Wish(points, tuple(brought.rise(p) for p in points), 1e-5, cross, 1e-4)
    plan = best_turns(car, wish, loads=LOADS)
    assert plan.steps == steps
    assert plan.turns == tuple(0.25 * n for n in steps)
    assert plan.change == brought


EVEN = [Wheel(x, y, 2000.0, 2e-3) for x in (0.3, 0.0) for y in (0.1, -0.1)]
AT_WHEELS = tuple((c.x, c.y) for c in EVEN)


def test_a_car_at_its_heights_is_left_alone() -> None:
    plan = best_turns(EVEN, Wish(AT_WHEELS, (0.0, 0.0, 0.0, 0.0)))
    assert plan.steps == (0, 0, 0, 0)
    assert plan.misfit == 0.0


def test_with_the_cross_weight_free_the_diagonals_are_not_disturbed() -> None:
    # One front corner high by a warp that no rigid body can follow: the body may only lean.
    plan = best_turns(EVEN, Wish(AT_WHEELS, (1e-3, -1e-3, 1e-3, -1e-3)))
    assert plan.steps == (2, -2, 2, -2)
    assert max(abs(load) for load in plan.change.loads) < 1e-9


def test_limits_hold_at_every_collar() -> None:
    limits = ((-0.5, 0.3), (0.0, 1.0), (-1.0, 0.0), (0.25, 0.25))
    plan = best_turns(EVEN, Wish(AT_WHEELS, (4e-3, 4e-3, 4e-3, 4e-3)), limits=limits)
    for turns, (low, high) in zip(plan.turns, limits, strict=True):
        assert low <= turns <= high


def test_a_finer_step_never_comes_out_worse() -> None:
    wish = Wish(AT_WHEELS, (1.3e-3, 0.4e-3, -0.7e-3, -1.1e-3))
    misfits = [best_turns(EVEN, wish, step=step).misfit for step in (0.5, 0.25, 0.125)]
    assert misfits[1] <= misfits[0] + NEAR and misfits[2] <= misfits[1] + NEAR


def test_two_measuring_points_still_get_the_least_turns() -> None:
    middle = ((0.3, 0.0), (0.0, 0.0))
    plan = best_turns(EVEN, Wish(middle, (2e-3, 0.0)))
    assert plan.steps == (4, 4, 0, 0)


def test_wishes_that_say_nothing_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="rise wanted"):
        Wish(AT_WHEELS, (0.0,))
    with pytest.raises(ValueError, match="between 0 and 1"):
        Wish(AT_WHEELS, (0.0,) * 4, cross_weight=50.0)
    with pytest.raises(ValueError, match="needs the four corner loads"):
        best_turns(EVEN, Wish(AT_WHEELS, (0.0,) * 4, cross_weight=0.5))
    with pytest.raises(ValueError, match="no whole step"):
        best_turns(EVEN, Wish(AT_WHEELS, (0.0,) * 4), limits=((0.1, 0.2),) * 4)
    with pytest.raises(ValueError, match="step must be above 0"):
        best_turns(EVEN, Wish(AT_WHEELS, (0.0,) * 4), step=0.0)
    for low, high, which in ((nan, 1.0, "lower"), (-inf, 1.0, "lower"), (-1.0, inf, "upper")):
        with pytest.raises(ValueError, match=f"{which} limit must be a number"):
            best_turns(EVEN, Wish(AT_WHEELS, (0.0,) * 4), limits=((low, high),) * 4)
