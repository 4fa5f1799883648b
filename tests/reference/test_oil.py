"""Oil against published figures: see oil.toml for each source."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from calc.physics import oil
from tests.reference.cases import Case, load

Index = Callable[[Any], Any]


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
    assert oil.temperature_uncertainty(cold, known_at=hot) == pytest.approx(0.05)


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


@pytest.mark.parametrize(
    ("law", "there", "back"),
    [
        ("log", np.log, np.exp),
        ("cube-root", np.cbrt, lambda i: i**3),
        ("double-log", lambda v: np.log(np.log(v + 0.7)), lambda i: np.exp(np.exp(i)) - 0.7),
        (
            "refutas",
            lambda v: 14.534 * np.log(np.log(v + 0.8)) + 10.975,
            lambda i: np.exp(np.exp((i - 10.975) / 14.534)) - 0.8,
        ),
    ],
)
def test_each_law_in_numpy(law: str, there: Index, back: Index) -> None:
    """Each law as its source prints it, in cSt, for three oils at once."""
    oils, shares = np.array([20.0, 350.0, 60_000.0]), np.array([0.2, 0.5, 0.3])
    expected = back(shares @ there(oils))
    ours = oil.blend(list(zip(shares, oils * 1e-6, strict=True)), law)
    assert ours == pytest.approx(expected * 1e-6, rel=1e-9)
