"""Choices among whole numbers against a solver of integer programmes and exact fractions."""

import math
from fractions import Fraction
from itertools import combinations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from calc.physics.batches import Batch, Recipe, Stock, miss, shared
from calc.physics.oil import band, blend, whole_parts
from calc.physics.pairs import apart, nearest_pairs
from calc.physics.pile import nearest_pile
from tests.integer import chosen

SIZES = st.lists(st.floats(0.5, 2.0), min_size=4, max_size=7)
GRADES = st.sampled_from([150e-6, 200e-6, 350e-6, 500e-6, 800e-6])
STOCKS = st.lists(st.builds(Stock, GRADES, st.integers(1, 9)), min_size=2, max_size=3)
BATCHES = st.lists(st.builds(Batch, GRADES, st.integers(2, 8)), min_size=2, max_size=2)


@settings(max_examples=15, deadline=None)
@given(SIZES, st.data())
def test_the_pairs_are_those_of_an_integer_programme(
    values: list[float], data: st.DataObject
) -> None:
    """The least worst difference first, then, with no pair above it, the least sum of squares."""
    count = data.draw(st.integers(1, len(values) // 2))
    edges = list(combinations(range(len(values)), 2))
    gaps = [
        abs(integrate.quad(lambda x: 1 / x, values[a], values[b])[0]) for a, b in edges
    ]  # the logarithm of a ratio as an integral
    assert [apart(values[a], values[b]) for a, b in edges] == pytest.approx(gaps, abs=1e-9)
    # The last variable is the worst difference, no less than that of each pair taken.
    once = [[float(at in edge) for edge in edges] + [0.0] for at in range(len(values))]
    below = [[gap * (i == n) for i in range(len(edges))] + [-1.0] for n, gap in enumerate(gaps)]
    many = [1.0] * len(edges) + [0.0]
    free = [-np.inf] * (len(once) + len(below))
    worst = chosen(
        [0.0] * len(edges) + [1.0], [*once, *below, many], [*free, count],
        [1.0] * len(once) + [0.0] * len(below) + [count], [1] * len(edges) + [0],
    )  # fmt: skip
    assert worst is not None
    ours = [apart(values[a], values[b]) for a, b in nearest_pairs(values, count)]
    assert max(ours) == pytest.approx(worst[0], abs=1e-6)
    near = [n for n, gap in enumerate(gaps) if gap <= max(ours) + 1e-9]
    squares = chosen(
        [gaps[n] ** 2 for n in near], [[row[n] for n in near] for row in [*once, many]],
        [*free[: len(once)], count], [1.0] * len(once) + [count], [1] * len(near),
    )  # fmt: skip
    assert squares is not None
    assert sum(gap * gap for gap in ours) == pytest.approx(squares[0], abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from([0.5, 1.0, 1.5, 2.0, 3.0, 6.5]), min_size=1, max_size=8),
       st.floats(0, 20))  # fmt: skip
def test_the_pile_is_that_of_an_integer_programme(sizes: list[float], wanted: float) -> None:
    """The least miss over and under; a spacer costs next to nothing, so the fewest are taken."""
    many, slight = len(sizes), 1e-6
    found = chosen(
        [slight] * many + [1.0, 1.0], [[*sizes, -1.0, 1.0]], [wanted], [wanted],
        [1] * many + [0, 0],
    )  # fmt: skip
    assert found is not None
    picked = nearest_pile(sizes, wanted)
    miss_of_ours = abs(sum(sizes[at] for at in picked) - wanted)
    # Within the tolerance of the solver, which is finer than the steps between the piles.
    assert miss_of_ours + slight * len(picked) == pytest.approx(found[0], abs=2e-6)


@settings(max_examples=25, deadline=None)
@given(off=st.floats(-0.5, 0.5), width=st.floats(0.001, 0.5))
def test_the_expected_miss_is_that_of_a_uniform_doubt(off: float, width: float) -> None:
    """JCGM 100:2008, 4.3.7: a value anywhere in a band of half-width a has the variance a^2/3; the
    mean square about the target by integrating over the distribution of `scipy.stats`."""
    recipe = Recipe(0, 1, 1, 1, 400e-6 * math.exp(off), 400e-6, 400e-6 * math.exp(width))
    doubt = stats.uniform(loc=off - width / 2, scale=width)
    assert miss(recipe, 400e-6) == pytest.approx(doubt.expect(lambda x: x * x), rel=1e-6)


@settings(max_examples=25, deadline=None)
@given(STOCKS, BATCHES)
def test_batches_from_shared_bottles_are_those_of_an_integer_programme(
    stock: list[Stock], batches: list[Batch]
) -> None:
    """One recipe is taken for each batch, no bottle gives more than it holds, and the sum of
    their misses is least."""
    made, cost = [], []
    for place, batch in enumerate(batches):
        for thin, thick in combinations(range(len(stock)), 2):
            for count in range(batch.steps + 1):
                taken = {thin: batch.steps - count, thick: count}
                parts = [(float(n), stock[at].viscosity) for at, n in taken.items() if n]
                recipe = Recipe(0, 0, 0, 0, blend(parts), *band(parts))
                made.append((place, taken))
                cost.append(miss(recipe, batch.target))
    one_each = [[float(at == place) for at, _ in made] for place in range(len(batches))]
    drawn = [[float(taken.get(at, 0)) for _, taken in made] for at in range(len(stock))]
    held = [float(one.steps) for one in stock]
    found = chosen(
        cost, one_each + drawn, [1.0] * len(batches) + [0.0] * len(stock),
        [1.0] * len(batches) + held, [1] * len(made),
    )  # fmt: skip
    ours = shared(batches, stock)
    assert (ours is None) == (found is None)
    assume(ours is not None and found is not None)
    assert ours is not None and found is not None
    total = sum(miss(one, batch.target) for one, batch in zip(ours, batches, strict=True))
    assert total == pytest.approx(found[0], abs=1e-6)
    for at, one in enumerate(stock):
        assert sum(recipe.drawn(at) for recipe in ours) <= one.steps


@given(st.integers(0, 1000), st.integers(2, 20))
def test_the_first_recipe_is_the_nearest_fraction(thousandths: int, most: int) -> None:
    """`fractions.Fraction.limit_denominator` finds the nearest fraction with so small a denominator
    by a continued fraction; one oil alone is another rule."""
    share = Fraction(thousandths, 1000)
    nearest = share.limit_denominator(most)
    assume(0 < nearest < 1)
    thin, thick = whole_parts(float(share), most)[0]
    ours = Fraction(thick, thin + thick)
    assert ours.denominator <= most
    assert abs(ours - share) <= abs(nearest - share) + Fraction(1, 10**12)
