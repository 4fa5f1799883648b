"""The words of an answer are on screen before its doubts are worked out: nothing that is carried
out may be another once those are."""

import random
from functools import partial
from typing import Any

import pytest

from calc import units
from calc.answering.uncertainty import Uncertain, Uncertainty, propagate
from calc.model.car import Car
from calc.replying.form import Form
from calc.replying.reading import run
from site_src.both.fragment import answer_html, doubts_html, figures_html, words_html
from tests.forms.every import each_form, few_ways
from tests.forms.ways import usual_entries
from tests.shown import whole

# Their instruction is itself a measurement or a blend with its doubt, in so many digits.
WAITING = {
    "drop-test": "how many digits the damping has",
    "evening-oil": "the doubt of what is mixed",
    "fill-bleed": "how many digits the time of the rebound has",
    "length-travel": "whether droops differ by more than the gauge",
    "pairing": "whether parts are alike as far as was measured",
    "piston-oil": "how many digits the forces have",
    "spring-rate": "the doubt of the rate",
}


@each_form
def test_an_answer_in_parts_is_the_whole_one_to_the_letter(
    form: Form, monkeypatch: pytest.MonkeyPatch
) -> None:
    """And no instruction waits for a doubt that it does not depend on."""
    waited = False

    def watched(*given: Any) -> dict[str, Uncertain]:
        def find(one: Uncertain) -> Uncertainty:
            nonlocal waited
            waited = True
            return one.uncertainty

        found = propagate(*given)
        return {name: Uncertain(one.value, partial(find, one)) for name, one in found.items()}

    monkeypatch.setattr("calc.replying.inputs.propagate", watched)
    for way in few_ways(form):
        words_html(form, run(form, way, Car()), units.METRIC)
    waiting, chance = waited, random.Random(5)
    for typed in ({}, *(usual_entries(form, way, chance) for way in few_ways(form))):
        system, waited = chance.choice(units.SYSTEMS), False
        reply = run(form, typed, Car(), system)
        words = words_html(form, reply, system)
        waiting |= waited
        doubts, figures = doubts_html(form, reply, system), figures_html(form, reply, system)
        at_once = answer_html(form, run(form, typed, Car(), system), system)
        assert whole(words, doubts, figures) == at_once, typed
    assert waiting == (form.slug in WAITING)
