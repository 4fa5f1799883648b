"""Which of the bottles owned give a viscosity: one as it is, or the best two and in what parts."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import isclose
from typing import Literal

from calc.language import tr
from calc.model.car import Bottle
from calc.physics import oil

Portion = tuple[Bottle, float]  # a bottle and a volume, m3
Say = Callable[[float, str], str]  # a value of a kind, in the user's units
NEAR = 0.03  # a bottle this near the target is taken as it is: its own label is no better
_TRIED = 3  # recipes in whole parts, from the nearest on
PARTS_IN = 10  # most parts of a recipe in whole parts


class NoOil(ValueError):
    """The bottles do not give it: `lacks` is the entry to change."""

    def __init__(self, lacks: Literal["target", "amount"], sentence: str) -> None:
        super().__init__(sentence)
        self.lacks = lacks


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
    """An oil in words ("3 parts 350 cSt mixed with 1 part 500 cSt"), and what those parts really
    give: the viscosity by the log law and its band by all of them, m2/s at 25 C."""

    words: str
    viscosity: float
    low: float
    high: float
    mix: Mix
    parts: tuple[int, int] = (1, 0)

    def portions(self, amount: float) -> tuple[Portion, ...]:
        """What an amount of it in m3 takes out of which bottle."""
        whole = sum(self.parts)
        both = zip((self.mix.thin, self.mix.thick), self.parts, strict=True)
        return tuple((bottle, amount * count / whole) for bottle, count in both if count)


def best_mix(
    bottles: Sequence[Bottle], target: float, amount: float, say: Say, near: float = 0.0
) -> Mix:
    """The bottle within `near` (relative) of the target, else the pair whose laws disagree least;
    all of them hold enough for `amount`, m3. Raises NoOil."""
    full = [bottle for bottle in bottles if bottle.left >= amount]
    single = min(full, key=lambda bottle: abs(bottle.viscosity - target), default=None)
    if single is not None and abs(single.viscosity - target) <= near * target:
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
        raise _too_little(pairs, target, say)
    return min(enough, key=_spread)


def named(bottles: Sequence[Bottle], target: float, amount: float, say: Say) -> Named:
    """An oil that somebody with these bottles can fill in, in whole parts. Raises NoOil."""
    mix = best_mix(bottles, target, amount, say, NEAR)
    if mix.single:
        return _straight(mix.thin, say)
    thin, thick = _poured(mix, amount, target, say)
    if not thin or not thick:
        return _straight(mix.thin if thin else mix.thick, say)
    parts = [(float(thin), mix.thin.viscosity), (float(thick), mix.thick.viscosity)]
    poured = [
        parts_words(count, bottle_name(bottle, say))
        for count, bottle in ((thin, mix.thin), (thick, mix.thick))
    ]
    return Named(
        tr("{thin} mixed with {thick}", thin=poured[0], thick=poured[1]),
        oil.blend(parts),
        *oil.band(parts),
        mix,
        (thin, thick),
    )


def _straight(bottle: Bottle, say: Say) -> Named:
    """The oil of one bottle."""
    grade, words = bottle.viscosity, tr("straight {oil}", oil=bottle_name(bottle, say))
    return Named(words, grade, grade, grade, Mix(bottle, bottle, 0.0))


def _poured(mix: Mix, amount: float, target: float, say: Say) -> tuple[int, int]:
    """The nearest whole parts that the two bottles hold. Raises NoOil."""
    for thin, thick in oil.whole_parts(mix.share, PARTS_IN)[:_TRIED]:
        each = amount / (thin + thick)
        if each * thin <= mix.thin.left and each * thick <= mix.thick.left:
            return thin, thick
    raise _too_little([mix], target, say)


def _too_little(pairs: Sequence[Mix], target: float, say: Say) -> NoOil:
    says = tr(
        "your bottles give at most {most} of {target} from one pair; less, or another bottle, is "
        "needed",
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
        "{target} cannot be made of your bottles; they reach from {thinnest} to {thickest}",
        target=say(target, "viscosity"),
        thinnest=say(min(grades), "viscosity"),
        thickest=say(max(grades), "viscosity"),
    )


def _most(mix: Mix) -> float:
    """The most, m3, that the two bottles give of this mix."""
    parts = ((mix.thin, 1 - mix.share), (mix.thick, mix.share))
    return min(bottle.left / part for bottle, part in parts if part > 0)


def _spread(mix: Mix) -> float:
    """How far the blending laws part: highest over lowest."""
    lowest, highest = oil.band(
        [(1 - mix.share, mix.thin.viscosity), (mix.share, mix.thick.viscosity)]
    )
    return highest / lowest
