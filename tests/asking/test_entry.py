"""Declared entries: what they take, what they refuse, and in which words."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc import units
from calc.asking.entry import Choice, Number, Refused, Rows, Text, only, shown
from calc.model.car import numbers
from calc.units import SYSTEMS
from tests.strategies import WORDS

PITCH = Number(
    "Thread pitch", "length", (0.5e-3, 1.5e-3), (0.1e-3, 5e-3), "Measure ten turns.", name="pitch"
)
OIL = Number("Oil", "viscosity", (1e-4, 1.5e-3), (5e-6, 0.2), "On the bottle.", optional=True)
LOSS = Number("Loss", "mass", (0.0, 0.1), (0.0, 1.0), "Weigh it.")
EVERY_NUMBER = [entry for _, entry in numbers()]


def refusal(entry: Number | Text | Choice, text: str, *more: str) -> str:
    with pytest.raises(Refused) as refused:
        entry.read(text, *more)
    return str(refused.value).replace(units.NBSP, " ")


def test_a_value_out_of_the_possible_range_is_named_with_what_is_possible_and_usual() -> None:
    assert refusal(PITCH, "0") == (
        "Thread pitch: 0 mm is not possible here; possible is 0.1 to 5 mm, usual 0.5 to 1.5 mm."
    )


@pytest.mark.parametrize(
    ("text", "may"),
    [("0", True), ("0.", True), ("0.0", False), ("9", False), ("", False), ("abc", False),
     ("1", False), ("0.01 in", False), ("2 in", False)],
)  # fmt: skip
def test_a_number_that_is_half_typed_may_become_one_that_is_possible(text: str, may: bool) -> None:
    """A pitch of 0.1 to 5 mm: what is possible already is not half typed, nor is what no digits
    mend."""
    assert PITCH.may_become(text) == may
    assert OIL.may_become("2") and not OIL.may_become("20") and not OIL.may_become("3000000")


def test_what_is_counted_is_whole() -> None:
    holes = Number("Holes", "count", (1, 10), (0, 20), "Count them.", whole=True)
    assert refusal(holes, "2.5") == ("Holes: these are counted, so it has to be a whole number.")
    measured = holes.read("3")
    assert measured is not None and measured.value == 3


def test_what_cannot_be_read_is_named_with_what_is_usual() -> None:
    assert refusal(PITCH, "M3") == ("Thread pitch: “M3” is not a number; usual is 0.5 to 1.5 mm.")
    assert refusal(PITCH, "") == ("Thread pitch: nothing was entered; usual is 0.5 to 1.5 mm.")


@pytest.mark.parametrize("text", ["-1", "nan", "inf", "1e400", "1e300", "99 m", "5.01", "0.0999"])
def test_no_number_comes_of_what_is_not_possible(text: str) -> None:
    assert refusal(PITCH, text).endswith(".")


def test_optional_and_empty_is_no_value_but_optional_and_wrong_is_refused() -> None:
    assert OIL.read(" ") is None
    assert "not possible" in refusal(OIL, "0")


@pytest.mark.parametrize("entry", EVERY_NUMBER, ids=lambda entry: entry.label)
@pytest.mark.parametrize("system", SYSTEMS)
def test_the_bounds_that_a_refusal_prints_are_accepted(entry: Number, system: str) -> None:
    for bound in entry.possible:
        measured = entry.read(units.entry_text(bound, entry.kind, system), system)
        assert measured is not None
        assert entry.possible[0] <= measured.value <= entry.possible[1]
        assert measured.value == pytest.approx(bound, rel=1e-3)
    low, high = entry.range_text(system, "possible").split(" to ")
    assert entry.read(low, system) is not None
    assert entry.read(high, system) is not None


@pytest.mark.parametrize("entry", EVERY_NUMBER, ids=lambda entry: entry.label)
def test_the_usual_range_is_not_unusual(entry: Number) -> None:
    assert not any(map(entry.is_unusual, entry.usual))


def test_a_hair_below_nothing_is_below_nothing() -> None:
    assert "not possible" in refusal(LOSS, "-0.00001")
    zero = LOSS.read("0")
    assert zero is not None and zero.value == 0.0


@given(value=st.floats(allow_nan=True, allow_infinity=True), system=st.sampled_from(SYSTEMS))
def test_a_checked_value_lies_within_the_possible_range_or_is_refused(
    value: float, system: str
) -> None:
    try:
        held = PITCH.check(value, system)
    except Refused as refused:
        assert str(refused).endswith(".")
        assert not 0.1e-3 <= value <= 5e-3
    else:
        assert 0.1e-3 <= held <= 5e-3
        assert held == pytest.approx(value, abs=1e-7)


def test_a_doubt_wider_than_all_that_is_possible_says_nothing_and_is_refused() -> None:
    assert refusal(PITCH, "1 ± 5") == (
        "Thread pitch: the number behind ± is wider than the whole possible range."
    )
    assert "wider" in refusal(OIL, "350 ± 1e300")
    wide = PITCH.read("1 ± 4.8")
    assert wide is not None and wide.u == pytest.approx(2.4e-3)


def test_an_entry_whose_usual_range_is_not_possible_cannot_be_declared() -> None:
    with pytest.raises(ValueError, match="usual range must lie within"):
        replace(PITCH, usual=(0.05e-3, 1e-3))


def test_a_choice_takes_its_options_only() -> None:
    choice = Choice("End", (("front", "Front"), ("rear", "Rear")))
    assert choice.start == "front"
    assert choice.read(" rear ") == "rear"
    for text in ("", "Rear", "middle", "🏁"):
        assert refusal(choice, text) == "End: choose one of front, rear."


@given(words=WORDS)
def test_a_name_is_one_line_of_what_can_be_seen_and_reads_back_unchanged(words: str) -> None:
    name = Text("Name", 40, optional=True)
    line = name.read(words)
    assert line == line.strip() and line.isprintable() and "  " not in line
    assert name.read(line) == line


def test_a_name_without_a_letter_to_be_seen_is_refused() -> None:
    for text in ("", " \n ", "\u202e", "\x00\ud800"):
        assert refusal(Text("Name", 40), text) == "Name: nothing was entered; any name will do."
    assert refusal(Text("Name", 5), "longer") == "Name: 6 characters are too many; up to 5 fit."


def test_cells_carry_the_label_and_the_place_of_their_row() -> None:
    rows = Rows(
        "Corners",
        (replace(PITCH, car="{end}.pitch"), Text("Name", 9, name="name", car="corners.{row}.n")),
        (("front_left", "Front left"), ("rear_right", "Rear right")),
        name="corner",
        examples=((1e-3, 0.0),),
    )
    (_, first, pitch), _, (_, third, other), (key, last, name) = rows.cells()
    assert (first, third, last) == (
        "corner.front_left.pitch", "corner.rear_right.pitch", "corner.rear_right.name",
    )  # fmt: skip
    assert key == "rear_right" and name.car == "corners.rear_right.n" and not name.fills_only
    assert pitch.label == "Front left, thread pitch" and pitch.car == "front.pitch"
    assert pitch.fills_only and pitch.optional and pitch.example == 1e-3  # type: ignore[union-attr]
    assert other.car == "rear.pitch" and other.example is None
    assert not any(cell.optional for _, _, cell in replace(rows, every=True).cells())  # type: ignore[union-attr]


def test_conditions_add_up() -> None:
    when = only("scope", "both") + only("ask", "turns", "height")
    assert shown(when, {"scope": "both", "ask": "height"})
    assert not shown(when, {"scope": "one", "ask": "height"})
    assert not shown(when, {"scope": "both"})
    assert shown((), {})


@given(number=st.floats(0.11e-3, 4.9e-3), system=st.sampled_from(SYSTEMS))
def test_what_a_field_shows_it_also_takes(number: float, system: str) -> None:
    assume(math.isfinite(number))
    measured = PITCH.read(units.entry_text(number, "length", system), system)
    assert measured is not None and measured.value == pytest.approx(number, rel=1e-3)
