"""Hands and eyes for the tests of access: open, dress, ask, and look for what is wrong."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Locator, Page, expect

from calc.forms.catalogue import FORMS
from site_src.build.toolchain import NODE_MODULES
from tests.site.hands import PATIENCE, settings, touch, trial

AXE = NODE_MODULES / "axe-core" / "axe.min.js"
TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
EYES = Path(__file__).with_name("access.js")
LOOKING = (AXE, EYES)
SLUGS = [form.slug for form in FORMS]
PLACES = ["all", "build", "log", "setups", "cars", "sheet", "help", "asked"]
LOOKS = ("light", "dark", "sun", "night")
WIDTHS = {360: 780, 768: 1024, 1280: 900}  # px wide: px high


def start(page: Page, url: str) -> None:
    """Load a page, with axe-core and our own eyes in it."""
    page.goto(url)
    for script in LOOKING:
        page.evaluate(script.read_text("utf-8"))


def appears(what: Locator) -> None:
    expect(what).to_be_visible(timeout=PATIENCE)


def turn_to(page: Page, name: str) -> Locator:
    """Open a page of the one page by its address."""
    page.evaluate("name => { location.hash = name; }", name)
    opened = page.locator(f'[data-page="{name}"]')
    appears(opened)
    return opened


def dress(page: Page, width: int, look: str) -> None:
    """A width, and a look: of the device, or chosen."""
    page.set_viewport_size({"width": width, "height": WIDTHS[width]})
    page.emulate_media(color_scheme="dark" if look == "dark" else "light")
    if page.locator('[name="look"]').count():
        choice = look if look in ("sun", "night") else "device"
        panel = settings(page)
        touch(panel.locator(f'[name="look"][value="{choice}"]'))
        panel.evaluate("(panel) => (panel.open = false)")
    else:
        page.evaluate("look => { document.documentElement.dataset.look = look; }", look)


def violations(page: Page, look: str = "light") -> list[str]:
    """What axe-core objects to; in the sun the contrast of WCAG 2.2, 1.4.6 is asked for too."""
    expect(page.locator(".open .coming")).to_have_count(0)
    found: list[str] = page.evaluate("(how) => eyes.violations(...how)", [TAGS, look == "sun"])
    return found


def too_small(page: Page) -> list[str]:
    """Controls less than 44 px high or wide: WCAG 2.2, 2.5.5, which excepts links in sentences."""
    found: list[str] = page.evaluate("() => eyes.tooSmall()")
    return found


def lost_when_doubled(page: Page) -> list[str]:
    """What is cut, or runs over the edge, with all text twice as large: WCAG 2.2, 1.4.4, 1.4.10."""
    found: list[str] = page.evaluate("() => eyes.lostWhenDoubled()")
    return found


def empty(form: Locator) -> None:
    """Take out whatever stands in the form: an entry misses it, but on the page of the car, where
    the demo car's value takes its place."""
    form.evaluate(
        """(form) => {
          for (const input of form.querySelectorAll(".field input")) {
            input.value = "";
            input.dispatchEvent(new Event("input", { bubbles: true }));
          }
        }"""
    )
    if form.get_attribute("id") != "car":
        appears(form.locator(".error").first)


def type_wrong(form: Locator) -> None:
    trial(form.locator(".field input:not(.text):visible").first, "about two")
    appears(form.locator(".error").first)


def put_back(form: Locator) -> None:
    form.locator('[data-do="reset"]').click()
    expect(form.locator(".error, .typed")).to_have_count(0, timeout=PATIENCE)


# What asks or tells something beside a form, brought on screen.
def ask_delete(page: Page) -> None:
    turn_to(page, "cars").locator('[data-do="new-car"]').click()
    page.locator('#cars-list [data-do="delete-car"]').last.click()
    page.locator("#cars-list [data-sure]").click()
    appears(page.locator("#notice button"))


def ask_import(page: Page) -> None:
    page.evaluate("location.hash = 'car=damaged'")
    appears(page.locator("#notice"))


def ask_restore(page: Page) -> None:
    opened = turn_to(page, "cars")
    opened.locator('[data-do="new-car"]').click()
    with page.expect_download() as handed:
        opened.locator('[data-do="backup"]').click()
    page.locator("#backup-file").set_input_files(
        {
            "name": "backup.json",
            "mimeType": "application/json",
            "buffer": Path(handed.value.path()).read_bytes(),
        }
    )
    appears(page.locator('[data-do="restore"]'))


def ask_setups(page: Page) -> None:
    opened = turn_to(page, "setups")
    for name in ("dry", "wet"):
        opened.locator('[name="name"]').fill(name)
        opened.locator('#setups-save button[type="submit"]').click()
        appears(opened.locator("#setups-list").get_by_text(name))
    for label in opened.locator("#setups-list label").all():
        label.click()
    opened.locator('[data-do="compare"]').click()
    appears(opened.locator("#setups-shown .band"))


def ask_log(page: Page) -> None:
    opened = turn_to(page, "log")
    opened.locator('[data-do="turn"]').first.click()
    appears(opened.locator('[data-do="home"]'))
    opened.locator("summary").first.click()


def ask_find(page: Page) -> None:
    turn_to(page, "all").locator("#find").fill("spring")
    appears(page.locator("#found li").first)


def ask_menu(page: Page) -> None:
    turn_to(page, "help")
    page.locator(".pages summary").first.click()
    expect(page.locator(".menu:visible")).to_have_count(1, timeout=PATIENCE)


def ask_how(page: Page) -> None:
    opened = turn_to(page, "oil-blend")
    folded = opened.locator("details:not([open]) > summary:visible")
    while folded.count():
        folded.first.click()


ASKED = (ask_menu, ask_find, ask_how, ask_log, ask_setups, ask_restore, ask_delete, ask_import)
