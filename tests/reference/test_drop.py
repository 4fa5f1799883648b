"""Drop test and its statistics against printed examples, scipy and uncertainties: see drop.toml."""

import fluids
import numpy as np
import pytest
from scipy import constants, special, stats
from uncertainties import correlated_values

from calc.physics import drop, sample
from tests.reference.cases import Case, load

LEFT = [1.52, 1.49, 1.55, 1.51, 1.50]
RIGHT = [1.61, 1.58, 1.66, 1.57]


@pytest.mark.parametrize("case", load("drop", "welch"), ids=str)
def test_two_sets_compared_as_printed(case: Case) -> None:
    ours = sample.welch(**case.given)
    assert (ours.t, ours.degrees, ours.p) == (
        case.printed["t"],
        case.printed["degrees"],
        case.printed["p"],
    )


@pytest.mark.parametrize("case", load("drop", "student"), ids=str)
def test_students_table(case: Case) -> None:
    t, degrees = case.given["t"], case.given["degrees"]
    assert sample.two_sided(t, degrees) == case.printed["p"]
    beta = sample.incomplete_beta(degrees / 2, 0.5, degrees / (degrees + t * t))
    assert beta == case.printed["p"]


@pytest.mark.parametrize("case", load("drop", "odd"), ids=str)
def test_the_known_outlier_is_pointed_out(case: Case) -> None:
    assert sample.outliers(**case.given) == case.printed["places"]


def test_two_sets_compared_by_scipy() -> None:
    ours, theirs = sample.welch(LEFT, RIGHT), stats.ttest_ind(LEFT, RIGHT, equal_var=False)
    assert ours.t == pytest.approx(theirs.statistic, rel=1e-12)
    assert ours.degrees == pytest.approx(theirs.df, rel=1e-12)
    assert ours.p == pytest.approx(theirs.pvalue, rel=1e-10)


def test_incomplete_beta_over_its_range_by_scipy() -> None:
    sizes = [0.5, 1.0, 1.7, 5.0, 30.0, 400.0]
    for a in sizes:
        for b in sizes:
            for x in np.linspace(0.0, 1.0, 41):
                ours = sample.incomplete_beta(a, b, float(x))
                assert ours == pytest.approx(special.betainc(a, b, x), rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("degrees", [1.0, 1.9, 4.0, 17.7, 300.0])
@pytest.mark.parametrize("t", [0.0, 0.01, 1.0, -2.5, 8.0, 60.0])
def test_chances_of_students_t_by_scipy(t: float, degrees: float) -> None:
    theirs = 2 * stats.t.sf(abs(t), degrees)
    assert sample.two_sided(t, degrees) == pytest.approx(theirs, rel=1e-9)


def test_mean_and_its_error_by_scipy() -> None:
    ours = sample.mean(LEFT)
    assert ours.value == pytest.approx(np.mean(LEFT))
    assert ours.error == pytest.approx(stats.sem(LEFT), rel=1e-12)


def test_scores_by_scipy() -> None:
    """MAD scaled to the normal distribution; the book rounds the factor to 0.6745."""
    spread = stats.median_abs_deviation(LEFT, scale="normal")
    theirs = (np.array(LEFT) - np.median(LEFT)) / spread
    assert sample.modified_z_scores(LEFT) == pytest.approx(list(theirs), rel=1e-4)
    readings = np.array([*LEFT, 1.9, 1.44, 1.1])
    spread = stats.median_abs_deviation(readings, scale="normal")
    far = np.abs(readings - np.median(readings)) / spread > sample.OUTLIER
    assert sample.outliers(readings.tolist()) == np.flatnonzero(far).tolist() == [5, 7]


def test_damping_is_force_over_speed() -> None:
    """0.1 kg falling 30 mm in 1.514 s on average: 0.980665 N over 19.815 mm/s, by hand."""
    ours = drop.damping_coefficient(0.1, 0.03, LEFT)
    assert ours.value == pytest.approx(49.49, abs=0.005)
    assert ours.error == pytest.approx(49.49 * stats.sem(LEFT) / np.mean(LEFT), rel=1e-3)


@pytest.mark.parametrize("diameter", [0.5e-3, 1e-3])
def test_a_ball_that_sinks_is_a_damper_too(diameter: float) -> None:
    """Timed at the speed that `fluids.v_terminal` gives, the coefficient is 3 pi mu d, that of
    Stokes 1851 (from memory); the pull is the weight less that of the oil."""
    viscosity, density, steel = 0.34, 970.0, 7800.0
    speed = fluids.v_terminal(D=diameter, rhop=steel, rho=density, mu=viscosity, Method="Stokes")
    pull = np.pi / 6 * diameter**3 * (steel - density)
    found = drop.damping_coefficient(pull, 0.03, [0.03 / speed] * 2)
    assert found.value == pytest.approx(3 * np.pi * viscosity * diameter, rel=1e-4)


def test_a_drop_lags_by_its_time_constant() -> None:
    """A first-order system follows a ramp one time constant late: Ogata, Modern Control Engineering
    2010 (from memory), unit-ramp response. Here it is mass over damping, at full speed."""
    mass, damping = 0.1, 20.0
    full_speed = mass * constants.g / damping
    assert drop.run_up(mass, damping) == pytest.approx(full_speed * mass / damping)


def test_friction_and_damping_by_scipy_and_uncertainties() -> None:
    """The fit by numpy's polyfit with its covariance, read backwards by `uncertainties`."""
    masses, distance = [0.05, 0.05, 0.05, 0.1, 0.1, 0.1], 0.03
    times = [3.65, 3.55, 3.70, 1.52, 1.49, 1.55]
    forces = np.array(masses) * constants.g
    speeds = distance / np.array(times)
    fit, covariance = np.polyfit(forces, speeds, 1, cov=True)
    slope, level = correlated_values(fit, covariance)
    coefficient, friction = 1 / slope, -level / slope
    ours = drop.friction_and_damping(masses, distance, times)
    assert ours.coefficient == pytest.approx(coefficient.nominal_value, rel=1e-9)
    assert ours.coefficient_error == pytest.approx(coefficient.std_dev, rel=1e-6)
    assert ours.friction == pytest.approx(friction.nominal_value, rel=1e-9)
    assert ours.friction_error == pytest.approx(friction.std_dev, rel=1e-6)
    line = stats.linregress(forces, speeds)
    assert ours.coefficient_error == pytest.approx(line.stderr / line.slope**2, rel=1e-9)


@pytest.mark.parametrize("case", load("drop", "mean"), ids=str)
def test_the_mean_and_its_error_as_the_guide_prints_them(case: Case) -> None:
    found = sample.mean(case.given["readings"])
    assert (found.value, found.error) == (case.printed["mean"], case.printed["error"])
