"""Entering: steps, units, marks and help at the field, alike before Python is up and after."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Locator, Page, expect

from calc import units
from calc.asking.entry import Number
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.replying.form import Form
from site_src.pages.asked import asked
from site_src.pages.drawing import DRAWINGS
from site_src.pages.drawings.shown import shown
from tests.site.hands import SharedPage, Visitor, field, opened, script, touch, trial, unfold
from tests.site.keeping import HOLD_DATABASE

LENGTH = {
    "names": [["mm"], ["in", "inch", '"'], ["cm"]],
    "at": 0,
    "steps": ["0.05", "0.002", "0.005"],
    "low": "0.5",
    "signed": False,
    "mark": ".",
}
TURNS = {**LENGTH, "names": [["turns", "turn"]], "steps": ["0.25"], "low": "-4", "signed": True}
COUNT = {**LENGTH, "names": [[""]], "steps": ["1"]}
STEPPED = """async ([script, cases]) => {
  const { stepped } = await import(new URL("decimal.js", script));
  return cases.map(([text, scale, way]) => stepped(text, scale, way) ?? null);
}"""


def box(page: Page, slug: str, name: str) -> Locator:
    return page.locator(f'form[id="{slug}"] .field:has([name="{name}"])')


def stepped(page: Page, *cases: tuple[str, dict[str, object], int]) -> list[str | None]:
    made: list[str | None] = page.evaluate(STEPPED, [script(page), cases])
    return made


@pytest.mark.parametrize(
    ("text", "scale", "up", "down"),
    [
        ("0.1", LENGTH, "0.15", "0.05"),  # 0.1 + 0.05 is 0.15000000000000002 in binary
        ("0.15", LENGTH, "0.2", "0.1"),
        ("12.44", LENGTH, "12.45", "12.4"),
        ("12,44", LENGTH, "12,45", "12,4"),
        ("0.49 in", LENGTH, "0.492 in", "0.488 in"),
        ('0.49 "', LENGTH, '0.492 "', '0.488 "'),
        ("12 ± 0.1", LENGTH, "12.05 ± 0.1", "11.95 ± 0.1"),
        ("12 ± 0.1 in", LENGTH, "12.002 ± 0.1 in", "11.998 ± 0.1 in"),
        ("12 ± 5 %", LENGTH, "12.05 ± 5 %", "11.95 ± 5 %"),
        ("0", LENGTH, "0.05", "0"),
        ("", LENGTH, "0.5", "0.5"),
        ("1 1/4", TURNS, "1 1/2", "1"),
        ("1¼", TURNS, "1 1/2", "1"),
        ("1.25", TURNS, "1.5", "1"),
        ("−1/4", TURNS, "0", "−1/2"),
        ("1/3", TURNS, "1/2", "1/4"),
        ("0", TURNS, "0.25", "-0.25"),
        ("2", {**TURNS, "parts": True}, "2 1/4", "1 3/4"),
        ("3", COUNT, "4", "2"),
        ("99999999999999999999", COUNT, "100000000000000000000", "99999999999999999998"),
        ("1,234", LENGTH, None, None),  # may be a thousand and more: Python says so
        ("1e3", LENGTH, None, None),
        ("12 furlong", LENGTH, None, None),
        ("about two", LENGTH, None, None),
    ],
)
def test_a_step_keeps_the_way_it_was_typed(
    page: Page, site: object, text: str, scale: dict[str, object], up: str | None, down: str | None
) -> None:
    assert stepped(page, (text, scale, 1), (text, scale, -1)) == [up, down]


@given(st.decimals("-1e6", "1e6", places=4), st.sampled_from(["0.05", "0.25", "0.002", "1", "20"]))
@settings(max_examples=60, deadline=None)
def test_a_step_lands_on_the_grid_beside(
    shared_page: SharedPage, site: object, at: Decimal, step: str
) -> None:
    """Against the decimal arithmetic of the General Decimal Arithmetic Specification (decimal)."""
    page = shared_page.page or shared_page.take()
    scale = {**TURNS, "names": [["mm"]], "steps": [step]}
    up, down = (Decimal(text or "nan") for text in stepped(
        page, (f"{at:f}", scale, 1), (f"{at:f}", scale, -1)
    ))  # fmt: skip
    assert up % Decimal(step) == down % Decimal(step) == 0
    assert at < up <= at + Decimal(step)
    assert at - Decimal(step) <= down < at


def test_keys_step_the_number_that_has_the_cursor(page: Page, site: object) -> None:
    """A quarter turn for turns; the answer follows; held, a key repeats; the arrows do the same."""
    opened(page, site.url, "spring-preload")
    touch(page.locator('form[id="spring-preload"] [name="known"]').nth(1))
    place, turns = (each(page, "spring-preload", "past_touch") for each in (box, field))
    trial(turns, "1 1/4")
    more = place.locator('[data-key="up"]')
    expect(more).to_have_text("+0.25")
    more.click()
    expect(turns).to_have_value("1 1/2")
    expect(turns).to_be_focused()
    expect(page.locator("#spring-preload-answer .step").first).to_contain_text("1 1/2 turns")
    turns.press("ArrowDown")
    expect(turns).to_have_value("1 1/4")
    more.hover()
    page.mouse.down()
    expect(turns).to_have_value(re.compile(r"^[2-9]"))
    page.mouse.up()
    assert re.fullmatch(r"\d( [13]/[24])?|1\d", turns.input_value())
    page.locator('[data-page="spring-preload"] [data-do="reset"]').click()


def test_steps_are_those_of_the_tools_in_the_car(visitor: Visitor, site: object) -> None:
    page = visitor().new_page()
    opened(page, site.url, "car")
    unfold(page, "car")
    field(page, "car", "tools.ruler").fill("0.1")
    page.keyboard.press("Tab")  # left, it is saved
    expect(page.locator('[data-chapter="tools"]')).to_contain_text("1 of")
    opened(page, site.url, "spring-preload")
    field(page, "spring-preload", "spring_free").focus()
    expect(box(page, "spring-preload", "spring_free").locator('[data-key="up"]')).to_have_text(
        "+0.1"
    )


def test_the_unit_beside_a_number_goes_to_the_next_and_around(
    visitor: Visitor, site: object
) -> None:
    """The answer stays; all the way around what was there is there again, and nothing is typed."""
    page = visitor().new_page()
    opened(page, site.url, "spring-preload")
    answer = page.locator("#spring-preload-answer .quantities").first
    before = answer.inner_text()
    place, free = (each(page, "spring-preload", "spring_free") for each in (box, field))
    unit = place.locator("button.unit")
    expect(unit).to_have_text("mm")
    for text in ("1.574803 in", "4 cm", "0.04 m"):
        unit.click()
        expect(free).to_have_value(text)
        expect(place).to_have_class(re.compile("typed"))
        assert answer.inner_text() == before
    unit.click()
    expect(free).to_have_value("40")
    expect(place).not_to_have_class(re.compile("typed"))
    trial(free, "40,5 ± 0,2")
    unit.click()
    expect(free).to_have_value("1,59449 in ± 0,00787")
    page.reload()
    opened(page, site.url, "spring-preload")
    expect(free).to_have_value("1,59449 in ± 0,00787")


def test_a_unit_is_gone_on_from_before_the_last_one_is_kept(visitor: Visitor, site: object) -> None:
    """The database is busy: what is seen is what the next touch goes on from."""
    page = visitor().new_page()
    opened(page, site.url, "spring-preload")
    place, free = (each(page, "spring-preload", "spring_free") for each in (box, field))
    page.evaluate(HOLD_DATABASE)
    for text in ("1.574803 in", "4 cm", "0.04 m"):
        place.locator("button.unit").click()
        expect(free).to_have_value(text)
    page.evaluate("() => { globalThis.free = true; }")
    place.locator("button.unit").click()
    expect(free).to_have_value("40")


def test_before_python_is_up_steps_work_and_units_wait(visitor: Visitor, site: object) -> None:
    """A unit pressed early comes when Python does, and not over what was typed meanwhile."""
    context = visitor(python="within")
    page = context.new_page()
    held = []
    page.route("**/pyodide.asm.wasm*", lambda route: held.append(route))
    page.route("**/image.packed", lambda route: held.append(route))
    page.goto(f"{site.url}#spring-preload")
    free = field(page, "spring-preload", "spring_free")
    solid = field(page, "spring-preload", "spring_solid")
    for name in ("spring_free", "spring_solid"):
        box(page, "spring-preload", name).locator("button.unit").click()
    expect(free).to_have_value("40")
    free.press("ArrowUp")
    expect(free).to_have_value("40.5")
    assert page.locator("html").get_attribute("data-engine") != "live"
    for route in held:
        route.continue_()
    page.unroute_all(behavior="ignoreErrors")
    expect(solid).to_have_value("0.51181 in")
    expect(free).to_have_value("40.5")


def test_whose_value_it_is_is_marked(page: Page, site: object) -> None:
    opened(page, site.url, "spring-preload")
    place, free = (each(page, "spring-preload", "spring_free") for each in (box, field))
    mark = "(place) => getComputedStyle(place, '::before').maskImage"
    car = place.evaluate(mark)
    assert car.startswith("url(")
    free.focus()
    said = place.locator(".keys p")
    expect(said).to_have_text(re.compile("nothing on it. Usual: 20 to 120 mm. From the car.$"))
    assert free.get_attribute("aria-describedby") == "keys-say"
    trial(free, "41")
    expect(said).to_contain_text("Typed here.")
    assert place.evaluate(mark) not in ("none", car)
    trial(free, "")
    expect(page.locator('[id="spring-preload-spring_free-error"]')).to_be_visible()
    told = (free.get_attribute("aria-describedby") or "").split()
    assert set(told) == {"keys-say", "spring-preload-spring_free-error"}
    page.locator("#spring-preload-answer .problems a").first.click()
    expect(free).to_be_focused()
    place.locator('[data-do="take-out"]').click()
    expect(free).to_have_value("40")
    expect(place).not_to_have_class(re.compile("typed"))


def test_a_sign_can_be_had_on_a_number_pad(visitor: Visitor, site: object) -> None:
    """Where a value may be negative and only there; a keyboard with letters for all else."""
    page = visitor(
        has_touch=True, is_mobile=True, viewport={"width": 360, "height": 740}
    ).new_page()
    opened(page, site.url, "collar-turns")
    touch(page.locator('form[id="collar-turns"] [name="ask"]').nth(1))
    place, turns = (each(page, "collar-turns", "turns") for each in (box, field))
    assert turns.evaluate("(input) => input.inputMode") == "decimal"
    trial(turns, "1 1/2")
    place.locator('[data-key="sign"]').tap()
    expect(turns).to_have_value("-1 1/2")
    place.locator('[data-key="letters"]').tap()
    assert turns.evaluate("(input) => input.inputMode") == "text"
    field(page, "collar-turns", "pitch").focus()
    expect(box(page, "collar-turns", "pitch").locator('[data-key="sign"]')).to_be_hidden()
    last = field(page, "collar-turns", "reach")
    last.evaluate("(input) => scrollBy(0, input.getBoundingClientRect().bottom - innerHeight + 60)")
    last.focus()
    expect(box(page, "collar-turns", "reach").locator(".keys p")).to_be_in_viewport(ratio=1)
    small = page.locator(".keys button:visible").evaluate_all(
        "(keys) => keys.map((key) => key.getBoundingClientRect())"
        ".filter(({ width, height }) => width < 44 || height < 44)"
    )
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0


@pytest.mark.parametrize("text", ["0.866", "633.25", "1 31/32", "-57.9120", "57.9 ± 0.12"])
def test_no_number_is_cut(page: Page, site: object, text: str) -> None:
    """A field that shows 33.25 of 633.25 tells of another number."""
    opened(page, site.url, "collar-turns")
    entry = field(page, "collar-turns", "ride_height")
    entry.fill(text)
    room = "box => box.clientWidth - box.scrollWidth"
    assert entry.evaluate(room) >= 0, text
    assert entry.evaluate("box => box.clientWidth") > 0


def test_turning_the_phone_loses_nothing(visitor: Visitor, site: object) -> None:
    page = visitor(viewport={"width": 360, "height": 740}).new_page()
    opened(page, site.url, "spring-preload")
    free = field(page, "spring-preload", "spring_free")
    page.locator("#spring-preload-answer .working summary").click()
    trial(free, "41 mm ±")
    box(page, "spring-preload", "spring_free").locator('[data-key="drawing"]').click()
    for size in ({"width": 740, "height": 360}, {"width": 360, "height": 740}):
        page.set_viewport_size(size)
        expect(free).to_be_focused()
        expect(free).to_have_value("41 mm ±")
        expect(box(page, "spring-preload", "spring_free").locator(".keys img")).to_be_visible()


def test_the_question_mark_shows_where_to_measure(page: Page, site: object) -> None:
    opened(page, site.url, "stroke")
    opened(page, site.url, "spring-preload")
    field(page, "spring-preload", "stroke")  # opens its fold
    place = box(page, "spring-preload", "stroke")
    expect(page).to_have_url(re.compile(r"#spring-preload\?"))  # the choices are in the address
    address = page.url
    place.locator("> a").click()
    picture = place.locator(".keys img")
    expect(picture).to_be_visible()
    assert picture.evaluate("(image) => image.decode().then(() => image.naturalWidth)") == 320
    assert (picture.get_attribute("alt") or "").startswith("The same damper fully out")
    assert page.url == address
    place.locator("> a").click()
    expect(picture).to_be_hidden()


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_what_is_measured_with_a_tool_on_the_car_has_its_drawing(form: Form) -> None:
    for _, name, cell in form.cells():
        drawing = shown(form.slug, name)
        assert drawing in ("", *DRAWINGS)
        if isinstance(cell, Number) and cell.tool:
            assert drawing, (form.slug, name)


def test_every_field_says_how_it_is_measured_and_what_is_usual(page: Page, site: object) -> None:
    """Once the cursor is in it, in rows too, in the units shown."""
    for slug, name in (
        ("car", "end.rear.pitch"),
        ("drop-test", "runs.2.time"),
        ("car", "bottles.1.name"),
    ):
        opened(page, site.url, slug)
        unfold(page, slug)
        cell = next(cell for _, own, cell in BY_SLUG[slug].cells() if own == name)
        page.locator(f'form[id="{slug}"] [name="{name}"]').first.focus()
        said = page.locator(f'form[id="{slug}"] .keys p')
        expect(said).to_contain_text(cell.measure)
        if isinstance(cell, Number):
            expect(said).to_contain_text(f"Usual: {cell.range_text(units.METRIC, 'usual')}.")


def test_a_thing_is_asked_the_same_wherever_it_is_asked() -> None:
    (pitch,) = {
        asked(form.slug, cell)
        for form in FORMS
        for _, _, cell in form.cells()
        if isinstance(cell, Number) and cell.label == "Thread pitch of the body"
    }
    assert pitch.range.kind == "length" and pitch.drawing == "thread-pitch"
    assert pitch.range.usual == ("Usual: 0.5 to 1.5 mm.", "Usual: 0.0197 to 0.059 in.")


def test_the_page_of_all_forms_says_each_sentence_once(dist: Path) -> None:
    """It was 500 kB with every sentence written out at each of 1200 fields."""
    fields = sum(1 for form in FORMS for _ in form.cells())
    assert len((dist / "index.html").read_bytes()) < 275 * fields


def test_with_scripts_off_each_question_mark_leads_to_its_sentence(dist: Path) -> None:
    html = (dist / "index.html").read_text("utf-8")
    links = re.findall(r'<a href="#(h\d+)">\?</a>', html)
    places = set(re.findall(r'<p id="(h\d+)"', html))
    assert len(links) > 100
    assert set(links) <= places
