"""Threads against instruments and the rules of workshops: see thread.toml."""

import pytest

from calc.physics import thread
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("thread", "micrometer"), ids=str)
def test_a_thread_goes_as_far_as_a_micrometer_reads(case: Case) -> None:
    reading, pitch = case.printed["reading"], case.given["pitch"]
    assert thread.length_after(0.0, case.given["turns"], pitch) == reading
    turns = thread.rod_end_turns(0.0, reading.expected, pitch)
    assert turns == pytest.approx(case.given["turns"], abs=1e-9)
    # Screwed in all the way it holds with as much as the reading; each turn out takes its share.
    left = thread.engagement_left(reading.expected, case.given["turns"] - 1, pitch)
    assert left == pytest.approx(pitch)


@pytest.mark.parametrize("case", load("thread", "engagement"), ids=str)
def test_usual_least_engagement(case: Case) -> None:
    least, safe = thread.least_engagement(**case.given)
    assert (least, safe) == (case.printed["least"], case.printed["safe"])
