"""Pictures beside the page: each in a file of its own, so that the page need not carry them all."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from html import escape, unescape

from calc.language import ENGLISH, spoken
from site_src.pages.drawing import draw

FOLDER = "drawings"
_SVG = re.compile(r"<svg .*?</svg>", re.DOTALL)
# What reads a plot and what writes to the car: neither can before the page is live.
_IDLE = re.compile(
    r'<input class="slide"[^>]*>|<p class="(?:readout|offer)".*?</p>'
    r'|<details class="as-table".*?</details>',
    re.DOTALL,
)
_PARTS = re.compile(
    r'width="(?P<width>\d+)" height="(?P<height>\d+)".*?'
    r"<title [^>]*>(?P<title>.*?)</title><desc [^>]*>(?P<says>.*?)</desc>",
    re.DOTALL,
)


@dataclass(frozen=True)
class Picture:
    """An SVG in a file: where it is, how large, and what it shows in words."""

    name: str
    src: str
    width: str
    height: str
    title: str
    says: str
    svg: str

    def image(self, says: str) -> str:
        """The element that shows it, `says` in words."""
        size = f'width="{self.width}" height="{self.height}"'
        return f'<img class="drawn" src="{self.src}" {size} alt="{escape(says)}" loading="lazy">'


def picture(name: str, svg: str) -> Picture:
    """An SVG that says its size, its title and its words, as a file in the language spoken."""
    found = _PARTS.search(svg)
    if found is None:
        raise ValueError(f"{name}: the picture does not say what it shows")
    own = "" if spoken().code == ENGLISH else f"{spoken().code}/"
    parts = {key: unescape(text) for key, text in found.groupdict().items()}
    return Picture(name, f"{FOLDER}/{own}{name}.svg", svg=svg, **parts)


def drawings(names: Iterable[str]) -> list[Picture]:
    """The drawings of these names, each once, in the order of the names."""
    return [picture(name, draw(name)) for name in dict.fromkeys(names) if name]


def at_rest(html: str, name: str) -> tuple[str, list[Picture]]:
    """The HTML of an answer as it stands in the page before it is live, and the pictures in it:
    with an image in place of every SVG, and without what does nothing yet."""
    html = _IDLE.sub("", html)
    taken = [picture(f"{name}-{n}", svg) for n, svg in enumerate(_SVG.findall(html))]
    images = iter([one.image(f"{one.title}. {one.says}") for one in taken])
    return _SVG.sub(lambda _: next(images), html), taken


def files(pictures: Iterable[Picture]) -> Mapping[str, bytes]:
    """Path in the site -> content."""
    return {one.src: one.svg.encode() for one in pictures}
