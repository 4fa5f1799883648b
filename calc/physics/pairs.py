"""Pairs of measured parts that are most alike."""

from collections.abc import Iterator, Sequence
from math import log

from calc.physics.require import positive

Pair = tuple[int, int]
_SAME = 1e-12  # of a ratio; no measurement tells such pairs apart


def apart(first: float, second: float) -> float:
    """How far two values lie apart: the logarithm of their ratio, alike both ways, no unit."""
    return abs(log(first / second))


def nearest_pairs(values: Sequence[float], count: int) -> tuple[Pair, ...]:
    """So many pairs of places, no place twice, with the least difference in the worst of them; of
    those as good, the least sum of squares. In the order of their values.

    Exact: every choice is tried. There are n! / ((n - 2 k)! k! 2^k) of them, 420 at most for eight
    parts. Raises ValueError where there are too few values.
    """
    for value in values:
        positive(value=value)
    if not 1 <= count <= len(values) // 2:
        raise ValueError(f"{len(values)} parts do not make {count} pairs")
    ranked = sorted(range(len(values)), key=lambda place: (values[place], place))

    def cost(pairs: tuple[Pair, ...]) -> tuple[float, float]:
        each = [apart(values[a], values[b]) for a, b in pairs]
        return round(max(each) / _SAME) * _SAME, sum(x * x for x in each)

    return min(_choices(ranked, count), key=cost)


def _choices(places: Sequence[int], count: int) -> Iterator[tuple[Pair, ...]]:
    """Every way to take so many pairs, the first place of a pair before its second."""
    if count == 0:
        yield ()
        return
    for at in range(len(places) - 2 * count + 1):
        first, rest = places[at], places[at + 1 :]
        for other, second in enumerate(rest):
            for more in _choices((*rest[:other], *rest[other + 1 :]), count - 1):
                yield (first, second), *more
