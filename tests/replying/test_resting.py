"""What stands beside a value that nobody has typed here: where it comes from."""

import re

import pytest

from calc.forms.catalogue import BY_SLUG
from calc.kept.deeds import carried_out
from calc.kept.doing import assumed
from calc.model.car import Car, empty, entry_at, forget, number_at, put
from calc.model.origin import Origin, entered, usual_value
from calc.model.origin import assumed as assumed_of
from calc.replying.reading import run
from calc.replying.resting import (
    counted,
    not_known,
    origin_words,
    resting,
    said_origins,
    still_missing,
)
from calc.units import METRIC, NBSP
from site_src.both.fragment import answer_html
from tests.owned import assumed_throughout, owned


@pytest.mark.parametrize(
    ("path", "value", "field", "word"),
    [
        ("front.ride_height", 0.022, "ride_height", "measured"),
        ("front.spring_rate", 640.0, "spring_rate", "from the label"),
        ("front.wanted_height", 0.0235, "wanted_height", "entered"),
    ],
)
def test_a_wish_was_not_measured(path: str, value: float, field: str, word: str) -> None:
    form, car = BY_SLUG["collar-turns"], empty("Mine")
    car = put(car, path, value, entered(entry_at(path), 1.0))
    told = dict(said_origins(form, run(form, {}, car), METRIC))
    assert told[field] == word


def test_what_is_not_known_is_looked_at_first() -> None:
    """A prediction among values that were measured, and then what is assumed before it in the
    form."""
    form, car = BY_SLUG["collar-turns"], owned()
    assert resting(form, run(form, {}, car)).first == "ride_height"
    predicted = put(car, "front.motion_ratio", 0.7, Origin("predicted", 1.0))
    assert resting(form, run(form, {}, predicted)).first == "motion_ratio"
    both = put(predicted, "front.pitch", 1e-3, Origin("assumed", 1.0))
    assert resting(form, run(form, {}, both)).first == "pitch"
    assert resting(form, run(form, {}, Car())).first == ""


def test_every_value_that_an_answer_rests_on_unmeasured_is_named_with_its_field() -> None:
    """All of them, however many, where the answer counts them and on the command line."""
    form = BY_SLUG["spring-preload"]
    car = assumed_throughout(owned())
    reply = run(form, {}, car)
    guessed = [name for name, one in reply.sources.items() if one.how == "assumed"]
    assert len(guessed) > 6
    html = answer_html(form, reply, METRIC)
    fold = html.partition('data-fold="rests"')[2].partition("</details>")[0]
    assert re.findall('data-field="(.*?)"', fold) == guessed
    said = resting(form, reply).said
    assert all(form.by_name[name].said in said for name in guessed)


def test_a_doubt_of_its_own_is_said() -> None:
    form, car = BY_SLUG["collar-turns"], empty("Mine")
    car = put(car, "front.ride_height", 0.022, Origin("predicted", 1.0, "log", 0.15e-3))
    told = dict(said_origins(form, run(form, {}, car), METRIC))
    assert (
        told["ride_height"]
        == "predicted, not measured since, ±\N{NO-BREAK SPACE}0.30\N{NO-BREAK SPACE}mm"
    )


def test_an_assumption_says_its_doubt_or_where_that_goes_below_nothing_its_range() -> None:
    told = []
    for path in ("front.pitch", "front.friction"):
        entry = number_at(path)
        assert (usual_value(entry) < 2 * assumed_of(entry).u) == (path == "front.friction")
        told.append(origin_words(assumed_of(entry), entry, METRIC).replace(NBSP, " "))
    assert told[0] == "assumed, ± 0.58 mm" and told[1] == "assumed, usual 0 to 1.5 mm"


def test_what_a_form_begins_with_is_no_value_of_the_car() -> None:
    """A turn of both collars stands there until somebody types; the demo car is all invented."""
    form, car = BY_SLUG["collar-turns"], empty("Mine")

    def told(car: Car, **typed: str) -> str:
        reply = run(form, {"ask": "height", **typed}, car)
        return dict(said_origins(form, reply, METRIC)).get("turns", "")

    assert told(car) == "to start with"
    assert told(car, turns="2") == told(Car()) == ""


def test_what_no_usual_value_stands_in_for_is_named_before_the_rest_is_assumed() -> None:
    """All of it at once, in the order of the form: the new spring and both scales."""
    form, car = BY_SLUG["spring-swap"], empty("Mine")
    needed = (
        "New spring rate; New spring free length; New spring solid length; "
        "Load on the left scale; Load on the right scale."
    )
    lacking = not_known(form, run(form, {}, car), METRIC)
    assert still_missing(lacking) == (
        f"Still missing: {len(lacking)} values. To be typed in any case: {needed}"
    )
    taken = carried_out(car, assumed(form, {}, car, 1.0))
    lacking = not_known(form, run(form, {}, taken), METRIC)
    assert still_missing(lacking) == f"Still missing: {needed}"


def test_a_few_values_that_are_missing_are_named_whether_or_not_they_can_be_assumed() -> None:
    typed = {"new_rate": "0.72", "new_free": "42", "new_solid": "12"}
    car = forget(forget(owned(), "front.motion_ratio"), "front.pitch")
    form = BY_SLUG["spring-swap"]
    said = still_missing(not_known(form, run(form, typed, car), METRIC))
    ratio = "Motion ratio (damper travel divided by wheel travel)"
    assert said == f"Still missing: {ratio}; Thread pitch of the body."


def test_what_is_missing_is_counted_as_it_is_named() -> None:
    form, car = BY_SLUG["spring-swap"], owned()
    reply = run(form, {}, car)
    assert len(reply.open) == 3  # the new spring, which is in no car
    missing = f"{len(reply.open)} missing"
    assert counted(form, reply) == f"{len(reply.asked)} known, {missing}"


def test_an_oil_that_is_only_assumed_was_not_entered() -> None:
    form, typed = BY_SLUG["drop-test"], {"mass": "27", "distance": "15"}
    typed |= {"runs.1.time": "1.7", "runs.2.time": "1.8"}
    car = carried_out(empty("Mine"), assumed(form, typed, empty("Mine"), 1.0))
    for oil, word in ({}, "assumed"), ({"oil": "400"}, "you entered"):
        answer = run(form, typed | oil, car).answer
        assert answer is not None and word in answer.steps[0].gives


def test_what_cannot_be_assumed_is_named() -> None:
    form, typed = BY_SLUG["spring-swap"], {"new_rate": "0.72", "new_free": "51"}
    reply = run(form, {**typed, "load_left": "700", "load_right": "700"}, owned())
    lacking = not_known(form, reply, METRIC)
    assert still_missing(lacking) == "Still missing: New spring solid length."
