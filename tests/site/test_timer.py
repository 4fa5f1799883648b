"""The bench timers, one a damper: no locked screen, reload or clock set back makes them lie."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.site.hands import NO_PYTHON, NOON, Visitor, stop_clock

KEY = "damper-bench-timers"


def again(context: BrowserContext, address: str, now: datetime) -> Page:
    page = context.new_page()
    page.add_init_script(NO_PYTHON)
    stop_clock(page, now)
    page.goto(f"{address}#fill-bleed")
    return page


def with_timer(context: BrowserContext, address: str, now: datetime = NOON) -> Page:
    """The page with the timer at a time of day that only the test moves on; the timer asks Python
    nothing."""
    page = again(context, address, now)
    expect(page.locator("#timer-entry")).to_be_visible()
    return page


def start(page: Page, minutes: str, damper: str = "front_left") -> None:
    page.locator("#timer-minutes").fill(minutes)
    page.locator(f"[data-start={damper}]").click()


def left(page: Page, damper: str = "front_left") -> Any:
    return page.locator(f"[data-timer={damper}] strong")


def stop(page: Page, damper: str = "front_left") -> None:
    page.locator(f"[data-timer={damper}] button").click()


def pass_by(page: Page, seconds: float) -> None:
    """Time that the page lives through."""
    page.clock.run_for(int(seconds * 1000))


CHANGES = """() => {
  window.changes = [];
  const note = (records) => window.changes.push(...records.map(({ target }) => target.tagName));
  const all = { subtree: true, childList: true, attributes: true, characterData: true };
  new MutationObserver(note).observe(document, all);
}"""


def test_a_page_that_nobody_touches_changes_nothing(visitor: Visitor, site: Any) -> None:
    """So that the device need not draw; a timer changes its own line only, once a second."""
    page = with_timer(visitor(), site.url)
    expect(page.locator("#engine-state")).to_contain_text("Starting")
    pass_by(page, 1)  # what the start has put off
    page.evaluate(CHANGES)
    pass_by(page, 10)
    assert page.evaluate("window.changes") == []
    start(page, "5")
    expect(left(page)).to_have_text(re.compile("to go"))
    page.evaluate("window.changes = []")
    pass_by(page, 10)
    changes = page.evaluate("window.changes")
    assert 9 <= len(changes) <= 11
    assert set(changes) == {"STRONG"}


def test_it_counts_down_to_a_time_of_day(visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    start(page, "30")
    pass_by(page, 90)
    expect(left(page)).to_have_text(re.compile(r"^28:(29|30) to go, until 12:30"))
    stop(page)
    expect(left(page)).to_have_text("")
    expect(page.locator("#timers")).to_be_hidden()


def test_four_run_side_by_side_and_are_seen_on_every_page(visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    waits = {"front_left": 3, "front_right": 4, "rear_left": 6, "rear_right": 8}
    for damper, minutes in waits.items():
        start(page, str(minutes), damper)
    for place in ("#stroke", "#all", "#car", "#log"):
        page.evaluate("to => { location.hash = to }", place)
        for damper, minutes in waits.items():
            expect(left(page, damper)).to_be_visible()
            expect(left(page, damper)).to_have_text(re.compile(rf"^{minutes}:00 to go"))
    stop(page, "rear_left")
    expect(left(page, "rear_left")).to_be_hidden()
    expect(left(page, "rear_right")).to_be_visible()
    pass_by(page, 4 * 60 + 1)
    expect(page.locator("#notice")).to_contain_text("Front right: the timer ended at 12:04")
    expect(left(page, "front_left")).to_have_text(re.compile(r"^Ended at 12:03"))
    expect(left(page, "rear_right")).to_have_text(re.compile(r"^3:59 to go"))


def test_the_end_is_felt_and_heard(visitor: Visitor, site: Any) -> None:
    """On a device that can: a buzz, and three tones from a page that a hand has touched."""
    context = visitor()
    context.add_init_script("""
      window.felt = []; window.heard = 0;
      Navigator.prototype.vibrate = (pattern) => felt.push(pattern);
      const start = AudioScheduledSourceNode.prototype.start;
      AudioScheduledSourceNode.prototype.start = function (...when) {
        window.heard += 1;
        return start.apply(this, when);
      };
    """)
    page = with_timer(context, site.url)
    start(page, "0.5")
    pass_by(page, 31)
    expect(page.locator("#notice")).to_contain_text("the timer ended")
    assert page.evaluate("felt.length") == 1
    assert page.evaluate("heard") == 3


def test_a_reload_changes_nothing(visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    start(page, "30")
    pass_by(page, 60)
    page.reload()
    expect(left(page)).to_have_text(re.compile(r"^2[89]:\d\d to go, until 12:30"))


def test_a_page_that_was_away_says_that_it_is_over_and_since_when(
    visitor: Visitor, site: Any
) -> None:
    context = visitor()
    page = with_timer(context, site.url)
    start(page, "30")
    page.close()
    later = again(context, site.url, NOON + timedelta(minutes=42))
    expect(left(later)).to_have_text(re.compile(r"^Ended at 12:30.*, 1[12]:\d\d ago$"))
    expect(later.locator("#notice")).to_contain_text("ended at 12:30")
    expect(later.locator("#notice")).to_contain_text("while this page was away")
    later.reload()
    expect(left(later)).to_have_text(re.compile(r"^Ended at 12:30"))
    expect(later.locator("#notice")).not_to_contain_text("ended at")  # it is said once


def test_a_locked_screen_stops_the_page_but_not_the_time(visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    start(page, "30")
    pass_by(page, 1)
    page.clock.fast_forward("20:00")  # no timer of the page fires meanwhile
    page.evaluate("document.dispatchEvent(new Event('visibilitychange', { bubbles: true }))")
    expect(left(page)).to_have_text(re.compile(r"^9:5\d to go, until 12:30|^10:00 to go"))
    page.clock.fast_forward("15:00")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange', { bubbles: true }))")
    expect(left(page)).to_have_text(re.compile(r"^Ended at 12:30.*, 5:0\d ago$"))


def test_while_somebody_looks_it_says_so_once_it_is_over(visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    start(page, "0,5")
    pass_by(page, 31)
    expect(page.locator("#notice")).to_contain_text("Front left: the timer ended at 12:00")
    expect(page.locator("#notice")).not_to_contain_text("away")


def test_a_clock_that_was_set_back_does_not_make_it_longer(visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    start(page, "30")
    pass_by(page, 60)
    # The clock of the device alone goes back ten minutes; the browser's own runs on.
    page.evaluate("""() => {
      const now = Date.now.bind(Date);
      Date.now = () => now() - 600_000;
    }""")
    pass_by(page, 1)
    expect(left(page)).to_have_text(re.compile(r"^28:5\d to go, until 12:20|^29:00 to go"))
    expect(page.locator("#timer-doubt")).to_contain_text("set back")


def test_over_a_reload_a_clock_set_back_is_noticed_too(visitor: Visitor, site: Any) -> None:
    context = visitor()
    page = with_timer(context, site.url)
    start(page, "30")
    pass_by(page, 600)
    page.close()
    early = again(context, site.url, NOON - timedelta(minutes=20))
    # Twenty minutes were left at the last look: it may be less by now, and is never more.
    expect(left(early)).to_have_text(re.compile(r"^(19:\d\d|20:00) to go"))
    expect(early.locator("#timer-doubt")).to_contain_text(re.compile(r"set back (29|30):"))


def test_without_minutes_it_takes_those_of_the_answer(visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    wait = page.locator('#fill-bleed-answer [data-quantity="longest"]').get_attribute("data-value")
    page.locator("[data-start=front_left]").click()
    pass_by(page, 1)
    expect(left(page)).to_have_text(re.compile(rf"^{int(float(wait or 0))}:\d\d to go"))


@pytest.mark.parametrize("minutes", ["-5", "0", "ten", "1e9"])
def test_what_is_no_time_starts_nothing(minutes: str, visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    start(page, minutes)
    expect(page.locator("#notice")).to_contain_text("minutes above 0")
    expect(left(page)).to_have_text("")


@pytest.mark.parametrize(
    "stored", ["", "{", "null", "7", '{"front_left": {"end": "soon"}}', '{"front_left": 7}']
)
def test_damaged_storage_is_no_timer_and_no_error(stored: str, visitor: Visitor, site: Any) -> None:
    page = with_timer(visitor(), site.url)
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", [KEY, stored])
    page.reload()
    expect(page.locator("#timer-entry")).to_be_visible()
    expect(left(page)).to_have_text("")


def test_two_windows_show_one_timer(visitor: Visitor, site: Any) -> None:
    context = visitor()
    one, other = with_timer(context, site.url), with_timer(context, site.url)
    start(one, "30")
    expect(left(other)).to_have_text(re.compile(r"^(30:00|2\d:\d\d) to go"))
    stop(other)
    expect(left(one)).to_have_text("")
