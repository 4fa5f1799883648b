"""The answer panel in a browser: plots read where they are touched, folds that stay open."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from playwright.sync_api import CDPSession, Locator, Page, expect

from calc import units
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.model.car import Car
from calc.replying.reading import run
from tests.shown import half_a_digit, number
from tests.site.hands import HOLD_QUESTIONS, PATIENCE, Visitor, opened, plots_are_read, trial
from tests.site.hosting import Site

HINT = "Touch the plot to read it."


def plot_of(page: Page, address: str, slug: str) -> Locator:
    """The first plot of a form, live and in sight."""
    page.goto("about:blank")  # so that the answer on screen is the one asked for here
    opened(page, address, slug)
    plots_are_read(page)
    plot = page.locator(f'[id="{slug}-plot-0"]')
    plot.locator("svg").scroll_into_view_if_needed()
    return plot


def at(plot: Locator, share: float) -> tuple[float, float]:
    box = plot.locator("svg").bounding_box()
    assert box is not None
    return box["x"] + share * box["width"], box["y"] + box["height"] / 2


def reading(plot: Locator) -> dict[str, tuple[str, str]]:
    """What stands below: name -> number and unit."""
    expect(plot.locator(".reads b").first).to_be_visible()
    found = {}
    for part in plot.locator(".reads > span").all():
        value = part.locator("b").inner_text()
        name, _, unit = part.inner_text().rpartition(value)
        found[name.strip()] = (value, unit.strip())
    return found


def from_form(slug: str, quantity: str, field: str, **typed: str) -> Callable[[str], float]:
    """The form itself asked at that very place, in the unit shown; `quantity` may name several, of
    which an answer has one."""

    def ask(place: str) -> float:
        answer = run(BY_SLUG[slug], {**typed, field: place.replace("−", "-")}, Car()).answer
        assert answer is not None
        found = next(one for one in answer.quantities if one.name in quantity.split())
        return units.unit_of(found.kind, units.METRIC).from_si(found.value)

    return ask


def as_decimal(ask: Callable[[str], float]) -> Callable[[str], float]:
    return lambda place: ask(f"{number(place):g}")


PROMISES = [
    # The log law (Arrhenius): the mean of the logarithms.
    ("oil-blend", "log rule", lambda s: 300 ** (1 - number(s) / 100) * 500 ** (number(s) / 100)),
    # Hooke: 0.65 N/mm, 1.5 mm preload; 292 g at the wheel through a motion ratio of 0.65.
    ("spring-preload", "spring", lambda x: 0.65 * (number(x) + 1.5)),
    ("spring-preload", "static load", lambda x: 0.292 * 9.80665 / 0.65),
    ("collar-turns", "front", as_decimal(
        from_form("collar-turns", "height_after", "turns", ask="height"))),
    ("oil-temperature", "it has", from_form("oil-temperature", "viscosity_now", "now")),
    ("piston-oil", "rebound", from_form(
        "piston-oil", "fast_force_rebound fast_force", "fast", slow="1")),
]  # fmt: skip


@pytest.mark.parametrize(
    ("slug", "curve", "truth"), PROMISES, ids=[f"{slug}, {curve}" for slug, curve, _ in PROMISES]
)
def test_what_is_read_is_what_python_works_out(
    page: Page, site: Site, slug: str, curve: str, truth: Callable[[str], float]
) -> None:
    plot = plot_of(page, site.url, slug)
    for share in (0.22, 0.48, 0.61, 0.93):
        page.mouse.move(*at(plot, share))
        found = reading(plot)
        (place, _), (value, unit) = next(iter(found.values())), found[curve]
        assert number(value) == pytest.approx(truth(place), abs=half_a_digit(value) * 1.001)
        assert (
            unit
            == units.unit_of(
                {"cSt": "viscosity", "N": "force", "mm": "length"}[unit], units.METRIC
            ).symbol
        )
        ring = plot.locator(".plot-here circle").first
        expect(ring).to_be_visible()


def test_reading_moves_nothing(page: Page, site: Site) -> None:
    """As high before as after, at every place, so that nothing jumps under the finger."""
    page.set_viewport_size({"width": 360, "height": 740})
    for slug in ("oil-blend", "spring-swap", "stroke"):
        plot = plot_of(page, site.url, slug)
        expect(plot.locator(".reads")).to_have_text(HINT)
        before = plot.evaluate("(plot) => plot.getBoundingClientRect().height")
        for share in (0.12, 0.5, 0.97):
            page.mouse.move(*at(plot, share))
            reading(plot)
            assert plot.evaluate("(plot) => plot.getBoundingClientRect().height") == before
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
    page.set_viewport_size({"width": 1280, "height": 720})


def test_a_new_answer_is_read_at_the_same_place(page: Page, site: Site) -> None:
    plot = plot_of(page, site.url, "spring-preload")
    page.mouse.move(*at(plot, 0.5))
    before = reading(plot)
    rate = page.locator('form[id="spring-preload"] [name="spring_rate"]')
    trial(rate, "0.7")
    expect(plot.locator(".reads")).not_to_contain_text(before["spring"][0])
    after = reading(plot)
    (place, _), (force, _) = after["Shaft travel from full droop"], after["spring"]
    assert place == before["Shaft travel from full droop"][0]
    assert number(force) == pytest.approx(0.7 * (number(place) + 1.5), abs=0.005001)
    page.locator('[data-page="spring-preload"] [data-do="reset"]').click()
    expect(plot.locator(".reads")).to_contain_text(before["spring"][0])


def test_arrow_keys_read_from_place_to_place(page: Page, site: Site) -> None:
    plot = plot_of(page, site.url, "spring-preload")
    slide = plot.get_by_role("slider", name="Read the plot: Spring force against shaft travel")
    slide.focus()
    first = number(reading(plot)["Shaft travel from full droop"][0])
    for key, moved in (("ArrowRight", 1.0), ("ArrowUp", 1.0), ("ArrowLeft", -1.0)):
        slide.press(key)
        there = number(reading(plot)["Shaft travel from full droop"][0])
        assert there - first == pytest.approx(moved)  # mm, by hand: 22 mm in steps of 1 mm
        first = there
    slide.press("End")
    assert reading(plot)["Shaft travel from full droop"][0] == "22"
    heard = slide.get_attribute("aria-valuetext") or ""
    assert "static load 4.41" in heard.replace(units.NBSP, " ")
    assert plot.locator(".readout").get_attribute("aria-live") == "off"


def test_a_finger_reads_sideways_and_scrolls_up_and_down(visitor: Visitor, site: Site) -> None:
    context = visitor()
    page = context.new_page()
    page.set_viewport_size({"width": 360, "height": 740})
    session = context.new_cdp_session(page)
    session.send("Emulation.setTouchEmulationEnabled", {"enabled": True})
    plot = plot_of(page, site.url, "oil-temperature")
    x, y = at(plot, 0.3)
    touch(session, "touchStart", x, y)
    read_first = reading(plot)
    for step in range(1, 6):
        touch(session, "touchMove", x + 20 * step, y)
    expect(plot.locator(".reads")).not_to_contain_text(read_first["it has"][0])
    touch(session, "touchEnd")
    stays = reading(plot)
    assert number(stays["Temperature"][0]) > number(read_first["Temperature"][0])
    before = page.evaluate("scrollY")
    touch(session, "touchStart", x, y)
    for step in range(1, 9):
        touch(session, "touchMove", x, y - 20 * step)
    touch(session, "touchEnd")
    moved = f"() => scrollY > {before} + 60"  # of 160, less a slop
    page.wait_for_function(moved, timeout=PATIENCE)


def touch(session: CDPSession, kind: str, x: float = 0.0, y: float = 0.0) -> None:
    points = [] if kind == "touchEnd" else [{"x": x, "y": y}]
    session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def test_what_is_unfolded_stays_so(page: Page, site: Site) -> None:
    plot_of(page, site.url, "collar-turns")
    panel = page.locator('[id="collar-turns-answer"]')
    working = panel.locator("details.working")
    main = panel.locator("dd.main").first
    expect(main).to_be_hidden()
    working.locator("summary").click()
    panel.locator("details.doubts summary").click()
    expect(main).to_be_visible()
    trial(page.locator('form[id="collar-turns"] [name="pitch"]'), "1")
    expect(working.locator("dd").first).to_contain_text("1.00")
    expect(working).to_have_attribute("open", "")
    expect(main).to_be_visible()
    panel.locator("details.doubts summary").click()
    working.locator("summary").click()
    page.locator('[data-page="collar-turns"] [data-do="reset"]').click()
    expect(working.locator("dd").first).to_contain_text("0.75")
    expect(main).to_be_hidden()


def test_the_words_of_an_answer_do_not_wait_for_its_figures(visitor: Visitor, site: Site) -> None:
    """Until those come the ones before stay; where there is no answer there are none."""
    page = visitor().new_page()
    plot = plot_of(page, site.url, "spring-preload")
    line = plot.locator(".plot-main").first
    step = page.locator("#spring-preload-answer .step").first
    before, words = line.get_attribute("d"), step.inner_text()
    page.evaluate(HOLD_QUESTIONS, "figures")
    rate = page.locator('#spring-preload [name="spring_rate"]')
    for asked, text in enumerate(("0.9", "0.8"), 1):
        trial(rate, text)
        expect(step).not_to_have_text(words)
        words = step.inner_text()
        page.wait_for_function("(asked) => window.held.length === asked", arg=asked)
    assert line.get_attribute("d") == before
    trial(rate, "none")
    expect(page.locator("#spring-preload-answer .problems")).to_be_visible()
    expect(page.locator("#spring-preload-answer .figures")).to_have_count(0)
    trial(rate, "0.7")
    expect(page.locator("#spring-preload-answer .figures")).to_be_empty()
    page.wait_for_function("() => window.held.length === 3")
    page.evaluate("() => window.held.forEach((go) => go())")
    expect(line).to_be_visible()
    after = line.get_attribute("d")
    trial(rate, "0.71")
    page.wait_for_function("() => window.held.length === 4")
    assert line.get_attribute("d") == after != before


def test_an_instruction_does_not_wait_for_the_doubt_of_its_figures(
    visitor: Visitor, site: Site
) -> None:
    """Until that is worked out the numbers of before stand there, in the same places; where there
    were none, the ± has its place. What is typed on makes the doubt of before void, and the work
    can be reported done meanwhile."""
    page = visitor().new_page()
    opened(page, site.url, "collar-turns")
    panel = page.locator("#collar-turns-answer")
    step, numbers = panel.locator(".step strong").first, panel.locator(".doubted")
    pitch, done = page.locator('#collar-turns [name="pitch"]'), panel.locator('[data-do="done"]')
    expect(numbers.locator("dd").first).to_contain_text("±")
    words, before = step.inner_text(), numbers.inner_text()
    page.evaluate(HOLD_QUESTIONS, "doubts")
    for asked, text in enumerate(("1.2", "0.5"), 1):
        trial(pitch, text)
        expect(step).not_to_have_text(words)
        words = step.inner_text()
        page.wait_for_function("(asked) => window.held.length === asked", arg=asked)
    expect(numbers).to_have_class("doubted coming")
    assert numbers.inner_text() == before
    expect(done).to_be_enabled()
    trial(pitch, "none")
    expect(numbers).to_have_count(0)
    trial(pitch, "0.6")
    expect(numbers.locator("dd").first).to_contain_text("± …")
    at_rest = numbers.locator("dd").first.bounding_box()
    page.wait_for_function("() => window.held.length === 3")
    page.evaluate("() => window.held.forEach((go) => go())")
    expect(numbers).to_have_class("doubted")
    expect(numbers.locator("dd").first).not_to_contain_text("…")
    now = numbers.locator("dd").first.bounding_box()
    assert at_rest is not None and now is not None and now["y"] == at_rest["y"]
    trial(pitch, "0.7")
    page.wait_for_function("() => window.held.length === 4")
    done.click()
    expect(panel.locator(".carried")).to_be_visible()


def test_no_relation_of_a_working_is_wider_than_a_phone(page: Page, site: Site) -> None:
    page.set_viewport_size({"width": 360, "height": 740})
    for form in FORMS:
        page.goto(f"{site.url}#{form.slug}")
        fold = page.locator(f'[id="{form.slug}-answer"] details.working')
        if not fold.count():
            assert form.slug == "car"  # a record is no sum
            continue
        fold.evaluate("(fold) => { fold.open = true; }")
        widths = fold.evaluate("(fold) => [fold.scrollWidth, fold.clientWidth]")
        assert widths[0] <= widths[1], form.slug
        fold.evaluate("(fold) => { fold.open = false; }")
    page.set_viewport_size({"width": 1280, "height": 720})


def test_ring_stands_where_the_scale_says(page: Page, site: Site) -> None:
    """At 22 mm the spring pushes 15.275 N: the ring's height read off the numbers of the axis."""
    plot = plot_of(page, site.url, "spring-preload")
    plot.get_by_role("slider").press("End")
    ring = float(plot.locator(".plot-here circle").first.get_attribute("cy") or "nan")
    marks = plot.locator(".plot-ticks text:not([text-anchor=middle])")
    scale = [
        (number(mark.text_content() or ""), float(mark.get_attribute("y") or "nan") - 4)
        for mark in marks.all()
    ]
    (low, foot), (high, top) = scale[0], scale[-1]
    assert math.isclose(foot + (15.275 - low) / (high - low) * (top - foot), ring, abs_tol=0.4)
