"""The collar form as a whole: by hand, against statics in numpy, on and off the droop stops."""

import itertools
import math
from functools import partial

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from calc.forms.catalogue import BY_SLUG
from calc.forms.collar_turns.measured import measured
from calc.forms.entered import with_growths
from calc.kept.deeds import carried_out
from calc.kept.doing import assumed
from calc.model.car import empty
from calc.model.corners import CORNERS
from calc.physics.chassis import turn_collars
from calc.physics.turns import Wish, equations
from calc.replying.reading import read, run
from calc.units import STANDARD_GRAVITY
from tests.forms.asking import UNDRAWN, answered, cautions, noted, quantity, refused, stops, value

FORM = BY_SLUG["collar-turns"]
ask = partial(answered, FORM, UNDRAWN)
# The demo car for numpy, corner by corner: kg on the scales; how far each goes with the body as it
# rises by 1, pitches and rolls, by mm ahead of the rear axle and to the left; N/m at the wheel.
ON_SCALES = np.array([0.365, 0.359, 0.462, 0.470])
ARMS = np.array([[1, 1, 1, 1], [285, 285, 0, 0], [105, -105, 106, -106]])
AT_WHEEL = np.array([650 * 0.65**2] * 2 + [500 * 0.62**2] * 2)


def test_turns_for_a_height_by_hand() -> None:
    """n = rise x motion ratio / pitch (virtual work): 1.5 mm x 0.65 / 0.75 mm = 1.3 turns, which
    a hand sets as 1 1/4 (collars are set in quarter turns: common practice, no source)."""
    made = ask(ride_height="22", wanted_height="23.5", pitch="0.75", motion_ratio="0.65")
    assert value(made, "turns") == pytest.approx(1.3)
    assert made.steps[0].text == "Both front collars: 1\u00a01/4\u00a0turns down."
    assert value(made, "height_after") == pytest.approx(22e-3 + 1.25 * 0.75e-3 / 0.65)
    assert made.steps[0].gives.startswith("Clockwise")


def test_a_left_hand_thread_turns_the_other_way() -> None:
    assert ask(thread_hand="left").steps[0].gives.startswith("Anticlockwise")


def test_a_point_ahead_of_the_axle_moves_more_than_the_axle() -> None:
    """The rear axle stands still: similar triangles, (wheelbase + reach) / wheelbase."""
    made = ask(reach="28.5", wheelbase="285")
    assert value(made, "turns") == pytest.approx(1.3 / 1.1)


def test_pitch_and_ratio_alone_do_as_well_as_the_printed_chart() -> None:
    """By hand: turns = 2 mm x 0.7 / 1 mm, off by a gauge that reads to 0.5 mm (0.5/sqrt(12)), by
    where in its band friction leaves the end (0.4 mm, known to 1.5/sqrt(12)), by the place of the
    gauge (10 mm of 320 mm of wheelbase) and by the ratio (its 3 readings of a ruler: 2 %)."""
    known = empty("Mine")
    typed = {"ride_height": "20", "wanted_height": "22", "pitch": "1", "motion_ratio": "0.7"}
    known = carried_out(known, assumed(FORM, typed, known, when=0.0))
    made = answered(FORM, known, **typed)
    gauge, friction = 0.5 / 12**0.5, math.hypot(0.4, 1.5 / 12**0.5) / 12**0.5
    by_hand = math.hypot(0.7 * math.hypot(gauge, friction), 1.4 * math.hypot(10 / 320, 0.02))
    found = quantity(made, "turns")
    assert found.u == pytest.approx(by_hand, rel=0.03)
    assert "Not known at the front: load on the scale; spring rate; " in cautions(made)
    assert "droop stop is left out" in cautions(made) and stops(made) == ""
    assert "in line with the front axle" in made.steps[0].gives
    elsewhere = answered(FORM, known, **typed, reach="32")
    assert value(elsewhere, "turns") == pytest.approx(1.4 / 1.1)
    assert "at the front measuring point" in elsewhere.steps[0].gives
    sprung = answered(
        FORM, known, **typed, spring_rate="0.5", spring_free="60", droop_length="52",
        load_left="400", load_right="400",
    )  # fmt: skip
    assert "droop stop is left out" not in cautions(sprung)
    assert quantity(sprung, "turns_left").value < 2


def test_height_from_turns_is_the_inverse() -> None:
    made = ask(ask="height", turns="-2", ride_height="22")
    assert value(made, "height_after") == pytest.approx(22e-3 - 2 * 0.75e-3 / 0.65)


def test_a_car_on_its_droop_stops_is_told_so_and_when_it_would_lift() -> None:
    """By hand: the load at the spring is (0.362 - 0.070) kg x g / 0.65 = 4.405 N, which presses
    0.65 N/mm by 6.78 mm; 10 mm of preload are 3.22 mm or 4.3 turns of 0.75 mm more than that."""
    on_stop = {"spring_free": "48.5", "droop_length": "38.5"}
    made = ask(**on_stop)
    assert "will not lift it" in stops(made)
    assert "4\u00a01/2\u00a0turns up" in stops(made)
    assert made.steps[0].text == "Leave both front collars as they are."
    assert value(made, "turns_left") == pytest.approx(-4.30, abs=0.005)
    raised = ask(ask="height", turns="3", **on_stop)
    assert value(raised, "height_after") == pytest.approx(22e-3)
    lowered = ask(wanted_height="21", **on_stop)
    assert value(lowered, "turns") == pytest.approx(-4.30 - 0.65 / 0.75, abs=0.01)


def test_a_height_beyond_the_droop_stops_is_not_promised() -> None:
    made = ask(wanted_height="35")
    assert "cannot reach" in stops(made)
    assert value(made, "height_after") < 31e-3


def test_both_ends_minding_points_between_the_axles_against_numpy() -> None:
    typed = {"end.front.reach": "-20", "end.rear.reach": "15", "end.front.wanted_height": "24"}
    made = ask(scope="both", **typed)
    base = 285.0
    along = [base - 20, -15.0]
    lifts = [0.75 / 0.65, 0.75 / 0.62]
    matrix = np.array([[x / base * lifts[0], (1 - x / base) * lifts[1]] for x in along])
    turns = np.linalg.solve(matrix, [24 - 22, 24 - 23])
    assert value(made, "front_turns") == pytest.approx(turns[0])
    assert value(made, "rear_turns") == pytest.approx(turns[1])


def test_four_corners_keep_the_weight_and_its_place_against_numpy() -> None:
    typed = {f"corner.{name}.turns": n for name, n in [("front_left", "2"), ("rear_right", "-1")]}
    made = ask(scope="corners", ask="height", **typed)
    before = ON_SCALES * 9.80665
    after = np.array([write.value for write in made.writes if write.path.endswith("load")])
    after = after * 9.80665
    _, x, y = ARMS
    assert after.sum() == pytest.approx(before.sum())
    assert (after * x).sum() == pytest.approx((before * x).sum())
    assert (after * y).sum() == pytest.approx((before * y).sum(), abs=1e-6)
    # The least energy of four springs under these turns, solved by numpy alone.
    seat = np.array([2, 0, 0, -1]) * np.array([0.75e-3 / 0.65] * 2 + [0.75e-3 / 0.62] * 2)
    body = np.linalg.solve((ARMS * AT_WHEEL) @ ARMS.T, (ARMS * AT_WHEEL) @ seat)
    assert after - before == pytest.approx(AT_WHEEL * (seat - ARMS.T @ body), abs=1e-6)


@pytest.mark.parametrize("cross", ["50", "48.5", ""])
def test_the_quarter_turns_are_as_good_as_trying_them_all(cross: str) -> None:
    """Every set within two turns of each collar (17^4), tried in numpy by the same wish."""
    typed = {"scope": "corners", "cross_wanted": cross}
    wanted = {
        "front_left": "22.6",
        "front_right": "22.3",
        "rear_left": "23.9",
        "rear_right": "23.4",
    }
    typed |= {f"corner.{name}.wanted": height for name, height in wanted.items()}
    made = ask(**typed)
    now = UNDRAWN.corners
    set_to = {w.path.split(".")[1]: w.value for w in made.writes if w.path.endswith("collar")}
    turns = np.array([set_to.get(name, 0.0) for name in wanted])
    assert max(abs(turns)) <= 2 and now.front_left.collar == 0
    given, _ = read(FORM, typed, UNDRAWN)
    now = measured(with_growths(given))
    car = now.car
    pairs = zip(wanted.values(), now.heights, strict=True)
    rises = tuple(float(height) / 1e3 - was for height, was in pairs)
    wish = Wish(now.points, rises, cross_weight=given.cross_wanted)
    rows, target = (
        np.array(part) for part in equations(car.corners, wish, loads=car.readings, step=1)
    )
    grid = np.array(list(itertools.product(np.arange(-2, 2.1, 0.25), repeat=4)))
    misfits = ((grid @ rows.T - target) ** 2).sum(axis=1)
    mine = ((rows @ turns - target) ** 2).sum()
    assert mine <= misfits.min() + 0.05 + 1e-9  # near ties go to the fewer turns
    change = turn_collars(car.corners, list(turns))
    after = [h + change.rise(p) for h, p in zip(now.heights, now.points, strict=True)]
    shown = [value(made, f"{name}_height_after") for name in wanted]
    assert shown == pytest.approx(after)


def test_the_spring_length_noted_is_the_one_entered_less_the_turns() -> None:
    """By hand: 38.0 mm less 1 1/4 turns of 0.75 mm is 37.0625 mm, whatever spring is in."""
    made = ask(spring_free="41", droop_length="38")
    written = noted(made)
    assert written["front.droop_length"] == pytest.approx(37.0625e-3)


@pytest.mark.parametrize("scope", ["axle", "corners"])
def test_a_chassis_does_not_sink_into_the_ground(scope: str) -> None:
    """A turn up lowers the car by 0.75 mm / 0.65 (virtual work): from 22 mm, 19 leave 0.08 mm."""
    for turns, lies in (("-19", False), ("-19.25", True)):
        typed = {"turns": turns} if scope == "axle" else {
            f"corner.{corner}.turns": turns for corner in CORNERS[:2]
        }  # fmt: skip
        made = ask(scope=scope, ask="height", **typed)
        assert ("would then lie on the ground" in stops(made)) == lies


def test_a_spring_that_comes_loose_is_warned_of() -> None:
    """1.5 mm of preload is two turns of 0.75 mm: the third leaves a gap of 0.75 mm."""
    loose = ask(ask="height", turns="-3")
    assert any("loose at full droop by 0.75\u00a0mm" in c.text for c in loose.cautions)
    assert not any("loose" in c.text for c in ask(ask="height", turns="-2").cautions)
    typed = {"corner.front_left.turns": "-3", "corner.front_right.turns": "1"}
    one = cautions(ask(scope="corners", ask="height", **typed))
    assert "The front left spring is loose at full droop by 0.75 mm" in one
    assert "front right spring" not in one and "rear" not in one


@given(
    turns=st.integers(-24, 4).map(lambda quarters: quarters / 4),
    stroke=st.floats(4.0, 12.0),
)
@settings(max_examples=40, deadline=None)
def test_an_end_comes_to_rest_between_its_stops_where_its_energy_is_least(
    turns: float, stroke: float
) -> None:
    """By scipy, in mm and N: a spring between collar and cup, the load, the shaft between fully
    out and fully in."""
    force = (0.362 - 0.070) * STANDARD_GRAVITY / 0.65

    def rests(preload: float) -> float:
        def energy(x: float) -> float:
            return 0.325 * max(preload + x, 0.0) ** 2 - force * x

        options = {"xatol": 1e-9}
        found = minimize_scalar(energy, bounds=(0, stroke), method="bounded", options=options)
        return float(found.x)

    was, then = rests(1.5), rests(1.5 + 0.75 * turns)
    answer = ask(scope="axle", ask="height", turns=f"{turns}", stroke=f"{stroke}")
    expected = 22 + (was - then) / 0.65
    assert value(answer, "height_after") == pytest.approx(expected * 1e-3, abs=1e-8)
    closed = max(was, then)
    assume(not stroke - 1e-3 < closed < stroke - 1e-5)
    assert ("closes the front damper fully" in stops(answer)) == (closed > stroke - 1e-4)


def test_a_corner_lowered_until_its_damper_is_fully_in_is_told_so() -> None:
    """5.28 mm of shaft (4.38 N on 0.65 N/mm less 1.5 mm of preload), and 3 mm more by four turns,
    are more than 8 mm."""
    typed = {"scope": "corners", "ask": "height", "corner__front_left__turns": "-4",
             "corner__front_right__turns": "-4"}  # fmt: skip
    short, long = (ask(**typed, front__stroke=stroke) for stroke in ("8", "8.6"))
    for corner in ("front left", "front right"):
        assert f"closes the {corner} damper fully" in stops(short)
    assert "damper fully" not in stops(long)


def test_an_end_held_short_by_the_other_is_not_said_to_be_out_of_reach() -> None:
    """The rear cannot rise 20 mm; the front, which could, is not blamed for it."""
    typed = {"end.rear.wanted_height": "43", "end.front.reach": "-100"}
    made = ask(scope="both", **typed)
    assert "The rear cannot reach" in stops(made)
    assert "The front cannot reach" not in stops(made)


def test_a_corner_on_its_droop_stop_is_told_so_and_when_it_would_lift() -> None:
    """The front as by one end: 4.3 turns of 0.75 mm of preload more than the load presses.
    Front left alone is 3 g heavier than the mean, which is 0.09 turns: 4.21, by hand 4 1/4."""
    typed = {"end.front.spring_free": "48.5", "corner.front_left.turns": "3"}
    made = ask(scope="corners", ask="height", **typed)
    assert "The front left is topped out (on its droop stop)" in stops(made)
    assert "4\u00a01/4\u00a0turns up" in stops(made)
    assert value(made, "front_left_height_after") == pytest.approx(22e-3, abs=1e-5)


def test_four_corners_with_one_on_its_stop_still_balance_against_numpy() -> None:
    typed = {"end.front.spring_free": "43.7", "corner.front_left.turns": "4"}
    made = ask(scope="corners", ask="height", **typed)
    assert "The front left would then be topped out (on its droop stop)" in stops(made)
    after = np.array([write.value for write in made.writes if write.path.endswith("load")])
    assert ARMS @ after == pytest.approx(ARMS @ ON_SCALES, abs=1e-6)
    # Held by the other three: a fourth equation no longer shares the load out by stiffness.
    free = ask(scope="corners", ask="height", **{"corner.front_left.turns": "4"})
    alone = value(made, "front_left_height_after")
    assert 22e-3 < alone < value(free, "front_left_height_after")


def test_heights_that_cannot_all_be_reached_are_named() -> None:
    """Four heights off one plane by 1 mm each: whatever is turned, the body stays flat."""
    wanted = {"front_left": "24.5", "front_right": "22.5", "rear_left": "23", "rear_right": "25"}
    made = ask(
        scope="corners", **{f"corner.{name}.wanted": height for name, height in wanted.items()}
    )
    assert "the rear right 1.00\u00a0mm too low" in stops(made)
    far = ask(scope="corners", **{f"corner.{name}.wanted": "60" for name in wanted})
    assert "cannot all be reached" in stops(far)
    assert "cannot" not in stops(ask(scope="corners"))


def test_measuring_points_on_one_line_across_say_nothing_and_are_refused() -> None:
    typed = {"scope": "corners", "end.front.reach": "-285"}
    assert set(run(FORM, typed, UNDRAWN).problems) == {"end.front.reach"}


def test_heights_off_one_plane_are_told_and_others_are_not() -> None:
    """One corner of a rectangle 4 mm too high is 1 mm off the plane at each, by hand; the tracks of
    the demo car differ by 1 %."""
    flat = ask(scope="corners")
    assert not [caution for caution in flat.cautions if "twisted" in caution.text]
    raised = {"corner.front_left.height": "26", "corner.front_right.height": "22"}
    texts = [caution.text for caution in ask(scope="corners", **raised).cautions]
    (told,) = [text for text in texts if "twisted" in text]
    assert float(told.partition("off one plane by ")[2][:4]) == pytest.approx(1.0, abs=0.02)


def test_friction_is_part_of_the_doubt_and_hides_a_small_turn() -> None:
    """Two places in the band, each anywhere in it: u = band / root 12 each (JCGM 100:2008, 4.3.7),
    beside the reading of the gauge."""
    typed = {"friction": "0.9 mm ± 0"}
    sure = quantity(ask(friction="0 mm ± 0"), "height_after")
    rough = quantity(ask(**typed), "height_after")
    assert rough.u**2 - sure.u**2 == pytest.approx(2 * (0.9e-3) ** 2 / 12, rel=1e-6)
    assert "friction" not in cautions(ask(**typed))
    assert "within ± 0.45 mm" in cautions(ask(**typed, wanted_height="22.3 mm"))
    given = {"scope": "corners", "ask": "height", "corner.rear_left.turns": "0.1"}
    told = cautions(ask(**given, **{"corner.front_left.turns": "2"}))
    assert "rear left 0.1" in told
    assert "front left" not in told


def test_friction_makes_the_cross_weight_doubtful_against_numpy() -> None:
    """Each corner rests twice anywhere in its band, u = band / root 12 each (JCGM 100:2008, 4.3.7);
    the body on four springs passes that on."""
    typed = {"scope": "corners", "ask": "height", "corner.front_left.turns": "2"}
    sure, rough = (
        quantity(
            ask(**typed, front__friction=f"{band} mm ± 0", rear__friction=f"{band} mm ± 0"),
            "cross_weight_after",
        )
        for band in ("0", "0.9")
    )
    body = np.linalg.solve((ARMS * AT_WHEEL) @ ARMS.T, ARMS * AT_WHEEL)
    loads = AT_WHEEL[:, None] * (np.eye(4) - ARMS.T @ body)  # N, by m of each corner
    cross = (loads[0] + loads[3]) / (ON_SCALES.sum() * 9.80665)
    each = math.sqrt(2) * 0.9e-3 / math.sqrt(12)
    assert rough.u**2 - sure.u**2 == pytest.approx((each * cross) @ (each * cross), rel=1e-3)


def test_no_collar_is_turned_against_its_stop_and_the_others_do_what_they_can() -> None:
    """Front springs so long that a quarter turn down is all they have: the plan is as good as the
    best of all plans of quarter turns near it that leave every corner on its spring."""
    typed = {"scope": "corners", "end.front.droop_length": "33.5"}
    answer = ask(**typed)
    assert "would then sit" not in stops(answer) and "cannot all be reached" in stops(answer)
    written = noted(answer)
    for side in ("left", "right"):
        assert written[f"corners.front_{side}.collar"] <= 0.25 + 1e-9
    assert written["corners.rear_left.collar"] >= 0.75


@pytest.mark.parametrize(
    ("typed", "at"),
    [
        ({"ask": "height", "turns": "50"}, "turns"),
        ({"ride_height": "60", "wanted_height": "20"}, "wanted_height"),
        ({"scope": "both", "end.front.ride_height": "60", "end.front.wanted_height": "20"},
         "end.front.wanted_height"),
        ({"scope": "corners", "ask": "height", "corner.rear_left.turns": "50"},
         "corner.rear_left.turns"),
    ],
)  # fmt: skip
def test_no_collar_goes_further_than_a_thread(typed: dict[str, str], at: str) -> None:
    assert "no thread goes that far" in refused(FORM, UNDRAWN, **typed)[at]
