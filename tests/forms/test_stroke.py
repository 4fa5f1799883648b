"""Stroke: turns of four rod ends, to the step of the hand, with enough thread left."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.answering.answer import Answer
from calc.asking.entry import Choice
from calc.forms.names import corner_word
from calc.forms.stroke.form import FORM
from calc.forms.stroke.pictures import stroke_table
from calc.kept import doing
from calc.kept.deeds import carried_out
from calc.model.car import Car, put
from calc.model.corners import CORNERS
from calc.model.origin import Origin
from calc.physics.thread import ENGAGEMENT
from calc.replying.reading import run
from tests.forms.asking import answered, done, stops, values
from tests.owned import owned

ask = partial(answered, FORM)


def steps(answer: Answer) -> list[str]:
    return [step.text.replace("\u00a0", " ") for step in answer.steps]


def test_four_tenths_of_a_millimetre_are_eight_tenths_of_a_turn() -> None:
    """0.4 mm too short at a pitch of 0.5 mm: common practice, no source."""
    answer = ask(damper__front_left__stroke="21.6", damper__front_left__wanted="22", pitch="0.5")
    assert values(answer)["front_left_turns"] == pytest.approx(0.8, abs=0.05)
    assert steps(answer)[0] == "Front left rod end: 3/4 turn out (longer)."


def test_out_is_anticlockwise_and_longer_in_is_clockwise_and_shorter() -> None:
    """A right-hand thread: a nut comes off anticlockwise, seen from the free end of its bolt."""
    short = ask(damper__rear_left__stroke="29", damper__rear_left__wanted="30").steps[2]
    long = ask(damper__rear_left__stroke="31", damper__rear_left__wanted="30").steps[2]
    assert "out (longer)." in short.text and short.gives.startswith("Anticlockwise, with the rod")
    assert "in (shorter)." in long.text and long.gives.startswith("Clockwise, with the rod")


def test_all_four_are_answered_at_once_with_the_pair_match_before_and_after() -> None:
    answer = ask()
    parts = [text.partition(":")[0].lower() for text in steps(answer)[:4]]
    assert parts == [f"{corner_word(corner)} rod end" for corner in CORNERS]
    found = values(answer)
    for end in ("front", "rear"):
        assert abs(found[f"{end}_apart"]) < abs(found[f"{end}_apart_before"])
    assert [row[0] for row in answer.tables[1].rows] == ["Front", "Rear"]


@settings(max_examples=100, deadline=None)
@given(
    strokes=st.lists(st.floats(20, 25), min_size=4, max_size=4),
    wanted=st.floats(21, 24),
    pitch=st.sampled_from([0.4, 0.45, 0.5, 0.7]),
    step=st.sampled_from(["1/4", "1/2"]),
)
def test_what_is_turned_brings_every_stroke_within_half_a_step(
    strokes: list[float], wanted: float, pitch: float, step: str
) -> None:
    typed = {"pitch": f"{pitch}", "turn_step": step}
    for key, stroke in zip(CORNERS, strokes, strict=True):
        typed[f"damper.{key}.stroke"] = f"{stroke:.4f}"
        typed[f"damper.{key}.wanted"] = f"{wanted:.4f}"
        typed[f"damper.{key}.engaged"] = "30"
    answer = ask(**typed)
    reach = {"1/4": 0.125, "1/2": 0.25}[step] * pitch * 1e-3 + 1e-9
    found = values(answer)
    for key in CORNERS:
        assert abs(found[f"{key}_stroke"] - round(wanted, 4) * 1e-3) <= reach
    for end in ("front", "rear"):
        assert abs(found[f"{end}_apart"]) <= 2 * reach


def test_alike_turns_only_the_longer_one_and_only_in() -> None:
    answer = ask(aim="alike")
    assert steps(answer)[:4] == [
        "Front left rod end: leave it.",
        "Front right rod end: 1 turn in (shorter).",
        "Rear left rod end: 1 3/4 turns in (shorter).",
        "Rear right rod end: leave it.",
    ]
    found = values(answer)
    assert abs(found["front_apart"]) <= 0.0625e-3 and abs(found["rear_apart"]) <= 0.0625e-3


@pytest.mark.parametrize(
    ("material", "engaged", "stop", "word"),
    [
        # A rule of thumb from memory: steel 1 d, aluminium 1.5 to 2 d, plastic 2 to 2.5 d; M3.
        ("steel", "2.9", True, True),
        ("steel", "3.1", False, False),
        ("aluminium", "4.4", True, True),
        ("aluminium", "5", False, True),
        ("plastic", "5.9", True, True),
        ("plastic", "7", False, True),
        ("plastic", "7.6", False, False),
    ],
)
def test_too_little_thread_is_told_by_material(
    material: str, engaged: str, stop: bool, word: bool
) -> None:
    typed = {f"damper.{key}.engaged": "20" for key in CORNERS}
    typed["damper.front_left.engaged"] = engaged
    same = {f"damper.{key}.wanted": "25" for key in CORNERS}
    same |= {f"damper.{key}.stroke": "25" for key in CORNERS}
    answer = ask(material=material, **typed, **same)
    assert bool(stops(answer)) == stop
    assert any("rule of thumb" in caution.text for caution in answer.cautions) == word


def test_turning_out_until_it_comes_off_is_a_stop() -> None:
    answer = ask(damper__front_left__engaged="2", damper__front_left__stroke="18")
    assert "comes off" in stops(answer)


def test_what_was_turned_is_noted_and_then_nothing_is_left_to_do() -> None:
    car = done(ask())
    assert all("leave it" in text for text in steps(ask(car)))
    assert car.corners.front_left.engaged == pytest.approx(8e-3 - 0.375e-3)


def test_a_rod_end_turned_out_makes_the_damper_longer_by_as_much() -> None:
    """3/4 turn of 0.5 mm; it is predicted until somebody measures it."""
    answer = run(FORM, {}, owned()).answer
    car = carried_out(owned(), doing.done(answer, owned(), 2.0, "stroke"))
    assert car.corners.front_left.damper_length == pytest.approx(71.8e-3 + 0.375e-3)
    assert car.origins["corners.front_left.damper_length"].how == "predicted"


def test_what_rod_ends_move_is_no_surer_than_their_pitch_and_what_was_measured() -> None:
    """3/4 turn of (0.5 ± 0.1) mm from (21.6 ± 0.2) mm: u² = 0.1² + (0.75 · 0.05)² mm². The
    thread in the rod end was only assumed and stays so."""
    path, usual = "corners.front_left.engaged", Origin("assumed", 1.0, u=3e-3)
    car = put(owned(), path, 8e-3, usual)
    typed = {"pitch": "0.5 ± 0.1", "damper.front_left.stroke": "21.6 ± 0.2"}
    after = carried_out(car, doing.done(run(FORM, typed, car).answer, car, 2.0, "stroke"))
    assert after.corners.front_left.stroke == pytest.approx(21.975e-3)
    expected = (0.1e-3**2 + (0.75 * 0.05e-3) ** 2) ** 0.5
    assert after.origins["corners.front_left.stroke"].u == pytest.approx(expected)
    assert after.corners.front_left.engaged < 8e-3 and after.origins[path] == usual


def test_the_room_of_the_spring_at_full_droop_goes_with_the_rod_ends_of_its_end() -> None:
    """3/4 turn out on the left, 1/4 in on the right, of 0.5 mm: 0.125 mm longer in the mean."""
    before = owned()
    answer = run(FORM, {}, before).answer
    car = carried_out(before, doing.done(answer, before, 2.0, "stroke"))
    lengths = [car.corner(corner).damper_length for corner in CORNERS[:2]]
    assert lengths == pytest.approx([71.8e-3 + 0.375e-3, 71.8e-3 - 0.125e-3])
    assert car.front.damper_length == pytest.approx(71.8e-3 + 0.125e-3)
    assert car.front.droop_length == pytest.approx(38.5e-3 + 0.125e-3)
    for name in ("damper_length", "droop_length"):
        assert car.origins[f"front.{name}"].how == "predicted"


def test_dampers_of_one_stroke_that_become_unlike_in_length_are_told() -> None:
    """The front rod ends go 3/4 turn out and 1/4 turn in, 0.5 mm apart."""
    assert "front dampers then differ by 0.50 mm" in lengths(ask())
    typed = {"damper__front_left__length": "71.3", "damper__front_right__length": "71.8"}
    assert "front dampers" not in lengths(ask(**typed)), "they become alike"
    unknown = lengths(ask(**dict.fromkeys(typed, "")))
    assert "Between the front dampers it changes by 0.50 mm" in unknown
    same = {f"damper__{key}__stroke": "22" for key in CORNERS}
    assert lengths(ask(aim="alike", **same)) == ""


def lengths(answer: Answer) -> str:
    """What is said of the lengths, after the four rod ends."""
    return " ".join(step.gives for step in answer.steps[4:]).replace("\u00a0", " ")


def test_the_sheet_says_what_a_turn_adds() -> None:
    table = stroke_table(Car())
    by_turns = dict(zip(table.heads, table.rows[0], strict=True))
    assert by_turns["1/4"] == "0.125" and by_turns["2"] == "1"


def test_every_material_with_a_rule_of_engagement_is_offered_by_name() -> None:
    offered = next(cell for _, name, cell in FORM.cells() if name == "material")
    assert isinstance(offered, Choice)
    assert dict(offered.options).keys() == ENGAGEMENT.keys() and all(dict(offered.options).values())
