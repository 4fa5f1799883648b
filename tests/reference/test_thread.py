"""Threads against their standards: see thread.toml."""

import pytest

from calc.physics import thread
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("thread", "coarse pitch"), ids=str)
def test_coarse_pitches_are_those_of_the_standard(case: Case) -> None:
    pitches = [thread.COARSE_PITCH[round(d, 6)] for d in case.given["diameters"]]
    assert pitches == case.printed["pitches"]


@pytest.mark.parametrize("case", load("thread", "inch thread"), ids=str)
def test_inch_threads(case: Case) -> None:
    assert thread.pitch_of_inch_thread(**case.given) == case.printed["pitch"]


@pytest.mark.parametrize("case", load("thread", "engagement"), ids=str)
def test_usual_least_engagement(case: Case) -> None:
    least, safe = thread.least_engagement(**case.given)
    assert (least, safe) == (case.printed["least"], case.printed["safe"])
