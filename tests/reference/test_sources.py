"""Every relation is checked against something outside: the program that reads the tests says."""

from pathlib import Path

from tests.reference import solved, sources

HERE = Path(__file__).parent
LEAST_AT_TWO = 85


def test_every_relation_has_a_source_from_outside_or_is_a_definition() -> None:
    found = {one.name: one for one in sources.checked()}
    assert "library fluids" in found["bubbles.slow_speed"].sources
    counts = {name: sources.outside(one) for name, one in found.items()}
    without = [name for name, n in counts.items() if n == 0]
    assert [name for name in without if sources.DEFINED not in found[name].sources] == []
    assert sum(n >= 2 for n in counts.values()) >= LEAST_AT_TWO


def test_every_form_that_works_something_out_is_solved_a_second_time() -> None:
    found = solved.solved()
    assert {slug for slug, tests in found.items() if not tests} == solved.RECORDS
    assert found["spring-swap"]["test_spring_swap.test_two_in_series_keep_the_height_too"]


def test_the_tables_are_as_the_programs_print_them() -> None:
    for name, table in (("SOURCES", sources.table), ("SOLVED", solved.table)):
        assert (HERE / f"{name}.md").read_text("utf-8") == table(), f"print {name}.md again"
