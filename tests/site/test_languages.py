"""The site in German and Spanish: every page, live answers, the choice of a language, paper."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from calc import units
from calc.forms.catalogue import FORMS
from calc.kept.log import Moment, turn
from calc.kept.log import to_json as entry_json
from calc.language import ENGLISH, NAMES, dictionary, speaking
from calc.model.car import Car, demo, from_json, to_json
from calc.model.corners import CORNERS
from calc.replying.reading import run
from site_src.both.fragment import answer_html, sheet_html
from site_src.both.garage import log_html
from site_src.both.paper.sizes import SIZES, Size
from site_src.build.packing import unpacked
from site_src.pages import guide, languages, script_texts
from tests.shown import whole
from tests.site.hands import (
    PATIENCE,
    Visitor,
    ask,
    at_rest,
    is_offline,
    live,
    settings,
    trial,
    visiting,
)
from tests.site.hosting import Site
from tests.site.sheets import holds

OTHERS = tuple(code for code in NAMES if code != ENGLISH)
each_language = pytest.mark.parametrize("code", OTHERS)


@pytest.fixture(scope="module")
def speakers(browser: Browser, site: Site) -> Iterator[dict[str, Page]]:
    """The page of each language, with its own Python up in it."""
    with visiting(browser, python="within") as context:
        pages = {}
        for code in OTHERS:
            pages[code] = context.new_page()
            pages[code].goto(f"{site.url}index.{code}.html")
            live(pages[code])
        yield pages


# What the build makes.


def test_every_page_is_there_in_every_language(dist: Path) -> None:
    plain = [p for p in dist.rglob("*.html") if "." not in p.stem]
    assert len(plain) > 25
    for path in plain:
        for code in OTHERS:
            assert path.with_suffix(f".{code}.html").exists(), path


def test_pages_say_their_language_and_where_the_others_are(dist: Path) -> None:
    for path in dist.rglob("*.html"):
        code = path.suffixes[0].removeprefix(".").replace("html", ENGLISH)
        text = path.read_text("utf-8")
        assert f'<html lang="{code}"' in text, path
        told = dict(re.findall(r'<link rel="alternate" hreflang="(\w+)" href="([^"]+)">', text))
        assert told.keys() == NAMES.keys()
        assert told[code] == path.name
        assert all((path.parent / name).exists() for name in told.values())


@each_language
def test_links_lead_on_in_the_language(dist: Path, code: str) -> None:
    for path in dist.rglob(f"*.{code}.html"):
        tags = re.findall(r"<a\b[^>]*>", path.read_text("utf-8"))
        own = " ".join(tag for tag in tags if "hreflang=" not in tag)
        pages = re.findall(r'href="([^"#:]+)\.html', own)
        assert pages
        assert all(name.endswith(f".{code}") for name in pages), path


@each_language
def test_a_guide_keeps_its_readers_in_their_language(
    monkeypatch: pytest.MonkeyPatch, code: str
) -> None:
    """Be the guide itself translated or not; the glossary's links too."""
    text = "# Title\n\nA damper. [Safety](safety.html#oil), [else](https://example.org/x.html)\n"
    real = guide._text
    monkeypatch.setattr(guide, "_text", lambda slug: text if slug == "new" else real(slug))
    with speaking(code):
        assert guide.language("new") == ENGLISH
        assert re.findall(r'href="([^"]*)"', guide.html("new")) == [
            f"words.{code}.html#damper",
            f"safety.{code}.html#oil",
            "https://example.org/x.html",
        ]


@each_language
def test_a_guide_that_is_not_translated_says_that_it_is_english(code: str) -> None:
    with speaking(code):
        assert {guide.language(slug) for slug in guide.slugs()} <= {code, ENGLISH}
        assert guide.language("no-such-guide") == ENGLISH
        for slug in guide.slugs():
            if guide.language(slug) == code:
                assert guide.title(slug) != _english_title(slug)


def _english_title(slug: str) -> str:
    with speaking(ENGLISH):
        return guide.title(slug)


@each_language
def test_the_page_brings_the_words_of_its_scripts_and_no_more(dist: Path, code: str) -> None:
    text = (dist / f"index.{code}.html").read_text("utf-8")
    ((brought),) = re.findall(r'<script type="application/json" id="words">(.*?)</script>', text)
    assert json.loads(brought).keys() == script_texts.in_scripts()
    assert 'id="words"' not in (dist / "index.html").read_text("utf-8")


@each_language
def test_python_gets_the_whole_dictionary_but_the_image_holds_none(dist: Path, code: str) -> None:
    (words,) = dist.glob(f"a-*/{code}.packed")
    known = {key: text for key, text in dictionary(code).items() if text}
    assert json.loads(unpacked(words.read_bytes())) == known
    image = unpacked(next(dist.glob("a-*/image.packed")).read_bytes())
    longest = max(known.values(), key=len)
    assert longest.encode() not in image and longest.encode("utf-16-le") not in image


# Live.


def said(answer: str) -> tuple[list[str], set[str]]:
    """The instructions, and all other words: another C library has other last digits."""
    return re.findall(r'<p class="step.*', answer), set(re.findall(r"[^\W\d_]{2,}", answer))


def whole_answer(page: Page, slug: str) -> str:
    """The words of an answer, then its doubts and figures in their places."""
    asked = {"form": slug, "typed": {}, "car": None, "system": "metric"}
    words, *parts = (
        ask(page, ask=what, **asked)["html"] for what in ("answer", "doubts", "figures")
    )
    return whole(words, *parts)


@each_language
def test_every_form_answers_as_at_the_desk(speakers: dict[str, Page], code: str) -> None:
    for form in FORMS:
        reply = whole_answer(speakers[code], form.slug)
        with speaking(code):
            desk = answer_html(form, run(form, {}, demo()), units.METRIC)
        assert said(reply) == said(desk)
        assert said(desk)[0]


@each_language
def test_log_and_sheet_are_in_the_language(speakers: dict[str, Page], code: str) -> None:
    page, at = speakers[code], Moment("1", "2", 1e9, 3600.0)
    car, entry = turn(Car(), at, CORNERS[0], 0.25, "")
    more = {"car": to_json(car), "system": "metric"}
    lines = ask(page, ask="log", entries=[entry_json(entry)], now=1e9, zone=0.0, **more)
    build = {"name.front_left": "A", "read.stroke.front_left": "22"}
    day = "2031-05-24"
    paper = {"made": "", "blocks": None, "build": build, "address": "", "today": day}
    sheets = {
        size: ask(page, ask="sheet", size=size, **paper, **more)["html"]
        for size in ("one", "build")
    }
    with speaking(code):
        car = from_json(to_json(car))
        assert lines == vars(log_html(car, [entry], 1e9, 0.0, units.METRIC))
        for size, html in sheets.items():
            assert html == sheet_html(car, units.METRIC, "", size=size, build=build, today=day)


@cache
def english_texts(code: str) -> list[tuple[str, re.Pattern[str]]]:
    """Every text of more than twelve letters that is not the same in the language: the longest
    piece of it between its parts, and all of it."""
    known = dictionary(code)
    found = []
    for key in known:
        text = re.sub(r" \([^()]*\)$", "", key) if key not in known.values() else key
        pieces = re.split(r"\{\w+\}", text)
        longest = max(pieces, key=len)
        if known[key] != key and len(longest) > 12 and " " in text:
            whole = ".{1,60}?".join(map(re.escape, pieces))
            found.append((longest, re.compile(rf"(?<!\w){whole}(?!\w)")))
    return found


def no_english(text: str, code: str) -> None:
    text = re.sub(r"<script.*?</script>", "", text, flags=re.DOTALL)
    text = re.sub(r'<(?!html)(\w+)[^>]* lang="en"[^>]*>.*?</\1>', "", text, flags=re.DOTALL)
    text = re.sub(r"\s+", " ", html.unescape(text))
    texts = english_texts(code)
    assert [piece for piece, whole in texts if piece in text and whole.search(text)] == []


@each_language
def test_no_english_sentence_is_left(speakers: dict[str, Page], dist: Path, code: str) -> None:
    page = speakers[code]
    no_english((dist / f"index.{code}.html").read_text("utf-8"), code)
    for slug in [form.slug for form in FORMS] + ["log", "setups", "cars", "sheet"]:
        page.evaluate(f"location.hash = '{slug}'")
        expect(page.locator(f'[data-page="{slug}"].open')).to_be_visible()
    expect(page.locator("#sheet-paper .piece").first).to_be_visible(timeout=PATIENCE)
    no_english(page.locator("html").evaluate("(root) => root.outerHTML"), code)


@each_language
def test_no_other_page_has_an_english_sentence(dist: Path, code: str) -> None:
    for path in dist.rglob(f"*.{code}.html"):
        if "licences" not in path.name:
            no_english(path.read_text("utf-8"), code)
    with pytest.raises(AssertionError):
        no_english((dist / "sheets.html").read_text("utf-8"), code)


@each_language
def test_numbers_are_written_as_the_language_writes_them(
    speakers: dict[str, Page], code: str
) -> None:
    """Decimal comma, a space before %: Unicode CLDR, German and Spanish; from memory."""
    page = speakers[code]
    page.evaluate("location.hash = 'collar-turns'")
    expect(page.locator('[id="collar-turns-pitch"]')).to_have_value("0,75")
    text = page.locator('[id="collar-turns-answer"]').inner_text()
    assert re.search(r"\d,\d", text) and not re.search(r"\d\.\d", text)
    page.evaluate("location.hash = 'corner-loads'")
    loads = page.locator('[id="corner-loads-answer"]')
    expect(loads).to_contain_text(re.compile(r"\d,\d+[\u00a0 ]%"))
    page.evaluate("location.hash = 'collar-turns'")
    unit = page.locator('[id="collar-turns"] .field > i', has_text=re.compile("Umdr|vuelta"))
    expect(unit.first).to_be_attached()


# Choosing.


def test_a_language_is_chosen_and_remembered(own_site: Site, visitor: Visitor) -> None:
    page = at_rest(visitor().new_page(), own_site.url, "stroke")
    expect(page.locator("[data-offer]:visible")).to_have_count(0)
    settings(page).locator(".languages [hreflang=de]").click()
    expect(page).to_have_url(re.compile(r"/index\.de\.html#stroke"))
    expect(page.locator("#stroke-title")).to_have_text("Hub")
    for start in ("", "index.html", "?from=pit"):
        page.goto("about:blank")
        page.goto(f"{own_site.url}{start}#log")
        expect(page.locator("#log-title")).to_have_text("Stellring-Protokoll")
        expect(page).to_have_url(re.compile(r"/index\.de\.html.*#log$"))
    settings(page).locator(".languages [hreflang=en]").click()
    expect(page.locator("#log-title")).to_have_text("Collar log")
    page.goto(f"{own_site.url}index.de.html")
    expect(page).to_have_url(f"{own_site.url}index.html")


@each_language
def test_the_language_of_the_device_is_offered_until_one_is_chosen(
    browser: Browser, site: Site, code: str
) -> None:
    with visiting(browser, locale=f"{code}-{code.upper()}") as context:
        page = at_rest(context.new_page(), site.url, "stroke")
        offer = page.locator("[data-offer]:visible")
        expect(offer).to_have_text(languages.OFFERS[code])
        assert offer.locator("a").get_attribute("lang") == code
        offer.locator("a").click()
        expect(page).to_have_url(re.compile(rf"/index\.{code}\.html#stroke"))
        expect(page.locator("[data-offer]:visible")).to_have_count(0)
        settings(page).locator(".languages [hreflang=en]").click()
        expect(page).to_have_url(re.compile(r"/index\.html#stroke"))
        expect(page.locator("[data-offer]:visible")).to_have_count(0)


# Starting.


def test_it_starts_without_a_network_in_german(same_site: Site, owner: Page) -> None:
    page = owner
    page.goto(f"{same_site.url}index.de.html")
    is_offline(page, "safe")
    same_site.stop()
    page.goto(f"{same_site.url}guides/safety.de.html")
    expect(page.locator("h1")).to_have_text("Sicherheit")
    page.goto(f"{same_site.url}index.de.html#oil-blend")
    live(page)
    expect(page.locator("#offline-state")).to_contain_text("Bereit für die Strecke")
    trial(page.locator("#oil-blend [name=thin]"), "350")
    expect(page.locator("#oil-blend-answer .step").first).to_contain_text("350")
    expect(page.locator("#oil-blend-answer .step").first).to_contain_text("Mischen: ")
    same_site.start()


def test_the_slow_way_speaks_the_language_too(own_site: Site, visitor: Visitor) -> None:
    own_site.server.broken.add("image.packed")
    page = visitor(python="within").new_page()
    page.goto(f"{own_site.url}index.es.html#stroke")
    live(page)
    expect(page.locator("html")).to_have_attribute("data-boot", "stock")
    (form,) = (form for form in FORMS if form.slug == "stroke")
    reply = whole_answer(page, "stroke")
    with speaking("es"):
        desk = answer_html(form, run(form, {}, demo()), units.METRIC)
    assert said(reply) == said(desk)


def test_without_its_words_it_answers_in_english(own_site: Site, visitor: Visitor) -> None:
    own_site.server.broken.add("de.packed")
    page = visitor(python="within").new_page()
    page.goto(f"{own_site.url}index.de.html#oil-blend")
    live(page)
    expect(page.locator("#oil-blend-answer .step").first).to_contain_text("Mix ")


# Paper.


@each_language
@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.key)
def test_the_sheet_fits_or_says_what_it_leaves_out(blank: Page, code: str, size: Size) -> None:
    with speaking(code):
        made = holds(blank, demo(), units.METRIC, size)
        shown = sheet_html(demo(), units.METRIC, "", size=size.key)
        assert bool(made.dropped) == (made.warning() != "")
        assert all(title in html.unescape(shown) for title in made.dropped)
