"""How the uncertainty of the inputs reaches the answer (JCGM 100:2008, 5.1.2)."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, partial
from typing import Any

COVERAGE = 2.0  # k of the expanded uncertainty that is shown: about 95 of 100
_SKEW = 1.4
"""One end is so many times as far as the other where both are shown: below it the symmetrical
interval holds 94 of 100 at least (worked out for two halves of normal distributions)."""
_FOLLOWS = 0.75, 2.0
"""Between these shares of the root of the sum of squares all inputs together move a figure, where
it bends smoothly: beyond, it has a kink or runs away (a shaft about to lock)."""
_SLIGHT = 0.1
"""Share of an interval that is not looked at where kinks are searched for."""
_EVEN = 0.1
"""One way is so many times as far as the other at least, where an input only bends a figure."""
_HALVINGS = 6  # how finely is looked how far an input can move
_DRAWS = 200
"""Draws of the inputs where a figure has a kink: its ends are then known to a tenth or so."""
Figures = Callable[[Mapping[str, float]], Mapping[str, float]]


@dataclass(frozen=True)
class Uncertainty:
    """A standard uncertainty, the input behind most of it and that input's share (0 to 1).

    `ends` are how far the interval of about 95 cases in 100 reaches below the value and above it,
    where the two differ so much that ± would mislead; else it is the value ± 2 u. `alone` is how
    far below and above each input moves the value by itself.
    """

    u: float = 0.0
    main: str = ""
    main_share: float = 0.0
    ends: tuple[float, float] | None = None
    alone: Mapping[str, tuple[float, float]] = field(default_factory=dict, compare=False)

    def times(self, by: float) -> "Uncertainty":
        """That of a figure which moves `by` times as far; by is above 0."""
        ends = self.ends and (by * self.ends[0], by * self.ends[1])
        alone = {name: (by * below, by * above) for name, (below, above) in self.alone.items()}
        return replace(self, u=by * self.u, ends=ends, alone=alone)

    @property
    def reach(self) -> tuple[float, float]:
        """How far the interval reaches below the value and above it."""
        return self.ends or (COVERAGE * self.u, COVERAGE * self.u)

    def to_power(self, power: float, of: float, value: float) -> "Uncertainty":
        """That of `value`, which goes with a power (not 0) of the value `of` that this belongs to;
        below 0 its lower end is the upper one then. A tenth of `of` is the lowest tried."""
        below, above = self.reach
        far = (max(of - below, of / 10), of + above)
        low, high = sorted(value * (one / of) ** power for one in far)
        u = abs(power) * value / of * self.u
        return replace(self, u=u, ends=_where_uneven(value - low, high - value), alone={})


def _where_uneven(below: float, above: float) -> tuple[float, float] | None:
    """The ends of an interval, None where ± says it as well."""
    return (below, above) if max(below, above) > _SKEW * min(below, above) else None


class Uncertain:
    """A value and its uncertainty, which `find` works out when first asked for: it takes many
    times as long as the value, and no instruction waits for it that does not depend on it. The ends
    of an uneven interval take as long again: `refine` has them, where more is asked than `u`."""

    def __init__(
        self,
        value: float,
        find: Callable[[], Uncertainty],
        refine: Callable[[Uncertainty], Uncertainty] = lambda found: found,
    ) -> None:
        self.value, self._find, self._refine = value, find, refine

    @cached_property
    def _budget(self) -> Uncertainty:
        return self._find()

    @cached_property
    def uncertainty(self) -> Uncertainty:
        return self._refine(self._budget)

    @property
    def u(self) -> float:
        return self._budget.u

    @property
    def main(self) -> str:
        return self._budget.main

    @property
    def main_share(self) -> float:
        return self._budget.main_share

    @property
    def ends(self) -> tuple[float, float] | None:
        return self.uncertainty.ends

    def at(self, value: float, by: float = 1.0) -> "Uncertain":
        """Another value that moves `by` times as far as this one."""
        return Uncertain(
            value, lambda: self._budget.times(by), lambda _: self.uncertainty.times(by)
        )

    def to_power(self, value: float, power: float) -> "Uncertain":
        """Another value that goes with this one (above 0) to a power."""

        def to_power(found: Uncertainty) -> Uncertainty:
            return found.to_power(power, self.value, value)

        return Uncertain(
            value, lambda: to_power(self._budget), lambda _: to_power(self.uncertainty)
        )

    def no_less(self, than: float) -> "Uncertain":
        """This value where it can be no less: its interval ends there, where it would reach beyond.
        It holds the true value as often as before."""

        def ended(found: Uncertainty) -> Uncertainty:
            below, above = found.reach
            room = max(self.value - than, 0.0)
            return found if below <= room else replace(found, ends=(room, above))

        return Uncertain(self.value, lambda: self._budget, lambda _: ended(self.uncertainty))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Uncertain):
            return NotImplemented
        return (self.value, self.uncertainty) == (other.value, other.uncertainty)

    __hash__ = None  # type: ignore[assignment]


def smaller(one: Uncertain, other: Uncertain) -> Uncertain:
    """The smaller of two independent uncertain values. Moving one input at a time shows only the
    uncertainty of the one that is smaller as they stand.

    Its interval is where 95.45 in 100 of the smaller lie (2.275 below, 2.275 above), of two values
    normally distributed, each side as wide as it is stated.
    """
    least = one if one.value <= other.value else other
    values = one.value, other.value

    def found(doubts: tuple[Uncertainty, Uncertainty], of_least: Uncertainty) -> Uncertainty:
        def exceeds(value: float) -> float:
            each = zip(values, doubts, strict=True)
            return math.prod(1.0 - _reached(at, doubt, value) for at, doubt in each)

        def place(share: float) -> float:
            far = max(*doubts[0].reach, *doubts[1].reach, 0.0) * 2
            return _last(lambda at: exceeds(at) > share, least.value - far, least.value + far)

        below, above = least.value - place(1 - _TAIL), place(_TAIL) - least.value
        u = (below + above) / (2 * COVERAGE)
        return replace(of_least, u=u, ends=_where_uneven(below, above))

    return Uncertain(
        least.value,
        lambda: found((one._budget, other._budget), least._budget),
        lambda _: found((one.uncertainty, other.uncertainty), least.uncertainty),
    )


def _below(deviations: float) -> float:
    """Share of a normal distribution that lies below so many standard deviations."""
    return (1.0 + math.erf(deviations / math.sqrt(2.0))) / 2


_TAIL = _below(-COVERAGE)
_BISECTIONS = 50


def _last(holds: Callable[[float], bool], low: float, high: float) -> float:
    """The last place from `low` up where something holds that does not beyond."""
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low


def _reached(at: float, doubt: Uncertainty, value: float) -> float:
    """Share of cases in which a value `at` there, and in doubt, is `value` or less."""
    away = value - at
    far = doubt.reach[away > 0] / COVERAGE
    if far == 0.0:
        return float(away >= 0.0)
    return _below(away / far)


_Memo = tuple[set[str], Any]  # the inputs it asked for, and the result


class Watched(Mapping[str, float]):
    """Inputs, one of them shifted, that know which were asked for and the results memoised from
    them. A result that did not ask for the shifted input is that of the centre."""

    def __init__(
        self,
        inputs: Mapping[str, float],
        centre: "Watched | None" = None,
        shifted: str = "",
        by: float = 0.0,
    ) -> None:
        self.asked: set[str] = set()
        self.memo: dict[Any, _Memo] = {}
        self._inputs = inputs
        self._at_centre = centre.memo if centre else {}
        self._shifted, self._by = shifted, by

    def __getitem__(self, name: str) -> float:
        self.asked.add(name)
        return self._inputs[name] + self._by if name == self._shifted else self._inputs[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._inputs)

    def __len__(self) -> int:
        return len(self._inputs)

    def memoised(self, key: Any, make: Callable[[], Any]) -> Any:
        """The result of `make` from the inputs, reused where none that it asks for is shifted."""
        if key not in self.memo:
            before, self.asked = self.asked, set()
            try:
                asked, made = self._at_centre.get(key, ({self._shifted}, None))
                if self._shifted in asked:
                    made = make()
                    asked = self.asked
                self.memo[key] = asked, made
            finally:
                self.asked = self.asked | before
        asked, made = self.memo[key]
        self.asked |= asked
        return made

    def shifted(self, name: str, by: float) -> "Watched":
        """The inputs with one of them shifted."""
        return Watched(self._inputs, self, name, by)


def resolution(step: float) -> float:
    """Standard uncertainty of a reading to the nearest `step` (JCGM 100:2008, F.2.2.1)."""
    return step / math.sqrt(12)


@dataclass(frozen=True)
class Part:
    """What moving one input by COVERAGE u, or as far as it can, does to a figure: both ways."""

    up: float
    down: float
    sides: int = 2

    @property
    def u(self) -> float:
        """As a standard uncertainty, with its sign. An input at a bound has one side: that."""
        return (self.up - self.down) / (self.sides * COVERAGE)

    @property
    def kinked(self) -> bool:
        """Whether the figure hardly moves one way, or moves the same way for both."""
        return min(self.below, self.above) < _EVEN * max(self.below, self.above)

    @property
    def below(self) -> float:
        return max(0.0, -self.up, -self.down)

    @property
    def above(self) -> float:
        return max(0.0, self.up, self.down)


def combine(parts: Mapping[str, Part]) -> Uncertainty:
    """Root of the sum of squares of independent parts, those upward and those downward apart."""
    widths = {name: abs(part.u) for name, part in parts.items()}
    variance = sum(width * width for width in widths.values())
    most = max(widths.values(), default=0.0)
    # Of equal parts the first is named: the last bit, which differs between machines, is no reason.
    main = next((name for name, width in widths.items() if width >= most * (1 - 1e-9)), "")
    share = widths[main] ** 2 / variance if variance > 0 else 0.0
    below = math.hypot(*(part.below for part in parts.values()))
    above = math.hypot(*(part.above for part in parts.values()))
    return Uncertainty(
        math.sqrt(variance),
        main if share else "",
        share,
        _where_uneven(below, above),
        {name: (part.below, part.above) for name, part in parts.items()},
    )


def propagate(
    figures: Figures, inputs: Mapping[str, float], u: Mapping[str, float]
) -> dict[str, Uncertain]:
    """Every figure with its uncertainty, from moving each input by plus and minus COVERAGE u.

    The figures are worked out now, their uncertainty when that of one is asked for.

    An input is moved as far as the interval reaches, so that a figure which bends or has a kink
    within it (a spring about to lie loose, a shaft about to lock) gets an interval with two ends.
    Where it can move less on one side (beyond, the figures raise or are not finite: it stands near
    a bound) it is moved as far as it can; where it has no room on either side it is left out of the
    budget. An input that the figures do not ask for cannot move them: it is not tried.
    """
    watched = Watched(inputs)
    centre = figures(watched)
    budget = _Budget(figures, watched, centre, u)
    return {
        name: Uncertain(value, partial(budget.of, name), partial(budget.refined, name))
        for name, value in centre.items()
    }


class _Budget:
    """What each input adds to the uncertainty of each figure, worked out for all at once."""

    def __init__(
        self, figures: Figures, inputs: Watched, centre: Mapping[str, float], u: Mapping[str, float]
    ) -> None:
        self._figures, self._inputs, self._centre, self._u = figures, inputs, centre, u

    def of(self, figure: str) -> Uncertainty:
        return combine(self._parts[figure])

    def refined(self, figure: str, found: Uncertainty) -> Uncertainty:
        return found if found.ends is None else replace(found, ends=self._ends(figure))

    @cached_property
    def _parts(self) -> dict[str, dict[str, Part]]:
        centre = self._centre
        parts: dict[str, dict[str, Part]] = {name: {} for name in centre}
        for name, width in self._u.items():
            if width <= 0 or name not in self._inputs.asked:
                continue
            both = [self._moved(name, way * width) for way in (1, -1)]
            for figure, value in centre.items():
                ends = [
                    self._moved(name, way * width, figure) if end and figure not in end else end
                    for way, end in zip((1, -1), both, strict=True)
                ]
                sides = sum(end is not None for end in ends)
                if sides:
                    up, down = (end[figure] - value if end else 0.0 for end in ends)
                    parts[figure][name] = Part(up, down, sides)
        return parts

    def _moved(self, name: str, u: float, figure: str = "") -> Mapping[str, float] | None:
        """The figures with an input moved by COVERAGE u or, where that cannot be, as far as it can
        (as far as `figure` is there, where one is named); None where it has no room."""

        def at(by: float) -> Mapping[str, float] | None:
            found = _finite(self._figures, self._inputs.shifted(name, by * u))
            return found if found is None or not figure or figure in found else None

        found = at(COVERAGE)
        if found is not None:
            return found
        possible, beyond = 0.0, COVERAGE
        for _ in range(_HALVINGS):
            middle = (possible + beyond) / 2
            moved = at(middle)
            if moved is None:
                beyond = middle
            else:
                possible, found = middle, moved
        return found

    def _ends(self, figure: str) -> tuple[float, float]:
        """How far the interval of a figure reaches below and above: as far as the figure goes where
        all inputs move together by COVERAGE standard deviations, each by its share. Where several
        inputs make a kink (a wheel about to rest on its stop, a spring about to lie loose), drawn
        ones tell; a kink of one input is where that input has it."""
        parts = self._parts[figure]
        reaches = {
            way: {one: part.below if way < 0 else part.above for one, part in parts.items()}
            for way in (-1, 1)
        }
        wholes = {way: math.hypot(*reach.values()) for way, reach in reaches.items()}
        slight = _SLIGHT * max(wholes.values())
        moving = [part for part in parts.values() if max(part.below, part.above) > slight]
        if len(moving) == 1 and (not moving[0].kinked or not all(wholes.values())):
            return wholes[-1], wholes[1]
        if any(part.kinked for part in moving):
            return self._drawn_ends(figure)
        ends = [self._together(figure, way, reaches[way], wholes[way]) for way in (-1, 1)]
        shares = [end / whole for end, whole in zip(ends, wholes.values(), strict=True)]
        if not all(_FOLLOWS[0] < share < _FOLLOWS[1] for share in shares):
            return self._drawn_ends(figure)
        return ends[0], ends[1]

    def _together(self, figure: str, way: int, reach: Mapping[str, float], whole: float) -> float:
        """How far a figure goes one way where all inputs move; 0 where it is not there then."""
        shifted = dict(self._inputs)
        for one, part in self._parts[figure].items():
            side = 1 if way * part.up >= way * part.down else -1
            shifted[one] += side * COVERAGE * self._u[one] * reach[one] / whole
        there = (_finite(self._figures, Watched(shifted)) or {}).get(figure)
        return 0.0 if there is None else way * (there - self._centre[figure])

    def _drawn_ends(self, figure: str) -> tuple[float, float]:
        """How far the interval reaches below and above by drawn inputs; an end that the value
        itself is beyond is at the value."""
        value = self._centre[figure]
        found = sorted(each[figure] for each in self._drawn if figure in each) or [value]
        low, high = _quantile(found, _TAIL), _quantile(found, 1 - _TAIL)
        return max(0.0, value - low), max(0.0, high - value)

    @cached_property
    def _drawn(self) -> list[Mapping[str, float]]:
        """The figures of inputs drawn from normal distributions (JCGM 101:2008, 7), those left out
        that cannot be."""
        moving = sorted(
            {
                name
                for parts in self._parts.values()
                for name, part in parts.items()
                if part.below or part.above
            }
        )
        made = []
        for places in _draws(len(moving)):
            shifted = dict(self._inputs)
            for name, place in zip(moving, places, strict=True):
                shifted[name] += place * self._u[name]
            made.append(_finite(self._figures, Watched(shifted)))
        return [each for each in made if each]


def _quantile(of: Sequence[float], share: float) -> float:
    """The value below which such a share of sorted values lies."""
    at = min(max(share * len(of) - 0.5, 0.0), len(of) - 1.0)
    low = int(at)
    high = min(low + 1, len(of) - 1)
    return of[low] + (at - low) * (of[high] - of[low])


@cache
def _normal_places() -> list[float]:
    """Middles of _DRAWS equally likely pieces of a normal distribution."""

    def place(share: float) -> float:
        return _last(lambda at: _below(at) < share, -10.0, 10.0)

    return [place((n + 0.5) / _DRAWS) for n in range(_DRAWS)]


@cache
def _draws(count: int) -> list[tuple[float, ...]]:
    """So many normal numbers in each of _DRAWS draws, every piece of the distribution of each once
    (Latin hypercube, McKay, Beckman and Conover 1979); the same draws each time."""
    state, columns = 1, []
    for _ in range(count):
        column = list(_normal_places())
        for n in range(_DRAWS - 1, 0, -1):
            state = (1664525 * state + 1013904223) % 2**32
            other = (state >> 8) % (n + 1)
            column[n], column[other] = column[other], column[n]
        columns.append(column)
    return list(zip(*columns, strict=True))


def _finite(figures: Figures, inputs: Mapping[str, float]) -> Mapping[str, float] | None:
    try:
        moved = figures(inputs)
    except (ValueError, ArithmeticError):
        return None
    return moved if all(map(math.isfinite, moved.values())) else None
