"""Springs against handbooks, certified data sets and scipy."""

import math
from functools import reduce

import numpy as np
import pytest
from scipy import stats

from calc.physics import spring
from calc.physics.linear import polynomial_fit
from calc.physics.stack import single
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("spring", "spring_rate"), ids=str)
def test_rate_from_wire_is_as_printed(case: Case) -> None:
    assert spring.spring_rate(**case.given) == case.printed["rate"]
    longer = {**case.given, "active_coils": case.given["active_coils"] + 2}
    clipped = spring.clipped_rate(
        rate=spring.spring_rate(**longer), active_coils=longer["active_coils"], clipped=2
    )
    assert clipped == case.printed["rate"]


@pytest.mark.parametrize("case", load("spring", "deflection"), ids=str)
def test_deflection_of_a_wound_spring_is_as_printed(case: Case) -> None:
    wound = {name: value for name, value in case.given.items() if name != "force"}
    rate = spring.spring_rate(**wound)
    wound_spring = single(rate=rate, free=1.0, solid=0.1)
    assert wound_spring.compression(case.given["force"]) == case.printed["deflection"]


@pytest.mark.parametrize("case", load("spring", "compression"), ids=str)
def test_compression_under_a_force_is_as_printed(case: Case) -> None:
    rate, force = case.given["rate"], case.given["force"]
    assert single(rate=rate, free=1.0, solid=0.1).compression(force) == case.printed["compression"]
    back = spring.spring_force(rate=rate, compression=case.printed["compression"].expected)
    assert back == pytest.approx(force, rel=0.005)  # as the compression is printed


@pytest.mark.parametrize("case", load("spring", "solid"), ids=str)
def test_a_spring_goes_solid_under_the_printed_force(case: Case) -> None:
    made = single(**case.given)
    assert made.travel == case.printed["travel"]
    assert made.bind_force == made.force(case.given["free"]) == case.printed["force"]
    assert made.length(2 * made.bind_force) == pytest.approx(made.solid) == case.given["solid"]


@pytest.mark.parametrize("case", load("thread", "micrometer"), ids=str)
def test_turns_advance_a_collar_as_another_micrometer_reads(case: Case) -> None:
    assert spring.preload_from_turns(**case.given) == case.printed["reading"]


@pytest.mark.parametrize("case", load("spring", "thread"), ids=str)
def test_turns_advance_a_collar_as_a_micrometer_reads(case: Case) -> None:
    assert spring.preload_from_turns(**case.given) == case.printed["advance"]


@pytest.mark.parametrize("case", load("spring", "solid_length"), ids=str)
def test_solid_length_is_as_printed(case: Case) -> None:
    assert spring.solid_length(**case.given) == case.printed["length"]


@pytest.mark.parametrize("case", load("spring", "solid_length_limit"), ids=str)
def test_longest_solid_length_is_as_the_standard_allows(case: Case) -> None:
    assert spring.solid_length_limit(**case.given) == case.printed["length"]


@pytest.mark.parametrize("case", load("spring", "rate_unit"), ids=str)
def test_a_spring_of_one_unit_gives_that_force_per_millimetre(case: Case) -> None:
    force = spring.spring_force(rate=case.given["one"], compression=0.001)
    assert force / 0.001 == case.printed["rate"]


@pytest.mark.parametrize("case", load("spring", "shear_modulus"), ids=str)
def test_moduli_are_as_printed(case: Case) -> None:
    assert spring.SHEAR_MODULUS[case.given["wire"]] == case.printed["modulus"]


@pytest.mark.parametrize("case", load("spring", "music_wire"), ids=str)
def test_the_band_of_music_wire_holds_what_the_handbook_prints(case: Case) -> None:
    low, high = spring.MUSIC_WIRE_MODULUS
    # 12.0 Mpsi is 82.74 GPa: the band's end is rounded to its last digit.
    assert all(low <= g <= high + 0.05e9 for g in case.given.values()) == case.printed["inside"]


@pytest.mark.parametrize("case", load("spring", "series_rate"), ids=str)
def test_springs_in_series_follow_the_printed_example(case: Case) -> None:
    assert reduce(spring.series_rate, case.given["rates"]) == case.printed["rate"]


@pytest.mark.parametrize("case", load("spring", "line"), ids=str)
def test_fits_reach_the_certified_coefficients_and_errors(case: Case) -> None:
    fit = polynomial_fit(**case.given)
    assert list(fit.coefficients) == case.printed["coefficients"]
    assert list(fit.errors or ()) == case.printed["errors"]


@pytest.mark.parametrize("case", load("spring", "line")[:1], ids=str)
def test_rate_from_readings_is_the_certified_slope(case: Case) -> None:
    """The straight line of the data set, with lengths that fall as its x rises."""
    lengths = [2000.0 - x for x in case.given["x"]]
    found = spring.rate_from_readings(lengths, case.given["y"])
    assert (found.rate, found.rate_error) == (
        case.printed["coefficients"][1],
        case.printed["errors"][1],
    )


def test_rate_from_readings_agrees_with_scipy() -> None:
    lengths = [0.0801, 0.0752, 0.0699, 0.0648, 0.0603]
    forces = [0.10, 2.61, 5.08, 7.72, 9.97]
    ours = spring.rate_from_readings(lengths, forces)
    theirs = stats.linregress(lengths, forces)
    assert ours.rate == pytest.approx(-theirs.slope, rel=1e-11)
    assert ours.rate_error == pytest.approx(theirs.stderr, rel=1e-9)
    assert ours.free_length == pytest.approx(-theirs.intercept / theirs.slope, rel=1e-11)


def test_the_line_moves_about_the_mean_of_its_readings_as_the_covariance_of_numpy_says() -> None:
    """Slope and intercept are correlated, slope and the force at the mean length are not: both
    give the crossing one variance, by its gradient (JCGM 100:2008, 5.2.2)."""
    lengths = [0.0801, 0.0752, 0.0699, 0.0648, 0.0603]
    forces = [0.10, 2.61, 5.08, 7.72, 9.97]
    (slope, intercept), covariance = np.polyfit(lengths, forces, 1, cov=True)
    gradient = np.array([intercept / slope**2, -1 / slope])
    fit = spring.rate_from_readings(lengths, forces)
    assert fit.rate_error is not None and fit.middle_error is not None
    moved = (
        fit.free_at(steeper=1e-3 * fit.rate_error) - fit.free_length,
        fit.free_at(higher=1e-3 * fit.middle_error) - fit.free_length,
    )
    error = float(gradient @ covariance @ gradient) ** 0.5
    assert 1e3 * math.hypot(*moved) == pytest.approx(error, rel=1e-4)
