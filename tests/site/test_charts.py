"""The charts read back: their own lines and numbers, met with a straight edge, give the answers.

The reader below knows nothing of how a chart was drawn. It takes the lines of a scale with the
numbers beside them, judges by eye (linearly) between two lines, and lays a straight edge.
"""

import math
import random
import re
from bisect import bisect
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from playwright.sync_api import Browser

from calc import units
from calc.asking.entry import Number
from calc.asking.typed import parse
from calc.model.car import entry_at
from calc.physics import oil
from calc.physics.linkage import lift_per_turn
from calc.physics.spring import spring_force
from site_src.pages.charts.book import MAKERS, charts, pocket_pages
from site_src.pages.charts.draw import PAGE, POCKET, Paper
from tests.site.pictures import SVG, collisions, measured_in, read

PENCIL = 0.35  # mm, the width of a pencil line
QUESTIONS = 500
EIGHT_POINT = 8 * 25.4 / 72
PAPERS = pytest.mark.parametrize("paper", [PAGE, POCKET], ids=lambda paper: paper.key)
Point = tuple[float, float]


@dataclass(frozen=True)
class Ruled:
    """The lines of one side of a scale: (value, place on paper in mm)."""

    lines: tuple[tuple[float, Point], ...]

    def place(self, value: float) -> Point:
        """Where a value lies, by eye between the two lines next to it."""
        values = [line for line, _ in self.lines]
        assert values[0] <= value <= values[-1]
        upper = min(max(bisect(values, value), 1), len(values) - 1)
        (low, (ax, ay)), (high, (bx, by)) = self.lines[upper - 1 : upper + 1]
        along = (value - low) / (high - low)
        return ax + along * (bx - ax), ay + along * (by - ay)

    def ends(self) -> tuple[float, float]:
        return self.lines[0][0], self.lines[-1][0]


def ruled(side: ElementTree.Element) -> Ruled:
    lines = []
    for line in side.iter(f"{SVG}path"):
        start = re.match(r"M([-\d.]+) ([-\d.]+)[hv]", line.attrib["d"])
        assert start
        lines.append((float(line.attrib["data-value"]), (float(start[1]), float(start[2]))))
    return Ruled(tuple(sorted(lines)))


class Sheet:
    """A chart on paper."""

    def __init__(self, paper: Paper, key: str) -> None:
        (chart,) = (chart for chart in charts(paper) if chart.key == key)
        self.root = read(chart.svg)
        self.sides = {
            (scale.attrib["data-scale"], side.attrib["data-unit"]): ruled(side)
            for scale in self.root.iter(f"{SVG}g")
            if "data-scale" in scale.attrib
            for side in scale.iter(f"{SVG}g")
            if "data-unit" in side.attrib
        }

    def __getitem__(self, name: tuple[str, str]) -> Ruled:
        return self.sides[name]


def met(one: Point, other: Point, x: float) -> float:
    """Height at which a straight edge over two points crosses the upright line at x."""
    return one[1] + (other[1] - one[1]) * (x - one[0]) / (other[0] - one[0])


def evenly(rng: random.Random, span: tuple[float, float]) -> float:
    """A value from a span, every ratio as likely as any other."""
    return math.exp(rng.uniform(math.log(span[0]), math.log(span[1])))


def holds(scale: Ruled, value: float) -> bool:
    return scale.ends()[0] <= value <= scale.ends()[1]


@PAPERS
def test_the_blend_chart_gives_viscosity_and_share(paper: Paper) -> None:
    chart, rng, asked = Sheet(paper, "blend"), random.Random(1), 0
    left, right, shares = chart["thin", "cSt"], chart["thick", "cSt"], chart["share", "%"]
    while asked < QUESTIONS:
        thin, thick = sorted(evenly(rng, left.ends()) for _ in "ab")
        if thick < 1.2 * thin:  # nearly level: no share can be told from another
            continue
        asked += 1
        percent = rng.uniform(0, 100)
        made = oil.blend([(100 - percent, thin * 1e-6), (percent, thick * 1e-6)]) * 1e6
        edge = left.place(thin), right.place(thick)
        x, _ = shares.place(percent)
        assert abs(met(*edge, x) - left.place(made)[1]) <= PENCIL
        # Backwards: the edge passes the height of the viscosity at the share, within a pencil
        # line across the edge.
        (ax, ay), (bx, by) = edge
        found = ax + (bx - ax) * (left.place(made)[1] - ay) / (by - ay)
        assert abs(found - x) * abs(by - ay) / math.hypot(bx - ax, by - ay) <= PENCIL


@PAPERS
def test_the_collar_chart_gives_lift_and_height(paper: Paper) -> None:
    chart, rng, asked = Sheet(paper, "collar"), random.Random(2), 0
    pitch, lift, ratio = chart["pitch", "mm"], chart["lift", "mm"], chart["ratio", ""]
    turns, height = chart["turns", ""], chart["height", "mm"]
    while asked < QUESTIONS:
        p, mr, n = (evenly(rng, scale.ends()) for scale in (pitch, ratio, turns))
        one = lift_per_turn(pitch=p * 1e-3, motion_ratio=mr) * 1e3
        if not (holds(lift, one) and holds(height, n * one)):
            continue
        asked += 1
        x, y = lift.place(one)
        there = met(pitch.place(p), ratio.place(mr), x)
        assert abs(there - y) <= PENCIL
        x_height, y_height = height.place(n * one)
        assert abs(met((x, there), turns.place(n), x_height) - y_height) <= PENCIL


@PAPERS
def test_the_collar_chart_covers_what_is_usual(paper: Paper) -> None:
    """Every usual pitch and motion ratio of the car record, from a quarter turn to four."""
    chart = Sheet(paper, "collar")
    pitches, ratios = entry_at("front.pitch"), entry_at("front.motion_ratio")
    assert isinstance(pitches, Number)
    assert isinstance(ratios, Number)
    for p, mr in ((p * 1e3, mr) for p in pitches.usual for mr in ratios.usual):
        assert holds(chart["pitch", "mm"], p)
        assert holds(chart["ratio", ""], mr)
        assert all(holds(chart["height", "mm"], n * p / mr) for n in (0.25, 4))


@PAPERS
def test_the_spring_chart_gives_the_force(paper: Paper) -> None:
    chart, rng, asked = Sheet(paper, "spring"), random.Random(3), 0
    rate, force, preload = chart["rate", "N/mm"], chart["force", "N"], chart["preload", "mm"]
    while asked < QUESTIONS:
        k, s = evenly(rng, rate.ends()), evenly(rng, preload.ends())
        f = spring_force(rate=k * 1e3, compression=s * 1e-3)
        if not holds(force, f):
            continue
        asked += 1
        x, y = force.place(f)
        assert abs(met(rate.place(k), preload.place(s), x) - y) <= PENCIL


@PAPERS
def test_the_temperature_chart_gives_viscosity_and_the_oil_that_feels_the_same(
    paper: Paper,
) -> None:
    chart, rng, asked = Sheet(paper, "temperature"), random.Random(4), 0
    grade, viscosity = chart["grade", "cSt"], chart["viscosity", "cSt"]
    heat = chart["temperature", "°C"]
    while asked < QUESTIONS:
        nu, now, then = evenly(rng, grade.ends()), *(rng.uniform(*heat.ends()) for _ in "ab")
        there = oil.viscosity_at(nu * 1e-6, now + 273.15) * 1e6
        same = oil.viscosity_25_from(there * 1e-6, then + 273.15) * 1e6
        if not (holds(viscosity, there) and holds(grade, same)):
            continue
        asked += 1
        x, y = viscosity.place(there)
        crossed = met(grade.place(nu), heat.place(now), x)
        assert abs(crossed - y) <= PENCIL
        x_grade, y_grade = grade.place(same)
        # The edge is turned about the point crossed; far from it an error grows as the lever.
        lever = (heat.place(then)[0] - x_grade) / (heat.place(then)[0] - x)
        assert abs(met((x, crossed), heat.place(then), x_grade) - y_grade) <= PENCIL * lever


IMPERIAL: tuple[tuple[str, str, str, str, Callable[[float], float]], ...] = (
    ("collar", "height", "mm", "in", lambda mm: mm / 25.4),
    ("collar", "pitch", "mm", "in", lambda mm: mm / 25.4),
    ("spring", "rate", "N/mm", "lbf/in", lambda rate: rate / 0.175126835),  # NIST SP 811
    ("spring", "force", "N", "lbf", lambda force: force / 4.448222),  # NIST SP 811
    ("temperature", "temperature", "°C", "°F", lambda c: 1.8 * c + 32),
)


@pytest.mark.parametrize(("key", "scale", "metric", "imperial", "convert"), IMPERIAL)
def test_both_sides_of_a_scale_agree(
    key: str, scale: str, metric: str, imperial: str, convert: Callable[[float], float]
) -> None:
    chart = Sheet(PAGE, key)
    right, left = chart[scale, metric], chart[scale, imperial]
    shown = [(v, convert(v)) for v, _ in right.lines if holds(left, convert(v))]
    assert len(shown) > 20
    for value, other in shown:
        assert abs(right.place(value)[1] - left.place(other)[1]) <= PENCIL


def sides() -> Iterator[tuple[str, ElementTree.Element]]:
    for paper in (PAGE, POCKET):
        for make in MAKERS:
            root = read(make(paper).svg)
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
                assert abs(float(text.attrib["y"]) - y) < 4.5, (name, said)
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
    wide = round(paper.width / 25.4 * 96)
    assert measured_in(browser, [chart.svg for chart in charts(paper)], wide) == []


def test_the_booklet_has_every_chart_and_its_words_once() -> None:
    pages = pocket_pages(POCKET)
    assert len(pages) == 8
    for which in (0, 1):
        keys = [page[which].key for page in pages if page[which]]
        assert sorted(keys) == sorted(chart.key for chart in charts(POCKET))
    # Opened at pages 2 and 3, 4 and 5, 6 and 7, words and chart face each other.
    for left in (1, 3, 5):
        assert pages[left][1] == pages[left + 1][0] is not None
