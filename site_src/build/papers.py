"""The ready pages as PDF, printed by a browser.

A separate task: a build needs no browser, and its bytes depend on none. One release of a browser
prints the same bytes each time, apart from the time of printing, which is replaced.
"""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from site_src.build.browser import launch
from site_src.build.server import serving

FOLDER = "pdf"
# Page on the site -> the papers it is printed on.
PAGES = {
    "sheet-one": ("A4", "Letter"),
    "sheet-two": ("A4", "Letter"),
    "sheet-pocket": ("A4",),
    "sheet-pocket-letter": ("Letter",),
    "charts": ("A4", "Letter"),
    "charts-pocket": ("A4",),
    "charts-pocket-letter": ("Letter",),
}
_TIME = re.compile(rb"(?<=Date \(D:)\d{14}")  # of making and of changing: ISO 32000-1, 14.3.3


def write(dist: Path, date: str) -> list[Path]:
    """Print the ready pages of the site in `dist` into its folder `pdf`, dated YYYY-MM-DD."""
    out = dist / FOLDER
    out.mkdir(exist_ok=True)
    with serving(dist) as address, sync_playwright() as playwright:
        browser = launch(playwright)
        return [
            _print(browser, f"{address}{name}.html", out, name, paper, date)
            for name, papers in PAGES.items()
            for paper in papers
        ]


def _print(browser: Browser, address: str, out: Path, name: str, paper: str, date: str) -> Path:
    file = out / (f"{name}.pdf" if "pocket" in name else f"{name}-{paper.lower()}.pdf")
    with browser.new_context(service_workers="block") as context:
        page = context.new_page()
        page.goto(address)
        content = page.pdf(format=paper, prefer_css_page_size="pocket" in name)
    file.write_bytes(_TIME.sub(date.replace("-", "").encode() + b"000000", content))
    return file
