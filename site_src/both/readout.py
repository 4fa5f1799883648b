"""Values of a plot where it is touched, and the table under it: texts of places along its x axis.

The places are those at which the form has computed the curves, so nothing is guessed between them.
Straight lines, which have few points, are read at round places instead. Runs at build time and in
the browser; the page then only looks up the place nearest to the finger.
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from calc import units
from calc.answering.answer import Axis, Plot, Table

Point = tuple[float, float]
_SAMPLED = 8  # points; a curve of fewer is made of straight lines
_MOST_STOPS, _MOST_ROWS = 40, 12
_TOLERANCE = 1e-9  # of the width; places this close are the same
_RESOLUTION = 0.02  # of the distance between two places; finer differences are not written
_MINUTE = 1 / 60  # h
_TIMES = tuple(n * _MINUTE for n in (1, 5, 15, 30, 60, 120, 240, 360, 720))
_EIGHTHS = tuple(n / 8 for n in (1, 2, 4, 8, 16, 32, 64, 128))


@dataclass(frozen=True)
class Column:
    """An axis or a curve by name: its text at each place ("" where it has none), and the unit to
    put behind a number, including the space."""

    name: str
    unit: str
    texts: tuple[str, ...]

    @property
    def widest(self) -> str:
        return max(self.texts, key=len, default="")


@dataclass(frozen=True)
class Readout:
    """Places along the x axis in the unit shown, and the values there; the first column is the
    place itself. A vertical curve has no value at a place and no column."""

    places: tuple[float, ...]
    columns: tuple[Column, ...]


def readout(plot: Plot, curves: Sequence[Sequence[Point]], system: str, step: float) -> Readout:
    """The values along a plot. `curves` are its curves in the units shown; `step` is the one
    between the numbers at the y axis."""
    places = _stops(curves, plot.x.kind)
    return _read(plot, curves, system, step, places)


def table(plot: Plot, curves: Sequence[Sequence[Point]], system: str, step: float) -> Table:
    """The plot as a table of a dozen rows."""
    read = _read(plot, curves, system, step, _rows(curves, plot.x.kind))
    heads = tuple(f"{column.name} {column.unit.strip()}".strip() for column in read.columns)
    rows = tuple(zip(*(c.texts for c in read.columns), strict=True))
    return Table(plot.title, heads, rows)


def _read(
    plot: Plot,
    curves: Sequence[Sequence[Point]],
    system: str,
    step: float,
    places: Sequence[float],
) -> Readout:
    decimals = _decimals(plot.y, system, step)
    columns = [_axis_column(plot.x, system, places)]
    unit = _unit(plot.y.kind, system)
    for curve, points in zip(plot.curves, curves, strict=True):
        if has_values(points):
            values = _interpolate(points, places)
            columns.append(Column(curve.label, unit, _texts(values, decimals)))
    return Readout(tuple(places), tuple(columns))


def round_step(least: float) -> float:
    """The smallest of 1, 2 or 5 times a power of ten that is not below `least`."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= least * (1 - _TOLERANCE))


def has_values(points: Sequence[Point]) -> bool:
    """Whether a curve has any extent along the x axis."""
    return any(a[0] != b[0] for a, b in pairwise(points))


def _axis_column(axis: Axis, system: str, places: Sequence[float]) -> Column:
    if axis.kind == "turns":  # written as fractions, as a hand counts them
        return Column(axis.label, "", tuple(map(units.turns_number, places)))
    if axis.kind == "clock":
        return Column(axis.label, "", tuple(map(time_text, places)))
    return Column(axis.label, _unit(axis.kind, system), _texts(places, _decimals_needed(places)))


def time_text(hours: float) -> str:
    """A time of day as on a clock: the minute that has begun."""
    hour, minute = divmod(math.floor(hours / _MINUTE + _TOLERANCE), 60)
    return f"{hour:02}:{minute:02}"


def _unit(kind: str, system: str) -> str:
    return units.gap(units.unit_of(kind, system)) + units.symbol_text(kind, system)


def _decimals(axis: Axis, system: str, step: float) -> int:
    """As in the answer, or one more than the numbers at the axis."""
    return max(
        units.unit_of(axis.kind, system).decimals, 1 - math.floor(math.log10(step) + _TOLERANCE)
    )


def _decimals_needed(places: Sequence[float]) -> int:
    """Enough decimals to write the places exactly, or else to tell them well apart."""
    if len(places) < 2:
        return 1
    apart = (places[-1] - places[0]) / (len(places) - 1)
    most = max(0, math.ceil(-math.log10(_RESOLUTION * apart)))
    fine = _TOLERANCE * apart * len(places)
    for decimals in range(most + 2):
        if all(abs(round(place, decimals) - place) <= fine for place in places):
            return decimals
    return most


def _texts(values: Sequence[float | None], decimals: int) -> tuple[str, ...]:
    """Formatted in one go: a plot of 50 places is read again at every key press."""
    # Adding zero makes a negative zero a plain one.
    numbers = [
        "" if value is None else f"{round(value, decimals) + 0.0:.{decimals}f}" for value in values
    ]
    return tuple(units.spelt("|".join(numbers)).replace("-", "−").split("|"))


def _interpolate(points: Sequence[Point], places: Sequence[float]) -> list[float | None]:
    """Height of a curve at each place; at a jump, the height behind it."""
    pieces = sorted(tuple(sorted((a, b))) for a, b in pairwise(points) if a[0] != b[0])
    lefts = [left for (left, _), _ in pieces]
    slack = _TOLERANCE * (max(right for _, (right, _) in pieces) - lefts[0])
    return [
        _height_on(pieces[max(bisect_right(lefts, x + slack) - 1, 0)], x, slack) for x in places
    ]


def _height_on(piece: tuple[Point, ...], x: float, slack: float) -> float | None:
    (left, start), (right, end) = piece
    if not left - slack <= x <= right + slack:
        return None
    return start + (end - start) * (min(max(x, left), right) - left) / (right - left)


def _stops(curves: Sequence[Sequence[Point]], kind: str) -> list[float]:
    """Places at which a plot is read: every point of a curve, and round places on straight
    lines."""
    corners = [x for curve in curves if has_values(curve) for x, _ in curve]
    if _is_sampled(curves) or not corners:
        return _distinct(corners)
    return _distinct([*corners, *round_places(min(corners), max(corners), kind, _MOST_STOPS)])


def _rows(curves: Sequence[Sequence[Point]], kind: str) -> list[float]:
    longest = _distinct([x for x, _ in max(curves, key=len, default=())])
    if _is_sampled(curves):
        return _thinned(longest)
    corners = [x for curve in curves if has_values(curve) for x, _ in curve]
    if not corners:
        return longest
    low, high = min(corners), max(corners)
    return _distinct([low, *round_places(low, high, kind, _MOST_ROWS), high])


def _is_sampled(curves: Sequence[Sequence[Point]]) -> bool:
    return max(map(len, curves), default=0) >= _SAMPLED


def _thinned(places: Sequence[float]) -> list[float]:
    """At most thirteen places, evenly spaced if possible, with the first and the last."""
    gaps = len(places) - 1
    least = max(1, math.ceil(gaps / _MOST_ROWS))
    step = next((n for n in (least, least + 1) if gaps % n == 0), least)
    return _distinct([*places[::step], places[-1]])


def _distinct(places: Sequence[float]) -> list[float]:
    """Sorted, and only the first of places that look the same."""
    ordered = sorted(set(places))
    slack = _TOLERANCE * (ordered[-1] - ordered[0]) if ordered else 0.0
    kept = ordered[:1]
    for place in ordered[1:]:
        if place - kept[-1] > slack:
            kept.append(place)
    return kept


def round_places(low: float, high: float, kind: str, most: int) -> list[float]:
    """Round places from `low` to `high`: fractions of a turn that a hand can make, times of day as
    on a clock, whole counts."""
    least = (high - low) / most
    if least <= 0:
        return [low]
    if steps := {"turns": _EIGHTHS, "clock": _TIMES}.get(kind):
        step = next((part for part in steps if part >= least), steps[-1])
    else:
        step = max(round_step(least), 1.0) if kind == "count" else round_step(least)
    first, last = math.ceil(low / step - _TOLERANCE), math.floor(high / step + _TOLERANCE)
    return [n * step for n in range(first, last + 1)]
