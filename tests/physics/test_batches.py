"""Batches from shared bottles, against every choice written out."""

from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics.batches import Batch, Recipe, Stock, coarse, miss, shared
from calc.physics.oil import Steps, band, blend

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


@given(GRADES, GRADES, st.integers(1, 300), st.integers(0, 300))
def test_steps_of_two_oils_are_the_blends_of_every_law(
    one: float, other: float, of_thin: int, of_thick: int
) -> None:
    thin, thick = sorted((one, other))
    parts = [(float(of_thin), thin), (float(of_thick), thick)]
    assert Steps(thin, thick).at(of_thin, of_thick) == (blend(parts), *band(parts))


def test_with_many_bottles_every_pair_is_still_weighed() -> None:
    """Twenty of them and a fine syringe: no recipe of any pair misses by less, each tried."""
    stock = [Stock(100e-6 * 1.12**n, 1000) for n in range(20)]
    batch = Batch(340e-6, 60)
    found = shared([batch], stock)
    assert found is not None
    least = min(
        miss(Recipe(0, 1, 0, 0, blend(parts), *band(parts)), batch.target)
        for one, other in combinations(stock, 2)
        for count in range(batch.steps + 1)
        for parts in [
            [(float(batch.steps - count), one.viscosity), (float(count), other.viscosity)]
        ]
    )
    assert miss(found[0], batch.target) == pytest.approx(least, abs=1e-12)


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
    """Definition: as many steps as are needed, in the least multiple that keeps them to 300."""
    assert coarse(volume, step) == (steps, pytest.approx(size))
