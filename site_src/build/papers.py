"""The ready pages as PDF, printed by a browser.

A separate task: a build needs no browser, and its bytes depend on none. One release of a browser
prints the same bytes each time, apart from the time of printing, which is replaced, and where the
names of tagged elements begin, which depends on how busy it was: they are counted from 1. The files
are tagged, and say their language and title, so that they can be read aloud.
"""

from __future__ import annotations

import re
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from calc.language import NAMES
from site_src.build.browser import launch
from site_src.build.server import serving
from site_src.pages.languages import path_in
from site_src.pages.ready import PDF, pdf_name

# Page on the site -> the papers it is printed on.
PAGES = {
    "sheet-one": ("A4", "Letter"),
    "sheet-two": ("A4", "Letter"),
    "sheet-pocket": ("A4",),
    "sheet-pocket-letter": ("Letter",),
    "sheet-build": ("A4", "Letter"),
    "charts": ("A4", "Letter"),
    "charts-pocket": ("A4",),
    "charts-pocket-letter": ("Letter",),
}
_TIME = re.compile(rb"(?<=Date \(D:)\d{14}")  # of making and of changing: ISO 32000-1, 14.3.3
_ELEMENT = re.compile(rb"(?<=node)\d{8}")  # as many digits again: the file has places by bytes


def printed(dist: Path, date: str) -> dict[str, bytes]:
    """The ready pages of the site in `dist`, printed in each language: path in the site -> PDF,
    dated YYYY-MM-DD."""
    with serving(dist) as address, sync_playwright() as playwright:
        browser = launch(playwright)
        return {
            f"{PDF}/{pdf_name(name, paper, code)}": _print(
                browser, address + path_in(f"{name}.html", code), paper, "pocket" in name, date
            )
            for name, papers in PAGES.items()
            for paper in papers
            for code in NAMES
        }


def _print(browser: Browser, address: str, paper: str, across: bool, date: str) -> bytes:
    with browser.new_context(service_workers="block") as context:
        page = context.new_page()
        page.goto(address)
        content = page.pdf(format=paper, prefer_css_page_size=across, tagged=True)
    return from_one(_TIME.sub(date.replace("-", "").encode() + b"000000", content))


def from_one(content: bytes) -> bytes:
    """The file with its tagged elements named in their order from 1."""
    names = {old: n for n, old in enumerate(sorted(set(_ELEMENT.findall(content))), 1)}
    return _ELEMENT.sub(lambda found: b"%08d" % names[found[0]], content)
