"""Paper: what is said to fit fits, in real browsers, for any car; what is printed can be read."""

from __future__ import annotations

import base64
import os
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Browser, Page, expect

from calc import units
from calc.kept import link
from calc.language import NAMES, speaking, tr
from calc.model.car import Bottle, Car, Spring, empty
from calc.model.corners import ENDS
from calc.model.origin import Origin
from calc.sheet.blocks import BLOCKS, CARD, FLAT, sheet, usual
from calc.sheet.blocks import BY_KEY as BY_BLOCK
from site_src.both.fragment import sheet_heading, sheet_html
from site_src.both.paper import measure
from site_src.both.paper.code import MODULE_LEAST, code
from site_src.both.paper.layout import name_kind, plan
from site_src.both.paper.pieces import BAR_PAD, BAR_SIDE, BAR_TYPE, GAP
from site_src.both.paper.sizes import (
    BY_KEY,
    COLUMN_GAP,
    MARGIN,
    PANELS,
    PLACES,
    POCKET_MARGIN,
    SIZES,
    Size,
)
from site_src.build import papers
from site_src.build.assemble import assemble
from site_src.build.toolchain import npm_packages
from site_src.pages.languages import path_in
from tests.owned import owned
from tests.site import engines, printing
from tests.site.hands import PATIENCE, visiting
from tests.site.hosting import Site
from tests.site.sheets import (
    ADDRESS,
    BROKEN,
    MADE,
    PX,
    STATIC,
    TODAY,
    all_hold,
    document,
    html,
    laid_out,
    planned,
)
from tests.strategies import CARS

LONG = "Wwwwwwwwwwwwwwwwwwww WWWWWWWWWWWWWWWWWWW"
FULL = replace(
    owned(),
    name=LONG,
    bottles=tuple(Bottle(LONG, (100 + 61 * n) * 1e-6, (3 + n) * 1e-6) for n in range(20)),
    springs=tuple(
        Spring(LONG, 450.0 + 13 * n, (40 + n / 2) * 1e-3, (13 + n / 4) * 1e-3) for n in range(20)
    ),
)
NAMED = {"demo": Car(), "full": FULL}
# What a flat sheet is printed on; a pocket sheet says itself what it is folded from.
FORMATS = {
    "one": ("A4", "Letter"),
    "two": ("A4", "Letter"),
    "pocket": ("A4",),
    "pocket-letter": ("Letter",),
    "build": ("A4", "Letter"),
}
CENTIMETRES = {"A4": (21.0, 29.7), "Letter": (21.59, 27.94)}


@pytest.mark.parametrize("system", units.SYSTEMS)
@pytest.mark.parametrize("name", NAMED)
def test_what_is_said_to_fit_fits(blank: Page, name: str, system: str) -> None:
    made = all_hold(blank, NAMED[name], system)
    if name == "demo":
        assert all(one.dropped == () for one in made)


@pytest.mark.parametrize("letters", ["ÜÑÖÇ", "ÆŒØæœ", "ЖЩЮжщю", "ΩΦΨ", "☃"])
def test_wide_letters_of_a_name_fit(blank: Page, letters: str) -> None:
    """Capitals with accents, other alphabets and pictures, with words and without."""
    for word in (letters * 10, f"{letters} " * 8):
        car = replace(owned(), name=word[:40], springs=(Spring(word[:40], 500.0, 0.04, 0.015),))
        all_hold(blank, car, units.METRIC)


@pytest.mark.parametrize(
    "cars", [6, pytest.param(200, marks=pytest.mark.wide("many more random cars"))]
)
def test_it_fits_for_any_car(blank: Page, cars: int) -> None:
    # Not made smaller where it fails: each try takes a browser long.
    @settings(
        max_examples=cars,
        deadline=None,
        phases=[Phase.explicit, Phase.reuse, Phase.generate],
    )
    @given(car=CARS, system=st.sampled_from(units.SYSTEMS))
    def fits(car: Car, system: str) -> None:
        all_hold(blank, car, system)

    fits()


def test_what_does_not_fit_is_named_before_printing_and_on_paper(blank: Page) -> None:
    """Every block of a car with long lists on one page: what is not usual goes first."""
    one, keys = BY_KEY["one"], [block.key for block in BLOCKS]
    body = sheet_html(FULL, units.METRIC, MADE, size="one", blocks=keys, address=ADDRESS)
    content = sheet(FULL, units.METRIC, keys)
    made = plan(content, one, sheet_heading(content, one), ADDRESS)
    assert made.dropped
    assert not {BY_BLOCK[key].title for key in usual(FLAT)} & set(made.dropped)
    laid_out(blank, body)
    warning = blank.locator(".caution.stop.screen-only").inner_text()
    on_paper = blank.locator(".sheet").inner_text()
    for title in made.dropped:
        assert title in warning
        assert title in on_paper.partition("Not on this sheet: ")[2].partition(".")[0]
    # The advice is good: without these blocks the rest fits.
    kept = [block.key for block in content.blocks if block.title not in made.dropped]
    rest = sheet(FULL, units.METRIC, kept)
    assert plan(rest, one, sheet_heading(rest, one), ADDRESS).dropped == ()


@pytest.mark.parametrize("code", NAMES)
@pytest.mark.parametrize("system", units.SYSTEMS)
def test_an_ordinary_car_is_read_at_arms_length(code: str, system: str) -> None:
    """11 pt and more on one page, 8.5 pt on the card, and all of it is there."""
    with speaking(code):
        for car in (Car(), owned()):
            made = {size.key: planned(car, system, size) for size in SIZES}
    assert all(one.dropped == () for one in made.values())
    assert made["one"].kind >= 11 and made["two"].kind >= 12
    assert made["one"].remark() == ""
    for key in ("pocket", "pocket-letter"):
        places = {piece.key: page.number for page in made[key].pages for piece in page.pieces}
        assert places == PLACES


def test_small_type_is_said_before_printing(blank: Page) -> None:
    made = planned(FULL, units.METRIC, BY_KEY["one"])
    assert made.kind < 11
    laid_out(blank, html(FULL, units.METRIC, BY_KEY["one"]))
    assert f"{made.kind:g} pt" in blank.locator(".caution.screen-only").inner_text()


def test_long_lists_are_shortened_rather_than_a_block_left_out(blank: Page) -> None:
    made = planned(FULL, units.METRIC, BY_KEY["one"])
    assert made.dropped == ()
    laid_out(blank, html(FULL, units.METRIC, BY_KEY["one"]))
    assert "more" in blank.locator('[data-block="springs"] .sheet-rest').inner_text()


@pytest.mark.parametrize("code", NAMES)
@pytest.mark.parametrize("size", [one for one in SIZES if one.folds], ids=lambda one: one.key)
def test_a_card_holds_twenty_springs_some_of_which_go_solid(code: str, size: Size) -> None:
    """With all to mind of each, and all marked where an unsprung mass is only assumed."""
    springs = tuple(replace(one, name=f"{n} dots") for n, one in enumerate(FULL.springs))
    assumed = {f"{end}.unsprung": Origin("assumed") for end in ENDS}
    car = replace(FULL, springs=springs, origins={**FULL.origins, **assumed})
    with speaking(code):
        made = planned(car, units.METRIC, size)
        words = tr("coil bind")
    (block,) = (piece for page in made.pages for piece in page.pieces if piece.key == "springs")
    cells = [row[-1] for line in block.rows for laid in line for row in laid.grid.rows]
    assert made.dropped == ()
    assert f"{words}?" in cells


def test_a_word_is_broken_nowhere(blank: Page) -> None:
    for size in SIZES:
        laid_out(blank, html(Car(), units.IMPERIAL, size))
        assert blank.evaluate(BROKEN) == []


@pytest.mark.parametrize(("key", "block"), [("one", "height"), ("pocket", "preload")])
def test_the_smaller_cells_of_a_row_are_printed_on_its_line(
    blank: Page, key: str, block: str
) -> None:
    size = BY_KEY[key]
    made = planned(Car(), units.METRIC, size)
    laid_out(blank, html(Car(), units.METRIC, size))
    (printed,) = printing.pages(blank.pdf(format="A4", prefer_css_page_size=size.folds))
    (piece,) = (one for page in made.pages for one in page.pieces if one.key == block)
    large, small = (
        {round(text.y, 2) for text in printing.texts(printed) if abs(text.size - kind) < 0.02}
        for kind in (piece.kind, measure.small(piece.kind))
    )
    assert len(large & small) >= sum(len(row[0].grid.rows) for row in piece.rows)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.key)
def test_a_name_is_broken_only_where_type_is_small(blank: Page, size: Size) -> None:
    made = planned(Car(), units.METRIC, size)
    laid_out(blank, html(Car(), units.METRIC, size))
    pages = blank.locator(".flat-sheet, .panel").all()
    for page in pages:
        number = int(page.get_attribute("data-page-number") or pages.index(page) + 1)
        lines = page.evaluate(
            """(e) => [...e.querySelectorAll("td.as-name")].map((cell) => {
              const range = document.createRange();
              range.selectNodeContents(cell);
              return range.getClientRects().length;
            })"""
        )
        assert set(lines) <= {1} or made.pages[number - 1].kind <= size.easy


@pytest.mark.parametrize("code", NAMES)
def test_the_four_corners_are_alike(blank: Page, code: str) -> None:
    """With blanks to write in, which take more room than a number."""
    with speaking(code):
        for size in (one for one in SIZES if one.kind != CARD):
            for car in (Car(), empty("My car")):
                laid_out(blank, html(car, units.METRIC, size))
                high = "els => els.map((e) => Math.round(e.getBoundingClientRect().height))"
                heights = blank.locator(".sheet-spot").evaluate_all(high)
                assert len(heights) == 4 and len(set(heights)) == 1


@pytest.mark.parametrize("code", NAMES)
@pytest.mark.parametrize("system", units.SYSTEMS)
def test_the_names_of_springs_are_broken_in_no_table_while_another_holds_them(
    code: str, system: str
) -> None:
    """Front and rear one below the other have more room for them than together."""
    with speaking(code):
        made = planned(owned(), system, BY_KEY["pocket"])
    (springs,) = (piece for page in made.pages for piece in page.pieces if piece.key == "springs")
    assert not springs.squeezed


@pytest.mark.parametrize("code", NAMES)
def test_a_second_side_says_all_that_the_first_does_of_the_car(blank: Page, code: str) -> None:
    """Whose it is and when it was printed: of a long name as much as that leaves room for."""
    two = BY_KEY["two"]
    for car in (Car(), FULL):
        with speaking(code):
            content = sheet(car, units.METRIC)
            laid_out(blank, html(car, units.METRIC, two))
            line = sheet_heading(content, two, TODAY).lines[0]
        shown = blank.locator(".again p").inner_text()
        name, _, rest = shown.partition(" · ")
        assert rest == line and (name == car.name or name.endswith("…"))
        assert blank.locator(".again p").evaluate("(e) => e.scrollWidth <= e.clientWidth")


def test_a_number_for_both_ends_stands_between_them(blank: Page) -> None:
    laid_out(blank, html(Car(), units.METRIC, BY_KEY["build"]))
    for fact in blank.locator(".as-fact[colspan='2']").all():
        assert fact.evaluate("(e) => getComputedStyle(e).textAlign") == "center"
    assert blank.locator(".as-fact[colspan='2']").count() == 2


def test_every_cell_to_write_in_has_its_lines(blank: Page) -> None:
    """Of a spring about which nothing is known: rate, turns, preload and frequency, apart."""
    for size in ("one", "pocket"):
        laid_out(blank, html(empty("My car"), units.METRIC, BY_KEY[size]))
        cells = blank.locator('[data-block="springs"] tbody td:not(.as-name)')
        borders = "els => els.map((e) => parseFloat(getComputedStyle(e).borderLeftWidth) > 0)"
        assert cells.count() >= 6 and all(cells.evaluate_all(borders))


def test_a_head_takes_as_few_lines_as_there_is_room_for() -> None:
    text = "shaft in at closing"
    wide = [measure.width_in(text, lines, 9) for lines in (1, 2, 3, 4)]
    assert wide[0] == pytest.approx(measure.text_width(text, 9))
    assert wide[-1] == pytest.approx(measure.longest_word(text, 9))
    assert wide == sorted(wide, reverse=True)
    for lines, width in enumerate(wide, 1):
        assert measure.lines_in(text, width, 9) <= lines
    base = planned(Car(), units.METRIC, BY_KEY["one"]).pages[0].bands[0].columns[0][0]
    ((laid,),) = base.rows
    room = (width - 2 * measure.PAD_X for width in laid.widths)
    for head, width in zip(laid.grid.shown_heads, room, strict=True):
        assert measure.lines_in(head, width, measure.small(base.kind)) == 1


def test_the_ruler_has_its_length(blank: Page) -> None:
    laid_out(blank, html(Car(), units.METRIC, BY_KEY["one"]))
    ruler = blank.locator(".ruler path")
    units_long = ruler.evaluate("(e) => e.getBBox().width")
    scale = ruler.evaluate("(e) => e.getScreenCTM().a")
    assert units_long * scale / PX == pytest.approx(100, abs=0.05)


def test_styles_and_estimate_use_the_same_measures() -> None:
    css = (STATIC / "paper.css").read_text("utf-8")
    assert f"padding: {measure.PAD_Y}mm {measure.PAD_X}mm" in css
    assert f"padding-top: {measure.HEAD_PAD}mm" in css
    assert f"line-height: {measure.LINE}" in css
    assert f"line-height: {measure.TIGHT}" in css
    assert f"height: {measure.LOG_ROW}mm" in css
    assert f"margin-top: {GAP}mm" in css
    assert (
        f"padding: {BAR_PAD}mm {BAR_SIDE}mm; font-size: max({measure.SMALLEST}pt, {BAR_TYPE}em)"
        in css
    )
    assert f"gap: {COLUMN_GAP:g}mm" in css
    assert f"padding: {POCKET_MARGIN:g}mm" in css
    assert f"margin: {MARGIN:g}mm" in css
    for size in SIZES:
        for kind in size.types:
            assert f".type-{kind * 10:.0f} {{ font-size: {kind:g}pt; }}" in css
            assert kind >= measure.SMALLEST


def test_the_pocket_sheet_folds_into_a_booklet() -> None:
    """Pages that follow one another lie side by side, both the same way up, fold between them;
    the upper row is upside down, so its pages follow from right to left on the sheet."""
    upper, lower = PANELS
    assert sorted(upper + lower) == list(range(1, 9))
    spreads = {(2, 3), (4, 5), (6, 7), (8, 1)}  # left and right page of the open booklet
    seen = set(pairwise(lower)) | {(left, right) for right, left in pairwise(upper)}
    assert spreads <= seen
    # Round the sheet: from page to page one step, over the ends by the fold along the middle.
    ring = list(lower[1:]) + list(reversed(upper)) + [lower[0]]
    assert ring == list(range(1, 9))


@pytest.mark.parametrize("key", ["pocket", "pocket-letter"])
def test_cut_and_folds_lie_between_the_pages(blank: Page, key: str) -> None:
    laid_out(blank, html(Car(), units.METRIC, BY_KEY[key]))
    panels, cut = blank.evaluate(
        """() => [
          [...document.querySelectorAll(".panel")].map((p) => {
            const { left, right, top, bottom } = p.getBoundingClientRect();
            return { left, right, top, bottom, turned: getComputedStyle(p).transform };
          }),
          (({ left, right, top, bottom }) => ({ left, right, top, bottom }))(
            document.querySelector(".folds .cut").getBoundingClientRect()),
        ]"""
    )
    assert [p["turned"].startswith("matrix(-1") for p in panels] == [True] * 4 + [False] * 4
    assert abs(cut["left"] - panels[1]["left"]) < 1
    assert abs(cut["right"] - panels[2]["right"]) < 1
    assert abs((cut["top"] + cut["bottom"]) / 2 - panels[1]["bottom"]) < 1
    assert abs(panels[0]["bottom"] - panels[4]["top"]) < 1


@pytest.mark.parametrize("name", NAMED)
@pytest.mark.parametrize(
    "size", [one for one in SIZES if one.kind != CARD], ids=lambda one: one.key
)
def test_the_code_brings_the_car_back(name: str, size: Size) -> None:
    made = planned(NAMED[name], units.METRIC, size)
    codes = [piece.code for page in made.pages for piece in page.pieces if piece.code]
    if not codes:
        assert any("Code" in title for title in made.dropped)
        return
    (found,) = codes
    address, _, packed = printing.scanned(found.svg).partition("#")
    assert address == ADDRESS
    assert packed.startswith(link.FRAGMENT)
    back = link.unpack(packed)
    car = NAMED[name] if not found.lacks else link.slim(NAMED[name])
    assert back.name == car.name
    assert [bottle.name for bottle in back.bottles] == [bottle.name for bottle in car.bottles]
    assert found.module >= MODULE_LEAST
    assert found.side <= size.width


@pytest.mark.parametrize("cars", [8, pytest.param(40, marks=pytest.mark.wide("more random cars"))])
def test_the_code_of_any_car_is_printable_or_says_why_not(cars: int) -> None:
    @settings(max_examples=cars, deadline=None)
    @given(CARS)
    def holds_it(car: Car) -> None:
        (block,) = sheet(car, units.METRIC, ["code"]).blocks
        made = code(block.content, ADDRESS, 59.0)  # type: ignore[arg-type]
        if made is None:
            assert len(car.bottles) + len(car.springs) > 15
            return
        assert made.module >= MODULE_LEAST
        assert link.unpack(printing.scanned(made.svg)).name == car.name

    holds_it()


def check_pdf(pdf: bytes, car: Car, size: Size) -> None:
    """Page count as promised; fonts inside; all texts there, on the page, large enough, black."""
    made = planned(car, units.METRIC, size)
    pages = printing.pages(pdf)
    assert len(pages) == made.papers
    said: list[str] = []
    largest: list[float] = []
    for page in pages:
        width, height = float(page.mediabox.width), float(page.mediabox.height)
        assert printing.loose_fonts(page) == []
        texts = printing.texts(page)
        largest.append(max(one.size for one in texts))
        for printed in texts:
            assert 0 <= printed.x <= width
            assert 0 <= printed.y <= height
            assert printed.size >= measure.SMALLEST - 0.05, printed
        colours = printing.colours(page)
        assert all(len(set(colour)) == 1 for colour in colours)
        assert {colour[0] for colour in colours} <= {0.0, 1.0}
        said += printing.words(page)
    assert largest[0] == pytest.approx(name_kind(made.pages[0].kind), rel=5e-3)  # its own size
    whole = "".join(said)
    for piece in (piece for page in made.pages for piece in page.pieces):
        cells = [c for row in piece.rows for laid in row for r in laid.grid.rows for c in r]
        if piece.steps:
            lines = [laid.line for laid in piece.steps.lines]
            cells += [text for line in lines for text in (line.title, line.read, *line.facts)]
        for text in (piece.title.upper(), *cells, *piece.notes, *piece.lead, *piece.things):
            assert "".join(text.replace(units.NBSP, " ").split()) in whole, text


FULL_TOO = pytest.mark.wide("a full sheet is laid out above; here it is what becomes of letters")


@pytest.mark.parametrize("name", ["demo", pytest.param("full", marks=FULL_TOO)])
@pytest.mark.parametrize("size", SIZES, ids=lambda size: size.key)
def test_chromium_prints_it(blank: Page, name: str, size: Size) -> None:
    laid_out(blank, html(NAMED[name], units.METRIC, size))
    for paper in FORMATS[size.key]:
        pdf = blank.pdf(format=paper, prefer_css_page_size=size.folds)
        check_pdf(pdf, NAMED[name], size)


@pytest.mark.parametrize("name", ["demo", pytest.param("full", marks=FULL_TOO)])
def test_firefox_prints_it(tmp_path: Path, name: str) -> None:
    engines.need("Firefox")
    car = NAMED[name]
    with engines.firefox(tmp_path / "profile") as engine:
        for size in SIZES:
            file = tmp_path / f"{size.key}.html"
            file.write_text(document(html(car, units.METRIC, size)), "utf-8")
            engine.open(file.as_uri())
            for paper in FORMATS[size.key]:
                check_pdf(firefox_pdf(engine, paper, size.folds), car, size)


@pytest.mark.wide("its library has to be asked; two engines print it in the short tier")
def test_webkit_prints_it(tmp_path: Path) -> None:
    """On A4, on Letter and as cards."""
    engines.need("WebKit")
    for size in SIZES:
        file, pdf = tmp_path / f"{size.key}.html", tmp_path / f"{size.key}.pdf"
        file.write_text(document(html(Car(), units.METRIC, size)), "utf-8")
        for paper in FORMATS[size.key]:
            how = [file.as_uri(), str(pdf), paper, *(["across"] if size.folds else [])]
            program = [sys.executable, "-m", "tests.site.webkit_print", *how]
            subprocess.run(
                ["xvfb-run", "-a", *program],
                env=os.environ | engines.UNBOXED, check=True, timeout=120,
            )  # fmt: skip
            check_pdf(pdf.read_bytes(), Car(), size)


def firefox_pdf(engine: engines.Engine, paper: str, across: bool) -> bytes:
    width, height = CENTIMETRES[paper]
    edge = 0.0 if across else 0.8
    printed = engine.command(
        "WebDriver:Print",
        page={"width": width, "height": height},
        margin=dict.fromkeys(("top", "bottom", "left", "right"), edge),
        shrinkToFit=False,
    )
    return base64.b64decode(printed)


@pytest.mark.parametrize(
    ("path", "papers"),
    [("charts.html", 7), ("charts-pocket.html", 1), ("charts-pocket-letter.html", 1)]
    + [(f"sheet-{size.key}.html", 2 if size.key == "two" else 1) for size in SIZES],
)
def test_ready_pages_print_as_promised(
    browser: Browser, site: Site, path: str, papers: int
) -> None:
    with visiting(browser, viewport={"width": 1300, "height": 900}) as context:
        page = context.new_page()
        page.goto(site.url + path)
        over = page.evaluate(
            """() => [...document.querySelectorAll(".flat-sheet, .panel, .chart-page")]
              .map((e) => [e.scrollHeight - e.clientHeight, e.scrollWidth - e.clientWidth])"""
        )
        assert all(down <= 1 and across <= 1 for down, across in over)
        for paper in ("A4", "Letter"):
            pdf = page.pdf(format=paper, prefer_css_page_size="pocket" in path)
            pages = printing.pages(pdf)
            assert len(pages) == papers
            for printed in pages:
                assert printing.loose_fonts(printed) == []
                least = 7.95 if "charts" in path else measure.SMALLEST - 0.05
                assert min(text.size for text in printing.texts(printed)) >= least


@pytest.mark.parametrize("code", NAMES)
@pytest.mark.parametrize("size", [one for one in SIZES if one.folds], ids=lambda one: one.key)
def test_the_words_of_a_card_with_charts_end_above_the_number_of_the_page(
    browser: Browser, site: Site, size: Size, code: str
) -> None:
    with visiting(browser) as context:
        page = context.new_page()
        page.goto(site.url + path_in(f"charts-{size.key}.html", code))
        free = page.evaluate(
            """() => [...document.querySelectorAll(".panel:has(.how-to-read)")].map((panel) =>
              panel.querySelector(".page-number").offsetTop - Math.max(
                ...[...panel.querySelectorAll(".how-to-read, .card-paper")].map(
                  (e) => e.offsetTop + e.offsetHeight)))"""
        )
    assert len(free) == 4 and min(free) >= 0


@pytest.mark.parametrize("code", NAMES)
def test_the_words_below_a_chart_end_above_the_ruler(
    browser: Browser, site: Site, code: str
) -> None:
    with visiting(browser) as context:
        page = context.new_page()
        page.goto(site.url + path_in("charts.html", code))
        free = page.evaluate(
            """() => [...document.querySelectorAll(".chart-page")].map((chart) =>
              chart.querySelector(".sheet-foot").getBoundingClientRect().top
              - chart.querySelector(".how-to-read").getBoundingClientRect().bottom)"""
        )
    assert len(free) == 7 and min(free) >= 0


def test_the_page_lets_one_choose(page: Page, site: Site) -> None:
    page.goto(f"{site.url}#sheet")
    sheet_paper = page.locator("#sheet-paper")
    expect(sheet_paper.locator(".code")).to_have_count(1, timeout=PATIENCE)
    scanned = printing.scanned(sheet_paper.locator(".code").evaluate("(e) => e.outerHTML"))
    assert scanned.startswith(f"{site.url}#{link.FRAGMENT}")
    assert link.unpack(scanned).name == Car().name
    page.locator("#sheet-choice summary").click()
    page.get_by_label("Two sides").check()
    expect(sheet_paper.locator(".sheet-two")).to_have_count(1)
    page.locator('[data-block="code"] input').uncheck()
    expect(sheet_paper.locator(".code")).to_have_count(0)
    up = page.locator('#sheet-blocks [data-block="springs"] [data-do="block-up"]')
    up.click()
    expect(up).to_be_focused()
    blocks = 'els => [...new Set(els.map((e) => e.dataset.block))].join(" ")'
    order = page.locator("#sheet-blocks li")
    expect(order.nth(3)).to_have_attribute("data-block", "springs")
    expect(sheet_paper.locator(".piece").nth(3)).to_have_attribute("data-block", "springs")
    before = sheet_paper.locator(".piece").evaluate_all(blocks)
    page.reload()
    expect(sheet_paper.locator(".sheet-two")).to_have_count(1, timeout=PATIENCE)
    assert sheet_paper.locator(".piece").evaluate_all(blocks) == before
    page.locator("#sheet-choice summary").click()
    page.get_by_text("Back to the usual sheet").click()
    expect(sheet_paper.locator(".sheet-one .code")).to_have_count(1)


def test_the_pdf_task_prints_tagged_files_the_same_each_time_and_a_page_links_them(
    dist: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert {f"{name}.html" for name in papers.PAGES} <= {f.name for f in dist.iterdir()}
    monkeypatch.setattr(papers, "PAGES", {"sheet-pocket-letter": ("Letter",)})
    printed = []
    for _ in range(2):
        printed.append(in_a_thread(papers.printed, dist, "2026-11-25"))
        second = int(time.time())
        while int(time.time()) == second:  # the time of printing, to the second, could differ
            time.sleep(0.05)
    assert printed[0] == printed[1]
    assert list(printed[0]) == [f"pdf/sheet-pocket-letter{n}.pdf" for n in ("", ".de", ".es")]
    for content, spoken in zip(printed[0].values(), NAMES, strict=True):
        assert b"D:20261125000000" in content
        assert len(printing.pages(content)) == 1
        # ISO 32000-1, 14.7 and 14.9.2: a tagged file says so, and its language.
        root = printing.catalogue(content)
        assert root["/MarkInfo"]["/Marked"]
        assert root["/Lang"] == spoken
        with speaking(spoken):
            size = BY_KEY["pocket-letter"].title
            assert printing.title(content) == f"{tr('Demo car: {size}', size=size)} - Damper bench"
    info, files = assemble(npm_packages(), "2026-11-25", printed[0])
    assert printed[0].items() <= files.items()
    assert info.pdfs == set(printed[0])
    assert b'href="pdf/sheet-pocket-letter.de.pdf"' in files["sheets.de.html"]
    assert b".pdf" not in files["sw.js"]


def in_a_thread(call: Callable[..., Any], *arguments: object) -> Any:
    """Playwright allows one start of itself in a thread, and the tests' own runs in this one."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(call, *arguments).result()


def test_where_the_names_of_tagged_elements_begin_is_no_difference() -> None:
    one, other = (b"<<(node%08d)(node%08d)(node%08d)>>" % n for n in ((44, 46, 45), (7, 10, 9)))
    assert papers.from_one(one) == papers.from_one(other)
    assert papers.from_one(one) == b"<<(node00000001)(node00000003)(node00000002)>>"
