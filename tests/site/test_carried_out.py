"""What was carried out is said in its place, once, however quick the finger."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from tests.site.hands import Visitor, choose, field, opened, trial
from tests.site.hosting import Site

BLEND = "oil-blend"


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


def test_undo_on_the_card_takes_the_work_back(visitor: Visitor, site: Site) -> None:
    page = visitor().new_page()
    opened(page, site.url, "collar-turns")
    panel = page.locator("#collar-turns-answer")
    first = panel.locator(".step strong").first.inner_text()
    panel.get_by_role("button", name="Done").click()
    expect(panel.locator(".carried")).to_contain_text(first.rstrip("."))
    panel.get_by_role("button", name="Undo").click()
    expect(panel.locator(".step strong").first).to_have_text(first)
    expect(panel.get_by_role("button", name="Done")).to_be_visible()
