"""Spring rate from a scale and a ruler: a straight line through the readings, and what it hides."""

from collections.abc import Iterator, Sequence

from calc.answering.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Quantity,
    Table,
    Working,
    barring,
)
from calc.answering.uncertainty import COVERAGE
from calc.forms.failures import problem
from calc.forms.spring_rate.common import Found, answer
from calc.forms.spring_rate.inputs import Asked, Reading
from calc.language import tr
from calc.model.car import number_at
from calc.physics.coverage import coverage_factor
from calc.physics.failure import PhysicsError
from calc.physics.linear import odd_one, polynomial_fit
from calc.physics.spring import RateFit, rate_from_readings, spring_force
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Problem
from calc.units import STANDARD_GRAVITY

_FOR_A_LINE, _FOR_A_BEND = 2, 4  # readings
_MOST_DOUBT = 0.5
"""Share of a rate: with a ± beyond it there is no use in marking a spring."""


def _readings(rows: Sequence[Reading]) -> tuple[list[float], list[float]]:
    """Lengths in m and forces in N."""
    return [row.length for row in rows], [row.mass * STANDARD_GRAVITY for row in rows]


def _odd(asked: Asked) -> Reading | None:
    """The reading that does not fit the others, where it is one alone."""
    lengths, forces = _readings(asked.readings)
    u_lengths = [asked.u[row.at(Reading.length)] for row in asked.readings]
    u_forces = [asked.u[row.at(Reading.mass)] * STANDARD_GRAVITY for row in asked.readings]
    place = odd_one(lengths, forces, u_lengths, u_forces)
    return None if place is None else asked.readings[place]


def _to_mend(asked: Asked, odd: Reading | None) -> Reading:
    """The reading at which something has to be mended: the odd one, else the last."""
    return odd or asked.readings[-1]


def _fit(asked: Asked) -> RateFit:
    lengths, forces = _readings(asked.readings)
    try:
        fit = rate_from_readings(lengths, forces)
    except PhysicsError as failure:
        row = _to_mend(asked, _odd(asked))
        at, label = row.at(Reading.length), row.label_of(Reading.length)
        raise problem(at, label, failure) from failure
    low, high = number_at("front.spring_free").possible
    if not low <= fit.free_length <= high:
        row = _to_mend(asked, _odd(asked))
        sentence = tr(
            "{reading}: by the line through the readings no spring is that long when free; one of "
            "them is wrong, or the scale was not at zero.",
            reading=row.label_of(Reading.length),
        )
        raise Problem(row.at(Reading.length), sentence)
    return fit


class ReadFigures(Figures):
    rate: float = figure("Spring rate", kind="rate")
    free: float = figure("Free length by the line", kind="length")


def _figures(asked: Asked) -> ReadFigures:
    fit = rate_from_readings(*_readings(asked.readings))
    return ReadFigures(
        rate=fit.rate + asked.scattered,
        free=fit.free_at(steeper=asked.scattered, higher=asked.shifted),
    )


def solve(asked: Asked) -> Answer:
    fit, odd = _fit(asked), _odd(asked)
    lengths, forces = _readings(asked.readings)
    spare = len(lengths) - _FOR_A_LINE
    # So that twice this uncertainty holds 95 of 100, however few the readings.
    factor = coverage_factor(spare) / COVERAGE if spare else 0.0
    joined = asked.assuming(
        (Asked.scattered, 0.0, factor * (fit.rate_error or 0.0)),
        (Asked.shifted, 0.0, factor * (fit.middle_error or 0.0)),
    )
    quantities = _quantities(joined, fit)
    return answer(
        asked,
        Found(
            at=_to_mend(asked, odd).at(Reading.length),
            step=tr("Mark the spring {rate}.", rate=asked.say(fit.rate, "rate")),
            quantities=quantities,
            working=_working(asked, fit, lengths, forces),
            plot=_plot(asked, fit, lengths, forces),
            tables=(_table(asked, fit, lengths, forces),),
            cautions=(*_unfit(asked, odd, quantities[0]), *_cautions(asked, lengths, forces)),
            free=fit.free_length,
        ),
    )


def _quantities(joined: Asked, fit: RateFit) -> tuple[Quantity, ...]:
    made = [*joined.quantities(joined.propagate(_figures))]
    if fit.rate_error is not None and fit.scatter is not None:
        made += [
            Quantity("rate_error", tr("Standard error of the line's slope"), fit.rate_error,
                     "rate"),
            Quantity("scatter", tr("Scatter of the forces about the line"), fit.scatter, "force",
                     decimals=3),
        ]  # fmt: skip
    return tuple(made)


def _off(fit: RateFit, length: float, force: float) -> float:
    """How far a reading lies above the line, N."""
    return force - fit.rate * (fit.free_length - length)


def _table(asked: Asked, fit: RateFit, lengths: Sequence[float], forces: Sequence[float]) -> Table:
    rows = tuple(
        (
            row.key,
            asked.bare(length, "length"),
            asked.bare(force, "force"),
            asked.bare(force - _off(fit, length, force), "force"),
            asked.bare(_off(fit, length, force), "force", 3),
        )
        for row, length, force in zip(asked.readings, lengths, forces, strict=True)
    )
    force = asked.symbol("force")
    heads = (
        tr("Reading"),
        tr("Length {unit}", unit=asked.symbol("length")),
        tr("Force {unit}", unit=force),
        tr("Line {unit}", unit=force),
        tr("Off by {unit}", unit=force),
    )
    return Table(tr("Readings and the line through them"), heads, rows)


def _plot(asked: Asked, fit: RateFit, lengths: Sequence[float], forces: Sequence[float]) -> Plot:
    ends = (min(lengths), max(*lengths, fit.free_length))
    line = tuple((x, fit.rate * (fit.free_length - x)) for x in ends)
    marks = tuple(
        Mark(length, force, row.key)
        for row, length, force in zip(asked.readings, lengths, forces, strict=True)
    )
    return Plot(
        tr("Force against the length of the spring"),
        Axis(tr("Length of the spring"), "length"),
        Axis(tr("Force"), "force"),
        (Curve(tr("line"), line),),
        marks,
        tr(
            "{count} readings and the line through them, which falls by {rate} and reaches no "
            "force at {free}.",
            count=len(lengths),
            rate=asked.say(fit.rate, "rate"),
            free=asked.say(fit.free_length, "length"),
        ),
    )


def _unfit(asked: Asked, odd: Reading | None, rate: Quantity) -> Iterator[Caution]:
    """A word about the reading that does not fit the others. Where the rate is more doubtful than
    it is any use, that bars the work."""
    doubt = COVERAGE * rate.u
    useless = doubt > _MOST_DOUBT * rate.value
    if odd is not None:
        others = [row for row in asked.readings if row.key != odd.key]
        line = rate_from_readings(*_readings(others))
        force = spring_force(rate=line.rate, compression=line.free_length - odd.length)
        text = tr(
            "{reading} does not fit the others: by the line through them the scale would show "
            "{mass} there, not {typed}. Read it again.",
            reading=odd.label,
            mass=asked.say(force / STANDARD_GRAVITY, "mass"),
            typed=asked.say(odd.mass, "mass"),
        )
        yield Caution(text, stop=useless, at=odd.at(Reading.mass), bars=useless)
    elif useless:
        yield barring(
            tr(
                "The readings make no line that a spring could be marked by: {rate} ± {doubt}. "
                "Read them again.",
                rate=asked.say(rate.value, "rate"),
                doubt=asked.say(doubt, "rate"),
            )
        )


def _cautions(
    asked: Asked, lengths: Sequence[float], forces: Sequence[float]
) -> tuple[Caution, ...]:
    found = []
    if len(lengths) == _FOR_A_LINE:
        found.append(
            Caution(
                tr(
                    "Two readings cannot show a slip: read five, and the scatter says how good "
                    "they are."
                )
            )
        )
    bend = _bend(lengths, forces)
    if bend is not None:
        long, short = bend
        found.append(
            Caution(
                tr(
                    "The readings bend more than they scatter: the rate goes from {long} at the "
                    "longest to {short} at the shortest. Coils touch there, or the spring is "
                    "progressive: read it near ride height.",
                    long=asked.say(long, "rate"),
                    short=asked.say(short, "rate"),
                )
            )
        )
    return tuple(found)


def _bend(lengths: Sequence[float], forces: Sequence[float]) -> tuple[float, float] | None:
    """Rates at the longest and the shortest reading by a parabola, where it tells from chance."""
    if len(lengths) < _FOR_A_BEND or len(set(lengths)) < _FOR_A_LINE + 1:
        return None
    middle = sum(lengths) / len(lengths)
    fit = polynomial_fit([length - middle for length in lengths], forces, 2)
    if fit.errors is None:
        return None
    spare = len(lengths) - 3
    if abs(fit.coefficients[2]) <= coverage_factor(spare) * fit.errors[2]:
        return None
    long, short = (
        -fit.coefficients[1] - 2 * fit.coefficients[2] * (length - middle)
        for length in (max(lengths), min(lengths))
    )
    # Readings that lie on one line to the last digit bend by rounding alone.
    return (long, short) if abs(short - long) > 1e-6 * abs(fit.coefficients[1]) else None


def _working(
    asked: Asked, fit: RateFit, lengths: Sequence[float], forces: Sequence[float]
) -> tuple[Working, ...]:
    say, count = asked.say, len(lengths)
    length, force = sum(lengths) / count, sum(forces) / count
    lines = [
        Working(tr("force = scale reading × g"),
                "; ".join(say(each, "force") for each in forces), tr("g = 9.806 65 m/s²")),
        Working(tr("rate = −Σ (length − mean)(force − mean) / Σ (length − mean)²"),
                tr("{count} readings, means {length} and {force}: {rate}", count=count,
                   length=say(length, "length"), force=say(force, "force"),
                   rate=say(fit.rate, "rate")),
                tr("ordinary least squares")),
    ]  # fmt: skip
    if fit.rate_error is not None:
        factor = coverage_factor(count - _FOR_A_LINE)
        lines.append(
            Working(tr("± = standard error × factor for so few readings"),
                    tr("{error} × {factor}, and the ± of the tools beside it",
                       error=say(fit.rate_error, "rate", 4), factor=say(factor, "ratio", 2)),
                    tr("JCGM 100:2008, annex G"))
        )  # fmt: skip
    return tuple(lines)
