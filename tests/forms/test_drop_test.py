"""Drop test: damping, friction, left against right and the inferred oil, against other means."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import constants, integrate, stats

from calc.answering.answer import Answer
from calc.forms.drop_test.form import FORM
from calc.physics import damper, oil
from calc.physics.damper import Holes, Piston
from calc.units import NBSP
from tests.forms.asking import answered, cautions, quantity, refused, stops, told, values

WEIGHTLESS = {"moving": "0 ± 0"}  # shaft and piston, so that the mass alone pulls
RUNS = (1.72, 1.66, 1.70, 1.75, 1.67)
PISTON = Piston((Holes(3, 1.6e-3),), 2.5e-3, 11.9e-3, 12e-3, 3e-3, 0.5)  # the demo car's


def timed(name: str, times: tuple[float, ...], masses: tuple[float, ...] = ()) -> dict[str, str]:
    """Runs as typed, from a film, from the first row on; what the form starts with beyond them is
    emptied."""
    typed = {f"{name}.{n}.time": "" for n in range(1, 13)}
    typed |= {f"{name}.{n}.mass": "" for n in range(1, 13)} if masses else {}
    typed |= {f"{name}.{n}.time": f"{time:.6f} ± 0.000001" for n, time in enumerate(times, 1)}
    typed |= {f"{name}.{n}.mass": f"{mass:.6f}" for n, mass in enumerate(masses, 1)}
    return typed


def ask(task: str, runs: dict[str, str] | None = None, **typed: str) -> Answer:
    return answered(FORM, task=task, **{**WEIGHTLESS, **(runs or {}), **typed})


def problems(task: str, runs: dict[str, str] | None = None, **typed: str) -> dict[str, str]:
    return refused(FORM, task=task, **{**WEIGHTLESS, **(runs or {}), **typed})


def test_damping_and_its_standard_error_by_numpy_and_scipy() -> None:
    answer = ask("one", timed("runs", RUNS), mass="30", distance="15")
    each = 0.03 * constants.g * np.array(RUNS) / 15e-3
    assert values(answer)["damping"] == pytest.approx(each.mean(), rel=1e-9)
    assert values(answer)["standard_error"] == pytest.approx(stats.sem(each), rel=1e-6)
    assert quantity(answer, "damping").u > stats.sem(each)  # ruler and scale come on top


def test_the_whole_doubt_is_scatter_ruler_and_scale_together() -> None:
    """u^2 = sum of squares (JCGM 100:2008, 5.1.2): c goes with mass and time, and with 1/distance;
    a reading to the nearest step has u = step/sqrt(12), and a distance is two of them; of five runs
    twice the stated doubt is Student's t at 95.45 % (G.3)."""
    answer = ask("one", timed("runs", RUNS), mass="30", distance="15")
    few = stats.t.ppf((1 + 0.9545) / 2, len(RUNS) - 1) / 2
    parts = few * stats.sem(RUNS) / np.mean(RUNS), 1 / 30 / 12**0.5, 0.5 / 15 / 6**0.5
    relative = quantity(answer, "damping").u / values(answer)["damping"]
    assert relative == pytest.approx(np.hypot(np.hypot(*parts[:2]), parts[2]), rel=2e-3)


def test_left_against_right_by_scipy() -> None:
    left, right = (1.52, 1.49, 1.55, 1.51, 1.50), (1.61, 1.58, 1.66, 1.57)
    answer = ask("sides", timed("left", left) | timed("right", right))
    theirs = stats.ttest_ind(left, right, equal_var=False)
    assert values(answer)["chance"] == pytest.approx(theirs.pvalue, rel=1e-6)
    assert "They differ" in told(answer) and "right one is harder" in told(answer)
    assert values(answer)["difference"] == pytest.approx(np.mean(left) / np.mean(right) - 1)


def test_a_small_chance_is_one_of_so_many_tests() -> None:
    """As the reciprocal of scipy's, to its first digit."""
    left, right = (1.52, 1.49, 1.55, 1.51, 1.50), (1.61, 1.58, 1.66, 1.57)
    chance = stats.ttest_ind(left, right, equal_var=False).pvalue
    said = told(ask("sides", timed("left", left) | timed("right", right)))
    (count,) = re.findall(r"about 1 of (\d+) such tests", said.replace(NBSP, " "))
    assert float(count) == float(f"{1 / chance:.0e}")


def test_only_a_damper_whose_cap_was_off_is_opened() -> None:
    for cap, opens in (("loose", True), ("shut", False)):
        said = cautions(ask("one", timed("runs", RUNS), cap=cap))
        assert ("open it slowly" in said) is opens
        assert "slippery" in said


def test_what_scatter_alone_can_make_is_called_no_difference() -> None:
    left, right = (1.52, 1.40, 1.60, 1.45), (1.50, 1.57, 1.43, 1.52)
    answer = ask("sides", timed("left", left) | timed("right", right))
    assert stats.ttest_ind(left, right, equal_var=False).pvalue > 0.05
    assert "no difference" in told(answer)


READINGS = st.lists(st.integers(1000, 3000), min_size=2, max_size=8, unique=True).map(
    lambda thousandths: tuple(each / 1000 for each in thousandths)
)


@settings(max_examples=40, deadline=None)
@given(left=READINGS, right=READINGS)
def test_the_verdict_is_that_of_scipy_for_any_runs(
    left: tuple[float, ...], right: tuple[float, ...]
) -> None:
    answer = ask("sides", timed("left", left) | timed("right", right))
    theirs = stats.ttest_ind(left, right, equal_var=False)
    assert values(answer)["chance"] == pytest.approx(theirs.pvalue, rel=1e-5, abs=1e-12)
    assert ("They differ" in told(answer)) == (theirs.pvalue < 0.05)
    low, high = theirs.confidence_interval(0.9545) / np.mean(right)
    found = quantity(answer, "difference")
    assert 2 * found.u == pytest.approx((high - low) / 2, rel=1e-3)


def test_sides_without_any_scatter_cannot_be_compared() -> None:
    coarse = timed("left", (1.5, 1.5)) | timed("right", (1.7, 1.7))
    assert "too coarse" in problems("sides", coarse)["left.1.time"]


def test_two_masses_separate_the_friction() -> None:
    """Made up from c = 33 N s/m and 0.06 N of friction: the same has to come out."""
    masses = (20.0, 20.0, 40.0, 40.0, 60.0, 60.0)
    exact = [33 * 15e-3 / (m * 1e-3 * constants.g - 0.06) for m in masses]
    answer = ask("friction", timed("loaded", tuple(exact), masses), distance="15")
    assert values(answer)["damping"] == pytest.approx(33, rel=1e-4)
    assert values(answer)["friction"] == pytest.approx(0.06, rel=1e-3)


def test_scattered_runs_with_two_masses_by_scipy() -> None:
    masses = (20.0, 20.0, 20.0, 50.0, 50.0, 50.0)
    times = (3.42, 3.31, 3.48, 1.13, 1.10, 1.15)
    answer = ask("friction", timed("loaded", times, masses), distance="15 ± 0.0001")
    line = stats.linregress(np.array(masses) * 1e-3 * constants.g, 15e-3 / np.array(times))
    assert values(answer)["damping"] == pytest.approx(1 / line.slope, rel=1e-6)
    assert values(answer)["friction"] == pytest.approx(-line.intercept / line.slope, rel=1e-6)
    # The scale's step adds to what the scatter leaves open, so it is a little more; of four runs
    # to spare twice the doubt is Student's t.
    scatter = line.stderr / line.slope**2 * stats.t.ppf((1 + 0.9545) / 2, 4) / 2
    assert scatter <= quantity(answer, "damping").u <= 1.3 * scatter


def test_friction_clearly_below_zero_contradicts_the_runs_and_bars_them() -> None:
    masses = (20.0, 20.0, 60.0, 60.0)
    exact = [33 * 15e-3 / (m * 1e-3 * constants.g + 0.05) for m in masses]
    answer = ask("friction", timed("loaded", tuple(exact), masses), distance="15")
    assert values(answer)["friction"] == pytest.approx(-0.05, rel=0.01)
    assert "no seal pushes" in stops(answer) and "Measure again" in stops(answer)
    assert answer.workable.steps == () and answer.workable.measured == ()


@pytest.mark.parametrize("drag", [-0.01, 0.0, 0.01])
def test_friction_within_its_doubt_of_nothing_is_none_found(drag: float) -> None:
    """The limit is twice the doubt above what the runs mean, or above nothing."""
    masses = (20.0, 20.0, 20.0, 50.0, 50.0, 50.0)
    scatter = (1.04, 0.97, 0.99, 1.02, 1.01, 0.97)
    times = [
        33 * 15e-3 / (m * 1e-3 * constants.g - drag) * off
        for m, off in zip(masses, scatter, strict=True)
    ]
    answer = ask("friction", timed("loaded", tuple(times), masses), distance="15")
    found = quantity(answer, "friction")
    assert abs(found.value) < 2 * found.u and stops(answer) == ""
    says = told(answer)
    limit = float(says.partition("no friction found: below ")[2].partition(" N")[0])
    assert limit == pytest.approx(max(found.value, 0.0) + 2 * found.u, abs=0.006)
    assert "−" not in says and "no pull" in answer.plots[0].says


def test_what_cannot_be_negative_has_an_interval_that_ends_at_nothing() -> None:
    """The seal drag of runs that scatter: as far up as twice its doubt, down to none."""
    masses = (20.0, 20.0, 20.0, 50.0, 50.0, 50.0)
    times = (3.0, 2.6, 3.1, 1.13, 1.10, 1.15)
    drag = quantity(ask("friction", timed("loaded", times, masses)), "friction")
    assert 0 < drag.value < 2 * drag.u
    assert drag.ends is not None
    assert drag.value - drag.ends[0] == 0
    assert drag.ends[1] == pytest.approx(2 * drag.u)


def test_the_oil_that_made_the_drop_is_inferred() -> None:
    """A drop worked out forward with 500 cSt at 30 C has to come back as 500 cSt."""
    viscosity, density = oil.viscosity_at(500e-6, 303.15), oil.density(500e-6, 303.15)
    speed = 5e-3
    pull = damper.force(PISTON, speed, viscosity, density, "rebound")
    times = (15e-3 / speed * 0.999, 15e-3 / speed * 1.001)
    mass = pull / constants.g * 1e3
    answer = ask("one", timed("runs", times), mass=f"{mass:.6f}", distance="15", warm="30")
    assert values(answer)["inferred"] == pytest.approx(500e-6, rel=1e-3)
    # The model's own 10 % (as likely anywhere within) is the least that it can be in doubt.
    assert quantity(answer, "inferred").u >= 0.1 / 3**0.5 * 500e-6


def test_a_run_far_from_the_others_is_pointed_out_and_still_counted() -> None:
    odd = (*RUNS, 2.6)
    answer = ask("one", timed("runs", odd), mass="30", distance="15")
    assert "Run 6 (2.60 s) lies far" in cautions(answer) and "still counted" in cautions(answer)
    expected = 0.03 * constants.g * np.mean(odd) / 15e-3
    assert values(answer)["damping"] == pytest.approx(expected)
    assert [row[-1] for row in answer.tables[0].rows] == [""] * 5 + ["far off"]
    assert "lies far" not in cautions(ask("one", timed("runs", RUNS)))
    runs, mean = answer.plots[0].curves
    assert runs.points == tuple(enumerate(odd, 1)), "a person counts from one"
    assert mean.points == ((1, pytest.approx(np.mean(odd))), (6, pytest.approx(np.mean(odd))))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"axle": "front", "which": "left"}, "Front left"),
        ({"axle": "rear", "which": "right"}, "Rear right"),
        ({"which": "spare", "letter": "S"}, "S, on the shelf"),
        ({"which": "spare"}, "The spare damper"),
    ],
)
def test_the_damper_that_was_tested_is_named(typed: dict[str, str], said: str) -> None:
    answer = ask("one", timed("runs", RUNS), **typed)
    assert answer.steps[0].text.startswith(f"{said}: ")


def test_with_two_masses_the_others_are_those_of_the_same_mass() -> None:
    masses, times = (20.0,) * 4 + (50.0,) * 4, (3.4, 3.3, 3.5, 4.9, 1.13, 1.10, 1.15, 1.12)
    answer = ask("friction", timed("loaded", times, masses))
    assert "Run 4 (4.90 s)" in cautions(answer)
    assert cautions(answer).count("lies far") == 1


def test_what_cannot_be_told_is_a_problem_at_its_field() -> None:
    assert "hold the mass" in problems("one", friction="1")["friction"]
    same = problems("friction", timed("loaded", (1.0, 1.1, 1.2), (20.0, 20.0, 20.0)))
    assert "two masses" in same["loaded.3.mass"]
    slower = problems("friction", timed("loaded", (1.0, 1.1, 1.5), (20.0, 20.0, 50.0)))
    assert "no faster" in slower["loaded.3.time"]
    drawn_in = {"cap": "shut", "pressure": "-80"} | timed("loaded", (3, 2, 2), (10.0, 20.0, 20.0))
    assert "air under the cap" in problems("friction", drawn_in)["loaded.1.mass"]
    assert "at least 2 rows" in problems("one", timed("runs", (1.0,)))["runs.2.time"]


def test_a_drop_that_no_oil_explains_says_so_and_still_has_its_damping() -> None:
    fast = ask("one", timed("runs", (0.02, 0.021)), mass="0.5", distance="300")
    assert "No oil explains" in cautions(fast)
    assert "inferred" not in values(fast) and values(fast)["damping"] > 0


def test_a_heavy_mass_on_a_soft_damper_needs_a_run_up() -> None:
    soft = ask("one", timed("runs", (0.10, 0.11)), mass="300", distance="50")
    assert "run-up" in cautions(soft)
    assert "run-up" not in cautions(ask("one", timed("runs", RUNS)))


def test_shaft_and_piston_pull_too() -> None:
    light = ask("one", timed("runs", RUNS), mass="27.5", distance="15", moving="2.5 ± 0")
    heavy = ask("one", timed("runs", RUNS), mass="30", distance="15")
    assert values(light)["damping"] == pytest.approx(values(heavy)["damping"], rel=1e-12)


def test_shut_in_air_pushes_as_boyle_says() -> None:
    """Work of the air from mark to mark by `scipy.integrate.quad`, over the distance: marks 15 mm
    apart in the middle of a 22 mm stroke, 0.5 mL shut in 10 mm from fully out."""
    area = np.pi / 4 * 3e-3**2

    def push(place: float) -> float:
        volume = 0.5e-6 - area * (place - 10e-3)
        return float(101325.0 * (0.5e-6 / volume - 1.0) * area)

    mean = integrate.quad(push, 11e-3 - 7.5e-3, 11e-3 + 7.5e-3)[0] / 15e-3
    typed = {"mass": "30", "distance": "15"}
    loose = values(ask("one", timed("runs", RUNS), **typed))["damping"]
    shut = ask("one", timed("runs", RUNS), cap="shut", **typed)
    pull = 0.03 * constants.g
    assert values(shut)["damping"] == pytest.approx(loose * (pull + mean) / pull, rel=1e-4)
    assert quantity(shut, "damping").main == "timed_at"


def by_hand(runs: dict[str, str]) -> dict[str, str]:
    """The same without a word of how well they were timed."""
    return {name: text.partition(" ±")[0] for name, text in runs.items()}


@pytest.mark.parametrize("count", [2, 4, 9])
def test_runs_as_like_as_can_be_are_as_doubtful_as_the_hand(count: int) -> None:
    """0.10 s for a time that is started and stopped by hand at marks that are waited for (D. Faux
    and J. Godolphin, Am. J. Phys. 87, 2019, 110, abstract); of so many runs over the root of it."""
    runs = timed("runs", tuple(3.0 + 1e-4 * (n % 2) for n in range(count)))
    sure = {"mass": "30 ± 0", "distance": "15 ± 0"}
    stopped, filmed = (ask("one", each, **sure) for each in (by_hand(runs), runs))
    found = quantity(stopped, "damping")
    assert found.u / found.value == pytest.approx(0.1 / count**0.5 / 3.0, rel=1e-3)
    assert quantity(filmed, "damping").u < 0.02 * found.u
    assert stopped.measured[0].u == pytest.approx(0.1 / count**0.5)


def test_runs_that_scatter_more_than_a_hand_count_as_they_scatter() -> None:
    runs = timed("runs", (2.5, 3.4, 3.0))
    by_film, stopped = (quantity(ask("one", each), "damping") for each in (runs, by_hand(runs)))
    assert stopped.u == pytest.approx(by_film.u, rel=1e-6)


def test_friction_is_as_doubtful_as_a_hand_makes_it() -> None:
    """Times drawn as a hand stops them, each set of six fitted by numpy."""
    masses = np.repeat([20.0, 50.0], 3)
    pulls = masses * 1e-3 * constants.g
    times = 200 * 15e-3 / (pulls - 0.06)
    runs = by_hand(timed("loaded", tuple(times), tuple(masses)))
    sure = {f"loaded.{n}.mass": f"{mass} ± 0" for n, mass in enumerate(masses, 1)}
    answer = ask("friction", {**runs, **sure}, distance="15 ± 0")
    dice = np.random.default_rng(1)
    lines = [np.polyfit(pulls, 15e-3 / (times + dice.normal(0.0, 0.1, 6)), 1) for _ in range(4000)]
    slope, level = np.array(lines).T
    assert quantity(answer, "damping").u == pytest.approx(np.std(1 / slope), rel=0.05)
    assert quantity(answer, "friction").u == pytest.approx(np.std(-level / slope), rel=0.05)


BETWEEN = pytest.mark.wide("between the least and many")


@pytest.mark.parametrize("count", [2, *(pytest.param(n, marks=BETWEEN) for n in (3, 5)), 8])
def test_few_runs_are_stated_as_doubtful_as_they_are(count: int) -> None:
    """Normal scatter of 3 %: the stated interval holds the true damping 95 times of 100."""
    dice, inside, tries = np.random.default_rng(count), 0, 200
    true = 0.03 * constants.g * 1.7 / 15e-3
    for _ in range(tries):
        runs = tuple(dice.normal(1.7, 0.05, count))
        found = quantity(
            ask("one", timed("runs", runs), mass="30 ± 0", distance="15 ± 0"), "damping"
        )
        inside += abs(found.value - true) <= 2 * found.u
    assert 0.915 <= inside / tries <= 0.99
