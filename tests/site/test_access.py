"""axe-core finds nothing against WCAG 2.2 A and AA and best practice, on any page, in any state.

Every form is looked at answered, emptied and with a wrong entry, on a phone in light; all pages in
two more pairs of width and look, which together come to all of them, in each other language in one;
and whatever asks something.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from calc.language import ENGLISH, NAMES
from site_src import guide
from site_src.languages import named
from tests.site import access
from tests.site.access import PLACES, SLUGS, WIDTHS, dress, open_page, violations

PAPER = ("sheet-one", "sheet-two", "sheet-pocket", "sheet-pocket-letter")
CHARTS = ("charts", "charts-pocket", "charts-pocket-letter")
BESIDE = [f"{name}.html" for name in ("licences", "sheets", *PAPER, *CHARTS)]
BESIDE += [f"guides/{slug}.html" for slug in guide.slugs()]
SAMPLES = [
    (768, "dark"),
    (1280, "sun"),
    (360, "sun"),
    (1280, "light"),
    (360, "dark"),
    (768, "sun"),
    (1280, "dark"),
    (768, "light"),
    (360, "night"),
]


@pytest.fixture(scope="module")
def here(browser: Browser, site: Any) -> Iterator[Page]:
    """One page for all forms of this file: Python in it is up."""
    with access.one_page(browser, site.url) as page:
        yield page


@pytest.fixture(scope="module", params=[code for code in NAMES if code != ENGLISH])
def elsewhere(browser: Browser, site: Any, request: pytest.FixtureRequest) -> Iterator[Page]:
    """One page for all forms in another language."""
    address = site.url + named("index.html", request.param)
    with access.one_page(browser, address) as page:
        yield page


@pytest.fixture(scope="module")
def asked(browser: Browser, site: Any) -> Iterator[Page]:
    """One page for all that asks something, and so changes what is kept."""
    with access.one_page(browser, site.url) as page:
        yield page


@pytest.fixture(scope="module")
def reader(browser: Browser) -> Iterator[BrowserContext]:
    """Somebody who reads the pages that are no form."""
    with browser.new_context(service_workers="block") as context:
        yield context


@pytest.mark.parametrize("slug", SLUGS)
def test_a_form_answered_empty_or_wrong(here: Page, slug: str) -> None:
    dress(here, 360, "light")
    form = open_page(here, slug).locator("form.fields")
    found = {"answer": violations(here)}
    access.empty(form)
    found["empty"] = violations(here)
    access.put_back(form)
    access.type_wrong(form)
    found["error"] = violations(here)
    access.put_back(form)
    assert found == {"answer": [], "empty": [], "error": []}


@pytest.mark.parametrize("number", range(len(SLUGS) + len(PLACES)))
def test_other_widths_and_looks(here: Page, number: int) -> None:
    open_page(here, [*SLUGS, *PLACES][number])
    found = {}
    for sample in (SAMPLES[number % len(SAMPLES)], SAMPLES[(number + 2) % len(SAMPLES)]):
        dress(here, *sample)
        found[sample] = violations(here, sample[1])
    assert {sample: some for sample, some in found.items() if some} == {}


@pytest.mark.parametrize("number", range(len(SLUGS) + len(PLACES)))
def test_other_languages(elsewhere: Page, number: int) -> None:
    open_page(elsewhere, [*SLUGS, *PLACES][number])
    width, look = SAMPLES[number % len(SAMPLES)]
    dress(elsewhere, width, look)
    assert violations(elsewhere, look) == []


@pytest.mark.parametrize("ask", access.ASKED)
def test_what_asks_something(asked: Page, ask: Any) -> None:
    dress(asked, 360, "light")
    ask(asked)
    small = access.too_small(asked)
    found = {}
    for look in ("light", "dark", "sun"):
        dress(asked, 360, look)
        found[look] = violations(asked, look)
    assert found == {"light": [], "dark": [], "sun": []}
    assert small == []


@pytest.mark.parametrize("number", range(len(BESIDE)))
def test_pages_to_read(reader: BrowserContext, site: Any, number: int) -> None:
    """In one of the pairs of width and look; on a phone the targets, and text twice as large."""
    page = reader.new_page()
    access.start(page, f"{site.url}{BESIDE[number]}")
    width, look = SAMPLES[number % len(SAMPLES)]
    dress(page, width, look)
    found = violations(page, look)
    page.set_viewport_size({"width": 360, "height": WIDTHS[360]})
    found += access.too_small(page) + access.lost_when_doubled(page)
    page.close()
    assert found == []
