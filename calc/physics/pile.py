"""A pile of loose spacers that comes nearest to a thickness. Lengths in m."""

from collections.abc import Sequence
from itertools import combinations

from calc.physics.require import finite, positive

_SAME = 1e-9  # m; no calliper tells such piles apart


def nearest_pile(sizes: Sequence[float], wanted: float) -> tuple[int, ...]:
    """Places in `sizes`, each taken once at most, whose sum is nearest to `wanted`; of those that
    are as near, the fewest. Exact: every choice is tried (up to 2^n of them)."""
    finite(wanted=wanted)
    for size in sizes:
        positive(size=size)
    best: tuple[int, ...] = ()
    off = abs(wanted)
    for count in range(1, len(sizes) + 1):
        for picked in combinations(range(len(sizes)), count):
            miss = abs(sum(sizes[place] for place in picked) - wanted)
            if miss < off - _SAME:
                best, off = picked, miss
    return best
