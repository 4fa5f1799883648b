"""A Chromium for the tests, from wherever there is one."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from contextlib import suppress
from functools import cache
from importlib.metadata import version
from pathlib import Path

from playwright.sync_api import Browser, Playwright

from site_src.build.toolchain import ROOT, debian_install

# Headless, a visit takes half the processor time: 0.65 s instead of 1.4.
HEADLESS_PACKAGE = "chromium-headless-shell"
NAMES = (HEADLESS_PACKAGE, "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
# Chromium reads only the last list of features, so this one repeats those that Playwright disables
# to prevent contact with hosts of its maker, and adds the first, which asks them about every form.
UNWANTED = (
    "AutofillServerCommunication",
    "AimEnabled",
    "HttpsUpgrades",
    "MediaRouter",
    "NetworkTimeServiceQuerying",
    "OptimizationHints",
    "PreconnectToSearch",
)
# Without these it contacts hosts of its maker, which no test may do.
QUIET = (
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    f"--disable-features={','.join(UNWANTED)}",
)
# As wide as Helvetica, in which sheets and charts are laid out; a bare Debian has wider fonts only.
LETTERS, LETTERS_PACKAGE = ("Arial", "Helvetica", "Liberation Sans"), "fonts-liberation"
NONE_FOUND = (
    "The browser tests need Chromium and there is none: run `playwright install chromium` "
    "or install the package chromium."
)


class NoBrowser(Exception):
    """No Chromium on this machine, and none could be fetched."""


def launch(playwright: Playwright) -> Browser:
    """Start Chromium without a window: Playwright's own, the machine's, or Debian's package."""
    # Chromium refuses to run its sandbox as root, as in a container.
    root = ["--no-sandbox"] if os.geteuid() == 0 else []
    return playwright.chromium.launch(executable_path=find(playwright), args=[*QUIET, *root])


def find(playwright: Playwright) -> str | None:
    """Where Chromium is; None for Playwright's own. Installs missing fonts too."""
    _install_fonts()
    own = Path(playwright.chromium.executable_path)
    return None if own.exists() or _install_playwrights_own(own) else _on_machine()


@cache  # a browser may be started hundreds of times
def _install_fonts() -> None:
    there = ""
    if shutil.which("fc-list"):
        command = ["fc-list", ":", "family"]
        there = subprocess.run(command, capture_output=True, text=True, check=False).stdout
    if not any(name in there for name in LETTERS):
        debian_install(LETTERS_PACKAGE)


def _install_playwrights_own(own: Path) -> bool:
    """Ask Playwright for its browser, once per release: after a failure it would fail again."""
    tried = ROOT / ".cache" / f"no-browser-from-playwright-{version('playwright')}"
    if tried.exists():
        return False
    command = [sys.executable, "-m", "playwright", "install", "chromium"]
    with suppress(subprocess.TimeoutExpired):
        subprocess.run(command, capture_output=True, timeout=120, check=False)
    if not own.exists():
        tried.parent.mkdir(exist_ok=True)
        tried.touch()
    return own.exists()


@cache
def _on_machine() -> str:
    if not shutil.which(HEADLESS_PACKAGE):
        debian_install(HEADLESS_PACKAGE)
    found = _which()
    if found is None and debian_install("chromium"):
        found = _which()
    if found is None:
        raise NoBrowser(NONE_FOUND)
    return found


def _which() -> str | None:
    return next((path for path in map(shutil.which, NAMES) if path), None)
