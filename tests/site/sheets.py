"""Sheets laid out in a browser: held against what was planned for them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from calc.model.car import Car
from calc.sheet.blocks import Sheet, sheet
from site_src.both.fragment import plan_html, sheet_heading, sheet_html
from site_src.both.paper.layout import Plan, plan
from site_src.both.paper.sizes import SIZES, Size
from site_src.build import assemble

STATIC = Path(__file__).parents[2] / "site_src" / "static"
MADE = "Version 0123456789 of 2026-11-25."
TODAY = "2026-11-25"
ADDRESS = "https://bench.example.org/garage/index.html"
PX = 96 / 25.4  # CSS pixels in a millimetre
BROKEN = """() => {
  const found = [], range = document.createRange();
  const walker = document.createTreeWalker(document.querySelector(".sheet"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode;
    for (const word of node.data.matchAll(/\\S+/g)) {
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const tops = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
      if (tops.size > 1 && !word[0].startsWith("W") && !word[0].includes("_")) found.push(word[0]);
    }
  }
  return found;
}"""
MEASURE = """(px) => [...document.querySelectorAll(".flat-sheet, .panel")].map((page) => {
  const frame = page.getBoundingClientRect();
  const inside = (box) => box.left > frame.left - 1 && box.right < frame.right + 1
    && box.top > frame.top - 1 && box.bottom < frame.bottom + 1;
  const all = [...page.querySelectorAll("*")];
  const foot = page.querySelector(".sheet-foot, .page-number");
  const bands = [...page.querySelectorAll(".sheet-band")];
  return {
    number: Number(page.dataset.pageNumber ?? 0),
    outside: all.filter((e) => !inside(e.getBoundingClientRect())).map((e) => e.outerHTML),
    cut: all.filter((e) => e.matches("th, td, h2, h3, li, p") && e.scrollWidth > e.clientWidth + 1)
      .map((e) => e.textContent),
    bottom: Math.max(0, ...bands.map((e) => e.offsetTop + e.offsetHeight)) / px,
    room: foot.offsetTop / px,
    head: (page.querySelector(".sheet-head")?.offsetHeight ?? 0) / px,
    pieces: [...page.querySelectorAll(".piece")].map((e) => e.offsetHeight / px),
  };
})"""


def document(body: str) -> str:
    """A page with the styles of the site and nothing else."""
    paper, printed = ((STATIC / name).read_text("utf-8") for name in ("paper.css", "print.css"))
    return (
        f"<!doctype html><meta charset=utf-8><style>{assemble.style().decode()}{paper}</style>"
        f"<style media=print>{printed}</style><body><main class=paper>{body}</main>"
    )


def planned(car: Car, system: str, size: Size) -> Plan:
    return _planned(sheet(car, system, None, size.kind), size)[0]


def _planned(content: Sheet, size: Size) -> tuple[Plan, str]:
    """The plan of a sheet, and the sheet."""
    heading = sheet_heading(content, size, TODAY)
    made = plan(content, size, heading, ADDRESS)
    return made, plan_html(made, heading, MADE)


def html(car: Car, system: str, size: Size) -> str:
    return sheet_html(car, system, MADE, size=size.key, address=ADDRESS, today=TODAY)


def laid_out(page: Page, body: str) -> list[dict[str, Any]]:
    page.evaluate("(html) => { document.querySelector('main').innerHTML = html }", body)
    found: list[dict[str, Any]] = page.evaluate(MEASURE, PX)
    return found


def holds(page: Page, car: Car, system: str, size: Size) -> Plan:
    """Assert that the browser needs no more room than was planned; nothing is cut or outside."""
    return _holds(page, sheet(car, system, None, size.kind), size)


def all_hold(page: Page, car: Car, system: str) -> list[Plan]:
    """Assert that the sheets of a car hold in every size; their blocks are asked once."""
    contents = {kind: sheet(car, system, None, kind) for kind in {size.kind for size in SIZES}}
    return [_holds(page, contents[size.kind], size) for size in SIZES]


def _holds(page: Page, content: Sheet, size: Size) -> Plan:
    made, body = _planned(content, size)
    shown = laid_out(page, body)
    assert len(shown) == (8 if size.folds else len(made.pages))
    for number, page_shown in enumerate(shown):
        planned_page = made.pages[(page_shown["number"] or number + 1) - 1]
        assert page_shown["outside"] == []
        assert page_shown["cut"] == []
        expected = [piece.height for piece in planned_page.pieces]
        for real, estimate in zip(page_shown["pieces"], expected, strict=True):
            assert real <= estimate + 0.15
        assert page_shown["bottom"] <= page_shown["room"] + 0.3
    return made
