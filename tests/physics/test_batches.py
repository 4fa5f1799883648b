"""Batches from shared bottles, against every choice written out."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics.batches import Batch, Recipe, Stock, coarse, miss, shared
from calc.physics.oil import band, blend

GRADES = st.sampled_from([150e-6, 200e-6, 300e-6, 350e-6, 500e-6, 800e-6])
STOCKS = st.lists(st.builds(Stock, GRADES, st.integers(0, 9)), min_size=1, max_size=3)
BATCHES = st.lists(st.builds(Batch, GRADES, st.integers(1, 5)), min_size=1, max_size=2)


def every_recipe(batch: Batch, stock: list[Stock]) -> list[tuple[float, list[int]]]:
    """All ways to take the steps from one bottle or two: (miss, steps out of each bottle)."""
    found = []
    for taken in product(range(batch.steps + 1), repeat=len(stock)):
        if sum(taken) != batch.steps or sum(n > 0 for n in taken) > 2:
            continue
        parts = [(float(n), one.viscosity) for n, one in zip(taken, stock, strict=True) if n]
        low, high = band(parts)
        recipe = Recipe(0, 0, 0, 0, blend(parts), low, high)
        found.append((miss(recipe, batch.target), list(taken)))
    return found


@settings(max_examples=150, deadline=None)
@given(STOCKS, BATCHES)
def test_no_other_choice_misses_by_less(stock: list[Stock], batches: list[Batch]) -> None:
    best = None
    for choice in product(*(every_recipe(batch, stock) for batch in batches)):
        drawn = [sum(column) for column in zip(*(taken for _, taken in choice), strict=True)]
        if all(n <= one.steps for n, one in zip(drawn, stock, strict=True)):
            cost = sum(cost for cost, _ in choice)
            best = cost if best is None else min(best, cost)
    found = shared(batches, stock)
    if best is None:
        assert found is None
        return
    assert found is not None
    cost = sum(miss(one, batch.target) for one, batch in zip(found, batches, strict=True))
    assert cost == pytest.approx(best, abs=1e-12)
    for place, one in enumerate(stock):
        assert sum(recipe.drawn(place) for recipe in found) <= one.steps
    for recipe, batch in zip(found, batches, strict=True):
        assert recipe.thin_steps + recipe.thick_steps == batch.steps


def test_a_bottle_that_both_want_is_shared_or_given_up() -> None:
    """Ten steps of 400 cSt are wanted twice and are there once: one batch is mixed of the others
    (half and half of 200 and 800 cSt is 400 cSt by the log law)."""
    stock = [Stock(400e-6, 10), Stock(200e-6, 10), Stock(800e-6, 10)]
    found = shared([Batch(400e-6, 10), Batch(400e-6, 10)], stock)
    assert found is not None
    assert sorted(recipe.thick_steps for recipe in found) == [0, 5]


@pytest.mark.parametrize(
    ("volume", "step", "steps", "size"),
    [(8e-6, 0.1e-6, 80, 0.1e-6), (8.01e-6, 0.1e-6, 81, 0.1e-6), (31e-6, 0.1e-6, 155, 0.2e-6)],
)
def test_steps_cover_the_volume(volume: float, step: float, steps: int, size: float) -> None:
    assert coarse(volume, step) == (steps, pytest.approx(size))
