"""Guides: one for every form, every drawing used, no dead link, and true to the code."""

import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from calc import units
from calc.asking.entry import Number, Rows
from calc.asking.typed import NotANumber, parse
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.model.car import Car
from calc.replying.form import Form
from calc.replying.reading import run
from site_src.pages import guide
from site_src.pages import words as words_of_trade
from site_src.pages.drawing import DRAWINGS

OTHERS = {"reading-answers", "units-and-weights", "safety", "offline"}
SLUGS = guide.slugs()


def words(html: str) -> str:
    """The text of a guide as a reader sees it, on one line."""
    pieces: list[str] = []

    class Reader(HTMLParser):
        def handle_data(self, data: str) -> None:
            pieces.append(data)

    Reader().feed(html)
    return " ".join(" ".join(pieces).split())


def drawings_in(slug: str) -> list[str]:
    return re.findall(r"\]\(drawing:([a-z-]+)\)", (guide.GUIDES / f"{slug}.md").read_text("utf-8"))


def test_every_form_has_a_guide_and_so_has_every_common_subject() -> None:
    assert set(BY_SLUG) | OTHERS <= set(SLUGS)


def test_guides_of_the_forms_come_first_in_the_order_of_the_job() -> None:
    assert SLUGS[: len(FORMS)] == tuple(form.slug for form in FORMS)


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_a_guide_bears_the_title_of_its_form_and_shows_how_to_measure(form: Form) -> None:
    assert guide.title(form.slug) == form.title
    assert drawings_in(form.slug)
    shown = words(guide.html(form.slug))
    for part in ("Common mistakes", "not know", "Every entry"):
        assert part in shown
    heads = re.findall(r"<h2[^>]*>(.*?)</h2>", guide.html(form.slug))
    for part in ("What it", "[Ww]hy", "Measure"):
        assert any(re.search(part, head) for head in heads), part


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_a_guide_says_its_cautions_where_the_hand_is(form: Form) -> None:
    """Every form leads to work with springs, oil, tools or a car on the stand."""
    (*cautions,) = re.findall(r"<p><strong>Caution\.</strong>.*?</p>", guide.html(form.slug), re.S)
    assert cautions
    assert any("safety.html" in caution for caution in cautions)


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_a_guide_lists_every_entry_of_its_form(form: Form) -> None:
    shown = words(guide.html(form.slug))
    for field in form.fields:
        for entry in field.columns if isinstance(field, Rows) else (field,):
            assert entry.label in shown
            assert " ".join(entry.measure.split()) in shown
            if isinstance(entry, Number):
                assert entry.range_text(units.IMPERIAL, "usual") in shown


@pytest.mark.parametrize("slug", SLUGS)
def test_a_guide_is_whole(slug: str) -> None:
    html = guide.html(slug)
    assert "drawing:" not in html and "{" not in html, "something was left as it was written"
    assert "style=" not in html and "<script" not in html  # the content security policy
    assert html.count("<h1>") == 1 and html.startswith("<h1>")
    # HTML of Markdown is well-formed XML too; a broken tag would swallow the rest of the page.
    root = ElementTree.fromstring(f"<main>{html.replace('&nbsp;', ' ')}</main>")
    names = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(names) == len(set(names)), "a drawing stands in it twice"
    assert len(root.findall(".//figure")) == len(drawings_in(slug))


@pytest.mark.parametrize("slug", SLUGS)
def test_links_lead_to_guides_that_exist(slug: str) -> None:
    for target in re.findall(r'href="([^"]*)"', guide.html(slug)):
        page, _, place = target.partition("#")
        assert page.removesuffix(".html") in SLUGS
        assert not place or f' id="{place}"' in guide.html(page.removesuffix(".html"))


def test_words_are_linked_where_they_stand_first() -> None:
    """Whole words, whatever their case, once each; not in headings, links, code or drawings."""
    targets = {"rate": "#rate", "wheel rate": "#wheel-rate"}
    html = (
        '<div><h2>Rate</h2><p title="rate">Rates. <code>rate</code> <a href="x">rate</a> '
        "pirate, wheel rate, Rate, rate</p></div>"
    )
    root = ElementTree.fromstring(html)
    words_of_trade.link(root, targets)
    assert ElementTree.tostring(root, "unicode") == html.replace(
        "wheel rate, Rate,",
        '<a href="#wheel-rate">wheel rate</a>, <a href="#rate">Rate</a>,',
    )


def test_words_that_the_forms_use_are_explained() -> None:
    """The trade's words in the labels of fields."""
    explained = set(words_of_trade.places(words_of_trade.written("en")))
    trade = """arm pivot; bore; collar; cross weight; damper; damping ratio; end coils;
        first touch; free length; full droop; hole; lower mount; measuring point; motion ratio;
        piston; play of the piston; preload; rate; rebound; ride height; rod end; sag; seal; shaft;
        shaft speed; solid length; stroke; thread pitch; tyre rate; unsprung mass; upper mount;
        viscosity; wheelbase; active coils"""
    labels = " ".join(
        entry.label
        for form in FORMS
        for field in form.fields
        for entry in (field, *(field.columns if isinstance(field, Rows) else ()))
    )
    for word in trade.split(";"):
        one = " ".join(word.split())
        assert one in explained
        assert re.search(one, labels, re.IGNORECASE), "no form uses it any more"


def test_each_word_is_explained_once_and_shortly() -> None:
    html = guide.html("words")
    entries = re.findall(r'<dt id="([^"]+)">([^<]+)</dt>\s*<dd>(.*?)</dd>', html, re.S)
    assert len(entries) == html.count("<dt") >= 60
    for address, word, text in entries:
        assert address == words_of_trade.address(word)
        assert "/" not in word
        assert 1 <= len(re.findall(r"[.!?](?=\s|$)", text)) <= 3, word


def test_every_drawing_is_used_and_every_drawing_used_exists() -> None:
    used = {name for slug in SLUGS for name in drawings_in(slug)}
    assert used == set(DRAWINGS)


def test_a_drawing_that_does_not_exist_stops_the_build(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guide, "_text", lambda slug: "# Title\n\n![no](drawing:no-such)\n")
    with pytest.raises(KeyError):
        guide.html("anything")


@pytest.mark.parametrize("slug", SLUGS)
def test_sentences_are_short(slug: str) -> None:
    prose = re.sub(
        r"\{\w+\}|\[([^\]]*)\]\([^)]*\)", r"\1", (guide.GUIDES / f"{slug}.md").read_text("utf-8")
    )
    blocks = re.split(r"\n\s*\n|\n- |\n\d\. ", prose)
    sentences = [
        s for block in blocks for s in re.split(r"(?<=[.!?:])\s+", " ".join(block.split()))
    ]
    long = [s for s in sentences if len(s.split()) > 32]
    assert not long, "more than 32 words in one breath"


def test_examples_of_typing_are_understood_as_the_guide_says() -> None:
    assert Car().own_units("viscosity") == ()
    with pytest.raises(NotANumber, match="two lines"):
        parse("35 wt", "viscosity")
    assert pytest.approx(0.15) == 2 * units.WEIGHT_UNCERTAINTY
    assert parse("12,5", "length") == parse("12.5", "length")
    assert parse("¾", "turns").value == 0.75
    assert parse("12 ± 0.1", "length") == parse("12 +- 0.1", "length")
    assert parse("350 ± 5 %", "viscosity").u == pytest.approx(350e-6 * 0.025)
    with pytest.raises(NotANumber):
        parse("1,250", "turns")
    # Every unit that can be typed is named in the guide.
    shown = words(guide.html("units-and-weights"))
    for kind in units.KINDS.values():
        assert len(kind) == 1 or all(unit.symbol in shown for unit in kind)


def test_figures_in_the_oil_guide_are_those_of_the_form() -> None:
    """Half and half of two oils, as the guide tells it."""
    for thin, thick, low, high in (("350", "500", 417, 423), ("100", "1000", 282, 474)):
        typed = {"task": "made", "oils.1.viscosity": thin, "oils.2.viscosity": thick}
        typed |= {"oils.1.amount": "10", "oils.2.amount": "10"}
        answer = run(BY_SLUG["oil-blend"], typed, Car()).answer
        assert answer is not None
        found = [int(n) for n in re.findall(r"(\d+)\u00a0cSt", answer.steps[0].gives)]
        assert found == [low, high]
        assert f"{low} to {high} cSt" in words(guide.html("oil-blend"))
