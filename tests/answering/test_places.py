"""Round places of a curve: round in the unit shown, and so are the rows of the table under it."""

import math
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from calc import units
from calc.answering.answer import Axis, Curve, Plot
from calc.answering.places import between, onward
from site_src.both.readout import table
from tests.shown import number

SYSTEM = st.sampled_from(units.SYSTEMS)
SPAN = st.floats(1e-3, 1e3)


def rows_under(places: list[float], kind: str, system: str) -> list[float]:
    """The first column of the table under a curve at these places, as it is written."""
    unit = units.unit_of(kind, system)
    points = [(unit.from_si(place), unit.from_si(place)) for place in places]
    plot = Plot("", Axis("x", kind), Axis("y", kind), (Curve("c", tuple(points)),))
    return [number(row[0]) for row in table(plot, [points], system, 1.0).rows]


ROUND = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.5, 8.0, 10.0)


def is_round(value: float) -> bool:
    """What people count in, with halves and quarters of it."""
    head = value / 10.0 ** math.floor(math.log10(value) + 1e-9)
    return any(head == pytest.approx(one, rel=1e-6) for one in ROUND)


def check_even(rows: list[float]) -> None:
    steps = {round((b - a) / (rows[1] - rows[0]), 3) for a, b in pairwise(rows)}
    assert steps == {1.0}


@given(SPAN, SYSTEM, st.sampled_from([2, 4]))
def test_steps_from_nothing_are_round_and_so_are_the_rows(
    least: float, system: str, fine: int
) -> None:
    unit = units.unit_of("length", system)
    places = onward(least * unit.factor, "length", system, fine)
    assert places[0] == 0 and len(places) >= 17
    assert least * (1 - 1e-8) <= unit.from_si(places[-1]) <= least * 1.126
    assert len(places) <= 60
    rows = rows_under(places, "length", system)
    assert 8 <= len(rows) <= 13
    check_even(rows)
    assert is_round(rows[1])


@given(SPAN, SYSTEM)
def test_rows_of_a_curve_that_cannot_begin_at_nothing(least: float, system: str) -> None:
    unit = units.unit_of("length", system)
    places = onward(least * unit.factor, "length", system, fine=2)[2:]
    rows = rows_under(places, "length", system)
    assert 8 <= len(rows) <= 12
    check_even(rows)
    assert rows[0] == pytest.approx(rows[1] / 2)


@given(st.floats(-100, 100), st.floats(0.5, 100), SYSTEM)
@example(-1e-9, 1.0, units.METRIC)  # the table writes such an end as 0
def test_places_between_two_ends_are_round(low: float, span: float, system: str) -> None:
    unit = units.unit_of("length", system)
    places = between(unit.to_si(low), unit.to_si(low + span), "length", system)
    shown = [unit.from_si(place) for place in places]
    assert shown[0] == pytest.approx(low) and shown[-1] == pytest.approx(low + span)
    assert 8 <= len(places) <= 14
    assert shown == sorted(shown)
    inner = shown[1:-1]
    assert inner[1] - inner[0] == pytest.approx(float(f"{inner[1] - inner[0]:.1e}"), rel=1e-6)
    if low < 0 < low + span:
        assert min(map(abs, shown)) < 1e-6 * span
    if 0 not in (low, low + span) and len(places) < 14:
        rows = rows_under(places, "length", system)
        assert len(rows) == len(places)


@pytest.mark.parametrize(("least", "first"), [(80.0, 2.5), (37.2, 1.0), (24.0, 0.5)])
def test_a_rounder_step_may_be_half_as_long_again(least: float, first: float) -> None:
    """80 mm in twelfths are 6.67 mm: 10 mm is just half as much again, and its quarter 2.5 mm. Of
    37.2 mm they are 3.1 mm: 5 mm would be too much, so it is 4 mm. Of 24 mm they are round."""
    unit = units.unit_of("length", units.METRIC)
    places = onward(least * unit.factor, "length", units.METRIC)
    assert unit.from_si(places[1]) == pytest.approx(first)
