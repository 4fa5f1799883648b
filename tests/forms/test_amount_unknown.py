"""Bottles of which nobody has said how much is in them: enough, to be checked by the owner."""

from dataclasses import replace

import pytest

from calc.asking.entry import Refused
from calc.forms.catalogue import BY_SLUG
from calc.kept import deeds, link
from calc.kept.deeds import carried_out
from calc.kept.doing import done, saved
from calc.model.car import Bottle, Car
from calc.replying.form import Form
from calc.replying.reading import run
from calc.sheet.grid import BLANK
from calc.sheet.oil import oil_for_the_day
from calc.sheet.tables import bottles
from calc.units import METRIC
from tests.forms.asking import cautions, replied
from tests.owned import owned
from tests.saving import keep

CAR = BY_SLUG["car"]
GRADES = (200, 300, 350, 500, 800)
UNKNOWN = replace(owned(), bottles=tuple(Bottle("", grade * 1e-6, None) for grade in GRADES))
TOLD = "Amount in the bottle not known"
POURING = {
    "oil-blend": {"task": "bottles", "target": "420", "amount": "900"},
    "piston-oil": {"task": "match", "other_holes": "2", "other_hole": "1.9"},
    "oil-temperature": {"ask": "same", "worked_at": "20", "now": "35"},
    "hotter": {"front_at": "20", "rear_at": "20", "now": "35"},
    "evening-oil": {"end.front.target": "420", "end.rear.target": "320"},
    "ride-frequency": {},
    "whole-car": {"change": "spring", "front_rate": "0.9"},
}
pouring = pytest.mark.parametrize("form", [BY_SLUG[slug] for slug in POURING], ids=POURING)


def test_every_form_that_pours_is_here() -> None:
    asks = {slug for slug, form in BY_SLUG.items() if "bottles.1.viscosity" in form.by_name}
    assert POURING.keys() == asks - {"car"} | {"whole-car"}


@pouring
def test_it_counts_as_enough_is_said_and_stays_unknown(form: Form) -> None:
    reply = run(form, POURING[form.slug], UNKNOWN)
    assert reply.problems == {} and reply.answer is not None and reply.answer.poured
    assert TOLD in cautions(reply.answer) and "Check that there is enough" in cautions(reply.answer)
    deed = done(reply.answer, UNKNOWN, 1e9, form.slug)
    after = carried_out(UNKNOWN, deeds.built(deeds.plain(deed), "log.deed"))
    assert after.bottles[: len(GRADES)] == UNKNOWN.bottles
    assert link.unpack(link.pack(after)).bottles[0].left is None


@pouring
def test_of_a_bottle_with_an_amount_nothing_is_said(form: Form) -> None:
    full = replace(UNKNOWN, bottles=tuple(replace(one, left=1e-3) for one in UNKNOWN.bottles))
    reply = run(form, POURING[form.slug], full)
    assert reply.answer is not None and TOLD not in cautions(reply.answer)


@pouring
def test_beside_one_of_no_known_amount_no_bottle_gives_more_than_it_holds(form: Form) -> None:
    """Every second bottle holds 1 mL, too little for any of these fills alone."""
    mixed = replace(
        UNKNOWN,
        bottles=tuple(
            replace(one, left=1e-6 if place % 2 else None)
            for place, one in enumerate(UNKNOWN.bottles)
        ),
    )
    answer = run(form, POURING[form.slug], mixed).answer
    assert answer is not None
    for place, taken in answer.poured.items():
        assert taken <= mixed.bottles[place - 1].at_most * (1 + 1e-9)


def test_five_viscosities_alone_are_typed_and_saved() -> None:
    typed = {f"bottles.{n}.viscosity": str(grade) for n, grade in enumerate(GRADES, 1)}
    mine = replace(UNKNOWN, bottles=())
    reply = replied(BY_SLUG["hotter"], mine, **typed, **POURING["hotter"])
    assert reply.problems == {} and reply.answer is not None and reply.answer.poured
    after = carried_out(mine, saved(BY_SLUG["hotter"], typed, mine, 1e9))
    assert [(round(one.viscosity * 1e6), one.left) for one in after.bottles] == [
        (grade, None) for grade in GRADES
    ]


def test_an_amount_without_a_viscosity_is_asked_about() -> None:
    problems = run(CAR, {"bottles.6.left": "20"}, UNKNOWN).problems
    assert list(problems) == ["bottles.6.viscosity"]


@pytest.mark.parametrize(("had", "typed", "left"), [(None, "0", 0.0), (0.0, "", None)])
def test_empty_and_not_known_are_two_things(
    had: float | None, typed: str, left: float | None
) -> None:
    car = replace(owned(), bottles=(Bottle("", 3e-4, had),))
    assert keep(CAR, {"bottles.1.left": typed}, car).bottles == (Bottle("", 3e-4, left),)


def test_the_sheet_leaves_the_amount_open_and_says_so() -> None:
    (grid,) = bottles(UNKNOWN, METRIC).grids
    assert {row[2] for row in grid.rows} == {BLANK}
    assert "check that there is enough" in " ".join(oil_for_the_day(UNKNOWN, METRIC).notes)
    assert not oil_for_the_day(Car(), METRIC).notes


def test_what_was_bottled_has_an_amount() -> None:
    told = {"bottled": [{"name": "", "viscosity": 3e-4, "left": None}]}
    with pytest.raises(Refused, match="damaged at log"):
        deeds.built(told, "log")
