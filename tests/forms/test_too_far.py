"""Nothing is asked for that no thread, no bottle and no hand has: numbers that are wrong by a unit
or a digit are refused, or stopped before the instruction. How far a thread goes is common practice,
no source."""

import re

import pytest

from calc.forms.catalogue import BY_SLUG
from calc.model.car import Car
from calc.replying.reading import run
from calc.units import NBSP

TURNS = re.compile(r"(\d+)(?: \d/\d)?(?:\.\d+)? turns?\b")
MOST = 40  # turns of 0.5 mm: 20 mm of a rod end; half of the longest spring here is 39 turns

TOO_FAR = [
    ("collar-turns", "ride_height=22 cm"),
    ("collar-turns", "wanted_height=235"),
    ("collar-turns", "wanted_height=235 droop_length=5"),
    ("collar-turns", "scope=corners corner.front_left.height=22 cm"),
    ("collar-turns", "scope=corners end.front.spring_free=500"),
    ("collar-turns", "scope=corners end.rear.droop_length=2"),
    ("corner-loads", "cross_wanted=95"),
    ("corner-loads", "end.front.spring_free=500"),
    ("corner-loads", "end.rear.droop_length=2"),
    ("spring-swap", "new_free=400"),
    ("spring-swap", "new_rate=0.01"),
    ("spring-preload", "droop_length=5 spring_solid=3"),
    ("spring-seats", "aim=height wanted_height=235"),
    ("spring-seats", "aim=height ride_height=22 cm"),
    ("spring-seats", "aim=gap wanted_gap=130"),
    ("spring-seats", "aim=cup cup_new=4 cm"),
    ("whole-car", "change=spring front_free=400"),
    ("whole-car", "change=spring keep=preload front.spring_rate=50"),
    ("whole-car", "change=load added=20000"),
    ("stroke", "damper.front_left.stroke=216"),
    ("stroke", "damper.front_left.wanted=1"),
    ("stroke", "aim=alike damper.front_right.stroke=221"),
    ("length-travel", "length_left=5"),
    ("length-travel", "length_right=72 cm"),
    ("pairing", "parts=springs springs.1.free=500"),
    ("pairing", "parts=springs pairs=4 springs.2.rate=0.01"),
    ("oil-blend", "task=shift step=drop held=100"),
    ("oil-blend", "step=drop amount=500"),
]


def entered(text: str) -> dict[str, str]:
    """ "a=1 cm b=2" by name."""
    parts = re.split(r" (?=[\w.]+=)", text)
    return dict(part.split("=") for part in parts)


@pytest.mark.parametrize(("slug", "typed"), TOO_FAR)
def test_it_is_refused_or_stopped_first_or_no_such_turn_is_told(slug: str, typed: str) -> None:
    reply = run(BY_SLUG[slug], entered(typed), Car())
    if reply.answer is None:
        assert reply.problems and all(text.endswith(".") for text in reply.problems.values())
        return
    answer = reply.answer
    says = [f"{step.text} {step.gives}" for step in answer.steps]
    says += [caution.text for caution in answer.all_cautions]
    turns = [int(n) for text in says for n in TURNS.findall(text.replace(NBSP, " "))]
    assert all(n <= MOST for n in turns), says
    if slug != "pairing":
        assert any(caution.stop for caution in answer.cautions), says


def test_a_spring_under_another_body_is_no_pair_to_level() -> None:
    reply = run(BY_SLUG["pairing"], entered("parts=springs springs.1.free=500"), Car())
    assert reply.answer
    assert "more than any thread can level" in " ".join(step.gives for step in reply.answer.steps)


def test_deep_on_its_stop_the_collar_is_not_counted_up() -> None:
    reply = run(BY_SLUG["collar-turns"], entered("droop_length=2 spring_free=60"), Car())
    assert reply.answer
    stops = [caution.text for caution in reply.answer.cautions if caution.stop]
    assert any("no thread goes that far" in text for text in stops)
