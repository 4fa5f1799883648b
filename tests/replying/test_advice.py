"""One sentence for what to measure better, where it matters."""

import html
import re

from calc import units
from calc.asking import record
from calc.forms.catalogue import BY_SLUG
from calc.model.car import number_at, put
from calc.model.origin import Origin, assumed
from calc.replying.advice import advice
from calc.replying.form import Form
from calc.replying.reading import run
from site_src.both.fragment import answer_html
from tests.forms.asking import replied
from tests.owned import owned


def panel(form: Form, **typed: str) -> str:
    """The answer as the page gets it."""
    return answer_html(form, replied(form, **typed), units.METRIC)


def advised(slug: str, **typed: str) -> str:
    form = BY_SLUG[slug]
    said = {name: cell.said for _, name, cell in form.cells()}
    reply = replied(form, **typed)
    assert reply.answer is not None
    return advice(form, reply.answer, said, reply.sources)


def test_the_entry_behind_most_of_the_doubt_is_named_once() -> None:
    """23.5 mm wanted, 22 mm measured to 0.5 mm in all: hardly anything else matters."""
    said = advised("collar-turns", friction="0 ± 0")
    assert re.fullmatch(
        r"Worth measuring again: Ride height now \(it causes \d\d% of the ±\)\.", said
    )
    shown = panel(BY_SLUG["collar-turns"], friction="0 ± 0")
    assert shown.count("Worth measuring again") == 1 and html.escape(said) in shown


def test_what_nobody_has_measured_is_not_measured_again() -> None:
    """Half of the doubt and more in a motion ratio that is only what is usual."""
    form, ratio = BY_SLUG["collar-turns"], "front.motion_ratio"
    car = put(owned(), ratio, 0.65, assumed(number_at(ratio)))
    for name in ("ride_height", "wanted_height"):
        car = put(
            car, f"front.{name}", record.get(car, f"front.{name}"), Origin("measured", u=1e-6)
        )
    reply = run(form, {"friction": "0 ± 0"}, car)
    said = {name: cell.said for _, name, cell in form.cells()}
    assert reply.answer is not None
    told = advice(form, reply.answer, said, reply.sources)
    assert told.startswith("Worth measuring: Motion ratio")


def test_a_better_measurement_moves_the_advice_on() -> None:
    assert "Ride height now" not in advised("collar-turns", ride_height="22 ± 0.002")


def test_corners_that_are_measured_alike_count_together() -> None:
    smooth = {"front.friction": "0 ± 0", "rear.friction": "0 ± 0"}
    assert "again: Height now" in advised("collar-turns", scope="corners", **smooth)


def test_what_no_measuring_mends_is_said_differently() -> None:
    """Two exactly known oils far apart: the laws differ, whoever measures."""
    said = advised("oil-blend", thin="100 ± 0.01", thick="10000 ± 0.01", target="1000")
    assert "in none of the entries: which mixing rule" in said and "Measure" not in said


def test_where_nothing_stands_out_nothing_is_said() -> None:
    assert advised("motion-ratio") == ""
    assert 'class="advice"' not in panel(BY_SLUG["motion-ratio"])
