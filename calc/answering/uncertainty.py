"""How the uncertainty of the inputs reaches the answer (JCGM 100:2008, 5.1.2)."""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import Any

COVERAGE = 2.0  # k of the expanded uncertainty that is shown: about 95 of 100
Figures = Callable[[Mapping[str, float]], Mapping[str, float]]


@dataclass(frozen=True)
class Doubt:
    """A standard uncertainty, the input behind most of it and that input's share (0 to 1)."""

    u: float = 0.0
    main: str = ""
    main_share: float = 0.0


class Uncertain:
    """A value and its doubt, which `find` works out when it is first asked for: it takes many
    times as long as the value, and no instruction waits for it that does not depend on it."""

    def __init__(self, value: float, find: Callable[[], Doubt]) -> None:
        self.value, self._find = value, find

    @cached_property
    def doubt(self) -> Doubt:
        return self._find()

    @property
    def u(self) -> float:
        return self.doubt.u

    @property
    def main(self) -> str:
        return self.doubt.main

    @property
    def main_share(self) -> float:
        return self.doubt.main_share

    def at(self, value: float, by: float = 1.0) -> "Uncertain":
        """Another value that moves `by` times as far as this one."""
        return Uncertain(value, lambda: replace(self.doubt, u=by * self.u))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Uncertain):
            return NotImplemented
        return (self.value, self.doubt) == (other.value, other.doubt)

    __hash__ = None  # type: ignore[assignment]


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
        """The same inputs, one of them shifted."""
        return Watched(self._inputs, self, name, by)


def resolution(step: float) -> float:
    """Standard uncertainty of a reading to the nearest `step` (JCGM 100:2008, F.2.2.1)."""
    return step / math.sqrt(12)


def combine(parts: Mapping[str, float]) -> Doubt:
    """Root of the sum of squares of independent parts u_i = (df/dx_i) u(x_i)."""
    variance = sum(part * part for part in parts.values())
    most = max((abs(part) for part in parts.values()), default=0.0)
    # Of equal parts the first is named: the last bit, which differs between machines, is no reason.
    main = next((name for name, part in parts.items() if abs(part) >= most * (1 - 1e-9)), "")
    share = parts[main] ** 2 / variance if variance > 0 else 0.0
    return Doubt(math.sqrt(variance), main if share else "", share)


def propagate(
    figures: Figures, inputs: Mapping[str, float], u: Mapping[str, float]
) -> dict[str, Uncertain]:
    """Every figure with its uncertainty, by a difference over plus and minus u of each input.

    The figures are worked out now, their uncertainty when that of one is asked for.

    Where one side is impossible (the figures raise, or are not finite: the input stands at a
    bound) the other side alone is taken; where both are, the input is left out of the budget, as
    it has no room to move. An input that the figures do not ask for cannot move them: it is not
    tried.
    """
    watched = Watched(inputs)
    centre = figures(watched)
    budget = _Budget(figures, watched, centre, u)
    return {name: Uncertain(value, partial(budget.of, name)) for name, value in centre.items()}


class _Budget:
    """What each input adds to the doubt of each figure, worked out for all of them at once."""

    def __init__(
        self, figures: Figures, inputs: Watched, centre: Mapping[str, float], u: Mapping[str, float]
    ) -> None:
        self._figures, self._inputs, self._centre, self._u = figures, inputs, centre, u

    def of(self, figure: str) -> Doubt:
        return combine(self._parts[figure])

    @cached_property
    def _parts(self) -> dict[str, dict[str, float]]:
        centre = self._centre
        parts: dict[str, dict[str, float]] = {name: {} for name in centre}
        for name, width in self._u.items():
            if width <= 0 or name not in self._inputs.asked:
                continue
            both = [self._inputs.shifted(name, way * width) for way in (1, -1)]
            sides = [_finite(self._figures, each) or centre for each in both]
            reach = sum(side is not centre for side in sides)
            for figure in centre:
                if reach and all(figure in side for side in sides):
                    parts[figure][name] = (sides[0][figure] - sides[1][figure]) / reach
        return parts


def _finite(figures: Figures, inputs: Mapping[str, float]) -> Mapping[str, float] | None:
    try:
        moved = figures(inputs)
    except (ValueError, ArithmeticError):
        return None
    return moved if all(map(math.isfinite, moved.values())) else None
