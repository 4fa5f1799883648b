"""Taps and scrolling for eight jobs, counted in a real browser on a phone's screen.

    python tests/bench/taps.py DIST

A tap is one touch of the screen: at a link, a button, a choice, or a field before something is
typed in it; keys of the keyboard are none. Before each tap the page is scrolled by the fewest px
that bring the target whole into sight, free of what lies over the page; those px are counted. The
car is one of our own, of which everything is known. A target has one name or more, because a label
may change from one version of the site to another; the first that is there is touched.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Browser, Locator, Page, expect, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[2]))

from calc.model.car import to_json
from site_src.build.browser import launch
from site_src.build.server import serving
from tests.owned import owned
from tests.site.hands import KEEPS_NOTHING

PHONE = {"width": 390, "height": 844}
PATIENCE = 60_000  # ms
OWN = """([cars, current]) => new Promise((done, failed) => {
  indexedDB.open("damper-bench").onsuccess = ({ target: { result: db } }) => {
    const tx = db.transaction(["cars", "settings"], "readwrite");
    for (const one of cars) tx.objectStore("cars").put(one);
    tx.objectStore("settings").get("page").onsuccess = ({ target: { result } }) =>
      tx.objectStore("settings").put({ ...result, current }, "page");
    tx.oncomplete = () => (db.close(), done());
    tx.onerror = () => failed(tx.error);
  };
})"""
# The px to scroll so that an element is in sight: below what is stuck at the top, above the bar.
OFF = """(target) => {
  const shown = target.closest("label") ?? target;
  const { top, bottom } = shown.getBoundingClientRect();
  const stuck = [...document.querySelectorAll("*")].filter((one) => {
    const { position } = getComputedStyle(one);
    return (position === "fixed" || position === "sticky") && one.checkVisibility()
      && !one.contains(shown) && one.getBoundingClientRect().width > innerWidth / 2;
  }).map((one) => one.getBoundingClientRect());
  const over_all = shown.closest(".pages, .menu, #notice, .settings > div");
  if (over_all && getComputedStyle(over_all).position !== "static") return 0;
  const above = stuck.filter((r) => r.top <= 1 && r.bottom > 0).map((r) => r.bottom);
  const below = stuck.filter((r) => r.bottom >= innerHeight - 1).map((r) => r.top);
  const [over, under] = [Math.max(0, ...above), Math.min(innerHeight, ...below)];
  return bottom > under ? bottom - under : top < over ? top - over : 0;
}"""


class Hand:
    """Counts what a thumb has to do."""

    def __init__(self, page: Page) -> None:
        self.page, self.taps, self.scrolled = page, 0, 0.0

    def tap(self, *targets: Locator) -> Locator:
        """Touch the first of these that is there."""
        target = self.reach(*targets)
        target.click(force=True)
        return target

    def reach(self, *targets: Locator) -> Locator:
        """Count the touch of a target, and what has to be scrolled before it."""
        target = self._there(targets)
        off = target.evaluate(OFF)
        self.scrolled += abs(off)
        self.page.evaluate("(by) => scrollBy({ top: by, behavior: 'instant' })", off)
        self.taps += 1
        return target

    def _there(self, targets: tuple[Locator, ...]) -> Locator:
        for _ in range(PATIENCE // 100):
            for target in targets:
                if target.first.is_visible():
                    return target.first
            self.page.wait_for_timeout(100)
        raise TimeoutError(str(targets[0]))

    def type(self, *targets: Locator, text: str) -> None:
        self.tap(*targets)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(text)


def link(page: Page, name: str) -> Locator:
    """A link to a page of the site that is in sight, wherever it stands."""
    return page.locator(f'a[href="#{name}"]:visible')


def go(hand: Hand, menu: str, name: str) -> None:
    """To a page: by a door in sight, else through the bar."""
    page = hand.page
    door = page.locator(f'.ask a[href="#{name}"], .hero a[href="#{name}"]')
    if door.first.is_visible():
        hand.tap(door)
    else:
        hand.tap(page.locator(".pages summary", has_text=menu))
        hand.tap(page.locator(f'.menu a[href="#{name}"]'))
    expect(page.locator(f'[data-page="{name}"]')).to_be_visible()
    page.wait_for_timeout(1500)  # until the answer is this car's


def field(page: Page, form: str, name: str) -> Locator:
    return page.locator(f'form[id="{form}"] [name="{name}"]')


def done(hand: Hand, form: str) -> None:
    hand.page.wait_for_timeout(1500)
    hand.tap(hand.page.locator(f'[id="{form}-answer"] [data-do="done"]'))
    message = hand.page.locator("#notice").filter(has_text="Carried out")
    expect(message.or_(hand.page.locator(f'[id="{form}-answer"] .carried')).first).to_be_visible()


def low(hand: Hand) -> None:
    """The front is 2 mm low, to done."""
    go(hand, "Springs", "collar-turns")
    hand.type(field(hand.page, "collar-turns", "ride_height"), text="21.5")
    done(hand, "collar-turns")


def hotter(hand: Hand) -> None:
    """It got hotter, to done."""
    go(hand, "Track", "hotter")
    hand.type(field(hand.page, "hotter", "now"), text="31")
    done(hand, "hotter")


def cross(hand: Hand) -> None:
    """Two scales read again, to done."""
    go(hand, "Springs", "corner-loads")
    for corner, load in (("front_left", "380"), ("rear_right", "480")):
        hand.type(field(hand.page, "corner-loads", f"corner.{corner}.load"), text=load)
    done(hand, "corner-loads")


def setup(hand: Hand) -> None:
    """A set-up saved."""
    go(hand, "Track", "setups")
    hand.type(hand.page.locator("#setups-save-name"), text="dry")
    hand.tap(hand.page.locator('#setups-save [type="submit"]'))
    expect(hand.page.locator("#notice")).to_contain_text("Saved")


def switch(hand: Hand) -> None:
    """The other car to work on."""
    if hand.page.locator(".whose").count():
        hand.tap(hand.page.locator(".whose"))
    else:
        go(hand, "More", "cars")
    hand.page.wait_for_timeout(1500)
    hand.tap(hand.page.locator('.open [data-do="switch-car"][data-id="two"]'))
    expect(hand.page.locator("#engine-state")).to_have_text("Car: Second.")


def share(hand: Hand) -> None:
    """The car as a code in sight."""
    page = hand.page
    if page.locator(".whose").count():
        hand.tap(page.locator(".whose"))
        hand.tap(page.locator('[data-do="share"]'))
        code = page.locator("#car-code svg")
    else:
        go(hand, "More", "sheet")
        code = page.locator("#sheet-paper svg.code")
    code.first.wait_for()
    hand.scrolled += abs(code.first.evaluate(OFF))


def restore(hand: Hand) -> None:
    """A backup made before, brought back; choosing the file in the system's own window is not
    counted."""
    page = hand.page
    if page.locator(".settings").count():
        hand.tap(page.locator(".settings > summary"))
        hand.tap(page.locator('.settings a[href="#cars"]'))
    else:
        go(hand, "More", "cars")
    page.wait_for_timeout(1500)
    with page.expect_download() as handed:
        page.locator('[data-do="backup"]').click()
    page.evaluate("scrollTo(0, 0)")
    text = Path(handed.value.path()).read_bytes()
    file = {"name": "backup.json", "mimeType": "application/json", "buffer": text}
    hand.reach(page.locator("#backup-file")).set_input_files(file)  # type: ignore[arg-type]
    hand.tap(page.locator('[data-do="restore"]'))


def newcomer(hand: Hand) -> None:
    """Nobody's car yet: two heights typed, and what is usual for the rest, to an answer."""
    go(hand, "Springs", "collar-turns")
    for name, text in (("ride_height", "22"), ("wanted_height", "23.5")):
        hand.type(field(hand.page, "collar-turns", name), text=text)
        hand.page.wait_for_timeout(1500)
    hand.tap(hand.page.locator('[data-do="assume"]'))
    expect(hand.page.locator("#collar-turns-answer .step").first).to_contain_text("down")


JOBS: dict[str, tuple[Callable[[Hand], None], bool]] = {
    "front 2 mm low, to done": (low, True),
    "hotter, to done": (hotter, True),
    "cross weight, to done": (cross, True),
    "set-up saved": (setup, True),
    "switch car": (switch, True),
    "share, code in sight": (share, True),
    "restore": (restore, True),
    "new user, first answer": (newcomer, False),
}


def visit(browser: Browser, address: str, own: bool) -> Page:
    """The front page on a phone, with two cars of one's own or none."""
    context = browser.new_context(viewport=PHONE, accept_downloads=True)  # type: ignore[arg-type]
    context.set_default_timeout(PATIENCE)
    context.add_init_script(KEEPS_NOTHING)
    page = context.new_page()
    page.goto(f"{address}#all")
    page.locator("html[data-engine=live]").wait_for(state="attached")
    if own:
        names = {"one": "First", "two": "Second"}
        cars = [
            {"id": key, "revision": 1, "changed": 1, "car": to_json(owned(name=name))}
            for key, name in names.items()
        ]
        page.evaluate(OWN, [cars, "one"])
        page.reload()
        page.locator("html[data-engine=live]").wait_for(state="attached")
        expect(page.locator("#engine-state")).to_have_text("Car: First.")
    return page


def main(dist: Path) -> None:
    with serving(dist) as address, sync_playwright() as playwright:
        browser = launch(playwright)
        for name, (job, own) in JOBS.items():
            page = visit(browser, address, own)
            hand = Hand(page)
            try:
                job(hand)
                print(f"{name}: {hand.taps} taps, {hand.scrolled:.0f} px", flush=True)
            except Exception as error:
                print(f"{name}: not done, {str(error).splitlines()[0]}", flush=True)
            page.context.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
