"""Oil against published figures: see oil.toml for each source."""

import numpy as np
import pytest

from calc.physics import oil
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("oil", "blend"), ids=str)
def test_a_blend_is_what_the_law_says_elsewhere(case: Case) -> None:
    assert oil.blend(**case.given) == case.printed["viscosity"]


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
    assert oil.temperature_doubt(cold, known_at=hot) == pytest.approx(0.05)


@pytest.mark.parametrize("case", load("oil", "density"), ids=str)
def test_density_is_the_printed_one(case: Case) -> None:
    assert oil.density(**case.given) == case.printed["density"]


@pytest.mark.parametrize("case", load("oil", "expansion"), ids=str)
def test_expansion_is_near_that_of_a_measured_fluid(case: Case) -> None:
    assert case.printed["expansion"] == oil.EXPANSION


def test_the_temperature_law_in_numpy() -> None:
    """The relation written down again, apart from the code, over its whole range."""
    temperatures = np.linspace(oil.COLDEST, oil.HOTTEST, 23)
    expected = 350e-6 * 10 ** (763.1 / temperatures - 763.1 / 298.15)
    ours = [oil.viscosity_at(350e-6, float(t)) for t in temperatures]
    np.testing.assert_allclose(ours, expected, rtol=1e-12)
