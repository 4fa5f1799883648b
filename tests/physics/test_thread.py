"""Properties of threads and rod ends."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics import thread

LENGTHS = st.floats(0, 0.2)
PITCHES = st.floats(0.2e-3, 2e-3)


@given(LENGTHS, LENGTHS, PITCHES)
def test_the_turns_bring_the_length(measured: float, wanted: float, pitch: float) -> None:
    turns = thread.rod_end_turns(measured, wanted, pitch)
    assert thread.length_after(measured, turns, pitch) == pytest.approx(wanted, abs=1e-12)


def test_too_short_means_the_rod_end_comes_off() -> None:
    assert thread.rod_end_turns(measured=0.0245, wanted=0.0250, pitch=0.5e-3) == pytest.approx(1.0)
    assert thread.rod_end_turns(measured=0.0255, wanted=0.0250, pitch=0.5e-3) == pytest.approx(-1.0)


@given(st.floats(0, 0.02), st.floats(-20, 20), PITCHES)
def test_thread_that_comes_off_is_gone(engaged: float, turns: float, pitch: float) -> None:
    left = thread.engagement_left(engaged, turns, pitch)
    assert left >= 0
    if left > 0:
        assert engaged - left == pytest.approx(turns * pitch, abs=1e-12)
    else:
        assert turns * pitch >= engaged


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_no_turns_without_a_pitch(bad: float) -> None:
    for call in (
        lambda: thread.rod_end_turns(0.02, 0.03, bad),
        lambda: thread.length_after(0.02, 1.0, bad),
        lambda: thread.engagement_left(0.01, 1.0, bad),
        lambda: thread.least_engagement(bad, "steel"),
    ):
        with pytest.raises(ValueError, match="must be above 0"):
            call()


def test_a_material_without_a_rule_is_named() -> None:
    with pytest.raises(ValueError, match="No rule for wood"):
        thread.least_engagement(3e-3, "wood")


def test_softer_material_needs_more_thread() -> None:
    rules = [thread.least_engagement(3e-3, name) for name in ("steel", "aluminium", "plastic")]
    assert rules == sorted(rules)
    assert all(least <= safe for least, safe in rules)
