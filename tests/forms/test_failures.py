"""Failures of the physics in words: every cause in every language, once."""

import re
from pathlib import Path

import pytest

from calc.forms.failures import clause, problem
from calc.language import NAMES, speaking
from calc.physics.failure import Cause, PhysicsError

each_cause = pytest.mark.parametrize("cause", Cause, ids=lambda cause: cause.name)
VALUES = {Cause.TOO_FEW_READINGS: {"needed": 3.0}}
FORMS = Path(__file__).parents[2] / "calc" / "forms"


def failure(cause: Cause) -> PhysicsError:
    return PhysicsError(cause, **VALUES.get(cause, {}))


@each_cause
def test_a_cause_has_its_own_words_in_every_language(cause: Cause) -> None:
    said = []
    for code in NAMES:
        with speaking(code):
            said.append(clause(failure(cause)))
    assert len(set(said)) == len(NAMES)
    for text in said:
        assert len(text.split()) > 3 and not re.search(r"[{}_]|\.$", text)


@pytest.mark.parametrize("code", NAMES)
def test_no_two_causes_share_their_words(code: str) -> None:
    with speaking(code):
        said = [clause(failure(cause)) for cause in Cause]
    assert len(set(said)) == len(said)


def test_the_values_of_a_failure_are_said() -> None:
    few = PhysicsError(Cause.TOO_FEW_READINGS, needed=3)
    assert clause(few) == "at least 3 different readings are needed; measure it again"


def test_a_failure_becomes_a_problem_at_its_entry() -> None:
    with speaking("de"):
        found = problem("lower_out", "Auge", PhysicsError(Cause.LOWER_MOUNT_ON_PIVOT))
    assert found.name == "lower_out"
    assert str(found).startswith("Auge: Die untere Aufnahme") and str(found).endswith(".")


@each_cause
def test_the_physics_raises_every_cause_and_one_place_words_it(cause: Cause) -> None:
    name = f"Cause.{cause.name}"
    physics = [path for path in (FORMS.parent / "physics").glob("*.py") if name in path.read_text()]
    assert physics, "nothing raises it"
    worded = [path.name for path in FORMS.rglob("*.py") if f"case {name}:" in path.read_text()]
    assert worded == ["failures.py"]


def test_no_form_reads_the_text_of_a_failure() -> None:
    caught = re.compile(r"except [^\n]*ValueError")
    assert [path.name for path in FORMS.rglob("*.py") if caught.search(path.read_text())] == []
