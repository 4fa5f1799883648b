"""Set-ups: what is said to differ differs, and following the instructions arrives."""

import json
import re
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import units
from calc.asking import record
from calc.asking.entry import Choice, Number, Refused
from calc.asking.typed import parse
from calc.kept import labels, setups
from calc.kept.deeds import carried_out
from calc.kept.doing import back_to
from calc.kept.setups import SAVE, Setup, differences, instructions
from calc.model import car as car_model
from calc.model.car import LEFT_HAND, Car, empty, forget, is_known, numbers, put
from calc.model.corners import CORNERS
from calc.model.origin import Origin
from calc.replying.reading import read, run
from tests.damaged import altered, is_one_sentence
from tests.owned import owned
from tests.strategies import CARS

OWNED = tuple(f"{name}." for name in car_model.OWNED)
PLACES = [path for path, _ in numbers() if not path.startswith(OWNED)]


@settings(max_examples=40, deadline=None)
@given(car=CARS)
def test_a_car_does_not_differ_from_itself(car: Car) -> None:
    assert differences(car, car, "metric") == ()
    assert instructions(car, car, "metric") == ()
    assert setups.cautions(car, car) == ()


@settings(max_examples=40, deadline=None)
@given(now=CARS, wanted=CARS)
def test_after_taking_over_nothing_differs_and_the_owner_keeps_what_is_owned(
    now: Car, wanted: Car
) -> None:
    try:
        after = carried_out(now, back_to(now, wanted, 1.0, "setups"))
    except Refused:
        return  # a collar further than any thread reaches
    # Heights and loads follow from the work: they are predicted, not those of then.
    left = {
        d.path.rpartition(".")[2]
        for d in differences(after, wanted, "metric")
        if is_known(wanted, d.path)
    }
    assert left <= {"ride_height", "load", "droop_length"}
    assert (after.bottles, after.tools, after.name) == (now.bottles, now.tools, now.name)
    there = differences(now, wanted, "metric")
    back = differences(wanted, now, "metric")
    assert [(d.path, d.now, d.wanted) for d in there] == [(d.path, d.wanted, d.now) for d in back]


@settings(max_examples=150, deadline=None)
@given(path=st.sampled_from(PLACES), data=st.data(), system=st.sampled_from(units.SYSTEMS))
def test_one_changed_number_is_the_one_difference(
    path: str, data: st.DataObject, system: str
) -> None:
    """Named with its place, both values as texts that read back as what they are."""
    entry = record.entry_at(Car, path)
    assert isinstance(entry, Number)
    low, high = entry.usual
    value = round(low + (high - low) * data.draw(st.floats(0, 1)), 0 if entry.whole else 6)
    car = put(Car(), path, value)
    found = differences(Car(), car, system)
    before = units.entry_text(record.get(Car(), path), entry.kind)
    if units.entry_text(value, entry.kind) == before:
        assert not found
        return
    assert [d.path for d in found] == [path]
    text, up, _ = found[0].wanted.replace("−", "-").removesuffix(" down").partition(" up")
    shown = parse(text, entry.kind, system).value * (-1 if up else 1)
    unit = units.unit_of(entry.kind, system)
    fine = 0.5 if path.endswith("collar") else 0.1  # of the last digit; a hand tells no finer turn
    assert shown == pytest.approx(value, abs=abs(unit.factor) * fine * 10**-unit.decimals)
    assert found[0].now != found[0].wanted


QUARTERS = st.lists(st.integers(-20, 20).map(lambda n: n / 4), min_size=4, max_size=4)


def followed(car: Car, steps: list[str], hand_down: str) -> dict[str, float]:
    """Where the collars stand once a person has done what the sentences say."""
    stands = {corner: record.get(car, f"corners.{corner}.collar") for corner in CORNERS}
    for step in steps:
        said = re.fullmatch(
            r"(\w+ \w+) collar: (?:(\d+) )?(?:(\d+)/(\d+) )?turns? (up|down)\.",
            step.replace("\u00a0", " "),
        )
        if said:
            corner = said[1].lower().replace(" ", "_")
            turns = int(said[2] or 0) + (int(said[3]) / int(said[4]) if said[3] else 0)
            stands[corner] += turns if said[5] == hand_down else -turns
    return stands


@settings(max_examples=150, deadline=None)
@given(now=QUARTERS, wanted=QUARTERS, left=st.booleans())
def test_who_follows_the_instructions_arrives(
    now: list[float], wanted: list[float], left: bool
) -> None:
    one = put(Car(), "thread_hand", LEFT_HAND) if left else Car()
    for corner, turns in zip(CORNERS, now, strict=True):
        one = put(one, f"corners.{corner}.collar", turns)
    other = one
    for corner, turns in zip(CORNERS, wanted, strict=True):
        other = put(other, f"corners.{corner}.collar", turns)
    steps = instructions(one, other, "metric")
    stands = followed(one, [step.text for step in steps], "down")
    assert list(stands.values()) == wanted
    for step in steps:
        if step.text.endswith("down."):
            assert step.gives.startswith("Anticlockwise" if left else "Clockwise")


def test_the_work_comes_in_the_order_of_the_work() -> None:
    """Springs, pistons and oil before the collars, the ride height last; springs by their name."""
    car = Car()
    for path, value in {
        "corners.rear_left.collar": 1.25, "front.oil": 350e-6, "front.holes": 2.0,
        "front.hole": 1.5e-3, "front.spring_rate": 760.0, "front.spring_solid": 14e-3,
        "front.arm.upper_out": 48e-3,
        "corners.front_left.stroke": 22e-3, "rear.ride_height": 24e-3,
    }.items():  # fmt: skip
        car = put(car, path, value)
    texts = [s.text.replace("\u00a0", " ") for s in instructions(Car(), car, "metric")]
    assert texts == [
        "Front springs: “front, two dots”, 0.76 N/mm, 40 mm free, 14 mm solid.",
        "Front pistons: 2 × 1.5 mm open both ways, 2.5 mm thick, play 0.1 mm.",
        "Front dampers: oil 350 cSt.",
        "Front dampers, holes used: lower mount 78 mm out and 30 mm up, "
        "upper mount 48 mm out and 92 mm up.",
        "Front left rod end: set the stroke to 22 mm.",
        "Rear left collar: 1 1/4 turns down.",
        "Check the front ride height: 22 mm.",
        "Check the rear ride height: 24 mm.",
    ]
    assert "“front, one dot”" in instructions(Car(), car, "metric")[0].gives


def test_turns_of_another_thread_are_warned_of() -> None:
    other = put(Car(), "rear.pitch", 1e-3)
    assert [c.stop for c in setups.cautions(Car(), other)] == [True]
    assert "rear dampers" in setups.cautions(Car(), other)[0].text
    assert len(setups.cautions(Car(), put(Car(), "thread_hand", LEFT_HAND))) == 2
    guessed = put(owned(), "thread_hand", LEFT_HAND, Origin("assumed"))
    assert not any(caution.stop for caution in setups.cautions(owned(), guessed))


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        # Common practice, no source.
        ("front.spring_rate", 700.0, [("off", "motor", "eye protection", "manual")]),
        ("front.hole", 1.5e-3, [("off", "eye protection"), ("cool", "rag", "slippery")]),
        ("rear.oil", 350e-6, [("off", "eye protection"), ("cool", "rag", "slippery")]),
        ("front.arm.lower_out", 80e-3, [("off", "eye protection"), ("overtighten", "plastic")]),
        ("corners.rear_left.collar", 1.25, [("off", "motor")]),
    ],
)
def test_the_work_of_going_back_is_cautioned_of(
    path: str, value: float, words: list[tuple[str, ...]]
) -> None:
    found = setups.cautions(Car(), put(Car(), path, value))
    assert not any(caution.stop for caution in found)
    for caution, each in zip(found, words, strict=True):
        assert [word for word in each if word not in caution.text] == []


def typed(**more: str) -> dict[str, str]:
    return {"name": "Qualifying", "date": "2031-05-24", "temperature": "31", **more}


def test_what_is_typed_becomes_a_set_up_and_comes_back() -> None:
    given, reply = read(SAVE, typed(surface="dry clay", note="held the line"), Car())
    assert not reply.problems
    made = setups.made(given)
    assert made.car.temperature == pytest.approx(304.15)
    assert (made.name, made.surface, made.note) == ("Qualifying", "dry clay", "held the line")
    assert setups.setup_from_json(json.loads(json.dumps(setups.setup_json(made)))) == made


@pytest.mark.parametrize("day", ["24.5.2031", "2031-13-01", "2031-02-30", "soon", "2031-05"])
def test_a_day_that_is_none_is_refused(day: str) -> None:
    stored = setups.setup_json(Setup("a", date(2031, 5, 24).isoformat()))
    with pytest.raises(Refused, match="year-month-day"):
        setups.setup_from_json({**stored, "date": day})


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("name",), ""), (("name",), "x" * 10_000), (("name",), 3), (("car",), None),
        (("car", "schema"), 99), (("car", "front", "pitch"), 0), (("more",), 1),
        (("note",), "y" * 401),
    ],
)  # fmt: skip
def test_a_damaged_set_up_is_refused_in_a_sentence(path: tuple[str, ...], value: Any) -> None:
    stored = setups.setup_json(Setup("a", "2031-05-24"))
    with pytest.raises(Refused) as refused:
        setups.setup_from_json(altered(stored, path, value))
    assert is_one_sentence(str(refused.value))


def test_every_entry_of_a_set_up_has_a_label_of_its_own() -> None:
    """Two places must not read alike in a list of differences."""
    said = [label for _, label, _ in labels.entries()]
    assert len(set(said)) == len(said)
    assert all(isinstance(entry, Number | Choice) for _, _, entry in labels.entries())


def test_what_is_saved_keeps_what_was_typed_and_the_temperature_at_which_it_works() -> None:
    """That of the record: its field says so, as the air of any day is typed there."""
    typed = {
        "name": "Clay, dry",
        "date": "2031-05-24",
        "surface": "clay",
        "temperature": "31",
        "note": "soft at the rear",
    }
    checked, reply = read(SAVE, typed, Car())
    assert reply.problems == {}
    answer = SAVE.solve(checked)
    assert [step.text for step in answer.steps] == ["Clay, dry can be saved."]
    made = setups.made(checked)
    assert [made.name, made.date, made.surface, made.note] == [
        "Clay, dry", "2031-05-24", "clay", "soft at the rear",
    ]  # fmt: skip
    assert made.car.temperature == pytest.approx(273.15 + 31)
    assert "at which it works" in SAVE.by_name["temperature"].said
    assert made.car.demo


def test_a_height_that_was_only_predicted_says_so_beside_one_that_was_measured() -> None:
    mine = put(owned(), "front.ride_height", 5.48e-3, Origin("predicted", 1.0, "collar-turns"))
    then = put(owned(), "front.ride_height", 5.3e-3, Origin("measured"))
    (one,) = differences(mine, then, "metric")
    assert one.now.endswith("mm, predicted, not measured since") and one.wanted.endswith("mm")


def test_a_collar_that_nobody_has_turned_is_at_its_mark_as_in_the_log() -> None:
    turned = put(empty("Mine"), "corners.front_left.collar", 0.25, Origin("measured"))
    (one,) = differences(turned, empty("Mine"), "metric")
    assert [text.replace(units.NBSP, " ") for text in (one.now, one.wanted)] == [
        "1/4 turn down", "0 turns",
    ]  # fmt: skip


def test_a_set_up_saved_without_a_temperature_knows_none() -> None:
    """The temperature of the car is that of another day."""
    typed = {"name": "Clay", "date": "2031-05-24", "temperature": ""}
    mine = put(empty("Mine"), "temperature", 296.15, Origin("measured"))
    asked, _ = read(SAVE, typed, mine)
    assert not is_known(setups.made(asked).car, "temperature")
    assert is_known(mine, "temperature")


def test_a_temperature_that_is_typed_is_known_whatever_stood_there() -> None:
    """The same number, here 25 °C, may stand in a record that does not know it."""
    mine = replace(empty("Mine"), temperature=298.15)
    asked, _ = read(SAVE, typed(temperature="25"), mine)
    assert setups.temperature(setups.made(asked)) == pytest.approx(298.15)


@pytest.mark.parametrize("day", ["24.5.2031", "2031-13-01", "2031-02-30", "soon"])
def test_a_day_that_is_none_is_a_problem_at_the_day(day: str) -> None:
    reply = run(SAVE, {"name": "Clay", "date": day}, Car())
    assert set(reply.problems) == {"date"}
    assert "year-month-day" in reply.problems["date"]


def known_by(car: Car, how: Any, *paths: str) -> Car:
    """The car with what stands at these paths known in this way."""
    for path in paths:
        car = put(car, path, record.get(car, path), Origin(how, 1.0))
    return car


def test_what_was_only_assumed_or_never_measured_is_not_ordered() -> None:
    """Going back leads to what a gauge, a label or a prediction said, and to nothing else."""
    now = owned()
    then = put(put(empty("Then"), "front.oil", 350e-6), "front.spring_rate", 760.0)
    then = known_by(then, "label", "front.oil")
    then = known_by(then, "assumed", "front.spring_rate", "front.pitch", "front.ride_height")
    told = [(s.text, s.gives) for s in instructions(now, then, "metric")]
    assert [text.replace("\u00a0", " ") for text, _ in told] == [
        "Front dampers: oil 350 cSt.",
        "Measure the front ride height.",
        "Measure the rear ride height.",
    ]
    assert all("not measured then" in gives for _, gives in told[1:])
    assert not any(caution.stop for caution in setups.cautions(now, then))
    shown = {d.path: d.wanted for d in differences(now, then, "metric")}
    assert shown["front.spring_rate"] == "only assumed"
    assert shown["front.ride_height"] == shown["rear.ride_height"] == "not known yet"
    after = carried_out(now, back_to(now, then, 2.0, "setups"))
    assert after.front.oil == pytest.approx(350e-6)
    assert after.front.spring_rate == now.front.spring_rate


def test_a_spring_is_told_by_what_is_known_of_it() -> None:
    then = put(empty("Then"), "front.spring_rate", 550.0, Origin("label", 1.0))
    told = {s.text: s.gives for s in instructions(owned(), then, "metric")}
    (gives,) = (says for text, says in told.items() if text.startswith("Front springs: 0.55"))
    assert all("?" not in text for text in told)
    assert "free" in gives and "solid" in gives


def test_what_nobody_knows_now_is_told_as_it_was_then() -> None:
    """The oil is put back as known, even where the same number stands there unknown; a height that
    was not measured before the work is not held against the one of then."""
    then = owned()
    now = forget(forget(then, "front.oil"), "front.ride_height")
    assert now.front.oil == then.front.oil
    *_, front, rear = instructions(now, then, "metric")
    assert front.text.startswith("Check the front ride height") and front.gives == ""
    assert rear.gives.startswith("Before the work: ")
    after = carried_out(now, back_to(now, then, 2.0, "setups"))
    assert is_known(after, "front.oil")


def test_readings_of_then_stand_in_where_the_work_leaves_none() -> None:
    """Too little is known to work out what the scales will show: they showed it then."""
    loads = [f"corners.{corner}.load" for corner in CORNERS]
    then = put(put(empty("Then"), "front.spring_rate", 550.0), loads[0], 0.41)
    then = known_by(then, "measured", "front.spring_rate", *loads)
    now = known_by(put(then, "front.spring_rate", 720.0), "measured", "front.spring_rate")
    after = carried_out(now, back_to(now, then, 2.0, "setups"))
    assert after.corners.front_left.load == pytest.approx(0.41)
    assert [after.origins[path].how for path in loads] == ["predicted"] * 4
