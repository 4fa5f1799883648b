"""How long from the address to the live answer: this site beside a bare runtime and no Python.

    python tests/bench/start.py [--engines Chromium,Chromium/4,Firefox,WebKit] [--times 5]

Three sites on loopback, each kept by a service worker: a page that starts the untouched runtime
and works out one formula; this one; a page that does the same formula in JavaScript. Each sample
is a new browser with a new profile: a first visit, a second one that stays open for a while, then,
with the server stopped, a new start of the browser, which comes to rest before the page is asked
for. WebKit's driver keeps nothing between two browsers: there the page is opened again in the same
one. Chromium/4 stops all processes of the browser three quarters of the time, because the
protocol's own throttling does not reach workers. Prints medians in ms and ratios.
"""

from __future__ import annotations

import argparse
import contextlib
import gzip
import os
import shutil
import signal
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from playwright.sync_api import Page, Playwright, sync_playwright  # noqa: E402

from site_src.build import browser as browsers  # noqa: E402
from site_src.build.assemble import build  # noqa: E402
from site_src.build.server import SiteServer  # noqa: E402
from site_src.build.toolchain import npm_packages  # noqa: E402
from tests.site import engines  # noqa: E402
from tests.site.engines import Engine  # noqa: E402

RUN, STOP = 0.010, 0.030  # s
REST = 2.5  # s, in which a browser that was started comes to rest
STAY = 12  # s on a page, in which a browser keeps what it compiled
HTML = """<!doctype html><html data-engine="starting"><meta charset="utf-8"><title>Bench</title>
<p>Answer: <output id="answer">418.33</output></p><script type="module" src="page.js"></script>"""
KEEP = """
const root = document.documentElement;
const show = (answer) => {
  document.getElementById("answer").textContent = answer;
  root.dataset.engine = "live";
  performance.mark("engine-live");
};
navigator.serviceWorker.register("sw.js").then(() => navigator.serviceWorker.ready)
  .then(() => (root.dataset.offline = "safe"));
"""
WITH_JAVASCRIPT = "show(Math.exp((Math.log(350) + Math.log(500)) / 2).toFixed(2));"
WITH_PYTHON = """
const worker = new Worker("worker.js", { type: "module" });
worker.onmessage = ({ data }) => show(data);
"""
BARE_WORKER = """
import { loadPyodide } from "./pyodide.js";
import createPyodideModule from "./pyodide.asm.js";
const indexURL = new URL(".", import.meta.url).href;
const python = await loadPyodide({ indexURL, createPyodideModule });
postMessage(python.runPython(
  "import math; f'{math.exp((math.log(350) + math.log(500)) / 2):.2f}'"));
"""
SERVICE_WORKER = """
self.addEventListener("install", (event) => event.waitUntil(
  caches.open("kept").then((cache) => cache.addAll(FILES))));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => event.respondWith(
  caches.match(event.request).then((kept) => kept ?? fetch(event.request))));
"""
FORM = "#oil-blend"  # where our page has an answer to give; the other two take no notice
LIVE = """performance.getEntriesByName('engine-live').length
&& performance.getEntriesByName('first-contentful-paint').length"""
SAFE = "document.documentElement.dataset.offline === 'safe'"
# What was asked last is answered before the page is ready for another question.
TIMES = """const of = (name) => performance.getEntriesByName(name)[0]?.startTime ?? NaN;
const live = Math.min(of("engine-live"), of("first-answer") || Infinity);
return [live, of("first-contentful-paint")]"""
WORK = """const start = performance.now(); let sum = 0;
for (let i = 0; i < 1e9; i++) sum += i % 7; return performance.now() - start + 0 * sum"""


def small_site(folder: Path, page: str, more: dict[str, bytes]) -> None:
    """A page on its own with a service worker that keeps it."""
    files = {"index.html": HTML.encode(), "page.js": (KEEP + page).encode(), **more}
    names = ["./", *(name for name in files if name != "index.html")]
    files["sw.js"] = f"const FILES = {names};".encode() + SERVICE_WORKER.encode()
    folder.mkdir()
    for name, content in files.items():
        (folder / name).write_bytes(content)


def make_sites(folder: Path) -> dict[str, Path]:
    """The three sites."""
    package = npm_packages() / "pyodide"
    names = {
        "pyodide.mjs": "pyodide.js",
        "pyodide.asm.mjs": "pyodide.asm.js",
        "pyodide.asm.wasm": "pyodide.asm.wasm",
        "python_stdlib.zip": "python_stdlib.zip",
        "pyodide-lock.json": "pyodide-lock.json",
    }
    runtime = {site: (package / source).read_bytes() for source, site in names.items()}
    small_site(folder / "bare", WITH_PYTHON, {"worker.js": BARE_WORKER.encode(), **runtime})
    small_site(folder / "plain", WITH_JAVASCRIPT, {})
    build(folder / "ours", npm_packages())
    return {name: folder / name for name in ("bare", "ours", "plain")}


class InChromium(Engine):
    """A page in a Chromium of its own."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def open(self, address: str) -> None:
        self.page.goto(address, wait_until="commit", timeout=120_000)

    def script(self, body: str) -> Any:
        return self.page.evaluate(f"() => {{ {body} }}")


@contextlib.contextmanager
def chromium(playwright: Playwright, profile: Path) -> Iterator[Engine]:
    """Chromium with this profile."""
    root = ["--no-sandbox"] if os.geteuid() == 0 else []
    context = playwright.chromium.launch_persistent_context(
        str(profile), executable_path=browsers.find(playwright), args=[*browsers.QUIET, *root]
    )
    yield InChromium(context.new_page())
    context.close()


def processes(profile: Path) -> list[int]:
    """The browser that uses this profile, and all its children."""
    parents: dict[int, int] = {}
    found: set[int] = set()
    for entry in Path("/proc").iterdir():
        with contextlib.suppress(OSError, ValueError):
            pid = int(entry.name)
            parents[pid] = int((entry / "stat").read_text().rpartition(")")[2].split()[1])
            if str(profile).encode() in (entry / "cmdline").read_bytes():
                found.add(pid)
    while more := {pid for pid, parent in parents.items() if parent in found} - found:
        found |= more
    return list(found)


@contextlib.contextmanager
def slowed(profile: Path, *, really: bool) -> Iterator[None]:
    """Meanwhile the browser runs a quarter of the time."""
    over = threading.Event()

    def send(kind: signal.Signals, pids: list[int]) -> None:
        for pid in pids:
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, kind)

    def cycle() -> None:
        with contextlib.suppress(PermissionError):  # on a busy machine it would come too late
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), -15)
        pids = processes(profile)
        while not over.is_set():
            send(signal.SIGSTOP, pids)
            end = time.monotonic() + STOP
            more = processes(profile)  # new ones come up while the page loads
            time.sleep(max(0.0, end - time.monotonic()))
            send(signal.SIGCONT, pids)
            pids = more
            time.sleep(RUN)

    thread = threading.Thread(target=cycle)
    if really:
        thread.start()
    try:
        yield
    finally:
        over.set()
        if really:
            thread.join()


class Sample:
    """A first visit and a restart of one site in one engine."""

    def __init__(self, engine: str, playwright: Playwright, folder: Path) -> None:
        self.engine, _, factor = engine.partition("/")
        self.slow = bool(factor)
        self.playwright, self.folder = playwright, folder

    def start(self, profile: Path) -> Any:
        if self.engine == "Chromium":
            return chromium(self.playwright, profile)
        return {"Firefox": engines.firefox, "WebKit": engines.webkit}[self.engine](profile)

    def timed(self, engine: Engine, profile: Path, address: str) -> list[float]:
        with slowed(profile, really=self.slow):
            engine.open(address)
            engine.wait(LIVE)
            times: list[float] = engine.script(TIMES)
        return times

    def take(self, root: Path) -> dict[str, list[float]]:
        """Times of the first visit and of the restart."""
        profile = Path(tempfile.mkdtemp(dir=self.folder))
        server = SiteServer(root)
        threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        page = server.address + FORM
        with self.start(profile) as engine:
            time.sleep(REST)
            first = self.timed(engine, profile, page)
            engine.wait(SAFE)
            engine.open("about:blank")
            engine.open(page)  # the engine keeps compiled code of a page seen twice
            engine.wait(LIVE)
            time.sleep(STAY)
            server.shutdown()
            server.server_close()
            if self.engine == "WebKit":
                engine.open("about:blank")
                again = self.timed(engine, profile, page)
        if self.engine != "WebKit":
            with self.start(profile) as engine:
                time.sleep(REST)
                again = self.timed(engine, profile, page)
        shutil.rmtree(profile, ignore_errors=True)
        return {"first": first, "restart": again}

    def slowdown(self) -> float:
        """How much slower the same work is while the browser is slowed."""
        profile = Path(tempfile.mkdtemp(dir=self.folder))
        with self.start(profile) as engine:
            engine.open("about:blank")
            fast: float = engine.script(WORK)
            with slowed(profile, really=self.slow):
                return float(engine.script(WORK)) / fast


def wire(root: Path) -> tuple[float, float]:
    """Megabytes of a whole site as stored, and compressed one by one as a host would send them."""
    contents = [f.read_bytes() for f in root.rglob("*") if f.is_file()]
    sent = [min(len(gzip.compress(content, 9)), len(content)) for content in contents]
    return sum(map(len, contents)) / 1e6, sum(sent) / 1e6


def report(engine: str, samples: dict[str, list[dict[str, list[float]]]]) -> None:
    """One line per visit."""
    for visit in ("first", "restart"):
        live, paint = (
            {
                name: statistics.median(sample[visit][i] for sample in taken)
                for name, taken in samples.items()
            }
            for i in (0, 1)
        )
        print(
            f"{engine:12}{visit:9}"
            + "".join(f"{live[name]:8.0f}" for name in samples)
            + f"{live['ours'] / live['bare']:8.3f}"
            + "".join(f"{paint[name]:8.0f}" for name in ("ours", "plain"))
            + f"{paint['ours'] / paint['plain']:8.2f}",
            flush=True,
        )


def main(arguments: list[str]) -> None:
    """Take all samples, the sites in turn, so that a busy spell of the machine meets all."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--engines", default="Chromium,Chromium/4,Firefox,WebKit")
    parser.add_argument("--times", type=int, default=5)
    options = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as temporary, sync_playwright() as playwright:
        sites = make_sites(Path(temporary))
        for name, root in sites.items():
            stored, sent = wire(root)
            print(f"{name}: {stored:.2f} MB stored, {sent:.2f} MB compressed")
        print(
            f"load {os.getloadavg()[0]:.1f}; live answer in ms, ratio ours/bare; first paint in ms"
        )
        print(
            f"{'':21}{'bare':>8}{'ours':>8}{'plain':>8}{'ratio':>8}{'ours':>8}{'plain':>8}{'ratio':>8}"
        )
        for name in options.engines.split(","):
            sample = Sample(name, playwright, Path(temporary))
            if sample.slow:
                print(f"{name}: slowed {sample.slowdown():.1f} times")
            samples: dict[str, list[dict[str, list[float]]]] = {site: [] for site in sites}
            for _ in range(options.times):
                for site, root in sites.items():
                    samples[site].append(sample.take(root))
            report(name, samples)
        print(f"load {os.getloadavg()[0]:.1f}")


if __name__ == "__main__":
    main(sys.argv[1:])
