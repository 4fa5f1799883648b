"""A slow device and a slow thumb, for looking for what only goes well where all is quick.

A plugin of pytest that no run has by itself:

    python3 build_site.py test -p tests.late -n 6 tests/site

The database opens and has written late, replies of Python and scripts of the page come late, and a
button is held for a moment; how late is drawn each time. It costs time but hardly the processor,
so that several times as many processes can run as there are cores. What fails then, in a page or in
its test, fails in one of many ordinary runs.
"""

from __future__ import annotations

import random
import time
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator

SCRIPT = Path(__file__).with_suffix(".js")
FETCHED = 0.9  # s at the most, until a script of the page comes
HELD = 300  # ms at the most, between pressing a button and letting go


def drawn(most: float) -> float:
    """How late something is this time: mostly a little."""
    return most * random.random() ** 2


def pytest_configure(config: pytest.Config) -> None:
    from tests.site.hosting import FaultyHandler  # not before its asserts are rewritten

    new_context, click, get = Browser.new_context, Locator.click, FaultyHandler.do_GET

    def slow_context(self: Browser, **options: Any) -> BrowserContext:
        context = new_context(self, **options)
        context.add_init_script(path=SCRIPT)
        return context

    def slow_click(self: Locator, **how: Any) -> None:
        click(self, **{"delay": drawn(HELD), **how})

    def slow_get(self: FaultyHandler) -> None:
        if "/page/" in self.path:
            time.sleep(drawn(FETCHED))
        get(self)

    patch = pytest.MonkeyPatch()
    patch.setattr(Browser, "new_context", slow_context)
    patch.setattr(Locator, "click", slow_click)
    patch.setattr(FaultyHandler, "do_GET", slow_get)
    config.add_cleanup(patch.undo)
