"""The build list: a whole evening, and nothing of it is ever lost."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from calc.kept.build.build import DONE, Build
from calc.kept.build.finish import finished
from calc.kept.dampers import happened
from calc.kept.log import Moment
from calc.kept.seen import FITTED, SHELF
from calc.model.car import empty, put
from calc.model.origin import Origin
from site_src.both.build_list import records_html
from tests.site.devices import Device
from tests.site.hands import Visitor, at_rest, choose, choose_units, is_offline, live, opened, touch
from tests.site.hosting import Site
from tests.site.keeping import settled

FRONT, REAR = ("front_left", "front_right"), ("rear_left", "rear_right")
DRY = {"length": ("71.8", "72.3", "96.9", "96.9"), "stroke": ("22", "22", "30", "30")}
WET = {"closed": ("10", "10", "14", "14"), "rebound": ("6", "6", "8", "4")}
TICK = """(step) => document.querySelectorAll(`[name^="tick.${step}."]`)
  .forEach((input) => input.checked || input.click())"""
LOCK = """(hidden) => {
  Object.defineProperty(document, "hidden", { value: hidden, configurable: true });
  document.dispatchEvent(new Event("visibilitychange"));
}"""


def own_car(page: Page, address: str) -> None:
    """Begin an own car, of which nothing is known, and open its build list."""
    page.locator('[data-do="begin-own"]').click()
    expect(page.locator('[data-page="car"]')).to_be_visible()
    page.goto(f"{address}#build")
    expect(page.locator("#whose-name")).to_have_text("My car")


def step(page: Page, key: str) -> None:
    """Open a step, as the touch of its line does."""
    fold = page.locator(f"#build-{key}")
    if fold.get_attribute("open") is None:
        fold.locator("summary").first.click()


def tick(page: Page, *keys: str) -> None:
    """Tick steps for every damper that has them."""
    for key in keys:
        page.evaluate(TICK, key)


def enter(page: Page, name: str, values: tuple[str, ...]) -> None:
    """Type a reading of each damper."""
    for corner, value in zip((*FRONT, *REAR), values, strict=True):
        reading(page, name, corner).fill(value)


def letters(page: Page, **told: str) -> None:
    """Write a letter on a cap and go on."""
    step(page, "lay_out")
    for corner, letter in told.items():
        page.locator(f'[name="name.{corner}"]').fill(letter)
        page.locator(f'[name="name.{corner}"]').blur()


def reading(page: Page, name: str, corner: str) -> Locator:
    return page.locator(f'[name="read.{name}.{corner}"]')


def judged(page: Page, key: str, how: str) -> Locator:
    return page.locator(f'[data-part="says.{key}"] [data-judged="{how}"]')


def send_back(page: Page, key: str, trouble: str, dampers: str) -> None:
    """A damper goes back from a step, because of what was seen at it."""
    step(page, key)
    page.locator(f"#build-{key}-off > summary").click()
    off = page.locator(f"#build-{key}-{trouble}")
    off.locator("summary").click()
    button = off.locator(f'[data-dampers="{dampers}"]')
    said = button.get_attribute("data-said")
    assert said
    button.click()
    expect(page.locator("#notice")).to_contain_text(said)  # the page has moved to that step


def all_four(page: Page, *keys: str) -> None:
    """Tick steps for every damper that has them, each by one touch."""
    for key in keys:
        step(page, key)
        page.locator(f'[data-do="tick-all"][data-key="{key}"]').click()
        expect(ticked(page, key)).to_have_count(page.locator(f'[name^="tick.{key}."]').count())


def ticked(page: Page, key: str) -> Locator:
    return page.locator(f'[name^="tick.{key}."]:checked')


def killed(device: Device, address: str, *, offline: bool) -> Page:
    """The whole browser ends with no word to it; it is begun again on the same profile."""
    device.kill()
    again = device.page(offline=offline)
    again.goto(f"{address}#build")
    live(again)
    expect(again.locator("#build-top")).to_contain_text(" of ")
    return again


def test_nothing_acts_before_the_list_is_there(visitor: Visitor, site: Site) -> None:
    page = at_rest(visitor().new_page(), site.url, "build")
    expect(page.locator("#build-list")).to_have_text("Reading the list …")
    for what in ("build-done", "build-clear", "build-card"):
        expect(page.locator(f'[data-do="{what}"]')).to_be_hidden()


def test_a_whole_evening_from_an_empty_car_to_mounted_dampers(
    device: Device, same_site: Site
) -> None:
    """A screen that is locked while oil rests, a network that is lost, a browser that is killed
    twice: every tick and every reading is there. The pair that was built alike is called so, the
    other is caught where it shows first, goes back alone, and is alike then."""
    page = device.page()
    page.goto(same_site.url)
    live(page)
    is_offline(page, "safe")
    own_car(page, same_site.url)
    expect(page.locator("#build-lay_out")).to_have_attribute("open", "")
    for corner, letter in zip((*FRONT, *REAR), "ABCD", strict=True):
        page.locator(f'[name="name.{corner}"]').fill(letter)
    expect(page.locator("#build-top")).to_contain_text("A, front left")
    facts = page.locator("#build-oil .facts a")
    expect(facts, "an empty car leads to its fields").to_have_count(4)

    # Dry: the front right is too long, goes back to its rod end alone, and is read again.
    tick(page, "lay_out", "pistons", "shaft", "seals", "piston", "rod_end")
    step(page, "length")
    enter(page, "length", DRY["length"])
    expect(judged(page, "length", "apart")).to_contain_text("Front: not alike. 0.500")
    expect(judged(page, "length", "alike")).to_contain_text("Rear: alike")
    tick(page, "length")
    send_back(page, "length", "length", "front_right")
    expect(page.locator("#build-rod_end")).to_have_attribute("open", "")
    for key in ("rod_end", "length"):
        expect(page.locator(f'[name="tick.{key}.front_right"]')).not_to_be_checked()
        expect(page.locator(f'[name="tick.{key}.front_left"]')).to_be_checked()
    tick(page, "rod_end", "length")
    step(page, "length")
    reading(page, "length", "front_right").fill("71.8")
    expect(judged(page, "length", "alike")).to_have_count(2)

    # The network goes; the browser is killed in the middle of the evening.
    settled(page)
    page.context.set_offline(True)
    step(page, "stroke")
    enter(page, "stroke", DRY["stroke"])
    tick(page, "stroke", "drag", "oil", "fill", "work")
    page.locator('[name="tick.drag.rear_right"]').evaluate("(box) => box.click()")
    settled(page)
    page = killed(device, same_site.url, offline=True)
    expect(page.locator("#build-drag"), "not done by all").to_have_attribute("open", "")
    tick(page, "drag")
    step(page, "rest")
    for corner, value in zip((*FRONT, *REAR), DRY["stroke"], strict=True):
        expect(reading(page, "stroke", corner)).to_have_value(value)

    # The oil rests, the screen is locked for longer than that.
    page.clock.install()
    page.locator("#build-rest").get_by_role("button", name="All four: timer").click()
    expect(page.locator("#notice")).to_contain_text("runs until")
    expect(page.locator("#timers [data-timer]:not([hidden])")).to_have_count(4)
    expect(page.locator("[data-timer=rear_right]")).to_contain_text("D, rear right")
    expect(page.get_by_role("button", name="Stop timer: D, rear right")).to_be_visible()
    page.evaluate(LOCK, True)
    page.clock.fast_forward(50 * 60_000)
    page.evaluate(LOCK, False)
    expect(page.locator("[data-timer=rear_right] strong")).to_contain_text("Ended at")

    # Wet: the rear right has a bubble, which shows at the rebound and not before.
    tick(page, "rest", "top_up", "close", "rebound", "hang")
    step(page, "close")
    enter(page, "closed", WET["closed"])
    step(page, "rebound")
    expect(page.locator("#build-rebound .facts")).to_contain_text(
        re.compile(r"Front shaft 10.0\smm in, as read at “Close”")
    )
    enter(page, "rebound", WET["rebound"])
    expect(judged(page, "pair", "apart")).to_contain_text("first at “Rebound”")
    expect(judged(page, "pair", "alike")).to_contain_text(
        "Front: alike in everything measured on both (4)"
    )
    settled(page)
    page = killed(device, same_site.url, offline=False)
    expect(judged(page, "pair", "apart")).to_contain_text("first at “Rebound”")
    step(page, "rebound")
    send_back(page, "rebound", "bubble", "rear_right")
    expect(page.locator("#build-work")).to_have_attribute("open", "")
    expect(judged(page, "rebound", "open")).to_contain_text("D, rear right")
    tick(page, "work", "rest", "top_up", "close")
    step(page, "rebound")
    reading(page, "rebound", "rear_right").fill("8")
    tick(page, "rebound")
    expect(judged(page, "pair", "alike")).to_have_count(2)

    # On the car, and written down.
    tick(page, "pair", "spring", "touch", "mark", "mount", "droop")
    expect(page.locator("#build-top")).to_contain_text(re.compile("23 of 23.*All done", re.DOTALL))
    page.locator('[data-do="build-done"]').click()
    expect(page.locator("#notice")).to_contain_text("Written down")
    expect(page.locator("#build-records .damper")).to_have_count(4)
    expect(page.locator("#build-records .damper").nth(3)).to_contain_text(
        re.compile(r"D, rear right.*Rebound.*8.00\smm", re.DOTALL)
    )
    page.goto(f"{same_site.url}#car")
    page.reload()
    live(page)
    stroke = page.locator('#car [name="corner.front_left.stroke"]')
    expect(stroke).to_have_value("22")
    page.goto(f"{same_site.url}#log")
    expect(page.locator("#log-lines")).to_contain_text("Built, A, front left")


@pytest.mark.wide("the two kinds of damper that the evening above does not build")
def test_an_evening_of_vented_and_emulsion_dampers_ends_on_the_car(
    visitor: Visitor, site: Site
) -> None:
    """Those without a bladder are alike by what is measured of their kind, and in the records."""
    page = visitor().new_page()
    page.goto(site.url)
    live(page)
    own_car(page, site.url)
    for end, kind in (("front", "vented"), ("rear", "emulsion")):
        page.locator(f'[name="kind.{end}"][value="{kind}"]').evaluate("(box) => box.click()")
    expect(page.locator('[name^="tick.rest."]')).to_have_count(2)
    letters(page, **dict(zip((*FRONT, *REAR), "ABCD", strict=True)))
    dry = ("lay_out", "pistons", "shaft", "seals", "piston", "rod_end", "length", "stroke", "drag")
    all_four(page, *dry, "oil", "fill", "work", "rest", "top_up", "close", "rebound", "hang")
    for name, values in ({**DRY, "length": ("71.8", "71.8", "96.9", "96.9")} | WET).items():
        enter(page, name, values)
    for corner in REAR:  # what is put in is measured where air is left in the oil on purpose
        reading(page, "filled", corner).fill("6.0")
    expect(reading(page, "filled", "front_left")).to_have_count(0)
    expect(judged(page, "fill", "alike")).to_contain_text("Rear: alike")
    expect(judged(page, "pair", "apart")).to_contain_text("first at “Rebound”")
    step(page, "rebound")
    expect(page.locator("#build-rebound-foam")).to_contain_text("another share of air")
    send_back(page, "rebound", "foam", "rear_right")
    expect(page.locator("#build-fill")).to_have_attribute("open", "")
    expect(page.locator('[name="tick.fill.rear_right"]')).not_to_be_checked()
    reading(page, "filled", "rear_right").fill("6.0")  # it is filled once more
    tick(page, "fill", "work", "top_up", "close")
    step(page, "rebound")
    reading(page, "rebound", "rear_right").fill("8")
    tick(page, "rebound", "hang")
    expect(judged(page, "pair", "alike")).to_have_count(2)
    all_four(page, "pair", "spring", "touch", "mark", "mount", "droop")
    expect(page.locator("#build-top")).to_contain_text(re.compile("23 of 23.*22 of 22", re.DOTALL))
    page.locator('[data-do="build-done"]').click()
    records = page.locator("#build-records .damper")
    expect(records).to_have_count(4)
    expect(records.nth(0)).to_contain_text("vented cap or bleed screw")
    expect(records.nth(3)).to_contain_text(re.compile(r"emulsion, no bladder.*6.00\smL", re.DOTALL))


def test_the_list_is_the_users_own(visitor: Visitor, site: Site) -> None:
    """Steps of one's own, left out, moved; units; each change is taken back by a touch; it is the
    same in another window and on the card. Entry, folds and cursor stay when the list is replaced:
    after the first number typed, with which the own car begins, and after a step is moved."""
    context = visitor()
    page = opened(context.new_page(), site.url, "build")
    expect(page.locator("#build-lay_out")).to_have_attribute("open", "")
    step(page, "stroke")
    reading(page, "stroke", "front_left").press_sequentially("25.4")
    expect(page.locator("#whose-name")).to_have_text("My car")
    expect(page.locator("#build-oil .facts a")).to_have_count(4)
    expect(reading(page, "stroke", "front_left")).to_be_focused()
    expect(reading(page, "stroke", "front_left")).to_have_value("25.4")

    def order() -> list[str]:
        found: list[str] = page.locator(".build-step").evaluate_all(
            "(steps) => steps.map((step) => step.dataset.step)"
        )
        return found

    before = order()
    step(page, "shaft")
    fold = page.locator("#build-shaft > .stack > .out").last
    fold.locator("summary").click()
    fold.locator("[data-own]").fill("Polish it")
    fold.get_by_role("button", name="Add").click()
    expect(page.locator(".build-step > summary", has_text="Polish it")).to_have_count(1)
    own = order()[3]
    assert own.startswith("own-")
    tick(page, own)
    fold.locator("[data-own]").fill("Not added yet")
    fold.get_by_role("button", name="Move up").click()
    expect(page.locator(".build-step").nth(1)).to_have_attribute("data-step", "shaft")
    expect(fold.get_by_role("button", name="Move up")).to_be_focused()
    expect(fold.locator("[data-own]")).to_have_value("Not added yet")
    page.locator('[data-do="step-out"][data-key="drag"]').dispatch_event("click")
    expect(page.locator("#build-drag")).to_have_count(0)
    page.locator('[data-do="open-step"]').first.dispatch_event("click")
    page.locator("#notice button").click()
    expect(page.locator("#build-drag")).to_have_count(1)
    page.locator('[data-do="step-out"][data-key="drag"]').dispatch_event("click")
    expect(page.locator("#build-drag")).to_have_count(0)

    step(page, "stroke")
    choose_units(page, "imperial")
    expect(reading(page, "stroke", "front_left")).to_have_value("1")
    reading(page, "stroke", "front_right").fill("wide")
    expect(page.locator("#build-stroke .error")).to_contain_text("not a number")
    expect(page.locator('[data-do="build-done"]')).to_be_disabled()
    page.locator("#build-stroke > summary").click()
    tick(page, "fill")
    expect(page.locator("#build-top")).to_contain_text("2 of")
    expect(page.locator("#build-stroke"), "closed by a hand").not_to_have_attribute("open", "")

    other = opened(context.new_page(), site.url, "build")
    expect(reading(other, "stroke", "front_left")).to_have_value("1")
    expect(other.locator(f'[name="tick.{own}.rear_left"]')).to_be_checked()
    tick(other, "lay_out")
    expect(page.locator('[name="tick.lay_out.rear_right"]')).to_be_checked()
    page.locator('[data-do="step-in"][data-key="drag"]').click()
    expect(page.locator("#build-drag")).to_have_count(1)
    assert sorted(order()) == sorted([*before, own])

    page.locator('[data-do="build-card"]').dispatch_event("click")
    card = page.locator("#sheet-paper .sheet-build")
    expect(card).to_contain_text("Polish it")
    expect(card.get_by_label("done")).to_have_count(12)
    expect(card.locator("tr", has_text="Stroke, dry").locator(".as-slot b").first).to_have_text(
        re.compile("^1.0+$")
    )
    expect(page.locator("#on-card")).to_be_visible()
    expect(page.locator("#on-sheet")).to_be_hidden()


def test_enter_goes_from_box_to_box_and_a_pair_is_asked_about_itself(
    visitor: Visitor, site: Site
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "build")
    step(page, "pistons")
    reading(page, "piston", "front_left").press("Enter")
    expect(reading(page, "mass", "front_left")).to_be_focused()
    page.keyboard.press("Enter")
    expect(reading(page, "piston", "front_right")).to_be_focused()
    reading(page, "mass", "rear_right").press("Enter")
    expect(page.locator("#build-pistons .go button")).to_be_focused()
    kinds = page.locator("fieldset:has([name='kind.rear'])")
    expect(kinds).not_to_have_attribute("hidden", "")
    choose(page, "build", "scope", "front")
    expect(kinds).to_have_attribute("hidden", "")


def test_one_touch_for_all_and_no_way_to_lose_an_evening(visitor: Visitor, site: Site) -> None:
    """All four are ticked by a touch, which is taken back as one and leaves out a damper that was
    sent back; a pair goes back together where both have to. To begin again asks first, and what was
    read is in the records then. What is said aloud of the progress is of the damper that moved."""
    page = visitor().new_page()
    page.goto(site.url)
    live(page)
    own_car(page, site.url)
    all_four(page, "close")
    page.locator("#notice button").click()
    expect(ticked(page, "close")).to_have_count(0)
    all_four(page, "oil", "fill", "close", "hang")
    send_back(page, "hang", "wrong_oil", "rear_left rear_right")
    expect(ticked(page, "fill")).to_have_count(2)
    for key in ("oil", "fill"):
        all_four(page, key)
    send_back(page, "close", "leak_cap", "front_left")
    tick(page, "rebound")
    touch(page.locator('[name="tick.close.front_right"]'), checked=False)
    step(page, "close")
    everybody = page.locator('[data-do="tick-all"][data-key="close"]')
    everybody.click()
    expect(page.locator("#notice")).to_contain_text("sent back")
    expect(page.locator('[name="tick.close.front_left"]')).not_to_be_checked()
    expect(page.locator('[name="tick.close.front_right"]')).to_be_checked()
    expect(everybody).to_have_attribute("aria-checked", "false")
    reading(page, "closed", "front_right").fill("9")
    reading(page, "closed", "front_left").fill("9")
    expect(judged(page, "close", "alike"), "before it is ticked").to_be_visible()
    everybody.click()
    expect(page.locator('[name="tick.close.front_left"]')).to_be_checked()
    for corner in FRONT:
        reading(page, "closed", corner).fill("")

    page.evaluate(
        """() => {
          window.said = [];
          new MutationObserver((changes) => changes.forEach(({ target }) =>
            window.said.push(target.parentElement.closest("[aria-live]")?.dataset.part ?? "all")))
            .observe(document.getElementById("build-top"),
              { characterData: true, childList: true, subtree: true });
        }"""
    )
    step(page, "shaft")
    touch(page.locator('[name="tick.shaft.rear_right"]'))
    expect(page.locator('[data-part="top.rear_right"]')).to_contain_text("4 of")
    assert set(page.evaluate("() => window.said")) == {"top.rear_right"}

    step(page, "stroke")
    reading(page, "stroke", "front_left").fill("21.6")
    again = page.locator("#build-again")
    again.locator("summary").click()
    expect(again).to_contain_text("read: 1.")
    again.get_by_role("button").click()
    expect(page.locator("#notice")).to_contain_text("in the records")
    expect(page.locator("#build-list :checked")).to_have_count(0)
    expect(reading(page, "stroke", "front_left")).to_have_value("")
    record = page.locator("#build-records .damper").first
    expect(record).to_contain_text(re.compile(r"Front left.*21\.60\smm", re.DOTALL))
    record.locator("summary").click()
    expect(record).to_contain_text("Build given up, Front left")
    page.locator("#notice button").click()
    expect(reading(page, "stroke", "front_left")).to_have_value("21.6")
    expect(page.locator("#build-records .damper")).to_have_count(0)

    # Readings go with the letter of their damper: to a spare none, to another corner with it.
    letters(page, front_left="A", front_right="B")
    letters(page, front_left="S")
    expect(page.locator("#notice")).to_contain_text("stays with A")
    expect(reading(page, "stroke", "front_left")).to_have_value("")
    expect(page.locator('[name="tick.oil.front_left"]')).not_to_be_checked()
    letters(page, front_right="A")
    expect(reading(page, "stroke", "front_right")).to_have_value("21.6")
    letters(page, front_left="B")
    expect(page.locator('[name="tick.oil.front_left"]')).to_be_checked()
    letters(page, front_right="Z")
    expect(reading(page, "stroke", "front_right")).to_have_value("")
    page.locator("#notice button").click()
    expect(reading(page, "stroke", "front_right"), "the same damper").to_have_value("21.6")


def test_a_damper_does_not_take_over_what_was_measured_of_the_one_before_it() -> None:
    """A form measures the stroke at a corner: it is that of the damper that was there then."""
    texts = {
        "name.front_left": "A", "name.rear_left": "C", "read.stroke.front_left": "22 mm",
        "read.stroke.rear_left": "30 mm", "tick.stroke.rear_left": DONE,
    }  # fmt: skip
    car, lines = finished(Build(empty("My car"), texts, "metric"), Moment("b", "c", 1e9, 0.0))
    car = put(car, "corners.rear_left.stroke", 31e-3, Origin("measured", 1e9 + 10))
    before = records_html(car, lines, "metric", None)
    assert "<dd>31.00" in before and "<dd>30.00" not in before
    moved = [
        happened(car, Moment(f"m{n}", "c", 1e9 + n, 0.0), did, name, corner)[1][0]
        for n, (did, name, corner) in enumerate(
            [(SHELF, "C", ""), (FITTED, "A", "rear_left")], start=20
        )
    ]
    after = records_html(car, [*lines, *moved], "metric", None)
    assert "<dd>22.00" in after and "31.00" not in after
