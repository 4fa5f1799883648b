"""Charts of upright scales: collar, spring, temperature. A straight edge over two gives a third."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from calc import units
from calc.language import tr
from calc.physics import oil
from calc.physics.linkage import lift_per_turn
from calc.physics.spring import spring_force
from calc.units import IMPERIAL, METRIC, NBSP, turns_number
from site_src.pages.charts import draw, words
from site_src.pages.charts.draw import Drawn, Paper, Side
from site_src.pages.charts.scale import (
    Upright,
    even_labels,
    joined,
    log_labels,
    number,
    spread,
    ticks,
    to_the_ends,
)

_TURNS = (0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)
PITCH, RATIO, TURNS = (0.4, 1.5), (0.3, 1.2), (_TURNS[0], _TURNS[-1])  # mm, none, turns
LIFT, HEIGHT = (0.4, 4.0), (0.1, 30.0)  # mm
RATE, PRELOAD, FORCE = (0.1, 10.0), (0.5, 30.0), (0.05, 300.0)  # N/mm, mm, N
GRADE, VISCOSITY = (50.0, 2000.0), (30.0, 4000.0)  # cSt
COLDEST, HOTTEST = -10.0, 60.0  # degrees Celsius


@dataclass(frozen=True)
class Chart:
    """A chart, how to read it, and the law behind it."""

    key: str
    title: str
    svg: str
    how: tuple[str, ...]
    law: str


def _log(value: float) -> float:
    return math.log10(value)


def log_side(
    paper: Paper, line: Upright, low: float, high: float, kind: str, system: str = METRIC
) -> Side:
    """One side of a logarithmic scale whose u is log10 of the value in the metric unit."""
    unit, base = units.unit_of(kind, system), units.unit_of(kind, METRIC)

    def y(value: float) -> float:
        return line.y(_log(value * unit.factor / base.factor))

    first, last = (value * base.factor / unit.factor for value in (low, high))
    found = [(value, number(value)) for value in log_labels(first, last, y, paper.gap)]
    if system == METRIC:  # only its ends are round
        found = to_the_ends(found, first, last, y, paper.gap)
    return Side(unit.symbol, ticks(found, y, paper.fine))


def _scale(
    paper: Paper, key: str, head: str, line: Upright, span: tuple[float, float], kind: str
) -> Drawn:
    """A scale in metric units to the right and, where there is room, imperial ones to the left."""
    sides = [log_side(paper, line, *span, kind)]
    symbols = units.unit_of(kind, METRIC).symbol
    if not paper.small and units.unit_of(kind, IMPERIAL) is not units.unit_of(kind, METRIC):
        sides.append(draw.to_left(log_side(paper, line, *span, kind, IMPERIAL)))
        symbols = f"{sides[1].unit}{NBSP}|{NBSP}{symbols}"
    return Drawn(key, (*head.split("\n"), *((symbols,) if symbols else ())), line, tuple(sides))


def collar(paper: Paper) -> Chart:
    """Height from pitch, motion ratio and turns: h = n p / MR."""
    at = _places(paper, (18, 90, 174), (4, 24.5, 49))
    pitch = spread(at[0], _log(PITCH[0]), _log(PITCH[1]), paper.height)
    ratio = spread(at[1], _log(RATIO[1]), _log(RATIO[0]), paper.height)
    turns = spread(at[2], _log(TURNS[0]), _log(TURNS[1]), paper.height)
    lift = joined(pitch, ratio)
    height = joined(lift, turns)
    side = ticks([(n, turns_number(n)) for n in _TURNS], lambda n: turns.y(_log(n)), paper.fine)
    scales = (
        _scale(paper, "pitch", tr("Pitch", sense="chart"), pitch, PITCH, "length"),
        _scale(paper, "lift", tr("1 turn"), lift, LIFT, "length"),
        _scale(paper, "ratio", tr("Motion\nratio"), ratio, RATIO, "ratio"),
        _scale(paper, "height", tr("Height"), height, HEIGHT, "length"),
        Drawn("turns", (tr("Turns"),), turns, (Side("", side),)),
    )
    p, mr, n = 0.75, 0.65, 1.5
    one = lift_per_turn(pitch=p * 1e-3, motion_ratio=mr)
    y_lift, y_height = lift.y(_log(one * 1e3)), height.y(_log(n * one * 1e3))
    lines = (
        [(pitch.x, pitch.y(_log(p))), (lift.x, y_lift), (ratio.x, ratio.y(_log(mr)))],
        [(lift.x, y_lift), (height.x, y_height), (turns.x, turns.y(_log(n)))],
    )
    how = words.of_collar(p * 1e-3, mr, n, one)
    return _chart(
        paper, "collar", tr("Collar turns and ride height"), scales, lines, how,
        tr("height = turns × pitch / motion ratio"),
    )  # fmt: skip


def spring(paper: Paper) -> Chart:
    """Force from rate and preload: F = k s."""
    at = _places(paper, (22, 172), (8, 48))
    rate = spread(at[0], _log(RATE[0]), _log(RATE[1]), paper.height)
    preload = spread(at[1], _log(PRELOAD[0]), _log(PRELOAD[1]), paper.height)
    force = joined(rate, preload)
    scales = (
        _scale(paper, "rate", tr("Rate"), rate, RATE, "rate"),
        _scale(paper, "force", tr("Force"), force, FORCE, "force"),
        _scale(paper, "preload", tr("Preload"), preload, PRELOAD, "length"),
    )
    k, s = 0.65, 1.5
    f = spring_force(rate=k * 1e3, compression=s * 1e-3)
    line = [
        (rate.x, rate.y(_log(k))),
        (force.x, force.y(_log(f))),
        (preload.x, preload.y(_log(s))),
    ]
    how = words.of_spring(k * 1e3, s * 1e-3, f)
    law = tr("force = rate × preload, until the coils touch")
    return _chart(paper, "spring", tr("Spring force"), scales, (line,), how, law)


def temperature(paper: Paper) -> Chart:
    """Viscosity at a temperature from the grade: log nu = log nu25 + f(T)."""
    at = _places(paper, (14, 170), (4.5, 49))
    grade = spread(at[0], _log(GRADE[0]), _log(GRADE[1]), paper.height)
    warmth = spread(at[1], _factor(HOTTEST), _factor(COLDEST), paper.height)
    viscosity = joined(grade, warmth)
    heat = [_heat_side(paper, warmth, METRIC)]
    if not paper.small:
        heat.append(draw.to_left(_heat_side(paper, warmth, IMPERIAL)))
    symbols = f"{NBSP}|{NBSP}".join(side.unit for side in reversed(heat))
    scales = (
        _scale(paper, "grade", tr("Oil at\n25 °C"), grade, GRADE, "viscosity"),
        _scale(paper, "viscosity", tr("Oil at\nthis heat"), viscosity, VISCOSITY, "viscosity"),
        Drawn("temperature", (symbols,), warmth, tuple(heat)),
    )
    oil_25, warm, cold = 400.0, 35.0, 20.0
    there = oil.viscosity_at(oil_25 * 1e-6, warm + 273.15)
    same = oil.viscosity_25_from(there, cold + 273.15)
    y_there = viscosity.y(_log(there * 1e6))
    lines = tuple(
        [(grade.x, grade.y(_log(nu))), (viscosity.x, y_there), (warmth.x, warmth.y(_factor(t)))]
        for nu, t in ((oil_25, warm), (same * 1e6, cold))
    )
    how = words.of_temperature(oil_25 * 1e-6, there, warm, same, cold)
    law = tr("log₁₀ (ν / ν₂₅) = 763.1 (1/T − 1/298.15 K), silicone oil, from makers' data")
    return _chart(paper, "temperature", tr("Oil and temperature"), scales, lines, how, law)


def _factor(celsius: float) -> float:
    return _log(oil.viscosity_at(1.0, celsius + 273.15))


def _heat_side(paper: Paper, line: Upright, system: str) -> Side:
    unit = units.unit_of("temperature", system)

    def y(value: float) -> float:
        return line.y(_factor(unit.to_si(value) - 273.15))

    first, last = (round(unit.from_si(value + 273.15), 6) for value in (COLDEST, HOTTEST))
    found = even_labels(first, last, y, paper.gap)
    labels = [(value, number(value)) for value in found]
    return Side(unit.symbol, ticks(labels, y, paper.fine))


def _places(paper: Paper, page: Sequence[float], small: Sequence[float]) -> Sequence[float]:
    return small if paper.small else page


def _chart(
    paper: Paper,
    key: str,
    title: str,
    scales: Sequence[Drawn],
    lines: Sequence[Sequence[draw.Point]],
    how: tuple[str, ...],
    law: str,
) -> Chart:
    body = [draw.scale(paper, one) for one in scales]
    body += [draw.worked(paper, line) for line in lines]
    says = tr("Upright scales for a straight edge. {law}.", law=law)
    return Chart(key, title, draw.picture(paper, key, title, says, "".join(body)), how, law)


MAKERS: tuple[Callable[[Paper], Chart], ...] = (collar, spring, temperature)
