"""Motion ratio: the linkage against trigonometry, heights against scipy, pairs against numpy."""

from functools import partial
from math import atan2, cos, hypot, sin
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from calc.forms.catalogue import BY_SLUG
from calc.model.car import Car
from calc.units import STANDARD_GRAVITY
from tests.forms.asking import answered, cautions, done, noted, quantity, replied, told, value

FORM = BY_SLUG["motion-ratio"]
ask = partial(answered, FORM)
reply = partial(replied, FORM)
MM = 1e-3
FRONT = {"pivot": (32, 30), "wheel": (98, 26), "lower": (78, 30), "upper": (54, 92)}


def length(points: dict[str, tuple[float, float]], rise: float) -> float:
    """Mount to mount in mm with the wheel up by `rise` mm: the arm turned about its pivot."""
    (px, pz), (wx, wz) = points["pivot"], points["wheel"]
    radius, angle = hypot(wx - px, wz - pz), atan2(wz - pz, wx - px)
    turn = brentq(lambda t: radius * (sin(angle + t) - sin(angle)) - rise, -1.2, 1.2, xtol=1e-15)
    lx, lz = points["lower"][0] - px, points["lower"][1] - pz
    x, z = lx * cos(turn) - lz * sin(turn) + px, lx * sin(turn) + lz * cos(turn) + pz
    return hypot(points["upper"][0] - x, points["upper"][1] - z)


def slope(points: dict[str, tuple[float, float]], rise: float) -> float:
    step = 1e-3
    return -(length(points, rise + step) - length(points, rise - step)) / (2 * step)


OUT, UP = st.integers(-4, 4), st.integers(-4, 4)


@given(lower=st.tuples(OUT, UP), upper=st.tuples(OUT, UP))
@settings(max_examples=60, deadline=None)
def test_the_ratio_over_the_travel_is_the_difference_quotient_of_the_drawing(
    lower: tuple[int, int], upper: tuple[int, int]
) -> None:
    points = {
        **FRONT,
        "lower": (78.0 + lower[0], 30.0 + lower[1]),
        "upper": (54.0 + upper[0], 92.0 + upper[1]),
    }
    typed = {f"{name}_{way}": str(x) for name in ("lower", "upper")
             for way, x in zip(("out", "up"), points[name], strict=True)}  # fmt: skip
    apart = length(points, 0.0)
    answer = ask(holes="one", damper_length=f"{apart + 5:.6f}", **typed)
    assert value(answer, "motion_ratio") == pytest.approx(slope(points, 0.0), rel=1e-6)
    assert value(answer, "change") == pytest.approx(
        10 * (slope(points, 0.01) - slope(points, -0.01)) / 0.02, rel=1e-3
    )
    for rise, ratio, *_ in answer.tables[0].rows:
        up = float(rise.replace("−", "-"))
        assert float(ratio) == pytest.approx(slope(points, up), abs=0.0015)
    ends = [float(answer.tables[0].rows[n][0].replace("−", "-")) for n in (0, -1)]
    assert length(points, ends[0]) == pytest.approx(apart + 5, abs=0.05)
    assert length(points, ends[1]) == pytest.approx(apart + 5 - 22, abs=0.05)


def stands(points: dict[str, Any], seat: float, load: float) -> float:
    """How much higher the body stands, mm: where spring and weight together have least energy."""

    def energy(rise: float) -> float:
        press = max(0.0, 40.0 - (length(points, rise) - seat))
        return 0.5 * 0.65 * press**2 - load * rise

    found = minimize_scalar(energy, bounds=(-15, 20), method="bounded", options={"xatol": 1e-10})
    return -float(found.x)


@given(out=st.integers(44, 62), up=st.integers(87, 95))
@settings(max_examples=40, deadline=None)
def test_the_other_hole_moves_the_car_as_the_energy_says_and_the_turns_bring_it_back(
    out: int, up: int
) -> None:
    made = reply(other_upper_out=str(out), other_upper_up=str(up), load_left="362",
                 load_right="362")  # fmt: skip
    there = {**FRONT, "upper": (float(out), float(up))}
    if length(there, 0.0) > 71.8:
        assert "does not reach" in made.problems["other_upper_out"]
        return
    assert made.answer is not None
    load = (0.362 - 0.070) * STANDARD_GRAVITY
    force = load / slope(FRONT, 0.0)
    seat = length(FRONT, 0.0) - (40 - force / 0.65)
    droop = next(rise for rise in np.arange(-20, 0, 0.01) if length(there, rise) <= 71.8)
    expected = min(stands(there, seat, load), -droop)
    assert value(made.answer, "unturned") == pytest.approx(expected * MM, abs=0.02 * MM)
    turns = value(made.answer, "turns")
    if -turns * 0.75 < 5:
        back = stands(there, seat + turns * 0.75, load)
        assert back == pytest.approx(0.0, abs=1e-4)


def test_rounding_leaves_no_more_than_half_a_step() -> None:
    answer = ask()
    assert abs(value(answer, "height_off")) <= 0.125 * 0.75e-3 / value(answer, "other_ratio") * 1.1


@pytest.mark.parametrize(("out", "far"), [("55", True), ("52", False)])
def test_a_collar_that_goes_far_for_a_hole_may_leave_its_thread(out: str, far: bool) -> None:
    """6 mm of thread (common practice, no source) are eight turns of 0.75 mm."""
    answer = ask(other_upper_out=out, other_upper_up="85")
    assert (abs(value(answer, "turns")) > 8) == far
    warned = "The front collar moves 9 turns: see whether the thread reaches that far."
    assert (warned in cautions(answer)) == far == ("thread reaches" in cautions(answer))


def test_damping_at_the_wheel_goes_with_the_square_and_the_oil_brings_it_back() -> None:
    answer = ask()
    gain = value(answer, "other_ratio") / value(answer, "motion_ratio")
    assert value(answer, "damping") == pytest.approx(gain**2, rel=1e-12)
    assert value(answer, "oil") * value(answer, "damping") == pytest.approx(400e-6, rel=1e-12)


def test_no_oil_is_ordered_that_is_not_poured() -> None:
    answer = ask()
    assert "leave the 400 cSt oil in" in told(answer) and "refill" not in told(answer)
    assert answer.poured == {} and "front.oil" not in noted(answer)


def test_the_tables_go_from_stop_to_stop_in_both_holes() -> None:
    """The damper travels its whole stroke of 22 mm between the first row and the last."""
    answer = ask()
    for table in answer.tables:
        first, last = (float(table.rows[n][2].replace("−", "-")) for n in (0, -1))
        assert last - first == pytest.approx(22, abs=0.1)
        assert table.rows[table.mark][0] == "0.0"
        rises = [float(row[0].replace("−", "-")) for row in table.rows]
        assert rises == sorted(set(rises))


def test_wheel_rate_holds_the_growth_of_the_ratio() -> None:
    """By hand: 0.65 N/mm x 0.65^2 = 0.2746; 4.405 N x 0.002263/mm = 0.00997."""
    answer = ask(holes="one", load_left="362", load_right="362")
    assert value(answer, "wheel_rate") == pytest.approx(274.6 + 9.97, abs=0.15)


def test_the_same_hole_changes_nothing() -> None:
    answer = ask(other_upper_out="54", other_upper_up="92")
    assert value(answer, "turns") == pytest.approx(0.0, abs=1e-9)
    assert value(answer, "unturned") == pytest.approx(0.0, abs=1e-9)
    assert value(answer, "damping") == 1.0


def pairs(wheel: list[float], damper: list[float], other: list[float]) -> dict[str, str]:
    typed = {}
    for n in range(8):
        for name, column in (("wheel", wheel), ("damper", damper), ("other", other)):
            typed[f"pairs__{n + 1}__{name}"] = f"{column[n]:g}" if n < len(column) else ""
    return typed


WHEEL = [-8.0, -4.0, 0.0, 8.0, 16.0, 24.0]
DAMPER = [-5.0, -2.4, 0.1, 5.0, 10.6, 16.2]
OTHER = [-5.2, -2.5, 0.0, 5.4, 10.7, 16.3]


def test_pairs_give_the_parabola_of_numpy() -> None:
    answer = ask(known="pairs", **pairs(WHEEL, DAMPER, OTHER))
    for column, name, change in (
        (DAMPER, "motion_ratio", "change"),
        (OTHER, "other_ratio", "other_change"),
    ):
        curve, ratio, _ = np.polyfit(WHEEL, column, 2)
        assert value(answer, name) == pytest.approx(ratio, rel=1e-9)
        assert value(answer, change) == pytest.approx(20 * curve, rel=1e-9)
    given_apart = 67.1 - 66.5
    force = value(answer, "wheel_rate")
    assert force > 0
    load = ((0.365 + 0.359) / 2 - 0.070) * STANDARD_GRAVITY
    pressed = load / value(answer, "other_ratio") - load / value(answer, "motion_ratio")
    assert value(answer, "turns") == pytest.approx((given_apart + pressed / 0.65) / 0.75, rel=1e-9)


def test_three_pairs_are_a_straight_line() -> None:
    answer = ask(known="pairs", holes="one", **pairs([-10, 0, 10], [-6.4, 0.1, 6.6], []))
    assert value(answer, "motion_ratio") == pytest.approx(0.65, rel=1e-12)
    assert value(answer, "change") == 0.0
    ratio = quantity(answer, "motion_ratio")
    assert ratio.u > 0


def test_scattered_pairs_are_doubted_more() -> None:
    smooth = ask(known="pairs", holes="one", **pairs(WHEEL, DAMPER, []))
    rough = [x + (0.6 if n % 2 else -0.6) for n, x in enumerate(DAMPER)]
    wild = ask(known="pairs", holes="one", **pairs(WHEEL, rough, []))
    doubts = [quantity(a, "motion_ratio") for a in (smooth, wild)]
    assert doubts[1].u > 3 * doubts[0].u
    assert "scatter" in doubts[1].main_label


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"damper_length": "60"}, "damper_length", "does not reach"),
        ({"damper_length": "100", "stroke": "20"}, "stroke", "does not fit in"),
        ({"upper_up": "20"}, "upper_out", "gets longer in bump"),
        ({"wheel_out": "30"}, "upper_out", "outside the arm pivot"),
        ({"other_upper_up": "110"}, "other_upper_out", "does not reach"),
        ({"damper_length": "115", "stroke": "60"}, "upper_out", "dead centre"),
        ({"upper_out": "78", "upper_up": "30"}, "upper_out", "must not lie on one point"),
    ],
)
def test_what_cannot_be_is_said(typed: dict[str, str], field: str, said: str) -> None:
    made = reply(**typed)
    assert made.answer is None
    assert said in made.problems[field]


def test_pairs_that_turn_round_are_a_problem() -> None:
    made = reply(known="pairs", holes="one", **pairs([-10, 0, 10, 20], [-6, 0, 1, -3], []))
    assert "get shorter" in made.problems["pairs.4.damper"]


def test_pairs_too_few_or_too_much_alike_are_told_as_what_they_are() -> None:
    few = reply(known="pairs", holes="one", **pairs([10, 10], [6, 6.1], []))
    assert "at least 2 different readings" in few.problems["pairs.2.damper"]
    typed = {**pairs([10, 10], [6, 7], []), "pairs__2__wheel": "10.000000000001"}
    alike = reply(known="pairs", holes="one", **typed)
    assert "too much alike" in alike.problems["pairs.2.damper"]


@pytest.mark.parametrize(("longest", "drawn"), [("75", "8.5"), ("69.5", "3.0")])
def test_spring_and_drawing_that_disagree_are_pointed_out(longest: str, drawn: str) -> None:
    """The mounts are √(24² + 62²) = 66.5 mm apart at ride height: the shaft has come in by the rest
    of the length, which is more than the spring says, or less."""
    said = cautions(ask(damper_length=longest))
    assert f"the shaft moves {drawn} mm from full droop" in said
    assert "one of the measurements is off" in said
    assert "is off" not in cautions(ask())


def test_noted_in_the_car_the_way_back_leads_where_it_came_from() -> None:
    """The holes change places in the record, so the same question asks for the turns back."""
    there = ask()
    car = done(there)
    assert (car.front.arm.upper_out, car.front.arm.other_upper_out) == (48e-3, 54e-3)
    back = ask(car)
    assert value(back, "turns") == pytest.approx(-value(there, "turns"), abs=0.13)
    car = done(back, car)
    assert car.front.arm == Car().front.arm
    assert car.corners.front_left.collar == 0.0
    assert car.front.droop_length == pytest.approx(Car().front.droop_length, abs=1e-12)


def test_the_arm_is_drawn_with_both_holes() -> None:
    drawn = ask().drawings[0]
    assert {tag.text for tag in drawn.tags} >= {"this hole", "other hole", "full droop"}
    rings = {(round(ring.x, 6), round(ring.y, 6)) for ring in drawn.rings}
    assert {(0.054, 0.092), (0.048, 0.090), (0.078, 0.030)} <= rings
    assert ask(known="pairs").drawings[0].title.startswith("Your front damper")


@pytest.mark.parametrize(
    "typed",
    [
        {"spring_rate": "1.57947", "droop_length": "500", "turn_step": "1"},
        {"spring_rate": "200", "droop_length": "500", "pitch": "1.2557", "load_left": "5.285"},
        {
            "known": "pairs", "apart": "38.0037", "other_apart": "61.1765",
            "droop_length": "378.7346", "load_right": "13314.261",
        },
    ],
)  # fmt: skip
def test_a_spring_that_the_turns_bind_is_said(typed: dict[str, str]) -> None:
    """The damper is closed by the load; a step of the tool is more than the coils have room for."""
    made = reply(spring_free="40", spring_solid="39.995", **typed)
    assert made.answer is None
    assert "coils touch already" in made.problems["spring_rate"]


def test_a_slip_among_the_pairs_leaves_no_rate_below_nothing() -> None:
    """The fifth pair read as half as much again: the scatter is wide, and the interval ends where a
    rate must."""
    slip = [-4.4, *DAMPER[1:4], 15.4, DAMPER[5]]
    rate = quantity(ask(known="pairs", holes="one", **pairs(WHEEL, slip, [])), "wheel_rate")
    assert rate.value < 2 * rate.u
    assert rate.ends is not None and rate.ends[0] == pytest.approx(rate.value)
