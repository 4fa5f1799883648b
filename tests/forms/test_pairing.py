"""Pairing: which belong together, how far they can be told apart, and what is left between."""

from functools import partial

import pytest

from calc.forms.pairing.form import FORM
from calc.forms.piston_oil.form import FORM as PISTON
from tests.forms.asking import answered, quantity, refused, told, value, values

ask = partial(answered, FORM)
problems = partial(refused, FORM)
NONE = {f"springs__{n}__{name}": "" for n in range(1, 9) for name in ("rate", "free")}


def springs(*measured: tuple[str, str]) -> dict[str, str]:
    typed = dict(NONE)
    for n, (rate, free) in enumerate(measured, 1):
        typed |= {f"springs__{n}__rate": rate, f"springs__{n}__free": free}
    return typed


def test_neighbours_make_the_pairs_and_the_rest_is_left_over() -> None:
    answer = ask(**springs(("0.60", "40"), ("0.70", "40"), ("0.61", "40"), ("0.705", "40"),
                           ("0.65", "40")))  # fmt: skip
    words = told(answer)
    assert "Pair 1: spring 1 with spring 3." in words
    assert "Pair 2: spring 2 with spring 4." in words
    assert "Left over: spring 5." in words
    assert value(answer, "1_apart") == pytest.approx(0.61 / 0.60 - 1)


def test_a_softer_spring_stands_lower_by_its_load_and_the_collar_levels_it() -> None:
    """(362 - 70) g on 0.65 are 4.406 N on the spring; by Hooke 0.60 gives 7.343 mm and 0.66 gives
    6.675 mm: 0.668 mm at the shaft, 1.027 mm at the wheel, 0.89 turns of 0.75 mm, set to 1."""
    answer = ask(pairs="1", **springs(("0.60", "40"), ("0.66", "40")))
    found = values(answer)
    assert found["1_lower"] == pytest.approx(1.027e-3, abs=1e-6)
    assert found["1_turns"] == pytest.approx(0.890, abs=1e-3)
    assert "spring 1 sits 1.03 mm lower; its collar 1 turn down brings them level" in told(answer)


def test_a_longer_spring_may_make_up_for_a_softer_one() -> None:
    exact = springs(("0.60 ± 0.0001", "40.73 ± 0.01"), ("0.66 ± 0.0001", "40 ± 0.01"))
    assert "less than a hand can set" in told(ask(pairs="1", **exact))


def test_no_collar_is_turned_for_a_height_that_nobody_can_tell() -> None:
    """The same by a calliper: 0.1 mm of either length are 0.2 mm at the wheel, through 0.65."""
    words = told(ask(pairs="1", **springs(("0.60", "40.7"), ("0.66", "40"))))
    assert "they sit level as far as you can tell: spring 2 may sit up to" in words
    assert "turn down" not in words


def test_a_doubtful_height_is_said_with_how_low_and_high_it_may_be() -> None:
    """1.03 mm, and a motion ratio of 0.65 that is known to 0.3 only."""
    typed = springs(("0.60", "40"), ("0.66", "40"))
    answer = ask(pairs="1", **typed, motion_ratio="0.65 ± 0.3")
    below, above = quantity(answer, "1_lower").reach
    ends = f"({1.027 - below * 1e3:.2f} to {1.027 + above * 1e3:.2f})"
    assert f"spring 1 sits 1.03 mm {ends} lower; its collar" in told(answer)
    assert " to " not in told(ask(pairs="1", **typed))


def test_what_the_tools_cannot_tell_apart_is_alike() -> None:
    near = told(ask(pairs="1", **springs(("0.60", "40"), ("0.602", "40"))))
    sure = told(ask(pairs="1", **springs(("0.60 ± 0.0001", "40"), ("0.602 ± 0.0001", "40"))))
    assert "Their rates are alike as far as you can measure: 0.3% apart" in near
    assert "They are 0.33% apart, ± 0.0" in sure


def test_pistons_are_told_by_the_model_of_piston_and_oil() -> None:
    """Both forces are those that the page of the piston gives at that speed."""
    typed = {f"pistons__{n}__hole": "" for n in range(3, 9)}
    answer = ask(parts="pistons", pairs="1", pistons__1__hole="1.6", pistons__2__hole="1.7",
                 speed="0.02 m/s", **typed)  # fmt: skip
    forces = [
        value(answered(PISTON, hole=hole, slow="0.02 m/s"), "slow_force") for hole in ("1.6", "1.7")
    ]
    assert value(answer, "1_harder") == pytest.approx(forces[0] / forces[1] - 1, rel=1e-3)
    assert "The damper with piston 1 is" in told(answer)


def test_dampers_damp_in_proportion_to_their_time() -> None:
    typed = {f"dampers__{n}__time": "" for n in range(3, 9)}
    answer = ask(
        parts="dampers", pairs="1", dampers__1__time="1.8", dampers__2__time="2.0", **typed
    )
    assert value(answer, "1_harder") == pytest.approx(2.0 / 1.8 - 1)
    assert "Damper 2 is 11.1% harder" in told(answer)


def test_too_few_parts_are_told_at_the_pairs() -> None:
    found = problems(pairs="2", **springs(("0.60", "40"), ("0.66", "40"), ("0.61", "40")))
    assert "2 of them take 4 parts, and 3 are measured" in found["pairs"]


def test_a_piston_without_a_hole_open_both_ways_is_a_problem() -> None:
    found = problems(parts="pistons", holes="0", more_holes="2", more_hole="1")
    assert "open both ways" in found["holes"]
