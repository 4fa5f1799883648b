"""The pile of spacers nearest to a thickness, against every choice written out."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics.pile import nearest_pile

SIZES = st.lists(st.sampled_from([0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.5]), min_size=1, max_size=6)


@given(SIZES, st.floats(-3, 20))
def test_no_choice_is_nearer_and_none_as_near_has_fewer(sizes: list[float], wanted: float) -> None:
    picked = nearest_pile(sizes, wanted)
    miss = abs(sum(sizes[place] for place in picked) - wanted)
    for taken in product((0, 1), repeat=len(sizes)):
        other = abs(sum(s for s, t in zip(sizes, taken, strict=True) if t) - wanted)
        assert miss <= other + 1e-8
        if abs(other - miss) < 1e-12:
            assert len(picked) <= sum(taken)


def test_a_size_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="size"):
        nearest_pile([1e-3, 0.0], 1e-3)
