"""Parts that all charts of upright scales have: a straight edge over two scales gives a third."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import log10

from calc import units
from calc.language import tr
from calc.units import IMPERIAL, METRIC, NBSP
from site_src.pages.charts import draw
from site_src.pages.charts.draw import Drawing, Drawn, Paper, Side
from site_src.pages.charts.scale import Upright, log_labels, number, ticks, to_the_ends

Span = tuple[float, float]
_SPLIT = re.compile(r"(?<=\d) (?=°C|mm\b|cSt|N\b|lbf|mPa|%|:)|(?<= :) (?=\d)")


@dataclass(frozen=True)
class Chart:
    """A chart, how to read it, the law behind it, and how true a reading is: 19 of 20 lie `within`
    this share of the value (a length in m, where the sentence says so)."""

    key: str
    title: str
    svg: str
    how: tuple[str, ...]
    law: str
    accuracy: str
    within: float

    def sentences(self, general: Sequence[str], with_law: bool) -> list[str]:
        """The text below it, with each number and its unit on one line."""
        last = [tr("Formula: {law}.", law=self.law)] if with_law else []
        return [_SPLIT.sub(NBSP, one) for one in (*self.how, *general, self.accuracy, *last)]


def log_side(
    paper: Paper,
    line: Upright,
    span: Span,
    kind: str,
    system: str = METRIC,
    law: Callable[[float], float] = log10,
) -> Side:
    """One side of a scale whose u is a `law` of the value in the metric unit: its logarithm, or
    what bends little from it."""
    unit, base = units.unit_of(kind, system), units.unit_of(kind, METRIC)

    def y(value: float) -> float:
        return line.y(law(value * unit.factor / base.factor))

    first, last = (value * base.factor / unit.factor for value in span)
    found = [(value, number(value)) for value in log_labels(first, last, y, paper.gap)]
    if system == METRIC:  # only its ends are round
        found = to_the_ends(found, first, last, y, paper.gap)
    return Side(unit.symbol, ticks(found, y, paper.fine))


def both_sides(paper: Paper, kind: str, side: Callable[[str], Side]) -> tuple[Side, ...]:
    """Metric units to the right and, where there is room, imperial ones to the left."""
    made = [side(METRIC)]
    if not paper.small and units.unit_of(kind, IMPERIAL) is not units.unit_of(kind, METRIC):
        made.append(draw.to_left(side(IMPERIAL)))
    return tuple(made)


def headed(head: str, sides: Sequence[Side]) -> tuple[str, ...]:
    """A head and below it the units, in the order in which they stand."""
    symbols = f"{NBSP}|{NBSP}".join(side.unit for side in reversed(sides) if side.unit)
    return (*(head.split("\n") if head else ()), *((symbols,) if symbols else ()))


def log_scale(
    paper: Paper,
    key: str,
    head: str,
    line: Upright,
    span: Span,
    kind: str,
    place: tuple[int, bool],
    law: Callable[[float], float] = log10,
) -> Drawn:
    """A logarithmic scale, or one of a `law` as in `log_side`; `place` is its number in the order
    of use, and whether it is read."""
    sides = both_sides(paper, kind, lambda system: log_side(paper, line, span, kind, system, law))
    return Drawn(key, headed(head, sides), line, sides, *place)


def upright_chart(
    paper: Paper,
    key: str,
    title: str,
    scales: Sequence[Drawn],
    lines: Sequence[Sequence[draw.Point]],
    law: str,
) -> tuple[str, str, str]:
    """Key, title and picture of a chart of upright scales, with its worked lines."""
    drawing = Drawing(paper)
    for one in scales:
        drawing.scale(one)
    for line in lines:
        drawing.worked(line)
    says = tr("Upright scales for a straight edge. {law}.", law=law)
    return key, title, drawing.picture(key, title, says)
