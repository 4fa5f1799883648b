"""Drawings of answers: to scale, nothing over anything, safe, coil bind and a loose spring seen."""

import re
from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser

from calc import units
from calc.answering.answer import Drawing, Line, Ring, Tag
from calc.asking.typed import parse
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.model.car import Car
from calc.replying.reading import run
from site_src.both.fragment import answer_html
from site_src.both.scale_drawing import WIDTH, draw
from tests.site.pictures import SVG, collisions, lines, measured_in, points, read, view

CASES = {
    "as it is": ("spring-preload", {}),
    "loose and bound": ("spring-preload", {"droop_length": "42", "spring_solid": "24"}),
    "on its stops": ("spring-preload", {"droop_length": "30"}),
    "a pair": ("spring-swap", {"new_is": "pair"}),
    "rear": ("spring-swap", {"axle": "rear", "new_rate": "0.4", "new_free": "62"}),
    "arm": ("motion-ratio", {}),
    "hole on the arm": (
        "motion-ratio",
        {"other_upper_out": "54", "other_upper_up": "92", "other_lower_out": "72"},
    ),
    "one hole": ("motion-ratio", {"holes": "one"}),
    "whole car": ("whole-car", {"change": "hole", "hole_end": "both"}),
}


def drawn(slug: str, typed: dict[str, str]) -> tuple[Drawing, ...]:
    reply = run(BY_SLUG[slug], typed, Car())
    assert reply.answer is not None, reply.problems
    return reply.answer.drawings


DRAWN = [
    pytest.param(one, id=f"{name} {n}")
    for name, (slug, typed) in CASES.items()
    for n, one in enumerate(drawn(slug, typed))
]


def scale_of(text: str) -> float:
    """px to a metre, from the bar in the foot and the length written beside it."""
    root = read(text)
    bar = next(p for p in root.iter(f"{SVG}path") if p.get("class") == "drawing-bar")
    start, end = (float(x) for x in re.findall(r"^M([\d.]+).*H([\d.]+)", bar.attrib["d"])[0])
    shown = lines(root)[-1].words
    return (end - start) / parse(shown, "length").value


@pytest.mark.parametrize("system", units.SYSTEMS)
@pytest.mark.parametrize("drawing", DRAWN)
def test_a_drawing_keeps_the_promises_of_a_picture(drawing: Drawing, system: str) -> None:
    root = read(draw(drawing, system, "key").svg)
    width, height = view(root)
    assert width == WIDTH and height <= 440
    title, says = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None and title.text == drawing.title
    assert says is not None and len(says.text or "") > 30 and (says.text or "").endswith(".")
    for x, y in points(root):
        assert -0.5 <= x <= width + 0.5 and -0.5 <= y <= height + 0.5
    assert not [line for line in lines(root) if line.left < 0 or line.right > width]
    assert not collisions(root)


@pytest.mark.parametrize("drawing", DRAWN)
def test_every_length_is_drawn_in_the_scale_of_the_bar(drawing: Drawing) -> None:
    text = draw(drawing, units.METRIC, "key").svg
    scale = scale_of(text)
    shown = [
        [float(n) for n in re.findall(r"-?[\d.]+", path.attrib["d"])]
        for path in read(text).iter(f"{SVG}path")
        if path.get("class") != "drawing-bar"
    ]
    assert len(shown) == len(drawing.lines)
    for line, numbers in zip(drawing.lines, shown, strict=True):
        px = list(zip(numbers[::2], numbers[1::2], strict=True))
        for (a, b), (p, q) in zip(pairwise(line.points), pairwise(px), strict=True):
            true = hypot(b[0] - a[0], b[1] - a[1]) * scale
            assert hypot(q[0] - p[0], q[1] - p[1]) == pytest.approx(true, abs=0.2, rel=0.004)


def test_a_browser_of_a_small_phone_finds_nothing_over_anything(browser: Browser) -> None:
    pictures = [draw(param.values[0], units.METRIC, str(n)).svg for n, param in enumerate(DRAWN)]  # type: ignore[arg-type]
    assert not measured_in(browser, pictures, 320)


def coil_gaps(drawing: Drawing) -> list[float]:
    """Air between neighbouring coils of each of the three pictures, m."""
    coils = [line for line in drawing.lines if line.width]
    columns: dict[float, list[Line]] = {}
    for coil in coils:
        columns.setdefault(round(coil.points[0][0], 6), []).append(coil)
    gaps = []
    for column in columns.values():
        feet = sorted(coil.points[0][1] for coil in column)
        gaps.append(min(b - a for a, b in pairwise(feet)) - column[0].width)
    return gaps


def test_coils_stand_apart_and_touch_only_where_they_bind() -> None:
    free = coil_gaps(drawn("spring-preload", {})[0])
    bound = coil_gaps(drawn("spring-preload", {"spring_solid": "24"})[0])
    assert free[0] > free[1] > free[2] > 0.1e-3
    assert bound[2] < 0.3e-3 < bound[1]


def test_coil_bind_and_a_loose_spring_are_said_and_shown() -> None:
    drawing = drawn("spring-preload", {"droop_length": "42", "spring_solid": "24"})[0]
    said = " ".join(tag.text for tag in drawing.tags)
    assert "loose by 2.0" in said and "coil bind, 4.0" in said
    assert any(line.style == "dashed" for line in drawing.lines)
    # At full droop the spring ends so far below the collar, which spans the middle of its plates.
    coils = [line for line in drawing.lines if line.width and line.points[0][0] < 0]
    top = max(y for line in coils for _, y in line.points) + coils[0].width / 0.85 / 2
    plates = [line.points for line in drawing.lines if line.style == "solid"]
    collar = min(y for ((x, y), *_) in plates if x == coils[0].points[0][0] - 1.4e-3 and y > -0.02)
    assert collar - top == pytest.approx(2e-3, abs=0.05e-3)
    assert not any(line.style == "dashed" for line in drawn("spring-preload", {})[0].lines)


def test_the_spring_stands_at_the_users_own_lengths() -> None:
    """40 mm free, 38.5 at full droop, 33.2 at ride height (4.406 N on 0.65 N/mm), 16.5 at bump."""
    drawing = drawn("spring-preload", {"load_left": "362", "load_right": "362"})[0]
    shown = [tag.text for tag in drawing.tags if re.fullmatch(r"[\d.]+", tag.text)]
    assert shown == ["38.5", "33.2", "16.5"]


def test_inches_get_a_bar_of_inches() -> None:
    root = read(draw(drawn("spring-preload", {})[0], units.IMPERIAL, "key").svg)
    assert lines(root)[-1].words.endswith("\u00a0in")


WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
NUMBERS = st.floats(-0.2, 0.2)
POINTS = st.lists(st.tuples(NUMBERS, NUMBERS), min_size=2, max_size=5).map(tuple)
DRAWINGS = st.builds(
    Drawing,
    title=WORDS.filter(lambda w: bool(w.strip()) and w.isprintable()),
    lines=st.lists(
        st.builds(
            Line, POINTS, st.sampled_from(["main", "thin", "dashed", "solid"]), st.floats(0, 0.01)
        ),
        min_size=1,
        max_size=6,
    ).map(tuple),
    rings=st.lists(st.builds(Ring, NUMBERS, NUMBERS, st.floats(1e-4, 0.02)), max_size=4).map(tuple),
    tags=st.lists(
        st.builds(
            Tag, NUMBERS, NUMBERS, WORDS, st.sampled_from(["left", "right", "above", "below"])
        ),
        max_size=4,
    ).map(tuple),
    says=st.just("What is to be seen."),
)


@given(drawing=DRAWINGS, system=st.sampled_from(units.SYSTEMS))
@settings(max_examples=120, deadline=None)
def test_whatever_is_drawn_stays_on_the_sheet(drawing: Drawing, system: str) -> None:
    root = read(draw(drawing, system, "k").svg)
    width, height = view(root)
    for x, y in points(root):
        assert -1 <= x <= width + 1 and -1 <= y <= height + 1


def test_every_drawing_of_an_answer_stands_in_its_panel() -> None:
    for form in FORMS:
        reply = run(form, {}, Car())
        html = answer_html(form, reply, units.METRIC)
        assert reply.answer is not None
        assert html.count('<figure class="drawing"') == len(reply.answer.drawings)
