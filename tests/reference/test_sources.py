"""The program that reads the table of sources out of the tests finds what there is."""

from tests.reference import sources

LEAST_AT_TWO = 40


def test_enough_relations_have_two_sources_from_outside() -> None:
    found = {one.name: one for one in sources.checked()}
    assert "library fluids" in found["bubbles.slow_speed"].sources
    counts = [sources.outside(one) for one in found.values()]
    assert sum(n >= 2 for n in counts) >= LEAST_AT_TWO
