"""A block of a sheet, cut into pieces that stay together on paper, each with its height."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.answering.answer import Table
from calc.language import later, tr
from calc.sheet.blocks import Carried, Made, Noted, Points
from calc.units import spelt
from site_src.both.paper import measure
from site_src.both.paper.code import MODULE_LEAST, Code, code
from site_src.both.paper.sizes import Size

GAP = 2.2  # free below a piece
_TITLE_GAP = 0.5
_FEWEST_ROWS = 3  # a table is not cut to leave fewer rows than this
_INDENT = 3.5  # of a sentence in a list, for its bullet
_WORDS_LEAST, _CODE_GAP = 24.0, 2.0  # words stand beside the code where there is this much room
_CODE_MOST = 60.0
_NO_ADDRESS = later(
    "The code stands here once the page runs on your device: it holds the address of the page, "
    "which this ready-made sheet does not know."
)
_TOO_LARGE = later(
    "This car does not fit a code whose dots are at least {dot} mm: remove bottles "
    "or springs that you no longer use from the car record."
)


@dataclass(frozen=True)
class Piece:
    """A unit that stays together: a table with the widths of its columns, sentences, a code.

    Of a table, `above` is the height of its title and head, `rows` are the heights of its rows;
    `continued` marks the rest of one that was cut.
    """

    key: str
    title: str
    height: float
    table: Table | None = None
    widths: tuple[float, ...] = ()
    above: float = 0.0
    rows: tuple[float, ...] = ()
    lines: tuple[str, ...] = ()
    code: Code | None = None
    beside: bool = False
    continued: bool = False

    @property
    def shares(self) -> tuple[str, ...]:
        """The widths of the columns as shares of the whole."""
        whole = sum(self.widths)
        return tuple(f"{100 * wide / whole:.2f}%" for wide in self.widths)

    @property
    def words(self) -> tuple[bool, ...]:
        """Which columns contain words, to be aligned left."""
        table = self.table
        return tuple(measure.is_words(table, n) for n in range(len(self.widths))) if table else ()

    @property
    def pencil(self) -> bool:
        """Whether it is a table to fill in with a pencil."""
        return self.table is not None and not any(map(any, self.table.rows))


def pieces(made: Made, size: Size, kind: float, address: str) -> list[Piece]:
    """The pieces of a block in a column of this size, in type of `kind` pt, from top to bottom."""
    content = made.content
    if isinstance(content, Carried):
        return [_code_piece(made, content, size, kind, address)]
    if isinstance(content, Points):
        return [points_piece(made.key, made.title, content.lines, size.width, kind)]
    table, notes = (content.table, content.notes) if isinstance(content, Noted) else (content, ())
    cut = [
        _table_piece(made.key, made.title, one, size, kind)
        for one in measure.split_to_width(table, kind, size.width)
    ]
    if notes:
        cut.append(points_piece(made.key, "", notes, size.width, kind))
    return cut


def title_height(title: str, width: float, kind: float) -> float:
    if not title:
        return 0.0
    lines = measure.lines_in(title, width, kind, bold=True)
    return lines * measure.line_height(kind) + _TITLE_GAP


def _continued(title: str) -> str:
    return tr("{title} (continued)", title=title)


def points_piece(key: str, title: str, lines: Sequence[str], width: float, kind: float) -> Piece:
    """Sentences in a list."""
    small = measure.small(kind)
    count = sum(measure.lines_in(line, width - _INDENT, small) for line in lines)
    height = title_height(title, width, kind) + count * measure.line_height(small)
    return Piece(key, title, height, lines=tuple(lines))


def _table_piece(key: str, title: str, table: Table, size: Size, kind: float) -> Piece:
    widths = measure.column_widths(table, kind, size.width)
    rows = tuple(measure.row_heights(table, widths, kind))
    above = title_height(_continued(title), size.width, kind)
    above += measure.head_height(table, widths, kind)
    height = above + sum(rows)
    return Piece(key, title, height, table, tuple(widths), above=above, rows=rows)


def split(piece: Piece, room: float) -> tuple[Piece, Piece] | None:
    """A table in two, the first no higher than `room`; None if one of them would be too short."""
    table, count = piece.table, 0
    while count < len(piece.rows) and piece.above + sum(piece.rows[: count + 1]) <= room:
        count += 1
    count = min(count, len(piece.rows) - _FEWEST_ROWS)
    if table is None or count < _FEWEST_ROWS:
        return None
    mark = table.mark
    first, second = (
        replace(table, rows=table.rows[:count], mark=mark if mark < count else -1),
        replace(table, rows=table.rows[count:], mark=mark - count if mark >= count else -1),
    )
    title = piece.title if piece.continued else _continued(piece.title)
    above, below = piece.rows[:count], piece.rows[count:]
    return (
        replace(piece, height=piece.above + sum(above), table=first, rows=above),
        replace(
            piece,
            title=title,
            height=piece.above + sum(below),
            table=second,
            rows=below,
            continued=True,
        ),
    )


def _code_piece(made: Made, carried: Carried, size: Size, kind: float, address: str) -> Piece:
    """The code with its purpose: beside it in a wide column, below it in a narrow one."""
    found = code(carried, address, min(_CODE_MOST, size.width))
    if found is None:
        why = tr(_TOO_LARGE, dot=spelt(f"{MODULE_LEAST}")) if address else tr(_NO_ADDRESS)
        return points_piece(made.key, made.title, (why,), size.width, kind)
    lines = (
        tr("Scan it with a phone: it brings this car back onto the page."),
        *((found.lacks,) if found.lacks else ()),
        tr("Smallest dot {dot} mm.", dot=spelt(f"{found.module:.2f}")),
    )
    left = size.width - found.side - _CODE_GAP
    beside = left >= _WORDS_LEAST
    room = left if beside else size.width
    words = points_piece(made.key, "", lines, room, kind).height
    above = title_height(made.title, size.width, kind)
    height = above + (max(found.side, words) if beside else found.side + words)
    return Piece(made.key, made.title, height, lines=lines, code=found, beside=beside)


def with_more_rows(piece: Piece, room: float) -> Piece:
    """A pencil table with as many more rows as the room below it allows."""
    more = int(room / measure.PENCIL_ROW)
    if piece.table is None or more <= 0:
        return piece
    rows = piece.table.rows + piece.table.rows[:1] * more
    height = piece.height + more * measure.PENCIL_ROW
    return replace(piece, table=replace(piece.table, rows=rows), height=height)
