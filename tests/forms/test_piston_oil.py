"""Piston and oil: the form against limits known elsewhere, and the oil for another piston."""

import math
from functools import partial
from statistics import fmean

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import optimize

from calc.forms.piston_oil.form import FORM
from calc.model.car import Bottle, Car
from calc.physics import damper, oil
from calc.physics.damper import Holes, Piston
from calc.replying.reading import run
from tests.forms.asking import answered, quantity, refused, told, values

SEALED = {"clearance": "0", "warm": "25"}
HOLES = ("holes", "more_holes", "compression_holes", "rebound_holes")
SIZES = ("hole", "more_hole", "compression_hole", "rebound_hole")
ask = partial(answered, FORM)
problems = partial(refused, FORM)


def test_slow_and_sealed_is_the_creeping_flow_formula() -> None:
    """F = v A^2 mu (3/a^3 + 8 L/(pi a^4))/n: Dagan, Weinbaum, Pfeffer 1982 (from memory; within 1 %
    by a finite-element solution), for three holes in a plate of 2.5 mm."""
    area = math.pi / 4 * (12e-3**2 - 3e-3**2)
    mu, a = 400e-6 * oil.density(400e-6), 0.6e-3
    expected = 1e-3 * area**2 * mu * (3 / a**3 + 8 * 2.5e-3 / (math.pi * a**4)) / 3
    answer = ask(holes="3", hole="1.2", slow="1", fast="2", **SEALED)
    assert values(answer)["slow_force"] == pytest.approx(expected, rel=2e-3)


def test_a_hole_between_two_drills_is_right_on_average() -> None:
    """Every hole from 1.6 to 1.7 mm takes the same shank. The mean of their forces, each by the
    form, is that of the hole half-way; that of the shank is a tenth too high."""
    typed = {"clearance": "0", "slow": "1", "fast": "2"}

    def force(hole: float) -> float:
        return values(ask(hole=f"{hole:.4f} ± 0", **typed))["slow_force"]

    true = fmean(force(1.6 + 0.1 * (n + 0.5) / 20) for n in range(20))
    assert force(1.65) == pytest.approx(true, rel=0.01)
    assert force(1.6) == pytest.approx(1.11 * true, rel=0.02)
    # A hole anywhere between two drills 0.1 mm apart: 0.1/sqrt(12) mm (JCGM 100:2008, 4.3.7), and
    # the force goes with a power of it between the third (ends) and the fourth (pipe).
    sure = quantity(ask(hole="1.65 ± 0", **typed), "slow_force").u
    doubted = quantity(ask(hole="1.65", **typed), "slow_force").u
    share = math.sqrt(doubted**2 - sure**2) / true
    assert 3 < share / (0.1 / 1.65 / math.sqrt(12)) < 4


def test_in_a_long_hole_that_is_the_laminar_pipe_of_the_library() -> None:
    """Plate 20 mm thick, hole 0.5 mm: the ends lose 3 % of it, the pipe the rest. Friction factor
    by `fluids`."""
    area = math.pi / 4 * (12e-3**2 - 3e-3**2)
    speed, diameter, density = 1e-3, 0.5e-3, oil.density(400e-6)
    inside = speed * area / (4 * math.pi / 4 * diameter**2)
    reynolds = fluids.Reynolds(V=inside, D=diameter, nu=400e-6)
    loss = fluids.friction_laminar(reynolds) * 20e-3 / diameter
    expected = fluids.dP_from_K(loss, rho=density, V=inside) * area
    answer = ask(holes="4", hole="0.5", piston_thickness="20", slow="1", fast="2", **SEALED)
    assert values(answer)["slow_force_rebound"] == pytest.approx(expected, rel=0.04)
    assert values(answer)["slow_force_rebound"] > expected


def test_very_fast_in_thin_oil_is_the_jet_of_the_library() -> None:
    """5 cSt at 2 m/s: what an entry and an exit lose (K = 1.5, `fluids`), and a few per cent."""
    area = math.pi / 4 * (12e-3**2 - 3e-3**2)
    inside = 2.0 * area / (3 * math.pi / 4 * 1.2e-3**2)
    expected = fluids.dP_from_K(1.5, rho=oil.density(5e-6), V=inside) * area
    answer = ask(oil="5", holes="3", hole="1.2", slow="1000", fast="2000", **SEALED)
    assert values(answer)["fast_force_rebound"] == pytest.approx(expected, rel=0.05)
    assert any("turbulent" in caution.text for caution in answer.cautions)


def test_without_holes_it_is_the_leak_past_the_rim() -> None:
    """Q = pi D h^3 dp (1 + 1.5 e^2)/(12 mu L), from the piston to the wall that passes it, which
    carries half the gap along: Fox and McDonald, Introduction to Fluid Mechanics, ch. 8."""
    mu, gap, mean = 400e-6 * oil.density(400e-6), 0.1e-3, 11.9e-3
    area = math.pi / 4 * (12e-3**2 - 3e-3**2)
    flow = 1e-3 * (area - math.pi * mean * gap / 2)
    leak = math.pi * mean * gap**3 * (1 + 1.5 * 0.25) / (12 * mu * 2.5e-3)
    answer = ask(holes="0", clearance="0.2", warm="25", slow="1", fast="2")
    assert values(answer)["slow_force"] == pytest.approx(flow / leak * area, rel=2e-3)
    assert values(answer)["rim_share"] == pytest.approx(1)


def test_mixed_holes_share_the_flow_as_their_ease_says() -> None:
    """4 at 1.2 mm with 2 at 1.4: in slow motion the losses are side by side, as resistors are."""
    mixed = ask(holes="4", hole="1.2", more_holes="2", more_hole="1.4", slow="1", **SEALED)
    four = ask(holes="4", hole="1.2", slow="1", **SEALED)
    two = ask(holes="2", hole="1.4", slow="1", **SEALED)
    one, other, both = (values(a)["slow_damping"] for a in (four, two, mixed))
    assert both == pytest.approx(1 / (1 / one + 1 / other), rel=1e-9)


def test_holes_that_close_in_one_direction_are_open_in_the_other() -> None:
    mixed = values(ask(holes="2", hole="1.4", compression_holes="2", compression_hole="1.2"))
    both = values(ask(holes="2", hole="1.4", more_holes="2", more_hole="1.2"))
    alone = values(ask(holes="2", hole="1.4"))
    assert mixed["slow_force_compression"] == pytest.approx(both["slow_force"])
    assert mixed["slow_force_rebound"] == pytest.approx(alone["slow_force"])
    other_way = values(ask(holes="2", hole="1.4", rebound_holes="2", rebound_hole="1.2"))
    assert other_way["fast_force_rebound"] == pytest.approx(both["fast_force_rebound"])


def test_a_piston_that_shuts_one_way_is_refused_with_its_direction() -> None:
    shut = problems(holes="0", compression_holes="3", clearance="0")
    assert "rebound" in shut["holes"] and "no way past" in shut["holes"]
    assert "larger than the piston" in problems(holes="20", hole="8")["hole"]
    assert "faster" in problems(slow="600", fast="500")["fast"]
    assert "whole number" in problems(holes="2.5")["holes"]
    assert "thinner than the piston" in problems(bore="4", shaft="4")["shaft"]


def piston(count: int, diameter: float, gap: float) -> Piston:
    return Piston((Holes(count, diameter),), 2.5e-3, 12e-3 - 2 * gap, 12e-3, 3e-3, 0.5)


def test_the_oil_for_another_piston_is_that_of_a_root_finder() -> None:
    """Alike to 0.1 % at the chosen speed: `scipy.optimize.brentq` over the grade."""
    answer = ask(task="match", holes="3", hole="1.2", other_holes="2", other_hole="1.4", warm="10")
    now, other = piston(3, 1.2e-3, 0.05e-3), piston(2, 1.4e-3, 0.05e-3)

    def force(one: Piston, grade: float) -> float:
        warm = oil.viscosity_at(grade, 283.15), oil.density(grade, 283.15)
        return damper.force(one, 0.1, *warm, "rebound")

    target = force(now, 400e-6)
    grade = optimize.brentq(lambda g: force(other, g) / target - 1, 1e-6, 0.1, rtol=1e-12)
    assert values(answer)["wanted"] == pytest.approx(grade, rel=1e-5)
    assert force(other, values(answer)["wanted"]) == pytest.approx(target, rel=1e-3)


def test_where_they_are_alike_the_difference_is_nothing_and_elsewhere_it_is_shown() -> None:
    answer = ask(task="match", other_holes="2", other_hole="1.9", match_speed="100")
    row = next(row for row in answer.tables[0].rows if row[0] == "100")
    assert row[3] == "0.0" and row[1] == row[2]
    found = values(answer)
    assert found["slow_difference"] < 0 < found["fast_difference"]  # fewer, larger holes
    assert "refill with" in told(answer) and "harder than now" in told(answer)


def test_how_alike_they_are_is_doubted_by_the_holes_of_both() -> None:
    """F goes with mu (3/a^3 + 8 L/(pi a^4)), see above, and its logarithm with that of a by the
    power p between 3 and 4, by a difference quotient; the oil that is in is known to 3 %, the
    piston model to 5 % (JCGM 100:2008, 5.1.6)."""
    typed = {"clearance": "0", "other_clearance": "0", "slow": "1", "fast": "2", "warm": "25"}
    typed |= {"hole": "1.2 ± 0.1", "other_hole": "1.4 ± 0.1", "match_speed": "1"}
    found = quantity(ask(task="match", oil="400", **typed), "slow_difference")

    def ends_and_pipe(a: float) -> float:
        return math.log(3 / a**3 + 8 * 2.5e-3 / (math.pi * a**4))

    parts = [0.03, 0.05]
    for hole in (1.2e-3, 1.4e-3):
        power = (ends_and_pipe(hole / 2 * 1.001) - ends_and_pipe(hole / 2 / 1.001)) / 0.002
        parts.append(power * 0.05e-3 / hole)
    assert found.u == pytest.approx(math.hypot(*parts), rel=0.05)


def test_a_bottle_or_a_blend_is_named_and_where_there_is_none_it_says_so() -> None:
    blend = ask(Car(bottles=(Bottle("", 300e-6, 1e-4), Bottle("", 800e-6, 1e-4))), task="match")
    assert "3.8 mL of 300 cSt mixed with 3.8 mL of 800 cSt (parts 1 : 1)" in told(blend)
    bare = ask(Car(bottles=()), task="match")
    assert "needs" in told(bare) and any(caution.at for caution in bare.cautions)


def test_a_match_that_no_oil_makes_is_a_problem_at_the_speed() -> None:
    none = problems(
        task="match", oil="5", holes="8", hole="2", other_holes="1", other_hole="0.5",
        clearance="0", other_clearance="0", match_speed="2000",
    )  # fmt: skip
    assert "even the thinnest oil" in none["match_speed"]


def test_a_thin_plate_and_the_end_of_the_oil_law_are_pointed_out() -> None:
    thin = ask(piston_thickness="0.5", hole="1.6")
    assert any("so thin a plate" in caution.text for caution in thin.cautions)
    cold = ask(warm="-40")
    assert any(caution.stop and "How the oil changes" in caution.text for caution in cold.cautions)


@settings(max_examples=120, deadline=None)
@given(data=st.data())
def test_force_rises_from_1_mm_to_2_m_a_second_for_every_possible_piston(
    data: st.DataObject,
) -> None:
    entries = {entry.name: entry for entry in FORM.fields if entry.name in HOLES + SIZES}
    typed = {}
    for name, entry in entries.items():
        low, high = entry.possible  # type: ignore[union-attr]
        whole = st.integers(int(low), int(high)).map(str)
        size = st.floats(low * 1e3, high * 1e3).map(lambda mm: f"{mm:.4f}")
        typed[name] = data.draw(whole if name in HOLES else size)
    typed["oil"] = f"{data.draw(st.floats(5, 200000)):.2f}"
    typed["clearance"] = f"{data.draw(st.floats(0, 2)):.4f}"
    typed["piston_thickness"] = f"{data.draw(st.floats(0.2, 20)):.4f}"
    typed["bore"] = f"{data.draw(st.floats(6, 60)):.3f}"
    reply = run(FORM, {**typed, "slow": "1", "fast": "2000"}, Car())
    if reply.answer is None:
        assert set(reply.problems) <= {"hole", "holes", "shaft"}
        return
    forces = [float(row[1]) for row in reply.answer.tables[0].rows]
    assert forces == sorted(forces) and forces[-1] > 0
    found = values(reply.answer)
    ends = {name.removeprefix("slow_force") for name in found if name.startswith("slow_force")}
    for end in ends - {"_compression"}:
        # Between in proportion to the speed (2000 times) and to its square; in compression less
        # where the oil parts.
        parted = end == "" and "fast_force" not in found
        ratio = found["fast_force_rebound" if parted else f"fast_force{end}"]
        ratio /= found[f"slow_force{end}"]
        assert 2000 * (1 - 1e-6) <= ratio <= 2000**2 * (1 + 1e-6)


def test_in_compression_the_force_ends_where_the_oil_parts() -> None:
    """One atmosphere on bore less shaft is all there is (101325 Pa on 106.0 mm2: 10.74 N) where the
    shaft stands as it did when the cap was closed; the demo's front parts from 274 mm/s."""
    typed = {"pressure": "0 ± 0", "slow": "20", "fast": "1000", "closed_at": "11"}
    found = values(ask(**typed))
    assert found["most"] == pytest.approx(101325.0 * math.pi / 4 * (12e-3**2 - 3e-3**2), rel=1e-9)
    assert found["fast_force_compression"] == found["most"]
    assert found["fast_force_rebound"] > 5 * found["most"]
    assert found["parts"] == pytest.approx(0.274, abs=0.001)
    answer = ask(**typed)
    assert "cavitates) in compression" in " ".join(caution.text for caution in answer.cautions)
    assert "N in compression" in told(answer)
    pumped = values(ask(**{**typed, "pressure": "101.325 ± 0"}))
    assert pumped["most"] == pytest.approx(2 * found["most"], rel=1e-9)


def test_where_the_oil_may_part_or_not_the_force_is_doubted_as_the_smaller_of_two() -> None:
    """Just below the speed from which it parts, both forces drawn a million times (`numpy.random`,
    seed fixed): that through the holes, as with a pressure behind the oil at which it never parts,
    and the most that the gas gives."""
    typed = {"pressure": "0 ± 5", "slow": "20", "closed_at": "11"}
    fast = f"{values(ask(**typed, fast='1000'))['parts'] * 999:.4f}"
    answer = ask(**typed, fast=fast)
    through = quantity(ask(**{**typed, "pressure": "500 ± 0"}, fast=fast), "fast_force")
    most = quantity(answer, "most")
    assert through.value == pytest.approx(most.value, rel=1e-2)
    dice = np.random.default_rng(7)
    drawn = (dice.normal(one.value, one.u, 10**6) for one in (through, most))
    low, high = np.quantile(np.minimum(*drawn), [0.02275, 0.97725])
    found = quantity(answer, "fast_force")
    below, above = found.ends or (2 * found.u, 2 * found.u)
    assert below + above == pytest.approx(high - low, rel=0.02)


def test_gas_shut_in_with_the_shaft_far_in_is_thin_when_it_is_out() -> None:
    """Boyle: 0.5 mL shut in at the end of a 22 mm stroke of a 3 mm shaft has 0.58 mL half way."""
    shut_late = ask(closed_at="22", fast="1000")
    half = 0.5 / (0.5 + math.pi / 4 * 0.3**2 * 1.1)
    area = math.pi / 4 * (12e-3**2 - 3e-3**2)
    assert values(shut_late)["most"] == pytest.approx(half * 101325.0 * area, rel=1e-6)
    bare = ask(gas="", closed_at="", fast="1000")
    assert quantity(bare, "most").u > 0.09 * values(bare)["most"]


def test_air_mixed_in_gives_as_boyle_says_and_holds_between_both_bounds() -> None:
    """With a tenth of air, 12 mm of oil under the piston and 101.325 kPa: the pressure that rises
    by F/A presses the tenth together. Round bubbles are an oil 1/0.9 as thick, drawn-out ones
    0.9^(5/3): Murai and Oiwa 2008 measured both to first order."""
    air = {"air": "mixed", "air_share": "10", "column": "12"}
    plain, mixed = values(ask()), values(ask(**air))
    assert 0.9 ** (5 / 3) < mixed["slow_force"] / plain["slow_force"] < 1 / 0.9
    area = math.pi / 4 * (12e-3**2 - 3e-3**2)
    rise = mixed["fast_force_rebound"] / area
    behind = mixed["most"] / area
    assert mixed["mixed_fast_way"] == pytest.approx(1.2e-3 * rise / (behind + rise), rel=1e-6)
    rate = behind * area / 0.1 / 12e-3
    assert mixed["mixed_stiffness"] == pytest.approx(rate, rel=2e-3)
    corner = mixed["mixed_stiffness"] / (2 * math.pi * mixed["slow_damping"])
    assert mixed["mixed_even"] == pytest.approx(corner, rel=1e-6)


def test_air_widens_the_doubt_and_none_changes_nothing() -> None:
    plain, mixed = ask(), ask(air="mixed", air_share="20")
    assert quantity(mixed, "slow_force").u > 1.5 * quantity(plain, "slow_force").u
    none = values(ask(air="mixed", air_share="0"))
    assert none["slow_force"] == pytest.approx(values(plain)["slow_force"])
    assert none["mixed_fast_way"] == 0
    assert "Air in the oil" in told(mixed) and "Air in the oil" not in told(plain)
    assert any("never the same" in caution.text for caution in mixed.cautions)
