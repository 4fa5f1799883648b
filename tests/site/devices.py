"""A Chromium with a profile that outlives it, for tests that kill the whole browser."""

from __future__ import annotations

import contextlib
import os
import signal
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, Playwright

from site_src.build import browser as browsers
from tests.site.hands import PATIENCE


def family(pid: int) -> list[int]:
    """A process and all that it has begun."""
    parents: dict[int, int] = {}
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            stat = (folder / "stat").read_text().rpartition(")")[2].split()
            parents[int(folder.name)] = int(stat[1])
    found, more = [pid], [pid]
    while more:
        more = [one for one, parent in parents.items() if parent in more]
        found += more
    return found


def named(text: str, among: list[int] | None = None) -> list[int]:
    """Processes whose command line has a text in it."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            line = (folder / "cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
            if text in line and int(folder.name) != os.getpid():
                found.append(int(folder.name))
    return [pid for pid in found if among is None or pid in among]


def end(pids: list[int]) -> None:
    """End these processes with no word to them."""
    for pid in pids:
        with contextlib.suppress(ProcessLookupError):
            os.kill(pid, signal.SIGKILL)


def start(playwright: Playwright, profile: Path, **options: Any) -> BrowserContext:
    """Begin the browser of a profile, with our patience."""
    context = playwright.chromium.launch_persistent_context(
        profile,
        executable_path=browsers.find(playwright),
        args=[*browsers.QUIET, "--no-sandbox"],
        **options,
    )
    context.set_default_timeout(PATIENCE)
    return context


def processes(profile: Path) -> list[int]:
    """Those of the browser of a profile."""
    return [pid for main in named(f"--user-data-dir={profile}") for pid in family(main)]


class Device:
    """Somebody's phone."""

    def __init__(self, playwright: Playwright, profile: Path) -> None:
        self.playwright, self.profile = playwright, profile
        self.context: BrowserContext | None = None

    def page(self, *, offline: bool = False) -> Page:
        """A page in its browser, which is begun where there is none."""
        if self.context is None:
            self.context = start(self.playwright, self.profile)
        self.context.set_offline(offline)
        return self.context.new_page()

    def kill(self) -> None:
        """End the browser where it stands, as a phone does that needs the memory."""
        end(processes(self.profile))
        self.leave()

    def leave(self) -> None:
        with contextlib.suppress(Exception):  # it has been killed
            if self.context:
                self.context.close()
        self.context = None
