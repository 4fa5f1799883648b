"""What pairing says: which belong together, what is between them, and what was left over."""

from collections.abc import Iterator, Sequence

from calc.answering.answer import Step, Table, Working
from calc.answering.hand import to_step, turn_words
from calc.answering.uncertainty import COVERAGE
from calc.forms.findings import beyond_thread
from calc.forms.pairing.figures import (
    PairsFigures,
    Part,
    Two,
    damping,
    lower,
    parts,
    spring_force,
    twos,
    value,
)
from calc.forms.pairing.inputs import Asked, DamperRow, Kind, PistonRow, SpringRow
from calc.language import inside, later, tr
from calc.physics.pairs import Pair
from calc.replying.figures import Propagated

_DECIMALS: dict[Kind, int] = {"springs": 3, "pistons": 2, "dampers": 2}
_WIDE = 0.5  # of a height; its interval is said with it from there on
_SHOWN = 0.0005  # of a share; less shows as none
_ALIKE: dict[Kind, str] = {
    "springs": later(
        "Their rates are alike as far as you can measure: {apart} apart, ± {doubt} by your tools."
    ),
    "pistons": later("Alike as far as you can measure: {apart} apart, ± {doubt} by your tools."),
    "dampers": later("Alike as far as you can measure: {apart} apart, ± {doubt} by your tools."),
}
_UNITS: dict[Kind, str] = {"springs": "rate", "pistons": "length", "dampers": "time"}


def steps(asked: Asked, pairs: Sequence[Pair], found: Propagated[PairsFigures]) -> tuple[Step, ...]:
    made = [
        Step(
            tr(
                "Pair {number}: {first} with {second}.",
                number=two.number,
                first=inside(two.first.label),
                second=inside(two.second.label),
            ),
            " ".join(_gives(asked, two, found)),
        )
        for two in twos(asked, pairs)
    ]  # fmt: skip
    if over := left_over(asked, pairs):
        names = ", ".join(inside(part.label) for part in over)
        made.append(Step(tr("Left over: {parts}.", parts=names)))
    return tuple(made)


def left_over(asked: Asked, pairs: Sequence[Pair]) -> list[Part]:
    taken = {place for pair in pairs for place in pair}
    return [part for place, part in enumerate(parts(asked)) if place not in taken]


def _gives(asked: Asked, two: Two, found: Propagated[PairsFigures]) -> Iterator[str]:
    at, u = found.value.pairs[two.number], found.u.pairs[two.number]
    doubt = COVERAGE * u.apart
    if at.apart <= doubt:
        yield tr(
            _ALIKE[asked.parts],
            apart=asked.say(at.apart, "share", 1),
            doubt=asked.say(doubt, "share", 1),
        )
    else:
        yield tr(
            "They are {apart} apart, ± {doubt} by your tools.",
            apart=asked.say(at.apart, "share", 2),
            doubt=asked.say(doubt, "share", 2),
        )
    if at.turns is not None and at.lower is not None:
        reach = found.uncertain[f"{two.number}_lower"].uncertainty.reach
        yield _level(asked, two, at.turns, at.lower, reach)
    elif at.harder is not None and abs(at.harder) >= _SHOWN:
        yield _harder(asked, two, at.harder)


def _level(asked: Asked, two: Two, turns: float, lower: float, reach: tuple[float, float]) -> str:
    """Which corner stands lower with the collars in one place, and what levels it, where that is
    sure; `reach` is how far the height may be below and above, m."""
    low = two.first if turns >= 0 else two.second
    rounded = to_step(abs(turns), asked.turn_step)
    less, more = reach if lower >= 0 else reach[::-1]
    least, most = abs(lower) - less, abs(lower) + more
    if least <= 0:
        return tr(
            "With both collars at the same setting they sit level as far as you can tell: {part} "
            "may sit up to {most} lower.",
            part=inside(low.label),
            most=asked.say(most, "length"),
        )
    says = {"part": inside(low.label), "height": _height(asked, abs(lower), least, most)}
    if isinstance(low, SpringRow) and beyond_thread(rounded, asked.pitch, low.free):
        return tr(
            "With both collars at the same setting {part} sits {height} lower, more than any "
            "thread can level: they are not a pair.",
            **says,
        )
    if rounded == 0:
        return tr(
            "With both collars at the same setting {part} sits {height} lower: less than a hand "
            "can set.",
            **says,
        )
    return tr(
        "With both collars at the same setting {part} sits {height} lower; its collar {turns} "
        "brings them level.",
        turns=turn_words(rounded),
        **says,
    )


def _height(asked: Asked, height: float, least: float, most: float) -> str:
    """A height, with its interval where that is wide beside it."""
    shown = asked.say(height, "length")
    if most - least <= _WIDE * height:
        return shown
    ends = tr("{low} to {high}", low=asked.bare(least, "length"), high=asked.bare(most, "length"))
    return f"{shown} ({ends})"


def _harder(asked: Asked, two: Two, harder: float) -> str:
    share = asked.say(abs(harder), "share", 1)
    if asked.parts == "pistons":
        part = inside(two.first.label)
        return tr("The damper with {part} is {share} harder.", part=part, share=share)
    part = inside(two.second.label)
    return tr(
        "{part} is {share} harder, as with an oil thicker by as much.",
        part=part[0].upper() + part[1:],
        share=share,
    )


_HEADS: dict[Kind, str] = {
    "springs": later("Rate {unit}"),
    "pistons": later("Hole {unit}"),
    "dampers": later("Time {unit}"),
}


def table(asked: Asked, pairs: Sequence[Pair]) -> Table:
    """All parts in the order of their values, with the pair that each belongs to."""
    kind = _UNITS[asked.parts]
    rows = parts(asked)
    belongs = {place: str(n) for n, pair in enumerate(pairs, 1) for place in pair}
    ranked = sorted(range(len(rows)), key=lambda place: value(rows[place]))
    cells = tuple(
        (
            rows[place].label,
            asked.bare(value(rows[place]), kind, _DECIMALS[asked.parts]),
            belongs.get(place, "–"),
        )
        for place in ranked
    )
    head = tr(_HEADS[asked.parts], unit=asked.symbol(kind))
    return Table(tr("In the order of their values"), (tr("Part"), head, tr("In pair")), cells)


def working(asked: Asked, pairs: Sequence[Pair]) -> tuple[Working, ...]:
    two = twos(asked, pairs)[0]
    kind, places, say = _UNITS[asked.parts], _DECIMALS[asked.parts], asked.say
    first, second = two.first, two.second
    share = value(second) / value(first) - 1
    made = [
        Working(
            tr("the worst pair as near as can be, then the sum of squares; all choices tried"),
            f"{say(value(second), kind, places)} / {say(value(first), kind, places)} − 1 = "
            f"{say(share, 'share', 1)}",
            tr("search through every choice of pairs"),
        )
    ]
    if isinstance(first, SpringRow) and isinstance(second, SpringRow):
        force = spring_force(asked)
        made.append(
            Working(
                tr("length under load = free length − load on the spring / rate"),
                f"{say(first.free, 'length')} − {say(force, 'force')} / {say(first.rate, 'rate')}; "
                f"{say(second.free, 'length')} − {say(force, 'force')} / "
                f"{say(second.rate, 'rate')} → {say(lower(asked, first, second), 'length')}",
                tr("Hooke's law and virtual work"),
            )
        )
    elif isinstance(first, PistonRow) and isinstance(second, PistonRow):
        made.append(
            Working(
                tr("damping coefficient by the piston model, at the shaft speed"),
                f"{say(damping(asked, first), 'damping')}; "
                f"{say(damping(asked, second), 'damping')}",
                tr("laminar loss with its ends, and the jet"),
            )
        )
    elif isinstance(second, DamperRow):
        made.append(
            Working(
                tr("damping in proportion to the time under one mass"),
                f"{say(share, 'share', 1)}",
                tr("balance of forces at a steady speed, friction alike"),
            )
        )
    return tuple(made)
