"""A browser killed at random moments: all that was on screen for 300 ms is there afterwards.

    python tests/bench/kills.py [--engine Chromium|Firefox|WebKit] [--kills 300] [--seed 1]
        [--dist FOLDER] [--newer FOLDER]

Each life opens a page with Python live, does one thing after another there by the page's own
buttons and fields (`kills.js`: typing, done and its undo, the log, set-ups, copying, deleting and
restoring cars) and is killed at a random moment, the page alone or the whole browser. Then the
page is opened again and compared with what was on screen. In Chromium every sixth kill falls into
a first installation, every sixth into an update to another build (--newer). Firefox and WebKit are
killed whole. WebKit's driver keeps nothing and ends with the page, so WebKitGTK's browser runs
without one: the host puts a script into the page that fetches what is to be done.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from playwright.sync_api import Playwright, sync_playwright  # noqa: E402

from calc.kept import backup  # noqa: E402
from calc.model.car import to_json  # noqa: E402
from site_src.build.server import Handler, SiteServer  # noqa: E402
from tests.owned import owned  # noqa: E402
from tests.site import devices, engines  # noqa: E402
from tests.site.devices import end, family, named  # noqa: E402
from tests.site.hosting import built  # noqa: E402

STAYS = 0.3  # s; nothing that was on screen so long may be lost
PATIENCE = 300.0  # s until live; the machine may have other work
SETTLES = 15.0  # s to be as it was, once live
KINDS = ("collar-turns", "collar-turns", "log", "setups", "cars")
LIFE = Path(__file__).with_name("kills.js").read_text("utf-8")
LOCKS = shutil.ignore_patterns("Singleton*")
LIVE = "document.documentElement?.dataset.engine === 'live'"
SAFE = "document.documentElement.dataset.offline === 'safe'"
OWN = """const [cars, current] = %s;
return new Promise((done, failed) => {
  indexedDB.open("damper-bench").onsuccess = ({ target: { result: db } }) => {
    const tx = db.transaction(["cars", "settings"], "readwrite");
    for (const one of cars) tx.objectStore("cars").put(one);
    tx.objectStore("settings").put({ system: "metric", current, language: "" }, "page");
    tx.oncomplete = () => (db.close(), done(true));
    tx.onerror = () => failed(tx.error);
  };
})"""
# Leads a page without a driver: runs all that the host has new since the page began.
LED = """(async () => {
  const count = async () => (await fetch("bodies.json", { cache: "no-store" })).json();
  for (let done = await count(); ; await new Promise((next) => setTimeout(next, 50)))
    for (const all = await count(); done < all; done++)
      await new Promise((next) => {
        const script = document.createElement("script");
        Object.assign(script, { src: `run-${done}.js`, onload: next, onerror: next });
        document.head.append(script);
      });
})();"""
RUN = """(async () => {
  const value = await (async () => { %s })();
  const body = JSON.stringify({ number: %s, value: value ?? null });
  await fetch("value", { method: "POST", body });
})();"""
# A Firefox that has been killed asks whether to begin safely, and opens its pages again.
KILLED = {
    "browser.sessionstore.resume_from_crash": False,
    "toolkit.startup.max_resumed_crashes": -1,
}
Look = dict[str, Any]


@dataclass
class Told:
    """All that a page has told of one life: (s, words) in the order in which they came."""

    lines: list[tuple[float, dict[str, Any]]] = field(default_factory=list)

    def stood(self, killed: float) -> Look:
        """All that had been on screen long enough, except things that an act may have changed
        without anything being seen of it yet."""
        looks = [(at, json.loads(one["look"])) for at, one in self.lines]
        since = killed - STAYS
        before = [look for at, look in looks if at <= since][-1:]
        if not before:
            return {}
        later = [look for at, look in looks if at > since]
        acts = [n for n, (_, one) in enumerate(self.lines) if one["is"] == "act"]
        touched = set()
        if acts and not self.lines[acts[-1] + 1 :]:
            touched = set(self.lines[acts[-1]][1]["touches"])
        return {
            key: value
            for key, value in before[0].items()
            # A field is empty until the page has read its store.
            if value and key not in touched and all(look.get(key) == value for look in later)
        }


class Host(Handler):
    """The built site, the script of a life, and an ear for what it tells."""

    server: HostServer

    def do_POST(self) -> None:  # noqa: N802 - the name http.server calls
        told = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        if self.path == "/told":
            self.server.told.lines.append((time.monotonic(), told))
        else:
            self.server.values[told["number"]] = told["value"]
        self.send_response(204)
        self.end_headers()

    def do_GET(self) -> None:  # noqa: N802
        name = self.path.partition("?")[0].lstrip("/")
        more = {"kills.js": (LIFE, ".js"), "backup.json": (self.server.backup, ".json")}
        if self.server.led:
            page = (self.server.root / "index.html").read_text("utf-8")
            page = page.replace("<title>", '<script src="led.js"></script><title>', 1)
            more |= {"": (page, ".html"), "index.html": (page, ".html"), "led.js": (LED, ".js")}
            bodies = self.server.bodies
            more |= {f"run-{n}.js": (RUN % (body, n), ".js") for n, body in enumerate(bodies)}
            more |= {"bodies.json": (json.dumps(len(bodies)), ".json")}
        if name not in more:
            super().do_GET()
            return
        text, ending = more[name]
        self.send_response(200)
        self.send_header("Content-Type", self.extensions_map[ending])
        self.send_header("Content-Length", str(len(text.encode())))
        self.end_headers()
        self.wfile.write(text.encode())


class HostServer(SiteServer):
    """Keeps all that the life at hand has told. A page that is `led` runs each of `bodies` once,
    and their values come into `values`."""

    def __init__(self, root: Path) -> None:
        self.told = Told()
        self.led = False
        self.bodies: list[str] = []
        self.values: dict[int, Any] = {}
        kept = backup.Kept("kept", 1.7e9, owned(name="From a file"))
        self.backup = backup.to_text(backup.Backup(1.7e9, (kept,), (), ()))
        super().__init__(root, 0, Host)


class Led(engines.Engine):
    """WebKitGTK's browser without a driver, with its own keeping, on a screen that is nowhere."""

    def __init__(self, profile: Path, server: HostServer) -> None:
        self.profile, self.server = profile, server
        server.led = True

    def open(self, address: str) -> None:
        """Begin the browser at an address."""
        self.profile.mkdir(exist_ok=True)
        homes = {f"XDG_{name}_HOME": str(self.profile) for name in ("DATA", "CACHE", "CONFIG")}
        screen = ["xvfb-run", "--auto-servernum", f"--server-args=-screen 0 {engines.SCREEN}"]
        subprocess.Popen(
            [*screen, engines.mini_browser(), address],
            env=os.environ | homes | engines.UNBOXED,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(1)
        self.wait("document.head", PATIENCE)

    def script(self, body: str) -> Any:
        """Run a function body in the page; None where there is no page for a while."""
        number = len(self.server.bodies)
        self.server.bodies.append(body)
        until = time.monotonic() + 10
        while number not in self.server.values:
            if time.monotonic() > until:
                return None
            time.sleep(0.02)
        return self.server.values.pop(number)

    def end(self) -> None:
        end([pid for pid in family(os.getpid()) if _is_of(self.profile, pid)])


def _is_of(profile: Path, pid: int) -> bool:
    """Whether a process has been given this profile."""
    with contextlib.suppress(OSError):
        return str(profile).encode() in Path(f"/proc/{pid}/environ").read_bytes()
    return False


class Device:
    """A profile that outlives its browser."""

    def __init__(
        self, name: str, profile: Path, playwright: Playwright, server: HostServer
    ) -> None:
        self.name, self.profile, self.playwright = name, profile, playwright
        self.server = server
        self.stack = contextlib.ExitStack()
        self.engine: engines.Engine | None = None
        self.context: Any = None

    def visit(self, address: str, live: bool = True) -> engines.Engine:
        """Open the site; the browser is begun where there is none."""
        if self.name == "Chromium":
            if self.context is None:
                self.context = devices.start(self.playwright, self.profile)
            self.engine = engines.Chromium(self.context.new_page())
        elif self.name == "WebKit":
            self.engine = Led(self.profile, self.server)
        else:
            self.engine = self.stack.enter_context(engines.firefox(self.profile, KILLED))
        self.engine.open(address)
        if live:
            self.engine.wait(LIVE, PATIENCE)
        return self.engine

    def kill(self, whole: bool) -> None:
        """End the page where it stands, or the browser with it."""
        if isinstance(self.engine, Led):
            self.engine.end()
            return
        if self.name == "Chromium" and not whole:
            end(named("--type=renderer", devices.processes(self.profile)))
            for page in self.context.pages:
                with contextlib.suppress(Exception):
                    page.close()
            return
        end([pid for main in named(str(self.profile)) for pid in family(main)])
        self.leave()

    def leave(self) -> None:
        with contextlib.suppress(Exception):  # it has been killed
            self.stack.close()
        if self.context:
            with contextlib.suppress(Exception):
                self.context.close()
        self.engine = self.context = None


def begin(engine: engines.Engine, kind: str, seed: int, first: int) -> None:
    given = json.dumps(json.dumps({"kind": kind, "seed": seed, "first": first}))
    engine.script(f"""document.documentElement.dataset.given = {given};
      const script = document.createElement("script");
      script.src = "kills.js";
      script.onload = () => dispatchEvent(new Event("life"));
      document.head.append(script);""")


def look(engine: engines.Engine, kind: str) -> Look:
    given = json.dumps(json.dumps({"kind": kind, "seed": 0, "first": 0}))
    found = engine.script(f"""document.documentElement.dataset.given = {given};
      dispatchEvent(new Event("look"));
      return document.documentElement.dataset.look ?? "";""")
    return json.loads(found) if found else {}


def as_it_was(engine: engines.Engine, kind: str, wanted: Look) -> Look:
    """The screen once it is as wanted, else after a while."""
    engine.script("""const script = document.createElement("script");
      script.src = "kills.js"; document.head.append(script);""")
    until = time.monotonic() + SETTLES
    while True:
        now = look(engine, kind)
        if time.monotonic() > until or (now and wanted.items() <= now.items()):
            return now
        time.sleep(0.1)


@dataclass
class Toll:
    """All counts."""

    kills: Counter[str] = field(default_factory=Counter)
    held: int = 0
    acts: int = 0
    lost: list[str] = field(default_factory=list)


def one_life(
    device: Device, server: HostServer, chance: random.Random, toll: Toll, sort: str
) -> None:
    kind = chance.choice(KINDS) if sort == "life" else "collar-turns"
    address = f"{server.address}#{kind}"
    server.told = told = Told()
    engine = device.visit(address, live=sort == "life")
    begin(engine, kind, chance.randrange(1, 2**31 - 1), chance.randrange(900))
    time.sleep(chance.uniform(0.3, 6.0))
    whole = device.name != "Chromium" or sort != "life" or chance.random() < 0.3
    killed = time.monotonic()
    device.kill(whole)
    wanted = told.stood(killed)
    engine = device.visit(address)
    now = as_it_was(engine, kind, wanted)
    toll.kills[f"{sort}, {'browser' if whole else 'page'}, {kind}"] += 1
    print(f"{sum(toll.kills.values())} {sort} {kind}", file=sys.stderr, flush=True)
    toll.held += len(wanted)
    toll.acts += sum(one["is"] == "act" for _, one in told.lines)
    for key, value in wanted.items():
        if now.get(key) != value:
            tail = [(round(at - killed, 2), one) for at, one in told.lines[-8:]]
            toll.lost.append(f"{sort} {kind} {key}: {value!r} is {now.get(key)!r}; {tail}")
            print(toll.lost[-1], flush=True)
    if device.name != "Chromium":
        device.kill(whole=True)  # the next life begins a browser of its own
    for page in device.context.pages if device.context else ():
        page.close()


def prepared(device: Device, address: str) -> None:
    """A car of one's own on the device, the site too."""
    engine = device.visit(address)
    cars = [{"id": "one", "revision": 1, "changed": 1, "car": to_json(owned())}]
    engine.script(OWN % json.dumps([cars, "one"]))
    if device.name != "WebKit":
        engine.wait(SAFE, 300)


@contextlib.contextmanager
def hosted(root: Path) -> Iterator[HostServer]:
    with HostServer(root) as server:
        threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True).start()
        yield server
        server.shutdown()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--engine", choices=tuple(engines.NEEDED), default="Chromium")
    parser.add_argument("--kills", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--dist", type=Path)
    parser.add_argument("--newer", type=Path)
    given = parser.parse_args()
    chance, toll = random.Random(given.seed), Toll()
    dist = given.dist or built()
    newer = given.newer or built(date="1999-12-31")
    with (
        tempfile.TemporaryDirectory() as folder,
        hosted(dist) as server,
        sync_playwright() as playwright,
    ):
        home = Path(folder)
        device = Device(given.engine, home / "device", playwright, server)
        prepared(device, server.address)
        device.kill(whole=True)
        if given.engine == "Chromium":
            shutil.copytree(home / "device", home / "kept", ignore=LOCKS)
        for number in range(given.kills):
            sort = "life"
            if given.engine == "Chromium":
                sort = ("install", "life", "life", "update", "life", "life")[number % 6]
            if sort == "life":
                one_life(device, server, chance, toll, sort)
                continue
            other = Device("Chromium", home / f"other-{number}", playwright, server)
            if sort == "update":
                shutil.copytree(home / "kept", other.profile)
                server.root = newer
            one_life(other, server, chance, toll, sort)
            other.kill(whole=True)
            server.root = dist
            shutil.rmtree(other.profile, ignore_errors=True)
        device.kill(whole=True)
    for what, count in sorted(toll.kills.items()):
        print(f"{count:>5}  {what}")
    print(
        f"{given.engine}: {sum(toll.kills.values())} kills in {toll.acts} acts; {toll.held} values "
        f"that had been on screen for {STAYS} s compared, {len(toll.lost)} lost"
    )
    sys.exit(bool(toll.lost))


if __name__ == "__main__":
    main()
