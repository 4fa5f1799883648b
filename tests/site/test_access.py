"""axe-core finds nothing against WCAG 2.2 A and AA and best practice, on any page, in any state.

Every form is looked at answered, emptied and with a wrong entry, on a phone in light; all pages in
one more pair of width and look, which together come to all of them; some forms and all places in
another language; and whatever asks something. The wide tests look at every state in every look and
language.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import cycle
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from calc.language import ENGLISH, NAMES
from site_src.pages import guide
from site_src.pages.languages import path_in
from tests.site import access
from tests.site.access import (
    LOOKING,
    LOOKS,
    PLACES,
    SLUGS,
    WIDTHS,
    dress,
    turn_to,
    violations,
)
from tests.site.hands import SharedPage, live, visiting
from tests.site.hosting import Site

PAPER = ("sheet-one", "sheet-two", "sheet-pocket", "sheet-pocket-letter", "sheet-build")
CHARTS = ("charts", "charts-pocket", "charts-pocket-letter")
BESIDE = [f"{name}.html" for name in ("licences", "sheets", *PAPER, *CHARTS)]
BESIDE += [f"guides/{slug}.html" for slug in guide.slugs()]
OTHERS = [code for code in NAMES if code != ENGLISH]
ALL_PAGES = [*SLUGS, *PLACES]
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
DRESSED = [(name, *sample) for name, sample in zip(ALL_PAGES, cycle(SAMPLES), strict=False)]


@pytest.fixture(scope="module")
def elsewhere(browser: Browser, site: Site) -> Iterator[dict[str, SharedPage]]:
    """One page for all forms in each other language."""
    shared = {c: SharedPage(browser, site.url + path_in("index.html", c), LOOKING) for c in OTHERS}
    yield shared
    for one in shared.values():
        one.close()


@pytest.fixture(scope="module")
def reader(browser: Browser) -> Iterator[BrowserContext]:
    """Somebody who reads the pages that are no form."""
    with visiting(browser) as context:
        yield context


def states_of(page: Page, name: str) -> Iterator[str]:
    """A page in each state that it can be in, one after the other, and back as it was."""
    opened = turn_to(page, name)
    yield "answer"
    if name in SLUGS:
        form = opened.locator("form.fields")
        access.empty(form)
        yield "empty"
        access.put_back(form)
        access.type_wrong(form)
        yield "error"
        access.put_back(form)


@pytest.mark.parametrize("slug", SLUGS)
def test_a_form_answered_empty_or_wrong(here: Page, slug: str) -> None:
    dress(here, 360, "light")
    found = {state: violations(here) for state in states_of(here, slug)}
    assert found == {"answer": [], "empty": [], "error": []}


@pytest.mark.parametrize(("name", "width", "look"), DRESSED)
def test_another_width_and_look(here: Page, name: str, width: int, look: str) -> None:
    turn_to(here, name)
    dress(here, width, look)
    assert violations(here, look) == []


WORDS_ALONE = pytest.mark.wide("in another language its words differ, as those of other forms do")
SPOKEN = [
    pytest.param(name, code, marks=[WORDS_ALONE] if name in SLUGS[4:] else [])
    for name, code in zip(ALL_PAGES, cycle(OTHERS), strict=False)
]


@pytest.mark.parametrize(("name", "code"), SPOKEN)
def test_another_language(elsewhere: dict[str, SharedPage], name: str, code: str) -> None:
    """Every page in one of them: what differs between languages is words, not structure."""
    page = elsewhere[code].take()
    turn_to(page, name)
    dress(page, 360, "light")
    assert violations(page) == []


@pytest.mark.wide("each page has been looked at in one look and language of the twelve")
@pytest.mark.parametrize("number", range(len(ALL_PAGES)))
@pytest.mark.parametrize("code", NAMES)
def test_every_state_in_every_look_and_language(
    browser: Browser, site: Site, code: str, number: int
) -> None:
    shared = SharedPage(browser, site.url + path_in("index.html", code), LOOKING)
    page = shared.take()
    found = {}
    for state in states_of(page, ALL_PAGES[number]):
        for place, look in enumerate(LOOKS):
            width = list(WIDTHS)[(number + place) % len(WIDTHS)]
            dress(page, width, look)
            found[state, look, width] = violations(page, look)
    shared.close()
    assert {where: some for where, some in found.items() if some} == {}


@pytest.mark.parametrize("ask", access.ASKED)
def test_what_asks_something(browser: Browser, site: Site, ask: Any) -> None:
    with visiting(browser) as context:
        page = context.new_page()
        access.start(page, site.url)
        live(page)
        dress(page, 360, "light")
        ask(page)
        small = access.too_small(page)
        found = {}
        for look in ("light", "dark", "sun"):
            dress(page, 360, look)
            found[look] = violations(page, look)
    assert found == {"light": [], "dark": [], "sun": []}
    assert small == []


@pytest.mark.parametrize(
    ("name", "width", "look"),
    [(name, *sample) for name, sample in zip(BESIDE, cycle(SAMPLES), strict=False)],
)
def test_pages_to_read(
    reader: BrowserContext, site: Site, name: str, width: int, look: str
) -> None:
    """In one of the pairs of width and look; on a phone the targets, and text twice as large."""
    page = reader.new_page()
    access.start(page, f"{site.url}{name}")
    dress(page, width, look)
    found = violations(page, look)
    page.set_viewport_size({"width": 360, "height": WIDTHS[360]})
    found += access.too_small(page) + access.lost_when_doubled(page)
    page.close()
    assert found == []
