"""Pages of a sheet: blocks in columns, in the largest type that fits them all."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from calc.language import inside, tr
from calc.sheet.blocks import Sheet
from site_src.both.paper import measure
from site_src.both.paper.columns import WAYS, Column, fit, highest_first
from site_src.both.paper.pieces import GAP, Piece, pieces, points_piece, with_more_rows
from site_src.both.paper.sizes import Size

HEAD_SCALE = 1.4  # type of the name of the car relative to that of the sheet
_HEAD_GAP = 3.5  # rule included
_NEVER_DROPPED = "cautions"  # the block that is never left out


@dataclass(frozen=True)
class Page:
    number: int
    columns: tuple[Column, ...]


@dataclass(frozen=True)
class Plan:
    """A sheet on paper. `dropped` are the titles of blocks without room."""

    size: Size
    kind: float
    pages: tuple[Page, ...]
    dropped: tuple[str, ...]

    @property
    def papers(self) -> int:
        """Number of sides that the printer will print."""
        return 1 if self.size.folds else len(self.pages)

    def warning(self) -> str:
        """Advice before printing; empty if everything fits."""
        if not self.dropped:
            return ""
        names = tr(" and ").join(tr("“{title}”", title=title) for title in self.dropped)
        return tr(
            "Not everything fits ({size}): this prints without {blocks}. Leave that out, "
            "or something else instead, or choose a larger size.",
            size=inside(self.size.title),
            blocks=names,
        )


def plan(sheet: Sheet, size: Size, made: str, address: str = "") -> Plan:
    """The layout of a sheet. `made` is the line beside the name of the car, `address` that of the
    page."""
    found: dict[int, _Cut] = {}
    ways = list(size.ways())
    for place in WAYS:
        for number, (way, kind) in enumerate(ways):
            cut = found.get(number) or _cut(sheet, way, kind, made, address)
            found[number] = cut
            blocks = cut.without(())
            columns = place(blocks, cut.heights) if fit(blocks, cut.heights) else None
            if columns is not None:
                return Plan(way, kind, _pages(columns, cut), ())
    return _without_blocks(found[len(ways) - 1])


@dataclass(frozen=True)
class _Cut:
    """A sheet cut into pieces for one choice of columns and type, and the heights of the
    columns."""

    sheet: Sheet
    size: Size
    kind: float
    pieces: Mapping[str, list[Piece]]
    heights: tuple[float, ...]

    def without(self, dropped: Iterable[str]) -> list[list[Piece]]:
        """The pieces of all blocks but these, and sentences about the missing ones."""
        gone = set(dropped)
        titles = (block.title for block in self.sheet.blocks if block.key in gone)
        absent = [
            *self.sheet.missing,
            *(tr("Not on this sheet: {title}.", title=t) for t in titles),
        ]
        kept = [cut for key, cut in self.pieces.items() if key not in gone]
        said = [points_piece("absent", "", [one], self.size.width, self.kind) for one in absent]
        return [*kept, said] if said else kept

    def height(self, key: str) -> float:
        return sum(piece.height + GAP for piece in self.pieces[key])


def _cut(sheet: Sheet, size: Size, kind: float, made: str, address: str) -> _Cut:
    first = size.height - head_height(sheet, size, kind, made)
    count = size.pages * size.columns
    heights = tuple(first if n < size.columns else size.height for n in range(count))
    cut = {block.key: pieces(block, size, kind, address) for block in sheet.blocks}
    return _Cut(sheet, size, kind, cut, heights)


def _without_blocks(cut: _Cut) -> Plan:
    """The plan without the smallest block whose absence is enough, else without two, else without
    the largest."""
    free = sorted((key for key in cut.pieces if key != _NEVER_DROPPED), key=cut.height)
    tries: list[tuple[str, ...]] = [(key,) for key in free]
    tries += sorted(combinations(free, 2), key=lambda pair: sum(map(cut.height, pair)))
    tries += [tuple(free[-count:]) for count in range(3, len(free) + 1)]
    for dropped in tries:
        blocks = cut.without(dropped)
        columns = highest_first(blocks, cut.heights) if fit(blocks, cut.heights) else None
        if columns is not None:
            titles = tuple(block.title for block in cut.sheet.blocks if block.key in dropped)
            return Plan(cut.size, cut.kind, _pages(columns, cut), titles)
    raise LookupError(f"{cut.size.title}: not even the cautions fit")


def head_height(sheet: Sheet, size: Size, kind: float, made: str) -> float:
    """Height of the name of the car and the line about it, on the first page."""
    name = measure.lines_in(sheet.car, size.page_width, kind * HEAD_SCALE, bold=True)
    small = measure.small(kind)
    line = measure.lines_in(made, size.page_width, small)
    return (
        name * measure.line_height(kind * HEAD_SCALE)
        + line * measure.line_height(small)
        + _HEAD_GAP
    )


def _pages(columns: Sequence[Column], cut: _Cut) -> tuple[Page, ...]:
    """The columns by page, without empty pages at the end, with pencil rows in the free room."""
    size = cut.size
    filled = [_with_pencil_rows(c, height) for c, height in zip(columns, cut.heights, strict=True)]
    pages = [
        Page(number + 1, tuple(filled[number * size.columns : (number + 1) * size.columns]))
        for number in range(size.pages)
    ]
    while not size.folds and len(pages) > 1 and not any(pages[-1].columns):
        pages.pop()
    return tuple(pages)


def _with_pencil_rows(column: Column, height: float) -> Column:
    room = height - sum(piece.height + GAP for piece in column) + GAP
    last = next((n for n in reversed(range(len(column))) if column[n].pencil), None)
    if last is None or room <= 0:
        return column
    return (*column[:last], with_more_rows(column[last], room), *column[last + 1 :])
