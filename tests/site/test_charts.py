"""The charts read back: their own lines and numbers, met with a straight edge, give the answers."""

import math
import random
import re
from collections.abc import Callable, Iterator
from itertools import pairwise, permutations, product
from xml.etree import ElementTree

import pytest
from playwright.sync_api import Browser

from calc import units
from calc.asking.entry import Number
from calc.asking.typed import parse
from calc.language import NAMES, speaking
from calc.model.car import entry_at
from calc.physics import flow, oil
from site_src.pages.charts.book import charts, pocket_pages
from site_src.pages.charts.damping import PLATE
from site_src.pages.charts.draw import PAGE, POCKET, Paper
from site_src.pages.charts.scale import OFF
from tests.site.pictures import SVG, collisions, lines, measured_in, read
from tests.site.straight_edge import (
    ABSOLUTE,
    QUESTIONS,
    Hand,
    Sheet,
    drawn,
    errors,
    evenly,
    piston_damping,
    ruled,
    swap,
)

PENCIL = 0.35  # mm, the width of a pencil line
TRIES = 120
EIGHT_POINT = 8 * 25.4 / 72
PAPERS = pytest.mark.parametrize("paper", [PAGE, POCKET], ids=lambda paper: paper.key)
ASKED = [
    pytest.param(paper, question, id=f"{paper.key} {question}")
    for paper in (PAGE, POCKET)
    for question, (key, _) in QUESTIONS.items()
    if key in {chart.key for chart in drawn(paper)}
]
# The sentences of the others speak of another place of the chart.
SAID = [one for one in ASKED if one.values[1] not in ("swap", "sag: wheel")]


@pytest.mark.parametrize(("paper", "question"), ASKED)
def test_an_edge_laid_exactly_gives_the_answer(paper: Paper, question: str) -> None:
    """Of the calculation that the page makes, as far as the eye judges between two lines."""
    worst = errors(paper, question, TRIES, 0.0)[-1]
    if question in ABSOLUTE:
        assert worst <= 0.1  # mm, an eighth of a turn
    elif question == "temperature" and paper is PAGE:
        assert worst <= 0.003
    else:
        assert worst <= (0.02 if paper.small else 0.005)


@pytest.mark.parametrize(("paper", "question"), SAID)
def test_a_reading_by_hand_is_as_true_as_the_chart_says(paper: Paper, question: str) -> None:
    """19 of 20, of readings whose every point is off by the millimetres that it names."""
    off = errors(paper, question, TRIES, OFF)[TRIES * 19 // 20]
    said = Sheet(paper, QUESTIONS[question][0]).chart.within
    assert 0.7 * said < off < 1.3 * said


def test_the_collar_chart_tells_what_a_growing_ratio_takes_away() -> None:
    """By hand: 8 mm of spring times 2 per m over 0.65² stiffen the wheel by 3.8 %, and a turn lifts
    by its force over that: 3.6 % less."""
    (told,) = (text for text in Sheet(PAGE, "collar").chart.how if "grows in bump" in text)
    assert "lifts less: by 4% with" in told


def test_a_collar_shift_by_hand_is_as_true_as_the_chart_says() -> None:
    chart, hand, found = Sheet(PAGE, "swap"), Hand(random.Random(1), OFF), []
    while len(found) < TRIES:
        if (reading := swap(chart, hand, 6.0)) is not None:
            found.append(abs(reading[0] - reading[1]))
    off = sorted(found)[TRIES * 19 // 20]
    assert 0.7 < off / (chart.chart.within * 1e3) < 1.3


@PAPERS
def test_the_blend_chart_gives_the_share(paper: Paper) -> None:
    chart, rng, asked = Sheet(paper, "blend"), random.Random(1), 0
    left, right, shares = chart["thin", "cSt"], chart["thick", "cSt"], chart["share", "%"]
    while asked < 500:
        thin, thick = sorted(evenly(rng, left.ends()) for _ in "ab")
        if thick < 1.2 * thin:  # nearly level: no share can be told from another
            continue
        asked += 1
        percent = rng.uniform(0, 100)
        made = oil.blend([(100 - percent, thin * 1e-6), (percent, thick * 1e-6)]) * 1e6
        (ax, ay), (bx, by) = left.place(thin), right.place(thick)
        # The edge passes the height of the viscosity at the share, within a pencil line across it.
        found = ax + (bx - ax) * (left.place(made)[1] - ay) / (by - ay)
        x, _ = shares.place(percent)
        assert abs(found - x) * abs(by - ay) / math.hypot(bx - ax, by - ay) <= PENCIL


def test_the_chart_of_pistons_holds_for_other_thicknesses_and_some_play() -> None:
    """As its words say: within 5 % from 1.5 to 4 mm, with up to 0.1 mm of play."""
    pistons = [(n, d) for n in (2, 3, 4, 6) for d in (1.0, 1.3, 1.6, 1.9)]
    ways = {(n, d): flow.hole(d * 1e-3, PLATE, 1.0, 1.0).viscous / n for n, d in pistons}
    for thickness, play in product((1.5e-3, 2.5e-3, 4e-3), (0.02e-3, 0.1e-3)):
        damping = {one: piston_damping(*one, thickness, play) for one in pistons}
        for one, other in permutations(pistons, 2):
            if 0.5 <= ways[one] / ways[other] <= 2.0:
                drawn, true = ways[one] / ways[other], damping[one] / damping[other]
                assert abs(drawn / true - 1) <= 0.055


@PAPERS
def test_the_collar_chart_covers_what_is_usual(paper: Paper) -> None:
    """Every usual pitch and motion ratio of the car record, from a quarter turn to four."""
    chart = Sheet(paper, "collar")
    pitches, ratios = entry_at("front.pitch"), entry_at("front.motion_ratio")
    assert isinstance(pitches, Number)
    assert isinstance(ratios, Number)
    for p, mr in ((p * 1e3, mr) for p in pitches.usual for mr in ratios.usual):
        assert chart["pitch", "mm"].holds(p)
        assert chart["ratio", ""].holds(mr)
        assert all(chart["height", "mm"].holds(n * p / mr) for n in (0.25, 4))


IMPERIAL: tuple[tuple[str, str, str, str, Callable[[float], float]], ...] = (
    ("collar", "height", "mm", "in", lambda mm: mm / 25.4),
    ("collar", "pitch", "mm", "in", lambda mm: mm / 25.4),
    ("spring", "rate", "N/mm", "lbf/in", lambda rate: rate / 0.175126835),  # NIST SP 811
    ("spring", "force", "N", "lbf", lambda force: force / 4.448222),  # NIST SP 811
    ("temperature", "temperature", "°C", "°F", lambda c: 1.8 * c + 32),
    ("swap", "now", "N/mm", "lbf/in", lambda rate: rate / 0.175126835),
    ("swap", "shift", "mm", "in", lambda mm: mm / 25.4),
    ("sag", "squeeze", "mm", "in", lambda mm: mm / 25.4),
)


@pytest.mark.parametrize(("key", "scale", "metric", "imperial", "convert"), IMPERIAL)
def test_both_sides_of_a_scale_agree(
    key: str, scale: str, metric: str, imperial: str, convert: Callable[[float], float]
) -> None:
    chart = Sheet(PAGE, key)
    right, left = chart[scale, metric], chart[scale, imperial]
    shown = [(v, convert(v)) for v, _ in right.lines if left.holds(convert(v))]
    assert len(shown) > 20
    for value, other in shown:
        assert abs(right.place(value)[1] - left.place(other)[1]) <= PENCIL


def sides() -> Iterator[tuple[str, ElementTree.Element]]:
    for paper in (PAGE, POCKET):
        for chart in drawn(paper):
            root = read(chart.svg)
            for scale in root.iter(f"{SVG}g"):
                if "data-scale" in scale.attrib:
                    yield f"{paper.key} {scale.attrib['data-scale']}", scale


def test_the_numbers_stand_beside_their_lines() -> None:
    """What a person reads beside a long line is the value that the line has for the program."""
    checked = 0
    for name, scale in sides():
        groups = list(scale)
        for side, words in pairwise(groups):
            if "data-unit" not in side.attrib:
                continue
            places = dict(ruled(side).lines)
            for text in words.iter(f"{SVG}text"):
                said = "".join(text.itertext()).replace(units.NBSP, " ")
                if not re.fullmatch(r"−?[\d./ ]+", said):
                    continue
                value = parse(said, "ratio").value
                near = min(places, key=lambda v: abs(v - value))
                assert math.isclose(near, value, rel_tol=1e-9, abs_tol=1e-9), (name, said)
                x, y = places[near]
                assert abs(float(text.attrib["y"]) - y) < 5.5, (name, said)
                assert abs(float(text.attrib["x"]) - x) < 4, (name, said)
                checked += 1
    assert checked > 300


def test_lines_run_one_way_and_stay_apart() -> None:
    for name, scale in sides():
        for side in scale.iter(f"{SVG}g"):
            if "data-unit" not in side.attrib:
                continue
            places = [p for _, p in ruled(side).lines]
            gaps = [(bx - ax) + (by - ay) for (ax, ay), (bx, by) in pairwise(places)]
            assert all(gap > 0 for gap in gaps) or all(gap < 0 for gap in gaps), name
            assert min(map(abs, gaps)) > 0.29, name


@PAPERS
def test_pictures_are_true_to_scale_legible_and_free_of_overlap(
    paper: Paper, browser: Browser
) -> None:
    for chart in charts(paper):
        root = read(chart.svg)
        left, top, width, height = map(float, root.attrib["viewBox"].split())
        assert (left, top) == (0, 0)
        assert root.attrib["width"] == f"{width:g}mm"
        assert root.attrib["height"] == f"{height:g}mm"
        assert collisions(root) == [], chart.key
        for text in root.iter(f"{SVG}text"):
            assert float(text.attrib["font-size"]) >= EIGHT_POINT - 1e-3
        assert len(list(root.iter(f"{SVG}circle"))) >= 3, "a worked line is drawn in"
        assert chart.how
        assert chart.law
        assert worked_through_labels(root) == [], chart.key
    wide = round(paper.width / 25.4 * 96)
    assert measured_in(browser, [chart.svg for chart in charts(paper)], wide) == []


def worked_through_labels(root: ElementTree.Element) -> list[str]:
    """Labels that a dash of a worked line touches."""
    (*worked,) = (g for g in root.iter(f"{SVG}g") if g.get("class") == "worked")
    assert worked
    found, texts = [], lines(root)
    for group in worked:
        for dash in re.finditer(r"M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)", group[0].attrib["d"]):
            ax, ay, bx, by = map(float, dash.groups())
            for n in range(41):
                x, y = ax + (bx - ax) * n / 40, ay + (by - ay) * n / 40
                found += [
                    line.words
                    for line in texts
                    if line.left < x < line.right and line.top < y < line.bottom
                ]
    return found


def test_scales_are_numbered_in_the_order_of_use() -> None:
    for paper in (PAGE, POCKET):
        for chart in drawn(paper):
            numbers = sorted(
                int("".join(text.itertext()))
                for group in read(chart.svg).iter(f"{SVG}g")
                if group.get("class") == "number"
                for text in group.iter(f"{SVG}text")
            )
            assert numbers == list(range(1, len(numbers) + 1)), chart.key


def test_turns_are_ruled_in_eighths() -> None:
    values = {value for value, _ in Sheet(PAGE, "collar")["turns", ""].lines}
    assert values == {0.25} | {n / 8 for n in range(3, 65)}


@pytest.mark.parametrize("code", NAMES)
def test_texts_do_not_meet_in_any_language(code: str) -> None:
    with speaking(code):
        for paper in (PAGE, POCKET):
            for chart in charts(paper):
                assert collisions(read(chart.svg), apart=0.4) == [], (code, chart.key)


def test_the_booklet_has_every_chart_and_its_words_once() -> None:
    pages = pocket_pages(POCKET)
    assert len(pages) == 8
    for which in (0, 1):
        keys = [page[which].key for page in pages if page[which]]
        assert sorted(keys) == sorted(chart.key for chart in charts(POCKET))
    # Opened at pages 2 and 3, 4 and 5, 6 and 7, words and chart face each other.
    for left in (1, 3, 5):
        assert pages[left][1] == pages[left + 1][0] is not None
