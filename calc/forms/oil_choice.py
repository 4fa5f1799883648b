"""Which of the bottles owned give a viscosity: one as it is, or the best two and in what parts."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import ceil, isclose, log
from typing import Literal

from calc.answering.hand import step_places
from calc.language import tr
from calc.model.car import Bottle
from calc.physics import oil
from calc.units import NBSP

Portion = tuple[Bottle, float]  # a bottle and a volume, m3
Say = Callable[..., str]  # a value, its kind and perhaps `decimals`, in the user's units
NEAR = 0.03  # a bottle this near the target is taken as it is: its own label is no better
_TRIED = 3  # recipes in whole parts, from the nearest on
PARTS_IN = 10  # most parts of a recipe in whole parts


class NoOil(ValueError):
    """The bottles do not give it: `lacks` is the entry to change."""

    def __init__(self, lacks: Literal["target", "amount"], sentence: str) -> None:
        super().__init__(sentence)
        self.lacks = lacks


def nearest(bottles: Sequence[Bottle], target: float) -> Bottle | None:
    """The bottle that comes nearest to the target, by ratio; None without bottles."""
    return min(bottles, key=lambda one: abs(log(one.viscosity / target)), default=None)


@dataclass(frozen=True)
class Mix:
    """Two bottles and the exact share of the thick one; a bottle that is it already stands twice,
    with share 0."""

    thin: Bottle
    thick: Bottle
    share: float

    @property
    def single(self) -> bool:
        return self.thin is self.thick


@dataclass(frozen=True)
class Named:
    """An oil in words ("6.0 mL of 350 cSt mixed with 2.0 mL of 500 cSt (parts 3 : 1)"), and what
    those parts really give: the viscosity by the log law and its band by all of them, m2/s at 25 C.
    A `part` is so much, m3."""

    words: str
    viscosity: float
    low: float
    high: float
    mix: Mix
    part: float
    parts: tuple[int, int] = (1, 0)

    @property
    def portions(self) -> tuple[Portion, ...]:
        """What it takes out of which bottle."""
        both = zip((self.mix.thin, self.mix.thick), self.parts, strict=True)
        return tuple((bottle, count * self.part) for bottle, count in both if count)


def best_mix(
    bottles: Sequence[Bottle], target: float, amount: float, say: Say, near: float = 0.0
) -> Mix:
    """The bottle within `near` (relative) of the target, else the pair whose laws disagree least;
    all of them hold enough for `amount`, m3. Raises NoOil."""
    full = [bottle for bottle in bottles if bottle.at_most >= amount]
    single = nearest(full, target)
    if single is not None and abs(log(single.viscosity / target)) <= near:
        return Mix(single, single, 0.0)
    pairs = [
        _mix(low, high, target)
        for low, high in combinations(sorted(bottles, key=lambda bottle: bottle.viscosity), 2)
        if low.viscosity <= target <= high.viscosity and not isclose(low.viscosity, high.viscosity)
    ]
    if not pairs:
        raise NoOil("target", _outside(bottles, target, say))
    enough = [mix for mix in pairs if _most(mix) >= amount]
    if not enough:
        raise _too_little(pairs, target, amount, say)
    return min(enough, key=_spread)


def named(bottles: Sequence[Bottle], target: float, amount: float, step: float, say: Say) -> Named:
    """An oil that somebody with these bottles can fill in, in whole parts, each of them whole steps
    of a syringe (m3) where the bottles hold as much. Raises NoOil."""
    mix = best_mix(bottles, target, amount, say, NEAR)
    if mix.single:
        return straight(mix.thin, amount, say)
    thin, thick = _poured(mix, amount, target, say)
    if not thin or not thick:
        return straight(mix.thin if thin else mix.thick, amount, say)
    parts = [(float(thin), mix.thin.viscosity), (float(thick), mix.thick.viscosity)]
    part = _part(mix, (thin, thick), amount, step)
    poured = [
        tr(
            "{amount} of {oil}",
            amount=say(count * part, "volume", decimals=step_places(step, "volume")),
            oil=bottle_name(bottle, say),
        )
        for count, bottle in ((thin, mix.thin), (thick, mix.thick))
    ]
    return Named(
        tr(
            "{thin} mixed with {thick} (parts {ratio})",
            thin=poured[0],
            thick=poured[1],
            ratio=f"{thin}{NBSP}:{NBSP}{thick}",
        ),
        oil.blend(parts),
        *oil.band(parts),
        mix,
        part,
        (thin, thick),
    )


def straight(bottle: Bottle, amount: float, say: Say) -> Named:
    """The oil of one bottle."""
    grade, words = bottle.viscosity, tr("straight {oil}", oil=bottle_name(bottle, say))
    return Named(words, grade, grade, grade, Mix(bottle, bottle, 0.0), amount)


def _poured(mix: Mix, amount: float, target: float, say: Say) -> tuple[int, int]:
    """The nearest whole parts that the two bottles hold. Raises NoOil."""
    for parts in oil.whole_parts(mix.share, PARTS_IN)[:_TRIED]:
        if _holds(mix, parts, amount / sum(parts)):
            return parts
    raise _too_little([mix], target, amount, say)


def _holds(mix: Mix, parts: tuple[int, int], part: float) -> bool:
    """Whether the bottles hold so many parts of so much, m3."""
    thin, thick = parts
    return part * thin <= mix.thin.at_most and part * thick <= mix.thick.at_most


def _part(mix: Mix, parts: tuple[int, int], amount: float, step: float) -> float:
    """So much that the parts make the amount, m3: in whole steps, unless that is more than the
    bottles hold."""
    exact = amount / sum(parts)
    stepped = ceil(exact / step - 1e-9) * step
    return stepped if _holds(mix, parts, stepped) else exact


def _too_little(pairs: Sequence[Mix], target: float, amount: float, say: Say) -> NoOil:
    says = tr(
        "{amount} of {target} is wanted, and your bottles give at most {most} of it from one pair; "
        "make less, or enter another bottle",
        amount=say(amount, "volume"),
        most=say(max(map(_most, pairs)), "volume"),
        target=say(target, "viscosity"),
    )
    return NoOil("amount", says)


def parts_words(count: int, name: str) -> str:
    """ "3 parts 350 cSt"."""
    if count < 2:
        return tr("{count} part {oil}", count=count, oil=name)
    return tr("{count} parts {oil}", count=count, oil=name)


def bottle_name(bottle: Bottle, say: Say) -> str:
    """ "500 cSt (red cap)"."""
    shown = say(bottle.viscosity, "viscosity")
    return f"{shown} ({bottle.name})" if bottle.name else shown


def _mix(low: Bottle, high: Bottle, target: float) -> Mix:
    return Mix(low, high, oil.share_of_thick(target, low.viscosity, high.viscosity))


def _outside(bottles: Sequence[Bottle], target: float, say: Say) -> str:
    if not bottles:
        return tr(
            "{target} is wanted, and no bottle is in the car record",
            target=say(target, "viscosity"),
        )
    grades = [bottle.viscosity for bottle in bottles]
    return tr(
        "{target} cannot be made from your bottles; they reach from {thinnest} to {thickest}",
        target=say(target, "viscosity"),
        thinnest=say(min(grades), "viscosity"),
        thickest=say(max(grades), "viscosity"),
    )


def _most(mix: Mix) -> float:
    """The most, m3, that the two bottles give of this mix."""
    parts = ((mix.thin, 1 - mix.share), (mix.thick, mix.share))
    return min(bottle.at_most / part for bottle, part in parts if part > 0)


def _spread(mix: Mix) -> float:
    """How far the blending laws part: highest over lowest."""
    lowest, highest = oil.band(
        [(1 - mix.share, mix.thin.viscosity), (mix.share, mix.thick.viscosity)]
    )
    return highest / lowest
