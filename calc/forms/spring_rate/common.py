"""What every way to a spring rate says: the rate in all units, its force table, its note."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc import units
from calc.answering.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Listed,
    Mark,
    Plot,
    Quantity,
    Step,
    Table,
    Working,
    Write,
    Written,
)
from calc.answering.uncertainty import COVERAGE
from calc.forms.cautions import eyes
from calc.forms.spring_rate.inputs import Asked
from calc.forms.writes import end_write
from calc.language import tr
from calc.model.car import number_at
from calc.model.corners import End
from calc.physics.stack import Stack
from calc.replying.inputs import Problem

_PRESSED = (1, 2, 3, 5, 8, 10, 15, 20)  # mm, or sixteenths of an inch

_OF_ITS_OWN = ("label", "readings")
"""What is known where the rate is read off that very spring, not worked out."""
_MADE_OTHERWISE = ("series", "clipped")
"""What is known where the spring on the car is then another one than before."""


@dataclass(frozen=True)
class Found:
    """A rate as one of the ways found it: what to do, its quantities in order (the rate first),
    and the lengths of the spring in m where they are known. `at` is the entry to mend where no
    spring is like that; `pressed` is false where the work is not to press the spring."""

    step: str
    at: str
    quantities: tuple[Quantity, ...]
    working: tuple[Working, ...]
    plot: Plot
    tables: tuple[Table, ...] = ()
    cautions: tuple[Caution, ...] = ()
    free: float | None = None
    solid: float | None = None
    pressed: bool = True


def answer(asked: Asked, found: Found) -> Answer:
    """The whole answer about the spring found. Raises Problem for one that cannot be."""
    rate = found.quantities[0]
    least, most = number_at("front.spring_rate").possible
    if not least <= rate.value <= most:
        sentence = tr(
            "{entry}: that makes a spring far outside {least} to {most}; check it.",
            entry=asked.labels[found.at],
            least=asked.say(least, "rate"),
            most=asked.say(most, "rate"),
        )
        raise Problem(found.at, sentence)
    return Answer(
        steps=(Step(found.step, _also(asked, rate)),),
        quantities=found.quantities,
        tables=(*found.tables, units_table(asked, rate)),
        plots=(found.plot,),
        cautions=(*found.cautions, *((eyes(),) if found.pressed else ())),
        working=found.working,
        writes=_writes(asked, rate, found),
        listed=_listed(asked, found) if asked.goes == "list" else (),
    )


def _also(asked: Asked, rate: Quantity) -> str:
    """The rate in two units of labels, and its uncertainty where it has one."""
    one = in_unit(rate.value, "lbf/in" if asked.system == units.METRIC else "N/mm")
    other = in_unit(rate.value, "gf/mm")
    if not rate.u:
        return tr("That is {one} or {other}.", one=one, other=other)
    width = asked.say(COVERAGE * rate.u, "rate")
    return tr("That is {one} or {other}, ± {doubt}.", one=one, other=other, doubt=width)


def in_unit(rate: float, symbol: str) -> str:
    unit = next(unit for unit in units.KINDS["rate"] if unit.symbol == symbol)
    return f"{_figure(unit.from_si(rate), unit)}{units.NBSP}{symbol}"


def _figure(number: float, unit: units.Unit) -> str:
    return units.spelt(f"{number:.{unit.decimals}f}")


def units_table(asked: Asked, rate: Quantity) -> Table:
    """The rate in every unit that stands on labels."""
    rows = []
    for unit in units.KINDS["rate"]:
        width = abs(COVERAGE * rate.u / unit.factor)
        rows.append((unit.symbol, _figure(unit.from_si(rate.value), unit), _figure(width, unit)))
    mark = [row[0] for row in rows].index(asked.symbol("rate"))
    heads = (tr("Unit"), tr("Rate"), tr("±"))
    return Table(tr("The rate in every unit used on labels"), heads, tuple(rows), mark=mark)


def force_table(asked: Asked, stack: Stack) -> Table:
    """Force and rate at round compressions, as far as the coils let it."""
    inch = asked.system == units.IMPERIAL
    step = 0.0254 / 16 if inch else 1e-3
    rows = [
        (
            f"{n}/16" if inch else str(n),
            asked.bare(stack.force(n * step), "force"),
            asked.bare(stack.rate(stack.force(n * step)), "rate"),
        )
        for n in _PRESSED
        if n * step < stack.travel
    ]
    heads = (
        tr("Pressed by {unit}", unit=asked.symbol("length")),
        tr("Force {unit}", unit=asked.symbol("force")),
        tr("Rate there {unit}", unit=asked.symbol("rate")),
    )
    return Table(tr("Force of the spring"), heads, tuple(rows))


def rate_plot(
    asked: Asked,
    title: str,
    axis: Axis,
    line: Sequence[tuple[float, float]],
    mark: tuple[float, float],
) -> Plot:
    """Rate against what it depends on, the user's own case marked."""
    low, high = line[0], line[-1]
    return Plot(
        title,
        axis,
        Axis(tr("Rate"), "rate"),
        (Curve(tr("rate"), tuple(line)),),
        (Mark(*mark, tr("yours")),),
        tr(
            "From {first} at {start} to {last} at {end}; yours has {rate}.",
            first=asked.say(low[1], "rate"),
            start=asked.say(low[0], axis.kind),
            last=asked.say(high[1], "rate"),
            end=asked.say(high[0], axis.kind),
            rate=asked.say(mark[1], "rate"),
        ),
    )


def _writes(asked: Asked, rate: Quantity, found: Found) -> tuple[Write, ...]:
    end = asked.goes
    if end not in tuple(End):
        return ()
    how: Written = "entered" if asked.known in _OF_ITS_OWN else "predicted"
    replaces = asked.known in _MADE_OTHERWISE
    written = end_write(asked, End(end), "spring_rate", rate.value, how, rate.u)
    made = [replace(written, replaces=replaces)]
    if found.free is not None:
        u = next((one.u for one in found.quantities if one.name == "free"), None)
        says = tr("free length {length}", length=asked.say(found.free, "length"))
        made.append(Write(f"{end}.spring_free", found.free, says, how, u, replaces=replaces))
    if found.solid is not None:
        says = tr("solid length {length}", length=asked.say(found.solid, "length"))
        made.append(Write(f"{end}.spring_solid", found.solid, says, how, replaces=replaces))
    return tuple(made)


def _listed(asked: Asked, found: Found) -> tuple[Listed, ...]:
    """The spring for the list of the car; what was not found was asked for."""
    u = {one.name: one.u for one in found.quantities}
    free, solid = found.free, found.solid
    if free is None:
        free, u["free"] = asked.spring_free, asked.u[asked.at(Asked.spring_free)]
    if solid is None:
        solid, u["solid"] = asked.spring_solid, asked.u[asked.at(Asked.spring_solid)]
    kept = {name: u[name] for name in ("rate", "free", "solid")}
    return (Listed(asked.spring_name, found.quantities[0].value, free, solid, kept),)
