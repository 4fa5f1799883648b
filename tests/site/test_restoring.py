"""A backup that comes in does what was shown; what is taken back takes nothing that came since."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.site.hands import choose_units, field, hold_message, live, script, touch, trial, visiting
from tests.site.hosting import Site
from tests.site.keeping import everything, is_whole, on_stand_in, settled, typed

# The stand-in draws no buttons in lists: this does what a touch of one does.
ACT = """async ([base, place, action, dataset]) => {
  const { actions } = await import(new URL(place, base));
  await actions[action]({ dataset });
}"""


@pytest.fixture
def device(browser: Browser) -> Iterator[BrowserContext]:
    with visiting(browser) as context:
        yield context


def act(page: Page, place: str, action: str, **dataset: str) -> None:
    page.evaluate(ACT, [script(page), f"{place}.js", action, dataset])


def begin(page: Page, place: str, action: str, **dataset: str) -> None:
    """Do it without waiting: the page is to say how it ended."""
    given = [script(page), f"{place}.js", action, dataset]
    page.evaluate(f"(given) => {{ ({ACT})(given); }}", given)


def turned(page: Page) -> None:
    act(page, "log", "turn", corner="rear_left", turns="0.25")


def backup(kept: dict[str, list[Any]], **more: Any) -> dict[str, Any]:
    """A backup file as the stand-in reads it."""
    bodies = {one["id"]: one["car"] for one in kept["setup_cars"]}
    setups = [
        {
            "id": head["id"],
            "changed": head["changed"],
            "owner": head["owner"],
            "setup": {**head, "car": bodies[head["id"]]},
        }
        for head in kept["setups"]
    ]
    cars = [{name: one[name] for name in ("id", "changed", "car")} for one in kept["cars"]]
    lists = [one for one in kept["typed"] if one["car"] and one["form"] == "build"]
    builds = [{"car": one["car"], "texts": one["texts"]} for one in lists]
    return {"cars": cars, "setups": setups, "log": kept["log"], "builds": builds, **more}


def choose(page: Page, content: dict[str, Any], way: str = "merge") -> None:
    touch(page.locator(f'[name="restore-way"][value="{way}"]'))
    file = {"name": "backup.json", "mimeType": "application/json", "buffer": b""}
    page.set_input_files("#backup-file", {**file, "buffer": json.dumps(content).encode()})
    expect(page.locator('[data-do="restore"]')).to_be_visible()


def confirm(page: Page) -> None:
    page.locator('[data-do="restore"]').click()


def told(page: Page, words: str) -> None:
    expect(page.locator("#notice")).to_contain_text(words)


def undone(page: Page) -> None:
    page.locator("#notice button").click()


def current(kept: dict[str, list[Any]]) -> str:
    (page,) = (one for one in kept["settings"] if isinstance(one, dict))
    number: str = page["current"]
    return number


def two_cars(page: Page) -> dict[str, list[Any]]:
    """The second is at work, and something is typed for it."""
    turned(page)
    act(page, "cars", "new-car")
    act(page, "cars", "switch-car", id=sorted(one["id"] for one in everything(page)["cars"])[1])
    page.goto(page.url.partition("#")[0] + "#collar-turns")
    trial(field(page, "collar-turns", "pitch"), "1")
    expect(page.locator('[data-said="pitch"]')).to_have_text("1")
    page.goto(page.url.partition("#")[0] + "#cars")
    settled(page)
    return everything(page)


@pytest.mark.parametrize("way", ["merge", "replace"])
def test_a_restore_keeps_the_car_at_work_and_what_is_typed_for_it(
    device: BrowserContext, site: Site, way: str
) -> None:
    page = on_stand_in(device, site.url, "cars")
    before = two_cars(page)
    choose(page, backup(before), way)
    confirm(page)
    told(page, "The backup is in")
    after = everything(page)
    is_whole(after)
    assert current(after) == current(before)
    assert typed(after, "collar-turns", current(before)) == {"pitch": "1"}


def test_undo_of_a_restore_brings_back_all_of_it(device: BrowserContext, site: Site) -> None:
    """The car at work too, which is not the first."""
    page = on_stand_in(device, site.url, "cars")
    before = two_cars(page)
    other = {**before["cars"][0], "id": "another1", "changed": 1.0}
    choose(page, backup({**before, "cars": [other], "log": []}), "replace")
    confirm(page)
    told(page, "The backup is in")
    assert [one["id"] for one in everything(page)["cars"]] == ["another1"]
    undone(page)
    told(page, "Undone")
    after = everything(page)
    is_whole(after)
    for store in ("cars", "log", "typed"):
        assert after[store] == before[store]
    assert current(after) == current(before)


@pytest.mark.parametrize("since", ["turned", "typed", "units"])
def test_undo_of_a_restore_is_refused_where_something_has_come_since(
    device: BrowserContext, site: Site, since: str
) -> None:
    page = on_stand_in(device, site.url, "cars")
    before = two_cars(page)
    choose(page, backup(before), "replace")
    confirm(page)
    told(page, "The backup is in")
    hold_message(page)
    if since == "turned":
        turned(page)
    elif since == "typed":
        page.goto(page.url.partition("#")[0] + "#collar-turns")
        trial(field(page, "collar-turns", "wanted_height"), "2")
        expect(page.locator('[data-said="wanted_height"]')).to_have_text("2")
    else:
        choose_units(page, "imperial")
        expect(page.locator("html")).to_have_attribute("data-system", "imperial")
    settled(page)
    now = everything(page)
    undone(page)
    told(page, "cannot be undone now")
    assert everything(page) == now


def test_what_a_backup_would_change_is_shown_again_where_it_has_changed(
    device: BrowserContext, site: Site
) -> None:
    """Of two copies the one changed last stays, even where it was changed after the plan."""
    page = on_stand_in(device, site.url, "cars")
    turned(page)
    kept = everything(page)
    (car,) = kept["cars"]
    newer = {**car, "changed": car["changed"] + 1e-3}
    choose(page, backup({**kept, "cars": [newer]}))
    expect(page.locator("#cars-shown")).to_contain_text(car["id"])
    turned(page)
    confirm(page)
    told(page, "have changed since this was shown")
    expect(page.locator("#cars-shown")).not_to_contain_text(car["id"])
    now = everything(page)
    assert len(now["log"]) == 3  # the base, two turns
    confirm(page)
    told(page, "The backup is in")
    after = everything(page)
    is_whole(after)
    assert (after["cars"], after["log"]) == (now["cars"], now["log"])


def test_a_car_deleted_after_the_plan_leaves_no_orphan(device: BrowserContext, site: Site) -> None:
    page = on_stand_in(device, site.url, "cars")
    turned(page)
    kept = everything(page)
    (car,) = kept["cars"]
    head = {"id": "setup1", "changed": 1.0, "owner": car["id"], "name": "Dry", "temperature": 295.0}
    head |= {"date": "2031-05-24", "surface": "", "note": ""}
    file = backup({**kept, "setups": [head], "setup_cars": [{"id": "setup1", "car": car["car"]}]})
    choose(page, file)
    act(page, "cars", "delete-car", id=car["id"], sure="")
    confirm(page)
    told(page, "have changed since this was shown")
    assert everything(page)["setups"] == []
    confirm(page)
    told(page, "The backup is in")
    after = everything(page)
    is_whole(after)
    assert [one["id"] for one in after["cars"]] == [car["id"]]
    assert [one["id"] for one in after["setups"]] == ["setup1"]


def saved(page: Page, name: str) -> None:
    page.goto(page.url.partition("#")[0] + "#setups")
    page.locator("#setups-save-name").fill(name)
    page.locator("#setups-save-date").fill("2031-05-24")
    page.get_by_role("button", name="Save the set-up").click()
    told(page, "Saved")


def test_a_car_with_a_set_up_is_not_taken_back_from_under_it(
    device: BrowserContext, site: Site
) -> None:
    one, two = (on_stand_in(device, site.url, "collar-turns") for _ in range(2))
    trial(field(one, "collar-turns", "pitch"), "1")
    one.locator('#collar-turns-answer [data-do="keep"]').click()
    hold_message(one)
    saved(two, "Dry")
    undone(one)  # the car itself began when the number was typed
    expect(one.locator("#notice button")).to_be_hidden()
    kept = everything(one)
    is_whole(kept)
    assert (len(kept["cars"]), len(kept["setups"])) == (1, 1)


def test_a_set_up_comes_back_to_a_deleted_car_that_can_come_back_too(
    device: BrowserContext, site: Site
) -> None:
    page = on_stand_in(device, site.url, "setups")
    saved(page, "Dry")
    (head,) = everything(page)["setups"]
    page.evaluate(
        """(id) => {
          const ticked = `<li class="kept"><label><input type="checkbox" checked value="${id}">`;
          document.getElementById("setups-list").innerHTML = ticked;
        }""",
        head["id"],
    )
    act(page, "setups", "delete-setup")
    hold_message(page)
    other = on_stand_in(device, site.url, "cars")
    act(other, "cars", "delete-car", id=head["owner"], sure="")
    undone(page)
    expect(page.locator("#notice button")).to_be_hidden()
    kept = everything(page)
    is_whole(kept)
    (setup,), (car,) = kept["setups"], kept["cars"]
    assert setup["owner"] == car["id"] and car["gone"]


def test_a_deleted_car_that_came_back_with_a_backup_is_there_once(
    device: BrowserContext, site: Site
) -> None:
    page, other = (on_stand_in(device, site.url, "cars") for _ in range(2))
    turned(page)
    kept = everything(page)
    (car,) = kept["cars"]
    act(page, "cars", "delete-car", id=car["id"], sure="")
    hold_message(page)
    choose(other, backup({**kept, "log": []}))
    confirm(other)
    told(other, "The backup is in")
    undone(page)
    expect(page.locator("#notice button")).to_be_hidden()
    after = everything(page)
    is_whole(after)
    (back,) = after["cars"]
    assert back["id"] == car["id"] and "gone" not in back


def test_undo_of_a_new_car_leaves_what_was_typed_for_it(device: BrowserContext, site: Site) -> None:
    page = on_stand_in(device, site.url, "cars")
    turned(page)
    begin(page, "cars", "new-car")
    expect(page.locator("#notice button")).to_be_visible()
    page.goto(page.url.partition("#")[0] + "#collar-turns")
    trial(field(page, "collar-turns", "pitch"), "1")
    expect(page.locator('[data-said="pitch"]')).to_have_text("1")
    undone(page)
    told(page, "Something was entered for this car since")
    page.reload()
    live(page)
    expect(field(page, "collar-turns", "pitch")).to_have_value("1")
    is_whole(everything(page))
