"""Whoever aims, sees or waits badly: targets, double text, the keyboard, motion, forced colours."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, Page

from tests.site import access
from tests.site.access import PLACES, SLUGS, dress, turn_to
from tests.site.hands import unfold


@pytest.mark.parametrize("name", [*SLUGS, *PLACES])
def test_targets_are_large_and_double_text_fits(here: Page, name: str) -> None:
    """Every control is 44 px both ways; with text twice as large nothing is cut or runs out."""
    turn_to(here, name)
    found = {}
    for look in ("light", "sun"):
        dress(here, 360, look)
        found[look] = access.too_small(here) + access.lost_when_doubled(here)
    assert found == {"light": [], "sun": []}


@pytest.mark.parametrize("key", ["Tab", "Shift+Tab"])
@pytest.mark.parametrize("width", [360, 1280])
def test_the_keyboard_shows_where_it_is(here: Page, width: int, key: str) -> None:
    """A ring at least 2 px wide around what has the focus, and nothing lies on it: WCAG 2.2, 2.4.7
    and 2.4.11."""
    dress(here, width, "light")
    form = turn_to(here, "collar-turns").locator("form.fields")
    unfold(here, "collar-turns")
    first, last = form.locator("input:visible").first, form.locator('[data-do="reset"]')
    (first if key == "Tab" else last).focus()
    passed = set()
    for _ in range(60):
        here.keyboard.press(key)
        here.wait_for_function(  # what has the focus may have to be scrolled to
            "() => { const { name, seen } = eyes.focused(); return !name || seen; }"
        )
        now = here.evaluate("() => eyes.focused()")
        if not now["name"] or "reset" in now["name"]:
            break
        assert now["ring"], now
        assert now["seen"], now
        passed.add(now["name"])
    assert len(passed) > 12


def test_nothing_moves(here: Page) -> None:
    """prefers-reduced-motion is heeded: no part has an animation, a transition, a smooth scroll."""
    dress(here, 360, "light")
    here.emulate_media(reduced_motion="reduce")
    for name in ("collar-turns", "log", "sheet"):
        turn_to(here, name)
        assert here.evaluate("() => eyes.moving()") == 0
    here.emulate_media(reduced_motion="no-preference")


def test_told_apart_without_our_colours(here: Page) -> None:
    """In forced colours a choice made, an error and the marked row are still told apart."""
    dress(here, 360, "light")
    here.emulate_media(forced_colors="active")
    form = turn_to(here, "oil-temperature").locator("form.fields")

    def style(where: Locator, what: str) -> str:
        found: str = where.evaluate("(e, what) => getComputedStyle(e)[what]", what)
        return found

    chosen = form.locator(".options input:checked + span").first
    other = form.locator(".options input:not(:checked) + span").first
    assert style(chosen, "backgroundColor") != style(other, "backgroundColor")
    row = here.locator("#oil-temperature-answer tr.mark > *").first
    plain = here.locator("#oil-temperature-answer tbody tr:not(.mark) > *").first
    assert style(row, "borderTopWidth") != style(plain, "borderTopWidth")
    access.type_wrong(form)
    assert style(form.locator(".error").first, "borderLeftStyle") == "solid"
    assert style(form.locator("[aria-invalid]").first, "outlineStyle") != "none"
    access.put_back(form)
    here.emulate_media(forced_colors="none")
