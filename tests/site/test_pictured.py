"""Answers in a page that is not live yet: pictures in files, and no control that does nothing."""

import html
from xml.etree import ElementTree

import pytest

from calc import units
from calc.forms.catalogue import FORMS
from calc.language import speaking
from calc.model.car import Car
from calc.replying.form import Form
from calc.replying.reading import run
from site_src.both import above
from site_src.both.fragment import answer_html
from site_src.pages import pictured, tree

ONLY_LIVE = {"slide", "readout", "offer", "as-table"}


def classes(answer: str) -> set[str]:
    return {name for one in tree.read(answer).iter() for name in one.get("class").split()}


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_an_answer_at_rest_says_the_same_without_controls(form: Form) -> None:
    reply = run(form, {}, Car())
    assert reply.answer is not None
    album = pictured.Album(form.slug)
    live = answer_html(form, reply, units.METRIC)
    rest = answer_html(form, reply, units.METRIC, at_rest=album.show)
    corners = [above.draw(reply.answer.above, "")] if reply.answer.above else []
    shown = [*corners, *reply.answer.plots, *reply.answer.drawings]
    assert [one.picture.title for one in album.pictures] == [one.title for one in shown]
    images = list(tree.read(rest).iter("img"))
    assert [(image.get("src"), image.get("alt")) for image in images] == [
        (f"drawings/{form.slug}-{number}.svg", f"{one.title}. {one.says}")
        for number, one in enumerate(shown)
    ]
    for one in album.pictures:
        assert one.picture.svg in live and one.picture.svg not in rest
        root = ElementTree.fromstring(one.picture.svg)
        assert root.get("width") == str(one.picture.width)
        assert root.get("height") == str(one.picture.height)
    assert not classes(rest) & ONLY_LIVE
    assert ("slide" in classes(live)) == bool(reply.answer.plots)
    notes = bool(reply.answer.writes or reply.answer.poured or reply.answer.measured)
    assert ("noted" in classes(live)) == notes
    assert ('data-do="done"' in live) == notes
    assert 'data-do="done"' not in rest
    assert all(step.text in html.unescape(rest) for step in reply.answer.steps)


def test_a_picture_is_in_a_file_of_its_language() -> None:
    with speaking("de"):
        one, other = pictured.drawings(["stroke", "", "stroke", "bore"])
    assert (one.src, other.src) == ("drawings/de/stroke.svg", "drawings/de/bore.svg")
    assert pictured.files([one]) == {one.src: one.picture.svg.encode()}
    assert 'alt="&lt;&#34;&gt;"' in one.image('<">')
