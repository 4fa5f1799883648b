"""A built site on loopback whose network can really be cut, and a browser to look at it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from http.server import BaseHTTPRequestHandler, HTTPServer, ThreadingHTTPServer
from pathlib import Path
from typing import ClassVar

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    ProxySettings,
    expect,
    sync_playwright,
)

from site_src.build import browser as browsers
from site_src.build.assemble import build
from site_src.build.server import Handler, SiteServer
from site_src.build.toolchain import npm_packages

PATIENCE = 60_000  # ms; two slow shared cores
REPORT_VIOLATIONS = """
addEventListener("securitypolicyviolation", (event) =>
  console.error("policy violation: " + event.violatedDirective + " " + event.blockedURI));
"""


class FaultyHandler(Handler):
    """Varies its answers, as some hosts do, and lacks what the test says is broken."""

    server: FaultyServer

    def do_GET(self) -> None:  # noqa: N802 - the name http.server calls
        path = self.path.partition("?")[0].lstrip("/")
        self.server.asked.append(path)
        if any(path.endswith(name) for name in self.server.broken):
            self.send_error(404)
        else:
            super().do_GET()

    def end_headers(self) -> None:
        self.send_header("Vary", "Accept, Origin")
        super().end_headers()


class FaultyServer(SiteServer):
    """Remembers what was asked for; `broken` holds endings of paths that are not found."""

    def __init__(self, root: Path, port: int) -> None:
        self.broken: set[str] = set()
        self.asked: list[str] = []
        super().__init__(root, port, FaultyHandler)


class Site:
    """A served folder. stop() cuts the network; start() brings it back on the same port."""

    def __init__(self, root: Path) -> None:
        self.server = FaultyServer(root, 0)
        _serve(self.server)

    @property
    def url(self) -> str:
        return self.server.address

    def stop(self) -> None:
        self.server.shutdown()
        self.server.server_close()

    def start(self) -> None:
        self.server = FaultyServer(self.server.root, self.server.server_port)
        _serve(self.server)


def _serve(server: HTTPServer) -> None:
    # The short poll makes shutdown() quick.
    threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()


class Outside(BaseHTTPRequestHandler):
    """The proxy between the browser and every host but this: notes who was asked for, refuses."""

    asked: ClassVar[list[str]] = []

    def do_GET(self) -> None:
        self.asked.append(f"{self.command} {self.path}")
        self.send_error(403)

    do_CONNECT = do_POST = do_HEAD = do_GET  # noqa: N815 - the names http.server calls

    def log_message(self, format: str, *args: object) -> None:
        """Nothing to print: the test looks at `asked`."""


@pytest.fixture(scope="session")
def dist(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site as built from the sources as they are."""
    out = tmp_path_factory.mktemp("site") / "dist"
    build(out, npm_packages())
    return out


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
def proxy() -> Iterator[HTTPServer]:
    """Stands where every other host would be."""
    with ThreadingHTTPServer(("127.0.0.1", 0), Outside) as server:
        _serve(server)
        yield server
        server.shutdown()


@pytest.fixture
def outside(proxy: HTTPServer) -> list[str]:
    """What the browser asked of anybody but us since the test began; has to stay empty."""
    Outside.asked.clear()
    return Outside.asked


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium; where there is none the tests fail, they are not skipped."""
    with sync_playwright() as playwright:
        try:
            chromium = browsers.launch(playwright)
        except browsers.NoBrowser as error:
            pytest.fail(str(error), pytrace=False)
        yield chromium
        chromium.close()


@pytest.fixture
def visitor(browser: Browser, proxy: HTTPServer) -> Iterator[Callable[[], BrowserContext]]:
    """Makes somebody who has never been here; a broken policy or script fails the test."""
    complaints: list[str] = []

    def note(message: ConsoleMessage) -> None:
        # Other errors there are as they should be: a file that a test has taken away, for one.
        if "policy violation" in message.text or "Content Security Policy" in message.text:
            complaints.append(message.text)

    with ExitStack() as contexts:

        def make() -> BrowserContext:
            # For this visitor alone: what the browser asks for itself does not count.
            through = ProxySettings(server=f"127.0.0.1:{proxy.server_port}", bypass="127.0.0.1")
            context = contexts.enter_context(browser.new_context(proxy=through))
            context.set_default_timeout(PATIENCE)
            context.add_init_script(REPORT_VIOLATIONS)
            context.on("console", note)
            context.on("weberror", lambda e: complaints.append(str(e.error)))
            return context

        yield make
    assert not complaints


@pytest.fixture(scope="session")
def page(browser: Browser, site: Site) -> Iterator[Page]:
    """One page for all tests that only use the site: Python in it is up."""
    with browser.new_context() as context:
        context.set_default_timeout(PATIENCE)
        page = context.new_page()
        page.goto(site.url)
        expect(page.locator("html")).to_have_attribute("data-engine", "live", timeout=PATIENCE)
        yield page


ABSENT = pytest.StashKey[dict[str, str]]()


@pytest.fixture(scope="session")
def absent_engines(pytestconfig: pytest.Config) -> dict[str, str]:
    """Engines that could not be tested -> packages that they come in."""
    return pytestconfig.stash.setdefault(ABSENT, {})


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say in the last lines which engines were not there."""
    for name, packages in terminalreporter.config.stash.get(ABSENT, {}).items():
        terminalreporter.write_line(f"NOT TESTED: {name} is absent (Debian: {packages}).")
