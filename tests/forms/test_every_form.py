"""What must hold of every form of the catalogue, whatever is typed into it.

FORM_EXAMPLES=5000 pytest tests/forms/test_every_form.py looks harder than a usual run does.
"""

import json
import os
import random
import re
import tomllib
from collections.abc import Callable, Iterator
from contextlib import suppress
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import units
from calc.answering.answer import Answer
from calc.answering.uncertainty import Uncertainty, Watched
from calc.asking.entry import Choice, Number, Rows, Text
from calc.asking.typed import parse
from calc.forms.catalogue import FORMS
from calc.model.car import Car, from_json, to_json
from calc.replying.form import Form, Reply
from calc.replying.inputs import Inputs, Problem
from calc.replying.plain import answer_text, reply_data
from calc.replying.reading import read, run
from tests.forms.every import SLIP, check_reply, each_form, each_pair, each_way
from tests.forms.noting import noting
from tests.forms.ways import Choices, entries, hidden_names, shown_cells, usual_entries, ways
from tests.saving import keep
from tests.strategies import CARS, LIKELY_CARS

EXAMPLES = int(os.environ.get("FORM_EXAMPLES", "40"))  # of each form, shared by its ways


def check_rounding(form: Form, answer: Answer, given: Inputs) -> None:
    """Turns in an instruction are whole steps of the hand, to the two decimals that are shown;
    or they are turns that were entered."""
    step = given.numbers.get("turn_step")
    turns_asked = [name for _, name, cell in form.cells() if getattr(cell, "kind", "") == "turns"]
    entered = [abs(given.numbers[name]) for name in turns_asked if name in given.numbers]
    for text in (step.text for step in answer.steps) if step else ():
        for words in re.findall(r"((?:\d+[\d\u00a0/.]*))\u00a0turns?", text):
            turns = parse(words, "turns").value
            nearest = min((round(turns / step) * step, *entered), key=lambda n: abs(n - turns))
            assert turns == pytest.approx(nearest, abs=0.005 + 1e-9), text


@each_way
def test_any_entries_get_an_answer_or_problems(form: Form, way: Choices) -> None:
    count = max(2, EXAMPLES // len(ways(form)))

    @settings(max_examples=count, deadline=None, suppress_health_check=list(HealthCheck))
    @given(st.data(), st.sampled_from(units.SYSTEMS))
    def ask(data: st.DataObject, system: str) -> None:
        typed = data.draw(entries(form, way, system))
        reply = run(form, typed, Car(), system)
        check_reply(form, reply)
        assert from_json(to_json(keep(form, typed, Car(), system)))
        if reply.answer is not None:
            check_rounding(form, reply.answer, read(form, typed, Car(), system)[0])
            assert answer_text(reply.answer, system)
            json.dumps(reply_data(form.slug, reply, system), allow_nan=False)

    ask()


def dangers() -> Iterator[tuple[str, Choices, tuple[str, ...]]]:
    """(form, choices, words): what can hurt there, a file a form; common practice, no source."""
    for path in sorted((Path(__file__).parent / "dangers").glob("*.toml")):
        for case in tomllib.loads(path.read_text("utf-8"))["case"]:
            yield path.stem, case["typed"], tuple(case["words"])


DANGERS = list(dangers())


@pytest.mark.parametrize(("slug", "typed", "words"), DANGERS)
def test_what_can_hurt_is_cautioned_of_beside_the_instruction(
    slug: str, typed: Choices, words: tuple[str, ...]
) -> None:
    (form,) = (form for form in FORMS if form.slug == slug)
    answer = run(form, typed, Car()).answer
    assert answer is not None
    mild = [c.text for c in answer.cautions if not c.stop]
    said = " ".join(mild).lower()
    assert [word for word in words if word not in said] == []
    assert len(mild) <= 3  # more are not read


def test_no_form_is_left_out_of_the_dangers() -> None:
    assert {slug for slug, _, _ in DANGERS} == {form.slug for form in FORMS}


@each_way
def test_every_relation_of_the_demo_car_says_where_it_is_from(form: Form, way: Choices) -> None:
    answer = run(form, way, Car()).answer
    assert answer is not None
    assert [line.relation for line in answer.working if not line.source] == []
    assert answer.working or form.slug == "car"  # the record works nothing out


@each_form
@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(car=st.one_of(CARS, LIKELY_CARS, LIKELY_CARS), data=st.data())
def test_any_car_gets_an_answer_or_problems(form: Form, car: Car, data: st.DataObject) -> None:
    way = data.draw(st.sampled_from(ways(form)))
    reply = run(form, way, car, data.draw(st.sampled_from(units.SYSTEMS)))
    names = " ".join([car.name, *(it.name for it in (*car.bottles, *car.springs))])
    if not SLIP.search(names):
        check_reply(form, reply)


@each_way
@pytest.mark.parametrize("system", units.SYSTEMS)
def test_the_demo_car_has_an_answer_that_typing_the_same_or_what_is_hidden_leaves(
    form: Form, way: Choices, system: str
) -> None:
    """Nothing typed; then all that was filled in, and anything in the fields not asked for."""
    filled = run(form, way, Car(), system)
    assert filled.problems == {}
    check_reply(form, filled)
    hidden = dict(zip(hidden_names(form, way), cycle(("🏁", "7", "")), strict=False))
    entered = {**filled.filled, **hidden, **way}
    typed = run(form, entered, Car(), system)
    assert typed.answer == filled.answer
    assert set(typed.keepable) <= set(way)
    assert keep(form, entered, Car(), system) == keep(form, way, Car(), system)


class Forgetful(Watched):
    """Inputs that call each of themselves asked for and work everything out again."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.asked = set(self)

    def memoised(self, key: Any, make: Callable[[], Any]) -> Any:
        return make()


def doubts(reply: Reply) -> list[Uncertainty]:
    """Those of all figures, worked out when they are asked for."""
    return (
        [one.uncertain.uncertainty for one in reply.answer.quantities if one.uncertain]
        if reply.answer
        else []
    )


@each_pair
def test_what_a_doubt_cannot_move_is_rightly_not_worked_out_anew(
    form: Form, way: Choices, monkeypatch: pytest.MonkeyPatch
) -> None:
    chance = random.Random(str(way))
    many = max(1, EXAMPLES // (5 * len(ways(form))))
    some = [way, *(usual_entries(form, way, chance) for _ in range(many))]
    answers = [run(form, typed, Car()) for typed in some]
    found = [doubts(reply) for reply in answers]
    monkeypatch.setattr("calc.answering.uncertainty.Watched", Forgetful)
    again = [run(form, typed, Car()) for typed in some]
    assert found == [doubts(reply) for reply in again]
    assert answers == again


WRONG = ["", "text", "NaN", "inf", "1e400", "10^400", "🏁", "1,000", "\u200f5", "5 parsec", "9e99"]


def wrong_texts(cell: Number | Text) -> Iterator[str]:
    if isinstance(cell, Text):
        yield "x" * (cell.longest + 1)
        if not cell.optional:
            yield from ("", " \u202e")
        return
    yield from (text for text in WRONG if text or not cell.optional)
    if cell.possible[0] > 0:
        yield "0 K" if cell.kind == "temperature" else "0"
    if cell.possible[0] >= 0 and cell.kind != "temperature":
        yield from ("-1", "−0.01")


@each_form
def test_wrong_input_at_any_field_is_a_problem_there_and_no_answer(form: Form) -> None:
    """Every wrong text at every declared field; the rows and ways that share it take one each."""
    tried: set[str] = set()
    for way in ways(form):
        for number, (name, cell) in enumerate(shown_cells(form, way)):
            assert isinstance(cell, Number | Text)
            wrong = list(wrong_texts(cell))
            column = re.sub(r"\.[^.]+\.", ".*.", name)
            for text in [wrong[number % len(wrong)]] if column in tried else wrong:
                reply = run(form, {**way, name: text}, Car())
                assert name in reply.problems, (name, text)
                assert cell.label in reply.problems[name]
                check_reply(form, reply)
            tried.add(column)


@each_form
def test_every_wrong_field_is_told_at_once(form: Form) -> None:
    for way in ways(form):
        wrong = {name: "🏁" for name, cell in shown_cells(form, way) if isinstance(cell, Number)}
        assert set(run(form, {**way, **wrong}, Car()).problems) == set(wrong)


@each_form
def test_a_choice_that_is_none_is_a_problem_at_the_choice(form: Form) -> None:
    for entry in form.fields:
        if isinstance(entry, Choice):
            way = next(way for way in ways(form) if entry.name in way)
            for text in ("", "no such", "🏁"):
                reply = run(form, {**way, entry.name: text}, Car())
                assert entry.name in reply.problems
                check_reply(form, reply)


@each_way
def test_a_blank_cell_of_a_filled_row_is_a_problem_there(form: Form, way: Choices) -> None:
    given, _ = read(form, way, Car())
    for entry in form.fields:
        if isinstance(entry, Rows) and entry.name in given.row_labels:
            needed = [column for column in entry.columns if not column.optional]
            if not entry.every and len(needed) == 1:
                continue  # a blank row is passed over
            for key, _ in given.row_labels[entry.name]:
                for column in entry.columns:
                    name = f"{entry.name}.{key}.{column.name}"
                    if isinstance(column, Number) and not column.optional and name in given.numbers:
                        assert name in run(form, {**way, name: ""}, Car()).problems


@each_way
def test_every_field_that_is_asked_for_is_read(form: Form, way: Choices) -> None:
    seen = names_read(form, way)
    several = {e.name for e in form.fields if isinstance(e, Rows) and not e.every}
    wanted = _columns(names_to_read(form, way), several)

    dice = random.Random(7)
    for _ in range(60):  # the demo car may not come to all that is asked
        if wanted - _columns(seen, several):
            seen |= names_read(form, usual_entries(form, way, dice))
    assert wanted - _columns(seen, several) == set()


def names_read(form: Form, typed: dict[str, str]) -> set[str]:
    """The entries that `solve` looks up."""
    checked, reply = read(form, typed, Car())
    if reply.problems:
        return set()
    seen: set[str] = set()
    with suppress(Problem):
        form.solve(noting(checked, seen))
    return seen


def names_to_read(form: Form, way: Choices) -> set[str]:
    cells = dict(shown_cells(form, way))
    # A choice that says which end the car's values are taken from has done its work by that.
    places = {name for name in way for cell in cells.values() if f"{{{name}}}" in cell.car}
    if form.slug == "car":  # the use of what has a home there is that it is kept
        cells = {name: cell for name, cell in cells.items() if not cell.car}
        places = set(way)
    return cells.keys() | (way.keys() - places)


def _columns(names: set[str], several: set[str]) -> set[str]:
    """The names, rows that may stay empty taken together: bottles.3.left is bottles.*.left."""
    return {
        re.sub(r"\.[^.]+\.", ".*.", name) if name.split(".")[0] in several else name
        for name in names
    }
