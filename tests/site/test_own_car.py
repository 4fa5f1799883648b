"""A car of one's own: empty at first, begun by the first number; its deeds, and undoing them."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from calc.forms.catalogue import BY_SLUG
from calc.kept.deeds import Deed, carried_out
from calc.kept.doing import done, saved
from calc.model.car import empty
from calc.replying.learned import usual
from calc.replying.reading import run
from calc.units import entry_text
from tests.site.hands import (
    HOLD_QUESTIONS,
    RELEASE_QUESTIONS,
    Visitor,
    field,
    live,
    net,
    opened,
    turn,
)
from tests.site.hosting import Site

COLLAR = "collar-turns"


def type_in(page: Page, slug: str, name: str, text: str) -> None:
    """As a person types: with keys. A script's text is a trial, and begins no car."""
    field(page, slug, name).click()
    page.keyboard.press("Control+A")
    page.keyboard.type(text)


def row(page: Page, name: str) -> Locator:
    """A field of the form with all that stands beside it."""
    fields = page.locator(f'form[id="{COLLAR}"] .field')
    return fields.filter(has=page.locator(f'[name="{name}"]'))


@pytest.fixture
def page(visitor: Visitor, site: Site) -> Page:
    """Somebody's first visit, the two heights typed."""
    made = visitor().new_page()
    opened(made, site.url, COLLAR)
    expect(made.locator("#engine-state")).to_contain_text("demo car")
    type_in(made, COLLAR, "ride_height", "22")
    expect(made.locator("#engine-state")).to_have_text("Car: My car.")
    type_in(made, COLLAR, "wanted_height", "23.5")
    expect(made.locator(f"#{COLLAR}-answer .step")).to_contain_text("Still missing: 7")
    return made


def test_the_first_number_begins_a_car_of_which_nothing_else_is_known(page: Page) -> None:
    for name in ("pitch", "motion_ratio", "spring_rate", "droop_length", "wheelbase"):
        expect(field(page, COLLAR, name)).to_have_value("")
        place = row(page, name)
        expect(place).to_have_class(re.compile(r"\bopen\b"))
        expect(place.locator(".origin")).to_have_text("not known yet")
    page.reload()
    expect(page.locator("#engine-state")).to_have_text("Car: My car.")
    expect(field(page, COLLAR, "wanted_height")).to_have_value("23.5")
    expect(field(page, COLLAR, "pitch")).to_have_value("")


def test_what_is_usual_gives_an_honest_answer_in_one_touch(page: Page) -> None:
    page.locator('[data-do="assume"]').click()
    step = page.locator(f"#{COLLAR}-answer .step").first
    expect(step).to_contain_text("down")
    expect(page.locator(f"#{COLLAR}-answer .now .rests")).to_contain_text(
        re.compile(r"Rests on 2 known values, \d+ assumed")
    )
    turns = page.locator(f'#{COLLAR}-answer [data-quantity="turns"]')
    # How far is nearly open, which way is not: pitch and ratio are above 0, and it stands too low.
    expect(turns).to_have_text(re.compile(r"^1\.05\s\(0\.\d+ to [23]\.\d+\)\sturns$"))
    expect(page.locator(f"#{COLLAR}-answer .now .give")).to_contain_text("It may be 1/4 to 3 turns")
    expect(row(page, "pitch").locator(".origin")).to_contain_text("assumed, ±")
    # A step begins at what is assumed, goes as far as the calliper reads, and is one's own then.
    pitch = field(page, COLLAR, "pitch")
    expect(pitch).to_have_value("1")
    pitch.click()
    row(page, "pitch").locator('[data-key="up"]').click()
    expect(pitch).to_have_value("1.02")
    expect(row(page, "pitch")).to_have_class(re.compile("typed"))


def test_done_is_a_deed_that_is_predicted_asked_for_and_undone(page: Page) -> None:
    page.locator('[data-do="assume"]').click()
    act = page.locator(f'#{COLLAR}-answer [data-do="done"]')
    act.dblclick()
    expect(page.locator(f"#{COLLAR}-answer .measure-now")).to_contain_text("Ride height now")
    expect(field(page, COLLAR, "ride_height")).to_have_value(expected_height())
    expect(page.locator(f"#{COLLAR}-answer .step")).to_contain_text("Both front collars: 1")
    page.goto(re.sub("#.*", "#log", page.url))
    for corner in ("front_left", "front_right"):
        expect(net(page, corner)).to_have_text("1 down")  # pressed twice, done once
    page.locator('[data-do="take-back"]').click()
    for corner in ("front_left", "front_right"):
        expect(net(page, corner)).to_have_text("0 at base")
    page.goto(re.sub("#.*", f"#{COLLAR}", page.url))
    expect(field(page, COLLAR, "ride_height")).to_have_value("22")


def test_done_in_two_windows_at_once_is_done_once(page: Page, site: Site) -> None:
    page.locator('[data-do="assume"]').click()
    other = page.context.new_page()
    opened(other, site.url, COLLAR)
    for window in (page, other):
        expect(window.locator(f'#{COLLAR}-answer [data-do="done"]')).to_be_visible()
    for window in (page, other):  # without waiting until the other has heard of it
        window.evaluate(f"document.querySelector('#{COLLAR}-answer [data-do=done]')?.click()")
    for window in (page, other):
        expect(window.locator(f"#{COLLAR}-answer .carried")).to_contain_text(
            "Both front collars: 1"
        )
    page.goto(re.sub("#.*", "#log", page.url))
    for corner in ("front_left", "front_right"):
        expect(net(page, corner)).to_have_text("1 down")


def expected_height() -> str:
    """The height after the turns, by the same deeds at the desk."""
    form, typed = BY_SLUG[COLLAR], {"ride_height": "22", "wanted_height": "23.5"}
    car = empty("My car")
    car = carried_out(car, Deed(learned=usual(form, typed, car, 1.0)))
    car = carried_out(car, saved(form, typed, car, 2.0))
    car = carried_out(car, done(run(form, typed, car).answer, car, 2.0, form.slug))
    return entry_text(car.front.ride_height, "length", u=car.origins["front.ride_height"].u)


def test_a_turn_at_the_log_moves_the_height_that_the_forms_know(page: Page) -> None:
    page.locator('[data-do="assume"]').click()
    page.locator(f'#{COLLAR}-answer [data-do="keep"]').click()
    page.goto(re.sub("#.*", "#log", page.url))
    turn(page, "front_left", "down", 2)
    expect(net(page, "front_left")).to_have_text("1/2 down")
    page.goto(re.sub("#.*", f"#{COLLAR}", page.url))
    place = row(page, "ride_height")
    expect(place.locator(".origin")).to_contain_text("predicted, not measured since")
    assert float(field(page, COLLAR, "ride_height").input_value()) > 22


def test_a_height_from_before_a_turn_stands_beside_the_open_field(page: Page) -> None:
    """Of a car of which nothing tells how far a turn lifts it."""
    page.locator(f'#{COLLAR}-answer [data-do="keep"]').click()
    page.goto(re.sub("#.*", "#log", page.url))
    turn(page, "front_left", "down", 1)
    expect(net(page, "front_left")).to_have_text("1/4 down")
    page.goto(re.sub("#.*", f"#{COLLAR}", page.url))
    expect(field(page, COLLAR, "ride_height")).to_have_value("")
    expect(row(page, "ride_height").locator(".origin")).to_have_text(
        re.compile(r"22\smm before the work")
    )


def test_what_is_only_typed_is_said_where_the_car_is_shown_and_saved_from_there(
    page: Page, site: Site
) -> None:
    opened(page, site.url, "ride-frequency")
    type_in(page, "ride-frequency", "end.front.spring_rate", "0.7")
    expect(page.locator("#ride-frequency-answer .offer")).to_contain_text("spring rate")
    for name in ("sheet", "build", "cars"):
        opened(page, site.url, name)
        said = page.locator(f'[data-page="{name}"] .unsaved')
        expect(said).to_contain_text("ride height (2), Ride frequency and damping ratio (1).")
    said.get_by_role("button").click()
    expect(said).to_be_hidden()
    page.locator("#notice [data-do=undo]").click()
    expect(said).to_contain_text("ride height (2), Ride frequency and damping ratio (1).")
    opened(page, site.url, "car")
    expect(field(page, "car", "end.front.ride_height")).to_have_value("")
    expect(field(page, "car", "end.front.spring_rate")).to_have_value("")
    opened(page, site.url, "cars")
    said.get_by_role("button").click()
    expect(said).to_be_hidden()
    opened(page, site.url, "car")
    expect(field(page, "car", "end.front.ride_height")).to_have_value("22")
    expect(field(page, "car", "end.front.spring_rate")).to_have_value("0.7")


def test_on_the_page_of_the_car_a_value_is_saved_when_its_field_is_left(
    page: Page, site: Site
) -> None:
    """Typed or stepped with its keys. While it is being typed nothing says that it is not saved."""
    opened(page, site.url, "car")
    panel = page.locator("#car-answer")
    expect(panel).to_contain_text("saved as soon as you leave its field")
    type_in(page, "car", "temperature", "23")
    expect(field(page, "car", "temperature")).to_have_value("23")
    expect(page.locator('[data-page="car"] .field.typed')).to_have_count(1)
    expect(panel.locator(".offer")).to_be_hidden()
    warm = page.locator('form[id="car"] .field').filter(has=page.locator('[name="temperature"]'))
    for text in ("23", "24"):
        field(page, "car", "body.wheelbase").focus()
        expect(warm.locator(".origin")).to_have_text("measured")
        expect(field(page, "car", "temperature")).to_have_value(text)
        expect(warm).not_to_have_class(re.compile("typed"))
        field(page, "car", "temperature").click()
        warm.locator('[data-key="up"]').click()
        expect(warm).to_have_class(re.compile("typed"))


def test_a_number_is_not_scolded_while_it_is_being_typed(page: Page) -> None:
    """A wheelbase of 2 mm is none, but 2 may become 260 until the field is left."""
    panel = page.locator(f"#{COLLAR}-answer")
    type_in(page, COLLAR, "wheelbase", "2")
    expect(panel).to_have_attribute("data-before", "typing")
    expect(row(page, "wheelbase").locator(".error")).to_have_count(0)
    field(page, COLLAR, "ride_height").focus()
    expect(row(page, "wheelbase").locator(".error")).to_contain_text("not possible")
    expect(panel).not_to_have_attribute("data-before", "typing")


def test_a_bottle_needs_its_viscosity_and_not_its_amount(page: Page, site: Site) -> None:
    opened(page, site.url, "car")
    type_in(page, "car", "bottles.1.left", "49")
    panel = page.locator("#car-answer")
    expect(panel.locator(".step")).to_have_text("Not saved yet.")
    expect(panel.locator(".problems li")).to_contain_text("viscosity")
    field(page, "car", "body.wheelbase").focus()
    expect(panel.locator(".offer")).to_have_count(0)
    type_in(page, "car", "bottles.1.left", "")
    type_in(page, "car", "bottles.1.viscosity", "200")
    field(page, "car", "body.wheelbase").focus()
    expect(panel.locator(".problems li")).to_have_count(0)
    opened(page, site.url, "hotter")
    expect(field(page, "hotter", "bottles.1.viscosity")).to_have_value("200")


@pytest.mark.parametrize(
    ("name", "asked", "what"),
    [
        ("cars", "unsaved", "#cars-list button"),
        ("cars", "cars", '[data-do="new-car"]'),
        ("cars", "cars", '[data-do="backup"]'),
        ("log", "log", "#log-note button"),
        ("build", "unsaved", "#build-which summary"),
        ("sheet", "unsaved", '[data-do="print"]'),
    ],
)
def test_nothing_moves_away_under_a_thumb(page: Page, name: str, asked: str, what: str) -> None:
    """What stands above comes before what is touched."""
    page.evaluate(HOLD_QUESTIONS, asked)
    opened(page, re.sub("#.*", "", page.url), name)
    page.wait_for_function("() => window.held.length === 1")
    touched = page.locator(f'[data-page="{name}"] {what}').first
    expect(touched).to_be_hidden()
    page.evaluate(RELEASE_QUESTIONS)
    expect(touched).to_be_visible()
    if name == "cars":
        expect(page.locator("#cars .unsaved")).to_contain_text("ride height (2)")


def test_what_is_not_saved_is_saved_by_a_touch_that_lasts_while_it_is_said_again(
    page: Page,
) -> None:
    there = re.sub("#.*", "", page.url)
    opened(page, there, "cars")
    said = page.locator("#cars .unsaved")
    expect(said).to_contain_text("ride height (2)")
    expect(page.locator("#cars-list button").first).to_be_visible()  # all of it is answered
    opened(page, there, "help")
    for asked in ("unsaved", "cars"):
        page.evaluate(HOLD_QUESTIONS, asked)
    opened(page, there, "cars")
    page.wait_for_function("() => window.held.length === 1")
    said.get_by_role("button").hover()
    page.mouse.down()
    page.evaluate("() => window.held.shift()()")
    page.wait_for_function("() => window.held.length === 1")  # asked for once that is said
    page.mouse.up()
    page.evaluate(RELEASE_QUESTIONS)
    expect(said).to_be_hidden()


def test_the_demo_car_is_a_car_apart(page: Page) -> None:
    page.goto(re.sub("#.*", "#cars", page.url))
    page.get_by_role("button", name="Look at it").click()
    expect(page.locator("#engine-state")).to_contain_text("demo car")
    page.goto(re.sub("#.*", f"#{COLLAR}", page.url))
    expect(field(page, COLLAR, "pitch")).to_have_value("0.75")
    expect(page.locator(f"#{COLLAR}-answer .now .rests")).to_contain_text("invented")
    page.goto(re.sub("#.*", "#cars", page.url))
    page.get_by_role("button", name="Use this car").click()
    page.goto(re.sub("#.*", f"#{COLLAR}", page.url))
    expect(field(page, COLLAR, "pitch")).to_have_value("")
    expect(field(page, COLLAR, "wanted_height")).to_have_value("23.5")


def test_the_page_of_the_car_saves_as_one_types(page: Page) -> None:
    page.goto(re.sub("#.*", "#car", page.url))
    chapter = page.locator('details[data-fold="car-end"]')
    expect(chapter.locator(".known")).to_contain_text(re.compile(r"^0 of \d+ known"))
    chapter.locator("summary").click()
    type_in(page, "car", "end.front.pitch", "0.7")
    page.keyboard.press("Tab")
    expect(chapter.locator(".known")).to_contain_text(re.compile(r"^1 of \d+ known"))
    page.reload()
    page.goto(re.sub("#.*", f"#{COLLAR}", page.url))
    expect(field(page, COLLAR, "pitch")).to_have_value("0.7")
    page.goto(re.sub("#.*", "#log", page.url))
    expect(page.locator("#log-lines")).to_contain_text("Front, thread pitch of the body 0.7 mm")


def test_a_deleted_car_is_asked_about_and_comes_back_after_a_restart(page: Page) -> None:
    page.goto(re.sub("#.*", "#cars", page.url))
    row = page.locator("#cars-list li").filter(has_text="My car")
    row.get_by_role("button", name="Delete").click()
    expect(row).to_contain_text("Really delete it?")
    row.get_by_role("button", name="Really delete it?").click()
    expect(row).to_contain_text("deleted")
    page.reload()
    row.get_by_role("button", name="Bring it back").click()
    expect(page.locator("#engine-state")).to_have_text("Car: My car.")
    page.goto(re.sub("#.*", f"#{COLLAR}", page.url))
    expect(field(page, COLLAR, "wanted_height")).to_have_value("23.5")


def test_the_log_of_another_car_is_never_shown(page: Page, site: Site) -> None:
    """The page is built with the demo car's log; one's own is there, or nothing is."""
    page.goto(re.sub("#.*", "#log", page.url))
    turn(page, "rear_left", "down")
    expect(net(page, "rear_left")).to_have_text("1/4 down")
    shown: list[str] = []
    page.expose_function("shown", lambda text: shown.append(text))
    page.add_init_script("""requestAnimationFrame(function look() {
      const net = document.querySelector('[data-net="rear_left"]');
      if (net?.checkVisibility({ visibilityProperty: true })) shown(net.textContent.trim());
      requestAnimationFrame(look);
    });""")
    page.reload()
    live(page)
    expect(net(page, "rear_left")).to_have_text("1/4 down")
    assert set(shown) <= {"1/4 down"}


def test_all_rows_that_are_needed_are_there_from_the_start(page: Page, site: Site) -> None:
    """Nobody types in the second line before it is there, and its link leads to it."""
    opened(page, site.url, "evening-oil?task=weights")
    for name in ("line.1.weight", "line.2.weight", "line.2.viscosity"):
        expect(field(page, "evening-oil", name)).to_be_visible()
    link = page.locator('[data-page="evening-oil"] a', has_text="Line 2, weight number")
    link.first.click()
    expect(field(page, "evening-oil", "line.2.weight")).to_be_focused()
