"""The page with a stand-in for Python, which answers at once: what is tested is how it keeps."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page

from calc.forms.catalogue import BY_SLUG
from calc.model.car import Car, to_json
from tests.site.hands import live, script

STAND_IN = f"const DEMO = {json.dumps(to_json(Car()))};\n" + (
    Path(__file__).parent / "stand_in.js"
).read_text("utf-8")

# Keeps the database busy until `globalThis.free` is true: every other change waits.
HOLD_DATABASE = """() => new Promise((begun) => {
  indexedDB.open("damper-bench").onsuccess = ({ target: { result: db } }) => {
    const store = db.transaction("typed", "readwrite").objectStore("typed");
    const again = () => globalThis.free || (store.count().onsuccess = again);
    store.count().onsuccess = () => begun(again());
  };
})"""
_FORM_PAGES = re.compile(
    rf'<section class="page[^>]*data-page="(?:{"|".join(BY_SLUG)})".*?'
    r'(?=<section class="page|</main>)',
    re.DOTALL,
)


def small(device: BrowserContext, address: str, dist: Path) -> None:
    """Leave out the pages of the forms, so that the page is there sooner."""
    body = _FORM_PAGES.sub("", (dist / "index.html").read_text("utf-8"))
    device.route("**/never-answered", lambda route: None)
    device.route(address, lambda route: route.fulfill(body=body, content_type="text/html"))


# Everything in the database; in a promise, so that a test can wait for it.
EVERYTHING = """async (script) => {
  const { read, STORES } = await import(new URL("db.js", script));
  return read(async (tx) => Object.fromEntries(await Promise.all(
    STORES.map(async (name) => [name, await tx.objectStore(name).getAll()]))));
}"""


def on_stand_in(context: BrowserContext, address: str, name: str = "log") -> Page:
    """A page of the site, up and running on the stand-in."""
    page = context.new_page()
    page.add_init_script(STAND_IN)
    page.goto(f"{address}#{name}")
    live(page)
    return page


def with_stand_in(dist: Path, folder: Path) -> Path:
    """The built site with the stand-in for Python in it, and somebody in a hurry: for engines that
    put no script into a page before it begins."""
    copy = shutil.copytree(dist, folder)
    (copy / "stand_in.js").write_text(STAND_IN, "utf-8")
    shutil.copy(Path(__file__).parent / "hurry.js", copy)
    page = (copy / "index.html").read_text("utf-8")
    scripts = '<script src="stand_in.js"></script><script src="hurry.js"></script>'
    (copy / "index.html").write_text(page.replace("<title>", f"{scripts}<title>", 1), "utf-8")
    return copy


def settled(page: Page) -> None:
    """All that was entered in the page so far is in the database: the next change comes behind."""
    page.evaluate(
        """async (script) => {
          const { inTurn } = await import(new URL("typed.js", script).href);
          await inTurn(async () => {});
        }""",
        script(page),
    )


def everything(page: Page) -> dict[str, list[Any]]:
    kept: dict[str, list[Any]] = page.evaluate(EVERYTHING, script(page))
    return kept


def typed(kept: dict[str, list[Any]], form: str, car: str | None = None) -> dict[str, str]:
    """The texts kept for a form, of this car or of the only one that has any."""
    records = [one for one in kept["typed"] if one["form"] == form and car in (None, one["car"])]
    assert len(records) < 2
    return {n: told["text"] for one in records for n, told in one["texts"].items()}


def is_whole(kept: dict[str, list[Any]]) -> None:
    """Whatever happened: no half of a change is there."""
    cars = {record["id"]: record["car"] for record in kept["cars"]}
    for number, car in cars.items():
        lines = sorted((e for e in kept["log"] if e["car"] == number), key=lambda e: e["time"])
        if lines:
            stands = {corner: one["collar"] for corner, one in car["corners"].items()}
            assert lines[-1]["stands"] == stands
            assert lines[0]["kind"] == "base"
    assert {entry["car"] for entry in kept["log"]} <= cars.keys()
    assert {head["owner"] for head in kept["setups"]} <= cars.keys()
    assert {head["id"] for head in kept["setups"]} == {body["id"] for body in kept["setup_cars"]}
    assert {typed["car"] for typed in kept["typed"]} <= {*cars, ""}
    current = [page["current"] for page in kept["settings"] if isinstance(page, dict)]
    assert not current or current[0] in {*cars, ""}
