"""The table of sources is that of the tests as they are."""

import subprocess
import sys
from pathlib import Path

from tests.reference import sources

HERE = Path(__file__).parent
LEAST_AT_TWO, MOST_AT_NONE = 40, 40


def test_the_table_is_printed_by_its_program_from_these_tests() -> None:
    made = subprocess.run(
        [sys.executable, "-m", "tests.reference.sources"], cwd=sources.ROOT, capture_output=True,
        text=True, check=True,
    ).stdout  # fmt: skip
    assert (HERE / "SOURCES.md").read_text("utf-8") == made


def test_no_fewer_relations_have_two_sources_than_had() -> None:
    counts = [sources.outside(one) for one in sources.checked()]
    assert sum(n >= 2 for n in counts) >= LEAST_AT_TWO
    assert counts.count(0) <= MOST_AT_NONE
