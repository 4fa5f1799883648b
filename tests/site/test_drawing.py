"""Drawings: each one well-formed, said in words too, nothing over an edge or another text."""

import pytest
from playwright.sync_api import Browser

from calc.forms.catalogue import FORMS
from calc.language import NAMES, speaking
from calc.replying.form import Form
from site_src.pages.drawing import DRAWINGS, draw
from site_src.pages.drawings.hand import WIDTH
from site_src.pages.drawings.shown import shown
from tests.site.pictures import SVG, lines, measured_in, read, view


@pytest.mark.parametrize("name", DRAWINGS)
def test_each_drawing_keeps_the_promises_of_a_picture(name: str) -> None:
    root = read(draw(name).svg)
    width, height = view(root)
    assert width == WIDTH and 120 <= height <= 300  # fits under a paragraph on a phone
    title, says = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None and title.text == DRAWINGS[name]().title
    assert says is not None and (says.text or "").endswith(".")
    assert len(says.text or "") > 80, "the words have to do for somebody who sees no picture"
    assert not [line for line in lines(root) if line.left < 0 or line.right > width]


@pytest.mark.parametrize("language", NAMES)
def test_a_browser_of_a_small_phone_finds_nothing_over_anything(
    browser: Browser, language: str
) -> None:
    with speaking(language):
        drawn = [draw(name).svg for name in DRAWINGS]
    assert not measured_in(browser, drawn, WIDTH)


def test_text_is_large_enough_to_read_on_a_small_phone() -> None:
    sizes = [
        float(element.get("font-size", "12"))
        for name in DRAWINGS
        for element in read(draw(name).svg).iter()
        if element.get("font-size") or element.tag == f"{SVG}text"
    ]
    assert min(sizes) >= 12  # px at a width of 320: 12 px is the least (common practice, no source)


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_a_drawing_of_a_form_is_that_of_one_of_its_fields(form: Form) -> None:
    names = {name.rpartition(".")[2] for _, name, _ in form.cells()}
    assert form.drawings.keys() <= names
    for field, drawing in form.drawings.items():
        assert shown(form.slug, field) == drawing
        assert not drawing or drawing in DRAWINGS


def test_ids_of_all_drawings_together_are_unique() -> None:
    ids = [e.get("id") for name in DRAWINGS for e in read(draw(name).svg).iter() if e.get("id")]
    assert len(ids) == len(set(ids)) == 2 * len(DRAWINGS)


def test_an_unknown_name_is_an_error() -> None:
    with pytest.raises(KeyError):
        draw("no-such-drawing")
