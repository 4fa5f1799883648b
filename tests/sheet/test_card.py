"""The build card has the steps of the list, the numbers of the car and what was read."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.kept.build.build import AGAIN, DONE, Build
from calc.kept.build.cautions import caution
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import BY_KEY, KINDS, ORDER
from calc.kept.build.view import laid_out, step_views
from calc.language import NAMES, speaking
from calc.model.car import Car, empty, put
from calc.model.origin import Origin
from calc.sheet.blocks import CARD, sheet
from calc.sheet.card import MOST, card
from calc.sheet.grid import BLANK, Content, Line, Points, Steps, Things
from tests.owned import owned
from tests.strategies import CARS


def build(car: Car, **texts: str) -> Build:
    """Names with double underscores for points: tick__fill__front_left="1"."""
    named = {name.replace("__", "."): text for name, text in texts.items()}
    return Build(car, named, units.METRIC)


def contents(made: Build) -> list[Content]:
    return [one.content for one in card(made)]


def lines(made: Build) -> list[Line]:
    return [line for one in contents(made) if isinstance(one, Steps) for line in one.lines]


def line_of(made: Build, key: str, reading: int = 0) -> Line:
    numbers = [line.number for line in lines(made)]
    start = numbers.index(str(made.steps.index(key) + 1))
    return lines(made)[start + reading]


@settings(max_examples=25, deadline=None)
@given(
    CARS,
    st.permutations(ORDER),
    st.lists(st.sampled_from(ORDER), max_size=4),
    st.sampled_from(KINDS),
    st.sampled_from(("all", "front", "rear")),
    st.sampled_from(list(NAMES)),
)
def test_it_has_the_steps_of_the_list_in_their_order(
    car: Car, order: list[str], out: list[str], kind: tuple[str, str], scope: str, code: str
) -> None:
    """As the page shows them, whatever was changed in the list."""
    texts = {
        "order": " ".join(order), "out": " ".join(out), "kind.front": kind[0], "scope": scope,
        "own.own-1": "Wash the boots",
    }  # fmt: skip
    made = Build(car, texts, units.METRIC)
    with speaking(code):
        seen = step_views(made)
        begun = [line for line in lines(made) if line.number]
        assert [line.title.rstrip("°") for line in begun] == [step.title for step in seen]
        assert [line.title.endswith("°") for line in begun] == [step.practice for step in seen]
        assert [line.number for line in begun] == [str(step.number) for step in seen]
        for line, step in zip(begun, seen, strict=True):
            boxes = [corner for corner, slot in zip(made.corners, line.slots, strict=True) if slot]
            assert boxes == [cell.corner for cell in step.cells]
        fields = sum(len(cell.fields) for step in seen for cell in step.cells)
        timed = sum(len(step.cells) for step in seen if step.timed)
        writes = sum(slot.writes for line in lines(made) for slot in line.slots if slot)
        assert writes == fields + timed  # a time of day is written at each rest
        (things,) = (one.names for one in contents(made) if isinstance(one, Things))
        assert things == laid_out(made)


def test_the_numbers_are_those_of_the_car() -> None:
    """Three quarters of the oil by the syringe's step of 0.1 mL, 6 threads in the rod end (twice
    its 3 mm), collar down by free length less droop length over pitch; from the record of the
    test's own car."""
    car = owned()
    for path, value in (
        ("front.damper_length", 71.8e-3), ("front.stroke", 22e-3), ("front.oil", 375e-6),
        ("front.inside.held", 3.3e-6), ("front.inside.closed_at", 10e-3), ("front.holes", 3.0),
        ("front.hole", 1.6e-3), ("front.spring_rate", 720.0), ("front.spring_free", 40e-3),
        ("front.droop_length", 38.5e-3), ("front.pitch", 0.75e-3), ("rod_end.thread", 3e-3),
    ):  # fmt: skip
        car = put(car, path, value)
    made = build(car)

    def front(key: str, reading: int = 0) -> str:
        return line_of(made, key, reading).facts[0].replace(units.NBSP, " ")

    assert front("pistons") == "3 × 1.6 mm"
    assert front("rod_end") == "≥ 6.0"
    assert front("length") == "71.8"
    assert front("stroke") == "22.0"
    assert front("oil") == "375"
    assert front("fill") == "2.5 of 3.3 mL"
    assert front("close") == "10.0"
    assert (front("spring"), front("spring", 1)) == ("0.72", "40.0")
    assert front("touch") == "then ↓ 2 turns"
    assert line_of(made, "oil").read == "at 25 °C, cSt"
    inches = line_of(replace(made, system="imperial"), "rod_end")
    assert inches.facts[0] == f"≥{units.NBSP}0.236", "6 mm, not cut to 0.2 in"


def test_marks_say_who_measured_and_blanks_what_nobody_knows() -> None:
    car = owned()
    origins = {**car.origins, "front.stroke": Origin("assumed"), "rear.stroke": Origin("predicted")}
    made = sheet(replace(car, origins=origins), kind=CARD)
    steps = next(one.content for one in made.blocks if isinstance(one.content, Steps))
    (stroke,) = (line for line in steps.lines if line.title == "Stroke, dry")
    assert [fact[-1] for fact in stroke.facts] == ["?", "*"]
    assert made.marks == ("? assumed", "* predicted, not measured since")
    unknown = [fact for line in lines(build(empty("My car"))) for fact in line.facts]
    assert unknown and set(unknown) == {BLANK, "F: yes / no", "R: yes / no"}


def test_ticks_and_readings_stand_on_it_unless_the_damper_was_opened_since() -> None:
    texts = {
        "tick__stroke__front_left": DONE, "read__stroke__front_left": "22.1 ± 0.1",
        "tick__stroke__front_right": AGAIN, "read__stroke__front_right": "21.4",
        "name__front_left": "A",
    }  # fmt: skip
    made = build(Car(), **texts)
    left, right, *_ = line_of(made, "stroke").slots
    assert left and right
    assert (left.done, left.value) == (True, "22.10")
    assert (right.done, right.value) == (False, BLANK)
    steps = next(one for one in contents(made) if isinstance(one, Steps))
    assert steps.dampers == ("FL A", "FR", "RL", "RR")
    assert line_of(made, "lay_out").slots[0] == replace(left, done=False, value="A")


def test_an_emulsion_has_no_rest_and_its_own_fill() -> None:
    made = build(Car(), kind__rear="emulsion")
    rest = line_of(made, "rest")
    assert [slot is None for slot in rest.slots] == [False, False, True, True]
    assert rest.facts[0] and rest.facts[1] == "–"
    assert line_of(made, "fill").facts[1] == f"4.2{units.NBSP}mL"
    assert [slot and slot.writes for slot in line_of(made, "fill").slots] == [False] * 2 + [
        True
    ] * 2
    assert "Rear: Put the same measured amount of oil" in " ".join(line_of(made, "fill").says)
    steps = next(one for one in contents(made) if isinstance(one, Steps))
    assert "Front: with a bladder; Rear: emulsion, no bladder" in steps.about


def test_the_verdict_stands_where_something_is_proved() -> None:
    """Strokes of 20 and 25 mm by a calliper are not alike; 22.00 twice are, by a rod end of
    0.8 mm a turn."""
    apart = build(
        owned(), read__stroke__front_left="20 ± 0.1", read__stroke__front_right="25 ± 0.1"
    )
    assert line_of(apart, "pair").facts == ("not alike", "R: yes / no")
    same = build(
        owned(), read__stroke__front_left="22 ± 0.01", read__stroke__front_right="22 ± 0.01"
    )
    assert line_of(same, "pair").facts == ("alike", "R: yes / no")


@pytest.mark.parametrize("code", NAMES)
def test_what_can_hurt_stands_on_it_with_its_steps(code: str) -> None:
    with speaking(code):
        made = build(Car(), out="spring")
        (points,) = (one.lines for one in contents(made) if isinstance(one, Points))
        said = dict(line.partition(": ")[::2] for line in points)
        for key in made.steps:
            for danger in BY_KEY[key].dangers:
                told = caution("opened" if danger == "spill" else danger).text
                (numbers,) = (steps for steps, text in said.items() if text == told)
                assert str(made.steps.index(key) + 1) in numbers.split(", ")
        assert caution("springs").text not in said.values()  # the step with the springs is out


def test_every_reading_has_a_short_name_of_its_own_at_its_step() -> None:
    made = build(Car(), kind__front="emulsion")
    for key in BY_KEY:
        named = [line_of(made, key, n).read for n in range(len(BY_KEY[key].reads))]
        assert len(set(named)) == len(named)
    assert all(line_of(made, step.key).read for step in BY_KEY.values() if step.reads)
    assert {name for step in BY_KEY.values() for name in step.reads} == set(READINGS)


def test_a_long_list_goes_on_in_another_block() -> None:
    own = {f"own.own-{n}": f"Mine {n}" for n in range(40)}
    made = card(Build(Car(), own, units.METRIC))
    parts = [one.content for one in made if isinstance(one.content, Steps)]
    assert [one.key for one in made] == ["ready", "steps-1", "steps-2", "steps-3", "cautions"]
    assert all(len(one.lines) <= MOST for one in parts)
    titles = [line.title for one in parts for line in one.lines if line.number]
    assert len(titles) == len(ORDER) + 40 and titles[-1] == "Mine 39"
