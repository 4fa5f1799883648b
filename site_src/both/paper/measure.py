"""Estimated widths and line counts of texts, in mm.

The widths are those of Helvetica and its many relatives, plus a margin: all the typefaces that
`paper.css` names have them. It repeats the other measures; a test compares with real browsers.
"""

import math
import unicodedata
from collections.abc import Iterable
from functools import lru_cache

POINT = 25.4 / 72
SMALLEST = 8.5  # pt: the smallest type on paper
LINE = 1.15  # height of a line relative to the size of its type
TIGHT = 1.03  # the same in a table, whose lines are mostly numbers
PAD_X, PAD_Y = 0.8, 0.21  # free on each side within a cell
HEAD_PAD = 0.6  # the same above the head of a column
RULE = 0.27  # a line under a row; browsers make it one CSS pixel at least
LOG_ROW = 6.5
PIXEL = 25.4 / 96
_SPARE = 1.06
_BOLD = 1.09  # width of bold letters relative to plain ones
# Advance widths of Helvetica in thousandths of the size (Adobe's core font metrics, from memory).
_LETTERS = {
    letter: width
    for letters, width in (
        ("ijl'", 222), (" ,./:;ftI!|[]\u00a0", 278), ("-()r“”„", 333), ("°", 400),
        ("ckJsvxyz", 500), ("abdeghnopqu", 556), ("+=−×±<>~", 584), ("FTZ", 611),
        ("ABEKPSVXY&", 667), ("CDHNRUw", 722), ("GOQØ", 778), ("mM¼½¾⅛⅜⅝⅞", 840), ("%", 889),
        ("W", 944), ("…—@", 1015), ("·²³ß↑↓«»", 600), ("æ", 889), ("œюжшщф", 944),
    )
    for letter in letters
}  # fmt: skip
_USUAL, _SQUARE = 600, 1050  # other small letters; capitals, ideographs, most pictures
_ACCENT = 333


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a text of `size` pt on one line."""
    return _thousandths(text) / 1000 * size * POINT * _SPARE * (_BOLD if bold else 1.0)


@lru_cache(maxsize=10_000)
def _thousandths(text: str) -> int:
    return sum(map(_letter_width, text))


@lru_cache(maxsize=1000)
def _letter_width(letter: str) -> int:
    if letter in _LETTERS:
        return _LETTERS[letter]
    if letter.isascii():
        return 556 if letter.isdigit() else _USUAL
    bare = unicodedata.normalize("NFD", letter)[0]
    if bare != letter:  # an accent takes no room beside its letter, but more than an i
        return max(_ACCENT, _letter_width(bare))
    return _USUAL if letter.islower() or unicodedata.combining(letter) else _SQUARE


def small(size: float) -> float:
    """Type of heads and sentences on a sheet in type of `size` pt."""
    return max(SMALLEST, 0.8 * size)


def line_height(size: float) -> float:
    return size * POINT * LINE


def snapped(height: float) -> float:
    """The height as a browser gives it to a row of a table: whole pixels of CSS."""
    return math.ceil(height / PIXEL - 0.01) * PIXEL


def lines_in(text: str, width: float, size: float, bold: bool = False) -> int:
    """Number of lines of a text in a width; a word that is too long is broken anywhere."""
    return lines_of(((text, size, bold),), width)


def lines_of(texts: Iterable[tuple[str, float, bool]], width: float) -> int:
    """Number of lines of texts one behind another, each with its size and weight, in a width."""
    lines, used = 1, 0.0
    for text, size, bold in texts:
        space = text_width(" ", size, bold)
        for word in text.split(" "):
            wide = text_width(word, size, bold)
            if used and used + space + wide <= width:
                used += space + wide
                continue
            lines += 1 if used else 0
            whole = int(wide / width) if wide > width else 0
            # A broken word never quite fills its lines: one more for every eight.
            lines += whole + whole // 8
            used = wide - whole * width
    return lines


def longest_word(text: str, size: float, bold: bool = False) -> float:
    return max(text_width(word, size, bold) for word in text.split(" "))


def width_in(text: str, lines: int, size: float, bold: bool = False) -> float:
    """The least width in which a text takes so many lines at most, broken between its words."""
    words = text.split(" ")
    runs = (" ".join(words[a : b + 1]) for b in range(len(words)) for a in range(b + 1))
    least = longest_word(text, size, bold)
    widths = sorted(max(text_width(run, size, bold), least) + 1e-6 for run in runs)
    return next(wide for wide in widths if lines_in(text, wide, size, bold) <= lines)


def clipped(text: str, width: float, size: float, bold: bool, lines: int) -> str:
    """The text, or as much of it as so many lines hold unbroken, with dots that say so."""

    def fits(shown: str) -> bool:
        whole = longest_word(shown, size, bold) <= width
        return whole and lines_in(shown, width, size, bold) <= lines

    if fits(text):
        return text
    while text and not fits(f"{text}…"):
        text = text[:-1].rstrip()
    return f"{text}…"
