"""What the gauge teaches: heights predicted by what was done, beside what was measured afterwards.

Turned collars lift an end by pitch / motion ratio. Where the car rises by another share of that
than predicted, time after time, it is the motion ratio of the record that is off: the best ratio
by least squares over all that has been seen.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.answering.uncertainty import COVERAGE
from calc.asking import record
from calc.asking.entry import Number
from calc.kept.log import Entry
from calc.model.car import Car, singles
from calc.model.corners import ENDS, End
from calc.model.following import uncertainty_with

_LEAST = 0.2e-3
"""m; a smaller predicted rise teaches nothing that a height gauge could show."""


@dataclass(frozen=True)
class Seen:
    """A predicted change of height beside the measured one, m, with the standard uncertainty of
    the measured change and of the whole prediction."""

    predicted: float
    measured: float
    u_measured: float
    u_predicted: float

    @property
    def is_off(self) -> bool:
        """Whether the two differ by more than both allow."""
        u = math.hypot(self.u_measured, self.u_predicted)
        return abs(self.measured - self.predicted) > COVERAGE * u


@dataclass(frozen=True)
class Lesson:
    """What an end has shown: how often, the last of it, and the motion ratio that would have
    predicted all of it best, with its standard uncertainty. `fits` says whether that ratio differs
    from the one of the record by more than its uncertainty, and is one that can be."""

    end: End
    seen: tuple[Seen, ...]
    ratio: float
    u: float
    fits: bool

    @property
    def last(self) -> Seen:
        return self.seen[-1]


def lessons(car: Car, entries: Sequence[Entry]) -> tuple[Lesson, ...]:
    """What the entries of a car's log teach, oldest first; one lesson an end at most."""
    found = (_lesson(car, end, _seen(car, end, entries)) for end in ENDS)
    return tuple(lesson for lesson in found if lesson is not None)


def _seen(car: Car, end: End, entries: Sequence[Entry]) -> tuple[Seen, ...]:
    """Every time that a height was measured where one had been predicted."""
    path = f"{end}.ride_height"
    found = []
    start: tuple[float, float] | None = None  # the height before the deeds, its uncertainty
    for entry in entries:
        was = entry.was.get(path)
        told = entry.does.learned.get(path)
        if told is None:
            if was is not None and was[1] is not None and was[1].how != "predicted":
                start = was[0], uncertainty_with(car, path, was[1])
            continue
        value, source = told
        if start is not None and was is not None and was[1] is not None:
            before, u_before = start
            if was[1].how == "predicted" and abs(was[0] - before) >= _LEAST:
                u = math.hypot(u_before, uncertainty_with(car, path, source))
                # What is common to both, the height before, is in the measured change.
                u_rise = math.sqrt(max(0.0, (was[1].u or 0.0) ** 2 - u_before**2))
                found.append(Seen(was[0] - before, value - before, u, u_rise))
        start = None
    return tuple(found)


def _lesson(car: Car, end: End, seen: tuple[Seen, ...]) -> Lesson | None:
    if not seen:
        return None
    squares = sum(one.predicted**2 for one in seen)
    factor = sum(one.predicted * one.measured for one in seen) / squares
    u_factor = math.sqrt(sum((one.predicted * one.u_measured) ** 2 for one in seen)) / squares
    path = f"{end}.motion_ratio"
    now = record.get(car, path)
    ratio = now / factor if factor > 0 else math.inf
    entry = singles()[path]
    assert isinstance(entry, Number)
    u = ratio * u_factor / factor if factor > 0 else math.inf
    low, high = entry.usual
    fits = low <= ratio <= high and abs(ratio - now) > COVERAGE * u
    return Lesson(end, seen, ratio, u, fits)
