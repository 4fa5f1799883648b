"""Plots: true to their numbers, nothing over anything, safe, the same for every form."""

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser

from calc import units
from calc.answering.answer import Axis, Curve, Mark, Plot
from calc.forms.catalogue import BY_SLUG, FORMS
from calc.language import NAMES, speaking
from calc.replying.form import Form
from site_src.both import above, scale_drawing
from site_src.both.ink import SIZE
from site_src.both.plot import figure
from tests.forms.ways import answers
from tests.site.pictures import SVG, collisions, lines, measured_in, points, read, view

CUT = "…"
HOSTILE = "</text><script>alert('x')</script>&\"\x00\ud800 ]]> <!--"
DEMO = Plot(
    "Force against travel",
    Axis("Shaft travel", "length"),
    Axis("Spring force", "force"),
    (
        Curve("spring", ((0.0, 1.0), (0.022, 15.3))),
        Curve("static load", ((0.0, 4.4), (0.022, 4.4)), "second"),
        Curve("coil bind", ((0.02, 0.0), (0.02, 14.0)), "limit"),
    ),
    (Mark(0.0052, 4.4, "ride height"),),
    "Force rises.",
)


def svg(plot: Plot, system: str, key: str) -> str:
    return figure(plot, system, key).picture.svg


def plots_of(form: Form) -> set[tuple[Plot, str]]:
    """Every plot that the demo car gives, along every way and in both systems of units."""
    return {
        (plot, system)
        for system in units.SYSTEMS
        for answer in answers(form, system)
        for plot in answer.plots
    }


@pytest.mark.parametrize("code", NAMES)
def test_no_word_in_a_picture_is_cut_in_any_language(code: str) -> None:
    with speaking(code):
        for form in FORMS:
            for answer in answers(form):
                pictures = [
                    *(figure(plot, "metric", "p").picture for plot in answer.plots),
                    *(scale_drawing.draw(one, "metric", "d") for one in answer.drawings),
                    *([above.draw(answer.above, "a")] if answer.above else []),
                ]
                for picture in pictures:
                    assert not [line for line in lines(read(picture.svg)) if CUT in line.words]


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
def test_plots_of_every_form_keep_inside_and_apart(form: Form) -> None:
    for plot, system in plots_of(form):
        root = read(svg(plot, system, form.slug))
        width, height = view(root)
        assert all(0 <= x <= width and 0 <= y <= height for x, y in points(root))
        assert not [line for line in lines(root) if line.left < 0 or line.right > width]
        assert not [line for line in lines(root) if line.top < 0 or line.bottom > height]
        assert not collisions(root)
        shown = {line.words for line in lines(root)}
        assert {thing.label for thing in (*plot.curves, *plot.marks)} <= shown


def test_there_are_plots_to_look_at() -> None:
    assert sum(bool(plots_of(form)) for form in FORMS) >= 3


def test_a_browser_of_a_phone_finds_no_text_over_another(browser: Browser) -> None:
    plots = [one for form in FORMS for one in plots_of(form)]
    pictures = [svg(plot, system, str(n)) for n, (plot, system) in enumerate(plots)]
    assert not measured_in(browser, pictures, 340)


def test_curves_are_told_apart_by_their_lines_alone() -> None:
    plot = replace(DEMO, curves=(*DEMO.curves, *(replace(c, label="b") for c in DEMO.curves)))
    paths = [
        (path.get("stroke-width"), path.get("stroke-dasharray"))
        for path in read(svg(plot, units.METRIC, "a")).iter(f"{SVG}path")
        if path.get("class") in {"plot-main", "plot-second", "plot-limit"}
    ]
    assert len(paths) == len(set(paths)) == 6


def test_what_has_nothing_between_is_not_joined() -> None:
    """Runs of a test: a dot each, and no line that would tell of a run between two."""
    plots = [plot for plot, _ in plots_of(BY_SLUG["drop-test"])]
    plot = next(p for p in plots if p.title == "Time of each run" and len(p.curves) == 2)
    paths = list(read(svg(plot, units.METRIC, "a")).iter(f"{SVG}path"))
    [dots] = [path.get("d") or "" for path in paths if path.get("class") == "plot-points"]
    assert dots.count("M") == len(plot.curves[0].points) == 5
    assert "L" not in dots
    assert not [path for path in paths if path.get("class") == "plot-main"]


def test_axes_name_their_unit_once() -> None:
    in_mm = {line.words for line in lines(read(svg(DEMO, units.METRIC, "a")))}
    assert {"Shaft travel, mm", "Spring force, N"} <= in_mm
    in_inches = {line.words for line in lines(read(svg(DEMO, units.IMPERIAL, "a")))}
    assert {"Shaft travel, in", "Spring force, lbf"} <= in_inches
    turned = replace(DEMO, x=Axis("Turns down", "turns"), y=Axis("Motion ratio", "ratio"))
    words = {line.words for line in lines(read(svg(turned, units.METRIC, "a")))}
    assert {"Turns down", "Motion ratio"} <= words


def test_hostile_words_stay_words() -> None:
    plot = Plot(
        HOSTILE,
        Axis(HOSTILE, "length"),
        Axis(HOSTILE, "force"),
        tuple(replace(curve, label=HOSTILE[:20]) for curve in DEMO.curves),
        (Mark(0.01, 4.4, HOSTILE[:20]),),
        HOSTILE,
    )
    picture = svg(plot, units.METRIC, '"><script>')
    root = read(picture)
    assert "<script" not in picture and "\x00" not in picture
    title = root.find(f"{SVG}title")
    assert title is not None and title.text == HOSTILE.replace("\x00", "").replace("\ud800", "")


def test_ids_of_two_pictures_differ() -> None:
    ids = [
        {e.get("id") for e in read(svg(DEMO, units.METRIC, key)).iter() if e.get("id")}
        for key in ("one", "two")
    ]
    assert len(ids[0]) == 2 and not ids[0] & ids[1]


def ticks(picture: str) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """(value, px) of the numbers along x and up y."""
    root = read(picture)
    group = next(g for g in root.iter(f"{SVG}g") if g.get("class") == "plot-ticks")
    along, up = [], []
    for text in group:
        value = float((text.text or "").replace("−", "-"))
        if text.get("text-anchor") == "middle":
            along.append((value, float(text.attrib["x"])))
        else:
            up.append((value, float(text.attrib["y"]) - 4))
    return along, up


def read_off(value: float, scale: list[tuple[float, float]]) -> float:
    """Where a value stands by the numbers beside the axis, as an eye would find it."""
    (low, start), (high, end) = scale[0], scale[-1]
    return start + (value - low) / (high - low) * (end - start)


# In the units shown: no axis of this trade reaches further.
sizes = st.floats(-3, 5).map(lambda power: 10**power)
spots = st.tuples(st.floats(0, 1), st.floats(-1, 1))
styles = st.sampled_from(["main", "second", "limit"])


@st.composite
def any_plots(draw: st.DrawFn) -> Plot:
    """Plots of any size and place, in any number of curves that somebody could draw."""
    wide, high, base = draw(sizes), draw(sizes), draw(st.floats(-3, 3))

    def placed(spot: tuple[float, float]) -> tuple[float, float]:
        return (spot[0] + base) * wide, (spot[1] + base) * high

    curves = tuple(
        Curve(f"curve {n}", tuple(sorted(map(placed, draw(st.lists(spots, min_size=2))))), style)
        for n, style in enumerate(draw(st.lists(styles, min_size=1, max_size=4)))
    )
    marks = tuple(
        Mark(*placed(spot), f"mark {n}") for n, spot in enumerate(draw(st.lists(spots, max_size=3)))
    )
    return Plot("Any", Axis("Across", "ratio"), Axis("Up", "ratio"), curves, marks, "Anything.")


@settings(max_examples=150, deadline=None)
@given(any_plots())
def test_any_plot_keeps_inside_and_apart(plot: Plot) -> None:
    root = read(svg(plot, units.METRIC, "a"))
    width, height = view(root)
    assert all(-1 <= x <= width + 1 and -1 <= y <= height + 1 for x, y in points(root))
    assert not collisions(root)


@settings(max_examples=150, deadline=None)
@given(any_plots())
def test_numbers_beside_the_axes_are_round_and_true(plot: Plot) -> None:
    picture = svg(plot, units.METRIC, "a")
    for scale in ticks(picture):
        assert 2 <= len(scale) <= 9
        steps = [b[0] - a[0] for a, b in itertools.pairwise(scale)]
        step = min(steps)
        assert max(steps) == pytest.approx(step, rel=1e-6)
        assert f"{step:.0e}"[0] in "125"
        assert step == pytest.approx(float(f"{step:.0e}"), rel=1e-6)
    along, up = ticks(picture)
    rings = [ring.attrib for ring in read(picture).iter(f"{SVG}circle")]
    assert len(rings) == len(plot.marks)
    for mark, ring in zip(plot.marks, rings, strict=True):
        assert float(ring["cx"]) == pytest.approx(read_off(mark.x, along), abs=0.4)
        assert float(ring["cy"]) == pytest.approx(read_off(mark.y, up), abs=0.4)


@pytest.mark.parametrize("value", [0.0, 5e-3, -2.0, 1e5])
def test_a_level_curve_has_a_scale_around_it(value: float) -> None:
    level = replace(DEMO, curves=(Curve("level", ((0.0, value), (1.0, value))),), marks=())
    _, up = ticks(svg(level, units.METRIC, "a"))
    assert up[0][0] < value < up[-1][0] or math.isclose(up[0][0], value)


def test_a_long_label_is_cut_and_stays_inside() -> None:
    plot = replace(DEMO, curves=(replace(DEMO.curves[0], label="spring " * 40),))
    found = lines(read(svg(plot, units.METRIC, "a")))
    longest = max(found, key=lambda line: len(line.words))
    assert longest.words.endswith("…") and longest.right - longest.left < 200
    assert SIZE == 12.0  # what the estimate of the tests assumes


def test_times_of_day_stand_below_as_clocks_show_them() -> None:
    stairs = ((9 * 3600.0, 0.0), (9 * 3600.0 + 359, 0.0), (9 * 3600.0 + 359, 0.25), (36e3, 0.25))
    axes = Axis("Time of day", "clock"), Axis("Turns down", "ratio")
    plot = Plot("Any", *axes, (Curve("a", stairs),), says="Anything.")
    words = {line.words for line in lines(read(svg(plot, units.METRIC, "a")))}
    assert {"Time of day", "09:00", "09:15", "09:30", "09:45", "10:00"} <= words
