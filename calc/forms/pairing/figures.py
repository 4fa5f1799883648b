"""The nearest pairs of the parts that were measured, and what is left between their two."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc.forms.failures import problem
from calc.forms.pairing.inputs import Asked, DamperRow, PistonRow, SpringRow
from calc.forms.piston import DamperInputs
from calc.language import tr
from calc.model.damper import Bench
from calc.physics.damper import Piston
from calc.physics.failure import PhysicsError
from calc.physics.pairs import Pair, nearest_pairs
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import Problem

Part = SpringRow | PistonRow | DamperRow


def parts(asked: Asked) -> Sequence[Part]:
    match asked.parts:
        case "springs":
            return asked.springs
        case "pistons":
            return asked.pistons
        case "dampers":
            return asked.dampers


def value(part: Part) -> float:
    """What they are paired by."""
    match part:
        case SpringRow():
            return part.rate
        case PistonRow():
            return part.hole
        case DamperRow():
            return part.time


def chosen(asked: Asked) -> tuple[Pair, ...]:
    """Raises Problem where too few were measured."""
    rows, count = parts(asked), int(asked.pairs)
    if len(rows) < 2 * count:
        raise Problem(
            Asked.pairs,
            tr(
                "Pairs wanted: {pairs} of them take {needed} parts, and {there} are measured; "
                "measure more, or ask for fewer pairs.",
                pairs=f"{count}",
                needed=f"{2 * count}",
                there=f"{len(rows)}",
            ),
        )
    return nearest_pairs([value(row) for row in rows], count)


@dataclass(frozen=True)
class Two:
    """The two of a pair, the one with the smaller value first."""

    number: str
    first: Part
    second: Part


def twos(asked: Asked, pairs: Sequence[Pair]) -> list[Two]:
    rows = parts(asked)
    return [
        Two(str(number), rows[first], rows[second])
        for number, (first, second) in enumerate(pairs, 1)
    ]


def spring_force(asked: Asked) -> float:
    """What the mean corner of the end asks of its spring, N. Raises Problem."""
    return asked.loads.mean() / asked.motion_ratio


def lower(asked: Asked, first: SpringRow, second: SpringRow) -> float:
    """By how much the body stands lower on the first spring than on the second, m, with both
    collars in one place: the difference of their lengths under the load."""
    force = spring_force(asked)
    return ((second.free - force / second.rate) - (first.free - force / first.rate)) / (
        asked.motion_ratio
    )


def level(asked: Asked, first: SpringRow, second: SpringRow) -> float:
    """Turns down of the collar on the first spring that bring both level, exact."""
    return lower(asked, first, second) * asked.motion_ratio / asked.pitch


def damping(asked: Asked, part: PistonRow) -> float:
    """Damping coefficient with this piston in the damper of the end, N s/m. Raises Problem."""
    base = asked.made()
    if not base.holes or asked.piston.holes == 0:
        raise Problem(
            asked.piston.at(DamperInputs.holes),
            tr(
                "{entry}: pistons that are paired by their holes need one that is open both ways.",
                entry=asked.piston.label_of(DamperInputs.holes),
            ),
        )
    bench = Bench(asked.warm, asked.speed, asked.law_now, asked.piston_law)
    return bench.damping(_drilled(base, part), asked.oil)


def _drilled(base: Piston, part: PistonRow) -> Piston:
    """The piston of the record with holes of another diameter."""
    try:
        return replace(base, holes=(replace(base.holes[0], diameter=part.hole), *base.holes[1:]))
    except PhysicsError as failure:
        raise problem(part.at(PistonRow.hole), part.label_of(PistonRow.hole), failure) from failure


class PairFigures(Figures):
    apart: float = figure("how far apart", kind="share")
    lower: float | None = figure(
        "height of the second over the first, collars at the same setting",
        kind="length",
        default=None,
    )
    turns: float | None = figure(
        "turns down of the first one's collar, exact (up is negative)", kind="turns", default=None
    )
    harder: float | None = figure("damping apart", kind="share", default=None)


class PairsFigures(Figures):
    pairs: Mapping[str, PairFigures] = by_key(
        lambda number, label: tr("Pair {number}: {label}", number=number, label=label)
    )


def figures(asked: Asked, pairs: Sequence[Pair]) -> PairsFigures:
    return PairsFigures(pairs={two.number: _of(asked, two) for two in twos(asked, pairs)})


def _of(asked: Asked, two: Two) -> PairFigures:
    share = value(two.second) / value(two.first) - 1
    match two.first, two.second:
        case SpringRow() as first, SpringRow() as second:
            return PairFigures(
                apart=share,
                lower=lower(asked, first, second),
                turns=level(asked, first, second),
            )
        case PistonRow() as first, PistonRow() as second:
            return PairFigures(
                apart=share, harder=damping(asked, first) / damping(asked, second) - 1
            )
    return PairFigures(apart=share, harder=share)
