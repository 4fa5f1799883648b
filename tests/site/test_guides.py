"""Guides: one for every form, every drawing used, no dead link, and true to the code."""

import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest

from calc import units
from calc.car import Car, WeightScale
from calc.catalogue import BY_SLUG, FORMS
from calc.entry import Number, Rows
from calc.form import Form
from calc.reading import run
from calc.typed import NotANumber, parse
from site_src import guide
from site_src.drawing import DRAWINGS

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
        assert target.removesuffix(".html") in SLUGS


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
    scale = Car().weight_scale
    assert scale == WeightScale(slope=15, offset=-100)
    wt = units.weight_unit(scale.slope, scale.offset)
    assert parse("35 wt", "viscosity", extra=(wt,)).value == pytest.approx(425e-6)
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
    for thin, thick, low, high in (("350", "500", 417, 421), ("100", "1000", 282, 392)):
        typed = {"task": "made", "oils.1.viscosity": thin, "oils.2.viscosity": thick}
        typed |= {"oils.1.amount": "10", "oils.2.amount": "10"}
        answer = run(BY_SLUG["oil-blend"], typed, Car()).answer
        assert answer is not None
        found = [int(n) for n in re.findall(r"(\d+)\u00a0cSt", answer.steps[0].gives)]
        assert found == [low, high]
        assert f"{low} to {high} cSt" in words(guide.html("oil-blend"))
