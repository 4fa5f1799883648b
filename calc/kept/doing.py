"""The deeds that a form, the collar log and a set-up lead to."""

from collections.abc import Mapping

from calc import units
from calc.answering.answer import Answer
from calc.asking import record
from calc.kept.deeds import Deed
from calc.model.car import Car, entry_at, singles
from calc.model.origin import Origin
from calc.replying.form import Form
from calc.replying.reading import learned, run, usual


def saved(
    form: Form, typed: Mapping[str, str], car: Car, when: float, system: str = units.METRIC
) -> Deed:
    """What was typed in a form is taken over into the car."""
    return Deed(learned=learned(form, typed, car, when, system), when=when, of=form.slug)


def assumed(form: Form, typed: Mapping[str, str], car: Car, when: float) -> Deed:
    """What is usual stands in for all that the form needs and nobody knows."""
    return Deed(learned=usual(form, typed, car, when), when=when, of=form.slug)


def done(
    form: Form, typed: Mapping[str, str], car: Car, when: float, system: str = units.METRIC
) -> Deed:
    """The answer of a form is carried out."""
    answer = run(form, typed, car, system).answer
    deed = saved(form, typed, car, when, system)
    return deed if answer is None else _with(deed, answer, car)
