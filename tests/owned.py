"""Cars of an owner, for the tests: invented numbers, but known to somebody."""

from dataclasses import replace

from calc.asking.entry import Number
from calc.model.car import Car, is_asked_for, singles
from calc.model.origin import Origin, assumed

BEFORE = 1_600_000_000.0
"""When their values were measured, s since 1970."""


def owned(car: Car | None = None, name: str = "Blue buggy") -> Car:
    """A car whose owner has measured everything."""
    known = dict.fromkeys(singles(), Origin("measured", BEFORE))
    return replace(car or Car(), name=name, demo=False, origins=known)


def assumed_throughout(car: Car) -> Car:
    """The car with each number only assumed that can be."""
    origins = {
        path: assumed(entry)
        if isinstance(entry, Number) and not is_asked_for(entry)
        else car.origins[path]
        for path, entry in singles().items()
    }
    return replace(car, origins=origins)
