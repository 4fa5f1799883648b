"""Spring seats: gap, turns, preload and height are one thing."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.forms.spring_preload.form import FORM as PRELOAD
from calc.forms.spring_seats.form import FORM
from tests.forms.asking import UNDRAWN, answered, cautions, noted, stops, told, value, values

ask = partial(answered, FORM, UNDRAWN)


def test_a_gap_that_a_manual_gives_is_turns_of_the_thread() -> None:
    """1.5 mm at a pitch of 0.75 mm are two turns; down from the cap (geometry of the thread)."""
    answer = ask(gap_left="12", gap_right="12.75", wanted_gap="13.5")
    words = told(answer)
    assert "Front left collar: 2 turns down. Clockwise" in words
    assert "Front right collar: 1 turn down. Clockwise" in words
    assert "The calliper then shows 13.50 mm" in words
    assert noted(answer)["corners.front_left.collar"] == 2.0
    # Free 40 mm, at full droop 38.5 mm for the mean of both collars: 1.125 mm down from 12.375 mm
    assert noted(answer)["front.droop_length"] == pytest.approx((38.5 - 1.125) * 1e-3)


def test_a_gap_from_the_lower_end_shrinks_as_the_collar_goes_down() -> None:
    answer = ask(reference="foot", gap_left="20", gap_right="20", wanted_gap="18.5")
    assert "Front left collar: 2 turns down." in told(answer)


def test_the_preload_is_that_of_the_page_of_preload() -> None:
    here = ask(gap_left="12", gap_right="12", wanted_gap="12")
    there = answered(PRELOAD, UNDRAWN)
    for mine, theirs in (("preload", "preload"), ("force", "preload_force")):
        assert value(here, f"left_{mine}") == pytest.approx(value(there, theirs))


def test_a_height_wanted_is_the_quick_rule_of_the_collar() -> None:
    """1.5 mm at a ratio of 0.65 are 0.975 mm of collar (virtual work at unchanged load), 1.3 turns
    at a pitch of 0.75 mm: 1 1/4, which lifts 1.25 x 0.75 / 0.65 = 1.44 mm."""
    answer = ask(aim="height", ride_height="22", wanted_height="23.5")
    found = values(answer)
    assert found["left_turns"] == found["right_turns"] == pytest.approx(1.3)
    assert found["rise"] == pytest.approx(1.25 * 0.75e-3 / 0.65)


@pytest.mark.parametrize("held", ["thread", "clips"])
def test_other_cups_keep_the_height_where_the_seat_goes_up_by_as_much(held: str) -> None:
    answer = ask(
        held=held, aim="cup", cup_now="2", cup_new="3.5", clips_left="3", clips_right="3",
        gap_left="12", gap_right="12", clip__1__thickness="1.5", clip__2__thickness="2",
        clip__3__thickness="",
    )  # fmt: skip
    found = values(answer)
    assert found["rise"] == pytest.approx(0, abs=1e-9)
    assert found["left_preload"] == pytest.approx(1.5e-3)
    words = told(answer)
    assert "Fit the other cups on both front dampers." in words
    assert "2 turns up" in words if held == "thread" else "clip on 1.50 mm." in words


def test_the_pile_is_the_nearest_of_the_sizes_at_hand() -> None:
    answer = ask(held="clips", wanted_clips="5.2", clip__1__thickness="1", clip__2__thickness="2.5",
                 clip__3__thickness="2.6")  # fmt: skip
    assert "Front left: clip on 2.50 mm + 2.60 mm." in told(answer)


def test_less_than_no_spacer_stops_the_work() -> None:
    answer = ask(held="clips", aim="cup", clips_left="1", clips_right="1", cup_now="0", cup_new="4")
    assert "Front left: no spacer." in told(answer)
    assert "still sits 3.00 mm too far down" in stops(answer).replace("\u00a0", " ")


def test_a_thread_that_ends_before_stops_the_work() -> None:
    assert "the thread ends 4 turns before that, at its lower end" in stops(
        ask(gap_left="12", gap_right="12", wanted_gap="15", gap_foot="12")
    ).replace("\u00a0", " ")
    assert "at its upper end" in stops(ask(wanted_gap="2", gap_top="3", gap_foot="26"))
    assert value(ask(wanted_gap="12", gap_left="12", gap_top="3"), "left_up") == pytest.approx(12)


def test_unlike_sides_that_are_moved_alike_are_told() -> None:
    assert "0.90 mm apart" in stops(ask(aim="height", gap_left="12", gap_right="12.9")).replace(
        "\u00a0", " "
    )
    assert "apart" not in cautions(ask(aim="height", gap_left="12", gap_right="12.1"))


def test_the_droop_stop_and_loose_springs_are_found_here_too() -> None:
    assert "droop stop" in stops(ask(wanted_gap="25"))
    assert "loose at full droop" in cautions(ask(wanted_gap="8"))


@settings(max_examples=50, deadline=None)
@given(
    now=st.floats(8, 16), wanted=st.floats(8, 16), step=st.sampled_from(["1/4", "1/2", "1/8"]),
    hand=st.sampled_from(["cap", "foot"]),
)  # fmt: skip
def test_the_gap_comes_within_half_a_step(now: float, wanted: float, step: str, hand: str) -> None:
    answer = ask(gap_left=f"{now:.3f}", gap_right=f"{now:.3f}", wanted_gap=f"{wanted:.3f}",
                 turn_step=step, reference=hand)  # fmt: skip
    reach = {"1/4": 0.125, "1/2": 0.25, "1/8": 0.0625}[step] * 0.75e-3 + 1e-9
    assert abs(value(answer, "left_gap") - round(wanted, 3) * 1e-3) <= reach
