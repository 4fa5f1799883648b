"""Corner loads: shares are exact, and a body on four springs confirms the cross weight."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from calc.answering.answer import Answer
from calc.forms.catalogue import BY_SLUG
from calc.model.car import Car, put
from calc.model.corners import ENDS
from calc.replying.reading import run
from tests.forms.asking import UNDRAWN, answered, cautions, noted, quantity, stops, value
from tests.forms.four_corners import axle_of

FORM = BY_SLUG["corner-loads"]
KEYS = ("front_left", "front_right", "rear_left", "rear_right")
LOADS = st.tuples(*[st.integers(330, 520)] * 4)


def ask(
    loads: tuple[int, ...] = (365, 359, 462, 470), car: Car = UNDRAWN, /, **typed: str
) -> Answer:
    entered = {f"corner.{key}.load": str(g) for key, g in zip(KEYS, loads, strict=True)}
    return answered(FORM, car, **{**entered, **typed})


def turns_of(answer: Answer) -> list[float]:
    written = noted(answer)
    return [written.get(f"corners.{key}.collar", 0.0) for key in KEYS]


ADDS_CROSS = {"front": "left down, right up", "rear": "right down, left up"}


def down(answer: Answer, name: str, way: str) -> float:
    """Exact turns that way; the label says which way they are."""
    turns = quantity(answer, name)
    return turns.value if turns.label.endswith(way) else -turns.value


@given(loads=LOADS)
@settings(max_examples=100, deadline=None)
def test_totals_and_shares_are_exact(loads: tuple[int, ...]) -> None:
    answer = ask(loads)
    fl, fr, rl, rr = loads
    total = sum(loads)
    assert value(answer, "mass") == pytest.approx(total / 1e3, rel=1e-15)
    for name, part in (
        ("front_share", fl + fr),
        ("left_share", fl + rl),
        ("cross_weight", fl + rr),
    ):
        assert value(answer, name) == pytest.approx(float(Fraction(part, total)), rel=1e-14)


def body(turns: list[float], car: Car = UNDRAWN) -> tuple[list[float], list[float]]:
    """Changes of load, N, and of height, m, by numpy: four springs, one rigid body."""
    arms, rates, lifts = [], [], []
    for key in KEYS:
        axle = axle_of(car, key)
        side = 1 if key.endswith("left") else -1
        arms.append([1.0, 0.285 if key.startswith("front") else 0.0, side * axle.track / 2])
        rates.append(axle.spring_rate * axle.motion_ratio**2)
        lifts.append(axle.pitch / axle.motion_ratio)
    a, k = np.array(arms), np.diag(rates)
    s = np.array(lifts) * np.array(turns)
    q = np.linalg.solve(a.T @ k @ a, a.T @ k @ s)
    return list(k @ (s - a @ q)), list(a @ q)


@given(loads=LOADS, where=st.sampled_from(["all", "front", "rear"]), target=st.floats(0.47, 0.53))
@settings(max_examples=150, deadline=None)
def test_the_opposite_turns_hit_the_cross_weight_and_leave_the_height(
    loads: tuple[int, ...], where: str, target: float
) -> None:
    answer = ask(loads, where=where, cross_wanted=f"{100 * target:.6f} %")
    assume(not any(caution.stop for caution in answer.cautions))
    turns = turns_of(answer)
    moved, heights = body(turns)
    total = sum(loads) / 1e3 * 9.80665
    cross = (loads[0] + loads[3]) / sum(loads) + (moved[0] + moved[3]) / total
    assert value(answer, "cross_after") == pytest.approx(cross, abs=1e-6)
    pattern = {"all": [1, -1, -1, 1], "front": [1, -1, 0, 0], "rear": [0, 0, -1, 1]}[where]
    one, _ = body([0.25 * n for n in pattern])
    assert abs(cross - target) <= abs(one[0] + one[3]) / total / 2 * (1 + 1e-6)
    assert abs(sum(heights) / 4) <= 0.05e-3
    assert abs(value(answer, "mean_height")) <= 0.05e-3
    assert turns[0] == -turns[1] and turns[2] == -turns[3]
    assert all(n == 0 for n in turns[2:]) or where != "front"
    assert all(n == 0 for n in turns[:2]) or where != "rear"


def test_the_exact_turns_move_no_corner() -> None:
    answer = ask((400, 340, 430, 486), cross_wanted="50 %")
    front, rear = (down(answer, f"{end}_turns", way) for end, way in ADDS_CROSS.items())
    moved, heights = body([front, -front, -rear, rear])
    assert max(map(abs, heights)) < 1e-9
    total = 1.656 * 9.80665
    assert (400 + 486) / 1656 + (moved[0] + moved[3]) / total == pytest.approx(0.5, abs=1e-7)


@pytest.mark.parametrize(("where", "pair"), [("front", (1, -1, 0, 0)), ("rear", (0, 0, -1, 1))])
def test_the_exact_turns_of_one_end_hit_the_cross_weight(where: str, pair: tuple[int, ...]) -> None:
    answer = ask((400, 340, 430, 486), where=where, cross_wanted="50 %")
    turns = down(answer, f"{where}_turns", ADDS_CROSS[where])
    moved, _ = body([turns * each for each in pair])
    total = 1.656 * 9.80665
    assert (400 + 486) / 1656 + (moved[0] + moved[3]) / total == pytest.approx(0.5, abs=1e-7)


@given(loads=LOADS, where=st.sampled_from(["front", "rear"]))
@settings(max_examples=40, deadline=None)
def test_the_exact_turns_say_their_way_in_words_and_not_by_a_sign(
    loads: tuple[int, ...], where: str
) -> None:
    """More cross weight is wanted below 50 %: front left or rear right down."""
    answer = ask(loads, where=where, cross_wanted="50 %")
    assume(value(answer, "cross_weight") != 0.5)
    turns = quantity(answer, f"{where}_turns")
    adds = value(answer, "cross_weight") < 0.5
    assert turns.value >= 0
    assert turns.label.endswith(ADDS_CROSS[where]) == adds


def test_a_car_that_is_even_is_left_alone() -> None:
    answer = ask((360, 360, 466, 466))
    assert answer.steps[0].text.startswith("Leave all four")
    assert answer.writes == ()
    assert value(answer, "cross_weight") == 0.5


LIGHT = (355, 333, 338, 354)


def touring(motion_ratio: float, unsprung: float) -> Car:
    """A touring car with 1.5 mm of preload on short, stiff springs; unsprung mass in kg."""
    car = UNDRAWN
    for end in ENDS:
        for name, number in (
            ("motion_ratio", motion_ratio), ("unsprung", unsprung), ("spring_rate", 2600.0),
            ("spring_free", 20e-3), ("droop_length", 18.5e-3),
        ):  # fmt: skip
            car = put(car, f"{end}.{name}", number)
    return car


def rooms(car: Car, turns: list[float]) -> list[float]:
    """By hand, N at each wheel: what it carries more than the preload holds up."""
    moved, _ = body(turns, car)
    return [
        (grams / 1e3 - axle.unsprung) * 9.80665 + more
        - axle.spring_rate * (20e-3 - axle.droop_length + n * axle.pitch) * axle.motion_ratio
        for grams, more, n, axle in zip(
            LIGHT, moved, turns, (axle_of(car, key) for key in KEYS), strict=True
        )
    ]  # fmt: skip


def test_a_car_that_is_topped_out_is_backed_off_before_it_is_weighed() -> None:
    car = touring(0.75, 60e-3)
    assert max(rooms(car, [0.0] * 4)) < 0
    answer = ask(LIGHT, car)
    first, *collars, last = answer.steps
    assert first.text == (
        "Topped out (on the droop stop): turn the collars up there first, then weigh."
    )
    assert len(collars) == 4 and all(step.way == "up" for step in collars)
    assert last.text == "Bounce the car and weigh it again."
    assert "%" not in last.gives and "lower" in last.gives
    assert stops(answer) == ""
    assert min(rooms(car, turns_of(answer))) > 0


@pytest.mark.parametrize("where", ["all", "front", "rear"])
def test_opposite_turns_take_no_corner_to_its_droop_stop(where: str) -> None:
    """One corner nearly carries less than its preload; both collars of its end come up for it."""
    car = touring(0.72, 45e-3)
    assert 0 < min(rooms(car, [0.0] * 4)) < 0.02
    answer = ask(LIGHT, car, where=where)
    turns = turns_of(answer)
    assert stops(answer) == ""
    assert sum(turns) < 0
    assert min(rooms(car, turns)) > 0
    moved, _ = body(turns, car)
    cross = (355 + 354) / 1380 + (moved[0] + moved[3]) / (1.38 * 9.80665)
    assert value(answer, "cross_after") == pytest.approx(cross, abs=1e-6)
    assert abs(cross - 0.5) < abs((355 + 354) / 1380 - 0.5)
    assert "so that no damper comes to its droop stop" in answer.steps[-1].gives


def test_weight_on_one_side_cannot_be_turned_away() -> None:
    answer = ask((420, 340, 520, 440))
    first = answer.steps[0]
    assert first.text == "Move the battery or the ballast first."
    assert first.gives.endswith("no collar changes that.")


def test_a_target_out_of_reach_is_a_problem() -> None:
    reply = run(FORM, {"cross_wanted": "75 %", "end.front.pitch": "0.1", "end.rear.pitch": "0.1"},
                UNDRAWN)  # fmt: skip
    assert "out of reach" in reply.problems["cross_wanted"]


def test_the_doubt_of_the_scales_reaches_the_shares() -> None:
    """By hand: u of a reading 1/sqrt(12) g; by each of four readings."""
    answer = ask()
    u, total = 1e-3 / 12**0.5, 1.656
    front = (0.365 + 0.359) / total
    by_hand = u / total * (2 * (1 - front) ** 2 + 2 * front**2) ** 0.5
    doubt = quantity(answer, "front_share").u
    assert doubt == pytest.approx(by_hand, rel=1e-3)


def test_a_car_heavier_on_one_side_is_told_how_much_of_it() -> None:
    """900 of 1680 g on the left, by hand 53.6 %; and the same the other way round."""
    for side, loads in (("left", (400, 340, 500, 440)), ("right", (340, 400, 440, 500))):
        says = ask(loads).steps[0].gives
        assert says.startswith(f"53.6% of the weight is on the {side}:")


def test_each_collar_has_its_turns_and_which_way_that_is() -> None:
    """At the rear alone: left up and right down, or the other way round."""
    steps = ask(where="rear").steps[1:3]
    assert [step.text.replace("\u00a0", " ") for step in steps] == [
        "Rear left collar: 1/4 turn down.",
        "Rear right collar: 1/4 turn up.",
    ]
    assert [step.gives for step in steps] == [
        "Clockwise, seen from the cap end (tighter; car up).",
        "Anticlockwise, seen from the cap end (looser; car down).",
    ]


def test_a_collar_far_up_leaves_its_spring_loose_and_may_leave_its_thread() -> None:
    """8 1/4 turns of 0.75 mm, less 1.5 mm of preload; 6 mm of thread (common practice, no source)
    are eight turns."""
    answer = ask(where="front", cross_wanted="63.6 %")
    told = cautions(answer)
    assert turns_of(answer)[1] == -8.25
    assert "The front right spring is loose at full droop by 4.69 mm" in told
    assert "The front right collar moves" in told and "see whether the thread reaches" in told
    near = cautions(ask(where="front", cross_wanted="50 %"))
    assert "loose" not in near and "thread" not in near
