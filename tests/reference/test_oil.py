"""Oil against published figures: see oil.toml for each source."""

import numpy as np
import pytest
from scipy import integrate, stats

from calc.physics import oil
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("oil", "blend"), ids=str)
def test_a_blend_is_what_the_law_says_elsewhere(case: Case) -> None:
    assert oil.blend(**case.given) == case.printed["viscosity"]
    (thick_share, thick), (thin_share, thin) = case.given["parts"]
    share = thick_share / (thick_share + thin_share)
    target = case.printed["viscosity"].expected
    assert oil.share_of_thick(target, thin, thick, "refutas") == pytest.approx(share, abs=1e-4)
    assert oil.exchange(thick, thin, target, "refutas") == pytest.approx(1 - share, abs=1e-4)


@pytest.mark.parametrize("case", load("oil", "vtc"), ids=str)
def test_the_temperature_law_agrees_with_the_coefficient_in_makers_tables(case: Case) -> None:
    grade = case.given["viscosity_25"]
    hot, warm = oil.viscosity_at(grade, 273.15 + 98.9), oil.viscosity_at(grade, 273.15 + 37.8)
    assert 1 - hot / warm == case.printed["vtc"]


@pytest.mark.parametrize("case", load("oil", "temperature"), ids=str)
def test_the_temperature_law_is_the_published_one(case: Case) -> None:
    assert oil.viscosity_at(**case.given) == case.printed["viscosity"]


@pytest.mark.parametrize("case", load("oil", "dynamic ratio"), ids=str)
def test_a_measured_oil_lies_within_the_stated_doubt(case: Case) -> None:
    grade, cold, hot = case.given["viscosity_25"], case.given["cold"], case.given["hot"]
    dynamic = [oil.viscosity_at(grade, t) * oil.density(grade, t) for t in (cold, hot)]
    assert dynamic[0] / dynamic[1] == case.printed["ratio"]
    assert oil.temperature_uncertainty(cold, known_at=hot) == pytest.approx(0.05)


@pytest.mark.parametrize("case", load("oil", "density"), ids=str)
def test_density_is_the_printed_one(case: Case) -> None:
    assert oil.density(**case.given) == case.printed["density"]


@pytest.mark.parametrize("case", load("oil", "expansion"), ids=str)
def test_expansion_is_near_that_of_a_measured_fluid(case: Case) -> None:
    assert case.printed["expansion"] == oil.EXPANSION


@pytest.mark.parametrize("celsius", [-24, 0, 60, 150, 250])
def test_the_temperature_law_thins_oil_degree_by_degree(celsius: float) -> None:
    """S. Arrhenius, 1889: d ln nu / dT = -B/T^2, followed from 25 C by `scipy.integrate.solve_ivp`
    with the makers' B of 763.1 K in decades."""
    end = 273.15 + celsius
    run = integrate.solve_ivp(
        lambda t, nu: -763.1 * np.log(10.0) / t**2 * nu, (298.15, end), [350e-6], rtol=1e-10,
        atol=1e-20,
    )  # fmt: skip
    assert oil.viscosity_at(350e-6, end) == pytest.approx(float(run.y[0, -1]), rel=1e-7)


OILS, SHARES = np.array([20.0, 350.0, 60_000.0]), np.array([0.2, 0.5, 0.3])


@pytest.mark.parametrize(("law", "power"), [("log", 0.0), ("chain", 2 / 3)])
def test_two_of_the_laws_are_means_that_scipy_knows(law: oil.LawName, power: float) -> None:
    """The weighted power mean of three oils; of power 0 it is the geometric one."""
    mean = stats.pmean(OILS, power, weights=SHARES)
    ours = oil.blend(list(zip(SHARES, OILS * 1e-6, strict=True)), law)
    assert ours == pytest.approx(float(mean) * 1e-6, rel=1e-9)
    plain, _, high = oil.Steps(200e-6, 600e-6).at(2, 3)
    of_two = float(stats.pmean([200.0, 600.0], power, weights=[2, 3])) * 1e-6
    assert (plain if law == "log" else high) == pytest.approx(of_two, rel=1e-9)


@pytest.mark.parametrize(("law", "constant"), [("double-log", 0.7), ("refutas", 0.8)])
@pytest.mark.parametrize("share", [0.1, 0.5, 0.8])
def test_the_other_laws_thicken_step_by_step(
    law: oil.LawName, constant: float, share: float
) -> None:
    """A straight line on paper whose axis is ln ln(nu + c) means d nu/dx = K (nu + c) ln(nu + c):
    K by `scipy.integrate.quad` from the two oils, the way to the share by `solve_ivp`."""
    thin, thick = 20.0, 60_000.0

    def slope(nu: float) -> float:
        return (nu + constant) * np.log(nu + constant)

    # In ln nu, in which both integrands are smooth.
    span = integrate.quad(lambda u: np.exp(u) / slope(np.exp(u)), np.log(thin), np.log(thick))[0]
    run = integrate.solve_ivp(
        lambda _, nu: span * slope(nu), (0.0, share), [thin], rtol=1e-10, atol=1e-10
    )
    ours = oil.blend([(1 - share, thin * 1e-6), (share, thick * 1e-6)], law)
    assert ours == pytest.approx(float(run.y[0, -1]) * 1e-6, rel=1e-6)


@pytest.mark.parametrize(("thin", "thick", "most"), [(100, 1000, 7e-3), (200, 600, 2e-3)])
@pytest.mark.parametrize(("law", "power"), [("log", 0.0), ("chain", 2 / 3)])
def test_kinematic_by_volume_is_nearly_dynamic_by_mass(
    law: oil.LawName, power: float, thin: float, thick: float, most: float
) -> None:
    """The handbooks' way through the densities, with the means of `scipy.stats`."""
    heavy = np.array([oil.density(thin * 1e-6), oil.density(thick * 1e-6)])
    for share in np.linspace(0.05, 0.95, 19):
        volumes = np.array([1 - share, share])
        mass = volumes * heavy
        dynamic = stats.pmean(np.array([thin, thick]) * heavy, power, weights=mass)
        kinematic = dynamic / mass.sum() * 1e-6
        ours = oil.blend([(1 - share, thin * 1e-6), (share, thick * 1e-6)], law)
        assert ours == pytest.approx(kinematic, rel=most)


@pytest.mark.parametrize("case", load("oil", "silicone blend"), ids=str)
def test_the_measured_blend_of_two_silicone_oils_lies_in_the_band(case: Case) -> None:
    """Dynamic viscosity and parts by weight, of oils of one density to 2 in 1000: as good as
    kinematic and by volume. That a grade is within a twentieth of what it is sold as is from
    memory; the middle law is then off by less than half of the band."""
    share, dense = case.given["share"], 972.0
    measured = case.printed["viscosity"].expected / dense
    thin, thick = case.given["thin"] / dense, case.given["thick"] / dense
    parts = [(1 - share, thin), (share, thick)]
    low, high = oil.band(parts)
    assert low < oil.blend(parts) < 0.95 * measured and 1.05 * measured < high
    term = oil.interaction(share, thin, thick, measured)
    assert 0 < term < 1  # thicker than the log law, as chains that tangle are
    assert oil.blend_measured(share, thin, thick, term) == pytest.approx(measured)
    there = oil.share_of_thick_measured(measured, thin, thick, term)
    assert there == pytest.approx(share)
