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
from tests.site import printing
from tests.site.hands import Visitor, choose_units, field, live, opened, unfold
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


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_a_form_that_the_car_fills_says_what_it_is_about(form: Form) -> None:
    """Else nothing would be folded, and the question stood among all that it rests on."""
    from_car = [cell for _, _, cell in form.cells() if cell.car]
    assert form.first is not None or not from_car or form.slug == "car"


STOPS = """() => [...document.querySelectorAll(".open form.fields .field")].flatMap((field) => {
  const input = field.querySelector("input");
  if (!input.checkVisibility()) return [];
  input.focus(); // its keys come under it
  const stops = [...field.querySelectorAll("a, button, input")]
    .filter((one) => one.tabIndex >= 0 && one.checkVisibility());
  return stops.length > 2 ? [`${input.name}: ${stops.length}`] : [];
})"""


def test_the_keyboard_stops_at_most_twice_a_field_and_reaches_its_buttons(phone: Page) -> None:
    """In every form, with all folds open; the arrows go through the buttons of a field."""
    found = {}
    for form in FORMS:
        phone.goto(f"{phone.url.partition('#')[0]}#{form.slug}")
        expect(phone.locator(f'[data-page="{form.slug}"]')).to_be_visible()
        unfold(phone, form.slug)
        expect(phone.locator(f'form[id="{form.slug}"] .field input').first).to_be_attached()
        if stops := phone.evaluate(STOPS):
            found[form.slug] = stops
    assert found == {}
    opened(phone, phone.url.partition("#")[0], COLLAR)
    field(phone, COLLAR, "ride_height").focus()
    phone.keyboard.press("Tab")
    names = set()
    for _ in range(8):
        phone.keyboard.press("ArrowRight")
        names.add(
            phone.evaluate(
                "() => document.activeElement.dataset.key ?? document.activeElement.className"
            )
        )
    assert {"unit", "down", "up", "drawing"} <= names


def test_a_message_leaves_by_itself_and_takes_its_undo_along(phone: Page) -> None:
    """It lies above the bar, the head and the answer in sight; what is done next withdraws it, a
    touch of a field that it might lie on puts it away, and who leaves the page leaves it too."""
    phone.clock.install()
    notice = phone.locator("#notice")
    reset = phone.locator(f'[data-page="{COLLAR}"] [data-do="reset"]')
    reset.click()
    expect(notice.get_by_role("button", name="Undo")).to_be_visible()
    phone.evaluate("scrollTo(0, 0)")
    box, bar = notice.bounding_box(), phone.locator(".pages").bounding_box()
    answer = phone.locator(f"#{COLLAR}-answer .now").bounding_box()
    assert box is not None and bar is not None and answer is not None
    assert answer["y"] + answer["height"] < box["y"]
    assert box["y"] + box["height"] == pytest.approx(bar["y"], abs=1)
    phone.mouse.move(200, 700)
    phone.clock.run_for(16_000)
    expect(notice).to_be_hidden()
    reset.click()
    expect(notice).to_be_visible()
    field(phone, COLLAR, "ride_height").click()
    expect(notice).to_be_hidden()
    reset.click()
    phone.locator(f"#{COLLAR}-answer [data-do=done]").click()
    expect(phone.locator(f"#{COLLAR}-answer .measure-now")).to_be_visible()
    expect(notice).to_be_hidden()  # the card says it, and covers no field


COUNTED = """() => {
  globalThis.reads = 0;
  const all = IDBObjectStore.prototype.getAll;
  IDBObjectStore.prototype.getAll = function (...which) {
    if (this.name === "cars") globalThis.reads += 1;
    return all.apply(this, which);
  };
}"""


def test_a_car_is_begun_left_by_one_step_back_and_typed_in_without_reading_others(
    visitor: Visitor, site: Site
) -> None:
    phone = visitor().new_page()
    phone.goto(site.url)
    live(phone)
    phone.get_by_role("button", name="Start with my car").click()
    expect(phone.locator("#whose-name")).to_have_text("My car")
    expect(phone.locator("#car-title")).to_be_visible()
    phone.go_back()
    expect(phone.locator("#all-title")).to_be_visible()
    phone.go_forward()
    expect(phone.locator("#car-title")).to_be_visible()
    name = field(phone, "car", "name")
    name.fill("Blue")
    name.press("Tab")
    expect(phone.locator("#whose-name")).to_have_text("Blue")
    phone.evaluate(COUNTED)
    base = field(phone, "car", "body.wheelbase")
    base.press_sequentially("285")
    expect(phone.locator("#car-answer .gives").first).to_be_visible()
    base.press("Tab")
    expect(phone.locator("#whose-rests")).not_to_have_text("")
    phone.wait_for_timeout(500)
    assert phone.evaluate("globalThis.reads") == 0


def test_the_sheet_is_whole_on_a_phone(phone: Page, site: Site) -> None:
    """And larger where somebody wants to read it there."""
    opened(phone, site.url, "sheet")
    paper = phone.locator("#sheet-paper")
    expect(paper.locator(".sheet")).to_be_visible()
    overhang = "(e) => e.scrollWidth - e.clientWidth"
    phone.wait_for_function("() => document.querySelector('.sheet').style.zoom < 1")
    assert paper.evaluate(overhang) <= 1
    phone.get_by_role("button", name="Larger").click()
    phone.wait_for_function("() => document.querySelector('.sheet').style.zoom == 1")
    assert paper.evaluate(overhang) > 100


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
    doubt = card.locator(".give").first
    expect(doubt).to_contain_text("Give or take")
    expect(line.locator(".give")).to_have_text(doubt.inner_text())


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


def test_an_answer_and_its_fields_are_on_one_page_of_paper(phone: Page, site: Site) -> None:
    """In German too, which is the longest."""
    for page in ("", "index.de.html"):
        opened(phone, f"{site.url}{page}", COLLAR)
        expect(phone.locator(f"#{COLLAR}-answer .figures table").last).to_be_attached()
        expect(phone.locator(f"#{COLLAR}-answer .doubted")).not_to_have_class(re.compile("coming"))
        assert len(printing.pages(phone.pdf(format="A4"))) == 1


def test_any_page_on_paper_says_whose_it_is(phone: Page) -> None:
    own = phone.title()
    for _ in "ab":  # a browser may tell twice
        phone.evaluate("dispatchEvent(new Event('beforeprint'))")
    phone.emulate_media(media="print")
    head = phone.locator(".top")
    expect(phone.locator("#whose-name")).to_be_visible()
    expect(head).to_have_attribute("data-printed", re.compile(r"^\d{4}-\d\d-\d\d$"))
    # The file is named after the car; the window is again afterwards.
    assert phone.title() == f"{phone.locator('#whose-name').inner_text()} - {own}"
    phone.evaluate("dispatchEvent(new Event('afterprint'))")
    assert phone.title() == own
    assert not phone.title().startswith(phone.locator("#whose-name").inner_text())
    after = "(e) => getComputedStyle(e, '::after').content"
    chosen = phone.locator(f'form[id="{COLLAR}"] input:checked + span').first
    assert "✓" in chosen.evaluate(after)
    expect(phone.locator(f"#{COLLAR}-answer [data-do=done]")).to_be_hidden()
    expect(phone.locator(".settings")).to_be_hidden()
