"""Cars of an owner, for the tests: invented numbers, but known to somebody."""

from dataclasses import replace

from calc.model.car import Car, singles
from calc.model.origin import Origin

BEFORE = 1_600_000_000.0
"""When their values were measured, s since 1970."""


def owned(car: Car | None = None, name: str = "Blue buggy") -> Car:
    """A car whose owner has measured everything."""
    known = dict.fromkeys(singles(), Origin("measured", BEFORE))
    return replace(car or Car(), name=name, demo=False, origins=known)
