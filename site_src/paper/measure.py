"""How wide texts are and how many lines they take, by estimate; how tables share a width. In mm.

The estimate is that of a wide typeface, so what is said to fit fits in the usual narrower ones too.
`paper.css` holds the same measures; a test compares with what browsers really do.
"""

from collections.abc import Sequence

from calc.answer import Table
from site_src.ink import width_of

POINT = 25.4 / 72
SMALLEST = 8.0  # pt: the smallest type on paper
LINE = 1.2  # height of a line by the size of its type
PAD_X, PAD_Y = 0.8, 0.3  # free on each side within a cell
RULE = 0.27  # a line under a row; browsers make it one CSS pixel at least
PENCIL_ROW = 6.5
PENCIL_WIDTH, PENCIL_MOST = 7.0, 16.0
_FIRST_LEAST = 16.0  # a first column is not squeezed below this; its texts wrap
_WIDER = 1.08  # widths of the widest usual typeface by those of `ink`
_BOLD = 1.1


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of a text of `size` pt on one line."""
    return width_of(text, size * POINT) * _WIDER * (_BOLD if bold else 1.0)


def line_height(size: float) -> float:
    return size * POINT * LINE


def lines_in(text: str, width: float, size: float, bold: bool = False) -> int:
    """Lines that a text takes in a width; a word that is too long is broken anywhere."""
    lines, used = 1, 0.0
    space = text_width(" ", size, bold)
    for word in text.split(" "):
        wide = text_width(word, size, bold)
        if used and used + space + wide <= width:
            used += space + wide
            continue
        lines += 1 if used else 0
        whole = int(wide / width) if wide > width else 0
        # A broken word never fills its lines quite: one more for every eight.
        lines += whole + whole // 8
        used = wide - whole * width
    return lines


def is_blank(table: Table, column: int) -> bool:
    """Whether a column is there for the pencil."""
    return bool(table.rows) and not any(row[column] for row in table.rows)


def needs(table: Table, size: float, whole_heads: bool = False) -> list[float]:
    """The width that each column takes with its cells on one line, its head whole or by words."""
    widths = []
    for column, head in enumerate(table.heads):
        cells = max(
            (text_width(row[column], size, n == table.mark) for n, row in enumerate(table.rows)),
            default=0.0,
        )
        parts = [head] if whole_heads else head.split(" ")
        words = max(text_width(part, SMALLEST) for part in parts)
        wide = max(cells, words) + 2 * PAD_X
        widths.append(max(wide, PENCIL_WIDTH) if is_blank(table, column) else wide)
    return widths


def narrow_enough(table: Table, size: float, width: float) -> list[Table]:
    """The table, or where it is too wide several that repeat its first column, one below another.

    A column that is too wide even by itself stands alone, and its texts wrap.
    """
    first, *others = needs(table, size)
    room = width - min(first, max(_FIRST_LEAST, 0.3 * width))
    groups: list[list[int]] = [[]]
    used = 0.0
    for column, wide in enumerate(others, 1):
        if groups[-1] and used + wide > room:
            groups.append([])
            used = 0.0
        groups[-1].append(column)
        used += wide
    return [_columns(table, [0, *group]) for group in groups]


def _columns(table: Table, kept: Sequence[int]) -> Table:
    rows = tuple(tuple(row[column] for column in kept) for row in table.rows)
    return Table(table.title, tuple(table.heads[column] for column in kept), rows, table.mark)


def share_out(table: Table, size: float, width: float) -> list[float]:
    """Widths of the columns that fill `width`: what is over goes to the pencil, then to all."""
    for whole_heads in (True, False):
        first, *others = needs(table, size, whole_heads)
        left = width - first - sum(others)
        if left >= 0:
            break
    if left < 0:  # the first column wraps; failing that, the others do too
        first = max(first + left, min(first, 0.3 * width))
        over = sum(others) / (width - first)
        return [first, *(wide / max(over, 1.0) for wide in others)]
    widths = [first, *others]
    blank = [column for column in range(len(widths)) if is_blank(table, column)]
    if 0 < len(blank) < len(widths):
        for column in blank:
            more = min(left / len(blank), PENCIL_MOST - PENCIL_WIDTH)
            widths[column] += more
            left -= more
    return [wide + left / len(widths) for wide in widths]


def row_heights(table: Table, widths: Sequence[float], size: float) -> list[float]:
    """Height of each row, its rule included."""
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


def head_height(table: Table, widths: Sequence[float]) -> float:
    lines = max(
        lines_in(head, wide - 2 * PAD_X, SMALLEST)
        for head, wide in zip(table.heads, widths, strict=True)
    )
    return lines * line_height(SMALLEST) + 2 * PAD_Y + RULE
