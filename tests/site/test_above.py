"""The car from above: each wheel has its words on its own side, the front at the top."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from calc.answering.answer import AtCorner
from calc.asking import record
from calc.forms.catalogue import BY_SLUG
from calc.forms.names import corner_label
from calc.forms.turning import at_corner
from calc.kept.log_view import view
from calc.kept.setups import turned
from calc.language import NAMES, speaking, tr
from calc.model.car import Car
from calc.model.corners import CORNERS, Corner, End, Side
from calc.replying.reading import run
from site_src.both.above import draw, said

SVG = "{http://www.w3.org/2000/svg}"
TURNS = {
    Corner.FRONT_LEFT: 0.25,
    Corner.FRONT_RIGHT: -0.5,
    Corner.REAR_LEFT: 0.0,
    Corner.REAR_RIGHT: 1.25,
}


def drawn() -> ElementTree.Element:
    corners = [at_corner(corner, n, f"{400 + n:g} g") for corner, n in TURNS.items()]
    return ElementTree.fromstring(draw(corners, "test").svg)


def test_words_stand_where_their_wheel_is() -> None:
    places = {text.text: text.attrib for text in drawn().iter(f"{SVG}text")}
    for corner, n in TURNS.items():
        at = places[f"{400 + n:g} g"]
        assert (float(at["x"]) < 180) == (corner.side is Side.LEFT)
        assert (float(at["y"]) < 118) == (corner.end is End.FRONT)


def test_what_the_arrows_show_is_said() -> None:
    says = drawn().findtext(f"{SVG}desc") or ""
    assert all(f"{corner_label(corner)}: " in says for corner in CORNERS)
    assert says.count("down") == 2
    assert says.count("up") == 1
    assert "no turn" in says


@pytest.mark.parametrize(
    ("slug", "typed"),
    [
        ("corner-loads", {}),
        ("whole-car", {}),
        ("stroke", {}),
        ("collar-turns", {"scope": "corners"}),
    ],
)
def test_the_forms_with_four_corners_draw_them(slug: str, typed: dict[str, str]) -> None:
    answer = run(BY_SLUG[slug], typed, Car()).answer
    assert answer is not None
    assert [one.corner for one in answer.above] == list(CORNERS)


@pytest.mark.parametrize("code", NAMES)
def test_turns_of_a_rod_end_have_room_for_their_way(code: str) -> None:
    """In the drawing and in its words; German is the widest."""
    with speaking(code):
        answer = run(BY_SLUG["stroke"], {}, Car()).answer
        assert answer is not None
        svg = ElementTree.fromstring(draw(answer.above, "test").svg)
        ways = (tr("{turns} out", turns="").strip(), tr("{turns} in", turns="").strip())
        texts = [text.text or "" for text in svg.iter(f"{SVG}text")]
        assert not any("…" in text for text in texts)
        assert sum(text.endswith(ways) for text in texts) == len(CORNERS)


def test_a_wheel_without_work_has_no_arrow() -> None:
    still = draw([AtCorner(Corner.FRONT_LEFT, ("0",))], "a").svg
    turned = draw([AtCorner(Corner.FRONT_LEFT, ("1",), "up")], "b").svg
    assert turned.count("<path") == still.count("<path") + 1


def test_the_way_to_a_setup_draws_the_collars_that_are_turned() -> None:
    now = Car()
    wanted = record.put(now, "corners.rear_right.collar", now.corners.rear_right.collar - 0.5)
    drawn = {one.corner: one.way for one in turned(now, wanted)}
    assert drawn == {corner: "up" if corner == Corner.REAR_RIGHT else "" for corner in CORNERS}
    assert turned(now, now) == ()


def test_the_log_says_beside_the_drawing_what_it_shows() -> None:
    """A list for whoever does not see it, a corner each."""
    told = said([corner.above for corner in view(Car(), (), 0.0, 0.0, "metric").corners])
    assert told[0] == "Front left: 0 at base. Is at its mark."
    assert len(told) == len(CORNERS)
