"""The elements of plots and drawings: SVG as text, in the ink of the page.

Attributes only, never a style attribute: the content security policy of the site forbids it.
`currentColor` everywhere, so that a dark screen and black on paper both work.
"""

import math
import re
from dataclasses import dataclass
from html import escape

SIZE = 12.0  # px of a text at a width of 360: 12 px on a phone, about 8 pt on a printed card
# Rough widths of sans-serif letters in parts of the size, wide enough for the usual typefaces.
_NARROW, _WIDE = frozenset("iljtfrI.,:;'|!()[]/ \u00a0"), frozenset("mwMW@%—")
_NOT_XML = re.compile(r"[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_ID = re.compile(r"[^A-Za-z0-9_-]+")


def clean(text: str) -> str:
    """Text escaped for an element or an attribute."""
    return escape(_NOT_XML.sub("", text))


def number(value: float) -> str:
    """A coordinate with no more digits than a screen can show."""
    text = f"{value:.1f}"
    return text[:-2] if text.endswith(".0") else text


def width_of(text: str, size: float = SIZE) -> float:
    """Estimated width of a text in px, to the bit the same in every Python: `sum` is not."""
    return size * math.fsum(map(_letter_width, text))


def _letter_width(letter: str) -> float:
    if letter in _NARROW:
        return 0.34
    if letter in _WIDE:
        return 0.9
    if ord(letter) > 0x2E80:  # ideographs take a full square
        return 1.05
    return 0.7 if letter.isupper() else 0.59


def fit(text: str, width: float, size: float = SIZE) -> str:
    """The text, cut with an ellipsis if it would be wider than `width`."""
    text = _NOT_XML.sub("", text)
    if width_of(text, size) <= width:
        return text
    while text and width_of(text + "…", size) > width:
        text = text[: min(len(text) - 1, int(width / size / 0.3))]
    return text + "…"


def label(x: float, y: float, text: str, anchor: str = "start", size: float = SIZE) -> str:
    """A line of text, its baseline at y; `anchor` is start, middle or end."""
    at = "" if anchor == "start" else f' text-anchor="{anchor}"'
    big = "" if size == SIZE else f' font-size="{number(size)}"'
    return f'<text x="{number(x)}" y="{number(y)}"{at}{big}>{clean(text)}</text>'


@dataclass(frozen=True)
class Picture:
    """An SVG, with its size in px, its title and its text alternative."""

    width: int
    height: int
    title: str
    says: str
    svg: str


def picture(
    key: str, width: int, height: int, title: str, says: str, body: str, kind: str
) -> Picture:
    """A whole SVG with its title and text alternative; `key` keeps the ids of a page apart."""
    name = f"{kind}-{_NOT_ID.sub('-', key)}"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="{kind}" viewBox="0 0 {width} {height}"'
        f' width="{width}" height="{height}" role="img"'
        f' aria-labelledby="{name}-title" aria-describedby="{name}-desc">'
        f'<title id="{name}-title">{clean(title)}</title>'
        f'<desc id="{name}-desc">{clean(says)}</desc>'
        f'<g fill="none" stroke="none" color="currentColor" font-family="system-ui, sans-serif"'
        f' font-size="{number(SIZE)}">{body}</g></svg>'
    )
    return Picture(width, height, title, says, svg)
