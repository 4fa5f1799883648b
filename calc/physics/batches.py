"""Batches of oil mixed from shared bottles, in whole steps of a syringe or in drops. SI floats."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import combinations_with_replacement
from math import ceil, floor, inf, log

from calc.physics.oil import Steps
from calc.physics.require import positive

MOST_STEPS = 300
"""Of one batch; a finer tool is used in multiples of its step, which no eye can tell."""


@dataclass(frozen=True)
class Stock:
    """An oil of a viscosity in m2/s at 25 C, and how many steps of it there are."""

    viscosity: float
    steps: int


@dataclass(frozen=True)
class Batch:
    """So many steps in all, to a viscosity in m2/s at 25 C."""

    target: float
    steps: int


@dataclass(frozen=True)
class Recipe:
    """Places of the two bottles in the stock, thin and thick (the same one where a bottle is taken
    as it is), steps of each, the viscosity by the log law and the band by all of them, m2/s."""

    thin: int
    thick: int
    thin_steps: int
    thick_steps: int
    viscosity: float
    low: float
    high: float

    def drawn(self, place: int) -> int:
        """Steps that it takes out of a bottle."""
        return self.thin_steps * (place == self.thin) + self.thick_steps * (place == self.thick)


def coarse(volume: float, step: float) -> tuple[int, float]:
    """Steps that cover a volume, m3, and how large each then is, m3: the tool's, or a multiple."""
    positive(volume=volume, step=step)
    many = ceil(ceil(volume / step - 1e-9) / MOST_STEPS)
    size = step * max(1, many)
    return ceil(volume / size - 1e-9), size


def miss(recipe: Recipe, target: float) -> float:
    """Square of the expected miss, in logarithms: of the log law from the target, and of half the
    band of the laws, each value in it as likely."""
    off = log(recipe.viscosity / target)
    return off * off + (log(recipe.high / recipe.low) / 2) ** 2 / 3


def shared(batches: Sequence[Batch], stock: Sequence[Stock]) -> tuple[Recipe, ...] | None:
    """A recipe for each batch, one or two of them, so that the sum of `miss` is least and no bottle
    gives more than it holds; None where the bottles do not do.

    Exact: every pair of bottles and every whole step is weighed against each other; combinations
    are left out only where even their parts alone miss by more than the best that was found.
    """
    choices = [_by_pair(batch, stock) for batch in batches]
    if not all(choices):
        return None
    if len(batches) == 1:
        return (choices[0][0].best[1],)
    best: tuple[float, tuple[Recipe, ...] | None] = (inf, None)
    for first in choices[0]:
        for second in choices[1]:
            if first.best[0] + second.best[0] >= best[0]:
                break
            for cost, one in first:
                if cost + second.best[0] >= best[0]:
                    break
                fitting = (each for each in second if _fits(one, each[1], stock))
                found = next(fitting, None)
                if found is not None and cost + found[0] < best[0]:
                    best = cost + found[0], (one, found[1])
    return best[1]


_Weighed = tuple[float, Recipe]


class _Row:
    """The recipes of a pair of bottles by what they miss, the best first, worked out only as far
    as they are looked at."""

    def __init__(self, best: _Weighed, others: Iterator[_Weighed]) -> None:
        self.best = best
        self._known, self._others = [best], others

    def __iter__(self) -> Iterator[_Weighed]:
        yield from self._known
        for each in self._others:
            self._known.append(each)
            yield each


def _by_pair(batch: Batch, stock: Sequence[Stock]) -> list[_Row]:
    """The recipes that the bottles can give, a row for each pair, that with the best first."""
    rows = []
    for pair in combinations_with_replacement(range(len(stock)), 2):
        recipes = _recipes(batch, stock, *pair)
        best = next(recipes, None)
        if best is not None:
            rows.append(_Row(best, recipes))
    return sorted(rows, key=lambda row: row.best[0])


def _recipes(batch: Batch, stock: Sequence[Stock], first: int, second: int) -> Iterator[_Weighed]:
    """Of a pair of bottles, the best first.

    What the log law misses by is a bound of `miss` from below, and rises with the distance from
    the exact share: once it is above a recipe, none that is further off can be better.
    """
    thin, thick = sorted((first, second), key=lambda place: (stock[place].viscosity, place))
    steps, blends = batch.steps, Steps(stock[thin].viscosity, stock[thick].viscosity)
    if thin == thick:
        counts: Iterable[tuple[float, int]] = [(0.0, 0)] if steps <= stock[thin].steps else []
    else:
        counts = _nearest(batch, blends, steps - stock[thin].steps, stock[thick].steps)
    waiting: list[tuple[float, int, Recipe]] = []
    for bound, count in counts:
        while waiting and waiting[0][0] <= bound:
            cost, _, recipe = heappop(waiting)
            yield cost, recipe
        recipe = Recipe(thin, thick, steps - count, count, *blends.at(steps - count, count))
        heappush(waiting, (miss(recipe, batch.target), count, recipe))
    for cost, _, recipe in sorted(waiting):
        yield cost, recipe


_ROUNDING = 1e-12
"""By which a square of a difference of logarithms may be out."""


def _nearest(batch: Batch, blends: Steps, least: int, most: int) -> Iterator[tuple[float, int]]:
    """Steps of the thick oil, from the exact share outward, with what the log law then misses by at
    least."""
    low, high = log(blends.thin / batch.target), log(blends.thick / batch.target)

    rounding = _ROUNDING if high > low else 0.0  # of two alike all blends are the same

    def bound(count: int) -> float:
        off = low + (high - low) * count / batch.steps
        return max(0.0, off * off - rounding)

    least, most = max(1, least), min(batch.steps - 1, most)
    exact = -low / (high - low) * batch.steps if high > low else 0.0
    down = min(most, floor(max(exact, 0.0)))
    up = max(least, down + 1)
    while down >= least or up <= most:
        if up > most or (down >= least and bound(down) <= bound(up)):
            yield bound(down), down
            down -= 1
        else:
            yield bound(up), up
            up += 1


def _fits(one: Recipe, other: Recipe, stock: Sequence[Stock]) -> bool:
    places = {one.thin, one.thick, other.thin, other.thick}
    return all(one.drawn(at) + other.drawn(at) <= stock[at].steps for at in places)
