"""Pages ready to print: sheets of the demo car in every size, and the charts."""

from collections.abc import Mapping
from typing import Any

from calc import units
from calc.language import spoken, tr
from calc.model.car import demo
from calc.sheet.blocks import BLOCKS
from site_src.both.fragment import sheet_html
from site_src.both.paper.folds import folds
from site_src.both.paper.sizes import PANELS, SIZES, Size
from site_src.pages import languages
from site_src.pages.charts import book, draw
from site_src.pages.environment import ENVIRONMENT
from site_src.pages.info import BuildInfo

PDF = "pdf"
"""The folder of the pages printed to files, where a site has them."""


def pdf_name(page: str, paper: str, code: str) -> str:
    """File of a page printed on a paper in a language; a card is folded from one paper only."""
    name = page if "pocket" in page else f"{page}-{paper.lower()}"
    return languages.path_in(f"{name}.html", code).removesuffix(".html") + ".pdf"


def choices() -> dict[str, Any]:
    """The options on the page of the sheet."""
    return {"sheet_sizes": SIZES, "sheet_blocks": BLOCKS}


def pages(build: BuildInfo, made: str) -> Mapping[str, str]:
    """Path in the site -> text of every ready page."""
    found = {}
    for size in SIZES:
        body = sheet_html(demo(), units.METRIC, made, size=size.key)
        name = f"sheet-{size.key}.html"
        found[name] = _page(build, name, tr("Demo car: {size}", size=size.title), body)
    body = _render(
        "charts.html",
        charts=book.charts(draw.PAGE),
        general=_general(),
        any_size=tr(book.ANY_SIZE),
        made=made,
    )
    name = "charts.html"
    found[name] = _page(build, name, tr("Charts that work with a ruler"), body)
    for size in SIZES:
        if size.paper:
            name = f"charts-{size.key}.html"
            found[name] = _page(
                build, name, tr("Charts. {size}", size=size.title), _booklet(size, made)
            )
    links = [(f"sheet-{size.key}", size.title) for size in SIZES]
    links.append(("charts", tr("Charts that work with a ruler, one per page")))
    links += [
        (f"charts-{size.key}", tr("Charts. {size}", size=size.title))
        for size in SIZES
        if size.folds
    ]
    rows = [(f"{page}.html", title, _pdfs(build, page)) for page, title in links]
    name = "sheets.html"
    found[name] = _render("ready.html", build=build, rows=rows, **languages.here(name))
    return found


def _pdfs(build: BuildInfo, page: str) -> list[tuple[str, str]]:
    """(paper, address) of the page's files in the language spoken, where the site has them."""
    papers = {paper: f"{PDF}/{pdf_name(page, paper, spoken().code)}" for paper in ("A4", "Letter")}
    found = {path: paper for paper, path in papers.items() if path in build.pdfs}
    return [("" if "pocket" in page else paper, path) for path, paper in found.items()]


def _booklet(size: Size, made: str) -> str:
    return _render(
        "charts_pocket.html",
        size=size,
        panels=PANELS,
        pages=book.pocket_pages(draw.POCKET),
        general=_general(),
        folds=folds(*size.paper) if size.paper else "",
        made=made,
    )


def _general() -> tuple[str, ...]:
    return tuple(map(tr, book.GENERAL))


def _render(template: str, **given: Any) -> str:
    return ENVIRONMENT.get_template(template).render(**given)


def _page(build: BuildInfo, path: str, title: str, body: str) -> str:
    here = languages.here(path)
    return _render("paper_page.html", build=build, title=title, body=body, **here)
