"""Fill: how much oil goes into one damper and into the set."""

import math
from collections.abc import Mapping

from calc import units
from calc.answering.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Step,
    Table,
    Working,
)
from calc.answering.hand import to_step
from calc.forms.cautions import opened
from calc.forms.failures import problem
from calc.forms.fill_bleed.bleed import SEEN, on_the_bench
from calc.forms.fill_bleed.inputs import Asked, EndRow
from calc.forms.names import END_LABELS, end_label, end_word
from calc.forms.writes import end_write
from calc.language import later, tr
from calc.model.car import Car
from calc.model.corners import End
from calc.physics import oil
from calc.physics.failure import Cause, PhysicsError
from calc.physics.gas import oil_volume
from calc.replying.figures import Figures, by_key, figure

_STEPS = 10  # of the table and the plot, from shaft out to the whole length
_BRIM = later(
    "Fill to the brim with the shaft fully out, let the bubbles leave, push the shaft in to where "
    "the cap is closed and let the surplus run over into a cloth."
)


def _volume(end: EndRow, shaft_in: float) -> float:
    """Oil that fits with the shaft so far in, m3. Raises Problem where nothing is left."""
    try:
        return oil_volume(end.bore, end.length, end.shaft, shaft_in, end.parts)
    except PhysicsError as failure:
        column = end.at(_TO_MEND[failure.cause])
        raise problem(column, end.label, failure) from failure


_TO_MEND = {
    Cause.SHAFT_FILLS_BORE: EndRow.shaft,
    Cause.SHAFT_THROUGH_BODY: EndRow.closed_at,
    Cause.NO_ROOM_FOR_OIL: EndRow.parts,
}
"""The column to mend, by the cause."""


class EndFigures(Figures):
    oil: float = figure("{end}: oil in one damper when the cap is closed", kind="volume")
    mass: float = figure("{end}: its mass", kind="mass")
    rise: float = figure("{end}: volume of one millimetre of the bore", kind="volume")


class FillFigures(Figures):
    ends: Mapping[End, EndFigures] = by_key(lambda end, label: label.format(end=end_label(end)))
    set: float = figure("Oil for all four dampers", kind="volume")


def figures(asked: Asked) -> FillFigures:
    ends = {end.key: _end_figures(end) for end in asked.end}
    return FillFigures(ends=ends, set=2 * sum(end.oil for end in ends.values()))


def _end_figures(end: EndRow) -> EndFigures:
    volume = _volume(end, end.closed_at)
    return EndFigures(
        oil=volume, mass=volume * oil.density(end.oil), rise=math.pi / 4 * end.bore**2 * 1e-3
    )


def solve(asked: Asked) -> Answer:
    found, ends = asked.propagate(figures), asked.end
    held = {end.key: found.value.ends[end.key].oil for end in ends}
    return Answer(
        steps=tuple(_step(asked, end, held[end.key]) for end in ends),
        quantities=asked.quantities(found),
        tables=(_table(asked, ends),),
        plots=(_plot(asked, ends),),
        cautions=(Caution(tr(_BRIM)), opened()),
        working=tuple(_working(asked, end) for end in ends),
        writes=tuple(end_write(asked, end, "inside.held", oil) for end, oil in held.items()),
    )


_COARSE = 0.05
"""Share of a fill that the mark of a syringe may be off; else it is drawn between two marks (common
practice, no source)."""


def _step(asked: Asked, end: EndRow, held: float) -> Step:
    measured = to_step(held, asked.syringe)
    amount = f"{units.entry_text(measured, 'volume', asked.system)} {asked.symbol('volume')}"
    if abs(measured / held - 1) > _COARSE:
        measured, amount = held, asked.rough(held, "volume", held * _COARSE)
    return Step(
        tr("{end}: {amount} in each damper.", end=end.label, amount=amount),
        tr(
            "That is {mass} of the {oil} oil, with the shaft {shaft_in} in when the cap is closed.",
            mass=asked.say(measured * oil.density(end.oil), "mass"),
            oil=asked.say(end.oil, "viscosity"),
            shaft_in=asked.say(end.closed_at, "length", 1),
        ),
    )


def _shafts_in(ends: tuple[EndRow, ...]) -> list[float]:
    """How far in the shafts are looked at; each as far as both bodies take."""
    deepest = min(end.length for end in ends)
    return [deepest * n / _STEPS for n in range(_STEPS + 1)]


def _fits(end: EndRow, shaft_in: float) -> float:
    return max(math.pi / 4 * (end.bore**2 * end.length - end.shaft**2 * shaft_in) - end.parts, 0.0)


def _table(asked: Asked, ends: tuple[EndRow, ...]) -> Table:
    rows = tuple(
        (
            asked.bare(shaft_in, "length", 1),
            *(asked.bare(_fits(end, shaft_in), "volume") for end in ends),
        )
        for shaft_in in _shafts_in(ends)
    )
    heads = (
        tr("Shaft in {unit}", unit=asked.symbol("length")),
        *(f"{end.label} mL" for end in ends),
    )
    return Table(tr("Oil that fits into one damper"), heads, rows)


def _plot(asked: Asked, ends: tuple[EndRow, ...]) -> Plot:
    curves = tuple(
        Curve(end_word(end.key), tuple((x, _fits(end, x)) for x in (0.0, end.length)), style)
        for end, style in zip(ends, ("main", "second"), strict=True)
    )
    return Plot(
        tr("Oil that fits against how far the shaft is in"),
        Axis(tr("Shaft pushed in by"), "length"),
        Axis(tr("Oil that fits"), "volume"),
        curves,
        tuple(_closed_mark(end) for end in ends),
        _plot_says(asked, *ends),
    )


def _closed_mark(end: EndRow) -> Mark:
    label = tr("{end} closed here", end=end_word(end.key))
    return Mark(end.closed_at, _volume(end, end.closed_at), label)


def _plot_says(asked: Asked, front: EndRow, rear: EndRow) -> str:
    return tr(
        "Front, closed at {front_in}: {front_oil}; rear, closed at {rear_in}: {rear_oil}. The "
        "shaft takes up room as it goes in, so less oil fits.",
        front_in=asked.say(front.closed_at, "length", 1),
        front_oil=asked.say(_volume(front, front.closed_at), "volume"),
        rear_in=asked.say(rear.closed_at, "length", 1),
        rear_oil=asked.say(_volume(rear, rear.closed_at), "volume"),
    )


def _working(asked: Asked, end: EndRow) -> Working:
    say = asked.say
    return Working(
        tr("oil = π/4 × (bore² × length − shaft² × shaft in) − parts"),
        f"{end.label}: π/4 × (({say(end.bore, 'length')})² × {say(end.length, 'length')} − "
        f"({say(end.shaft, 'length')})² × {say(end.closed_at, 'length')}) − "
        f"{say(end.parts, 'volume')} = {say(_volume(end, end.closed_at), 'volume')}",
        tr("volume of a cylinder"),
    )


def fill_table(car: Car, system: str = units.METRIC) -> Table:
    """For the sheet: oil in the dampers of both ends, where to close, how long to let stand."""
    rows = tuple(
        (
            tr(label),
            units.show(axle.inside.held, "volume", system),
            units.show(axle.inside.closed_at, "length", system, units.places(1, "length", system)),
            on_the_bench(axle, SEEN),
        )
        for (_, label), axle in zip(END_LABELS, (car.front, car.rear), strict=True)
    )
    bubble = units.show(SEEN, "length", system)
    heads = (
        "", tr("Each"), tr("Shaft in when closing"), tr("{size} bubbles leave in", size=bubble),
    )  # fmt: skip
    return Table(tr("Filling the dampers"), heads, rows)
