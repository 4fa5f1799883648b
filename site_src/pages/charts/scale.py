"""Upright scales of a chart, and how a straight edge joins them. Lengths in mm on paper.

A scale shows a quantity `u` (usually a logarithm) at y = zero + slope u above the foot of the
chart. A straight edge over two of them crosses a third one between them at the sum or the
difference of the two: the rule of similar triangles.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from calc.units import spelt

_ROUND = 1e-9
# Round numbers within a decade, sparse to dense, for the labels of a logarithmic scale.
_LOG_LABELS: tuple[tuple[float, ...], ...] = (
    (1,),
    (1, 2, 5),
    (1, 2, 3, 5, 7),
    (1, 1.5, 2, 3, 4, 5, 6, 8),
    (1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 9),
    (1, 1.2, 1.4, 1.6, 1.8, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9),
    (*(n / 10 for n in range(10, 20)), *(n / 5 for n in range(10, 20)), *(
        n / 2 for n in range(8, 20)
    )),
)  # fmt: skip
_STEPS = (1.0, 2.0, 5.0)


@dataclass(frozen=True)
class Upright:
    """Position and slope of a scale; y is measured from the foot of the chart."""

    x: float
    zero: float
    slope: float

    def y(self, u: float) -> float:
        return self.zero + self.slope * u


def number(value: float) -> str:
    """A round number as written beside its tick."""
    return spelt(f"{value:g}").replace("-", "−")


def spread(x: float, first: float, last: float, height: float) -> Upright:
    """The scale at x whose u runs from `first` at the foot to `last` at the top."""
    slope = height / (last - first)
    return Upright(x, -slope * first, slope)


def joined(one: Upright, other: Upright) -> Upright:
    """The scale of u_one + u_other, or of u_one - u_other if the other runs downwards."""
    along = abs(one.slope) / (abs(one.slope) + abs(other.slope))
    return Upright(
        one.x + along * (other.x - one.x),
        (1 - along) * one.zero + along * other.zero,
        (1 - along) * one.slope,
    )


def moved(line: Upright, by: float) -> Upright:
    """The scale of the quantity u + by."""
    return Upright(line.x, line.zero - line.slope * by, line.slope)


def beyond(one: Upright, other: Upright) -> Upright:
    """The scale of u_other - u_one, outside the two, which run the same way; `one` is the steeper.

    An edge over both goes on to it: y = (1 - t) y_one + t y_other with t = m_one/(m_one - m_other).
    """
    along = one.slope / (one.slope - other.slope)
    return Upright(
        one.x + along * (other.x - one.x),
        (1 - along) * one.zero + along * other.zero,
        along * other.slope,
    )


OFF = 0.3
"""How far edge and eye are off at each point, mm (standard; our judgement, no source)."""
NINETEEN_OF_TWENTY = 1.96


def crossing(
    one: Upright, other: Upright, at: Upright, one_off: float = OFF, other_off: float = OFF
) -> float:
    """How far off, mm, a place on a third scale is that an edge over two others gives, marked or
    read by eye."""
    along = (at.x - one.x) / (other.x - one.x)
    return math.hypot((1 - along) * one_off, along * other_off, OFF)


def hand_share(line: Upright, off: float) -> float:
    """By what share 19 of 20 readings of a logarithmic scale are true at most."""
    return math.expm1(NINETEEN_OF_TWENTY * off / abs(line.slope) * math.log(10))


@dataclass(frozen=True)
class Tick:
    """A tick at a value in the unit of the scale, with a `text` beside it unless empty; `fifth` if
    it is one of those by which the others are counted."""

    value: float
    y: float
    text: str = ""
    fifth: bool = False


def log_labels(low: float, high: float, y: Callable[[float], float], gap: float) -> list[float]:
    """As many round numbers from low to high as are `gap` apart, spaced evenly by ratio."""
    decades = range(math.floor(math.log10(low)) - 1, math.ceil(math.log10(high)) + 1)
    for mantissas in reversed(_LOG_LABELS):
        values = [float(f"{m}e{power}") for power in decades for m in mantissas]
        values = [v for v in values if low * (1 - _ROUND) <= v <= high * (1 + _ROUND)]
        if _apart(values, y, gap):
            return values
    raise ValueError(f"no room for labels from {low} to {high}")


def even_labels(low: float, high: float, y: Callable[[float], float], gap: float) -> list[float]:
    """Multiples, from low to high, of the smallest round step that keeps them `gap` apart."""
    power = math.floor(math.log10(high - low)) - 3
    for step in (m * 10.0**p for p in range(power, power + 5) for m in _STEPS):
        first, last = math.ceil(low / step - _ROUND), math.floor(high / step + _ROUND)
        values = [n * step for n in range(first, last + 1)]
        if _apart(values, y, gap):
            return values
    raise ValueError(f"no room for labels from {low} to {high}")


def anchored_labels(
    anchors: Sequence[float],
    y: Callable[[float], float],
    gap: float,
    steps: Sequence[float] | None = None,
) -> list[float]:
    """The anchors, and between each two the finest round step that keeps labels `gap` apart."""
    found = []
    for low, high in pairwise(anchors):
        found += [low, *_between(low, high, y, gap, steps)]
    return [*found, anchors[-1]]


def to_the_ends(
    labels: Sequence[tuple[float, str]],
    low: float,
    high: float,
    y: Callable[[float], float],
    gap: float,
) -> list[tuple[float, str]]:
    """The labels and the round ends of the scale; a label too close to an end makes way."""
    away = [label for label in labels if min(abs(y(label[0]) - y(e)) for e in (low, high)) >= gap]
    return [(low, number(low)), *away, (high, number(high))]


def ticks(
    labels: Sequence[tuple[float, str]],
    y: Callable[[float], float],
    fine: float,
    steps: Sequence[float] | None = None,
) -> tuple[Tick, ...]:
    """The labelled ticks, and between each two the finest round step that stays `fine` apart, from
    `steps` if given."""
    found = []
    for (low, text), (high, _) in pairwise(labels):
        between = _between(low, high, y, fine, steps)
        found.append(Tick(low, y(low), text))
        found += [Tick(value, y(value), fifth=_counts(value, low, between)) for value in between]
    value, text = labels[-1]
    return (*found, Tick(value, y(value), text))


def _counts(value: float, low: float, between: Sequence[float]) -> bool:
    """Whether a tick is longer: each fifth step from zero, or the middle one of three."""
    if len(between) == 3:
        return value == between[1]
    number_of_step = value / (between[0] - low)
    return len(between) > 4 and abs(number_of_step / 5 - round(number_of_step / 5)) < 1e-6


def _between(
    low: float,
    high: float,
    y: Callable[[float], float],
    fine: float,
    steps: Sequence[float] | None = None,
) -> list[float]:
    power = math.floor(math.log10(high - low)) - 2
    for step in steps or [m * 10.0**p for p in range(power, power + 3) for m in _STEPS]:
        count = round((high - low) / step)
        largest = max(abs(low), abs(high))
        if count < 2 or abs(count * step - (high - low)) > _ROUND * largest:
            continue
        values = [low + n * step for n in range(1, count)]
        if _apart([low, *values, high], y, fine):
            return values
    return []


def _apart(values: Sequence[float], y: Callable[[float], float], gap: float) -> bool:
    """Whether each two neighbours are; of many that are not, the first are enough to tell."""
    return all(abs(y(b) - y(a)) >= gap for a, b in pairwise(values))
