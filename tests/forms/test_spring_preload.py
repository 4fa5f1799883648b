"""Spring preload: worked by hand, the damper drawn as it is set, turned collars noted."""

import pytest

from calc.answer import Answer
from calc.car import Car
from calc.catalogue import BY_SLUG
from calc.reading import run

FORM = BY_SLUG["spring-preload"]


def ask(**typed: str) -> Answer:
    reply = run(FORM, {"load_left": "362", "load_right": "362", **typed}, Car())
    assert reply.problems == {}
    assert reply.answer is not None
    return reply.answer


def value(answer: Answer, name: str) -> float:
    return next(q.value for q in answer.quantities if q.name == name)


def test_figures_are_those_worked_by_hand() -> None:
    """292 g x 9.80665 / 0.65 = 4.4054 N; / 0.65 N/mm = 6.7776 mm, less 1.5 mm of preload; a sag of
    5.2776 mm of shaft is 8.119 mm of wheel; at 22 mm of bump 0.65 x 23.5 N."""
    answer = ask()
    assert value(answer, "sag") == pytest.approx(8.119e-3, abs=0.5e-6)
    assert value(answer, "preload_force") == pytest.approx(0.975, rel=1e-12)
    assert value(answer, "bump_force") == pytest.approx(15.275, rel=1e-12)
    assert value(answer, "bind_margin") == pytest.approx(3.5e-3, rel=1e-12)


def test_turns_for_a_sag_are_noted_at_both_collars() -> None:
    """30 % of 22 mm is 6.6 mm, 1.322 mm more: 1.763 turns of 0.75 mm, by hand 1 3/4 up."""
    answer = ask(wanted_sag="30")
    written = {write.path: write.value for write in answer.writes}
    assert value(answer, "turns") == pytest.approx(-1.763, abs=0.0005)
    assert written == {
        "front.droop_length": pytest.approx(38.5e-3 + 1.75 * 0.75e-3),
        "corners.front_left.collar": -1.75,
        "corners.front_right.collar": -1.75,
    }
    assert ask(wanted_sag="24").writes == ()


def test_the_damper_is_drawn_as_it_is_set_then() -> None:
    drawing = ask(wanted_sag="30").drawings[0]
    assert {"39.8", "33.2", "17.8"} <= {tag.text for tag in drawing.tags}


def test_a_spring_longer_solid_than_free_is_a_problem() -> None:
    reply = run(FORM, {"spring_solid": "41"}, Car())
    assert "coils would touch" in reply.problems["spring_solid"]
