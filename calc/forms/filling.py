"""What the dampers are filled with, out of the bottles owned: for one end, or for both together."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from calc.asking.entry import When
from calc.forms.bottles import BottleRow, Poured, owned, places, poured
from calc.forms.oil_choice import Named, NoOil, Say, named, nearest, straight
from calc.forms.recorded import FOLDED
from calc.language import tr
from calc.model.car import Bottle
from calc.model.corners import ENDS, PER_END, End
from calc.replying.inputs import Group, from_car

_WASTE = 0.15
"""Share of a fill that runs over or stays in syringe and beaker (common practice, no source)."""
TYPICAL = 4e-6
"""m³ of oil in a damper where nobody knows how much it holds."""
_ROUNDING = 1e-9  # of what is in a bottle

Stock = Mapping[int, Bottle]
"""Bottles by their place in the car's list."""


def in_stock(rows: Sequence[BottleRow]) -> Stock:
    return dict(zip(places(rows), owned(rows), strict=True))


def to_make(held: float) -> float:
    """How much oil both dampers of an end take, m3, where one of them holds so much."""
    return PER_END * held * (1 + _WASTE)


def oil_held(*, when: When = ()) -> Any:
    """The oil in one damper of the end, which decides how much is made."""
    return from_car("{axle}.inside.held", typical=TYPICAL, when=when)


def by_syringe(*, when: When = ()) -> Any:
    """What that is measured out with, folded at the end of the form."""
    return from_car("tools.syringe", group=FOLDED, when=when)


class EndFill(Group):
    """The dampers of an end as far as it decides how much oil is made for them."""

    held: float = oil_held()

    @property
    def to_make(self) -> float:
        """For both of them, m3."""
        return to_make(self.held)


@dataclass(frozen=True)
class Wanted:
    """An oil, m2/s at 25 C, how much of it, and the step that it is measured out in, m3."""

    grade: float
    amount: float
    step: float


@dataclass(frozen=True)
class Fill:
    """An oil that the bottles give in whole parts, and what is poured out of which for it."""

    oil: Named
    poured: Poured


def filled_from(stock: Stock, wanted: Wanted, say: Say) -> Fill:
    """Raises NoOil where these bottles do not give it."""
    bottles = [*stock.values()]
    oil = named(bottles, wanted.grade, wanted.amount, wanted.step, say)
    return Fill(oil, poured(stock, bottles, oil.portions))


def filled_together(
    stock: Stock, wanted: Mapping[End, Wanted], say: Say
) -> dict[End, Fill | NoOil]:
    """The oil for each end, or why there is none. Where the best for both would together take more
    than is in a bottle, one end gets the best of what the other leaves, in the order in which the
    mixing laws disagree less; the front alone gets one where neither order does for both."""
    made = {end: _fill_or_lack(stock, one, say) for end, one in wanted.items()}
    if not _short(stock, _of_all(made)):
        return made
    ways = []
    for first, then in (ENDS, ENDS[::-1]):
        rest = _drawn(stock, _of_all({first: made[first]}))
        ways.append({**made, then: _fill_or_lack(rest, wanted[then], say)})
    best = min(ways, key=_disagree)
    if math.isinf(_disagree(best)):
        return {**made, End.REAR: _nothing_left(wanted[End.REAR], say)}
    return best


def filled_nearest(
    stock: Stock, made: Mapping[End, Fill | NoOil], wanted: Wanted, say: Say
) -> Fill | None:
    """The bottle that comes nearest, as it is, of those that hold enough beside what is made of
    them; None where none does."""
    rest = _drawn(stock, _of_all(made))
    enough = [bottle for bottle in rest.values() if bottle.at_most >= wanted.amount]
    near = nearest(enough, wanted.grade)
    if near is None:
        return None
    oil = straight(near, wanted.amount, say)
    return Fill(oil, poured(rest, rest.values(), oil.portions))


def _fill_or_lack(stock: Stock, wanted: Wanted, say: Say) -> Fill | NoOil:
    try:
        return filled_from(stock, wanted, say)
    except NoOil as lack:
        return lack


def _of_all(made: Mapping[End, Fill | NoOil]) -> Poured:
    """What is poured for all of them."""
    return tuple(
        portion for one in made.values() if isinstance(one, Fill) for portion in one.poured
    )


def _drawn(stock: Stock, volumes: Poured) -> Stock:
    """The bottles with so much less in them."""
    less = dict.fromkeys(stock, 0.0)
    for place, volume in volumes:
        less[place] += volume
    return {
        place: bottle if bottle.left is None else replace(bottle, left=bottle.left - less[place])
        for place, bottle in stock.items()
    }


def _short(stock: Stock, volumes: Poured) -> bool:
    """Whether a bottle has less in it than all of that."""
    rest = _drawn(stock, volumes)
    return any(rest[place].at_most < -_ROUNDING * bottle.at_most for place, bottle in stock.items())


def _disagree(made: Mapping[End, Fill | NoOil]) -> float:
    """How far the mixing laws part in all of these oils, highest over lowest; infinite where one
    is lacking."""
    return math.prod(
        one.oil.high / one.oil.low if isinstance(one, Fill) else math.inf for one in made.values()
    )


def _nothing_left(wanted: Wanted, say: Say) -> NoOil:
    says = tr(
        "once the front dampers are filled your bottles no longer give {amount} of {target}; "
        "another bottle is needed",
        amount=say(wanted.amount, "volume"),
        target=say(wanted.grade, "viscosity"),
    )
    return NoOil("amount", says)
