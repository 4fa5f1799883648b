"""The site with the network gone, half there, and changing under an open page."""

from __future__ import annotations

import shutil
import time
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.site.hands import (
    PATIENCE,
    Visitor,
    is_offline,
    live,
    net,
    network_is_back,
    opened,
    stop_clock,
    trial,
)
from tests.site.hosting import Site

EMPTY_ONE = """async (ending) => {
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      if (new URL(request.url).pathname.endsWith(ending)) await cache.delete(request);
    }
  }
}"""
PRACTISED = "localStorage['damper-bench-practised'] ?? null"
# What the page has said of being kept, state after state: some are over before they are looked for.
SAID = """
  globalThis.said = [];
  new MutationObserver(() => {
    const line = document.getElementById("offline-state").textContent;
    said.push(`${document.documentElement.dataset.offline}: ${line}`);
  }).observe(document, { subtree: true, attributeFilter: ["data-offline"] });
"""
SCRIPTS_IN_USE = "() => performance.getEntriesByType('resource').map((entry) => entry.name)"


def answers(page: Page) -> None:
    """What is typed into the open form changes its answer."""
    page.goto(page.url.partition("#")[0] + "#oil-blend")
    share = page.locator("#oil-blend-answer [data-quantity]").first
    before = share.get_attribute("data-value")
    assert before is not None
    trial(page.locator("#oil-blend [name=thin]"), "350")
    expect(share).not_to_have_attribute("data-value", before, timeout=PATIENCE)


def until_nothing_waits(page: Page) -> None:
    """No service worker has been installed that is not in charge yet."""
    session = page.context.new_cdp_session(page)
    state: dict[str, str] = {}
    told = "ServiceWorker.workerVersionUpdated"
    session.on(told, lambda it: state.update((v["versionId"], v["status"]) for v in it["versions"]))
    session.send("ServiceWorker.enable")
    end = time.monotonic() + PATIENCE / 1000
    while "activated" not in state.values() or "installed" in state.values():
        assert time.monotonic() < end, state
        page.wait_for_timeout(20)  # lets what the browser tells come in
    session.detach()


@pytest.fixture
def copy(dist: Path, tmp_path: Path) -> Path:
    """The built site in a folder that a test may spoil."""
    return shutil.copytree(dist, tmp_path / "copy")


def test_answers_with_the_network_gone_in_any_folder_of_a_host(
    own_site: Site, visitor: Visitor, copy: Path, outside: list[str]
) -> None:
    """Each file is asked for once, nothing of anybody else; Python does not practise meanwhile."""
    own_site.server.root = copy.parent
    address = f"{own_site.url}{copy.name}/"
    page = visitor(service_workers="allow").new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address)
    live(page)
    is_offline(page, "safe")
    assert own_site.server.asked.count(f"{copy.name}/guides/spring-swap.html") == 1
    assert [url for url in asked if url.endswith("/practice.js")] == []
    assert page.evaluate(PRACTISED) is None
    # A link out is not swallowed.
    away = page.goto(f"{address}no-such-page")
    assert away is not None and away.status == 404
    own_site.stop()
    again = page.context.new_page()
    page.close()
    for ending in ("index.html", "?from=pit", "index.html?a=1&b=2#x", "#x", ""):
        again.goto("about:blank")
        again.goto(address + ending)
        is_offline(again, "safe")
    live(again)
    answers(again)
    assert outside == []
    own_site.start()


ALIKE = pytest.mark.wide("one file is like another")


@pytest.mark.parametrize(
    "name",
    [
        "index.html",
        pytest.param("app.zip.packed", marks=ALIKE),
        pytest.param("icon-512.png", marks=ALIKE),
    ],
)
def test_one_file_missing_is_never_called_safe(own_site, visitor: Visitor, name: str) -> None:
    own_site.server.hurried = False  # with the pauses that a phone makes
    # The page itself comes from "/", the service worker asks for it by name.
    own_site.server.broken.add(name)
    page = visitor(service_workers="allow").new_page()
    page.goto(own_site.url)
    is_offline(page, "failed")
    own_site.server.broken.clear()
    network_is_back(page)


@pytest.mark.parametrize("name", ["icon.svg", "image.packed"], ids=["small", "large"])
def test_a_file_that_differs_in_one_bit_is_never_called_safe(
    own_site, visitor: Visitor, copy: Path, name: str
) -> None:
    """Python does not start from such an image either."""
    own_site.server.root = copy
    file = next(copy.glob(f"a-*/{name}"))
    content = bytearray(file.read_bytes())
    content[len(content) // 2] ^= 1
    file.write_bytes(content)
    page = visitor(service_workers="allow").new_page()
    page.goto(own_site.url)
    live(page)
    boot = "stock" if name == "image.packed" else "restored"
    expect(page.locator("html")).to_have_attribute("data-boot", boot)
    is_offline(page, "failed")


def test_a_large_file_comes_in_pieces_over_a_link_that_breaks(
    own_site, visitor: Visitor, dist: Path
) -> None:
    """Each connection gives half a megabyte of it: it is never whole in one answer."""
    own_site.server.most["image.packed"] = 500_000
    page = visitor(service_workers="allow").new_page()
    page.goto(own_site.url)
    is_offline(page, "safe")
    (image,) = dist.glob("a-*/image.packed")
    assert own_site.server.cut["image.packed"] >= image.stat().st_size // 500_000
    own_site.stop()
    page.reload()
    live(page)
    expect(page.locator("html")).to_have_attribute("data-boot", "restored")
    own_site.start()


@pytest.mark.parametrize(
    ("content", "ending"),
    [
        (b"<!doctype html><title>Log in</title>", ".html"),
        pytest.param(b"// as a type that is none", ".txt", marks=ALIKE),
    ],
)
def test_a_page_in_place_of_the_service_worker_is_said_and_tried_again(
    own_site, visitor: Visitor, copy: Path, content: bytes, ending: str
) -> None:
    """A network to log in to answers everything with a page of its own: no fault of the browser."""
    own_site.server.root = copy
    own_site.server.instead["sw.js"] = (content, ending)
    page = visitor(service_workers="allow").new_page()
    page.goto(own_site.url)
    is_offline(page, "barred")
    expect(page.locator("#offline-state")).to_contain_text("a page to log in")
    own_site.server.instead.clear()
    network_is_back(page)


def test_a_device_without_room_says_so_and_is_asked_again_when_looked_at(
    own_site, visitor: Visitor
) -> None:
    page = visitor(service_workers="allow").new_page()
    session = page.context.new_cdp_session(page)
    origin = own_site.url.rstrip("/")
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin, "quotaSize": 3_000_000})
    page.goto(own_site.url)
    is_offline(page, "full")
    expect(page.locator("#offline-state")).to_contain_text("no room")
    session.send("Storage.overrideQuotaForOrigin", {"origin": origin})
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    is_offline(page, "safe")


def test_the_first_answer_has_the_network_for_itself(own_site, visitor: Visitor) -> None:
    """Where Python does not come, the site is taken once nobody has touched the page for long."""
    page = visitor(service_workers="allow").new_page()
    stop_clock(page)
    page.route("**/worker.js", lambda route: None)  # Python is on its way for ever
    page.goto(own_site.url + "#oil-blend")
    expect(page.locator("html")).to_have_attribute("data-engine", "starting")
    page.clock.run_for(59_000)
    page.mouse.wheel(0, 100)
    page.wait_for_function("() => scrollY > 0")
    page.clock.run_for(59_000)
    assert "sw.js" not in own_site.server.asked
    page.clock.run_for(2_000)
    expect(page.locator("html")).to_have_attribute("data-offline", "taking")
    assert own_site.server.asked.count("sw.js") == 1


def test_what_was_evicted_is_noticed_and_taken_again(same_site: Site, owner: Page) -> None:
    page = owner
    page.evaluate(EMPTY_ONE, "app.zip.packed")
    same_site.server.broken.add("app.zip.packed")
    page.reload()
    is_offline(page, "lost")
    same_site.server.broken.clear()
    network_is_back(page)
    same_site.stop()
    assert page.evaluate("path => fetch(path).then(r => r.ok)", evicted(page))
    same_site.start()


def test_answers_are_safe_before_the_rest_is(own_site, visitor: Visitor) -> None:
    """A first installation whose last files do not come: it is said how far it is, answers work
    with the network gone, without the image too, and the next start goes on once it is back."""
    own_site.server.broken |= {"image.packed", "words.html"}
    page = visitor(service_workers="allow").new_page()
    page.add_init_script(SAID)
    page.goto(f"{own_site.url}#oil-blend")
    live(page)
    is_offline(page, "failed")
    said = "answers: Answers work without a network now"
    assert [line for line in page.evaluate("said") if line.startswith(said)]
    own_site.stop()
    page.reload()
    live(page)
    expect(page.locator("html")).to_have_attribute("data-boot", "stock")
    answers(page)
    own_site.start()
    network_is_back(page)
    page.reload()
    live(page)
    expect(page.locator("html")).to_have_attribute("data-boot", "restored")


def evicted(page: Page) -> str:
    """Where the evicted file is: beside the scripts."""
    scripts = page.locator("script[type=module]").first.get_attribute("src")
    assert scripts is not None
    return scripts.rpartition("/")[0] + "/app.zip.packed"


def test_an_open_page_keeps_its_version_until_asked(same_site: Site, owner: Page, newer) -> None:
    folder, version = newer
    page = owner
    other = page.context.new_page()
    other.goto(same_site.url)
    is_offline(other, "safe")

    same_site.server.root = folder
    page.reload()
    live(page)
    is_offline(page, "update")
    assert not any(version in name for name in page.evaluate(SCRIPTS_IN_USE))

    # In the middle of an entry, when the change is accepted.
    page.goto(f"{same_site.url}#collar-turns")
    wanted = page.locator('form[id="collar-turns"] [name="wanted_height"]')
    trial(wanted, "24,25")
    page.evaluate("window.untouched = true")
    other.evaluate("window.untouched = true")
    page.locator("#offline-state button").click()
    expect(page.locator(f"script[src*='{version}']").first).to_be_attached(timeout=PATIENCE)
    live(page)
    is_offline(page, "safe")
    expect(wanted).to_have_value("24,25")
    # The other page is told, and not reloaded under the user's hands.
    is_offline(other, "update")
    assert other.evaluate("window.untouched") is True
    # Everything is of the new version, with the network gone too.
    same_site.stop()
    page.reload()
    live(page)
    names = page.evaluate(SCRIPTS_IN_USE)
    assert [name for name in names if "/a-" in name and version not in name] == []
    assert any(version in name for name in names)
    same_site.start()


def done_once(page: Page, address: str) -> None:
    """The collars were turned by what the demo car's answer said, and not by twice that."""
    opened(page, address, "log")
    for corner in ("front_left", "front_right"):
        expect(net(page, corner)).to_have_text("1 1/4 down")


def test_done_with_the_network_gone_is_done_once(same_site: Site, owner: Page) -> None:
    page = owner
    same_site.stop()
    opened(page, same_site.url, "collar-turns")
    page.locator('#collar-turns-answer [data-do="done"]').dblclick()
    expect(page.locator("#collar-turns-answer .carried")).to_be_visible()
    page.reload()
    done_once(page, same_site.url)
    same_site.start()


def test_done_while_the_new_version_takes_over_is_done_once(
    same_site: Site, owner: Page, newer
) -> None:
    folder, version = newer
    page = owner
    same_site.server.root = folder
    page.reload()
    live(page)
    is_offline(page, "update")
    opened(page, same_site.url, "collar-turns")
    expect(page.locator('#collar-turns-answer [data-do="done"]')).to_be_visible()
    page.evaluate(
        """() => {
          document.querySelector('#collar-turns-answer [data-do="done"]').click();
          document.querySelector("#offline-state button").click();
        }"""
    )
    expect(page.locator(f"script[src*='{version}']").first).to_be_attached(timeout=PATIENCE)
    live(page)
    done_once(page, same_site.url)


def test_the_next_cold_start_takes_the_new_version(same_site: Site, owner: Page, newer) -> None:
    folder, version = newer
    page = owner
    same_site.server.root = folder
    page.reload()
    is_offline(page, "update")
    blank = page.context.new_page()
    page.close()
    until_nothing_waits(blank)  # the browser notices after a moment that nobody is left
    same_site.stop()
    blank.goto(same_site.url)
    expect(blank.locator(f"script[src*='{version}']").first).to_be_attached(timeout=PATIENCE)
    live(blank)
    is_offline(blank, "safe")
    same_site.start()


def test_the_proxy_would_have_noticed(visitor: Visitor, outside) -> None:
    assert visitor().new_page().goto("http://elsewhere.invalid/").status == 403
    assert outside[0] == "GET http://elsewhere.invalid/"
