"""A plot of an answer as SVG: readable on a phone and on paper without colour.

Curves differ in their line and carry their names, instead of a legend far away. Runs at build time
and in the browser.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc import units
from calc.answering.answer import Axis, Curve, Plot, Table
from site_src.both.ink import SIZE, Picture, clean, fit, label, number, picture, width_of
from site_src.both.placing import Box, Field, Pixel, along
from site_src.both.readout import (
    Column,
    Readout,
    has_values,
    readout,
    round_places,
    round_step,
    table,
    time_text,
)

WIDTH, HEIGHT = 360, 240
_TOP, _FOOT, _EDGE = 24.0, 40.0, 4.0
_LONGEST_LABEL = 150.0  # px; a longer label is cut
_RING = 4.5
_PLACES = 4  # decimals beside an axis; smaller numbers are written with a power of ten
_TO_BASELINE = 4.0  # px from the middle of a line of text down to its baseline
_PADDING = 2.0  # px, free on either side of a label
# Line width and dashes by style; a second curve of a style takes the next of its row.
_LINES = {
    "main": ((2.6, ""), (2.6, "14 3")),
    "second": ((1.8, "7 4"), (1.8, "7 3 2 3")),
    "limit": ((1.1, "1.5 3"), (1.1, "4 3")),
    "points": ((7.0, ""), (7.0, "")),
}
_DOTS = ("round", "square")


@dataclass(frozen=True)
class _Scale:
    """From SI to px along one axis, with the round numbers beside it."""

    low: float
    high: float
    start: float
    end: float
    ticks: tuple[float, ...]
    texts: tuple[str, ...]

    def px(self, shown: float) -> float:
        return self.start + (shown - self.low) / (self.high - self.low) * (self.end - self.start)

    @property
    def step(self) -> float:
        return self.ticks[1] - self.ticks[0]


@dataclass(frozen=True)
class Figure:
    """A plot, the values to read along it, and the same relation as a table."""

    picture: Picture
    columns: tuple[Column, ...]
    table: Table


def figure(plot: Plot, system: str, key: str) -> Figure:
    """The plot in the units of `system`; `key` makes its ids unique on the page.

    The axis has the places at which the plot can be read and their texts as attributes, each curve
    the texts of its values there: the page looks them up where it is touched.
    """
    x_unit, y_unit = units.unit_of(plot.x.kind, system), units.unit_of(plot.y.kind, system)
    curves = [
        [(x_unit.from_si(x), y_unit.from_si(y)) for x, y in curve.points] for curve in plot.curves
    ]
    marks = [(x_unit.from_si(mark.x), y_unit.from_si(mark.y)) for mark in plot.marks]
    points = [point for curve in curves for point in curve] + marks
    x, y = _scales(points, plot.x.kind)
    lines = [[(x.px(a), y.px(b)) for a, b in curve] for curve in curves]
    rings = [(x.px(a), y.px(b)) for a, b in marks]
    read = readout(plot, curves, system, y.step)
    body = [
        _frame(x, y, read),
        _axis_labels(plot, system),
        _draw_curves(plot.curves, lines, read.columns[1:]),
        _draw_rings(rings),
        _place_labels(plot, x, lines, rings),
    ]
    drawn = picture(key, WIDTH, HEIGHT, plot.title, plot.says, "".join(body), "plot")
    return Figure(drawn, read.columns, table(plot, curves, system, y.step))


def _scales(points: Sequence[Pixel], kind: str) -> tuple[_Scale, _Scale]:
    """The x scale, of this kind, and the y scale."""
    y_low, y_high, y_ticks, y_texts = _round_ticks(_bounds([y for _, y in points]), 6, outward=True)
    left = max(map(width_of, y_texts), default=0.0) + 10
    x_low, x_high = _bounds([x for x, _ in points])
    for count in (8, 6, 5, 3, 2):
        x_ticks, x_texts = _x_ticks((x_low, x_high), kind, count)
        if sum(width_of(text) + SIZE for text in x_texts) < WIDTH - left:
            break
    right = WIDTH - max(8.0, width_of(x_texts[-1] if x_texts else "") / 2 + 2)
    x = _Scale(x_low, x_high, left, right, tuple(x_ticks), tuple(x_texts))
    return x, _Scale(y_low, y_high, HEIGHT - _FOOT, _TOP, tuple(y_ticks), tuple(y_texts))


def _x_ticks(span: tuple[float, float], kind: str, most: int) -> tuple[list[float], list[str]]:
    """Round numbers, or times of day, and their texts."""
    if kind == "clock":
        times = round_places(*span, kind, most)
        return times, [time_text(time) for time in times]
    least = 1.0 if kind == "count" else 0.0
    _, _, ticks, texts = _round_ticks(span, most, outward=False, least=least)
    return ticks, texts


def _bounds(values: Sequence[float]) -> tuple[float, float]:
    """Lowest and highest, moved apart if they are equal."""
    low, high = min(values, default=0.0), max(values, default=1.0)
    if high - low <= 1e-9 * max(abs(low), abs(high)):
        room = abs(low) * 0.1 or 1.0
        return low - room, high + room
    return low, high


def _round_ticks(
    span: tuple[float, float], most: int, *, outward: bool, least: float = 0.0
) -> tuple[float, float, list[float], list[str]]:
    """Round numbers (1, 2, 5 times a power of ten), `least` apart, at most `most`, and their texts.

    `outward` widens the span to the round numbers around it.
    """
    low, high = span
    step = max(round_step((high - low) / most), least)
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    slack = 0.0 if outward else 1e-6
    first, last = low / step, high / step
    if outward:
        first, last = math.floor(first + 1e-6), math.ceil(last - 1e-6)
    # Adding zero makes a negative zero a plain one.
    ticks = [n * step + 0.0 for n in range(math.ceil(first - slack), math.floor(last + slack) + 1)]
    form = f".{places}f" if places <= _PLACES and abs(ticks[-1]) < 1e7 else ".6g"
    texts = [units.spelt(f"{tick:{form}}").replace("-", "−") for tick in ticks]
    return (first * step, last * step, ticks, texts) if outward else (low, high, ticks, texts)


def _frame(x: _Scale, y: _Scale, read: Readout) -> str:
    """Grid, axes and the numbers beside them."""
    grid = [f"M{number(x.px(t))} {number(y.end)}V{number(y.start)}" for t in x.ticks]
    grid += [f"M{number(x.start)} {number(y.px(t))}H{number(x.end)}" for t in y.ticks]
    axes = f"M{number(x.start)} {number(y.end)}V{number(y.start)}H{number(x.end)}"
    texts = [
        label(x.px(tick), y.start + 17, text, "middle")
        for tick, text in zip(x.ticks, x.texts, strict=True)
    ]
    texts += [
        label(x.start - 5, y.px(tick) + _TO_BASELINE, text, "end")
        for tick, text in zip(y.ticks, y.texts, strict=True)
    ]
    return (
        f'<path class="plot-grid" d="{"".join(grid)}" stroke="currentColor" stroke-width="0.6"'
        ' stroke-opacity="0.25"/>'
        f'<path class="plot-axis" d="{axes}" stroke="currentColor" stroke-width="1"'
        f' data-stops="{" ".join(number(x.px(place)) for place in read.places)}"'
        f"{_reads_attribute(read.columns[0])}/>"
        f'<g class="plot-ticks" fill="currentColor">{"".join(texts)}</g>'
    )


def _reads_attribute(column: Column) -> str:
    return f' data-reads="{clean("|".join(column.texts))}"'


def _axis_labels(plot: Plot, system: str) -> str:
    room = WIDTH - 2 * _EDGE
    unit = "" if plot.x.kind == "clock" else units.symbol_text(plot.x.kind, system)
    across = fit(_with_unit(plot.x, unit), room)
    upward = fit(_with_unit(plot.y, units.symbol_text(plot.y.kind, system)), room)
    return (
        '<g class="plot-axis-label" fill="currentColor">'
        + label(_EDGE, SIZE + 1, upward)
        + label(WIDTH - _EDGE, HEIGHT - _EDGE - 1, across, "end")
        + "</g>"
    )


def _with_unit(axis: Axis, symbol: str) -> str:
    """The label of the axis with its unit, unless the label names the unit already, abbreviated or
    in full."""
    short = symbol.lower()
    words = axis.label.lower().split()
    named = short in words or (len(short) > 3 and any(word.startswith(short) for word in words))
    return axis.label if named or not symbol else f"{axis.label}, {symbol}"


def _draw_curves(
    curves: Sequence[Curve], lines: Sequence[Sequence[Pixel]], read: Sequence[Column]
) -> str:
    drawn = []
    used = dict.fromkeys(_LINES, 0)
    columns = iter(read)
    for curve, line in zip(curves, lines, strict=True):
        if not line:
            continue
        row = _LINES[curve.style]
        width, dashes = row[used[curve.style] % len(row)]
        used[curve.style] += 1
        points = "L".join(f"{number(a)} {number(b)}" for a, b in line)
        dash = f' stroke-dasharray="{dashes}"' if dashes else ""
        reads = _reads_attribute(next(columns)) if has_values(curve.points) else ""
        if curve.style == "points":  # nothing is between one and the next
            cap = _DOTS[(used[curve.style] - 1) % len(_DOTS)]
            dots = "".join(f"M{number(a)} {number(b)}h0.01" for a, b in line)
            drawn.append(
                f'<path d="M{points}" stroke="none"{reads}/><path class="plot-points" d="{dots}"'
                f' stroke="currentColor" stroke-width="{width}" stroke-linecap="{cap}"/>'
            )
            continue
        drawn.append(
            f'<path class="plot-{curve.style}" d="M{points}" stroke="currentColor"'
            f' stroke-width="{width}"{dash} stroke-linejoin="round"{reads}/>'
        )
    return "".join(drawn)


def _draw_rings(rings: Sequence[Pixel]) -> str:
    return "".join(
        f'<circle class="plot-mark" cx="{number(a)}" cy="{number(b)}" r="{_RING}"'
        ' stroke="currentColor" stroke-width="2"/>'
        for a, b in rings
    )


def _place_labels(
    plot: Plot, x: _Scale, lines: Sequence[Sequence[Pixel]], rings: Sequence[Pixel]
) -> str:
    """Labels of marks, then of curves, each where it hides nothing and no other label."""
    field = Field(Box(x.start + 2, _TOP - 2, x.end, HEIGHT - _FOOT - 2), lines)
    for a, b in rings:
        field.reserve(Box(a - _RING, b - _RING, a + _RING, b + _RING))
    texts, leaders = [], []
    for words, anchors, own in _labelled(plot, lines, rings):
        text = fit(words, _LONGEST_LABEL)
        spot = field.place(width_of(text) + 2 * _PADDING, SIZE, anchors, own)
        if spot is None:
            continue
        texts.append(label(spot.box.left + _PADDING, spot.box.bottom - 2.5, text))
        if spot.leader:
            (a, b), (c, d) = spot.leader
            leaders.append(f"M{number(a)} {number(b)}L{number(c)} {number(d)}")
    named = f'<g class="plot-label" fill="currentColor">{"".join(texts)}</g>'
    return (_draw_leaders(leaders) if leaders else "") + named


def _draw_leaders(leaders: Sequence[str]) -> str:
    return (
        f'<path class="plot-leader" d="{"".join(leaders)}" stroke="currentColor"'
        ' stroke-width="0.8"/>'
    )


def _labelled(
    plot: Plot, lines: Sequence[Sequence[Pixel]], rings: Sequence[Pixel]
) -> Iterator[tuple[str, Sequence[Pixel], int | None]]:
    """(label, possible anchors, index of its curve) of everything that has a name."""
    for mark, ring in zip(plot.marks, rings, strict=True):
        yield mark.label, [ring], None
    for place, (curve, line) in enumerate(zip(plot.curves, lines, strict=True)):
        if line:
            yield curve.label, along(line), place
