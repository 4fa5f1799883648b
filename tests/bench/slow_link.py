"""A first visit over a slow link: time to the first live answer and until all is on the device.

    python tests/bench/slow_link.py [--links 3g,edge,dropping] [--dist FOLDER]

A host on loopback behind a link with a round trip and a rate that all connections share; it keeps
connections, compresses text, knows ranges and answers revalidations. A link that drops is cut
every 20 s for 2 s, whatever is on the way. Prints each state that the page says, when it says it,
and bytes sent. Start it on a quiet machine: the load that it finds is printed too.
"""

from __future__ import annotations

import argparse
import hashlib
import io
import os
import re
import sys
import tempfile
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, BinaryIO

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from playwright.sync_api import sync_playwright  # noqa: E402

from site_src.build import browser as browsers  # noqa: E402
from site_src.build.assemble import build  # noqa: E402
from site_src.build.server import Handler, SiteServer  # noqa: E402
from site_src.build.toolchain import npm_packages  # noqa: E402

PIECE = 4096  # bytes
LONGEST = 900  # s
FORM = "#oil-blend"
# What the page says of itself, with the time (ms since it was asked for); bytes left out.
WATCH = """
globalThis.said = [];
const note = () => {
  const { engine, offline = "" } = document.documentElement.dataset;
  const now = `${engine} ${offline}`.trim();
  if (said.at(-1)?.[1] !== now) said.push([performance.now(), now]);
};
const watch = () => {
  note();
  new MutationObserver(note).observe(document.documentElement, { attributes: true });
};
if (document.documentElement) watch();
else addEventListener("readystatechange", watch, { once: true, capture: true });
"""
SAFE = "() => document.documentElement?.dataset.offline === 'safe'"


@dataclass
class Link:
    """What all connections share."""

    rtt: float  # s
    rate: float  # bytes/s
    up: float = 0.0  # s until it is cut; 0: never
    down: float = 2.0  # s
    free: float = 0.0
    sent: int = 0
    asked: int = 0
    begun: float = field(default_factory=time.monotonic)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def period(self) -> tuple[int, bool]:
        """Which stretch of the link this is, and whether it is cut now."""
        if not self.up:
            return 0, False
        count, place = divmod(time.monotonic() - self.begun, self.up + self.down)
        return int(count), place > self.up

    def carry(self, size: int) -> None:
        """Wait until so many bytes have gone through."""
        with self.lock:
            self.free = max(self.free, time.monotonic()) + size / self.rate
            until = self.free
            self.sent += size
        time.sleep(max(0.0, until - time.monotonic()))


LINKS = {
    "3g": (0.100, 1.6e6 / 8, 0.0),
    "edge": (0.400, 0.4e6 / 8, 0.0),
    "dropping": (0.100, 1.6e6 / 8, 20.0),
}


class Slow(Handler):
    """A careful static host at the other end of the link."""

    server: SlowServer
    protocol_version = "HTTP/1.1"

    def setup(self) -> None:
        super().setup()
        self.stretch = self.server.link.period()[0]
        time.sleep(self.server.link.rtt)  # the connection is made

    def do_GET(self) -> None:  # noqa: N802 - the name http.server calls
        self.server.link.asked += 1
        self.check()
        time.sleep(self.server.link.rtt)
        super().do_GET()

    def check(self) -> None:
        """Raise ConnectionError where the link has been cut since the connection was made."""
        stretch, cut = self.server.link.period()
        if cut or stretch != self.stretch:
            self.close_connection = True
            raise ConnectionAbortedError

    def send_head(self) -> io.BytesIO | BinaryIO | None:
        path = Path(self.translate_path(self.path))
        path = path / "index.html" if path.is_dir() else path
        if not path.is_file():
            return super().send_head()
        mark = f'"{hashlib.sha256(path.read_bytes()).hexdigest()[:16]}"'
        self.mark = mark
        if self.headers.get("If-None-Match", "").removeprefix("W/") == mark:
            self.send_response(304)
            self.end_headers()
            return None
        wanted = re.fullmatch(r"bytes=(\d+)-(\d*)", self.headers.get("Range", ""))
        if not wanted:
            return super().send_head()
        content = path.read_bytes()
        first, last = int(wanted[1]), int(wanted[2] or len(content) - 1)
        self.send_response(206)
        self.send_header("Content-Type", self.guess_type(path))
        self.send_header("Content-Range", f"bytes {first}-{last}/{len(content)}")
        self.send_header("Content-Length", str(last + 1 - first))
        self.end_headers()
        return io.BytesIO(content[first : last + 1])

    def end_headers(self) -> None:
        if mark := getattr(self, "mark", ""):
            self.send_header("ETag", mark)
            self.mark = ""
        super().end_headers()

    def send_header(self, keyword: str, value: str) -> None:
        # As many hosts have it: kept for a while, then asked for again.
        super().send_header(keyword, "max-age=600" if keyword == "Cache-Control" else value)

    def copyfile(self, source: Any, outputfile: Any) -> None:
        while piece := source.read(PIECE):
            self.check()
            self.server.link.carry(len(piece))
            outputfile.write(piece)


class SlowServer(SiteServer):
    def __init__(self, root: Path, link: Link) -> None:
        self.link = link
        super().__init__(root, handler=Slow)


def visit(dist: Path, name: str) -> None:
    """One first visit in a new browser; print what was seen."""
    rtt, rate, up = LINKS[name]
    link = Link(rtt, rate, up)
    with SlowServer(dist, link) as server, sync_playwright() as playwright:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        load = os.getloadavg()[0]
        root = ["--no-sandbox"] if os.geteuid() == 0 else []
        browser = playwright.chromium.launch(
            executable_path=browsers.find(playwright), args=[*browsers.QUIET, *root]
        )
        page = browser.new_page()
        page.add_init_script(WATCH)
        link.begun = time.monotonic()
        page.goto(server.address + FORM, wait_until="commit", timeout=LONGEST * 1000)
        page.wait_for_function(SAFE, timeout=LONGEST * 1000)
        said: list[tuple[float, str]] = page.evaluate("() => said")
        live = page.evaluate("() => performance.getEntriesByName('engine-live')[0].startTime")
        safe = next(at for at, state in said if state.endswith(" safe"))
        print(f"{name}: live {live / 1000:.0f} s, safe {safe / 1000:.0f} s", end="; ")
        print(f"{link.sent / 1e6:.1f} MB in {link.asked} requests; load {load:.1f}")
        for at, state in said:
            print(f"  {at / 1000:6.1f} s  {state}", flush=True)
        browser.close()
        server.shutdown()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--links", default=",".join(LINKS))
    parser.add_argument("--dist", type=Path, help="a site that is built already")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        dist = options.dist or Path(temporary) / "dist"
        if not options.dist:
            build(dist, npm_packages())
        for name in options.links.split(","):
            visit(dist, name)


if __name__ == "__main__":
    main()
