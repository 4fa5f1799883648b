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
    Write,
)
from calc.answering.hand import to_step
from calc.asking.entry import Rows, When
from calc.forms.cautions import opened
from calc.forms.common.failures import problem
from calc.forms.fill_bleed.bleed import on_the_bench
from calc.forms.names import END_LABELS, end_label, end_word
from calc.language import later, tr
from calc.model.car import Car
from calc.model.corners import End
from calc.physics import oil
from calc.physics.failure import Cause, PhysicsError
from calc.physics.gas import oil_volume
from calc.replying.form import Given, Row, from_car

_BUBBLE = 0.1e-3  # m; the smallest that can just be seen in clear oil
_STEPS = 10  # of the table and the plot, from shaft out to the whole length
_BRIM = later(
    "Fill to the brim with the shaft fully out, let the bubbles leave, push the shaft in to where "
    "the cap is closed and let the surplus run over into a cloth."
)


def fill_fields(when: When) -> tuple[Rows, ...]:
    return (
        Rows(
            "Dampers of each end",
            (
                from_car("{row}.inside.length"),
                from_car("{row}.bore"),
                from_car("{row}.shaft"),
                from_car("{row}.inside.closed_at"),
                from_car("{row}.inside.parts"),
                from_car("{row}.oil"),
            ),
            END_LABELS, name="end", every=True, when=when,
        ),
    )  # fmt: skip


def _volume(end: Row, shaft_in: float) -> float:
    """Oil that fits with the shaft so far in, m3. Raises Problem where nothing is left."""
    try:
        return oil_volume(end.bore, end.length, end.shaft, shaft_in, end.parts)
    except PhysicsError as failure:
        column = _TO_MEND[failure.cause]
        raise problem(f"end.{end.key}.{column}", end.label, failure) from failure


_TO_MEND = {
    Cause.SHAFT_FILLS_BORE: "shaft",
    Cause.SHAFT_THROUGH_BODY: "closed_at",
    Cause.NO_ROOM_FOR_OIL: "parts",
}
"""The column to mend, by the cause."""


def figures(given: Given) -> Mapping[str, float]:
    values = {}
    for end in given.rows("end"):
        values[f"{end.key}_oil"] = _volume(end, end.closed_at)
        values[f"{end.key}_mass"] = values[f"{end.key}_oil"] * oil.density(end.oil)
        values[f"{end.key}_rise"] = math.pi / 4 * end.bore**2 * 1e-3
    values["set"] = 2 * sum(values[f"{key}_oil"] for key, _ in END_LABELS)
    return values


_LABELS = {
    "oil": (later("{end}: oil in one damper when the cap is closed"), "volume"),
    "mass": (later("{end}: its mass"), "mass"),
    "rise": (later("{end}: volume of one millimetre of the bore"), "volume"),
}


def _label(name: str) -> tuple[str, str]:
    if name == "set":
        return tr("Oil for all four dampers"), "volume"
    end, _, what = name.partition("_")
    says, kind = _LABELS[what]
    return tr(says, end=end_label(End(end))), kind


def solve(given: Given) -> Answer:
    doubted = given.carry(figures)
    ends = given.rows("end")
    measured = {
        end.key: max(to_step(doubted[f"{end.key}_oil"].value, given.syringe), given.syringe)
        for end in ends
    }
    return Answer(
        steps=tuple(_step(given, end, measured[end.key]) for end in ends),
        quantities=tuple(
            given.quantity(name, *_label(name), figure) for name, figure in doubted.items()
        ),
        tables=(_table(given, ends),),
        plots=(_plot(given, ends),),
        cautions=(Caution(tr(_BRIM)), opened()),
        working=tuple(_working(given, end) for end in ends),
        writes=tuple(_write(given, end, doubted[f"{end.key}_oil"].value) for end in ends),
    )


def _write(given: Given, end: Row, held: float) -> Write:
    says = tr("{end} dampers hold {oil}", end=end_word(End(end.key)), oil=given.say(held, "volume"))
    return Write(f"{end.key}.inside.held", held, says)


def _step(given: Given, end: Row, measured: float) -> Step:
    amount = units.entry_text(measured, "volume", given.system)
    return Step(
        tr(
            "{end}: {amount} in each damper.",
            end=end.label,
            amount=f"{amount} {given.symbol('volume')}",
        ),
        tr(
            "That is {mass} of the {oil} oil, with the shaft {shaft_in} in when the cap is closed.",
            mass=given.say(measured * oil.density(end.oil), "mass"),
            oil=given.say(end.oil, "viscosity"),
            shaft_in=given.say(end.closed_at, "length", 1),
        ),
    )


def _shafts_in(ends: tuple[Row, ...]) -> list[float]:
    """How far in the shafts are looked at; each as far as both bodies take."""
    deepest = min(end.length for end in ends)
    return [deepest * n / _STEPS for n in range(_STEPS + 1)]


def _fits(end: Row, shaft_in: float) -> float:
    return max(math.pi / 4 * (end.bore**2 * end.length - end.shaft**2 * shaft_in) - end.parts, 0.0)


def _table(given: Given, ends: tuple[Row, ...]) -> Table:
    rows = tuple(
        (
            given.bare(shaft_in, "length", 1),
            *(given.bare(_fits(end, shaft_in), "volume") for end in ends),
        )
        for shaft_in in _shafts_in(ends)
    )
    heads = (
        tr("Shaft in {unit}", unit=given.symbol("length")),
        *(f"{end.label} mL" for end in ends),
    )
    return Table(tr("Oil that fits into one damper"), heads, rows)


def _plot(given: Given, ends: tuple[Row, ...]) -> Plot:
    curves = tuple(
        Curve(end_word(End(end.key)), tuple((x, _fits(end, x)) for x in (0.0, end.length)), style)
        for end, style in zip(ends, ("main", "second"), strict=True)
    )
    return Plot(
        tr("Oil that fits against how far the shaft is in"),
        Axis(tr("Shaft in the body"), "length"),
        Axis(tr("Oil that fits"), "volume"),
        curves,
        tuple(_closed_mark(end) for end in ends),
        _plot_says(given, *ends),
    )


def _closed_mark(end: Row) -> Mark:
    label = tr("{end} closed here", end=end_word(End(end.key)))
    return Mark(end.closed_at, _volume(end, end.closed_at), label)


def _plot_says(given: Given, front: Row, rear: Row) -> str:
    return tr(
        "Front closed at {front_in} holds {front_oil}; Rear closed at {rear_in} holds {rear_oil}. "
        "The shaft takes the room of oil as it goes in.",
        front_in=given.say(front.closed_at, "length", 1),
        front_oil=given.say(_volume(front, front.closed_at), "volume"),
        rear_in=given.say(rear.closed_at, "length", 1),
        rear_oil=given.say(_volume(rear, rear.closed_at), "volume"),
    )


def _working(given: Given, end: Row) -> Working:
    say = given.say
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
            units.show(axle.inside.closed_at, "length", system, 1),
            on_the_bench(axle, _BUBBLE),
        )
        for (_, label), axle in zip(END_LABELS, (car.front, car.rear), strict=True)
    )
    bubble = units.show(_BUBBLE, "length", system)
    heads = (
        "", tr("Each"), tr("Shaft in at closing"), tr("{size} bubbles leave in", size=bubble),
    )  # fmt: skip
    return Table(tr("Filling the dampers"), heads, rows)
