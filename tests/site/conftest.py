"""The built site, somebody to look at it, and a network that can be cut."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from http.server import HTTPServer, ThreadingHTTPServer
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Playwright,
    ProxySettings,
    expect,
    sync_playwright,
)

from site_src.build import browser as browsers
from site_src.build.image import use
from site_src.live import worker
from tests.site.access import LOOKING
from tests.site.devices import Device, start
from tests.site.hands import PATIENCE, SharedPage, Visitor, is_offline, live, visiting
from tests.site.hosting import Outside, Site, built, serve
from tests.site.sheets import document

expect.set_options(timeout=PATIENCE)  # a state is waited for as long as anything else
# Python has practised: whoever comes next does not have it ask every form once more.
PRACTISED = """() => localStorage.setItem(
  "damper-bench-practised", JSON.stringify(document.documentElement.dataset.made))"""
REPORT_VIOLATIONS = """
addEventListener("securitypolicyviolation", (event) =>
  console.error("policy violation: " + event.violatedDirective + " " + event.blockedURI));
"""


@pytest.fixture(scope="session")
def dist() -> Path:
    """The site as built from the sources as they are; nobody may write there."""
    return built()


@pytest.fixture(scope="session")
def site(dist: Path) -> Iterator[Site]:
    """The built site, served; for tests that only look."""
    served = Site(dist)
    yield served
    served.stop()


@pytest.fixture
def own_site(dist: Path) -> Iterator[Site]:
    """The built site on a port of its own, for a test that breaks it or cuts the network."""
    served = Site(dist)
    yield served
    served.stop()


@pytest.fixture(scope="session")
def newer() -> tuple[Path, str]:
    """The site as it might be built another day, which alone makes it another version: its name."""
    out = built(date="1999-12-31")
    (folder,) = out.glob("a-*")
    return out, folder.name.removeprefix("a-")


@pytest.fixture(scope="session")
def proxy() -> Iterator[HTTPServer]:
    """Stands where every other host would be."""
    with ThreadingHTTPServer(("127.0.0.1", 0), Outside) as server:
        serve(server)
        yield server
        server.shutdown()


@pytest.fixture
def outside(proxy: HTTPServer) -> list[str]:
    """What the browser asked of anybody but us since the test began; has to stay empty."""
    Outside.asked.clear()
    return Outside.asked


@pytest.fixture(scope="session")
def driver() -> Iterator[Playwright]:
    """What starts browsers."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(driver: Playwright) -> Iterator[Browser]:
    """Chromium; where there is none the tests fail, they are not skipped."""
    try:
        chromium = browsers.launch(driver)
    except browsers.NoBrowser as error:
        pytest.fail(str(error), pytrace=False)
    yield chromium
    chromium.close()


@contextmanager
def listening() -> Iterator[Callable[[BrowserContext], None]]:
    """For contexts of a browser: a broken policy or script in any of them fails the test."""
    complaints: list[str] = []

    def note(message: ConsoleMessage) -> None:
        # Other errors there are as they should be: a file that a test has taken away, for one.
        if "policy violation" in message.text or "Content Security Policy" in message.text:
            complaints.append(message.text)

    def listen(context: BrowserContext) -> None:
        context.add_init_script(REPORT_VIOLATIONS)
        context.on("console", note)
        context.on("weberror", lambda e: complaints.append(str(e.error)))

    yield listen
    assert not complaints


def past(proxy: HTTPServer) -> ProxySettings:
    """The way of a visitor alone: what the browser asks for itself does not count."""
    return ProxySettings(server=f"127.0.0.1:{proxy.server_port}", bypass="127.0.0.1")


@pytest.fixture
def visitor(browser: Browser, proxy: HTTPServer) -> Iterator[Visitor]:
    """Makes somebody who has never been here."""
    with listening() as listen, ExitStack() as contexts:

        def make(**options: Any) -> BrowserContext:
            made = visiting(browser, proxy=past(proxy), **options)
            context = contexts.enter_context(made)
            listen(context)
            return context

        yield make


class Installed(NamedTuple):
    """A profile that has the whole site on the device, and the port of the host it is from."""

    profile: Path
    port: int


@pytest.fixture(scope="session")
def installed(
    driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Installed:
    """Installed once; a copy of it starts for a quarter of an installation's processor time."""
    served, profile = Site(dist), tmp_path_factory.mktemp("installed") / "profile"
    with start(driver, profile) as context:
        page = context.new_page()
        page.goto(served.url)
        is_offline(page, "safe")
        live(page)
        page.evaluate(PRACTISED)
    served.stop()
    return Installed(profile, served.server.server_port)


@pytest.fixture
def same_site(dist: Path, installed: Installed) -> Iterator[Site]:
    """The built site where `owner` has it from, for a test that breaks it or cuts the network."""
    served = Site(dist, installed.port)
    yield served
    served.stop()


@pytest.fixture
def profile(installed: Installed, tmp_path: Path) -> Iterator[Path]:
    """One that has the whole site on the device, and in which nothing was done yet."""
    copy = shutil.copytree(installed.profile, tmp_path / "profile")
    yield copy
    shutil.rmtree(copy)


@pytest.fixture
def device(driver: Playwright, profile: Path) -> Iterator[Device]:
    """Such a profile, whose browser can be killed and begun again."""
    made = Device(driver, profile)
    yield made
    made.leave()


@pytest.fixture
def owner(driver: Playwright, proxy: HTTPServer, profile: Path, same_site: Site) -> Iterator[Page]:
    """The page of somebody with such a profile."""
    with listening() as listen, start(driver, profile, proxy=past(proxy)) as context:
        listen(context)
        page = context.new_page()
        page.goto(same_site.url)
        is_offline(page, "safe")
        live(page)
        yield page


@pytest.fixture(scope="session")
def shared_page(browser: Browser, site: Site) -> Iterator[SharedPage]:
    shared = SharedPage(browser, site.url)
    yield shared
    shared.close()


@pytest.fixture
def page(shared_page: SharedPage) -> Page:
    """A page for a test that only uses the site: Python in it is up."""
    return shared_page.take()


@pytest.fixture(scope="session")
def shared_within(browser: Browser, site: Site) -> Iterator[SharedPage]:
    shared = SharedPage(browser, site.url, python="within")
    yield shared
    shared.close()


@pytest.fixture
def within(shared_within: SharedPage) -> Page:
    """Such a page with its own Python, whatever the tier."""
    return shared_within.take()


@pytest.fixture(scope="session")
def shared_eyes(browser: Browser, site: Site) -> Iterator[SharedPage]:
    shared = SharedPage(browser, site.url, LOOKING)
    yield shared
    shared.close()


@pytest.fixture
def here(shared_eyes: SharedPage) -> Page:
    """Such a page with axe-core and our own eyes in it."""
    return shared_eyes.take()


@pytest.fixture(scope="session")
def questions() -> list[dict[str, Any]]:
    """What is asked when the memory image is made, in the words of the page: of one form and of
    everything else."""
    asked: list[dict[str, Any]] = []
    answer = worker.answer

    def listen(request: str) -> str:
        asked.append(json.loads(request))
        return answer(request)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(worker, "answer", listen)
        patch.setattr(use, "FORMS", use.FORMS[:1])
        use.use_everything()
    return asked


@pytest.fixture(scope="session")
def blank(browser: Browser) -> Iterator[Page]:
    """A page to lay sheets out on, with the styles in place."""
    with visiting(browser, viewport={"width": 1300, "height": 900}) as context:
        page = context.new_page()
        page.set_content(document(""))
        yield page
