"""Threads against their standards: see thread.toml."""

import pytest

from calc.physics import thread
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("thread", "engagement"), ids=str)
def test_usual_least_engagement(case: Case) -> None:
    least, safe = thread.least_engagement(**case.given)
    assert (least, safe) == (case.printed["least"], case.printed["safe"])
