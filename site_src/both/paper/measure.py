"""Estimated widths and line counts of texts, and how tables share a width. In mm.

The widths are those of Helvetica and its many relatives, plus a margin: all the typefaces that
`paper.css` names have them. It repeats the other measures; a test compares with real browsers.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.answering.answer import Table

POINT = 25.4 / 72
SMALLEST = 8.0  # pt: the smallest type on paper
LINE = 1.15  # height of a line relative to the size of its type
PAD_X, PAD_Y = 0.8, 0.2  # free on each side within a cell
RULE = 0.27  # a line under a row; browsers make it one CSS pixel at least
PENCIL_ROW = 6.5
PENCIL_WIDTH, PENCIL_MOST = 7.0, 16.0
_LONGEST_WORD = 18.0  # a word wider than this may be broken
_NUMBER_STARTS = "0123456789+−.±"
_SPARE = 1.06
_BOLD = 1.09  # width of bold letters relative to plain ones
# Advance widths of Helvetica in thousandths of the size (Adobe's core font metrics, from memory).
_LETTERS = {
    letter: width
    for letters, width in (
        ("ijl'", 222), (" ,./:;ftI!|[]\u00a0", 278), ("-()r“”", 333), ("°", 400),
        ("ckJsvxyz", 500), ("+=−×±<>~", 584), ("FTZ", 611), ("ABEKPSVXY&", 667),
        ("CDHNRUw", 722), ("GOQ", 778), ("mM", 833), ("%", 889), ("W", 944), ("…—@", 1015),
    )
    for letter in letters
}  # fmt: skip
_USUAL, _SQUARE = 600, 1050  # other letters; ideographs and pictures, on a full square


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a text of `size` pt on one line."""
    return _thousandths(text) / 1000 * size * POINT * _SPARE * (_BOLD if bold else 1.0)


@lru_cache(maxsize=10_000)
def _thousandths(text: str) -> int:
    return sum(map(_letter_width, text))


def _letter_width(letter: str) -> int:
    if letter.isdigit() and letter.isascii():
        return 556
    return _LETTERS.get(letter, _SQUARE if ord(letter) > 0x2E80 else _USUAL)


def small(size: float) -> float:
    """Type of heads and sentences on a sheet in type of `size` pt."""
    return max(SMALLEST, 0.85 * size)


def line_height(size: float) -> float:
    return size * POINT * LINE


def lines_in(text: str, width: float, size: float, bold: bool = False) -> int:
    """Number of lines of a text in a width; a word that is too long is broken anywhere."""
    lines, used = 1, 0.0
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


def is_blank(table: Table, column: int) -> bool:
    """Whether a column is left for the pencil."""
    return bool(table.rows) and not any(row[column] for row in table.rows)


def is_words(table: Table, column: int) -> bool:
    """Whether a column contains words rather than numbers, to be aligned left."""
    cells = [row[column] for row in table.rows if row[column]]
    return 2 * sum(cell[0] not in _NUMBER_STARTS for cell in cells) > len(cells)


@dataclass(frozen=True)
class Limits:
    """Widths of a column: `least` with its texts wrapped, `most` with each on one line."""

    least: float
    most: float


def limits(table: Table, column: int, size: float, whole_head: bool = False) -> Limits:
    """Limits of the width of a column; with `whole_head` its head stays on one line too."""
    head = table.heads[column]
    words = [text_width(word, small(size)) for word in ([head] if whole_head else head.split(" "))]
    cells = [(row[column], number == table.mark) for number, row in enumerate(table.rows)]
    parts = [text_width(part, size, bold) for cell, bold in cells for part in cell.split(" ")]
    whole = [text_width(cell, size, bold) for cell, bold in cells]
    least = max(*words, min(max(parts, default=0.0), _LONGEST_WORD)) + 2 * PAD_X
    most = max(least, max(whole, default=0.0) + 2 * PAD_X)
    if is_blank(table, column):
        return Limits(max(least, PENCIL_WIDTH), max(most, PENCIL_WIDTH))
    return Limits(least, most)


def split_to_width(table: Table, size: float, width: float) -> list[Table]:
    """The table; if too wide, without its columns for the pencil; if still too wide, several tables
    that repeat its first column, one below another.

    A column that is too wide even by itself becomes a table of its own, with its texts wrapped.
    """
    least = [limits(table, column, size).least for column in range(len(table.heads))]
    if sum(least) <= width:
        return [table]
    kept = [n for n in range(1, len(least)) if not is_blank(table, n)] or [*range(1, len(least))]
    count = len(_groups(least, kept, width, len(kept)))
    groups = _groups(least, kept, width, -(-len(kept) // count))
    return [_columns(table, [0, *group]) for group in groups]


def _groups(
    least: Sequence[float], kept: Sequence[int], width: float, most: int
) -> list[list[int]]:
    """The columns in groups of at most `most` that fit beside the first."""
    groups: list[list[int]] = [[]]
    used = least[0]
    for column in kept:
        if groups[-1] and (used + least[column] > width or len(groups[-1]) == most):
            groups.append([])
            used = least[0]
        groups[-1].append(column)
        used += least[column]
    return groups


def _columns(table: Table, kept: Sequence[int]) -> Table:
    rows = tuple(tuple(row[column] for column in kept) for row in table.rows)
    return Table(table.title, tuple(table.heads[column] for column in kept), rows, table.mark)


def column_widths(table: Table, size: float, width: float) -> list[float]:
    """Widths that fill `width`: the widest columns shrink, those for the pencil get the rest."""
    columns = range(len(table.heads))
    for whole_heads in (True, False):
        bounds = [limits(table, column, size, whole_heads) for column in columns]
        if sum(bound.most for bound in bounds) <= width:
            break
    widths = _clamp_widths(bounds, width)
    left = max(width - sum(widths), 0.0)
    blank = [column for column in columns if is_blank(table, column)]
    if 0 < len(blank) < len(widths):
        for column in blank:
            more = min(left / len(blank), PENCIL_MOST - PENCIL_WIDTH)
            widths[column] += more
            left -= more
    over = max(sum(widths) / width, 1.0)
    return [wide / over + left / len(widths) for wide in widths]


def _clamp_widths(bounds: Sequence[Limits], width: float) -> list[float]:
    """Each column at its most, clamped to the cap that keeps the sum within `width`."""
    low, high = 0.0, max(bound.most for bound in bounds)
    for _ in range(40):
        cap = (low + high) / 2
        if sum(max(bound.least, min(bound.most, cap)) for bound in bounds) > width:
            high = cap
        else:
            low = cap
    if sum(bound.most for bound in bounds) <= width:
        low = math.inf
    return [max(bound.least, min(bound.most, low)) for bound in bounds]


def row_heights(table: Table, widths: Sequence[float], size: float) -> list[float]:
    """Height of each row, including its rule."""
    if all(is_blank(table, column) for column in range(len(widths))):
        return [PENCIL_ROW] * len(table.rows)
    room = [wide - 2 * PAD_X for wide in widths]
    return [
        max(lines_in(cell, wide, size) for cell, wide in zip(row, room, strict=True))
        * line_height(size)
        + 2 * PAD_Y
        + RULE * (3 if number == table.mark else 1)
        for number, row in enumerate(table.rows)
    ]


def head_height(table: Table, widths: Sequence[float], size: float) -> float:
    kind = small(size)
    lines = max(
        lines_in(head, wide - 2 * PAD_X, kind)
        for head, wide in zip(table.heads, widths, strict=True)
    )
    rules = 2 if all(is_blank(table, column) for column in range(len(widths))) else 1
    return lines * line_height(kind) + 2 * PAD_Y + rules * RULE
