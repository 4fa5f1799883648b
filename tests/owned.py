"""Cars of an owner, for the tests: invented numbers, but known to somebody."""

from collections.abc import Mapping
from dataclasses import replace

from calc.kept.deeds import carried_out
from calc.kept.doing import saved
from calc.model.car import Car, singles
from calc.model.origin import Origin
from calc.replying.form import Form
from calc.units import METRIC

BEFORE = 1_600_000_000.0
"""When their values were measured, s since 1970."""


def owned(car: Car | None = None, name: str = "Blue buggy") -> Car:
    """A car whose owner has measured everything."""
    known = dict.fromkeys(singles(), Origin("measured", BEFORE))
    return replace(car or Car(), name=name, demo=False, origins=known)


def keep(form: Form, typed: Mapping[str, str], car: Car, system: str = METRIC) -> Car:
    """The car with what was typed in a form saved to it."""
    return carried_out(car, saved(form, typed, car, BEFORE, system))
