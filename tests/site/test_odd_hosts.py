"""Hosts and networks that answer with something else: what is on the device goes on."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.site.hands import Visitor, is_offline, live, network_is_back, opened, trial
from tests.site.hosting import Site, hurried

FORM = "collar-turns"
ODD = {
    "unavailable": (503, b"try again later"),
    "log-in page": (200, b"<!doctype html><title>Log in</title><form><input name=room></form>"),
    "not found": (404, b"<!doctype html><title>Nothing here</title>"),
}
ALIKE = pytest.mark.wide("taken for no file, as a page not found is, which a browser may keep")
each_odd = pytest.mark.parametrize(
    "odd", [pytest.param("unavailable", marks=ALIKE), "log-in page", "not found"]
)


def version(page: Page) -> str:
    """That of the scripts in use."""
    source = page.locator("script[type=module]").first.get_attribute("src") or ""
    return source.split("/")[0].removeprefix("a-")


def typed_is_there(page: Page, address: str) -> None:
    opened(page, address, FORM)
    expect(page.locator(f"#{FORM} [name=wanted_height]")).to_have_value("24,25")
    expect(page.locator(f"#{FORM}-answer .step").first).to_contain_text("2 turns down")


def type_one(page: Page, address: str) -> None:
    opened(page, address, FORM)
    trial(page.locator(f"#{FORM} [name=wanted_height]"), "24,25")
    typed_is_there(page, address)


@each_odd
def test_on_the_device_it_goes_on_whatever_the_host_says(
    same_site: Site, owner: Page, odd: str
) -> None:
    page = owner
    mine = version(page)
    type_one(page, same_site.url)
    same_site.server.answer = ODD[odd]
    for _ in range(2):
        page.reload()
        live(page)
        typed_is_there(page, same_site.url)
        assert version(page) == mine
    same_site.server.answer = None
    network_is_back(page)
    is_offline(page, "safe")


@each_odd
def test_a_first_visit_broken_off_by_it_is_never_called_safe(
    own_site: Site, visitor: Visitor, odd: str
) -> None:
    """Python is there and the rest is on its way when the host turns odd."""
    page = visitor(service_workers="allow").new_page()
    own_site.server.broken.add("licences.html")  # so that taking the site cannot be over before
    page.goto(own_site.url)
    live(page)
    type_one(page, own_site.url)
    own_site.server.answer = ODD[odd]
    expect(page.locator("html")).to_have_attribute("data-offline", re.compile("^(failed|barred)$"))
    typed_is_there(page, own_site.url)
    own_site.server.answer = None
    own_site.server.broken.clear()
    network_is_back(page)


@each_odd
def test_an_update_through_it_leaves_the_version_that_is_there(
    same_site: Site, owner: Page, newer: tuple[Path, str], odd: str
) -> None:
    """The service worker is the new one and all the rest is odd; then the network is as it was."""
    folder, made = newer
    page = owner
    mine = version(page)
    type_one(page, same_site.url)
    same_site.server.root = folder
    same_site.server.answer, same_site.server.spared = ODD[odd], {"sw.js"}
    page.reload()
    live(page)
    typed_is_there(page, same_site.url)
    assert version(page) == mine != made
    assert page.evaluate("document.documentElement.dataset.offline") != "update"
    same_site.server.answer = None
    page.reload()
    is_offline(page, "update")
    typed_is_there(page, same_site.url)


def test_an_old_service_worker_beside_new_files_changes_nothing(
    same_site: Site, owner: Page, newer: tuple[Path, str], dist: Path
) -> None:
    """A cache between host and phone gives the old list of files for days."""
    page = owner
    mine = version(page)
    same_site.server.root = newer[0]
    same_site.server.instead["sw.js"] = (hurried(dist), ".js")
    page.reload()
    live(page)
    is_offline(page, "safe")
    assert version(page) == mine
    same_site.stop()
    page.reload()
    live(page)
    same_site.start()


def test_a_host_that_goes_back_to_an_older_build_is_followed(
    same_site: Site, owner: Page, newer: tuple[Path, str]
) -> None:
    """Which of two is the older one nobody can tell: what was typed is there in the other too."""
    page = owner
    mine = version(page)
    type_one(page, same_site.url)
    same_site.server.root = newer[0]
    page.reload()
    live(page)
    is_offline(page, "update")
    page.locator("#offline-state button").click()
    expect(page.locator(f"script[src*='{mine}']")).to_have_count(0)
    live(page)
    is_offline(page, "safe")
    assert version(page) == newer[1]
    typed_is_there(page, same_site.url)
