"""Looks: contrast of every pair of colours, nothing beside the tokens, a choice that is kept.

Measured against Web Content Accessibility Guidelines (WCAG) 2.2, W3C Recommendation.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from site_src.build.assemble import STATIC, STYLES
from tests.site import access
from tests.site.hands import live, settings, visiting

LOOK = r'[^"]*/(?:look|head)\.js'  # alone, or with what else comes first


def background(page: Page) -> str:
    found: str = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
    return found


def test_the_look_is_one_touch_and_kept(browser: Browser, site: Any) -> None:
    """Chosen once it holds on every page, in other windows, and before the first paint."""
    with visiting(browser, color_scheme="light") as context:
        page, other = context.new_page(), context.new_page()
        access.start(page, site.url)
        live(page)
        other.goto(f"{site.url}licences.html")
        light = background(page)
        looks = settings(page).locator(".look label")
        looks.filter(has_text="Night").click()
        night = background(page)
        expect(other.locator("html")).to_have_attribute("data-look", "night")
        looks.filter(has_text="Sun").click()
        page.reload()
        expect(page.locator("html")).to_have_attribute("data-look", "sun")
        expect(page.locator("[name=look][value=sun]")).to_be_checked()
        sun = background(page)
        page.emulate_media(color_scheme="dark")
        assert background(page) == sun  # the sun is the sun, whatever the device thinks
        settings(page)
        looks.filter(has_text="As the device").click()
        dark = background(page)
        assert page.evaluate("localStorage.getItem('damper-bench-look')") == "device"
    assert night == dark
    assert len({light, dark, sun}) == 3


def test_the_look_is_settled_before_the_styles_come(dist: Path) -> None:
    """A script that neither waits nor lets the page be painted without it, before any style."""
    look = (STATIC / "head" / "look.js").read_text("utf-8")
    for file in [dist / "index.html", dist / "licences.html", *dist.glob("guides/*.html")]:
        head = file.read_text("utf-8").partition("</head>")[0]
        script = re.search(rf'<script src="({LOOK})"( data-said="[^"]*")?></script>', head)
        assert script, file
        assert look in (file.parent / script[1]).read_text("utf-8")
        assert script.start() < head.index('rel="stylesheet"')


# Tokens: their colours, pair by pair, by the definition of contrast in WCAG 2.2.
TEXT = [
    ("ink", "paper"),
    ("quiet", "paper"),
    ("stop", "paper"),
    ("ink", "typed"),
    ("quiet", "typed"),
    ("stop", "typed"),
    ("on-band", "band"),
    ("way", "band"),
    ("band", "act"),
    ("on-chosen", "chosen"),
    ("on-stop", "stop"),
    ("paper", "ink"),
    ("black", "white"),
    ("ink", "ground"),
    ("quiet", "ground"),
    ("stop", "ground"),
    ("ink", "soft"),
    ("quiet", "soft"),
    ("press", "paper"),
    ("press", "ground"),
    ("press", "soft"),
    ("on-press", "press"),
]
EDGES = [
    ("chosen", "soft"),
    ("ink", "paper"),
    ("quiet", "paper"),
    ("quiet", "typed"),
    ("on-band", "band"),
]
MARKS = [("mark", "paper"), ("mark", "ground"), ("mark", "band")]
OF_COLOUR = re.compile(r"--([\w-]+): (?:light-dark\((#\w{6}), (#\w{6})\)|(#\w{6}));")


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it: sRGB made linear, then weighted."""
    shares = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_what_the_guidelines_say_it_is() -> None:
    """WCAG 2.2 on contrast ratio: "Contrast ratios can range from 1 to 21". #767676 on white is the
    lightest grey that passes 4.5 : 1; tables of contrast print it as 4.54 : 1."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21, abs=1e-9)
    assert contrast("#777777", "#777777") == 1
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


def palettes() -> dict[str, dict[str, str]]:
    """Colours by look, as tokens.css says them; the sun's stand on those for light."""
    css = (STYLES / "tokens.css").read_text("utf-8")
    usual, _, sun = css.partition('[data-look="sun"]')
    rows = OF_COLOUR.findall(usual)
    light = {name: both or one for name, one, _, both in rows}
    dark = {name: both or two for name, _, two, both in rows}
    return {
        "light": light,
        "dark": dark,
        "sun": light | {r[0]: r[3] for r in OF_COLOUR.findall(sun)},
    }


@pytest.mark.parametrize("look", ["light", "dark", "sun"])
def test_tokens_have_contrast(look: str) -> None:
    """Text 4.5 : 1 (WCAG 1.4.3), edges of controls and marks 3 : 1 (1.4.11); in the sun text 7 : 1
    (1.4.6) and every line 4.5 : 1."""
    colours = palettes()[look]
    text, edge = (7, 4.5) if look == "sun" else (4.5, 3)
    lines = [("line", "paper")] if look == "sun" else []
    wanted = [(pair, text) for pair in TEXT]
    wanted += [(pair, edge) for pair in [*EDGES, *lines]] + [(pair, 3) for pair in MARKS]
    poor = {
        pair: round(contrast(*(colours[name] for name in pair)), 2)
        for pair, least in wanted
        if contrast(*(colours[name] for name in pair)) < least
    }
    assert poor == {}
    assert {name for pair, _ in wanted for name in pair} | {"line"} == set(colours)


@pytest.mark.parametrize("file", sorted(f for f in STYLES.glob("*.css") if f.stem != "tokens"))
def test_no_colour_and_no_size_of_type_outside_the_tokens(file: Path) -> None:
    css = re.sub(r"/\*.*?\*/", "", file.read_text("utf-8"), flags=re.DOTALL)
    stray = re.findall(r"#[0-9a-fA-F]{3,8}\b(?=[^{}]*[;}])|\b(?:rgb|hsl|oklch)a?\([^)]*\)", css)
    for what, value in re.findall(r"([\w-]+): ([^;{}]+);", css):
        sized = what in ("font-size", "font-weight", "line-height") and "var(" not in value
        lined = re.match(r"(border|outline)", what) and re.search(r"[1-9.]px", value)
        if (sized and value != "inherit") or (lined and what != "outline-offset"):
            stray.append(f"{what}: {value}")
    assert stray == []


def test_the_tool_of_these_tests_is_not_on_the_site(dist: Path) -> None:
    assert not [f for f in dist.rglob("*") if "axe" in f.name]
    assert not [f for f in dist.rglob("*.js") if b"axe-core" in f.read_bytes()]
