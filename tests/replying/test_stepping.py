"""Steps at a number: those of the tool that is used, round in every unit."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.asking.entry import Number
from calc.asking.next_unit import in_next_unit
from calc.asking.typed import parse
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.model.car import Car, Tools
from calc.replying import stepping
from calc.replying.reading import run

CELLS = [cell for form in FORMS for _, _, cell in form.cells() if isinstance(cell, Number)]
NUMBERS = list({(n.kind, n.usual, n.tool, n.whole, n.step): n for n in CELLS}.values())


def test_every_step_is_a_plain_positive_decimal_for_every_unit() -> None:
    for number in NUMBERS:
        steps = stepping.steps(number, Tools())
        assert len(steps) == len(stepping.units_of(number.kind))
        assert all(Decimal(step) > 0 for step in steps), number.label
        assert not any("e" in step.lower() for step in steps), number.label


def test_a_step_is_that_of_the_tool() -> None:
    cells = {name: cell for _, name, cell in BY_SLUG["collar-turns"].cells()}
    tools = Tools(turn_step=0.125, ruler=1e-3)
    assert stepping.steps(cells["turns"], tools) == ("0.125",)
    assert stepping.own_steps(BY_SLUG["collar-turns"], tools)["turns"] == ("0.125",)
    assert stepping.own_steps(BY_SLUG["collar-turns"], Tools()) == {}
    assert stepping.steps(cells["spring_free"], tools)[0] == "1"
    assert stepping.steps(cells["wanted_height"], tools)[0] == "0.5"  # its own, no tool reads it
    assert stepping.steps(cells["spring_free"], Tools())[:2] == ("0.5", "0.02")  # 0.0197 in


@pytest.mark.parametrize("number", NUMBERS, ids=lambda n: n.label)
def test_what_is_counted_goes_by_one_and_the_rest_crosses_the_usual_range(number: Number) -> None:
    unit = units.unit_of(number.kind, units.METRIC)
    step = float(stepping.steps(number, Tools())[units.KINDS[number.kind].index(unit)])
    if number.whole:
        assert step == 1
    wide = (number.usual[1] - number.usual[0]) / unit.factor
    assert 1 <= wide / step <= 3000


@given(st.data())
@settings(max_examples=200, deadline=None)
def test_going_through_the_units_loses_nothing(data: st.DataObject) -> None:
    """The next one means the same to the digits of an entry; after all the text is back."""
    number = data.draw(st.sampled_from(NUMBERS))
    unit = data.draw(st.sampled_from(units.KINDS[number.kind]))
    system = data.draw(st.sampled_from(units.SYSTEMS))
    value = data.draw(st.floats(*number.usual))
    doubt = data.draw(st.sampled_from(("", " ± 0.1", " ± 5 %" if number.kind != "share" else "")))
    digits = f"{unit.from_si(value):.{unit.decimals}f}"
    first = f"{digits} {unit.symbol}{doubt}"
    meant = parse(first, number.kind, system)
    text = first
    for _ in units.KINDS[number.kind]:
        text = in_next_unit(text, number.kind, system, first=first)
        there = parse(text, number.kind, system)
        least = unit.factor * 10.0 ** -(unit.decimals + 2)
        assert there.value == pytest.approx(meant.value, abs=least)
        assert (there.u or 0) == pytest.approx(meant.u or 0, rel=0.01)
    assert text == first


def test_the_inch_of_the_standard() -> None:
    """25.4 mm are one inch exactly: NIST SP 811, appendix B.8."""
    assert in_next_unit("25.4", "length", units.METRIC) == "1 in"
    assert in_next_unit("25,4 ± 0,254", "length", units.METRIC) == "1 in ± 0,01"
    assert in_next_unit("1", "length", units.IMPERIAL) == "2.54 cm"
    assert in_next_unit("about two", "length", units.METRIC) == "about two"


def test_the_value_of_the_car_stays_what_it_is_in_another_unit() -> None:
    """40 mm shown as 1.574803 in is 40 mm and no more: not typed again, not to be kept."""
    form, car = BY_SLUG["spring-preload"], Car()
    plain = run(form, {}, car)
    for text in ("1.574803 in", "4 cm", "0.04 m"):
        reply = run(form, {"spring_free": text}, car)
        assert reply.answer == plain.answer
        assert reply.keepable == ()
    assert run(form, {"spring_free": "1.5748 in"}, car).keepable == ("spring_free",)
