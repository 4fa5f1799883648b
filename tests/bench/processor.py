"""Processor seconds of each test, with those of the browsers and programs that it begins.

    python -m pytest -p tests.bench.processor tests/site/test_timer.py

On a busy machine they drift less than seconds do. A process that is killed takes its own along:
tests that kill browsers show too few. One process only, without pytest-xdist.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Generator
from pathlib import Path

import pytest

TICK = os.sysconf("SC_CLK_TCK")
SECONDS: Counter[str] = Counter()


def spent() -> float:
    """Of this process, of those that live because of it, and of those that they have outlived."""
    from tests.site.devices import family  # not before pytest has been told to rewrite helpers

    ticks = 0
    for pid in family(os.getpid()):
        try:
            stat = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
        except OSError:  # it has just ended
            continue
        ticks += sum(map(int, stat[11:15]))  # proc(5): utime, stime, cutime, cstime
    return ticks / TICK


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, object, object]:
    before = spent()
    done = yield
    SECONDS[item.nodeid] += spent() - before
    return done


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    terminalreporter.section("processor seconds")
    for name, seconds in SECONDS.most_common():
        terminalreporter.write_line(f"{seconds:.2f} {name}")
    terminalreporter.write_line(f"{sum(SECONDS.values()):.2f} in all")
