"""Firefox and WebKitGTK as Debian packages them, each driven by what it brings along.

Only the standard library: Firefox listens for its own protocol on a socket, WebKitWebDriver for
WebDriver over HTTP; beside them stands Playwright's Chromium. `Engine.script` runs a function body
in the page and returns its value.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import socket
import subprocess
import urllib.request
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from site_src.build.toolchain import debian_install
from tests.site import hands

PATIENCE = hands.PATIENCE / 1000  # s
HOST = "127.0.0.1"
# What Firefox would ask of its maker; nothing of it may be.
FIREFOX_SETTINGS = {
    "app.normandy.enabled": False,
    "app.update.enabled": False,
    "browser.newtabpage.enabled": False,
    "browser.safebrowsing.update.enabled": False,
    "browser.startup.page": 0,
    "datareporting.policy.dataSubmissionEnabled": False,
    "extensions.getAddons.cache.enabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "services.settings.server": "data:,#remote-settings-dummy/v1",
    "toolkit.telemetry.server": "data:,",
}
# Root may not use WebKitGTK's sandbox; the tests run as root in a container.
UNBOXED = {"WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"}
SCREEN = "800x1200x24"
# Programs and Debian packages of each engine.
NEEDED: dict[str, dict[str, str]] = {
    "Chromium": {},
    "Firefox": {"firefox-esr": "firefox-esr"},
    "WebKit": {"WebKitWebDriver": "webkit2gtk-driver", "Xvfb": "xvfb"},
}


class Engine:
    """A browser that is running."""

    def command(self, name: str, **parameters: object) -> Any:
        """Send one command of the engine's protocol."""
        raise NotImplementedError

    def open(self, address: str) -> None:
        """Go to an address."""
        raise NotImplementedError

    def script(self, body: str) -> Any:
        """Run a function body in the page; a promise is waited for."""
        raise NotImplementedError

    def back(self) -> None:
        """As the browser's own button does."""
        raise NotImplementedError

    def wait(self, condition: str, seconds: float = PATIENCE) -> None:
        """Until an expression holds in the page, which has no document yet for a moment."""
        there = f"return Boolean(document.documentElement && ({condition}))"
        try:
            hands.until(lambda: self.script(there), seconds)
        except TimeoutError:
            state = self.script("return JSON.stringify(document.documentElement.dataset)")
            raise TimeoutError(f"never came true: {condition}; the page: {state}") from None


class Chromium(Engine):
    """A page of the browser that the other tests use too."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.said: list[str] = []
        page.on("console", lambda message: self.said.append(message.text))

    def open(self, address: str) -> None:
        self.page.goto(address)

    def script(self, body: str) -> Any:
        return self.page.evaluate(f"() => {{ {body} }}")

    def back(self) -> None:
        self.page.go_back()

    def wait(self, condition: str, seconds: float = PATIENCE) -> None:
        """Until an expression holds, on whichever page is there by then."""
        self.page.wait_for_function(f"() => Boolean({condition})", timeout=1000 * seconds)


class Firefox(Engine):
    """Speaks length:json over a socket."""

    def __init__(self, port: int) -> None:
        self.connection = _connected(port)
        self.stream = self.connection.makefile("rb")
        self._receive()
        self.count = 0
        self.command("WebDriver:NewSession")

    def command(self, name: str, **parameters: object) -> Any:
        self.count += 1
        message = json.dumps([0, self.count, name, parameters]).encode()
        self.connection.sendall(f"{len(message)}:".encode() + message)
        _, _, error, result = self._receive()
        if error:
            raise RuntimeError(f"{name}: {error['message']}")
        return result["value"] if isinstance(result, dict) and "value" in result else result

    def close(self) -> None:
        self.stream.close()
        self.connection.close()

    def _receive(self) -> Any:
        length = b""
        while (byte := self.stream.read(1)) != b":":
            length += byte
        return json.loads(self.stream.read(int(length)))

    def open(self, address: str) -> None:
        self.command("WebDriver:Navigate", url=address)

    def script(self, body: str) -> Any:
        return self.command("WebDriver:ExecuteScript", script=body, args=[])

    def back(self) -> None:
        self.command("WebDriver:Back")


class WebKit(Engine):
    """WebDriver over HTTP; its browser forgets everything when it ends."""

    def __init__(self, port: int) -> None:
        _connected(port).close()
        self.base = f"http://{HOST}:{port}/session"
        options = {"binary": str(mini_browser()), "args": ["--automation"]}
        wanted = {"alwaysMatch": {"webkitgtk:browserOptions": options}}
        self.base += "/" + self.command("", capabilities=wanted)["sessionId"]
        self.command("/timeouts", script=PATIENCE * 1000)

    def command(self, name: str, **parameters: object) -> Any:
        data = json.dumps(parameters).encode()
        request = urllib.request.Request(
            self.base + name, data, {"Content-Type": "application/json"}
        )
        with urllib.request.urlopen(request, timeout=PATIENCE) as response:
            return json.loads(response.read())["value"]

    def open(self, address: str) -> None:
        self.command("/url", url=address)

    def script(self, body: str) -> Any:
        return self.command("/execute/sync", script=body, args=[])

    def back(self) -> None:
        self.command("/back")


def mini_browser() -> Path:
    """The browser that comes with WebKitGTK."""
    return next(Path("/usr/lib").glob("**/webkit2gtk-4.*/MiniBrowser"))


def need(name: str) -> None:
    """Have this engine installed. Where it cannot be had the test is skipped, in CI it fails."""
    for program, package in NEEDED[name].items():
        if not shutil.which(program):
            debian_install(package)
    missing = [package for program, package in NEEDED[name].items() if not shutil.which(program)]
    if missing:
        give_up = pytest.fail if os.environ.get("CI") else pytest.skip
        give_up(f"{name} is absent (Debian: {', '.join(missing)})")


@contextlib.contextmanager
def running(name: str, browser: Browser, profile: Path) -> Iterator[Engine]:
    """The engine of that name; `browser` is the Chromium of the other tests."""
    need(name)
    if name != "Chromium":
        with (firefox if name == "Firefox" else webkit)(profile) as engine:
            yield engine
        return
    with browser.new_context(service_workers="block") as context:
        yield Chromium(context.new_page())


@contextlib.contextmanager
def firefox(profile: Path, more: Mapping[str, object] | None = None) -> Iterator[Engine]:
    """A Firefox without a window, with this profile and more settings than ours."""
    port = _free_port()
    profile.mkdir(exist_ok=True)
    settings = {**FIREFOX_SETTINGS, **(more or {}), "marionette.port": port}
    lines = (f"user_pref({json.dumps(k)}, {json.dumps(v)});" for k, v in settings.items())
    (profile / "user.js").write_text("\n".join(lines), "utf-8")
    command = ["firefox-esr", "--headless", "--marionette", "--no-remote", "--profile", profile]
    with _running(command, os.environ | {"MOZ_DISABLE_CONTENT_SANDBOX": "1"}) as process:
        with contextlib.closing(Firefox(port)) as engine:
            yield engine
            # It writes down what it keeps when it is told to end, not when it is stopped.
            engine.command("Marionette:Quit", flags=["eForceQuit"])
        process.wait(30)


@contextlib.contextmanager
def webkit(_: Path) -> Iterator[Engine]:
    """The browser that comes with WebKitGTK, on a screen that is nowhere."""
    port, screen = _free_port(), f":{100 + os.getpid() % 900}"
    settings = UNBOXED | {"DISPLAY": screen}
    with (
        _running(["Xvfb", screen, "-screen", "0", SCREEN], os.environ),
        _running(["WebKitWebDriver", f"--port={port}"], os.environ | settings),
    ):
        hands.until(Path(f"/tmp/.X11-unix/X{screen[1:]}").exists)
        engine = WebKit(port)
        yield engine
        request = urllib.request.Request(engine.base, method="DELETE")
        urllib.request.urlopen(request, timeout=PATIENCE).close()


@contextlib.contextmanager
def _running(command: list[Any], environment: Any) -> Iterator[subprocess.Popen[bytes]]:
    process = subprocess.Popen(
        command,
        env=environment,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        yield process
    finally:
        process.terminate()
        process.wait(30)


def _connected(port: int) -> socket.socket:
    made: list[socket.socket] = []

    def connect() -> bool:
        with contextlib.suppress(ConnectionRefusedError):
            made.append(socket.create_connection((HOST, port), timeout=PATIENCE))
        return bool(made)

    hands.until(connect)
    return made[0]


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        port: int = probe.getsockname()[1]
        return port
