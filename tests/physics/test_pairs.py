"""The nearest pairs, against other ways to find them."""

from itertools import permutations
from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics.pairs import apart, nearest_pairs

VALUES = st.lists(st.floats(0.5, 2.0), min_size=2, max_size=8)


def worst(values: list[float], count: int) -> float:
    """The least difference that so many pairs can have in the worst of them, by another way: of
    sorted values only neighbours make the nearest pairs (exchanging the ends of two crossing pairs
    makes neither worse), so a pair more or less is decided value by value."""
    ranked = sorted(values)
    best = {0: 0.0}  # pairs -> worst so far
    before = {0: 0.0}
    for at in range(1, len(ranked)):
        gap = log(ranked[at] / ranked[at - 1])
        now = dict(best)
        for pairs, bad in before.items():
            now[pairs + 1] = min(now.get(pairs + 1, 9.9), max(bad, gap))
        before, best = best, now
    return best[count]


@given(VALUES, st.data())
def test_the_worst_pair_is_as_near_as_neighbours_can_be(
    values: list[float], data: st.DataObject
) -> None:
    count = data.draw(st.integers(1, len(values) // 2))
    pairs = nearest_pairs(values, count)
    taken = [place for pair in pairs for place in pair]
    assert len(pairs) == count and len(set(taken)) == 2 * count
    found = max(apart(values[a], values[b]) for a, b in pairs)
    assert found == pytest.approx(worst(values, count), abs=1e-9)


@given(st.lists(st.floats(0.5, 2.0), min_size=4, max_size=5))
def test_of_those_as_good_the_sum_of_squares_is_least(values: list[float]) -> None:
    best = min(
        (
            round(max(each), 9),
            sum(x * x for x in each),
        )
        for a, b, c, d in permutations(range(len(values)), 4)
        for each in [(apart(values[a], values[b]), apart(values[c], values[d]))]
    )
    each = [apart(values[a], values[b]) for a, b in nearest_pairs(values, 2)]
    assert round(max(each), 9) == pytest.approx(best[0], abs=2e-9)
    assert sum(x * x for x in each) <= best[1] + 1e-8


def test_pairs_that_cannot_be_are_refused() -> None:
    with pytest.raises(ValueError, match="do not make"):
        nearest_pairs([1.0, 2.0, 3.0], 2)
    with pytest.raises(ValueError, match="above 0"):
        nearest_pairs([1.0, 0.0], 1)
