"""Any car that the record can hold and any entries: an answer or sentences, never an exception.

FORM_EXAMPLES=5000 looks harder; tests/bench/extreme.py says which answers take longest.
"""

import os
from collections.abc import Mapping

import pytest

from calc.forms.catalogue import FORMS
from calc.model.car import Car, from_json, to_json
from calc.replying.form import Form
from calc.replying.reading import run
from tests.forms.every import SLIP, check_reply, each_form
from tests.forms.extreme import case
from tests.saving import keep

EXAMPLES = int(os.environ.get("FORM_EXAMPLES", "40"))  # of each form


def names(car: Car, typed: Mapping[str, str]) -> str:
    """Those of the car, of its bottles and springs, and those that were typed."""
    given = (text for field, text in typed.items() if field.rpartition(".")[2] == "name")
    return " ".join([car.name, *(it.name for it in (*car.bottles, *car.springs)), *given])


@each_form
def test_the_most_extreme_cars_get_an_answer_or_sentences(form: Form) -> None:
    answers = 0
    for seed in range(FORMS.index(form), EXAMPLES * len(FORMS), len(FORMS)):
        asked, car, typed, system = case(seed)
        assert asked is form
        reply = run(form, typed, car, system)
        answers += reply.answer is not None
        if not SLIP.search(names(car, typed)):
            check_reply(form, reply)
        assert from_json(to_json(keep(form, typed, car, system)))
    assert 0 < answers < EXAMPLES  # neither all refused nor all taken: the edge is looked at


@pytest.mark.parametrize("seed", range(0, 400, 20))
def test_extreme_cars_survive_being_stored(seed: int) -> None:
    car = case(seed)[1]
    assert from_json(to_json(car)) == car
