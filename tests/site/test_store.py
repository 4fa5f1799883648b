"""What is kept survives what a phone does: killed pages, no room, cleared storage, two windows."""

from __future__ import annotations

import json
import os
import random
import signal
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any, cast

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Playwright, expect

from calc.model.car import Car, from_json, put, to_json
from site_src.build import browser as browsers
from tests.site.hands import hold_message, script, trial, until, visiting
from tests.site.hosting import Site
from tests.site.keeping import (
    HOLD_DATABASE,
    STAND_IN,
    everything,
    is_whole,
    on_stand_in,
    small,
    typed,
)

Kept = dict[str, list[Any]]
PHONES = 3  # each is killed as often as it takes
DEEDS = (Path(__file__).parent / "deeds.js").read_text("utf-8")


@pytest.fixture(scope="module")
def phone(browser: Browser) -> Iterator[Browser]:
    """A browser of its own, whose pages can be killed as a phone kills them."""
    alone = browsers.launch(cast(Playwright, SimpleNamespace(chromium=browser.browser_type)))
    yield alone
    alone.close()


@pytest.fixture
def device(phone: Browser) -> Iterator[BrowserContext]:
    """Keeps its storage while its pages come and go."""
    with visiting(phone) as context:
        yield context


def begin(device: BrowserContext, address: str, chance: random.Random) -> tuple[Page, list[str]]:
    """A page that has come to a step in the middle of something, and what it told before."""
    page = on_stand_in(device, address)
    kept = everything(page)
    is_whole(kept)
    messages: list[str] = []
    page.on("console", lambda message: messages.append(message.text))
    given = [script(page), chance.randrange(1, 2**31 - 1), chance.randrange(1, 60)]
    with page.expect_console_message(lambda message: message.text == "stopped"):
        page.evaluate(f"(given) => {{ ({DEEDS})(given); }}", given)
    return page, messages


def kill(phone: Browser) -> None:
    """End the process of every page where it stands."""
    told = phone.new_browser_cdp_session().send("SystemInfo.getProcessInfo")
    for process in told["processInfo"]:
        if process["type"] == "renderer":
            os.kill(process["id"], signal.SIGKILL)


def only_one_deed_apart(before: Kept, after: Kept) -> None:
    """What was kept is there, but for what one deed takes away: a line, a set-up, or a car with
    all that is its own."""
    sold = {one["id"] for one in before["cars"]} - {one["id"] for one in after["cars"]}
    assert len(sold) <= 1
    for name, owner in (("log", "car"), ("setups", "owner")):
        there = {one["id"] for one in after[name]}
        missing = [one for one in before[name] if one["id"] not in there]
        assert len(missing) <= 1 or {one[owner] for one in missing} == sold


@pytest.mark.parametrize(
    "cases", [27, pytest.param(300, marks=pytest.mark.wide("many more random moments"))]
)
def test_killed_between_any_two_steps_everything_is_whole(
    phone: Browser, site: Site, dist: Path, cases: int
) -> None:
    """Each kept change is there, the one in work is there or not."""
    chance = random.Random(cases)
    in_work = killed = 0
    devices = [phone.new_context(service_workers="block") for _ in range(PHONES)]
    for device in devices:
        small(device, site.url, dist)
    before: list[Kept] = []
    while killed < cases:
        begun = [begin(device, site.url, chance) for device in devices]
        for earlier, (_, messages) in zip(before, begun, strict=False):
            now = kept_in(messages[0])
            only_one_deed_apart(earlier, now)
            in_work += now != earlier
            killed += 1
        before = [kept_in([m for m in told if m.startswith("kept ")][-1]) for _, told in begun]
        kill(phone)
        for page, _ in begun:
            page.close()
    assert in_work  # some had come as far as to be kept


def kept_in(message: str) -> Kept:
    kept: Kept = json.loads(message.removeprefix("kept "))
    return kept


# The stand-in draws no buttons: this does what a touch of one does.
TURNS = """async ([base, corner, times]) => {
  const { actions } = await import(new URL("log.js", base));
  for (let n = 0; n < times; n++) await actions.turn({ dataset: { corner, turns: "0.25" } });
}"""


def turned(page: Page, times: int = 1, corner: str = "rear_left") -> None:
    page.evaluate(TURNS, [script(page), corner, times])


def collar(page: Page, corner: str = "rear_left") -> float:
    kept = everything(page)
    is_whole(kept)
    value: float = kept["cars"][0]["car"]["corners"][corner]["collar"] if kept["cars"] else 0.0
    return value


def test_two_windows_never_overwrite_each_other(device: BrowserContext, site: Site) -> None:
    """Both turn the same collar at the same time: every turn is there, and both show it."""
    one, two = on_stand_in(device, site.url), on_stand_in(device, site.url)
    turned(one)
    start = f"async (given) => {{ window.done = ({TURNS})(given); }}"
    for page in (one, two):
        page.evaluate(start, [script(page), "rear_left", 20])
    for page in (one, two):
        page.evaluate("() => window.done")
    assert collar(one) == 41 * 0.25
    assert len(everything(one)["log"]) == 42  # and the base
    shown = """async (base) =>
      (await import(new URL("state.js", base))).state.car.corners.rear_left.collar"""
    for page in (one, two):
        until(lambda page=page: page.evaluate(shown, script(page)) == 41 * 0.25)


def test_two_windows_typing_in_one_form_both_stay(device: BrowserContext, site: Site) -> None:
    one, two = (on_stand_in(device, site.url, "collar-turns") for _ in range(2))
    pitch = '#collar-turns [name="pitch"]'
    wanted = '#collar-turns [name="wanted_height"]'
    trial(one.locator(pitch), "1.1")
    trial(two.locator(wanted), "24.5")
    expect(two.locator(pitch)).to_have_value("1.1")
    expect(one.locator(wanted)).to_have_value("24.5")
    texts = typed(everything(one), "collar-turns")
    assert (texts["pitch"], texts["wanted_height"]) == ("1.1", "24.5")


@pytest.mark.parametrize("goes", ["leaves", "is killed"])
@pytest.mark.parametrize("bench", ["demo", "own"])
def test_typed_while_the_device_is_busy_and_the_page_goes(
    phone: Browser, device: BrowserContext, site: Site, bench: str, goes: str
) -> None:
    """The next page takes up what this one could not keep, for the car that it was typed for."""
    page = on_stand_in(device, site.url, "collar-turns")
    if bench == "own":
        turned(page)
    other = device.new_page()
    other.goto(f"{site.url}licences.html")
    other.evaluate(HOLD_DATABASE)
    pitch = page.locator('#collar-turns [name="pitch"]')
    trial(pitch, "1.1")
    if goes == "leaves":
        page.goto("about:blank")
        other.evaluate("() => { globalThis.free = true; }")
    else:
        kill(phone)
        for killed in (page, other):
            killed.close()
    page = on_stand_in(device, site.url, "collar-turns")
    expect(page.locator('#collar-turns [name="pitch"]')).to_have_value("1.1")
    kept = everything(page)
    assert typed(kept, "collar-turns", kept["cars"][0]["id"] if bench == "own" else "") == {
        "pitch": "1.1"
    }
    trial(page.locator('#collar-turns [name="pitch"]'), "1.2")
    page.reload()
    expect(page.locator('#collar-turns [name="pitch"]')).to_have_value("1.2")


def test_undo_after_another_window_has_changed_it_is_refused(
    device: BrowserContext, site: Site
) -> None:
    one, two = on_stand_in(device, site.url, "cars"), on_stand_in(device, site.url)
    turned(two)
    one.get_by_role("button", name="New car").click()
    hold_message(one)
    (new,) = (kept["current"] for kept in everything(one)["settings"] if isinstance(kept, dict))
    at_work = "async (base) => (await import(new URL('state.js', base))).state.current"
    until(lambda: two.evaluate(at_work, script(two)) == new)
    turned(two)  # the new car is at work there too
    one.locator("#notice button").click()
    expect(one.locator("#notice")).to_contain_text("changed in another window")
    assert len(everything(one)["cars"]) == 2


def test_with_no_room_left_nothing_is_lost_and_one_sentence_says_so(
    device: BrowserContext, site: Site
) -> None:
    page = device.new_page()
    page.goto(f"{site.url}licences.html")  # the browser asks once how much room there is
    session = device.new_cdp_session(page)
    room = {"origin": site.url.rstrip("/"), "quotaSize": 3_000_000}
    session.send("Storage.overrideQuotaForOrigin", room)
    page = on_stand_in(device, site.url)
    turned(page, 3)
    big = """async (base) => {
      const { actions } = await import(new URL("log.js", base));
      const { keep } = await import(new URL("store.js", base));
      await keep(async (car, at) => ({ car, log: [{ id: at.id, car: at.car, time: at.time,
        kind: "note", corner: "", turns: 0, stands: Object.fromEntries(Object.entries(car.corners)
        .map(([c, { collar }]) => [c, collar])), note: "x".repeat(30_000_000) }] }));
    }"""
    page.evaluate(f"(base) => {{ ({big})(base); }}", script(page))
    expect(page.locator("#notice")).to_contain_text("There is no room left on this device")
    kept = everything(page)
    is_whole(kept)
    assert len(kept["log"]) == 4 and collar(page) == 0.75
    turned(page)  # what is small still has room
    assert collar(page) == 1.0


def test_storage_cleared_under_the_page_keeps_the_car_on_screen(
    device: BrowserContext, site: Site
) -> None:
    page = on_stand_in(device, site.url)
    turned(page, 2)
    session = device.new_cdp_session(page)
    session.send(
        "Storage.clearDataForOrigin",
        {"origin": site.url.rstrip("/"), "storageTypes": "indexeddb,local_storage"},
    )
    page.get_by_role("button", name="Show earlier lines").click()  # any touch finds it out
    turned(page)
    assert collar(page) == 0.75
    page.get_by_role("button", name="Show earlier lines").click()
    expect(page.locator("#notice")).to_contain_text("had cleared what was kept")
    after = on_stand_in(device, site.url)
    assert collar(after) == 0.75


FIRST = {
    "everything": json.dumps(
        {
            "system": "imperial",
            "last": "collar-turns",
            "car": to_json(put(Car(), "name", "Mine")),
            "typed": {"collar-turns": {"pitch": "1.25"}, "oil-blend": {}},
        }
    ),
    "no car": json.dumps(
        {"system": "metric", "car": None, "typed": {"collar-turns": {"pitch": "1"}}}
    ),
    "units only": json.dumps({"system": "imperial"}),
    "damaged": '{"system": "imperial", "car": {"na',
    "nonsense": json.dumps({"system": 5, "car": 7, "typed": [3], "last": {}}),
    "null": "null",
    "list": "[1, 2]",
}


@pytest.mark.parametrize("kept", FIRST.values(), ids=FIRST.keys())
def test_what_the_first_version_kept_is_taken_over(
    device: BrowserContext, site: Site, kept: str
) -> None:
    """Version 1 was one text in the local storage; it comes over once, whole or not at all."""
    page = device.new_page()
    page.goto(f"{site.url}licences.html")
    page.evaluate("(text) => localStorage.setItem('damper-bench', text)", kept)
    page.close()
    page = on_stand_in(device, site.url, "collar-turns")
    after = everything(page)
    is_whole(after)
    try:
        told = json.loads(kept)
    except ValueError:
        told = {}
    told = told if isinstance(told, dict) else {}
    if isinstance(told.get("car"), dict):
        assert from_json(after["cars"][0]["car"]) == from_json(told["car"])
    else:
        assert after["cars"] == []
    texts = told.get("typed")
    pitch = texts.get("collar-turns", {}).get("pitch") if isinstance(texts, dict) else None
    if pitch:
        expect(page.locator('#collar-turns [name="pitch"]')).to_have_value(pitch)
    assert page.evaluate("localStorage.getItem('damper-bench')") is None
    turned(page)
    assert collar(page) == 0.25


# What version 2 kept: texts without their units.
SECOND = """([system, texts]) => new Promise((done) => {
  const request = indexedDB.open("damper-bench", 2);
  request.onupgradeneeded = () => {
    const db = request.result;
    for (const name of ["cars", "setups", "setup_cars"])
      db.createObjectStore(name, { keyPath: "id" });
    db.createObjectStore("typed", { keyPath: ["car", "form"] });
    db.createObjectStore("settings");
    const log = db.createObjectStore("log", { keyPath: "id" });
    log.createIndex("time", ["car", "time"]);
    log.createIndex("kind", ["car", "kind", "time"]);
  };
  request.onsuccess = () => {
    const tx = request.result.transaction(["typed", "settings"], "readwrite");
    tx.objectStore("typed").put({ car: "", form: "collar-turns", texts });
    tx.objectStore("settings").put({ system, last: "collar-turns", current: "" }, "page");
    tx.oncomplete = () => done(request.result.close());
  };
})"""


@pytest.mark.parametrize("system", ["metric", "imperial"])
def test_texts_of_the_second_version_are_meant_in_the_units_of_the_page(
    device: BrowserContext, site: Site, system: str
) -> None:
    """Those that were kept, and one that the last page of that version could not keep."""
    page = device.new_page()
    page.goto(f"{site.url}licences.html")
    page.evaluate(SECOND, [system, {"pitch": "1.25", "wanted_height": "24"}])
    left = {"system": system, "unkept": {"": {"collar-turns": {"wanted_height": "25"}}}}
    page.evaluate("(left) => localStorage.setItem('damper-bench-unkept', left)", json.dumps(left))
    page.close()
    page = on_stand_in(device, site.url, "collar-turns")
    expect(page.locator("html")).to_have_attribute("data-system", system)
    for name, text in (("pitch", "1.25"), ("wanted_height", "25")):
        expect(page.locator(f'#collar-turns [name="{name}"]')).to_have_value(text)
    (record,) = everything(page)["typed"]
    told = {name: (entry["text"], entry["system"]) for name, entry in record["texts"].items()}
    assert told == {"pitch": ("1.25", system), "wanted_height": ("25", system)}


def test_a_text_left_before_a_newer_one_was_kept_does_not_come_back(
    device: BrowserContext, site: Site
) -> None:
    """A browser that is killed forgets that what an earlier page had left was taken up."""
    page = on_stand_in(device, site.url, "collar-turns")
    page.evaluate(SECOND.replace(" 2)", ")"), ["metric", {
        name: {"text": "1.25", "system": "metric", "time": 9} for name in ("pitch", "wanted_height")
    }])  # fmt: skip
    left = [
        {"car": "", "form": "collar-turns", "name": name, "text": "0.5", "system": "metric",
         "time": time, "by": "another"}
        for name, time in (("pitch", 5), ("wanted_height", 20))
    ]  # fmt: skip
    page.evaluate("(left) => localStorage.setItem('damper-bench-unkept', left)", json.dumps(left))
    page.close()
    page = on_stand_in(device, site.url, "collar-turns")
    expect(page.locator('#collar-turns [name="wanted_height"]')).to_have_value("0.5")
    expect(page.locator('#collar-turns [name="pitch"]')).to_have_value("1.25")


def kept_texts(page: Page) -> int:
    return sum(len(record["texts"]) for record in everything(page)["typed"])


def test_a_text_that_was_taken_out_does_not_come_back(device: BrowserContext, site: Site) -> None:
    """A browser that is killed forgets that what was left is kept, and taken out, since; a text
    typed after the one that was taken out is nobody's to forget."""
    page = on_stand_in(device, site.url, "collar-turns")
    for name in ("pitch", "wanted_height"):
        trial(page.locator(f'#collar-turns [name="{name}"]'), "0.5")
    until(lambda: kept_texts(page) == 2)
    (record,) = everything(page)["typed"]
    left = [
        {**entry, "car": "", "form": "collar-turns", "name": name, "by": "another"}
        for name, entry in record["texts"].items()
    ]
    left[1] = {**left[1], "text": "24", "time": left[1]["time"] + 1}
    page.locator("#collar-turns [data-do=reset]").dispatch_event("click")
    until(lambda: kept_texts(page) == 0)
    page.evaluate("(left) => localStorage.setItem('damper-bench-unkept', left)", json.dumps(left))
    page.close()
    page = on_stand_in(device, site.url, "collar-turns")
    expect(page.locator('#collar-turns [name="wanted_height"]')).to_have_value("24")
    until(lambda: kept_texts(page) == 1)
    assert typed(everything(page), "collar-turns") == {"wanted_height": "24"}


def test_a_text_that_was_taken_out_of_the_demo_does_not_come_back_in_a_car_of_ones_own(
    device: BrowserContext, site: Site
) -> None:
    page = on_stand_in(device, site.url, "collar-turns")
    trial(page.locator('#collar-turns [name="pitch"]'), "0.5")
    until(lambda: kept_texts(page) == 1)
    (record,) = everything(page)["typed"]
    page.locator("#collar-turns [data-do=reset]").dispatch_event("click")
    until(lambda: kept_texts(page) == 0)
    page.locator('[data-do="begin-own"]').first.dispatch_event("click")
    page.wait_for_function("() => document.documentElement.hasAttribute('data-own')")
    (own,) = everything(page)["cars"]
    left = {**record["texts"]["pitch"], "car": own["id"], "form": "collar-turns", "name": "pitch"}
    page.evaluate(
        "(left) => localStorage.setItem('damper-bench-unkept', left)",
        json.dumps([{**left, "by": "another"}]),
    )
    page.close()
    page = on_stand_in(device, site.url, "collar-turns")
    expect(page.locator('#collar-turns [name="pitch"]')).not_to_have_value("0.5")
    assert typed(everything(page), "collar-turns") == {}


@pytest.mark.parametrize("version", [3, 4])
def test_what_later_versions_kept_stays_as_it_is(
    version: int, device: BrowserContext, site: Site
) -> None:
    """The fourth only lets the log tell of dampers, the fifth of when something was measured."""
    page = device.new_page()
    page.goto(f"{site.url}licences.html")
    texts = {"pitch": {"text": "0.05", "system": "imperial", "time": 5}}
    page.evaluate(
        SECOND.replace('"damper-bench", 2', f'"damper-bench", {version}'), ["imperial", texts]
    )
    page.close()
    page = on_stand_in(device, site.url, "collar-turns")
    expect(page.locator('#collar-turns [name="pitch"]')).to_have_value("0.05")
    (record,) = everything(page)["typed"]
    assert record["texts"] == texts


def test_a_newer_version_in_another_window_is_told_and_nothing_is_lost(
    device: BrowserContext, site: Site
) -> None:
    """The other window may change the database at once; this one then says what to do."""
    page = on_stand_in(device, site.url)
    turned(page)
    newer = device.new_page()
    newer.goto(f"{site.url}licences.html")
    newer.evaluate(
        """() => new Promise((done, failed) => {
          const request = indexedDB.open("damper-bench", 999);
          request.onsuccess = () => done(request.result.close());
          request.onerror = request.onblocked = () => failed(new Error("blocked"));
        })"""
    )
    page.evaluate(f"(given) => {{ ({TURNS})(given); }}", [script(page), "rear_left", 1])
    expect(page.locator("#notice")).to_contain_text("newer version of this page: load this one")


def test_without_a_database_the_page_works_and_says_that_it_cannot_keep(
    device: BrowserContext, site: Site
) -> None:
    page = device.new_page()
    page.add_init_script("Object.defineProperty(window, 'indexedDB', { value: undefined });")
    page.add_init_script(STAND_IN)
    page.goto(f"{site.url}#collar-turns")
    expect(page.locator("html")).to_have_attribute("data-engine", "live")
    trial(page.locator('#collar-turns [name="pitch"]'), "1.1")
    expect(page.locator("#notice")).to_contain_text("did not keep that")
    expect(page.locator('#collar-turns [name="pitch"]')).to_have_value("1.1")
    page.reload()
    expect(page.locator('#collar-turns [name="pitch"]')).to_have_value("1.1")
