"""Tiers of the tests, and one search for all runs of one tree.

The short tier, which runs unless more is asked for, holds every promise of the project once. Tests
marked `wide` repeat a promise over more cases (all looks, all languages, all engines, many more
random entries); `--all` runs them too, and lets hypothesis search further than the short tier does.
"""

from __future__ import annotations

import pytest
from hypothesis import settings

# What fails in a helper says as much as what fails in a test.
pytest.register_assert_rewrite("tests.forms", "tests.site", "tests.damaged")

settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("wide", max_examples=1000, deadline=None)
settings.load_profile("same")
ALL = "--all"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(ALL, action="store_true", help="run the tests marked wide too")


def pytest_configure(config: pytest.Config) -> None:
    """With `--all` every page has its own Python."""
    from tests.site import beside  # not before its asserts are rewritten

    beside.may_be = not config.getoption(ALL)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out the wide tests unless all are asked for; each has to say why it is wide."""
    wide = [item for item in items if item.get_closest_marker("wide")]
    for item in wide:
        marker = item.get_closest_marker("wide")
        if marker is None or len(marker.args) != 1 or not str(marker.args[0]).strip():
            raise pytest.UsageError(f"{item.nodeid}: wide needs its reason: wide('...')")
    if not config.getoption(ALL):
        config.hook.pytest_deselected(items=wide)
        items[:] = [item for item in items if item not in set(wide)]
