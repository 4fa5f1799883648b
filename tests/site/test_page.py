"""The page in a real browser: the same answers as Python at the desk, and nothing typed is lost."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from calc import units
from calc.asking.entry import Choice, Number
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.kept.deeds import carried_out
from calc.kept.doing import done
from calc.model.car import Car
from calc.replying.form import Form
from calc.replying.plain import quantity_text
from calc.replying.reading import run
from calc.units import entry_text
from site_src.live import worker as live
from tests.site.hands import Visitor, ask, choose_units, field, opened, touch, trial, visiting

SLUGS = [form.slug for form in FORMS]


def typed(form: Form, chance: random.Random) -> dict[str, str]:
    """Something a user might type in a form: any choice, any possible value in most fields."""
    texts = {}
    share = chance.choice((0.01, 0.05, 0.3))
    for _, name, cell in form.cells():
        if isinstance(cell, Choice):
            texts[name] = chance.choice(cell.options)[0]
        elif isinstance(cell, Number) and chance.random() < share:
            low, high = cell.possible if chance.random() < 0.2 else cell.usual
            texts[name] = units.entry_text(chance.uniform(low, high), cell.kind)
    return texts


def without_last_bits(html: str) -> str:
    """The HTML less full-precision values and lines of drawings, a last bit of which may differ
    between machines; all that is read as text stays, in drawings too."""
    html = re.sub(r' data-value="[^"]*"', "", html)
    return re.sub(r"<svg.*?</svg>", lambda svg: "|".join(_texts(svg[0])), html, flags=re.DOTALL)


def _texts(svg: str) -> list[str]:
    return re.findall(r">([^<>]+)<", svg)


@pytest.mark.parametrize(
    "questions", [12, pytest.param(40, marks=pytest.mark.wide("more questions of the same kind"))]
)
@pytest.mark.parametrize("slug", SLUGS)
def test_the_browser_says_what_python_at_the_desk_says(
    within: Page, site: object, slug: str, questions: int
) -> None:
    """Equal inputs give the same answer, to the last digit shown, in CPython and Pyodide; so
    many questions, and more where few of them have an answer."""
    chance = random.Random(slug)
    answered = 0
    for number in range(40):
        if number >= questions and answered >= 3:
            break
        question = {
            "ask": "answer",
            "form": slug,
            "typed": {} if number == 0 else typed(BY_SLUG[slug], chance),
            "system": chance.choice(units.SYSTEMS),
            "car": None,
        }
        for what in ("answer", "doubts", "figures"):
            question["ask"] = what
            here = json.loads(live.answer(json.dumps(question)))
            there = ask(within, **question)
            for reply in (here, there):
                reply["html"] = without_last_bits(reply["html"])
            assert there == here, question
        answered += bool(here["html"])  # only an answer has figures
    assert answered >= 3


def test_figures_are_those_of_the_question_not_of_the_last_answer() -> None:
    """Whether another question came between or none before."""

    def ask(what: str, pitch: str) -> str:
        form = {"form": "collar-turns", "typed": {"pitch": pitch}, "car": None}
        question = {"ask": what, **form, "system": units.METRIC}
        html: str = json.loads(live.answer(json.dumps(question)))["html"]
        return html

    ask("answer", "1")
    one = ask("figures", "1")
    other = ask("figures", "0.8")
    assert "1.00" in one and "0.80" in other
    ask("answer", "0.8")
    assert (ask("figures", "0.8"), ask("figures", "1")) == (other, one)


@pytest.mark.parametrize("form", FORMS, ids=SLUGS)
def test_every_form_keeps_what_the_page_promises(page: Page, site: object, form: Form) -> None:
    """Form and answer panel by id, a named input for each field, a value for each quantity."""
    opened(page, site.url, form.slug)
    assert page.locator(f'form[id="{form.slug}"]').count() == 1
    names = {name for entry, name, _ in form.cells() if getattr(entry, "every", True)}
    there = page.locator(f'form[id="{form.slug}"] input').evaluate_all(
        "(inputs) => inputs.map((input) => input.name)"
    )
    assert names <= set(there)
    answer = run(form, {}, Car()).answer
    assert answer is not None
    for quantity in answer.quantities:
        shown = page.locator(f'[id="{form.slug}-answer"] [data-quantity="{quantity.name}"]')
        expect(shown).to_have_text(quantity_text(quantity, units.METRIC))
        unit = units.unit_of(quantity.kind, units.METRIC)
        assert shown.get_attribute("data-unit") == unit.symbol
        value = float(shown.get_attribute("data-value") or "nan")
        assert unit.to_si(value) == pytest.approx(quantity.value, rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "nothing was entered"),
        ("about two", "is not a number"),
        ("9", "is not possible here"),
        ("-3", "is not possible here"),
        ("10^400", "is not a unit known here"),
        ("1e400", "too large"),
        ("NaN", "is not a number"),
        ("\U0001f642", "is not a number"),
    ],
)
def test_wrong_input_gets_a_sentence_at_its_field(
    page: Page, site: object, text: str, says: str
) -> None:
    """No number comes of nonsense; the other answers stay; the right value brings it back."""
    beside = page.locator("#spring-preload-answer")
    beside.evaluate("(panel) => (panel.innerHTML = '')")  # the next is this visit's answer
    opened(page, site.url, "spring-preload")
    expect(page.locator("#spring-preload-plot-0 .reads")).not_to_be_empty()
    expect(beside.locator(".now .give")).to_contain_text("Give or take")
    other = beside.inner_html()
    opened(page, site.url, "collar-turns")
    pitch = field(page, "collar-turns", "pitch")
    trial(pitch, text)
    error = page.locator('[id="collar-turns-pitch-error"]')
    expect(error).to_contain_text(says)
    expect(error).to_contain_text("usual")
    expect(pitch).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#collar-turns-answer [data-quantity]")).to_have_count(0)
    assert beside.inner_html() == other
    trial(pitch, "1")
    expect(page.locator('#collar-turns-answer [data-quantity="turns"]')).to_have_text(
        re.compile(r"^1\.01\s")  # 1.5 mm x 0.65 / 1 mm, / 0.965 for the growing ratio
    )
    expect(error).to_have_count(0)
    page.locator('[data-page="collar-turns"] [data-do="reset"]').click()


def test_an_unusual_number_is_asked_about_at_its_field_and_led_to_from_the_card(
    page: Page, site: object
) -> None:
    """Quietly: it is answered all the same."""
    opened(page, site.url, "collar-turns")
    wanted = field(page, "collar-turns", "wanted_height")
    trial(wanted, "2")
    asks = page.locator("#collar-turns .odd")
    expect(asks).to_contain_text("is unusual; usual is 4 to 60")
    expect(wanted).to_have_attribute("aria-describedby", re.compile(r"wanted_height-error"))
    expect(wanted).not_to_have_attribute("aria-invalid", "true")
    card = page.locator("#collar-turns-answer .now")
    expect(card.locator(".found")).not_to_have_count(0)
    expect(card.locator('[data-field="wanted_height"]')).to_have_text("Ride height wanted")
    trial(wanted, "24")
    expect(asks).to_have_count(0)
    page.locator('[data-page="collar-turns"] [data-do="reset"]').click()


def test_a_number_far_from_what_is_usual_is_asked_about_first_and_nothing_is_done(
    page: Page, site: object
) -> None:
    opened(page, site.url, "collar-turns")
    wanted = field(page, "collar-turns", "wanted_height")
    card = page.locator("#collar-turns-answer .now")
    done = card.locator("[data-do=done]")
    trial(wanted, "190")
    expect(card.locator(".stop").first).to_contain_text("190\u00a0mm is far from what is usual")
    expect(card.locator(".stop a").first).to_have_text("Ride height wanted")
    expect(card.locator(".step")).to_have_count(0)
    expect(done).to_have_count(0)
    expect(page.locator("#collar-turns .odd")).to_contain_text("is unusual")
    trial(wanted, "190 mm")
    expect(card.locator(".step")).not_to_have_count(0)
    expect(done).to_be_visible()
    page.locator('[data-page="collar-turns"] [data-do="reset"]').click()


def test_where_not_even_the_way_is_sure_nothing_is_done_yet(page: Page, site: object) -> None:
    opened(page, site.url, "collar-turns")
    card = page.locator("#collar-turns-answer .now")
    trial(field(page, "collar-turns", "ride_height"), "22 ± 1")
    trial(field(page, "collar-turns", "wanted_height"), "22.4")
    expect(card.locator(".give")).to_contain_text("Measure again first")
    expect(card.locator("[data-do=done]")).to_be_hidden()
    trial(field(page, "collar-turns", "wanted_height"), "24")
    expect(card.locator(".give")).not_to_contain_text("Measure again first")
    expect(card.locator("[data-do=done]")).to_be_visible()
    page.locator('[data-page="collar-turns"] [data-do="reset"]').click()


def test_comma_and_point_are_one(page: Page, site: object) -> None:
    opened(page, site.url, "collar-turns")
    answers = []
    for text in ("23.75", "23,75"):
        trial(field(page, "collar-turns", "wanted_height"), text)
        expect(page.locator("#collar-turns-answer .step").first).to_contain_text("1 1/2")
        expect(page.locator("#collar-turns-answer .now .give")).to_contain_text("Give or take")
        expect(page.locator("#collar-turns-answer .coming")).to_have_count(0)
        answers.append(page.locator("#collar-turns-answer").inner_text())
    assert answers[0] == answers[1]
    page.locator('[data-page="collar-turns"] [data-do="reset"]').click()


def test_what_was_typed_survives_a_reload_and_a_change_of_units(
    visitor: Visitor, site: object
) -> None:
    page = visitor().new_page()
    opened(page, site.url, "collar-turns")
    trial(field(page, "collar-turns", "wanted_height"), "25,4")
    touch(field(page, "collar-turns", "axle").nth(1))
    expect(page.locator("#collar-turns-answer .step").first).to_contain_text("2 turns down")
    choose_units(page, "imperial")
    expect(field(page, "collar-turns", "wanted_height")).to_have_value("1")
    expect(page.locator('#collar-turns-answer [data-quantity="turns"]')).to_contain_text("2.12")
    page.reload()
    opened(page, site.url, "collar-turns")
    expect(field(page, "collar-turns", "wanted_height")).to_have_value("1")
    expect(field(page, "collar-turns", "axle").nth(1)).to_be_checked()
    expect(page.locator("html")).to_have_attribute("data-system", "imperial")
    expect(page.locator("#collar-turns-answer .step").first).to_contain_text("2 turns down")


def test_the_car_takes_over_what_was_done_and_gives_it_back(visitor: Visitor, site: object) -> None:
    page = visitor().new_page()
    opened(page, site.url, "collar-turns")
    expect(page.locator("#engine-state")).to_contain_text("demo car")
    page.locator('#collar-turns-answer [data-do="done"]').click()
    expect(page.locator("#collar-turns-answer .carried")).to_be_visible()
    answer = run(BY_SLUG["collar-turns"], {}, Car()).answer
    car = carried_out(Car(), done(answer, Car(), 1.0, "collar-turns"))
    predicted = car.origins["front.ride_height"]
    height = entry_text(car.front.ride_height, "length", u=predicted.u)
    expect(field(page, "collar-turns", "ride_height")).to_have_value(height)
    expect(page.locator("#collar-turns-answer .step").first).to_contain_text("Done at")
    expect(page.locator("#engine-state")).to_contain_text("demo car")  # played with, still invented
    page.reload()
    opened(page, site.url, "car")
    expect(field(page, "car", "corner.front_left.collar")).to_have_value("1.25")
    opened(page, site.url, "collar-turns")
    trial(field(page, "collar-turns", "pitch"), "1")
    page.locator('#collar-turns-answer [data-do="keep"]').click()
    expect(field(page, "collar-turns", "pitch")).to_have_value("1")
    page.locator('#notice [data-do="undo"]').click()
    offer = page.locator('#collar-turns-answer .offer:has([data-do="keep"])')
    expect(offer).to_contain_text("Thread pitch")


def test_rows_grow_with_what_is_entered_and_come_back(visitor: Visitor, site: object) -> None:
    page = visitor().new_page()
    opened(page, site.url, "oil-blend")
    touch(page.locator('form[id="oil-blend"] [name="task"][value="made"]'))
    trial(field(page, "oil-blend", "oils.3.viscosity"), "800")
    expect(page.locator('[id="oil-blend-oils.3.amount-error"]')).to_contain_text("this row needs")
    trial(field(page, "oil-blend", "oils.3.amount"), "5")
    expect(page.locator("#oil-blend-answer .step").first).to_contain_text("430 cSt")
    expect(page.locator('form[id="oil-blend"] [name="oils.4.amount"]')).to_have_count(1)
    page.reload()
    opened(page, site.url, "oil-blend")
    expect(field(page, "oil-blend", "oils.3.amount")).to_have_value("5")
    expect(page.locator("#oil-blend-answer .step").first).to_contain_text("430 cSt")


@pytest.fixture
def scripts_off(browser: Browser) -> Iterator[Page]:
    with visiting(browser, java_script_enabled=False) as context:
        yield context.new_page()


def test_with_scripts_off_every_page_shows_a_true_answer(scripts_off: Page, site: object) -> None:
    scripts_off.goto(site.url)
    for form in FORMS:
        reply = run(form, {}, Car())
        assert reply.answer is not None
        panel = scripts_off.locator(f'[id="{form.slug}-answer"]')
        expect(panel.locator(".step strong").first).to_have_text(reply.answer.steps[0].text)
    expect(scripts_off.get_by_text("Scripts are off")).to_be_visible()


def test_nothing_runs_over_the_edge(page: Page, site: object) -> None:
    """No page scrolls sideways, and what is meant for a thumb is at least 44 px high."""
    for name in [*SLUGS, "log", "setups", "cars", "all", "sheet", "help"]:
        opened(page, site.url, name)
        for width in (360, 768, 1280):
            page.set_viewport_size({"width": width, "height": 800})
            wider = page.evaluate("document.documentElement.scrollWidth - innerWidth")
            assert wider <= 0, (name, width, wider)
            small = page.locator(
                f'[data-page="{name}"] :is(button, .input, .options label, summary):visible'
            ).evaluate_all(
                "(parts) => parts.filter((p) => p.checkVisibility()"
                " && p.getBoundingClientRect().height < 44).map((p) => p.outerHTML)"
            )
            assert small == [], (name, width)
