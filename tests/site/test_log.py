"""The collar log on the page: what a thumb does there, and the way back."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from calc.kept import log
from calc.kept.log import Moment
from calc.model.car import Car
from calc.model.corners import CORNERS
from site_src.both.garage import log_html
from tests.site.hands import (
    HOLD_QUESTIONS,
    RELEASE_QUESTIONS,
    Visitor,
    net,
    opened,
    plots_are_read,
    touch,
    trial,
    turn,
)

BUTTONS = """(corner) => [...document.querySelectorAll(
  `[data-do=turn][data-corner=${corner}]`)].map((b) => b.getBoundingClientRect().toJSON())"""

# Notes which questions go to Python.
ASKED = """() => {
  const send = Worker.prototype.postMessage;
  window.asked = [];
  Worker.prototype.postMessage = function (told) {
    window.asked.push(told.ask);
    send.call(this, told);
  };
}"""
# This waits until all that came before is written.
WRITTEN = """() => {
  const { src } = document.querySelector('script[src$="/shell.js"]');
  return import(new URL("log.js", src)).then(({ refresh }) => refresh());
}"""


def test_turns_since_the_base_and_the_way_back(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    turn(page, "rear_left", "down", 5)
    turn(page, "front_right", "up")
    expect(net(page, "rear_left")).to_have_text(re.compile(r"1.1/4 down"))
    expect(net(page, "front_right")).to_have_text("1/4 up")
    home = page.get_by_role("region", name="Back to base")
    expect(home).to_contain_text(re.compile(r"Rear left collar: 1.1/4.turns up\."))
    expect(home).to_contain_text(re.compile(r"Front right collar: 1/4.turn down\."))
    page.locator('[data-do="take-back"]').click()
    expect(net(page, "front_right")).to_have_text("0 at base")
    expect(page.locator("#notice")).to_contain_text(
        re.compile(r"Undone: Front right collar: 1/4.turn up\. .*by hand\.")
    )
    page.reload()
    expect(net(page, "rear_left")).to_have_text(re.compile(r"1.1/4 down"))
    page.get_by_role("button", name="I have turned them back").click()
    expect(page.locator("#log-top")).to_contain_text("Every collar is at base.")
    page.locator("#notice button").click()
    expect(net(page, "rear_left")).to_have_text(re.compile(r"1.1/4 down"))
    page.get_by_role("button", name="Set base here").click()
    expect(net(page, "rear_left")).to_have_text("0 at base")


def test_a_touch_that_lasts_while_the_page_is_written_again_counts(
    visitor: Visitor, site: Any
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    turn(page, "rear_left", "up")
    expect(net(page, "rear_left")).to_have_text("1/4 up")
    page.locator('[data-do="turn"][data-corner="rear_left"]').filter(has_text="up").hover()
    page.mouse.down()
    page.mouse.up()
    page.mouse.down()
    expect(net(page, "rear_left")).to_have_text("1/2 up")
    page.mouse.up()
    expect(net(page, "rear_left")).to_have_text("3/4 up")


def test_a_touch_counts_while_the_first_turn_makes_a_car_of_its_own(
    visitor: Visitor, site: Any
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    page.evaluate(HOLD_QUESTIONS, "log")
    turn(page, "rear_left", "down")
    expect(page.locator("#log-top")).to_have_class(re.compile(r"\bwaits\b"))
    expect(net(page, "rear_left")).to_be_hidden()  # it is the demo car's
    down = page.locator('[data-do="turn"][data-corner="rear_left"]').filter(has_text="down")
    expect(down).to_be_visible()
    turn(page, "rear_left", "down")
    page.wait_for_function("() => window.held.length === 2")
    page.evaluate(RELEASE_QUESTIONS)
    expect(net(page, "rear_left")).to_have_text("1/2 down")


def test_a_touch_counts_that_lasts_over_the_first_answer(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "help")
    page.evaluate(HOLD_QUESTIONS, "log")
    opened(page, site.url, "log")
    page.wait_for_function("() => window.held.length === 1")
    page.locator('[data-do="turn"][data-corner="rear_left"]').filter(has_text="down").hover()
    page.mouse.down()
    page.evaluate(RELEASE_QUESTIONS)
    expect(page.locator("#log-top")).to_have_attribute("data-stays", "")
    page.mouse.up()
    expect(net(page, "rear_left")).to_have_text("1/4 down")


def test_python_is_asked_for_the_page_once_a_touch(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    page.evaluate(ASKED)
    turn(page, "rear_left", "up")
    expect(net(page, "rear_left")).to_have_text("1/4 up")
    page.locator('[data-do="take-back"]').click()
    expect(net(page, "rear_left")).to_have_text("0 at base")
    page.locator("#log-note [name=note]").fill("windy")
    page.locator("#log-note").get_by_role("button").click()
    expect(page.locator("#log-lines")).to_contain_text("windy")
    asked = page.evaluate("() => window.asked")
    assert asked == ["collar", "log", "undo", "log", "collar", "log"]


def test_the_plot_of_the_day_is_read_where_it_is_touched(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    turn(page, "rear_left", "down", 2)
    expect(net(page, "rear_left")).to_have_text("1/2 down")
    plots_are_read(page)
    page.evaluate(WRITTEN)
    plot = page.locator("#log-plot")
    expect(plot.locator("desc")).to_contain_text("rear left 1/2")
    page.mouse.move(0, 0)  # else the plot may come to lie under it and is read there
    plot.locator(".slide").press("End")  # the hour that has not ended yet
    says = plot.locator(".reads")
    expect(says).to_contain_text(re.compile(r"Time of day \d\d:00"))
    expect(says).to_contain_text(re.compile(r"Rear left 0\.50*"))
    # What is read stays where it was while the log goes on.
    plot.locator("svg").click(position={"x": 120, "y": 100})
    turn(page, "rear_left", "down")
    expect(says).to_contain_text(re.compile(r"Rear left \d"))
    page.locator("#log-lines summary").click()
    table = page.locator("#log-lines .as-table")
    expect(table.locator("tbody tr").last).to_contain_text(re.compile(r"\d\d:00.*0\.75"))
    turn(page, "front_right", "up")
    expect(table.locator("tbody tr").last).to_contain_text("0.25")


def test_a_form_that_turns_collars_writes_to_the_log(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "collar-turns")
    page.locator('#collar-turns-answer [data-do="done"]').click()
    expect(page.locator("#collar-turns-answer .carried")).to_be_visible()
    opened(page, site.url, "log")
    expect(net(page, "front_left")).to_have_text(re.compile(r"1.1/4 down"))
    expect(page.locator("#log-lines")).to_contain_text("From Collar turns and ride height")


def test_a_mark_that_crept_and_one_that_did_not(visitor: Visitor, site: Any) -> None:
    page = visitor().new_page()
    opened(page, site.url, "log")
    page.get_by_text("Still at its mark?").click()
    form = page.locator("#log-check")
    touch(form.locator('[value="front_right"]'))
    form.get_by_role("button").click()
    expect(page.locator("#log-top")).to_contain_text("still there")
    touch(form.locator('[value="up"]'))
    trial(form.locator('[name="turns"]'), "about half")
    form.get_by_role("button").click()
    expect(page.locator("#notice")).to_contain_text("is not a number")
    trial(form.locator('[name="turns"]'), "1/2")
    form.get_by_role("button").click()
    expect(net(page, "front_left")).to_have_text("1/2 up")
    expect(page.locator("#log-top .caution").last).to_contain_text("creeps")


def test_a_hostile_note_is_only_text_and_the_table_runs_nothing(
    visitor: Visitor, site: Any
) -> None:
    hostile = ["<img src=x onerror=alert(1)>", "</td><script>alert(1)</script>", "=1+1"]
    page = visitor().new_page()
    page.on("dialog", lambda dialog: pytest.fail(f"ran: {dialog.message}"))
    opened(page, site.url, "log")
    for words in hostile:
        page.locator("#log-note-text").fill("\u202e" + words)
        page.get_by_role("button", name="Save", exact=True).click()
        expect(page.locator("#log-lines li").filter(has_text=words)).to_be_visible()
    assert page.locator("#log-lines :is(img, script)").count() == 0
    with page.expect_download() as download:
        page.get_by_role("button", name="Log as a table").click()
    text = Path(download.value.path()).read_text("utf-8-sig")
    cells = [row["Note"] for row in csv.DictReader(io.StringIO(text))][-len(hostile) :]
    assert [cell.removeprefix("'") for cell in cells] == hostile
    assert not [cell for cell in cells if cell.startswith("=")]


@pytest.mark.parametrize("width", [360, 820, 1280])
def test_buttons_are_for_a_gloved_thumb(page: Page, site: Any, width: int) -> None:
    """At least 64 px high and wide, all four corners, and apart from each other."""
    page.set_viewport_size({"width": width, "height": 800})
    opened(page, site.url, "log")
    expect(page.locator('[data-do="turn"]')).to_have_count(8)
    for corner in CORNERS:
        # Found and measured in one go: the list may be drawn again at any moment.
        up, down = page.evaluate(BUTTONS, corner)
        assert min(box[side] for box in (up, down) for side in ("height", "width")) >= 64
        apart = down["y"] - up["y"] - up["height"], down["x"] - up["x"] - up["width"]
        assert max(apart) >= 8  # px


@pytest.mark.parametrize(("count", "said"), [(299, False), (300, True), (400, True)])
def test_a_log_that_is_not_shown_whole_says_so(count: int, said: bool) -> None:
    at = Moment("e", "c", 1.7e9, 0.0)
    entries = [log.set_base(Car(), replace(at, id=f"e{n}", time=1.7e9 + n)) for n in range(count)]
    lines = log_html(Car(), entries, 1.7e9 + count, 0.0, "metric").lines
    assert ("These are the newest 300 lines." in lines) == said
    assert lines.count("<tr") <= 301
