"""Spring rate: labels against pint, lines against scipy, wire against the handbook."""

from collections.abc import Sequence
from functools import partial

import numpy as np
import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from calc import units
from calc.answering.answer import Answer
from calc.asking.entry import Choice
from calc.forms.catalogue import BY_SLUG
from calc.model.car import Car
from calc.physics.spring import SHEAR_MODULUS
from calc.physics.stack import single
from calc.replying.reading import run
from calc.units import NBSP
from tests.forms.asking import answered, cautions, noted, quantity, replied, stops, value

FORM = BY_SLUG["spring-rate"]
ask = partial(answered, FORM)
UNITS = pint.UnitRegistry()
IN_PINT = {
    "N/mm": "newton/millimeter",
    "lbf/in": "force_pound/inch",
    "gf/mm": "force_gram/millimeter",
    "kgf/cm": "force_kilogram/centimeter",
    "N/m": "newton/meter",
}


def readings(pairs: Sequence[tuple[float, float]], doubt: str = "") -> dict[str, str]:
    """As typed: lengths in mm and masses in g; the rows that follow stay empty."""
    typed = {}
    for n in range(1, 9):
        length, mass = (f"{x:g}{doubt}" for x in pairs[n - 1]) if n <= len(pairs) else ("", "")
        typed[f"readings.{n}.length"], typed[f"readings.{n}.mass"] = length, mass
    return typed


@pytest.mark.parametrize("symbol", IN_PINT)
def test_a_label_in_any_unit_is_the_rate_that_pint_says(symbol: str) -> None:
    answer = ask(label_rate=f"1.7 {symbol}" if symbol != "N/m" else "170 N/m")
    number = 170 if symbol == "N/m" else 1.7
    exact = UNITS.Quantity(number, IN_PINT[symbol]).to("newton/meter").magnitude
    assert value(answer, "rate") == pytest.approx(exact, rel=1e-12)


@pytest.mark.parametrize("system", units.SYSTEMS)
def test_every_unit_of_labels_stands_in_the_table(system: str) -> None:
    table = ask(system=system, label_rate="3.71 lbf/in").tables[-1]
    assert {row[0] for row in table.rows} == set(IN_PINT)
    assert table.rows[table.mark][0] == units.unit_of("rate", system).symbol
    for symbol, shown, _ in table.rows:
        exact = UNITS.Quantity(3.71, "force_pound/inch").to(IN_PINT[symbol]).magnitude
        assert float(shown) == pytest.approx(
            exact, abs=0.51 * 10.0 ** -len(shown.partition(".")[2])
        )


PAIRS = [(38.1, 131.0), (34.2, 402.0), (29.9, 660.0), (26.0, 931.0), (21.8, 1201.0)]


def test_the_line_and_its_standard_error_are_those_of_scipy() -> None:
    reply = run(FORM, {"known": "readings", **readings(PAIRS)}, Car())
    assert reply.answer is not None
    lengths = [length / 1e3 for length, _ in PAIRS]
    forces = [mass / 1e3 * 9.80665 for _, mass in PAIRS]
    theirs = stats.linregress(lengths, forces)
    assert value(reply.answer, "rate") == pytest.approx(-theirs.slope, rel=1e-9)
    assert value(reply.answer, "rate_error") == pytest.approx(theirs.stderr, rel=1e-6)
    free = -theirs.intercept / theirs.slope
    assert value(reply.answer, "free") == pytest.approx(free, rel=1e-9)


def with_perfect_tools(pairs: Sequence[tuple[float, float]]) -> Answer:
    """The answer where the whole doubt is the scatter."""
    return ask(known="readings", **readings(pairs, " ± 0"))


def test_few_readings_are_doubted_by_the_t_of_their_number() -> None:
    """Twice u is t times the standard error."""
    answer = with_perfect_tools(PAIRS)
    rate = quantity(answer, "rate")
    theirs = stats.t.ppf((1 + 0.9545) / 2, 3) * value(answer, "rate_error")
    assert 2 * rate.u == pytest.approx(theirs, rel=1e-6)
    assert "scatter" in rate.main_label


def test_the_free_length_is_as_doubtful_as_where_the_line_crosses_no_force() -> None:
    """By the covariance of slope and intercept that numpy finds, through the gradient of
    -intercept / slope (JCGM 100:2008, 5.2.2), times the same t as the rate."""
    lengths = [length / 1e3 for length, _ in PAIRS]
    forces = [mass / 1e3 * 9.80665 for _, mass in PAIRS]
    (slope, intercept), covariance = np.polyfit(lengths, forces, 1, cov=True)
    gradient = np.array([intercept / slope**2, -1 / slope])
    error = float(gradient @ covariance @ gradient) ** 0.5
    free = quantity(with_perfect_tools(PAIRS), "free")
    assert 2 * free.u == pytest.approx(stats.t.ppf((1 + 0.9545) / 2, 3) * error, rel=3e-3)


GOOD = [(58.0, 0.0), (50.0, 310.0), (42.0, 633.0), (34.0, 958.0)]


@pytest.mark.parametrize("place", range(4))
@pytest.mark.parametrize("mass", [3100.0, 31.0])
def test_a_slip_in_one_reading_is_named_and_bars_the_order(place: int, mass: float) -> None:
    """What the scale would show is by numpy's line through the other three."""
    slipped = [*GOOD]
    slipped[place] = GOOD[place][0], mass + GOOD[place][1]
    slope, intercept = np.polyfit(*zip(*(GOOD[:place] + GOOD[place + 1 :]), strict=True), 1)
    shown = max(slope * GOOD[place][0] + intercept, 0)
    reply = replied(FORM, known="readings", goes="front", **readings(slipped))
    at = f"readings.{place + 1}.mass"
    if reply.answer is None:
        assert list(reply.problems) == [at.replace("mass", "length")]
        return
    (said,) = [one for one in reply.answer.cautions if "does not fit" in one.text]
    assert said.at == at and said.text.startswith(f"Reading {place + 1} ")
    assert f"would show {shown:.1f}" in said.text
    if mass > 1000:
        workable = reply.answer.workable
        assert said.bars and workable.steps == () and noted(workable) == {}


def test_grams_among_ounces_are_named() -> None:
    pairs = [("2.28", "0 oz"), ("1.97", "10.9 g"), ("1.65", "22.3 oz"), ("1.34", "33.8 oz")]
    typed = {**readings([]), "known": "readings"}
    for n, (length, mass) in enumerate(pairs, 1):
        typed[f"readings.{n}.length"], typed[f"readings.{n}.mass"] = f"{length} in", mass
    answer = ask(**typed)
    assert stops(answer).startswith("Reading 2 does not fit the others")
    assert answer.workable.steps == ()


def test_good_readings_are_not_found_fault_with() -> None:
    for pairs in (GOOD, PAIRS, GOOD[:3], [(38, 100), (34, 240), (30, 440), (26, 700), (22, 1020)]):
        assert "does not fit" not in cautions(ask(known="readings", **readings(pairs)))


def test_three_readings_that_make_no_line_bar_the_order_and_name_none() -> None:
    """Any two of three lie on a line."""
    slipped = [GOOD[0], (50.0, 3100.0), GOOD[2]]
    answer = ask(known="readings", goes="front", **readings(slipped))
    assert "make no line" in stops(answer)
    assert answer.workable.steps == () and noted(answer.workable) == {}


@given(
    rate=st.floats(0.1, 5.0),
    free=st.floats(30.0, 90.0),
    presses=st.lists(st.floats(0.05, 0.6), min_size=2, max_size=8, unique=True),
    tare=st.floats(0.0, 50.0),
)
@settings(max_examples=100, deadline=None)
def test_readings_of_a_perfect_spring_give_it_back(
    rate: float, free: float, presses: list[float], tare: float
) -> None:
    lengths = [free * (1 - share) for share in presses]
    if max(lengths) - min(lengths) < 0.5:
        return
    pairs = [(length, rate * (free - length) / 9.80665e-3 + tare) for length in lengths]
    reply = run(FORM, {"known": "readings", **readings(pairs)}, Car())
    assert reply.answer is not None
    assert value(reply.answer, "rate") == pytest.approx(1e3 * rate, rel=2e-3)


def test_two_readings_are_a_line_without_a_scatter() -> None:
    reply = run(FORM, {"known": "readings", **readings(PAIRS[:2])}, Car())
    assert reply.answer is not None
    assert "rate_error" not in {q.name for q in reply.answer.quantities}
    assert any("Two readings" in caution.text for caution in reply.answer.cautions)


def test_one_reading_and_a_falling_force_are_problems() -> None:
    one = run(FORM, {"known": "readings", **readings(PAIRS[:1])}, Car())
    assert "at least 2 rows" in next(iter(one.problems.values()))
    falling = run(FORM, {"known": "readings", **readings([(30, 500), (20, 300)])}, Car())
    assert "force must rise" in falling.problems["readings.2.length"]


def test_readings_that_bend_are_pointed_out() -> None:
    bent = [(38, 100), (34, 240), (30, 440), (26, 700), (22, 1020)]
    reply = run(FORM, {"known": "readings", **readings(bent)}, Car())
    assert reply.answer is not None
    assert any("bend" in caution.text for caution in reply.answer.cautions)
    straight = run(FORM, {"known": "readings"}, Car())
    assert straight.answer is not None
    assert not any("bend" in caution.text for caution in straight.answer.cautions)


def test_wire_gives_the_rate_and_the_solid_length_of_the_handbook() -> None:
    """Shigley, example 10-1 (second-hand): 4.13 lbf/in, solid 0.500 in; its music wire has
    11.85 Mpsi, the middle of our band is 80.6 GPa."""
    answer = ask(
        known="wire", material="music", ends="closed",
        wire="0.037 in", outside="0.437 in", coils="12.5",
    )  # fmt: skip
    printed = UNITS.Quantity(4.13, "force_pound/inch").to("newton/meter").magnitude
    moduli = 80.6e9 / UNITS.Quantity(11.85e6, "psi").to("pascal").magnitude
    assert value(answer, "rate") == pytest.approx(printed * moduli, rel=0.5 * 0.01 / 4.13)
    assert value(answer, "solid") == pytest.approx(0.5 * 25.4e-3, abs=0.0005 * 25.4e-3)
    assert value(answer, "active") == 10.5


def test_a_coil_without_room_inside_is_a_problem() -> None:
    reply = run(FORM, {"known": "wire", "wire": "5", "outside": "9"}, Car())
    assert "no room inside" in reply.problems["outside"]


def test_a_thick_coil_is_outside_what_the_equation_is_meant_for() -> None:
    answer = ask(known="wire", wire="3", outside="11", coils="20")
    assert any("meant for" in caution.text for caution in answer.cautions)


def test_two_in_series_are_soft_then_stiff() -> None:
    """By hand: 0.4 and 0.9 N/mm make 0.36/1.3; the first binds at 0.4 x 13 = 5.2 N."""
    answer = ask(known="series")
    assert value(answer, "rate") == pytest.approx(1e3 * 0.36 / 1.3, rel=1e-12)
    assert value(answer, "knee_force") == pytest.approx(5.2, rel=1e-12)
    assert value(answer, "knee") == pytest.approx(13e-3 + 5.2 / 900, rel=1e-12)
    assert value(answer, "rate_after") == pytest.approx(900.0)
    assert value(answer, "free") == pytest.approx(50e-3)


def test_clipping_goes_with_one_over_the_coils() -> None:
    """7 active coils less 0.5 clipped and 0.75 bent: 650 x 7/5.75 N/m, worked by hand."""
    answer = ask(known="clipped")
    # Closed ends, not ground: L0 = p Na + 3 d, here 40 mm with 1.4 mm wire.
    assert value(answer, "free") == pytest.approx((40 - 4.2) * 1e-3 * 5.75 / 7 + 4.2e-3, rel=1e-9)
    assert value(answer, "rate") == pytest.approx(650 * 7 / 5.75, rel=1e-12)
    assert value(answer, "solid") == pytest.approx(8.75 * 1.4e-3, rel=1e-12)
    whole = run(FORM, {"known": "clipped", "clipped": "6.5"}, Car())
    assert "left to work" in whole.problems["clipped"]


@pytest.mark.parametrize(("clipped", "stops"), [("3", False), ("3.5", True), ("6", True)])
def test_a_spring_of_fewer_than_three_active_coils_is_a_stop(clipped: str, stops: bool) -> None:
    """7 coils, 0.75 of one bent flat. Handbooks of springs want 3 to 15 active ones (Shigley's
    Mechanical Engineering Design, section 10-4; from memory)."""
    answer = ask(known="clipped", clipped=clipped)
    assert any("three active coils" in one.text for one in answer.cautions if one.stop) is stops


@pytest.mark.parametrize("known", ["label", "readings", "wire", "series", "clipped"])
def test_the_rate_can_be_noted_in_the_car(known: str) -> None:
    reply = run(FORM, {"known": known, "goes": "rear"}, Car())
    assert reply.answer is not None
    written = noted(reply.answer)
    assert written["rear.spring_rate"] == value(reply.answer, "rate")
    if "rear.spring_solid" in written and "rear.spring_free" in written:
        single(rate=1.0, free=written["rear.spring_free"], solid=written["rear.spring_solid"])
    assert ask(known=known).writes == ()


def test_the_line_in_the_plot_reaches_from_the_shortest_reading_to_no_force() -> None:
    typed = readings([(38, 133), (30, 664), (22, 1194)])
    (plot,) = ask(known="readings", **typed).plots
    (line,) = plot.curves
    assert [x for x, _ in line.points] == pytest.approx([0.022, line.points[1][0]])
    assert line.points[1][1] == pytest.approx(0.0, abs=1e-9) and line.points[1][0] > 0.038
    for mark in plot.marks:
        along = (line.points[1][0] - mark.x) / (line.points[1][0] - 0.022)
        assert mark.y == pytest.approx(along * line.points[0][1], abs=0.02)


def test_the_curve_by_wire_passes_through_the_wire_that_was_measured() -> None:
    """R = G d^4 / (8 D^3 n) (EN 13906-1:2013), here with D and n as they are and d varied: with
    0.882 N/mm in the middle it goes from 0.882 x 0.8^4 = 0.361 to 0.882 x 1.2^4 = 1.829."""
    answer = ask(known="wire", wire="1.25", outside="18", coils="8", ends="closed")
    (curve,) = answer.plots[0].curves
    said = answer.plots[0].says.replace(NBSP, " ")
    assert said == "From 0.361 N/mm at 1.00 mm to 1.829 N/mm at 1.50 mm; yours has 0.882 N/mm."
    for wire, rate in curve.points:
        assert rate == pytest.approx(value(answer, "rate") * (wire / 1.25e-3) ** 4, rel=1e-9)
    assert [curve.points[0][0], curve.points[-1][0]] == pytest.approx([1.0e-3, 1.5e-3])


def test_readings_that_make_no_line_are_told_at_the_last_in_words() -> None:
    for pairs, words in (
        ([(38, 133), (34, 100)], "the force must rise as the spring gets shorter; read it again"),
        ([(38, 133), (38, 150)], "at least 2 different readings are needed; measure it again"),
    ):
        reply = run(FORM, {"known": "readings", **readings(pairs)}, Car())
        assert reply.problems == {"readings.2.length": f"Reading 2, length of the spring: {words}."}


def test_every_wire_of_the_physics_is_offered_by_name_with_its_source() -> None:
    offered = next(cell for _, name, cell in FORM.cells() if name == "material")
    assert isinstance(offered, Choice)
    labels = dict(offered.options)
    assert set(labels) == {*SHEAR_MODULUS, "music"} and all(labels.values())
    sources = [ask(known="wire", material=wire).working[1].source for wire in labels]
    named = [source.partition("; G: ")[2] for source in sources]
    assert all(named) and len(set(named)) == len(labels)


def test_stainless_wire_is_as_doubtful_as_what_is_printed() -> None:
    """68.5 GPa is the least that handbooks print, 73 GPa EN 10270-3: half the width over root 3
    (JCGM 100:2008, 4.3.7), beside a wire and a diameter taken as exact."""
    typed = {"wire": "1.25 ± 0", "outside": "18 ± 0", "coils": "8 ± 0"}
    found = quantity(ask(known="wire", material="stainless_1_4310", **typed), "rate")
    assert found.u / found.value == pytest.approx(2.25 / 70.75 / 3**0.5, rel=1e-3)
    assert found.value == pytest.approx(70.75e9 * 1.25e-3**4 / (8 * 16.75e-3**3 * 6), rel=1e-9)
