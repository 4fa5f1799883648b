"""A start goes on where something in it fails: that is said in its place."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from tests.site import engines
from tests.site.hands import field, live, trial, visiting
from tests.site.hosting import Site
from tests.site.keeping import STAND_IN, on_stand_in, with_stand_in

FORM = "collar-turns"
FAULT = "There is no answer to this, because of a fault in this site"
LOADED = "performance.getEntriesByType('resource').map(({ name }) => name.split('/').pop())"
# Where site data is blocked.
NOTHING_KEPT = {"network.cookie.cookieBehavior": 2}


@pytest.fixture
def device(browser: Browser) -> Iterator[BrowserContext]:
    with visiting(browser, python="within") as context:
        yield context


def test_a_damaged_link_says_so_and_the_start_goes_on(device: BrowserContext, site: Site) -> None:
    """As a scanned code opens it: it is the first address."""
    page = device.new_page()
    page.add_init_script(STAND_IN)
    page.goto(f"{site.url}#car=refuse")
    live(page)
    expect(page.locator("#notice")).to_contain_text("Refused by the stand-in")
    expect(page.locator('[data-page="cars"]')).to_be_visible()
    expect(page.locator("#kept-told")).not_to_be_empty()  # comes after it
    page.wait_for_function(f"() => {LOADED}.includes('folds.js')")  # and this last of all


def test_nothing_waits_for_a_promise_that_the_user_is_asked_for(
    device: BrowserContext, site: Site
) -> None:
    """Some browsers put the question of keeping to the user, who may let it stand for ever."""
    page = on_stand_in(device, site.url, "cars")
    page.get_by_role("button", name="New car", exact=True).click()
    expect(page.locator("#notice")).not_to_be_empty()
    page.add_init_script("""
      navigator.storage.persisted = async () => false;
      navigator.storage.persist = () => (globalThis.asked = true, new Promise(() => {}));
    """)
    page.reload()
    live(page)
    expect(page.locator("#kept-told")).to_contain_text("has not promised")
    page.wait_for_function("() => globalThis.asked")
    page.wait_for_function(f"() => {LOADED}.includes('folds.js')")


@pytest.mark.parametrize(
    ("text", "says"), [("fault", FAULT), ("refuse", "Refused by the stand-in")]
)
def test_a_question_that_fails_says_so_in_its_panel(
    device: BrowserContext, site: Site, text: str, says: str
) -> None:
    """The answer before must not pass for its own; at the next start Python is up all the same."""
    page = on_stand_in(device, site.url, FORM)
    panel = page.locator(f'[id="{FORM}-answer"]')
    trial(field(page, FORM, "pitch"), "1")
    expect(panel.locator('[data-said="pitch"]')).to_have_text("1")
    trial(field(page, FORM, "pitch"), text)
    expect(panel).to_contain_text(says)
    assert panel.locator("[data-said]").count() == 0
    page.reload()
    live(page)
    expect(panel).to_contain_text(says)
    expect(field(page, FORM, "pitch")).to_have_value(text)
    trial(field(page, FORM, "pitch"), "2")
    expect(panel.locator('[data-said="pitch"]')).to_have_text("2")
    assert says not in panel.inner_text()


def test_a_change_that_fails_says_so_and_keeps_what_was_typed(
    device: BrowserContext, site: Site
) -> None:
    page = on_stand_in(device, site.url, "log")
    page.locator("#log-note-text").fill("a fault")
    page.get_by_role("button", name="Save", exact=True).click()
    expect(page.locator("#notice")).to_contain_text(FAULT)
    expect(page.locator("#log-note-text")).to_have_value("a fault")


def test_firefox_starts_where_a_site_may_keep_nothing(dist: Path, tmp_path: Path) -> None:
    engines.need("Firefox")
    site = Site(with_stand_in(dist, tmp_path / "dist"))
    with engines.firefox(tmp_path / "profile", NOTHING_KEPT) as engine:
        engine.open(f"{site.url}#{FORM}")
        engine.wait("document.documentElement.dataset.engine === 'live'")
        engine.script(
            f"const field = document.querySelector('#{FORM} [name=pitch]'); field.value = '1';"
            "field.dispatchEvent(new Event('input', { bubbles: true }))"
        )
        engine.wait(f"document.querySelector('#{FORM}-answer [data-said=pitch]').innerText === '1'")
        engine.wait("document.getElementById('notice').innerText.includes('did not keep that')")
    site.stop()
