"""What every way to a spring rate says: the rate in all units, its force table, its note."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from calc import units
from calc.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Quantity,
    Step,
    Table,
    Working,
    Write,
)
from calc.form import Given, Problem
from calc.forms.shared import eyes
from calc.forms.spring_fields import RATE
from calc.physics.stack import Stack
from calc.uncertainty import COVERAGE, Doubted

_PRESSED = (1, 2, 3, 5, 8, 10, 15, 20)  # mm, or sixteenths of an inch


@dataclass(frozen=True)
class Found:
    """A rate as one of the ways found it: what to do, its quantities in order (the rate first),
    and the lengths of the spring in m where they are known. `at` is the entry to mend where no
    spring is like that."""

    step: str
    at: str
    quantities: tuple[Quantity, ...]
    working: tuple[Working, ...]
    plot: Plot
    tables: tuple[Table, ...] = ()
    cautions: tuple[Caution, ...] = ()
    free: float | None = None
    solid: float | None = None


def named_quantities(
    given: Given, doubted: Mapping[str, Doubted], labels: Sequence[tuple[str, str, str]]
) -> tuple[Quantity, ...]:
    """Figures as quantities, in the order of their labels: (name, label, kind)."""
    return tuple(given.quantity(name, label, kind, doubted[name]) for name, label, kind in labels)


def answer(given: Given, found: Found) -> Answer:
    """The whole answer about the spring found. Raises Problem for one that cannot be."""
    rate = found.quantities[0]
    least, most = RATE[1]
    if not least <= rate.value <= most:
        bounds = f"{given.say(least, 'rate')} to {given.say(most, 'rate')}"
        label = given.labels[found.at]
        raise Problem(found.at, f"{label}: that makes a spring far outside {bounds}; check it.")
    other = "lbf/in" if given.system == units.METRIC else "N/mm"
    doubt = f"give or take {given.say(COVERAGE * rate.u, 'rate')}" if rate.u else ""
    also = f"That is {in_unit(rate.value, other)} or {in_unit(rate.value, 'gf/mm')}"
    return Answer(
        steps=(Step(found.step, f"{also}{', ' if doubt else ''}{doubt}."),),
        quantities=found.quantities,
        tables=(*found.tables, units_table(given, rate)),
        plots=(found.plot,),
        cautions=(*found.cautions, eyes()),
        working=found.working,
        writes=_writes(given, rate.value, found),
    )


def in_unit(rate: float, symbol: str) -> str:
    unit = next(unit for unit in units.KINDS["rate"] if unit.symbol == symbol)
    number = f"{unit.from_si(rate):.{unit.decimals}f}"
    return f"{number}{units.NBSP}{symbol}"


def units_table(given: Given, rate: Quantity) -> Table:
    """The rate in every unit that stands on labels."""
    rows = []
    for unit in units.KINDS["rate"]:
        width = abs(COVERAGE * rate.u / unit.factor)
        rows.append(
            (
                unit.symbol,
                f"{unit.from_si(rate.value):.{unit.decimals}f}",
                f"{width:.{unit.decimals}f}",
            )
        )
    mark = [row[0] for row in rows].index(given.symbol("rate"))
    return Table("The rate in every unit of labels", ("Unit", "Rate", "Give or take"),
                 tuple(rows), mark=mark)  # fmt: skip


def force_table(given: Given, stack: Stack) -> Table:
    """Force and rate at round compressions, as far as the coils let it."""
    inch = given.system == units.IMPERIAL
    step = 0.0254 / 16 if inch else 1e-3
    rows = [
        (
            f"{n}/16" if inch else str(n),
            given.bare(stack.force(n * step), "force"),
            given.bare(stack.rate(stack.force(n * step)), "rate"),
        )
        for n in _PRESSED
        if n * step < stack.travel
    ]
    heads = (
        f"Pressed by {given.symbol('length')}", f"Force {given.symbol('force')}",
        f"Rate there {given.symbol('rate')}",
    )  # fmt: skip
    return Table("Force of the spring", heads, tuple(rows))


def rate_plot(
    given: Given,
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
        Axis("Rate", "rate"),
        (Curve("rate", tuple(line)),),
        (Mark(*mark, "yours"),),
        f"From {given.say(low[1], 'rate')} at {given.say(low[0], axis.kind)} to "
        f"{given.say(high[1], 'rate')} at {given.say(high[0], axis.kind)}; yours has "
        f"{given.say(mark[1], 'rate')}.",
    )


def _writes(given: Given, rate: float, found: Found) -> tuple[Write, ...]:
    end = given.choice("goes")
    if end == "no":
        return ()
    made = [Write(f"{end}.spring_rate", rate, f"{end} spring rate {given.say(rate, 'rate')}")]
    for name, words, length in (
        ("spring_free", "free length", found.free),
        ("spring_solid", "solid length", found.solid),
    ):
        if length is not None:
            says = f"{words} {given.say(length, 'length')}"
            made.append(Write(f"{end}.{name}", length, says))
    return tuple(made)
