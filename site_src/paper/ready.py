"""Pages that are ready to print: sheets of the demo car in every size."""

from collections.abc import Mapping
from typing import Any

from calc import units
from calc.car import Car
from calc.sheet import BLOCKS
from site_src.build.info import BuildInfo
from site_src.fragment import ENVIRONMENT, sheet_html
from site_src.paper.sizes import SIZES


def choices() -> dict[str, Any]:
    """What the page of the sheet offers to choose from."""
    return {"sheet_sizes": SIZES, "sheet_blocks": BLOCKS}


def pages(build: BuildInfo, made: str) -> Mapping[str, str]:
    """Path in the site -> text of every ready page."""
    found = {}
    for size in SIZES:
        body = sheet_html(Car(), units.METRIC, made, size=size.key)
        found[f"sheet-{size.key}.html"] = _page(build, f"Demo car: {size.title}", body)
    links = [{"to": f"sheet-{size.key}.html", "title": size.title} for size in SIZES]
    found["sheets.html"] = ENVIRONMENT.get_template("ready.html").render(build=build, links=links)
    return found


def _page(build: BuildInfo, title: str, body: str) -> str:
    return ENVIRONMENT.get_template("paper_page.html").render(build=build, title=title, body=body)
