"""How long everything takes after long seasons, beside the first day.

    python tests/bench/store.py

Builds the site and serves it on loopback. One visitor's database is empty, that of the other holds
50 cars, one of them with 500 set-ups and 20 000 log entries. Opens each list 20 times (from the
change of page to the frame after its lines), makes 50 saves of each kind, and asks 5000 questions
of one worker. Prints medians and 95th percentiles in ms, and the memory of the browser's pages and
workers. Aims: a list opens within 300 ms, the last answers take as long as the first, and the
memory does not grow.
"""

from __future__ import annotations

import json
import os
import statistics
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from playwright.sync_api import Page, expect, sync_playwright  # noqa: E402

from calc.kept import log  # noqa: E402
from calc.kept.log import CORNERS, Moment  # noqa: E402
from calc.model.car import Car, put, to_json  # noqa: E402
from site_src.build import browser as browsers  # noqa: E402
from site_src.build.assemble import build  # noqa: E402
from site_src.build.server import serving  # noqa: E402
from site_src.build.toolchain import npm_packages  # noqa: E402

CARS, SETUPS, ENTRIES, OPENED, SAVED, ASKED = 50, 500, 20_000, 20, 50, 5_000
FILL = """async ([base, car, lines, setups, cars]) => {
  const { change, STORES } = await import(new URL("db.js", base));
  await change(STORES, async (tx) => {
    const put = (store, record) => tx.objectStore(store).put(record);
    for (let n = 1; n <= cars; n++) {
      const named = { ...car, name: "Car " + n };
      await put("cars", { id: "c" + n, revision: 1, changed: n, car: named });
    }
    await Promise.all(lines.map((line) => put("log", line)));
    for (let n = 0; n < setups; n++) {
      const head = { id: "s" + n, revision: 1, changed: n, owner: "c1", name: "Set-up " + n,
        date: "2031-05-24", surface: "dry clay", note: "", temperature: 295.15 };
      await put("setups", head);
      await put("setup_cars", { id: head.id, car });
    }
    await tx.objectStore("settings").put({ system: "metric", last: "help", current: "c1" }, "page");
  });
}"""
OPEN = """async ([base, name, place, times]) => {
  const { change } = await import(new URL("db.js", base));
  const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const taken = [];
  for (let n = 0; n < times; n++) {
    location.hash = "#help";
    await change(["setups"], async (tx) => { // else the list is still there
      const head = await tx.objectStore("setups").get("s0");
      await tx.objectStore("setups").put({ ...head, changed: n });
    });
    await new Promise((done) => setTimeout(done, 300));
    const lines = document.querySelector(place);
    const shown = new Promise((done) => {
      const watch = new MutationObserver(() => { watch.disconnect(); done(); });
      watch.observe(lines, { childList: true });
    });
    const start = performance.now();
    location.hash = "#" + name;
    await shown;
    await frame();
    taken.push(performance.now() - start);
  }
  return taken;
}"""
TURN = """async ([base, times]) => {
  const { keep } = await import(new URL("store.js", base));
  const { ask } = await import(new URL("ask.js", base));
  const act = { kind: "turn", corner: "rear_left", turns: "0.25" };
  const taken = [];
  for (let n = 0; n < times; n++) {
    const start = performance.now();
    act.turns = n % 2 ? "0.25" : "-0.25";
    await keep((car, at) => ask({ ask: "collar", car, at, act }));
    taken.push(performance.now() - start);
  }
  return taken;
}"""
SAVE = """async ([base, times]) => {
  const { change, put, fresh } = await import(new URL("db.js", base));
  const { state } = await import(new URL("state.js", base));
  const { ask } = await import(new URL("ask.js", base));
  const { parted } = await import(new URL("setups.js", base));
  const taken = [];
  for (let n = 0; n < times; n++) {
    const typed = { name: "Saved " + n, date: "2031-05-24", surface: "", note: "" };
    const start = performance.now();
    const { setup } = await ask({ ask: "setup", typed, car: state.car, system: state.system });
    const { head, body } = parted(setup, state.current);
    await change(["setups", "setup_cars"], async (tx) => {
      await put(tx, "setups", head, 0);
      await tx.objectStore("setup_cars").put(body);
    });
    taken.push(performance.now() - start);
  }
  return taken;
}"""
TYPE = """async ([base, times]) => {
  const { type } = await import(new URL("typed.js", base));
  const taken = [];
  for (let n = 0; n < times; n++) {
    const start = performance.now();
    await type("collar-turns", "pitch", String(n));
    taken.push(performance.now() - start);
  }
  return taken;
}"""


ANSWERS = """async ([base, times]) => {
  const { ask } = await import(new URL("ask.js", base));
  const { state } = await import(new URL("state.js", base));
  const taken = [];
  for (let n = 0; n < times; n++) {
    const typed = { pitch: String(0.5 + (n % 97) / 97) };
    const question = { form: "collar-turns", typed, car: state.car, system: "metric" };
    const start = performance.now();
    await ask({ ask: "answer", ...question });
    await ask({ ask: "doubts", ...question });
    await ask({ ask: "figures", ...question });
    taken.push(performance.now() - start);
  }
  return taken;
}"""


def memory() -> float:
    """Resident memory of all processes that our browser has for pages and workers, MB."""
    parents, pages = {}, {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            parents[folder.name] = (folder / "stat").read_text().rpartition(")")[2].split()[1]
            if b"--type=renderer" in (folder / "cmdline").read_bytes():
                pages[folder.name] = int((folder / "statm").read_text().split()[1])
        except OSError:
            continue  # it has ended meanwhile

    def is_ours(process: str) -> bool:
        while process in parents:
            if process == str(os.getpid()):
                return True
            process = parents[process]
        return False

    ours = sum(size for process, size in pages.items() if is_ours(process))
    return ours * os.sysconf("SC_PAGE_SIZE") / 1e6


def career() -> tuple[Car, list[dict[str, object]]]:
    """A car and its log: a base every hundredth line, quarter turns between."""
    car, lines = Car(), []
    for n in range(ENTRIES):
        at = Moment(f"e{n}", "c1", 1.7e9 + 300 * n, 3600.0)
        if n % 100 == 0:
            entry = log.set_base(car, at)
        else:
            car, entry = log.turn(car, at, CORNERS[n % 4], 0.25 if n % 8 < 4 else -0.25)
        lines.append(log.to_json(entry))
    return put(car, "name", "Veteran"), lines


def report(what: str, taken: list[float]) -> None:
    middle, slow = statistics.median(taken), statistics.quantiles(taken, n=20)[-1]
    print(f"{what:<34}{middle:>8.1f}{slow:>8.1f}")


def main() -> None:
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder) / "dist") as address,
        sync_playwright() as playwright,
    ):
        build(Path(folder) / "dist", npm_packages())
        browser = browsers.launch(playwright)
        car, lines = career()
        print(f"{'':<34}{'median':>8}{'95 %':>8}  ms")
        for what in ("the first day", "long seasons"):
            context = browser.new_context()
            page = context.new_page()
            live(page, address)
            base = page.evaluate("() => document.querySelector('script[src]').src")
            if what == "long seasons":
                size = len(json.dumps(lines)) / 1e6
                what += f": {CARS} cars, {SETUPS} set-ups, {ENTRIES} log entries ({size:.1f} MB)"
                page.evaluate(FILL, [base, to_json(car), lines, SETUPS, CARS])
            else:
                page.evaluate(FILL, [base, to_json(car), lines[:2], 1, 1])
            page.reload()
            live(page, address)
            print(what)
            report("collar log opens", page.evaluate(OPEN, [base, "log", "#log-lines", OPENED]))
            report("set-ups open", page.evaluate(OPEN, [base, "setups", "#setups-list", OPENED]))
            report("cars open", page.evaluate(OPEN, [base, "cars", "#cars-list", OPENED]))
            report("a quarter turn is kept", page.evaluate(TURN, [base, SAVED]))
            report("a set-up is kept", page.evaluate(SAVE, [base, SAVED]))
            report("a typed character is kept", page.evaluate(TYPE, [base, SAVED]))
            page.evaluate(ANSWERS, [base, SAVED])  # warm
            was = memory()
            taken = page.evaluate(ANSWERS, [base, ASKED])
            report(f"first {SAVED} answers with figures", taken[:SAVED])
            report(f"last {SAVED} of {ASKED}", taken[-SAVED:])
            print(
                f"{'memory before and after them, MB':<34}{was:>8.0f}{memory():>8.0f}", flush=True
            )
            context.close()


def live(page: Page, address: str) -> None:
    page.goto(f"{address}#help")
    expect(page.locator("html")).to_have_attribute("data-engine", "live", timeout=60_000)


if __name__ == "__main__":
    main()
