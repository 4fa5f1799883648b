"""Coverage of few readings, against the guide's table and scipy."""

import pytest
from scipy import stats

from calc.physics.coverage import COVERAGE_PROBABILITY, coverage_factor
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("coverage"), ids=str)
def test_the_factor_is_as_the_guide_prints_it(case: Case) -> None:
    assert [coverage_factor(n) for n in case.given["degrees"]] == case.printed["factor"]


@pytest.mark.parametrize("degrees", [1, 2, 2.5, 7, 30, 200])
def test_the_factor_agrees_with_scipy(degrees: float) -> None:
    theirs = stats.t.ppf((1 + COVERAGE_PROBABILITY) / 2, degrees)
    assert coverage_factor(degrees) == pytest.approx(theirs, rel=1e-7)


def test_without_a_reading_to_spare_there_is_none() -> None:
    with pytest.raises(ValueError, match="to spare"):
        coverage_factor(0)
