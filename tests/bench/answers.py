"""How long from a changed field to the painted answer, for every form: browser beside CPython.

    python tests/bench/answers.py [--desk]

Builds the site, serves it on loopback, changes one field of each form 100 times in Chromium and
waits for the frame after the new words of the answer (its plots, drawings and tables are asked for
once those are on screen), then 100 ms more, as somebody does who types fast. The same questions are
then put to CPython, with what follows (doubts, figures). Prints the median and the 95th percentile
in ms, CPython's processor time for the words and for the rest, and the ratio of the medians; first
those of a page that works out one formula in JavaScript. The aim is a median below 50 ms.
`--desk` asks CPython alone.
"""

from __future__ import annotations

import json
import statistics
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from playwright.sync_api import Page, expect, sync_playwright  # noqa: E402

from calc import units  # noqa: E402
from calc.asking.entry import Number, shown  # noqa: E402
from calc.asking.typed import parse  # noqa: E402
from calc.forms.catalogue import FORMS  # noqa: E402
from calc.model.car import Car  # noqa: E402
from calc.replying.form import Form  # noqa: E402
from calc.replying.reading import run  # noqa: E402
from site_src.build import browser as browsers  # noqa: E402
from site_src.build.assemble import build  # noqa: E402
from site_src.build.server import serving  # noqa: E402
from site_src.build.toolchain import npm_packages  # noqa: E402
from site_src.live import worker as live  # noqa: E402

CHANGES = 100
PLAIN = """<!doctype html><meta charset="utf-8"><title>Bench</title>
<form id="plain"><input name="thin"></form><section id="plain-answer"></section>
<script src="plain.js"></script>"""
WITH_JAVASCRIPT = """
document.getElementById("plain").addEventListener("input", ({ target }) => {
  const share = (Math.log(500) - Math.log(400)) / (Math.log(500) - Math.log(Number(target.value)));
  document.getElementById("plain-answer").innerHTML = `<p>${(100 * share).toFixed(1)} ml</p>`;
});
"""
CHANGE = """async ([slug, name, texts]) => {
  const input = document.getElementById(slug).elements.namedItem(name);
  const panel = document.getElementById(slug + "-answer");
  const times = [];
  for (const text of texts) {
    const answered = new Promise((resolve) => {
      const watch = new MutationObserver(() => {
        watch.disconnect();
        requestAnimationFrame(() => setTimeout(resolve));
      });
      watch.observe(panel, { childList: true });
    });
    const start = performance.now();
    input.value = text;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    await answered;
    times.push(performance.now() - start);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  return times;
}"""


def changing_field(form: Form) -> tuple[str, list[str]]:
    """A number of the form as it opens, and the texts to put in: near the demo car's, so that each
    of them has a whole answer and not a sentence that says what is wrong."""
    starts = {entry.name: entry.start for entry in form.fields if hasattr(entry, "options")}
    filled = run(form, {}, Car()).filled
    name, cell = next(
        (name, cell)
        for entry, name, cell in form.cells()
        if isinstance(cell, Number) and not cell.whole and filled.get(name)
        if shown(entry.when, starts) and shown(cell.when, starts)
    )
    value = parse(filled[name], cell.kind).value
    texts = [units.entry_text(value * (1 + n % 10 / 1000), cell.kind) for n in range(CHANGES)]
    if not all(run(form, {name: text}, Car()).answer for text in texts):
        raise SystemExit(f"{form.slug}: some values of {name} have no answer")
    return name, texts


def in_javascript(page: Page, address: str) -> list[float]:
    """The floor: a page that works one blend out itself, in one line."""
    page.goto(f"{address}plain.html")
    texts = [str(300 + n) for n in range(CHANGES)]
    times: list[float] = page.evaluate(CHANGE, ["plain", "thin", texts])
    return times


def in_browser(page: Page, address: str, form: Form) -> list[float]:
    name, texts = changing_field(form)
    page.goto(f"{address}#{form.slug}")
    expect(page.locator(f'[data-page="{form.slug}"]')).to_be_visible()
    page.wait_for_timeout(300)
    times: list[float] = page.evaluate(CHANGE, [form.slug, name, texts])
    return times


def in_cpython(form: Form) -> tuple[float, float]:
    """Median processor time in ms of the words of an answer, and of what follows them."""
    name, texts = changing_field(form)
    words, rest = [], []
    for text in texts:
        asked = {"form": form.slug, "typed": {name: text}, "car": None, "system": units.METRIC}
        for times, parts in ((words, ["answer"]), (rest, ["doubts", "figures"])):
            start = time.process_time()
            for part in parts:
                live.answer(json.dumps({"ask": part, **asked}))
            times.append((time.process_time() - start) * 1e3)
    return statistics.median(words), statistics.median(rest)


def percentile(times: list[float]) -> float:
    return statistics.quantiles(times, n=20)[-1]


def main() -> None:
    if "--desk" in sys.argv:
        print(f"{'form':<20}{'words':>9}{'rest':>9}")
        for form in FORMS:
            words, rest = in_cpython(form)
            print(f"{form.slug:<20}{words:>9.1f}{rest:>9.1f}")
        return
    with (
        tempfile.TemporaryDirectory() as folder,
        serving(Path(folder) / "dist") as address,
        sync_playwright() as playwright,
    ):
        root = Path(folder) / "dist"
        build(root, npm_packages())
        (root / "plain.html").write_text(PLAIN, "utf-8")
        (root / "plain.js").write_text(WITH_JAVASCRIPT, "utf-8")
        page = browsers.launch(playwright).new_page()
        floor = in_javascript(page, address)
        page.goto(address)
        expect(page.locator("html")).to_have_attribute("data-engine", "live", timeout=60_000)
        print(f"{CHANGES} changes each, ms")
        print(f"{'form':<20}{'browser':>9}{'95 %':>8}{'CPython':>9}{'rest':>9}{'ratio':>7}")
        middle, late = statistics.median(floor), percentile(floor)
        print(f"{'plain JavaScript':<20}{middle:>9.1f}{late:>8.1f}")
        for form in FORMS:
            there, (own, rest) = in_browser(page, address, form), in_cpython(form)
            middle = statistics.median(there)
            row = f"{form.slug:<20}{middle:>9.1f}{percentile(there):>8.1f}{own:>9.1f}{rest:>9.1f}"
            print(f"{row}{middle / own:>7.1f}")


if __name__ == "__main__":
    main()
