"""Length and travel: rod ends, spacers, droop and what ends the way up."""

import math
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.forms.length_travel.form import FORM
from calc.kept.deeds import carried_out
from calc.kept.doing import assumed
from calc.model.car import Car, forget
from calc.replying.learned import learned
from calc.replying.reading import run
from tests.forms.asking import UNDRAWN, answered, noted, quantity, refused, stops, told, values
from tests.owned import owned

ask = partial(answered, FORM)
plain = partial(answered, FORM, UNDRAWN)
problems = partial(refused, FORM)


def test_a_spacer_as_thick_as_the_shaft_travel_takes_its_droop() -> None:
    """2 mm less at the wheel at a ratio of 0.65 are 1.3 mm at the shaft: to 0.5 mm, 1.5 mm, which
    takes 1.5 / 0.65 = 2.31 mm (definition of the motion ratio)."""
    answer = plain(droop_left="9", droop_right="9", wanted_droop="7")
    found = values(answer)
    assert found["under"] == pytest.approx(1.3e-3)
    assert found["left_droop"] == found["right_droop"] == pytest.approx(9e-3 - 1.5e-3 / 0.65)
    assert "add 1.50 mm of spacer under the piston" in told(answer)


def test_a_length_that_follows_is_no_surer_than_what_was_measured_and_turned() -> None:
    """One turn in of (0.5 ± 0.1) mm from (72.3 ± 0.4) mm, k = 2; the mean of both dampers has half
    of each (JCGM 100:2008, 5.1.2)."""
    answer = plain(length_left="72.3 ± 0.4", length_right="71.8 ± 0.2", rod_pitch="0.5 ± 0.1")
    found = {write.path: write.u for write in answer.writes}
    left, right, turn = 0.2e-3, 0.1e-3, 0.05e-3
    one, mean = math.hypot(left, turn), math.hypot(left, right, turn) / 2
    assert found["corners.front_left.damper_length"] == pytest.approx(one)
    assert found["front.damper_length"] == pytest.approx(mean)


def test_the_longer_of_a_pair_is_screwed_in_before_the_spacer_is_chosen() -> None:
    """0.5 mm too long at a pitch of 0.5 mm is one turn; both wheels then drop alike where the
    droops differed by just that: 0.5 / 0.65 = 0.77 mm."""
    answer = plain(
        length_left="72.3", length_right="71.8", droop_left="8.77", droop_right="8",
        wanted_droop="8",
    )  # fmt: skip
    found = values(answer)
    assert "Front left rod end: 1 turn in (shorter)." in told(answer)
    assert found["left_droop"] == pytest.approx(found["right_droop"], abs=0.01e-3)
    assert found["unexplained"] == pytest.approx(0, abs=0.01e-3)
    assert "leave the spacers under the piston" in told(answer)


def test_a_rod_end_that_is_too_far_out_and_would_go_further_is_turned_once() -> None:
    """The right damper is 1 mm too long, two turns of 0.5 mm; 1.3 mm more at the shaft are 2.6
    turns, less half of those two for the mean: the right goes out 1.6 turns, the left 3.6."""
    answer = plain(
        length_left="71.3", length_right="72.3", droop_left="8", droop_right="8",
        wanted_droop="10", spacers="0",
    )  # fmt: skip
    found, words = values(answer), told(answer)
    assert found["left_out"] == pytest.approx(3.6)
    assert found["right_out"] == pytest.approx(1.6)
    assert "Front left rod end: 3 1/2 turns out (longer)." in words
    assert "Front right rod end: 1 1/2 turns out (longer)." in words
    assert "in (shorter)" not in words


def test_droops_that_the_lengths_do_not_explain_are_told_beyond_their_doubt() -> None:
    assert "more than the lengths explain" not in stops(plain(droop_left="8.5", droop_right="8.6"))
    assert "more than the lengths explain" in stops(plain(droop_left="8.5", droop_right="11"))


def test_more_droop_takes_spacers_out_and_then_turns_rod_ends_out() -> None:
    """2.5 mm at the wheel are 1.625 mm: 1 mm of spacer is there, the other 0.625 mm are 1 1/4
    turns out."""
    answer = plain(droop_left="8", droop_right="8", wanted_droop="10.5", spacers="1")
    words = told(answer)
    assert "take 1.00 mm of spacer out from under the piston" in words
    assert "Both front rod ends: 1 1/4 turns out (longer)." in words
    assert "Leave both front rod ends" not in words
    assert values(answer)["left_droop"] == pytest.approx(10.5e-3, abs=0.02e-3)


def test_thread_that_then_holds_is_written_down_and_judged() -> None:
    """1 1/4 turns out of 0.5 mm take 0.625 mm of thread, which is 3 mm in diameter: in plastic two
    of these are the least, two and a half better (common practice, no source), in steel one."""
    typed = {"droop_left": "8", "droop_right": "8", "wanted_droop": "10.5", "spacers": "1"}
    typed |= {"engaged_left": "8", "engaged_right": "6.5", "rod_thread": "3"}
    answer = plain(**typed)
    found = values(answer)
    assert (found["left_thread"], found["right_thread"]) == pytest.approx((7.375e-3, 5.875e-3))
    assert noted(answer)["corners.front_left.engaged"] == pytest.approx(7.375e-3)
    assert noted(answer)["corners.front_right.engaged"] == pytest.approx(5.875e-3)
    assert "Front right: only" in stops(answer) and "Front left" not in stops(answer)
    assert any(
        c.text.startswith("Front left: 7.4\u00a0mm of thread holds;") for c in answer.cautions
    )
    assert "thread" not in stops(plain(**typed, material="steel"))
    assert "comes off" in stops(plain(**typed | {"engaged_right": "0.5"}))
    answer = plain(length_left="72.5", length_right="72", wanted_droop="")
    assert noted(answer)["corners.front_left.engaged"] == pytest.approx(8.5e-3), "a turn in"
    assert "corners.front_right.engaged" not in noted(answer)


def test_thread_that_nobody_knows_is_to_be_counted() -> None:
    car = forget(owned(), "corners.front_left.engaged")
    typed = {"droop_left": "8", "droop_right": "8", "wanted_droop": "10.5", "spacers": "1"}
    answer = run(FORM, typed, car).answer
    assert answer is not None
    assert "count it" in stops(answer)
    assert "corners.front_left.engaged" not in noted(answer)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"ride_height": "15"}, "the chassis meets the ground first, after 15.00 mm"),
        ({"ride_height": "40"}, "the damper stops the wheel first"),
        ({"ride_height": "40", "spring_solid": "22"}, "the coils touch first"),
    ],
)
def test_the_least_of_three_ends_the_way_up(typed: dict[str, str], says: str) -> None:
    answer = plain(**typed)
    found = values(answer)
    assert says in told(answer)
    # stroke 21.6 mm less 8.5 mm of droop at a ratio of 0.65 (definition of the motion ratio)
    assert found["damper"] == pytest.approx((21.6e-3 - 8.5e-3 * 0.65) / 0.65)
    assert ("coils touch before" in stops(answer)) == ("coils" in says)


def test_a_spacer_above_the_piston_limits_bump() -> None:
    """(21.6 - 5.525 - 18 x 0.65) mm = 4.375 mm; to 0.5 mm, 4.5 mm."""
    answer = plain(wanted_bump="18")
    assert values(answer)["above"] == pytest.approx(4.375e-3)
    assert "add 4.50 mm of spacer above the piston" in told(answer)
    assert noted(answer)["corners.front_left.stroke"] == pytest.approx(
        (21.6 - 4.5 - 1.0) * 1e-3  # and 1 mm under it: (8.5 - 7) x 0.65 = 0.975 mm
    )


def test_bump_minds_the_rod_ends_that_are_turned_for_the_droop() -> None:
    """1 1/4 turns out of 0.5 mm (see above) bring the piston 0.625 mm nearer to the cap at ride
    height: (21.6 - 8 x 0.65 - 0.625 - 20 x 0.65) mm = 2.775 mm; to 0.5 mm, 3 mm, which leaves
    12.775 mm at the shaft."""
    answer = plain(
        droop_left="8", droop_right="8", wanted_droop="10.5", spacers="1", wanted_bump="20"
    )
    found = values(answer)
    assert found["above"] == pytest.approx(2.775e-3)
    assert "add 3.00 mm of spacer above the piston" in told(answer)
    assert found["damper"] == pytest.approx(12.775e-3 / 0.65)


def test_bump_that_no_spacer_is_left_for_is_not_passed_over() -> None:
    """(21.6 - 8.5 x 0.65 - 30 x 0.65) mm = -3.4 mm, and 1 mm of spacer is above the piston."""
    some, none = plain(wanted_bump="30", spacers_above="1"), plain(wanted_bump="30")
    assert "take 1.00 mm of spacer out from above the piston. No spacer remains" in told(some)
    assert "leave the spacers above the piston. No spacer remains to take out." in told(none)
    assert "No spacer remains" not in told(plain(wanted_bump="20", wanted_droop=""))


def test_a_spacer_shortens_the_space_of_the_spring_at_full_droop() -> None:
    answer = plain(wanted_droop="7")
    assert noted(answer)["front.droop_length"] == pytest.approx(37.5e-3)
    assert noted(answer)["front.damper_length"] == pytest.approx(70.8e-3)


def test_each_damper_keeps_its_own_length() -> None:
    """Left 72.5 mm and right 72 mm: a turn of 0.5 mm makes them alike, and only the left one is
    shorter then."""
    typed = {"length_left": "72.5", "length_right": "72"}
    found = learned(FORM, typed, Car(), 0.0)
    assert found["corners.front_left.damper_length"][0] == pytest.approx(72.5e-3)
    assert found["corners.front_right.damper_length"][0] == pytest.approx(72e-3)
    answer = plain(**typed, wanted_droop="")
    own = {path: value for path, value in noted(answer).items() if path.startswith("corners.")}
    assert own["corners.front_left.damper_length"] == pytest.approx(72e-3)
    assert "corners.front_right.damper_length" not in own


def test_lengths_that_nobody_measured_are_not_called_alike() -> None:
    car = forget(forget(owned(), "corners.front_left.damper_length"), "rear.stroke")
    typed = {"droop_left": "8.5", "droop_right": "8.5", "wanted_droop": "7"}
    car = carried_out(car, assumed(FORM, typed, car, 1.0))
    reply = run(FORM, typed, car)
    assert reply.answer is None
    assert reply.open == ("length_left",)


def test_a_damper_that_would_hold_the_car_down_stops_the_work() -> None:
    assert "would be topped out" in stops(
        plain(droop_left="0.8", droop_right="6", wanted_droop="1")
    )


def test_an_arm_that_is_known_bends_the_way_from_shaft_to_wheel() -> None:
    drawn, straight = ask(wanted_droop="4"), plain(wanted_droop="4")
    assert values(drawn)["under"] != pytest.approx(values(straight)["under"], rel=1e-3)
    assert quantity(drawn, "under").u > 0


def test_beyond_the_dead_centre_there_is_a_sentence() -> None:
    found = problems(droop_left="299", droop_right="299")
    assert "dead centre" in found["droop_left"]


@settings(max_examples=60, deadline=None)
@given(droop=st.floats(6, 15), wanted=st.floats(2, 15), step=st.sampled_from(["0.2", "0.5", "1"]))
def test_the_droop_comes_within_half_a_step_of_the_one_wanted(
    droop: float, wanted: float, step: str
) -> None:
    answer = plain(
        droop_left=f"{droop:.3f}", droop_right=f"{droop:.3f}", wanted_droop=f"{wanted:.3f}",
        spacers="20", spacer_step=step,
    )  # fmt: skip
    reach = float(step) * 1e-3 / 2 / 0.65 + 1e-9
    assert abs(values(answer)["left_droop"] - round(wanted, 3) * 1e-3) <= reach
