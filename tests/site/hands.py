"""What every test with a page does: open it, wait until it answers, find a field, choose."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any, Literal, Protocol

from playwright.sync_api import Browser, BrowserContext, Locator, Page, ViewportSize, expect

from tests.site import beside

PATIENCE = 240_000  # ms; two slow shared cores, and other tests beside
# A browser that cannot keep the site. Nearly no test is about that, and keeping it fetches all of
# it a second time; Playwright's own "block" alone would leave a registration that is no object.
KEEPS_NOTHING = "Object.defineProperty(Navigator.prototype, 'serviceWorker', { value: undefined });"
NOON = datetime(2026, 5, 9, 12, 0)
DESKTOP: ViewportSize = {"width": 1280, "height": 720}
# Whether anything was typed or kept and is still so; the look goes back to that of the device.
LEFT = """() => new Promise((done) => {
  const look = document.querySelector('[name="look"][value="device"]');
  if (look && !look.checked) look.click();
  document.getElementById("notice")?.click(); // a message of the test before, out of the way
  indexedDB.open("damper-bench").onsuccess = ({ target: { result: db } }) => {
    const names = ["cars", "log", "setups", "typed", "settings"];
    const found = {};
    const transaction = db.transaction(names);
    for (const name of names) {
      const request = transaction.objectStore(name).getAll();
      request.onsuccess = () => (found[name] = request.result);
    }
    transaction.oncomplete = () => {
      db.close();
      const { cars, log, setups, typed, settings } = found;
      done([...cars, ...log, ...setups].length > 0
        || typed.some(({ texts }) => Object.keys(texts).length)
        || settings.some(({ system }) => system === "imperial"));
    };
  };
})"""
# Python never comes: for what does without it, a page costs a third of the processor time.
NO_PYTHON = "window.Worker = class { postMessage() {} terminate() {} };"
# Holds back the questions of one kind, each until what stands for it in `held` is called.
HOLD_QUESTIONS = """(kind) => {
  const send = Worker.prototype.postMessage;
  window.held = [];
  Worker.prototype.postMessage = function (told) {
    if (told.ask === kind) window.held.push(() => send.call(this, told));
    else send.call(this, told);
  };
}"""
# Lets all of them go, and holds back no more.
RELEASE_QUESTIONS = """() => {
  window.held.forEach((go) => go());
  window.held.push = (go) => go();
}"""
TRIAL = """(field, text) => {
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}"""
Keeping = Literal["allow", "block"]
Place = Literal["beside", "within"]  # where Python answers: see beside.py


class Visitor(Protocol):
    """Makes somebody who has never been here: a context of the browser with options of its own."""

    def __call__(
        self, *, service_workers: Keeping = "block", python: Place = "beside", **options: Any
    ) -> BrowserContext: ...


@contextmanager
def visiting(
    browser: Browser,
    *,
    service_workers: Keeping = "block",
    python: Place = "beside",
    **options: Any,
) -> Iterator[BrowserContext]:
    """A context with our patience; it keeps the site on the device only where a test says so, and
    has its Python beside the browser where that may be."""
    with browser.new_context(service_workers=service_workers, **options) as context:
        context.set_default_timeout(PATIENCE)
        if service_workers == "block":
            context.add_init_script(KEEPS_NOTHING)
            if python == "beside" and beside.may_be:
                beside.answers(context)
        yield context


class SharedPage:
    """One page with Python up, for all tests that only use the site.

    A test may leave the page open anywhere. One that leaves something typed, kept or chosen costs
    the next test the start of a new page, and cannot reach it.
    """

    def __init__(
        self,
        browser: Browser,
        address: str,
        scripts: Iterable[Path] = (),
        python: Place = "beside",
    ) -> None:
        self.browser, self.address, self.scripts = browser, address, tuple(scripts)
        self.python = python
        self.stack = ExitStack()
        self.page: Page | None = None

    def take(self) -> Page:
        """The page as nobody had used it, at the width of a desktop and in the usual look."""
        if self.page is None or self.page.is_closed() or self.page.evaluate(LEFT):
            self.page = self._fresh()
        self.page.set_viewport_size(DESKTOP)
        self.page.emulate_media(color_scheme="light", reduced_motion="no-preference")
        self.page.emulate_media(forced_colors="none", media="screen")
        return self.page

    def _fresh(self) -> Page:
        self.close()
        page = self.stack.enter_context(visiting(self.browser, python=self.python)).new_page()
        page.goto(self.address)
        for script in self.scripts:
            page.evaluate(script.read_text("utf-8"))
        live(page)
        return page

    def close(self) -> None:
        self.stack.close()


def live(page: Page) -> None:
    """Python in the page has answered."""
    expect(page.locator("html")).to_have_attribute("data-engine", "live", timeout=PATIENCE)


def at_rest(page: Page, address: str, name: str) -> Page:
    """A page of the site as it was built and all its scripts, for a test that asks Python
    nothing."""
    page.add_init_script(NO_PYTHON)
    page.goto(f"{address}#{name}")
    expect(page.locator("html")).to_have_attribute("data-engine", "starting")
    expect(page.locator(f'[data-page="{name}"]')).to_be_visible()
    return page


def hold_message(page: Page) -> None:
    """A hand at the message, which stays for as long: the test has something to do meanwhile."""
    expect(page.locator("#notice button")).to_be_visible()
    page.locator("#notice").hover()


def stop_clock(page: Page, now: datetime = NOON) -> None:
    """The time that the page sees stands still; only `page.clock` moves it on."""
    page.clock.install(time=now - timedelta(minutes=1))  # from there it runs until it is stopped
    page.clock.pause_at(now)


def opened(page: Page, address: str, name: str) -> Page:
    """A page of the site by its address, choices and all, once Python answers."""
    page.goto(f"{address}#{name}")
    live(page)
    expect(page.locator(f'[data-page="{name.partition("?")[0]}"]')).to_be_visible(timeout=PATIENCE)
    return page


def plots_are_read(page: Page) -> None:
    """Until the script that reads plots is there: it comes after the first answer."""
    page.evaluate(
        """() => {
          const { src } = document.querySelector('script[src$="/shell.js"]');
          return import(new URL("readout.js", src)).then(() => {});
        }"""
    )


def field(page: Page, slug: str, name: str) -> Locator:
    """A field of a form; where it is folded away, the fold is opened as a hand would."""
    found = page.locator(f'form[id="{slug}"] [name="{name}"]')
    found.first.wait_for(state="attached")  # until its page is shown, it is text
    reveal(found)
    return found


def reveal(found: Locator) -> None:
    """Open the fold that a field lies in."""
    found.evaluate_all(
        """(inputs) => inputs.forEach((input) => {
          const fold = input.closest("details");
          if (fold) fold.open = true;
        })"""
    )


def settings(page: Page) -> Locator:
    """The panel of look, units and language, opened."""
    panel = page.locator(".settings")
    panel.evaluate("(panel) => (panel.open = true)")
    return panel


def choose_units(page: Page, system: str) -> None:
    panel = settings(page)
    touch(panel.locator(f'[name="system"][value="{system}"]'))
    panel.evaluate("(panel) => (panel.open = false)")


def is_offline(page: Page, state: str) -> None:
    """The page says this about being kept."""
    expect(page.locator("html")).to_have_attribute("data-offline", state, timeout=PATIENCE)


def until(holds: Callable[[], object], seconds: float = PATIENCE / 1000) -> None:
    """Ask again until it holds. Playwright's wait for a function takes a promise for a yes."""
    end = time.monotonic() + seconds
    while not holds():
        if time.monotonic() > end:
            raise TimeoutError
        time.sleep(0.05)


def network_is_back(page: Page) -> None:
    """The device tells the page so; it may be busy with the last attempt, so more than once."""
    page.wait_for_function(
        """() => {
          const safe = document.documentElement.dataset.offline === "safe";
          return safe || (dispatchEvent(new Event("online")), false);
        }""",
        polling=500,
    )


def trial(field: Locator, text: str) -> None:
    """Play with the demo car's number, as the step of a key does.

    What a person types is a number of his own and begins a car of which nothing else is known.
    """
    field.wait_for(state="attached")
    reveal(field)
    field.wait_for(state="visible")
    field.focus()
    field.evaluate(TRIAL, text)


def unfold(page: Page, slug: str) -> None:
    """Open every chapter of a form."""
    folded = page.locator(f'form[id="{slug}"] details')
    folded.evaluate_all("(chapters) => chapters.forEach((chapter) => (chapter.open = true))")


def choose(page: Page, slug: str, name: str, value: str) -> None:
    touch(page.locator(f'form[id="{slug}"] [name="{name}"][value="{value}"]'))


def touch(box: Locator, *, checked: bool = True) -> None:
    """Take a choice or a tick, or a tick off, by its label, once that stands still: the box itself
    lies under it."""
    if box.is_checked() != checked:
        box.locator("xpath=ancestor::label[1]").click()
    expect(box).to_be_checked(checked=checked)


def step(page: Page, slug: str) -> Locator:
    """The first instruction of an answer."""
    return page.locator(f'[id="{slug}-answer"] .step').first


def reset(page: Page, slug: str) -> None:
    """Take out what was typed, so that the page is as the next test expects it."""
    page.locator(f'[data-page="{slug}"] [data-do="reset"]').click()


def script(page: Page) -> str:
    """The address of a module of the page, beside which the others lie."""
    address: str = page.evaluate("() => document.querySelector('script[type=module][src]').src")
    return address


def ask(page: Page, **question: object) -> Any:
    """The reply of the page's Python."""
    return page.evaluate(
        """async ([script, question]) =>
          (await import(new URL("ask.js", script).href)).ask(question)""",
        [script(page), question],
    )


def turn(page: Page, corner: str, way: str, times: int = 1) -> None:
    """Touch a collar's button in the log."""
    for _ in range(times):
        page.locator(f'[data-do="turn"][data-corner="{corner}"]').filter(has_text=way).click()


def net(page: Page, corner: str) -> Locator:
    """Net turns of a collar since the base, as the log says them."""
    return page.locator(f'[data-net="{corner}"]')


def enter_setup(page: Page, name: str, surface: str = "") -> None:
    """Fill in a set-up and touch Save."""
    page.locator("#setups-save-name").fill(name)
    page.locator("#setups-save-surface").fill(surface)
    warm = page.locator("#setups-save-temperature")
    if not warm.input_value():
        warm.fill("22")  # a car of one's own does not know it
    page.get_by_role("button", name="Save the set-up").click()


def save_setup(page: Page, name: str, surface: str = "") -> None:
    enter_setup(page, name, surface)
    expect(page.locator("#notice")).to_contain_text("Saved")
