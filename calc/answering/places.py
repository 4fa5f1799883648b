"""Places along the x axis of a curve, round in the unit shown, so that a table of them reads well.

The table under a plot has at most a dozen rows and one, evenly from the first place to the last.
"""

import math

from calc.units import unit_of

_PLAIN = (1.0, 2.0, 5.0, 10.0)  # times a power of ten
_ROUND = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)  # where none of those fits
_STEPS = 12  # at most from end to end
_NEAR = 0.25  # of a step; a place so near an end is left out
_NAUGHT = 1e-6  # of a step; an end so near 0 stands for it
_SAME = 1e-9  # of a step


def _round_step(least: float) -> float:
    """The roundest from `least` to one and a half times that."""
    power = 10.0 ** math.floor(math.log10(least))
    fits = (
        m * power for m in _PLAIN + _ROUND if 1 - _SAME <= m * power / least <= 1.5 * (1 + _SAME)
    )
    return next(fits)


def between(low: float, high: float, kind: str, system: str) -> list[float]:
    """8 to 14 places in SI: both ends as they are, and round ones; 0 where it is between."""
    unit = unit_of(kind, system)
    first, last = unit.from_si(low), unit.from_si(high)
    step = _round_step((last - first) / (_STEPS - 0.6))  # the two ends lie off the round places
    numbers = range(math.ceil(first / step), math.floor(last / step) + 1)
    inner = [
        unit.to_si(n * step)
        for n in numbers
        if min(n * step - first, last - n * step) > step * (_NAUGHT if n == 0 else _NEAR)
    ]
    return [low, *inner, high]


def onward(least: float, kind: str, system: str, fine: int = 4) -> list[float]:
    """From 0 to a round place, at `least` or up to an eighth beyond it, in SI: 8 to 12 round steps,
    each in `fine` parts (2 or 4), or 5 where a table of 4 would fall between the steps."""
    unit = unit_of(kind, system)
    step = _round_step(least / unit.factor / _STEPS)
    steps = math.ceil(least / unit.factor / step - _SAME)
    parts = 5 if fine == 4 and steps == 9 else fine
    return [n * step / parts * unit.factor for n in range(steps * parts + 1)]
