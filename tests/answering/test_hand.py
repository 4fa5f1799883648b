"""What a hand is told: rounding by hand, words for turning and for waiting."""

import pytest

from calc.answering.hand import to_step, turn_words, wait_words, way_words
from calc.units import NBSP


@pytest.mark.parametrize(
    ("value", "step", "rounded"),
    [
        (0.37, 0.25, 0.25),
        (0.38, 0.25, 0.5),
        (0.375, 0.25, 0.5),  # halves go away from zero
        (-0.375, 0.25, -0.5),
        (-0.37, 0.25, -0.25),
        (0.124, 0.25, 0.0),
        (7.3, 2.0, 8.0),
        (6.9, 2.0, 6.0),
    ],
)
def test_the_nearest_step(value: float, step: float, rounded: float) -> None:
    assert to_step(value, step) == rounded


def test_turns_in_words() -> None:
    assert turn_words(0.0) == "no turn"
    assert turn_words(1.0) == f"1{NBSP}turn down"
    assert turn_words(-2.0) == f"2{NBSP}turns up"


def test_down_is_clockwise_from_the_cap_unless_the_thread_is_left_hand() -> None:
    down, up = " (tighter; car up).", " (looser; car down)."
    clockwise, back = "Clockwise, seen from the cap end", "Anticlockwise, seen from the cap end"
    assert (way_words(1.0, "right"), way_words(-1.0, "right")) == (clockwise + down, back + up)
    assert (way_words(1.0, "left"), way_words(-1.0, "left")) == (back + down, clockwise + up)
    assert way_words(0.0, "right") == way_words(0.0, "left") == ""


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (1.0, "5 s"),
        (55.0, "55 s"),
        (55.1, "60 s"),
        (60.0, "60 s"),
        (60.1, "2 min"),
        (180.0, "3 min"),
        (5400.0, "90 min"),
        (5401.0, "2 h"),
        (9000.0, "2.5 h"),
        (9001.0, "3 h"),
        (172800.0, "48 h"),
        (172801.0, "3 days"),
        (864000.0, "10 days"),
        (86400.0 * 1234.5, "1 235 days"),
    ],
)
def test_a_wait_is_rounded_up_to_what_a_hand_keeps(seconds: float, words: str) -> None:
    assert wait_words(seconds) == words.replace(" ", NBSP)
