"""The best whole steps of four collars for wanted heights and a cross weight. SI floats."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, inf

from calc.physics.chassis import Change, Point, Wheel, shares, turn_collars
from calc.physics.linear import triangular
from calc.physics.require import finite, positive

# Misfits this close, in squared tolerances, are one to a hand: then the fewer turns win.
NEAR = 0.05
# With no cross weight wanted the diagonals stay as they are, to this many height tolerances.
_WARP_LOOSE = 10.0
# A slight cost of any turn, so that too few measuring points still have one answer.
_RIDGE = 1e-3


@dataclass(frozen=True, slots=True)
class Wish:
    """The goal of the collars: rises in m wanted at points (x, y), each to a tolerance in m;
    a cross weight (share of the total) or None, to its own tolerance."""

    points: tuple[Point, ...]
    rises: tuple[float, ...]
    height_tolerance: float = 0.2e-3
    cross_weight: float | None = None
    cross_tolerance: float = 0.005

    def __post_init__(self) -> None:
        positive(height_tolerance=self.height_tolerance, cross_tolerance=self.cross_tolerance)
        if not self.points or len(self.points) != len(self.rises):
            raise ValueError("every measuring point needs the rise wanted there")
        for rise in self.rises:
            finite(rise=rise)
        if self.cross_weight is not None and not 0.0 < self.cross_weight < 1.0:
            raise ValueError("the cross weight wanted must lie between 0 and 1")


@dataclass(frozen=True, slots=True)
class Plan:
    """Whole steps for each collar (positive: down, which raises the car), the same in turns, their
    effect, and the misfit left: the sum of squared misses, each in its own tolerance."""

    steps: tuple[int, ...]
    turns: tuple[float, ...]
    change: Change
    misfit: float


def best_turns(
    corners: Sequence[Wheel],
    wish: Wish,
    *,
    loads: Sequence[float] | None = None,
    step: float = 0.25,
    limits: Sequence[tuple[float, float]] = ((-8.0, 8.0),) * 4,
) -> Plan:
    """The steps of each collar that come nearest the wish; among near ties the fewest turns.

    loads: the four corner loads now, N (needed for a cross weight); step: the least turn of the
    hand; limits: turns at the furthest up (negative) and at the furthest down of each collar.
    Exact: an integer least-squares search that drops no candidate that could win (Schnorr and
    Euchner 1994; Agrell and others, IEEE Trans. Inf. Theory 48 (2002) 2201). Raises ValueError
    where a collar has no free step.
    """
    rows, wanted = equations(corners, wish, loads=loads, step=step)
    upper, target = triangular(rows, wanted)
    away = sum(v * v for v in wanted) - sum(v * v for v in target)
    bounds = [_whole_steps(low, high, step) for low, high in limits]
    steps, misfit = _fewest_turns(
        upper, target, bounds, _least_misfit(upper, target, bounds) + NEAR
    )
    turns = tuple(n * step for n in steps)
    return Plan(steps, turns, turn_collars(corners, turns), max(0.0, away) + misfit)


def equations(
    corners: Sequence[Wheel], wish: Wish, *, loads: Sequence[float] | None, step: float
) -> tuple[list[list[float]], list[float]]:
    """The wish as rows over the four numbers of steps, each row in its own tolerance."""
    positive(step=step)
    effects = [turn_collars(corners, [step * float(i == j) for i in range(4)]) for j in range(4)]
    rows = [[e.rise(p) / wish.height_tolerance for e in effects] for p in wish.points]
    wanted = [rise / wish.height_tolerance for rise in wish.rises]
    diagonal = [e.cross for e in effects]
    if wish.cross_weight is None:
        # No load: the diagonal's change as the height that the mean spring would give for it.
        mean = sum(corner.rate for corner in corners) / len(corners)
        unit = mean * wish.height_tolerance * _WARP_LOOSE
        wanted.append(0.0)
    elif loads is None:
        raise ValueError("a cross weight needs the four corner loads as they are now")
    else:
        now = shares(loads)
        unit = now.total * wish.cross_tolerance
        wanted.append((wish.cross_weight - now.cross) / wish.cross_tolerance)
    rows.append([d / unit for d in diagonal])
    for i in range(len(corners)):
        rows.append([_RIDGE * float(i == j) for j in range(4)])
        wanted.append(0.0)
    return rows, wanted


def _whole_steps(low: float, high: float, step: float) -> tuple[int, int]:
    """The whole steps that lie between two limits in turns (a hair outside counts as inside)."""
    finite(lower_limit=low, upper_limit=high)
    least, most = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    if least > most:
        raise ValueError("the limits leave a collar no whole step to stand at")
    return least, most


@dataclass(slots=True)
class _Limit:
    """The highest cost of a candidate; tightened while the search goes on."""

    misfit: float
    count: float


def _least_misfit(
    upper: list[list[float]], target: list[float], bounds: list[tuple[int, int]]
) -> float:
    """The smallest misfit of any steps inside the bounds."""
    limit = _Limit(inf, inf)
    for _, misfit in _search(upper, target, bounds, limit, (), 0.0):
        limit.misfit = misfit
    return limit.misfit


def _fewest_turns(
    upper: list[list[float]], target: list[float], bounds: list[tuple[int, int]], allowed: float
) -> tuple[tuple[int, ...], float]:
    """Of all steps with a misfit not above the allowed one: the fewest, then the best."""
    limit = _Limit(allowed, inf)
    best: tuple[float, float, tuple[int, ...]] = (inf, inf, ())
    for steps, misfit in _search(upper, target, bounds, limit, (), 0.0):
        best = min(best, (float(sum(map(abs, steps))), misfit, steps))
        limit.count = best[0]
    return best[2], best[1]


def _search(
    upper: list[list[float]],
    target: list[float],
    bounds: list[tuple[int, int]],
    limit: _Limit,
    chosen: tuple[int, ...],
    spent: float,
) -> Iterator[tuple[tuple[int, ...], float]]:
    """Every whole solution within the limit, last collar first, each level outward from its best.

    Outward the misfit only grows, so the first one beyond the limit ends a level.
    """
    level = len(target) - 1 - len(chosen)
    if level < 0:
        yield chosen, spent
        return
    row = upper[level]
    known = sum(r * n for r, n in zip(row[level + 1 :], chosen, strict=True))
    centre = (target[level] - known) / row[level]
    used = sum(map(abs, chosen))
    for n in _outward(centre, *bounds[level]):
        misfit = spent + (row[level] * (n - centre)) ** 2
        if misfit > limit.misfit:
            return
        if used + abs(n) <= limit.count:
            yield from _search(upper, target, bounds, limit, (n, *chosen), misfit)


def _outward(centre: float, least: int, most: int) -> Iterator[int]:
    """Whole numbers from least to most, the nearest to the centre first."""
    above = max(least, min(most, ceil(centre)))
    below = above - 1
    while above <= most or below >= least:
        if below < least or (above <= most and above - centre <= centre - below):
            yield above
            above += 1
        else:
            yield below
            below -= 1
