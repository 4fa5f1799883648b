"""One sentence for what to measure better, where it matters."""

import html
import re

from calc import units
from calc.forms.catalogue import BY_SLUG
from calc.replying.advice import advice
from calc.replying.form import Form
from site_src.both.fragment import answer_html
from tests.forms.asking import answered, replied


def panel(form: Form, **typed: str) -> str:
    """The answer as the page gets it."""
    return answer_html(form, replied(form, **typed), units.METRIC)


def advised(slug: str, **typed: str) -> str:
    form = BY_SLUG[slug]
    said = {name: cell.said for _, name, cell in form.cells()}
    return advice(form, answered(form, **typed), said)


def test_the_entry_behind_most_of_the_doubt_is_named_once() -> None:
    """23.5 mm wanted, 22 mm measured to 0.5 mm in all: hardly anything else matters."""
    said = advised("collar-turns", friction="0 ± 0")
    assert re.fullmatch(
        r"Worth measuring again: Ride height now \(it causes \d\d% of the ±\)\.", said
    )
    shown = panel(BY_SLUG["collar-turns"], friction="0 ± 0")
    assert shown.count("Worth measuring again") == 1 and html.escape(said) in shown


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
