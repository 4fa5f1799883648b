"""Pictures of every page at three widths in three looks, and as printed, for people to look at."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from site_src.build.browser import launch
from site_src.build.server import serving

WIDTHS = {360: 780, 768: 1024, 1280: 900}  # px wide: px high
LOOKS = ("day", "sun", "night")  # the first is the look of a device that is not dark
CHOOSE = "(look) => localStorage.setItem('damper-bench-look', look)"
PATIENCE = 120_000  # ms
PAGES = "() => [...document.querySelectorAll('[data-page]')].map((page) => page.dataset.page)"

# A picture of the whole page includes parts that nobody has scrolled to, which do not load alone.
DRAWINGS = """() => Promise.all([...document.querySelectorAll(".open img")].map((drawing) => {
  drawing.loading = "eager";
  return drawing.decode();
}))"""


def take(dist: Path, out: Path) -> list[Path]:
    """Take a picture of each page of the site in `dist` into the folder `out`."""
    out.mkdir(parents=True, exist_ok=True)
    with serving(dist) as address, sync_playwright() as playwright:
        browser = launch(playwright)
        return [
            picture
            for width in WIDTHS
            for look in LOOKS
            for picture in _pages(browser, address, out, width, look)
        ]


def _pages(browser: Browser, address: str, out: Path, width: int, look: str) -> list[Path]:
    taken = []
    with browser.new_context(
        viewport={"width": width, "height": WIDTHS[width]},
        device_scale_factor=2 if width < 700 else 1,
    ) as context:
        page = context.new_page()
        page.goto(f"{address}licences.html")
        page.evaluate(CHOOSE, look)
        _open(page, address)
        for name in page.evaluate(PAGES):
            page.goto(f"{address}#{name}")
            page.wait_for_timeout(400)
            page.locator(".open .paper .sheet, .open:not(:has(.paper))").first.wait_for()
            page.evaluate(DRAWINGS)
            path = out / f"{name}-{width}-{look}.png"
            page.screenshot(path=path, full_page=True)
            taken.append(path)
            if width == max(WIDTHS) and look == LOOKS[0]:
                taken.append(_print(page, out / f"{name}.pdf"))
    return taken


def _open(page: Page, address: str) -> None:
    page.set_default_timeout(PATIENCE)
    page.goto(address)
    page.locator("html[data-engine=live]").wait_for(state="attached")


def _print(page: Page, path: Path) -> Path:
    page.pdf(path=path, format="A4", prefer_css_page_size=False)
    return path
