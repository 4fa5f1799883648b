"""Pages of a sheet: blocks in columns, in the largest type in which all of them fit."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from calc.sheet import Made, Sheet
from site_src.paper import measure
from site_src.paper.pieces import GAP, Piece, longer, pieces, points_piece, split
from site_src.paper.sizes import Size

HEAD_SCALE = 1.4  # the name of the car by the type of the sheet
_HEAD_GAP = 3.5  # rule included
_NOT_HERE = "Not on this sheet"
_KEPT = "cautions"  # never proposed to be left out

Column = tuple[Piece, ...]


@dataclass(frozen=True)
class Page:
    number: int
    columns: tuple[Column, ...]


@dataclass(frozen=True)
class Plan:
    """A sheet on paper. `dropped` are the titles of blocks that had no room."""

    size: Size
    kind: float
    pages: tuple[Page, ...]
    dropped: tuple[str, ...]

    @property
    def papers(self) -> int:
        """Sides of paper that the printer will print."""
        return 1 if self.size.folds else len(self.pages)

    def warning(self) -> str:
        """What to do before printing; nothing where all fits."""
        if not self.dropped:
            return ""
        names = " and ".join(f"“{title}”" for title in self.dropped)
        return (
            f"Not everything fits ({self.size.title.lower()}): this prints without {names}. "
            "Leave it out, or put it before another block and leave that one out."
        )


def plan(sheet: Sheet, size: Size, made: str, address: str = "") -> Plan:
    """Where everything stands. `made` is the line beside the car's name, `address` the page's."""
    for place in (_in_order, _anywhere, _broken, _packed):
        for way, kind in size.ways():
            columns = _placed(sheet, (), way, kind, made, address, place)
            if columns is not None:
                return Plan(way, kind, _pages(columns, way, kind, sheet, made), ())
    return _without_some(sheet, size, made, address)


def _without_some(sheet: Sheet, size: Size, made: str, address: str) -> Plan:
    """The plan without one block if that is enough, else without ever more, from the last."""
    *_, (size, kind) = size.ways()
    free = [block for block in reversed(sheet.blocks) if block.key != _KEPT]
    tries = [(block,) for block in free] + [tuple(free[:n]) for n in range(2, len(free) + 1)]
    for dropped in tries:
        columns = _placed(sheet, dropped, size, kind, made, address, _packed)
        if columns is not None:
            titles = tuple(block.title for block in dropped)
            return Plan(size, kind, _pages(columns, size, kind, sheet, made), titles)
    raise LookupError(f"{size.title}: not even the cautions fit")


def _placed(
    sheet: Sheet,
    dropped: Sequence[Made],
    size: Size,
    kind: float,
    made: str,
    address: str,
    place: Callable[[Sequence[list[Piece]], list[float]], list[Column] | None],
) -> list[Column] | None:
    """Columns of all pages with everything but the dropped blocks; None where it does not fit."""
    blocks = [pieces(b, size, kind, address) for b in sheet.blocks if b not in dropped]
    absent = [*sheet.missing, *(f"{_NOT_HERE}: {block.title}." for block in dropped)]
    if absent:
        blocks.append([points_piece("absent", "", absent, size.width, kind)])
    first = size.height - head_height(sheet, size, kind, made)
    count = size.pages * size.columns
    heights = [first if n < size.columns else size.height for n in range(count)]
    return place(blocks, heights)


def head_height(sheet: Sheet, size: Size, kind: float, made: str) -> float:
    """Of the car's name and the line about it, on the first page."""
    name = measure.lines_in(sheet.car, size.page_width, kind * HEAD_SCALE, bold=True)
    small = measure.small(kind)
    line = measure.lines_in(made, size.page_width, small)
    return (
        name * measure.line_height(kind * HEAD_SCALE)
        + line * measure.line_height(small)
        + _HEAD_GAP
    )


def _in_order(blocks: Sequence[list[Piece]], heights: list[float]) -> list[Column] | None:
    """One after another, down each column; a block begins another column rather than break."""
    columns: list[list[Piece]] = [[] for _ in heights]
    now, used = 0, 0.0
    for block in blocks:
        whole = sum(piece.height + GAP for piece in block)
        for piece in block:
            need = whole if piece is block[0] and whole <= max(heights) else piece.height
            while used + need > heights[now]:
                now, used = now + 1, 0.0
                if now == len(heights):
                    return None
            columns[now].append(piece)
            used += piece.height + GAP
    return [tuple(column) for column in columns]


def _anywhere(blocks: Sequence[list[Piece]], heights: list[float]) -> list[Column] | None:
    """Each piece in the first column that has room for it."""
    columns: list[list[Piece]] = [[] for _ in heights]
    used = [0.0] * len(heights)
    for piece in (piece for block in blocks for piece in block):
        now = next((n for n, u in enumerate(used) if u + piece.height <= heights[n]), None)
        if now is None:
            return None
        columns[now].append(piece)
        used[now] += piece.height + GAP
    return [tuple(column) for column in columns]


def _broken(blocks: Sequence[list[Piece]], heights: list[float]) -> list[Column] | None:
    """Each piece in the first column that has room for it; where none has, tables are cut."""
    columns: list[list[Piece]] = [[] for _ in heights]
    used = [0.0] * len(heights)
    todo = [piece for block in reversed(blocks) for piece in reversed(block)]
    while todo:
        piece = todo.pop()
        for now, height in enumerate(heights):
            if used[now] + piece.height <= height:
                break
        else:
            cuts = ((now, split(piece, heights[now] - used[now])) for now in range(len(heights)))
            found = next(((now, cut) for now, cut in cuts if cut), None)
            if found is None:
                return None
            now, (piece, rest) = found
            todo.append(rest)
        columns[now].append(piece)
        used[now] += piece.height + GAP
    return [tuple(column) for column in columns]


def _packed(blocks: Sequence[list[Piece]], heights: list[float]) -> list[Column] | None:
    """The highest pieces first, which wastes the least; then back in order as far as it goes."""
    order = {block[0].key: number for number, block in enumerate(blocks) if block}
    pieces = sorted((p for block in blocks for p in block), key=lambda p: -p.height)
    columns = _broken([pieces], heights)
    if columns is None:
        return None
    sorted_columns = [tuple(sorted(c, key=lambda p: (order[p.key], p.continued))) for c in columns]
    by_height: dict[float, list[Column]] = {}
    for column, height in zip(sorted_columns, heights, strict=True):
        by_height.setdefault(height, []).append(column)
    for alike in by_height.values():
        alike.sort(key=lambda c: (order[c[0].key], c[0].continued) if c else (len(order), False))
    return [by_height[height].pop(0) for height in heights]


def _pages(
    columns: Sequence[Column], size: Size, kind: float, sheet: Sheet, made: str
) -> tuple[Page, ...]:
    """The columns by page, empty pages at the end left out, pencil rows where room is left."""
    first = size.height - head_height(sheet, size, kind, made)
    filled = [
        _filled(column, first if n < size.columns else size.height)
        for n, column in enumerate(columns)
    ]
    pages = [
        Page(number + 1, tuple(filled[number * size.columns : (number + 1) * size.columns]))
        for number in range(size.pages)
    ]
    while not size.folds and len(pages) > 1 and not any(pages[-1].columns):
        pages.pop()
    return tuple(pages)


def _filled(column: Column, height: float) -> Column:
    room = height - sum(piece.height + GAP for piece in column) + GAP
    last = next((n for n in reversed(range(len(column))) if column[n].pencil), None)
    if last is None or room <= 0:
        return column
    return (*column[:last], longer(column[last], room), *column[last + 1 :])
