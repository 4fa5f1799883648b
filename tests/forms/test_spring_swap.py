"""Spring swap: the four-corner model confirms the height, and the stops are minded."""

from dataclasses import replace
from functools import partial

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from calc.answering.answer import Answer
from calc.forms.catalogue import BY_SLUG
from calc.forms.spring_swap.table import car_seat
from calc.model.corners import End
from calc.physics.spring import Spring
from calc.replying.reading import run
from calc.units import entry_text
from tests.forms.asking import UNDRAWN, answered, cautions, noted, stops, value
from tests.forms.four_corners import (
    heights,
    loads,
    pair_curve,
    respring,
    rest,
    spring_curve,
    standing,
)
from tests.springs import pair_force

FORM = BY_SLUG["spring-swap"]
ask = partial(answered, FORM, UNDRAWN)
STEP = 0.25


def turned(answer: Answer, axle: str) -> tuple[float, float]:
    """Turns of the left and of the right collar, from what the car would be noted as."""
    written = noted(answer)
    left, right = (written.get(f"corners.{axle}_{side}.collar", 0.0) for side in ("left", "right"))
    return left, right


def typed_spring(rate: float, free: float, solid: float) -> dict[str, str]:
    return {
        "new_rate": entry_text(rate, "rate"),
        "new_free": entry_text(free, "length"),
        "new_solid": entry_text(solid, "length"),
    }


@given(
    axle=st.sampled_from(["front", "rear"]),
    rate=st.integers(300, 1500),
    free=st.integers(30, 75),
    load=st.integers(250, 700),
    other=st.integers(250, 700),
)
@settings(max_examples=120, deadline=None)
def test_the_four_corner_model_gives_the_old_height_within_the_rounding(
    axle: str, rate: int, free: int, load: int, other: int
) -> None:
    """Springs of any rate and length, loads unequal left and right; a body on four springs."""
    car = UNDRAWN
    sides = {f"{axle}_left": load / 1e3, f"{axle}_right": other / 1e3}
    corners = replace(
        car.corners,
        **{key: replace(getattr(car.corners, key), load=mass) for key, mass in sides.items()},
    )
    end = getattr(car, axle)
    before = replace(car, corners=corners)
    typed = {"axle": axle, "load_left": str(load), "load_right": str(other)}
    reply = run(FORM, {**typed, **typed_spring(rate, free / 1e3, 8e-3)}, UNDRAWN)
    assume(reply.answer is not None)
    assert reply.answer is not None
    answer = reply.answer
    assume("droop stop" not in stops(answer))
    swapped = replace(end, spring_rate=float(rate), spring_free=free / 1e3, spring_solid=8e-3)
    after = replace(before, **{axle: swapped})
    lengths = [before.front.droop_length] * 2 + [before.rear.droop_length] * 2
    first = 0 if axle == "front" else 2
    for place, turns in enumerate(turned(answer, axle)):
        lengths[first + place] -= turns * end.pitch
    # A corner that comes to rest on its stop is another model; the form says so itself.
    legs = standing(before)
    assume(not any(respring(legs, before, before, [before.front.droop_length] * 2
                            + [before.rear.droop_length] * 2).on_stop))  # fmt: skip
    moved = respring(legs, before, after, lengths)
    assume(not any(moved.on_stop))
    allowed = STEP / 2 * end.pitch / end.motion_ratio
    assert max(map(abs, heights(moved, before))) <= allowed * (1 + 1e-9) + 1e-9


@given(
    soft=st.integers(150, 600),
    hard=st.integers(700, 3000),
    short=st.integers(4, 20),
    long=st.integers(15, 45),
)
@settings(max_examples=80, deadline=None)
def test_two_in_series_keep_the_height_too(soft: int, hard: int, short: int, long: int) -> None:
    """The progressive pair as it is, its soft spring free or bound: scipy finds the rest."""
    one, other = Spring(float(soft), short / 1e3), Spring(float(hard), long / 1e3)
    car = UNDRAWN
    axle = car.front
    typed = {
        "new_is": "pair",
        **typed_spring(soft, short / 1e3 + 5e-3, 5e-3),
        "with_rate": entry_text(float(hard), "rate"),
        "with_free": entry_text(long / 1e3 + 8e-3, "length"),
        "with_solid": "8",
    }
    reply = run(FORM, typed, car)
    assume(reply.answer is not None)
    assert reply.answer is not None
    answer = reply.answer
    assume(not stops(answer))
    held, rear = loads(car), car.rear
    free = short / 1e3 + long / 1e3 + 13e-3
    curves = [
        pair_curve(axle, load, (one, other), free - axle.droop_length + turns * axle.pitch)
        for load, turns in zip(held[:2], turned(answer, "front"), strict=True)
    ]
    gap = rear.spring_free - rear.droop_length
    curves += [spring_curve(rear, load, rear.spring_rate, gap) for load in held[2:]]
    rises = rest(car, curves)
    allowed = STEP / 2 * axle.pitch / axle.motion_ratio
    assert max(map(abs, rises)) <= allowed * (1 + 1e-6) + 1e-8


def test_the_turns_are_what_a_ruler_says() -> None:
    """Worked by hand: 4.406 N on 0.65 and on 0.76 N/mm is 6.778 and 5.797 mm; 0.75 mm a turn."""
    answer = ask(load_left="362", load_right="362")
    by_hand = (4.406 / 0.76 - 4.406 / 0.65) / 0.75
    assert value(answer, "turns_left") == pytest.approx(by_hand, abs=0.002)
    assert "1\u00a01/4\u00a0turns up" in answer.steps[1].text


def test_a_longer_spring_of_the_same_rate_goes_up_by_the_difference() -> None:
    answer = ask(new_rate="0.65", new_free="43", new_solid="13")
    assert value(answer, "turns_left") == pytest.approx(-3.0 / 0.75, abs=1e-9)
    assert value(answer, "preload") == pytest.approx(1.5e-3, abs=1e-9)


def test_the_same_spring_needs_no_turn() -> None:
    answer = ask(new_rate="0.65", new_free="40", new_solid="13")
    assert value(answer, "turns_left") == pytest.approx(0.0, abs=1e-12)
    assert "Leave both" in answer.steps[1].text


def test_a_swap_smaller_than_friction_is_said_to_be_so() -> None:
    """4.406 N on 0.65 and on 0.66 N/mm: 6.778 and 6.676 mm, so 0.157 mm at a wheel of ratio 0.65,
    and a band of 0.4 mm hides 0.2 mm."""
    typed = {"new_rate": "0.66", "new_free": "40", "load_left": "362", "load_right": "362"}
    assert "front 0.16 mm (it comes to rest within ± 0.20 mm)" in cautions(ask(**typed))
    assert "friction" not in cautions(ask(**typed, friction="0.3"))
    assert "friction" not in cautions(ask(new_rate="0.65", new_free="40"))


def test_coil_bind_of_the_new_spring_stops() -> None:
    answer = ask(new_solid="20")
    assert "solid" in stops(answer)
    assert value(answer, "bind_margin") < 0


def test_a_car_on_its_droop_stops_is_told() -> None:
    answer = ask(droop_length="30")
    assert "droop stop" in stops(answer)
    force = value(answer, "preload_force")
    assert force == pytest.approx(650 * 0.010, rel=1e-9)


def test_a_stiff_short_spring_rattles() -> None:
    answer = ask(new_rate="2", new_free="38")
    assert value(answer, "preload") < 0
    assert any("loose" in caution.text for caution in answer.cautions)


def test_a_spring_from_the_list_is_the_same_as_typed() -> None:
    owned = ask(new_is="owned", owned="2")
    typed = ask(new_rate="0.76", new_free="40", new_solid="14")
    assert owned.steps == typed.steps
    for one, other in zip(owned.quantities, typed.quantities, strict=True):
        assert one.name == other.name
        assert (one.value, one.u) == pytest.approx((other.value, other.u), rel=1e-9)


def test_a_number_beyond_the_list_is_a_problem() -> None:
    reply = run(FORM, {"new_is": "owned", "owned": "9"}, UNDRAWN)
    assert "there are 4" in reply.problems["owned"]


def test_a_spring_pressed_solid_by_the_car_is_a_problem() -> None:
    reply = run(FORM, {"new_rate": "0.1"}, UNDRAWN)
    assert "coils touch" in reply.problems["new_rate"]


def test_a_pair_is_noted_as_the_spring_that_it_is_where_the_car_stands() -> None:
    answer = ask(new_is="pair")
    written = noted(answer)
    one, other = Spring(760.0, 26e-3), Spring(2000.0, 9e-3)
    pressed = 55e-3 - written["front.droop_length"] + value(answer, "sag") * 0.65
    force = pair_force(one, other, compression=pressed)
    alike = written["front.spring_rate"] * (
        written["front.spring_free"] - written["front.droop_length"] + value(answer, "sag") * 0.65
    )
    assert alike == pytest.approx(force, rel=0.02)


def test_of_the_springs_owned_those_are_listed_that_fit() -> None:
    rows = {row[0]: row for row in ask(axle="front").tables[1].rows}
    assert rows["1 front, one dot"][1] == "0"
    assert rows["2 front, two dots"][1] == "−1\u00a01/4"


def test_an_end_that_does_not_fit_together_has_no_springs() -> None:
    heavy = replace(UNDRAWN, front=replace(UNDRAWN.front, unsprung=5.0))
    assert car_seat(heavy, End.FRONT) is None
    assert car_seat(heavy, End.REAR) is not None
