"""Every sheet and card for six cars, in three languages and two systems of units, held against its
plan in a real browser: sides of paper, what is cut, outside or overlapping, sizes of type.

    python3 -m tests.bench.papers            the table, and whether anything is wrong
    python3 -m tests.bench.papers FOLDER     and a picture of each
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from calc import units
from calc.language import NAMES, speaking
from calc.model.car import Bottle, Car, Spring, empty, put
from site_src.both.paper.sizes import SIZES, Size
from site_src.build.browser import launch
from tests.owned import assumed_throughout, owned
from tests.site.printing import pages
from tests.site.sheets import BROKEN, PX, document, html, laid_out, planned

LONG = "Wwwwwwwwwwwwwwwwwwww WWWWWWWWWWWWWWWWWWW"


def ordinary() -> Car:
    """A car of its owner with four bottles and four springs; invented."""
    car = owned()
    bottles = [Bottle("", grade * 1e-6, 50e-6) for grade in (100, 250, 400, 600)]
    for path, value in (
        ("front.oil", 375e-6), ("rear.oil", 275e-6), ("front.spring_rate", 720.0),
        ("rear.spring_rate", 480.0), ("front.ride_height", 24e-3), ("front.wanted_height", 22e-3),
    ):  # fmt: skip
        car = put(car, path, value)
    return replace(car, bottles=tuple(bottles))


def full() -> Car:
    """Twenty bottles and twenty springs."""
    return replace(
        ordinary(),
        bottles=tuple(Bottle(f"cap {n}", (100 + 61 * n) * 1e-6, 5e-5) for n in range(20)),
        springs=tuple(
            Spring(f"{n} dots", 400.0 + 23 * n, (40 + n / 2) * 1e-3, (13 + n / 4) * 1e-3)
            for n in range(20)
        ),
    )


def long_names() -> Car:
    car = full()
    return replace(
        car,
        name=LONG,
        bottles=tuple(replace(one, name=LONG) for one in car.bottles[:6]),
        springs=tuple(replace(one, name=LONG) for one in car.springs[:6]),
    )


def extreme() -> Car:
    """Long numbers: a heavy car with thick oil and many turns."""
    car = ordinary()
    for path, value in (
        ("corners.front_left.load", 12.3456), ("corners.rear_left.load", 23.4567),
        ("corners.front_right.load", 12.4), ("corners.rear_right.load", 23.5),
        ("corners.front_left.collar", -13.37), ("front.oil", 100000e-6), ("rear.oil", 60000e-6),
        ("front.spring_rate", 12345.0), ("front.ride_height", 123.45e-3),
        ("front.wanted_height", 137.2e-3),
    ):  # fmt: skip
        car = put(car, path, value)
    bottles = tuple(Bottle("", grade * 1e-6, 5e-5) for grade in (50000, 80000, 100000, 200000))
    return replace(car, bottles=bottles)


CARS = {
    "demo": Car(),
    "empty": empty("My car"),
    "ordinary": ordinary(),
    "full": full(),
    "long names": long_names(),
    "extreme": extreme(),
    "assumed": assumed_throughout(replace(ordinary(), name="Guessed")),
}
OVERLAPS = """(px) => {
  const found = [];
  for (const page of document.querySelectorAll(".flat-sheet, .panel")) {
    const boxes = [...page.querySelectorAll(".piece, .sheet-head, .sheet-foot, .page-number")]
      .map((e) => [e.className, e.getBoundingClientRect()]);
    boxes.forEach(([name, a], n) => boxes.slice(n + 1).forEach(([other, b]) => {
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      const by = (high / px).toFixed(1);
      if (wide > 1 && high > 1.5) found.push(`${name} over ${other} by ${by} mm`);
    }));
    for (const cell of page.querySelectorAll("th, td, .sheet-bar, .sheet-spot, .sheet-lead")) {
      if (cell.scrollWidth > cell.clientWidth + 1) found.push(`cut: ${cell.textContent}`);
    }
  }
  return found;
}"""


@dataclass(frozen=True)
class Found:
    """One print: sides as planned and printed, smallest and largest type of keys and answers, what
    was shortened, and whatever is wrong."""

    planned: int
    printed: int
    types: tuple[float, ...]
    dropped: int
    wrong: tuple[str, ...]

    @property
    def line(self) -> str:
        kinds = sorted(set(self.types))
        shown = f"{kinds[0]:g}" if len(kinds) == 1 else f"{kinds[0]:g} to {kinds[-1]:g}"
        return f"{self.printed} | {shown} | {self.dropped} | {'; '.join(self.wrong) or 'nothing'}"


def look(page: Page, car: Car, system: str, size: Size, paper: str) -> Found:
    """Lay a sheet out, print it, and hold both against the plan."""
    made = planned(car, system, size)
    shown = laid_out(page, html(car, system, size))
    wrong = [f"outside: {one}" for each in shown for one in each["outside"]]
    wrong += page.evaluate(OVERLAPS, PX)
    wrong += [f"broken: {word}" for word in page.evaluate(BROKEN)]
    for each in shown:
        if each["bottom"] > each["room"] + 0.3:
            wrong.append(f"{each['bottom'] - each['room']:.1f} mm over the foot")
    pdf = page.pdf(format=paper, prefer_css_page_size=size.folds)
    kinds = tuple(one.kind for one in made.pages if one.bands)
    return Found(
        made.papers, len(pages(pdf)), kinds, len(made.dropped), tuple(dict.fromkeys(wrong))
    )


def papers_of(size: Size) -> tuple[str, ...]:
    """What a sheet is printed on; a card says itself."""
    return (size.from_paper,) if size.folds else ("A4", "Letter")


def main(folder: Path | None) -> Iterator[bool]:
    print("car | language | units | size | paper | sides | pt | left out | wrong")
    print("---|---|---|---|---|---|---|---|---")
    with sync_playwright() as playwright:
        browser = launch(playwright)
        page = browser.new_page(viewport={"width": 1300, "height": 1300})
        page.emulate_media(media="print")
        page.set_content(document(""))
        for (name, car), code, system, size in product(CARS.items(), NAMES, units.SYSTEMS, SIZES):
            with speaking(code):
                for paper in papers_of(size):
                    found = look(page, car, system, size, paper)
                    print(name, code, system, size.key, paper, found.line, sep=" | ", flush=True)
                    yield not found.wrong and found.planned == found.printed
            if folder:
                folder.mkdir(exist_ok=True)
                file = folder / f"{name}-{code}-{system}-{size.key}.png"
                page.locator(".sheet").screenshot(path=file)


if __name__ == "__main__":
    fine = list(main(Path(sys.argv[1]) if sys.argv[1:] else None))
    print(f"\n{len(fine)} prints, {fine.count(False)} with something wrong")
    sys.exit(fine.count(False) > 0)
