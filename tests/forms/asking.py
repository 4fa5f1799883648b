"""Asking a form as somebody does, and reading its answer.

A module that tests one form says `ask = partial(answered, FORM)`, and `problems` and `reply`
likewise. What is typed comes by the names of the fields; `__` stands for the point of a row.
"""

from calc import units
from calc.answering.answer import Answer, Quantity
from calc.model.car import Car, from_json, put, to_json
from calc.replying.form import Form, Reply
from calc.replying.reading import run
from calc.units import NBSP

RIGID = put(put(Car(), "front.tyre_rate", 1e9), "rear.tyre_rate", 1e9)
"""The demo car on tyres that do not give."""

UNDRAWN = put(put(RIGID, "front.arm.upper_out", 40e-3), "rear.arm.upper_out", 25e-3)
"""The demo car with arms that are not those of its motion ratios: how the ratios grow is not known,
so a turn lifts by pitch / motion ratio, and the wheel rate is rate times motion ratio squared."""


def replied(
    form: Form, car: Car | None = None, /, *, system: str = units.METRIC, **typed: str
) -> Reply:
    """Answer or problems; the demo car where no other is given."""
    entered = {name.replace("__", "."): text for name, text in typed.items()}
    return run(form, entered, car or Car(), system)


def answered(form: Form, car: Car | None = None, /, **typed: str) -> Answer:
    """The answer, where there has to be one."""
    reply = replied(form, car, **typed)
    assert reply.problems == {}
    assert reply.answer is not None
    return reply.answer


def refused(form: Form, car: Car | None = None, /, **typed: str) -> dict[str, str]:
    """The problems, where there has to be no answer."""
    reply = replied(form, car, **typed)
    assert reply.answer is None
    return dict(reply.problems)


def quantity(answer: Answer, name: str) -> Quantity:
    return next(one for one in answer.quantities if one.name == name)


def value(answer: Answer, name: str) -> float:
    return quantity(answer, name).value


def values(answer: Answer) -> dict[str, float]:
    return {one.name: one.value for one in answer.quantities}


def told(answer: Answer) -> str:
    """The instructions with what they give; plain spaces, whatever may break."""
    return " ".join(f"{step.text} {step.gives}" for step in answer.steps).replace(NBSP, " ")


def cautions(answer: Answer) -> str:
    """All of them, the stops too; plain spaces, whatever may break."""
    return " ".join(caution.text for caution in answer.cautions).replace(NBSP, " ")


def stops(answer: Answer) -> str:
    """The cautions that stop the work, to the letter."""
    return " ".join(caution.text for caution in answer.cautions if caution.stop)


def noted(answer: Answer) -> dict[str, float]:
    """What it offers to write into the car, by the path there."""
    return {write.path: write.value for write in answer.writes}


def done(answer: Answer, car: Car | None = None) -> Car:
    """The car as it is noted once the work has been done; it can be stored and read."""
    car = car or Car()
    for write in answer.writes:
        car = put(car, write.path, write.value)
    assert from_json(to_json(car)) == car
    return car
