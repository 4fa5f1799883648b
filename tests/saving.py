"""Saving to a car what was typed in a form."""

from collections.abc import Mapping

from calc import units
from calc.model.car import Car, put
from calc.replying.form import Form
from calc.replying.learned import learned
from tests.owned import BEFORE


def keep(form: Form, typed: Mapping[str, str], car: Car, system: str = units.METRIC) -> Car:
    """The car with all that was typed and has a home in it."""
    for path, (value, _) in learned(form, typed, car, BEFORE, system).items():
        car = put(car, path, value)
    return car
