"""The sheet says what the forms say, for any car, and leaves to the pencil what nobody knows."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import TypeVar

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.answering.answer import Answer
from calc.answering.hand import to_step
from calc.asking import record
from calc.forms.catalogue import BY_SLUG
from calc.language import NAMES, speaking
from calc.model.car import Bottle, Car, Spring, empty, is_known, put
from calc.model.corners import ENDS, End
from calc.model.origin import Origin
from calc.replying.reading import run
from calc.sheet.blocks import BLOCKS, BY_KEY, CAUTIONS, FLAT, FOLDED, FORMERLY, sheet, usual
from calc.sheet.grid import BLANK, Base, Carried, Content, Grid, Part, hand_turns, up_or_down
from calc.sheet.height import TURNS as HEIGHT_TURNS
from calc.sheet.preload import TURNS
from calc.sheet.tables import owned_springs
from tests.owned import assumed_throughout, owned
from tests.strategies import CARS

SYSTEMS = st.sampled_from(units.SYSTEMS)
KEYS = [block.key for block in BLOCKS]
_Content = TypeVar("_Content", bound=Content)


def block(key: str, kind: type[_Content], car: Car, system: str = units.METRIC) -> _Content:
    (made,) = sheet(car, system, [key]).blocks
    assert isinstance(made.content, kind)
    return made.content


def part(key: str, car: Car, system: str = units.METRIC) -> Part:
    return block(key, Part, car, system)


def number(text: str) -> float:
    return float(text.rstrip("?*").replace("−", "-"))


def answered(slug: str, typed: Mapping[str, str], car: Car, system: str) -> Answer | None:
    return run(BY_SLUG[slug], typed, car, system).answer


def grids_of(content: Content) -> Iterator[Grid]:
    if isinstance(content, Base):
        yield from (content.grid, content.narrow)
    elif isinstance(content, Part):
        yield from (*content.grids, *content.narrow)


TENTH = {units.METRIC: 0.055, units.IMPERIAL: 0.00055 + 0.0005}
"""Half a last digit on paper and half a one on the screen."""


@settings(max_examples=40, deadline=None)
@given(CARS, SYSTEMS)
def test_heights_are_those_of_the_form(car: Car, system: str) -> None:
    answer = answered("collar-turns", {"scope": "both"}, car, system)
    if answer is None:
        return
    content = part("height", car, system)
    if any("Worked out to" in note for note in content.notes):
        assert content.lead == () and is_left_to_the_pencil(content.grids)
        return
    for grid, table in zip(content.grids, answer.tables, strict=True):
        shown = {hand_turns_of(row[0]): row for row in table.rows}
        for up, turns, down, moves in grid.rows:
            _, moved, lower, higher = shown[turns]
            for on_paper, on_screen in ((down, lower), (up, higher), (moves, moved)):
                assert abs(number(on_paper) - number(on_screen)) <= TENTH[system]


def hand_turns_of(text: str) -> str:
    """What the screen writes as "1 1/2"."""
    whole, _, fraction = text.replace(units.NBSP, " ").rpartition(" ")
    over = {"1/4": 0.25, "1/2": 0.5, "3/4": 0.75}
    turns = float(whole or 0) + over[fraction] if fraction in over else float(text)
    return hand_turns(turns)


def test_the_wanted_height_is_answered_with_the_direction() -> None:
    car = owned()
    content = part("height", car)
    answer = answered("collar-turns", {"scope": "both"}, car, units.METRIC)
    assert answer is not None
    exact = {one.name: one.value for one in answer.quantities}
    (lead,) = content.lead
    for end in ENDS:
        turns = up_or_down(to_step(exact[f"{end}_turns"], car.tools.turn_step))
        height = f"{exact[f'{end}_height_after'] * 1e3:.1f}"
        assert units.NBSP.join((end, turns, f"({height})")) in lead
    assert "↓ down = clockwise from the cap = car up" in spaced(content.about)
    assert "BOTH" in content.about and "±" in content.about
    left = part("height", replace(car, thread_hand="left"))
    assert "↓ down = anticlockwise from the cap = car up" in spaced(left.about)


def spaced(text: str) -> str:
    """With plain spaces, at which a line could be broken."""
    return text.replace(units.NBSP, " ")


@pytest.mark.parametrize("code", NAMES)
def test_no_line_begins_with_a_sign(code: str) -> None:
    with speaking(code):
        height, oil = (part(key, owned()) for key in ("height", "oil"))
        texts = (*height.lead, height.about, height.narrow[0].title, *oil.grids[0].heads)
    assert not [text for text in texts for sign in "·=×±" if f" {sign}" in text]
    assert "·" in height.lead[0] and "±" in height.about and "↓ " not in height.about


def test_what_a_height_and_a_step_are_sure_to_is_told_apart() -> None:
    """The ± of a height is that of the gauge, which no step changes."""
    car = owned()
    answer = answered("collar-turns", {"scope": "both"}, car, units.METRIC)
    assert answer is not None
    found = {one.name: one for one in answer.quantities}
    heights = max(2 * found[f"{end}_height_after"].u * 1e3 for end in ENDS)
    lifts = (found[f"{end}_lift_per_turn"] for end in ENDS)
    moves = max(200 * one.u / one.value for one in lifts)
    about = spaced(part("height", car).about)
    said = re.search(r"heights ± ([\d.]+) mm, moves ± ([\d.]+)%$", about)
    assert said
    for told, exact in zip(map(float, said.groups()), (heights, moves), strict=True):
        assert exact <= told <= 2 * exact


def test_turns_beyond_the_spring_or_the_droop_are_named() -> None:
    """By hand: of 1.5 mm of preload on a thread of 0.75 mm two turns up leave none, three less."""
    now = part("height", owned())
    assert "Spring loose at full droop: front from ↑ 3." in map(spaced, now.notes)
    loose = part("height", put(owned(), "front.droop_length", 41e-3))
    assert "Spring loose at full droop: front." in map(spaced, loose.notes)
    topped = put(owned(), "front.droop_length", 34.5e-3)
    answer = answered("collar-turns", {"scope": "both"}, topped, units.METRIC)
    assert answer is not None
    (left,) = (one.value for one in answer.quantities if one.name == "front_turns_left")
    assert 0 < left < 3
    first = next(turns for turns in HEIGHT_TURNS if turns > left)
    notes = [spaced(note) for note in part("height", topped).notes]
    said = f"Topped out (on its droop stops): front from {spaced(up_or_down(first))}."
    assert said in notes


def test_a_height_that_nobody_wants_is_no_reason_for_blanks() -> None:
    car = owned()
    origins = {path: one for path, one in car.origins.items() if "wanted_height" not in path}
    content = part("height", replace(car, origins=origins))
    assert content.lead == ()
    assert [row[0] for row in content.grids[0].rows] == [
        row[0] for row in part("height", car).grids[0].rows
    ]


@pytest.mark.parametrize("end", ENDS)
@pytest.mark.parametrize("bottles", [(), Car().bottles], ids=["none", "five"])
def test_the_oil_for_a_day_is_that_of_the_form(end: End, bottles: tuple[Bottle, ...]) -> None:
    car = replace(owned(), bottles=bottles)
    (grid,) = part("oil", car).grids
    column = 1 + 2 * ENDS.index(end)
    for row in grid.rows:
        answer = answered("oil-temperature", {"axle": end, "now": row[0]}, car, units.METRIC)
        assert answer is not None
        wanted = next(one.value for one in answer.quantities if one.name == "wanted")
        assert row[column] == f"{wanted * 1e6:.0f}"
        recipe, fill = row[column + 1], answer.steps[0].text.replace(units.NBSP, " ")
        if not bottles:
            assert recipe in (BLANK, "as filled")
        elif "parts" in fill:
            counts = [piece.split(units.NBSP) for piece in recipe.split(" + ")]
            assert f"(parts {' : '.join(count for count, _, _ in counts)})" in fill
            assert all(f"{grade} cSt" in fill for _, _, grade in counts)
        elif "Fill" in fill:
            assert f"{recipe} cSt" in fill


def test_the_day_the_oil_was_right_is_in_a_box() -> None:
    """Each end has a temperature of its own; the box says which grade is in it."""
    car = put(owned(), "rear.oil_at", 308.15)
    (grid,) = part("oil", car).grids
    boxed = [grid.rows[n] for n in sorted(grid.boxed)]
    assert [(row[0], row[2], row[4]) for row in boxed] == [
        ("22", "as filled", boxed[0][4]), ("35", boxed[1][2], "as filled"),
    ]  # fmt: skip
    days = [number(row[0]) for row in grid.rows]
    assert days == sorted(days) and len(set(days)) == len(days)


@pytest.mark.parametrize("base", [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 22.0])
@pytest.mark.parametrize("most", [8, 7, 6, 4])
def test_a_shortened_list_of_days_has_no_leap(base: float, most: int) -> None:
    """Every 5 °C, with the base among them, on both sides of it as far as there are days."""
    car = put(put(owned(), "front.oil_at", base + 273.15), "rear.oil_at", base + 273.15)
    (grid,) = part("oil", car).grids
    days = [number(row[0]) for row in grid.shorter(most).rows]
    assert len(days) == most and base in days
    round_days = [day for day in days if day % 5 == 0]
    assert all(later - day == 5 for day, later in pairwise(round_days))
    lower, higher = (sum(sign * (day - base) > 0 for day in days) for sign in (-1, 1))
    assert abs(lower - higher) <= 1 or days[0] == 5 or days[-1] == 40


@settings(max_examples=40, deadline=None)
@given(CARS, SYSTEMS, st.sampled_from(ENDS))
def test_preload_and_sag_are_those_of_the_form(car: Car, system: str, end: End) -> None:
    answer = answered("spring-preload", {"axle": end}, car, system)
    content = part("preload", car, system)
    grid = content.grids[ENDS.index(end)]
    assert len(grid.rows) == len(TURNS)
    (now,) = (grid.rows[n] for n in grid.boxed)
    assert now[0] == "now"
    if answer is None or any("Worked out to" in note for note in content.notes):
        assert answer or is_left_to_the_pencil([grid])
        return
    shown = answer.tables[0].rows[answer.tables[0].mark]
    if now[2]:
        assert abs(number(now[2]) - number(shown[3])) <= TENTH[system]
    else:
        assert any("sag worked out to" in note for note in content.notes)
    if number(shown[1]) < -0.1:
        assert now[1] == "loose"
    elif number(shown[1]) >= 0:
        assert abs(number(now[1]) - number(shown[1])) <= TENTH[system]


def is_left_to_the_pencil(grids: Iterable[Grid]) -> bool:
    return all(
        cell == BLANK
        for grid in grids
        for row in grid.rows
        for n, cell in enumerate(row)
        if n != grid.looked_up
    )


def test_what_is_worked_out_to_more_than_its_table_is_left_to_the_pencil() -> None:
    """All that can be is assumed, and the heights are predicted as badly: then ± is far above what
    three turns change."""
    car = assumed_throughout(owned())
    for end in ENDS:
        height_now = f"{end}.ride_height"
        vague = Origin("predicted", 1.0, "log", 16e-3)
        car = put(car, height_now, record.get(car, height_now), vague)
    height, preload, springs = (part(key, car) for key in ("height", "preload", "springs"))
    assert is_left_to_the_pencil(preload.grids)
    assert (height.grids, height.narrow, height.lead, height.about) == ((), (), (), "")
    assert "Assumed: Front, thread pitch of the body" in " ".join(height.notes)
    assert {row[3] for row in springs.grids[0].rows} <= {BLANK, "0", "fitted"}
    for content in (height, preload, springs):
        assert "±" not in content.about and "Worked out to ±" in " ".join(content.notes)
    assert {row[4] for row in springs.grids[0].rows} == {BLANK}
    measured = part("height", owned())
    assert measured.lead and not is_left_to_the_pencil(measured.grids)


def test_a_step_that_may_be_none_is_not_printed() -> None:
    """A thread pitch as uncertain as it is large."""
    car = put(owned(), "front.pitch", 0.75e-3, Origin("assumed", 1.0, "", 0.4e-3))
    content = part("height", car)
    assert (content.grids, content.lead, content.about) == ((), (), "")
    assert re.search(r"Worked out to ± 1[01]\d% only", " ".join(map(spaced, content.notes)))


def test_a_sag_that_may_be_none_is_left_to_the_pencil() -> None:
    """The free length known to 4 mm: the preload as well, and the sag to more than there is."""
    vague = Origin("measured", 1.0, "", 2e-3)
    car = put(put(owned(), "front.droop_length", 36e-3), "front.spring_free", 40e-3, vague)
    content = part("preload", car)
    front, rear = content.grids
    assert [row[2] for row in front.rows] == [BLANK] * len(TURNS)
    assert front.heads[-1] == "sag" and rear.heads[-1] == "%"
    assert all(row[1] for row in front.rows) and all(row[2] for row in rear.rows)
    assert "Front: sag worked out to ±" in spaced(" ".join(content.notes))
    assert content.about.count("±") == 2


def test_what_is_left_to_the_pencil_has_no_share_to_work_out() -> None:
    for grid in part("preload", empty("My car")).grids:
        assert [*grid.heads[1:]] == ["preload", "sag"]


def test_a_loose_spring_is_called_loose() -> None:
    """Two turns up on a thread of 0.75 mm take 1.5 mm of the 1.5 mm of preload, three more."""
    car = put(owned(), "front.droop_length", 39.5e-3)
    rows = {row[0]: row[1] for row in part("preload", car).grids[0].rows}
    assert rows[up_or_down(-2.0)] == "loose" and rows["now"] == "0.5"


@settings(max_examples=30, deadline=None)
@given(CARS, SYSTEMS)
def test_springs_are_those_of_the_form_with_the_fitted_one_boxed(car: Car, system: str) -> None:
    (grid,) = part("springs", car, system).grids
    boxed = [grid.rows[n] for n in sorted(grid.boxed)]
    assert [row[0] for row in boxed] == ["F", "R"]
    assert {row[1] for row in grid.rows if row not in boxed} <= {
        one.name or f"spring {n}" for n, one in enumerate(car.springs, 1)
    }


def test_turns_of_a_spring_are_those_of_the_form() -> None:
    car = owned()
    (grid,) = part("springs", car).grids
    answer = answered(
        "spring-swap", {"axle": "front", "new_is": "owned", "owned": "2"}, car, "metric"
    )
    assert answer is not None
    (row,) = (row for row in grid.rows if row[:2] == ("F", car.springs[1].name))
    table = answer.tables[1].rows[1]
    assert table[1].replace(units.NBSP, " ") == "−1 1/4" and row[3] == up_or_down(-1.25)
    assert row[4] == table[2] and row[5] == table[4]
    fitted = [row[1] for row in grid.rows if row[3] == "fitted"]
    assert fitted == [car.springs[0].name, car.springs[2].name]


def test_a_spring_that_is_not_in_the_list_stands_there_too() -> None:
    car = put(owned(), "front.spring_rate", 720.0)
    (grid,) = part("springs", car).grids
    (row,) = (grid.rows[n] for n in grid.boxed if grid.rows[n][0] == "F")
    assert row[1:4] == ("fitted now", "0.72", "0")


@pytest.mark.parametrize("system", units.SYSTEMS)
def test_coil_bind_says_whether_it_rests_on_what_is_assumed(system: str) -> None:
    """On the card too, where it stands in place of the preload."""
    solid = "front.spring_solid"
    car = put(put(owned(), solid, 25e-3), "front.spring_rate", 720.0)
    guessed = replace(car, origins={**car.origins, solid: Origin("assumed")})
    for one, says in ((car, "coil bind"), (guessed, "coil bind?")):
        content = part("springs", one, system)
        (row,) = (row for row in content.grids[0].rows if row[1] == "fitted now" and row[0] == "F")
        (short,) = (row for row in content.narrow[0].rows if row[0] == "fitted now")
        assert row[-1] == short[-1] == says
    assert "1 assumed" in " ".join(part("springs", guessed, system).notes)


def test_the_rate_of_the_spring_that_is_in_is_marked_as_in_the_base() -> None:
    car = put(owned(), "front.spring_rate", 720.0, Origin("assumed", u=60.0))
    base = block("base", Base, car).grid
    shown = base.rows[0][next(n for n, head in enumerate(base.heads) if "spring N/mm" in head)]
    (row,) = (row for row in part("springs", car).grids[0].rows if row[1] == "fitted now")
    assert row[2] == shown == "0.72?"


def test_long_lists_say_how_many_there_are_beside() -> None:
    car = replace(
        owned(),
        springs=tuple(Spring(f"{n}", 500.0 + 10 * n, 40e-3, 13e-3) for n in range(20)),
    )
    (grid,) = part("springs", car).grids
    short = grid.shorter(8)
    assert len(short.rows) == 8 and short.rest == f"and {len(grid.rows) - 8} more"
    assert {short.rows[n] for n in short.boxed} == {grid.rows[n] for n in grid.boxed}
    rates = [float(row[2]) for row in short.rows if row[0] == "F"]
    assert rates == sorted(rates) and min(abs(rate - 0.65) for rate in rates) <= 0.01
    assert grid.shorter(100) is grid


@settings(max_examples=30, deadline=None)
@given(CARS)
def test_inches_lose_nothing(car: Car) -> None:
    """Every length of the preload block is as fine in inches as in tenths of a millimetre."""
    mm, inch = (part("preload", car, system).grids for system in units.SYSTEMS)
    for metric, imperial in zip(mm, inch, strict=True):
        for one, other in zip(metric.rows, imperial.rows, strict=True):
            for a, b in zip(one[1:3], other[1:3], strict=True):
                assert (a in ("", "loose")) == (b in ("", "loose"))
                if a not in ("", "loose"):
                    assert abs(number(a) - number(b) * 25.4) <= 0.05 + 0.0005 * 25.4 + 1e-9


def test_an_end_that_is_known_has_its_heights_beside_one_that_is_not() -> None:
    car = owned()
    known = {path: one for path, one in car.origins.items() if path != "rear.pitch"}
    content = part("height", replace(car, origins=known))
    assert [grid.title.split()[0] for grid in content.grids] == ["Front"] and not content.narrow
    assert "Thread pitch of the body" in " ".join(content.notes)
    assert not is_left_to_the_pencil(content.grids)


def test_what_nobody_knows_is_left_to_the_pencil() -> None:
    made = sheet(empty("My car"), units.METRIC, ["base", "height", "oil", "preload", "springs"])
    for one in made.blocks:
        for grid in grids_of(one.content):
            answers = [
                cell
                for row in grid.rows
                for cell, role in zip(row, grid.roles, strict=True)
                if role in ("answer", "small")
            ]
            assert set(answers) <= {BLANK}
    said = " ".join(note for one in made.blocks[1:] for note in one.content.notes)  # type: ignore[union-attr]
    assert "Not known yet: Ride height now" in said


@settings(max_examples=30, deadline=None)
@given(CARS)
def test_marks_say_who_measured(car: Car) -> None:
    marked = {"assumed": "?", "predicted": "*"}
    base = block("base", Base, car)
    for row, end in zip(base.grid.rows, ENDS, strict=True):
        path = f"{end}.ride_height"
        shown = row[base.grid.heads.index("height now")]
        source = car.origins.get(path)
        assert (shown == BLANK) == (not is_known(car, path))
        if shown:
            assert shown.endswith(marked.get(source.how, "")) if source else shown[-1].isdigit()


def test_the_marks_are_explained_where_they_stand() -> None:
    car = owned()
    assert sheet(car).marks == ()
    origins = {**car.origins, "front.pitch": Origin("assumed"), "rear.pitch": Origin("predicted")}
    assert sheet(replace(car, origins=origins)).marks == (
        "? assumed", "* predicted, not measured since",
    )  # fmt: skip
    assert "1 assumed" in " ".join(part("height", replace(car, origins=origins)).notes)


def test_oil_and_filling_are_marked_as_in_the_base() -> None:
    origins = owned().origins
    assumed = ("front.oil", "rear.inside.held", "front.inside.closed_at")
    car = replace(owned(), origins={**origins, **dict.fromkeys(assumed, Origin("assumed"))})
    (oil,), (fill,) = part("oil", car).grids, part("fill", car).grids
    assert all(row[1].endswith("?") and not row[3].endswith("?") for row in oil.rows)
    marked = [[cell.endswith("?") for cell in row[1:]] for row in fill.rows]
    assert marked == [[False, True, True], [True, False, False]]


@pytest.mark.parametrize("code", NAMES)
def test_no_label_is_cut_at_a_comma(code: str) -> None:
    with speaking(code):
        (grid,) = part("constants", owned()).grids
        labels = [row[0] for row in grid.rows]
    assert len(set(labels)) == len(labels)


@settings(max_examples=30, deadline=None)
@given(CARS, st.lists(st.sampled_from(KEYS)))
def test_blocks_stand_as_they_were_chosen(car: Car, keys: list[str]) -> None:
    assert [one.key for one in sheet(car, units.METRIC, keys).blocks] == list(dict.fromkeys(keys))


@settings(max_examples=40, deadline=None)
@given(CARS, SYSTEMS)
def test_every_row_has_its_cells(car: Car, system: str) -> None:
    for one in sheet(car, system, KEYS).blocks:
        for grid in grids_of(one.content):
            assert len(grid.roles) == len(grid.heads)
            assert all(len(row) == len(grid.heads) for row in grid.rows)
            assert sorted(grid.keep) in ([], list(range(len(grid.rows))))
    assert len(block("code", Carried, car, system).texts) == 2


def test_usual_blocks_and_those_of_earlier_versions() -> None:
    assert {FLAT, FOLDED} >= {kind for one in BLOCKS for kind in one.usual}
    assert set(usual(FOLDED)) - set(usual(FLAT)) == {"fill"}
    assert set(FORMERLY.values()) <= set(KEYS)
    assert not set(FORMERLY) & set(KEYS)


def test_the_demo_car_has_every_block() -> None:
    """Its front springs are loose at full droop after three turns up, and of no other is there
    anything to say."""
    for one in sheet(Car(), units.METRIC, KEYS).blocks:
        if isinstance(one.content, Part):
            assert one.content.grids
            assert not one.content.notes or one.key == "height"


def test_what_makes_a_table_useless_stands_beside_it() -> None:
    """A car on its droop stops: its collars do not lift it, and the paper says so."""
    car = replace(Car(), front=replace(Car().front, droop_length=20e-3))
    assert "topped out (on its droop stop)" in " ".join(part("height", car).notes)


def test_cautions_name_every_danger_of_the_bench() -> None:
    said = " ".join(CAUTIONS).lower()
    words = ("eye", "slippery", "motor", "children", "thread-locking", "plastic", "manual", "rules")
    assert [word for word in words if word not in said] == []


def test_a_spring_without_a_name_has_its_number() -> None:
    """Where each spring is in the record: the second one has lost its name."""
    first, second, *rest = Car().springs
    car = replace(Car(), springs=(first, replace(second, name=""), *rest))
    (grid,) = owned_springs(car, units.METRIC).grids
    names: Iterable[str] = (row[0] for row in grid.rows)
    assert list(names) == [first.name, "spring 2", *(spring.name for spring in rest)]
    assert BY_KEY["owned"].make(car, units.METRIC) == owned_springs(car, units.METRIC)
