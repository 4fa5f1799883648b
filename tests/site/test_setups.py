"""Set-ups and cars on the page: found, compared, copied, deleted and brought back."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from calc.kept import link
from calc.kept.setups import NAME_LONGEST
from calc.model.car import Car, put
from tests.site.hands import (
    HOLD_QUESTIONS,
    RELEASE_QUESTIONS,
    Visitor,
    ask,
    enter_setup,
    field,
    net,
    opened,
    save_setup,
    script,
    touch,
    turn,
)


def line(page: Page, name: str) -> Any:
    return page.locator("#setups-list li").filter(has_text=name)


def test_saved_found_compared_and_gone_back_to(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "setups")
    expect(page.locator("#setups-save-temperature")).to_have_value("")
    save_setup(page, "Morning", "wet grass")
    opened(page, site.url, "log")
    turn(page, "rear_left", "up", 5)
    expect(net(page, "rear_left")).to_have_text(re.compile(r"1.1/4 up"))
    opened(page, site.url, "setups")
    save_setup(page, "Afternoon", "dry clay")
    for mine in ("Morning", "Afternoon"):
        line(page, mine).locator("label").click()
    page.get_by_role("button", name="Compare them").click()
    shown = page.locator("#setups-shown")
    expect(shown).to_contain_text(re.compile(r"Rear left collar: 1.1/4.turns"))
    touch(line(page, "Afternoon").locator("input"), checked=False)
    page.locator("#setups-search").fill("wet")
    expect(line(page, "Afternoon")).to_be_hidden()
    page.get_by_role("button", name="Go back to it").click()
    expect(shown).to_contain_text(re.compile(r"Rear left collar: 1.1/4.turns down\."))
    shown.get_by_role("button", name="Done", exact=True).click()
    expect(page.locator("#notice")).to_contain_text("as in Morning")
    opened(page, site.url, "log")
    expect(net(page, "rear_left")).to_have_text("0 at base")
    expect(page.locator("#log-lines")).to_contain_text("Set-up “Morning”")


def test_what_is_ticked_while_the_list_is_being_written_stays_ticked(
    visitor: Visitor, site: Any
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "setups")
    save_setup(page, "Morning")
    page.evaluate(HOLD_QUESTIONS, "setups")
    enter_setup(page, "Afternoon")
    page.wait_for_function("() => window.held.length === 1")
    line(page, "Morning").locator("label").click()
    expect(page.locator("#notice")).not_to_contain_text("Afternoon")
    page.evaluate(RELEASE_QUESTIONS)
    expect(page.locator("#notice")).to_contain_text("Saved: Afternoon")
    line(page, "Afternoon").locator("label").click()
    page.get_by_role("button", name="Compare them").click()
    expect(page.locator("#setups-shown")).to_contain_text("Morning")


def test_copied_deleted_and_brought_back(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "setups")
    longest = "Final".ljust(NAME_LONGEST, ".")
    copy = f"{longest[:-7]} (copy)"
    save_setup(page, longest)
    line(page, longest).locator("label").click()
    page.get_by_role("button", name="Copy").click()
    expect(line(page, copy)).to_be_visible()
    line(page, copy).locator("label").click()
    page.get_by_role("button", name="Delete").click()
    expect(line(page, copy)).to_have_count(0)
    page.locator("#notice button").click()
    expect(line(page, copy)).to_be_visible()
    page.reload()
    expect(page.locator("#setups-list li")).to_have_count(2)


def test_a_name_that_cannot_be_gets_a_sentence(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "setups")
    none, long = "nothing was entered", "up to 60 fit"
    for name, says in (("", none), ("x" * 10_000, long), ("\u202e\u200b", none)):
        page.locator("#setups-save-name").fill(name)
        page.get_by_role("button", name="Save the set-up").click()
        expect(page.locator('[id="setups-save-name-error"]')).to_contain_text(says)
        expect(page.locator("#setups-list")).to_contain_text("Nothing is saved yet")


def test_one_saved_before_the_page_is_answered_is_saved_with_its_day(
    visitor: Visitor, site: Any
) -> None:
    page = visitor().new_page()
    held: list[Any] = []
    page.route("**/setups.js*", lambda route: held.append(route))
    with page.expect_request("**/setups.js*"):
        page.goto(f"{site.url}#setups")
    page.locator("#setups-save-name").fill("Early")
    page.get_by_role("button", name="Save the set-up").click()
    expect(page.locator("#setups-list")).not_to_contain_text("Early")
    for route in held:
        route.continue_()
    expect(line(page, "Early")).to_contain_text(str(date.today()))
    assert "name=" not in page.url


HOSTILE = "<b onmouseover=alert(1)>x</b><script>"


def test_hostile_names_are_only_text(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    page.on("dialog", lambda dialog: pytest.fail(f"ran: {dialog.message}"))
    opened(page, site.url, "setups")
    save_setup(page, HOSTILE, HOSTILE)
    expect(line(page, HOSTILE).locator("strong")).to_have_text(HOSTILE)
    opened(page, site.url, "car")
    page.locator('form[id="car"] [name="name"]').fill(HOSTILE)
    page.keyboard.press("Tab")
    expect(page.locator("#engine-state")).to_contain_text(HOSTILE)
    for name, place in (("cars", "#cars-list strong"), ("log", "#log-top .about")):
        opened(page, site.url, name)
        expect(page.locator(place).filter(has_text=HOSTILE).first).to_be_visible()
    assert page.locator("[data-page] :is(b[onmouseover], script)").count() == 0


def test_a_car_is_asked_about_though_its_list_is_being_written(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "cars")
    page.get_by_role("button", name="New car").click()
    delete = page.locator('#cars-list [data-do="delete-car"]')
    expect(delete).to_have_count(1)
    opened(page, site.url, "setups")
    page.evaluate(HOLD_QUESTIONS, "cars")
    opened(page, site.url, "cars")
    page.wait_for_function("() => window.held.length === 1")
    delete.click()
    page.wait_for_function("() => window.held.length === 2")
    # Nor is that lost by a list that is asked for after it, as when another window keeps something.
    page.evaluate("() => dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
    page.wait_for_function("() => window.held.length === 3")
    page.evaluate(RELEASE_QUESTIONS)
    ask(page, ask="convert", all={}, before="metric", system="metric")  # answered after all three
    expect(delete).to_have_text("Really delete it?")
    expect(delete).to_be_focused()
    # Whoever touches something else thinks again.
    page.get_by_role("button", name="New car").click()
    expect(delete).to_have_text(["Delete", "Delete"])


def test_cars_are_never_mixed(visitor: Visitor, site: Any) -> None:
    """Each has its own values, typed texts, log and set-ups; deleting one can be undone."""
    page = visitor().new_page()
    opened(page, site.url, "collar-turns")
    pitch = field(page, "collar-turns", "pitch")
    pitch.fill("1.25")
    expect(page.locator("#engine-state")).to_have_text("Car: My car.")
    opened(page, site.url, "setups")
    save_setup(page, "Of the first")
    opened(page, site.url, "cars")
    page.get_by_role("button", name="New car").click()
    expect(page.locator("#cars-list li")).to_have_count(3)  # with the demo car
    expect(page.locator("#engine-state")).to_have_text("Car: My car 2.")
    opened(page, site.url, "collar-turns")
    expect(pitch).to_have_value("")
    opened(page, site.url, "log")
    turn(page, "front_left", "down")
    expect(net(page, "front_left")).to_have_text("1/4 down")
    opened(page, site.url, "setups")
    expect(page.locator("#setups-list")).to_contain_text("Nothing is saved yet")
    opened(page, site.url, "cars")
    mine = page.locator("#cars-list li").filter(has=page.get_by_text("My car", exact=True))
    mine.get_by_role("button", name="Use this car").click()
    expect(mine).to_contain_text("in use")
    opened(page, site.url, "log")
    expect(net(page, "front_left")).to_have_text("0 at base")
    opened(page, site.url, "collar-turns")
    expect(pitch).to_have_value("1.25")
    opened(page, site.url, "cars")
    mine.get_by_role("button", name="Delete").click()
    mine.get_by_role("button", name="Really delete it?").click()
    expect(mine).to_contain_text("deleted")
    page.locator("#notice button").click()
    expect(mine).to_contain_text("in use")
    opened(page, site.url, "setups")
    expect(line(page, "Of the first")).to_be_visible()


def test_a_press_that_lasts_while_the_cars_are_written_again_counts(
    visitor: Visitor, site: Any
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "cars")
    for count in (2, 3):
        page.get_by_role("button", name="New car").click()
        expect(page.locator("#cars-list li")).to_have_count(count)
    mine = page.locator("#cars-list li").filter(has=page.get_by_text("My car", exact=True))
    mine.get_by_role("button", name="Use this car").hover()
    page.mouse.down()
    page.evaluate(
        """(script) => import(new URL("cars.js", script)).then(({ refresh }) => refresh())""",
        script(page),
    )
    page.mouse.up()
    expect(mine).to_contain_text("in use")


def test_a_car_by_link_is_shown_and_asked_for(visitor: Visitor, site: Any) -> None:
    car = replace(put(Car(), "front.oil", 450e-6), name=HOSTILE[:40])
    page = visitor().new_page()
    page.goto(f"{site.url}#{link.FRAGMENT}{link.pack(car)}")
    shown = page.locator("#cars-shown")
    expect(shown).to_contain_text(HOSTILE[:40])
    expect(shown).to_contain_text("front 450\u00a0cSt")
    expect(page.locator("#cars-list li")).to_contain_text("Demo car")
    page.get_by_role("button", name="Add it as another car").click()
    expect(page.locator("#cars-list li").first).to_contain_text("in use")
    opened(page, site.url, "collar-turns")
    page.goto(f"{site.url}#{link.FRAGMENT}{link.pack(put(car, 'front.oil', 500e-6))}")
    page.get_by_role("button", name="Put it in place of my").click()
    expect(page.locator("#notice")).to_contain_text("as in the link")
    expect(page.locator("#cars-list li")).to_have_count(2)
    page.goto(f"{site.url}#{link.FRAGMENT}{link.pack(car)[:-9]}")
    expect(page.locator("#notice")).to_contain_text("damaged or not whole")
