"""What is read along a plot, and the table under it: true to the curves of every form."""

import html
import re
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from calc import units
from calc.answering.answer import Axis, Curve, Plot, Table
from calc.forms.catalogue import FORMS
from calc.replying.form import Form
from site_src.both.fragment import answer_html
from site_src.both.plot import figure
from site_src.both.readout import Column
from tests.forms.ways import answers, replies
from tests.shown import half_a_digit, number


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_a_table_of_the_same_relation_follows_every_plot(form: Form) -> None:
    seen = set()
    for reply in replies(form):
        if not reply.answer or reply.answer.plots in seen:
            continue
        seen.add(reply.answer.plots)
        parts = answer_html(form, reply, units.METRIC).split('<figure class="plot"')[1:]
        assert len(parts) == len(reply.answer.plots)
        for part, plot in zip(parts, reply.answer.plots, strict=True):
            after = part.partition("</figure>")[2].strip()
            assert after.startswith('<details class="as-table"')
            table = after.partition("</table>")[0]
            assert html.escape(plot.title) in table
            assert 2 <= table.count("<tr") <= 15


@pytest.mark.parametrize("system", units.SYSTEMS)
@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_tables_and_readings_say_what_the_curves_say(form: Form, system: str) -> None:
    """Of every plot: read off between its points by numpy, to half the last digit shown."""
    seen = set()
    for answer in answers(form, system):
        for plot in answer.plots:
            if plot.title not in seen:
                seen.add(plot.title)
                made = figure(plot, system, "a")
                check_columns(plot, system, made.columns)
                check_table(plot, system, made.table)


def check_columns(plot: Plot, system: str, columns: Sequence[Column]) -> None:
    assert [column.name for column in columns] == [
        plot.x.label,
        *(curve.label for curve in plot.curves),
    ]
    assert 5 <= len(columns[0].texts) <= 60
    for curve, column in zip(plot.curves, columns[1:], strict=True):
        for place, text in zip(columns[0].texts, column.texts, strict=True):
            check(plot, system, curve, place, text)


def check_table(plot: Plot, system: str, table: Table) -> None:
    assert len(table.heads) == len(plot.curves) + 1
    for row in table.rows:
        for curve, text in zip(plot.curves, row[1:], strict=True):
            check(plot, system, curve, row[0], text)


def check(plot: Plot, system: str, curve: Curve, place: str, text: str) -> None:
    """A value of a curve at a place, both as shown."""
    x_unit, y_unit = units.unit_of(plot.x.kind, system), units.unit_of(plot.y.kind, system)
    xs = [x_unit.from_si(x) for x, _ in curve.points]
    ys = [y_unit.from_si(y) for _, y in curve.points]
    x, off = number(place), half_a_digit(place)
    if not text:
        assert x < min(xs) + off or x > max(xs) - off
        return
    around = np.interp([x - off, x, x + off], xs, ys)
    near = [y for at, y in zip(xs, ys, strict=True) if abs(at - x) <= off + 1e-12]  # of a jump
    room = half_a_digit(text) * (1 + 1e-6) + 1e-9
    assert min(*around, *near) - room <= number(text) <= max(*around, *near) + room


ANY = Axis("Across", "ratio"), Axis("Up", "ratio")
heights = st.floats(-1e4, 1e4)


def read(*curves: Curve, x: Axis = ANY[0]) -> tuple[Column, ...]:
    return figure(Plot("Any", x, ANY[1], curves, says="Anything."), units.METRIC, "a").columns


def test_at_a_jump_the_curve_is_read_as_it_goes_on() -> None:
    """A spring with preload begins above nothing; one that binds ends upright."""
    _, spring = read(Curve("spring", ((0.0, 0.0), (0.0, 2.0), (4.0, 6.0), (4.0, 9.0))))
    assert (spring.texts[0], spring.texts[-1]) == ("2.000", "6.000")


def test_a_curve_that_stands_upright_is_not_read() -> None:
    columns = read(
        Curve("spring", ((0.0, 0.0), (4.0, 6.0))), Curve("wall", ((3.0, 0.0), (3.0, 6.0)), "limit")
    )
    assert [column.name for column in columns] == ["Across", "spring"]


def test_nothing_is_read_beside_a_curve() -> None:
    _, short, _ = read(
        Curve("short", ((0.0, 1.0), (2.0, 3.0))), Curve("b", ((0.0, 0.0), (4.0, 0.0)))
    )
    assert short.texts[0] == "1.000" and short.texts[-1] == ""


def test_straight_lines_are_read_at_round_places() -> None:
    places = read(Curve("a", ((0.0, 0.0), (22.0, 1.0))))[0].texts
    assert places == tuple(map(str, range(23)))
    turns = read(Curve("a", ((-1.0, 0.0), (1.0, 1.0))), x=Axis("Turns down", "turns"))[0].texts
    assert turns[:3] == ("−1", "−7/8", "−3/4") and turns[-1] == "1"
    runs = read(Curve("a", ((1.0, 0.0), (3.0, 1.0))), x=Axis("Run", "count"))[0].texts
    assert runs == ("1", "2", "3")


def test_times_of_day_are_read_as_clocks_show_them() -> None:
    """At each entry, in the minute that has begun, and at round times between."""
    axis, after = Axis("Time of day", "clock"), 9 * 3600.0 + 5 * 60 + 59
    stairs = ((9 * 3600.0, 0.0), (after, 0.0), (after, 0.25), (11 * 3600.0, 0.25))
    times, turns = read(Curve("a", stairs), x=axis)
    assert times.texts[:4] == ("09:00", "09:05", "09:05", "09:10") and times.texts[-1] == "11:00"
    assert turns.texts[:4] == ("0.000", "0.000", "0.250", "0.250")
    assert {text[-2:] for text in times.texts} == {f"{minute:02}" for minute in range(0, 60, 5)}


def test_a_sampled_curve_is_read_at_its_samples_alone() -> None:
    """There the form worked it out; what lies between is only drawn."""
    squares = tuple((n / 4, (n / 4) ** 2) for n in range(11))
    places, values = read(Curve("square", squares))
    assert places.texts == tuple(f"{n / 4:.2f}" for n in range(11))
    assert values.texts == tuple(f"{(n / 4) ** 2:.3f}" for n in range(11))


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(st.floats(-1e3, 1e3), heights), min_size=2, max_size=30))
def test_any_curve_is_read_as_it_is_drawn(points: list[tuple[float, float]]) -> None:
    ordered = sorted({round(x, 3): y for x, y in points}.items())
    assume(len(ordered) > 1)
    curve = Curve("any", tuple(ordered))
    plot = Plot("Any", *ANY, (curve,), says="Anything.")
    places, values = read(curve)
    for place, text in zip(places.texts, values.texts, strict=True):
        check(plot, units.METRIC, curve, place, text)
    svg = figure(plot, units.METRIC, "a").picture.svg
    stops = [float(x) for x in re.search(r'data-stops="([^"]*)"', svg)[1].split()]  # type: ignore[index]
    assert len(stops) == len(places.texts)
    assert stops == sorted(stops) and stops[0] >= 0 and stops[-1] <= 360
