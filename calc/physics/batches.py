"""Batches of oil mixed from shared bottles, in whole steps of a syringe or in drops. SI floats."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement
from math import ceil, inf, log

from calc.physics.oil import band, blend
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
        return (min((row[0] for row in choices[0]), key=lambda one: one[0])[1],)
    best: tuple[float, tuple[Recipe, ...] | None] = (inf, None)
    for first in choices[0]:
        for second in choices[1]:
            if first[0][0] + second[0][0] >= best[0]:
                break
            for cost, one in first:
                if cost + second[0][0] >= best[0]:
                    break
                fitting = (each for each in second if _fits(one, each[1], stock))
                found = next(fitting, None)
                if found is not None and cost + found[0] < best[0]:
                    best = cost + found[0], (one, found[1])
    return best[1]


_Weighed = list[tuple[float, Recipe]]


def _by_pair(batch: Batch, stock: Sequence[Stock]) -> list[_Weighed]:
    """For each pair of bottles its recipes that the bottles can give, the best first."""
    rows = [
        sorted(_recipes(batch, stock, *pair), key=lambda one: one[0])
        for pair in combinations_with_replacement(range(len(stock)), 2)
    ]
    return sorted((row for row in rows if row), key=lambda row: row[0][0])


def _recipes(
    batch: Batch, stock: Sequence[Stock], first: int, second: int
) -> Iterator[tuple[float, Recipe]]:
    thin, thick = sorted((first, second), key=lambda place: (stock[place].viscosity, place))
    steps = [0] if thin == thick else range(1, batch.steps)
    for count in steps:
        rest = batch.steps - count
        if count > stock[thick].steps or rest > stock[thin].steps:
            continue
        parts = [(float(rest), stock[thin].viscosity)]
        parts += [(float(count), stock[thick].viscosity)] if count else []
        low, high = band(parts)
        recipe = Recipe(thin, thick, rest, count, blend(parts), low, high)
        yield miss(recipe, batch.target), recipe


def _fits(one: Recipe, other: Recipe, stock: Sequence[Stock]) -> bool:
    places = {one.thin, one.thick, other.thin, other.thick}
    return all(one.drawn(at) + other.drawn(at) <= stock[at].steps for at in places)
