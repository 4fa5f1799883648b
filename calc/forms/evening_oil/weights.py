"""The owner's own line from a weight number to cSt, through two lines of the table of the oil."""

from calc.answering.answer import Answer, Axis, Curve, Mark, Plot, Step, Table, Working, Write
from calc.forms.cautions import spill
from calc.forms.evening_oil.inputs import Asked, LineRow
from calc.language import tr
from calc.model.car import entry_at
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Problem
from calc.units import KINDS

_CST = KINDS["viscosity"][0]
EXAMPLE = 35.0  # weight number, where the line gives it an oil
_SHOWN = (15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0)


class ScaleFigures(Figures):
    slope: float = figure("cSt for each weight number", kind="ratio")
    offset: float = figure("cSt added to that", kind="ratio")


def figures(asked: Asked) -> ScaleFigures:
    first, second = asked.line
    grades = [_CST.from_si(row.viscosity) for row in (first, second)]
    slope = (grades[1] - grades[0]) / (second.weight - first.weight)
    return ScaleFigures(slope=slope, offset=grades[0] - slope * first.weight)


def solve(asked: Asked) -> Answer:
    first, second = asked.line
    if second.weight == first.weight:
        raise Problem(
            second.at(LineRow.weight),
            tr(
                "{entry}: both lines have this number; two different ones are needed.",
                entry=second.label_of(LineRow.weight),
            ),
        )
    found = asked.propagate(figures)
    slope, offset = found.value.slope, found.value.offset
    if not _possible("slope", slope) or not _possible("offset", offset):
        raise Problem(
            second.at(LineRow.viscosity),
            tr(
                "{entry}: with these two lines a thicker oil would have a smaller number, or one "
                "that no table has; read them again.",
                entry=second.label_of(LineRow.viscosity),
            ),
        )
    grade = example(slope, offset)
    return Answer(
        steps=(
            Step(
                tr(
                    "Your line: cSt = {slope} × weight {offset}.",
                    slope=asked.bare(slope, "ratio", 2),
                    offset=_signed(asked, offset),
                ),
                tr(
                    "From then on “35 wt” in any viscosity field means {grade}. Other makers "
                    "have other lines.",
                    grade=asked.say(grade, "viscosity"),
                )
                if grade > 0
                else "",
            ),
        ),
        quantities=asked.quantities(found),
        tables=(_table(asked, slope, offset),),
        plots=(_plot(asked, slope, offset),),
        cautions=(spill(),),
        working=_working(asked, slope, offset),
        writes=(
            _write("slope", slope, tr("{slope} cSt for each weight number",
                                      slope=asked.bare(slope, "ratio", 2))),
            _write("offset", offset, tr("{offset} cSt added to that",
                                        offset=asked.bare(offset, "ratio", 0))),
        ),
    )  # fmt: skip


def example(slope: float, offset: float) -> float:
    """The viscosity, m2/s, of the number that is shown as an example; below 0 there is no oil."""
    return _CST.to_si(slope * EXAMPLE + offset)


def _write(name: str, value: float, says: str) -> Write:
    return Write(f"weight_scale.{name}", value, says, "entered", replaces=False)


def _possible(name: str, value: float) -> bool:
    low, high = entry_at(f"weight_scale.{name}").possible  # type: ignore[union-attr]
    return bool(low <= value <= high)


def _signed(asked: Asked, offset: float) -> str:
    return f"{'−' if offset < 0 else '+'} {asked.bare(abs(offset), 'ratio', 0)}"


def _grades(slope: float, offset: float) -> list[tuple[float, float]]:
    """Weight numbers and the viscosity of each, m2/s; those that the line gives an oil."""
    made = [(weight, _CST.to_si(slope * weight + offset)) for weight in _SHOWN]
    return [(weight, grade) for weight, grade in made if grade > 0]


def _table(asked: Asked, slope: float, offset: float) -> Table:
    rows = tuple(
        (asked.bare(weight, "count"), asked.bare(grade, "viscosity"))
        for weight, grade in _grades(slope, offset)
    )
    return Table(tr("My weight numbers"), (tr("Weight"), asked.symbol("viscosity")), rows)


def _plot(asked: Asked, slope: float, offset: float) -> Plot:
    first, second = asked.line
    weights = sorted((first.weight, second.weight))
    ends = [(weight, _CST.to_si(slope * weight + offset)) for weight in weights]
    return Plot(
        tr("Viscosity against weight number"),
        Axis(tr("Weight number"), "count"),
        Axis(tr("Viscosity at 25 °C"), "viscosity"),
        (Curve(tr("your line"), tuple(ends)),),
        tuple(Mark(row.weight, row.viscosity, row.label) for row in asked.line),
        tr(
            "A straight line from {low} to {high}.",
            low=asked.say(ends[0][1], "viscosity"),
            high=asked.say(ends[1][1], "viscosity"),
        ),
    )


def _working(asked: Asked, slope: float, offset: float) -> tuple[Working, ...]:
    first, second = asked.line
    say = asked.say
    source = tr("straight line through two points; weight numbers are no standard")
    return (
        Working(
            tr("cSt for each number = difference of the viscosities / difference of the numbers"),
            f"({say(second.viscosity, 'viscosity')} − {say(first.viscosity, 'viscosity')}) / "
            f"({asked.bare(second.weight, 'ratio', 1)} − {asked.bare(first.weight, 'ratio', 1)}) = "
            f"{asked.bare(slope, 'ratio', 2)}",
            source,
        ),
        Working(
            tr("cSt added = viscosity − cSt for each number × number"),
            f"{say(first.viscosity, 'viscosity')} − {asked.bare(slope, 'ratio', 2)} × "
            f"{asked.bare(first.weight, 'ratio', 1)} = {asked.bare(offset, 'ratio', 0)}",
            source,
        ),
    )
