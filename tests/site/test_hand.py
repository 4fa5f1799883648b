"""What a hand finds: a field that a touch selects, Enter that goes on, folds that open for what is
missing, a card with its button in it, the car's head, sharing, any page on paper."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from calc.asking.entry import Rows
from calc.forms.catalogue import FORMS
from calc.kept.link import unpack
from calc.model.car import Car
from calc.replying.form import Form
from site_src.pages.render import chapters_of
from tests.site.hands import Visitor, choose_units, field, opened
from tests.site.hosting import Site

COLLAR = "collar-turns"
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def phone(visitor: Visitor, site: Site) -> Page:
    page = visitor().new_page()
    page.set_viewport_size({"width": PHONE["width"], "height": PHONE["height"]})
    return opened(page, site.url, COLLAR)


def test_a_touch_selects_and_enter_goes_on(phone: Page) -> None:
    """20 typed into a field with 22 gives 20; Enter leads to the next and selects it."""
    now, wanted = (field(phone, COLLAR, name) for name in ("ride_height", "wanted_height"))
    expect(now).to_have_value("22")
    assert now.get_attribute("enterkeyhint") == "next"
    now.click()
    phone.keyboard.type("20")
    expect(now).to_have_value("20")
    phone.keyboard.press("Enter")
    expect(wanted).to_be_focused()
    phone.keyboard.type("24")
    expect(wanted).to_have_value("24")


def test_what_comes_from_the_car_is_one_line_until_some_of_it_is_missing(phone: Page) -> None:
    fold = phone.locator(f'[data-fold="{COLLAR}-record"]')
    expect(fold.locator("summary")).to_contain_text("From the car: invented numbers")
    assert fold.get_attribute("open") is None
    phone.locator(f'form[id="{COLLAR}"] [name="ride_height"]').click()
    phone.keyboard.type("22")
    expect(fold.locator("summary")).to_contain_text("missing")
    expect(fold).to_have_attribute("open", "")
    expect(phone.locator("#whose-name")).to_have_text("My car")
    expect(phone.locator("#whose-rests")).to_contain_text("missing")


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_what_the_car_fills_is_folded_unless_it_is_asked(form: Form) -> None:
    """Rows that grow stay whole."""
    if form.first is None:
        return
    shown = [entry for key, _, entries in chapters_of(form) if not key for entry in entries]
    single = [e.name for e in shown if not isinstance(e, Rows) and e.car]
    rows = [e for e in shown if isinstance(e, Rows) and e.every]
    columns = [f"{e.name}.{column.name}" for e in rows for column in e.columns if column.car]
    assert {*single, *columns} <= set(form.first)


def test_the_card_acts_and_follows_as_one_line(phone: Page) -> None:
    card = phone.locator(f"#{COLLAR}-answer .now")
    act = card.get_by_role("button", name="Done")
    expect(act).to_be_in_viewport()
    expect(card.locator(".arrow")).to_be_visible()
    line = phone.locator(f"#{COLLAR}-answer .brief")
    expect(line).to_be_hidden()
    phone.evaluate("scrollTo(0, document.body.scrollHeight)")
    expect(line).to_be_visible()
    box = line.bounding_box()
    assert box is not None
    assert box["y"] == 0
    assert box["height"] < 80
    expect(line).to_contain_text("collars")


def test_the_skip_link_and_the_panel_answer_to_the_keyboard(phone: Page) -> None:
    phone.evaluate("document.activeElement.blur()")
    phone.locator("a.skip").focus()
    phone.keyboard.press("Enter")
    expect(phone.locator(f"#{COLLAR}-title")).to_be_focused()
    panel = phone.locator(".settings")
    panel.locator("summary").focus()
    phone.keyboard.press("Enter")
    expect(panel.locator(".system")).to_be_visible()
    phone.keyboard.press("Escape")
    expect(panel.locator(".system")).to_be_hidden()
    choose_units(phone, "imperial")
    expect(phone.locator("html")).to_have_attribute("data-system", "imperial")


def test_a_car_is_shared_from_its_page(phone: Page, site: Site) -> None:
    """The link that is sent holds the car: read back by the reader of links."""
    phone.evaluate("() => { navigator.share = async ({ url }) => { globalThis.sent = url; }; }")
    phone.locator(".whose").click()
    phone.locator('[data-do="share"]').click()
    code = phone.locator("#car-code svg")
    expect(code).to_be_in_viewport()
    phone.locator('[data-do="send-link"]').click()
    phone.wait_for_function("() => globalThis.sent")
    sent = phone.evaluate("globalThis.sent")
    assert sent.startswith(site.url)
    assert unpack(sent).front.spring_rate == pytest.approx(Car().front.spring_rate)


def test_any_page_on_paper_says_whose_it_is(phone: Page) -> None:
    phone.evaluate("dispatchEvent(new Event('beforeprint'))")
    phone.emulate_media(media="print")
    head = phone.locator(".top")
    expect(phone.locator("#whose-name")).to_be_visible()
    expect(head).to_have_attribute("data-printed", re.compile(r"^\d{4}-\d\d-\d\d$"))
    # The file is named after the car; the window is again afterwards.
    assert phone.title().startswith(f"{phone.locator('#whose-name').inner_text()} - ")
    phone.evaluate("dispatchEvent(new Event('afterprint'))")
    assert not phone.title().startswith(phone.locator("#whose-name").inner_text())
    after = "(e) => getComputedStyle(e, '::after').content"
    chosen = phone.locator(f'form[id="{COLLAR}"] input:checked + span').first
    assert "✓" in chosen.evaluate(after)
    expect(phone.locator(f"#{COLLAR}-answer [data-do=done]")).to_be_hidden()
    expect(phone.locator(".settings")).to_be_hidden()
