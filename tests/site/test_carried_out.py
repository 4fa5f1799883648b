"""What was carried out is said in its place, once, however quick the finger."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from calc.model.corners import CORNERS
from tests.site.hands import Visitor, choose, field, net, opened, trial, turn
from tests.site.hosting import Site

BLEND, TEST, WHOLE, TURNS = "oil-blend", "drop-test", "whole-car", "collar-turns"


def test_a_batch_is_mixed_once_and_another_only_when_it_is_wanted(
    visitor: Visitor, site: Site
) -> None:
    page = visitor(viewport={"width": 390, "height": 844}, has_touch=True).new_page()
    opened(page, site.url, BLEND)
    choose(page, BLEND, "task", "bottles")
    panel = page.locator(f"#{BLEND}-answer")
    done = panel.get_by_role("button", name="Done")
    expect(done).to_be_visible()
    recipe = panel.locator(".step strong").first.inner_text()
    poured = re.findall(r"[\d.]+\sm[Ll]", recipe)
    done.dblclick()
    card = panel.locator(".carried")
    expect(card).to_contain_text(re.compile(r"Done at \d\d:\d\d: "))
    for volume in poured:
        expect(card).to_contain_text(volume)
    expect(done).to_have_count(0)
    page.reload()
    expect(card).to_contain_text("Done at")
    panel.get_by_role("button", name="Make another").click()
    expect(done).to_be_visible()
    expect(card).to_have_count(0)
    opened(page, site.url, "log")
    rows = page.locator("#log-lines li")
    expect(rows.filter(has_text="Carried out")).to_have_count(1)
    for volume in poured:
        expect(rows.first).to_contain_text(volume)
    opened(page, site.url, BLEND)
    page.reload()
    expect(card).to_be_visible()
    trial(field(page, BLEND, "target"), "450")
    expect(done).to_be_visible()


def test_a_finger_on_done_has_pressed_it_though_the_card_is_written_again(
    visitor: Visitor, site: Site
) -> None:
    page = visitor().new_page()
    opened(page, site.url, TURNS)
    panel = page.locator(f"#{TURNS}-answer")
    wanted = field(page, TURNS, "wanted_height")
    given = panel.locator(".gives").first
    before = given.inner_text()
    panel.get_by_role("button", name="Done").hover()
    page.mouse.down()
    trial(wanted, "27")
    expect(given).not_to_have_text(before)
    expect(panel.locator(".doubted")).not_to_have_class(re.compile("coming"))
    page.mouse.up()
    expect(panel.locator(".carried")).to_be_visible()


def test_the_height_comes_first_of_what_is_measured_after_work(
    visitor: Visitor, site: Site
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "spring-swap")
    panel = page.locator("#spring-swap-answer")
    panel.get_by_role("button", name="Done").click()
    links = panel.locator(".measure-now a")
    expect(links).to_have_text(
        ["Front, ride height now", "Load on the left scale", "Load on the right scale"]
    )
    links.first.click()
    expect(field(page, "car", "end.front.ride_height")).to_be_focused()


def test_what_the_work_has_used_up_is_no_fault_of_what_is_typed(
    visitor: Visitor, site: Site
) -> None:
    page = visitor().new_page()
    opened(page, site.url, BLEND)
    choose(page, BLEND, "task", "bottles")
    choose(page, BLEND, "goes", "dampers")
    amount = field(page, BLEND, "amount")
    trial(amount, "60")
    panel = page.locator(f"#{BLEND}-answer")
    panel.get_by_role("button", name="Done").click()
    expect(panel.locator(".carried")).to_be_visible()
    expect(amount).not_to_have_attribute("aria-invalid", "true")
    panel.get_by_role("button", name="Make another").click()
    expect(amount).to_have_attribute("aria-invalid", "true")


def test_undo_on_the_card_takes_the_work_back(visitor: Visitor, site: Site) -> None:
    page = visitor().new_page()
    opened(page, site.url, "collar-turns")
    panel = page.locator("#collar-turns-answer")
    first = panel.locator(".step strong").first.inner_text()
    panel.get_by_role("button", name="Done").click()
    expect(panel.locator(".carried")).to_contain_text(first.rstrip("."))
    expect(panel.locator(".measure-now")).to_be_visible()
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_have_count(1)  # no message beside the card says it again
    undo.click()
    expect(panel.locator(".step strong").first).to_have_text(first)
    expect(panel.get_by_role("button", name="Done")).to_be_visible()


def test_what_is_measured_of_both_sides_is_said_once_and_taken_back(
    visitor: Visitor, site: Site
) -> None:
    page = visitor().new_page()
    opened(page, site.url, TEST)
    choose(page, TEST, "task", "sides")
    panel = page.locator(f"#{TEST}-answer")
    done = panel.get_by_role("button", name="Done")
    done.dblclick()
    card = panel.locator(".carried")
    expect(card).to_contain_text(re.compile(r"Done at \d\d:\d\d: Measured, front left: .*right"))
    opened(page, site.url, "log")
    rows = page.locator("#log-lines li").filter(has_text="Measured")
    expect(rows).to_have_count(2)
    opened(page, site.url, TEST)
    panel.get_by_role("button", name="Go on from here").click()
    done.click()  # once more the same: nothing new is written
    opened(page, site.url, "log")
    expect(rows).to_have_count(2)
    opened(page, site.url, TEST)
    page.reload()
    panel.get_by_role("button", name="Undo").click()
    expect(done).to_be_visible()
    page.reload()
    expect(done).to_be_visible()
    expect(card).to_have_count(0)


def test_scale_readings_with_a_new_load_stay_where_they_were_typed(
    visitor: Visitor, site: Site
) -> None:
    """The work that follows changes what the scales show, so that the record has what is predicted
    of it; what they showed before the work is lost to nobody who takes it back."""
    page = visitor().new_page()
    opened(page, site.url, f"{WHOLE}?change=load&load_known=scales")
    readings = [field(page, WHOLE, f"scales.{corner}.load") for corner in CORNERS]
    panel = page.locator(f"#{WHOLE}-answer")
    expect(readings[0]).to_have_value("381")
    for reading, mass in zip(readings, ("395", "389", "480", "492"), strict=True):
        trial(reading, mass)
    expect(panel.locator(".gives").first).to_contain_text("1756.0")  # the answer to all four
    before = panel.locator(".step strong").all_inner_texts()
    panel.get_by_role("button", name="Done").click()
    expect(panel.locator(".carried")).to_contain_text("Done at")
    for reading, mass in zip(readings, ("395", "389", "480", "492"), strict=True):
        expect(reading).to_have_value(mass)
    panel.get_by_role("button", name="Undo").click()
    expect(panel.get_by_role("button", name="Done")).to_be_visible()
    expect(panel.locator(".step strong")).to_have_text(before)


def test_a_height_typed_before_work_was_undone_does_not_count(visitor: Visitor, site: Site) -> None:
    """It stands under its field, to be used all the same; typed before the work itself, it holds
    again."""
    page = visitor().new_page()
    opened(page, site.url, TURNS)
    panel = page.locator(f"#{TURNS}-answer")
    first = panel.locator(".step strong").first.inner_text()
    panel.get_by_role("button", name="Done").click()
    expect(panel.locator(".carried")).to_be_visible()
    height = field(page, TURNS, "ride_height")
    trial(height, "23.6")
    expect(panel.locator(".carried")).to_have_count(0)
    trial_answer = panel.locator(".step strong").first.inner_text()
    opened(page, site.url, "log")
    page.locator('[data-do="take-back"]').click()
    expect(net(page, "front_left")).to_have_text("0 at base")
    opened(page, site.url, TURNS)
    expect(panel.locator(".step strong").first).to_have_text(first)
    before = page.locator(f"#{TURNS} .before")
    expect(before).to_contain_text("Typed before the car was changed: 23.6")
    expect(height).to_have_value("22")
    page.reload()
    before.get_by_role("button", name="Use it").click()
    expect(panel.locator(".step strong").first).to_have_text(trial_answer)
    expect(before).to_have_count(0)
    expect(height).to_have_value("23.6")
    opened(page, site.url, "log")
    turn(page, "front_left", "down")
    opened(page, site.url, TURNS)
    expect(before).to_contain_text("23.6")
    opened(page, site.url, "log")
    page.locator('[data-do="take-back"]').click()
    expect(net(page, "front_left")).to_have_text("0 at base")
    opened(page, site.url, TURNS)
    expect(height).to_have_value("23.6")
    expect(before).to_have_count(0)
