"""Pages of a sheet: its blocks in order, in the largest type that holds them all. Where none does,
long lists are cut short and say so, and only then is a block left out and named."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, product

from calc.language import inside, tr
from calc.sheet.blocks import CARD, FLAT, FOLDED, Sheet, usual
from calc.sheet.grid import Made
from calc.units import spelt
from site_src.both.paper import measure
from site_src.both.paper.measure import line_height, small, text_width
from site_src.both.paper.pieces import ALL, GAP, Piece, Room, lay
from site_src.both.paper.sizes import COLUMN_GAP, PLACES, Size

HEAD_SCALE = 1.7  # type of the name of the car relative to that of the sheet
_HEAD_MOST = 20.0  # pt
_HEAD_GAP = 2.9  # rule included
FOOT = 6.9  # the ruler below a page
_CODE = 50.0  # mm; the most of the code beside the log
_SMALLER_CODES = (52.0, 46.0)  # mm; on a page of the card that it shares
_WHOLE = frozenset(
    ("base", "height", "oil", "cautions", "log", "blends", "ready", "steps-1", "steps-2", "steps-3")
)
"""Blocks as wide as the page; the others stand in two columns."""
_SHARES = (0.5, 0.55, 0.45, 0.6, 0.4)  # of the first column
_FEW = (ALL, 14, 10, 8, 7, 6)  # rows of a list
_FEWEST = 4  # before a block is left out
_BESIDE = (0.8, 0.75, 0.7, 0.65, 0.6)
"""Shares of the block that has the code beside it."""
_BACK = ("cautions", "log", "code")
"""What stands on the back of two sides, so that all answers are in front."""
_UNBROKEN = 6.0  # mm of height that names on one line are worth
_MOST_APART = 8  # blocks that are tried in both columns
_FIRST = frozenset((*usual(FLAT), *usual(FOLDED)))
"""What stays where there is no room for all."""
_NEVER_DROPPED = "cautions"  # the block that is never left out

Columns = tuple[tuple[Piece, ...], ...]


@dataclass(frozen=True)
class Band:
    """Pieces across the page: one column as wide as it, or two."""

    columns: Columns
    share: int = 100
    """Percent of the width that the first column has."""

    @property
    def height(self) -> float:
        return max(map(_stacked, self.columns))


def _stacked(column: Sequence[Piece]) -> float:
    return sum(piece.height for piece in column) + GAP * max(len(column) - 1, 0)


@dataclass(frozen=True)
class Page:
    number: int
    bands: tuple[Band, ...]
    kind: float

    @property
    def pieces(self) -> Iterator[Piece]:
        for band in self.bands:
            for column in band.columns:
                yield from column


@dataclass(frozen=True)
class Plan:
    """A sheet on paper. `kind` is the smallest type of its keys and answers; `dropped` are the
    titles of blocks without room."""

    size: Size
    kind: float
    pages: tuple[Page, ...]
    dropped: tuple[str, ...]

    @property
    def papers(self) -> int:
        """Number of sides that the printer will print."""
        return 1 if self.size.folds else len(self.pages)

    def beside(self, heading: "Heading") -> bool:
        """Whether the lines about the car stand beside its name."""
        return stands_beside(heading, self.size.width, self.pages[0].kind)

    def again(self, heading: "Heading") -> str:
        """The name at the head of a second side, as much as the line beside it leaves room for."""
        kind = self.pages[-1].kind
        beside = text_width(f" · {heading.lines[0]}", small(kind))
        return measure.clipped(heading.name, self.size.width - beside, kind, True, 1)

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

    def remark(self) -> str:
        """That the type is small, before printing; empty if it is not."""
        if self.kind >= self.size.easy:
            return ""
        return tr(
            "All of this fits only in {kind} pt, too small to read at arm's length: take a "
            "larger size, or leave something out.",
            kind=spelt(f"{self.kind:g}"),
        )


@dataclass(frozen=True)
class Heading:
    """The name of the car and what stands beside it, on the first page and in short on the next."""

    name: str
    lines: tuple[str, ...]


def plan(sheet: Sheet, size: Size, heading: Heading, address: str = "") -> Plan:
    """The layout of a sheet; of a card on as few sides as it can be. `address` is that of the
    page, for the code: a ready-made sheet knows none and has none."""
    if not address:
        carried = tuple(made for made in sheet.blocks if made.key != "code")
        sheet = replace(sheet, blocks=carried)
    room = Room(size.width, size.types[0], address=address, folded=size.folds)
    if size.folds:
        return _folded(sheet.blocks, size, heading, room)
    free = sorted(
        (made for made in sheet.blocks if made.key != _NEVER_DROPPED),
        key=lambda made: made.key not in _FIRST,
    )
    for count in range(len(free) + 1):
        gone = {made.key for made in free[len(free) - count :]}
        kept = [made for made in sheet.blocks if made.key not in gone]
        dropped = tuple(made.title for made in sheet.blocks if made.key in gone)
        for sides in range(1 if size.kind == CARD else size.pages, size.pages + 1):
            within = replace(size, pages=sides)
            pages = _flat(kept, within, heading, room, dropped)
            if pages is not None:
                return _finished(size, pages, dropped)
    raise LookupError(f"{size.title}: not even the cautions fit")


def _finished(size: Size, pages: Sequence[Page], dropped: Sequence[str]) -> Plan:
    kind = min((page.kind for page in pages if page.bands), default=size.types[-1])
    return Plan(size, kind, tuple(pages), tuple(dropped))


def _tries(size: Size) -> Iterator[tuple[float, int]]:
    """Type and rows of a list to try: easily read with short lists before small type with long
    ones; on a card without its longer sentences before smaller, and at last without any."""
    if size.kind == CARD:
        yield from product(size.types, _FEW[:2])
        yield from product(size.types, _FEW[2:3])
        return
    easy = [kind for kind in size.types if kind >= size.easy]
    yield from product(easy, _FEW[:1])
    yield from product(easy[-1:], _FEW[1:])
    yield from product(size.types[len(easy) :], _FEW)
    yield size.types[-1], _FEWEST


def _flat(
    blocks: Sequence[Made], size: Size, heading: Heading, start: Room, dropped: Sequence[str]
) -> tuple[Page, ...] | None:
    backed = size.pages == 2 and tuple(made.key for made in blocks[-3:]) == _BACK
    for apart, (kind, most) in product((True, False) if backed else (False,), list(_tries(size))):
        room = replace(start, kind=kind, most=most)
        heights = [
            size.height - FOOT - head_height(heading, size.width, kind, short=n > 0)
            for n in range(size.pages)
        ]
        heights[0] -= absent_height(dropped, size.width, kind)
        pages = _front_and_back(blocks, room, heights) if apart else None
        if not apart and (bands := _bands(blocks, room)) is not None:
            pages = _fill(bands, heights)
        squeezed = pages and kind > size.easy and any(_is_squeezed(b) for p in pages for b in p)
        if pages is not None and not squeezed:
            return tuple(
                Page(n + 1, tuple(_stretched(found, heights[n])), kind)
                for n, found in enumerate(pages)
                if found or n == 0
            )
    return None


def _front_and_back(
    blocks: Sequence[Made], room: Room, heights: Sequence[float]
) -> list[list[Band]] | None:
    """The answers on one side; cautions with the code beside them and the log on the other."""
    cautions, log, carried = blocks[-len(_BACK) :]
    top, lines = _with_code(cautions, carried, room), lay(log, room)
    front = _bands(blocks[: -len(_BACK)], room)
    if top is None or lines is None or front is None:
        return None
    sides = [front, [top, Band(((lines,),))]]
    filled = [_fill(side, [height]) for side, height in zip(sides, heights, strict=True)]
    return sides if all(filled) else None


def _is_squeezed(band: Band) -> bool:
    return any(piece.squeezed for column in band.columns for piece in column)


def _fill(bands: Sequence[Band], heights: Sequence[float]) -> list[list[Band]] | None:
    """The bands in order, page by page."""
    pages: list[list[Band]] = [[] for _ in heights]
    now, used = 0, 0.0
    for band in bands:
        while used + band.height > heights[now]:
            now, used = now + 1, 0.0
            if now == len(heights):
                return None
        pages[now].append(band)
        used += band.height + GAP
    return pages


def _stretched(bands: Sequence[Band], height: float) -> Iterator[Band]:
    """The bands, with more lines to write in where the page has room."""
    room = height - sum(band.height + GAP for band in bands) + GAP
    for band in bands:
        piece = band.columns[0][0]
        if piece.log or piece.steps:
            free = band.height - piece.height + room
            room = 0.0
            yield replace(band, columns=((piece.stretched(free),), *band.columns[1:]))
        else:
            yield band


def _bands(blocks: Sequence[Made], room: Room) -> list[Band] | None:
    """The blocks in order: as wide as the page, or runs of narrower ones in two columns."""
    bands: list[Band] = []
    keys = [made.key for made in blocks]
    if keys[-2:] == ["log", "code"] and (last := _with_code(blocks[-2], blocks[-1], room)):
        before = _bands(blocks[:-2], room)
        return None if before is None else [*before, last]
    for whole, run in groupby(blocks, lambda made: made.key in _WHOLE):
        found = list(run)
        if whole or len(found) == 1:
            for made in found:
                piece = lay(made, room)
                if piece is None:
                    return None
                bands.append(Band(((piece,),)))
            continue
        for start in range(0, len(found), _MOST_APART):
            band = _in_columns(found[start : start + _MOST_APART], room)
            if band is None:
                return None
            bands += band
    return bands


def _with_code(made: Made, carried: Made, room: Room) -> Band | None:
    """A block with the code beside it; lines to write in are as high as that."""
    found: Band | None = None
    for share in _BESIDE:
        free = room.width - COLUMN_GAP
        block = lay(made, replace(room, width=free * share))
        dots = lay(carried, replace(room, width=free * (1 - share), code=_CODE))
        if block is None or dots is None or dots.code is None:
            continue
        whole = not dots.code.lacks
        if found is None or whole:
            high = block.stretched(max(dots.height - block.height, 0.0))
            found = Band(((high,), (dots,)), round(100 * share))
        if whole:
            break
    return found


def _in_columns(blocks: Sequence[Made], room: Room) -> list[Band] | None:
    """The blocks in the two columns that are best, each in order; else one below another."""
    best: Band | None = None
    for share in _SHARES:
        free = room.width - COLUMN_GAP
        rooms = [replace(room, width=free * part) for part in (share, 1 - share)]
        laid = [[lay(made, one) for one in rooms] for made in blocks]
        for sides in product((0, 1), repeat=len(blocks) - 1):
            columns: list[list[Piece]] = [[], []]
            for both, side in zip(laid, (0, *sides), strict=True):
                piece = both[side]
                if piece is None:
                    break
                columns[side].append(piece)
            else:
                band = Band(tuple(map(tuple, columns)), round(100 * share))
                if columns[1] and (best is None or _is_better(band, best)):
                    best = band
    if best is not None:
        return [best]
    below = [lay(made, room) for made in blocks]
    return [Band(((piece,),)) for piece in below if piece] if all(below) else None


def _is_better(band: Band, other: Band) -> bool:
    """Whether it is lower, or little higher with its names on one line."""
    high, other_high = (one.height + _UNBROKEN * _is_squeezed(one) for one in (band, other))
    return high < other_high - 0.5


def _folded(blocks: Sequence[Made], size: Size, heading: Heading, room: Room) -> Plan:
    """Each block on its page; the others where there is room. What a page does not hold is left
    out, the last block first."""
    on: dict[int, list[Made]] = {n + 1: [] for n in range(size.pages)}
    more: list[Made] = []
    for made in blocks:
        (on[PLACES[made.key]] if made.key in PLACES else more).append(made)
    dropped: list[str] = []
    pages: dict[int, Page] = {}

    def lays(number: int, found: Sequence[Made]) -> bool:
        page = _pocket_page(number, found, size, heading, room, dropped)
        if page is not None:
            pages[number] = page
        return page is not None

    for number in reversed(on):  # the cover last, because it names what was left out
        if number == 1:
            for made in more:
                inner = sorted((n for n in on if n != 1), key=lambda n: (len(on[n]), n))
                place = next((n for n in inner if lays(n, [*on[n], made])), None)
                if place is None:
                    dropped.append(made.title)
                else:
                    on[place].append(made)
        while not lays(number, on[number]):
            dropped.append(on[number].pop().title)
    order = {made.title: n for n, made in enumerate(blocks)}
    return _finished(size, [pages[n] for n in on], sorted(dropped, key=order.__getitem__))


def _pocket_page(
    number: int, blocks: Sequence[Made], size: Size, heading: Heading, start: Room,
    dropped: Sequence[str],
) -> Page | None:  # fmt: skip
    """One page of the card, in the largest type that holds it."""
    smaller = _SMALLER_CODES if any(made.key == "code" for made in blocks) else ()
    for side, (kind, most) in product((size.width, *smaller), list(_tries(size))):
        room = replace(start, kind=kind, most=most, code=side)
        pieces = [lay(made, room) for made in blocks]
        height = size.height
        if number == 1:
            height -= head_height(heading, size.width, kind)
            height -= absent_height(dropped, size.width, kind)
        bands = [Band(((piece,),)) for piece in pieces if piece is not None]
        if len(bands) < len(pieces) or (kind > size.easy and any(map(_is_squeezed, bands))):
            continue
        found = _fill(bands, [height])
        if found is not None:
            return Page(number, tuple(_stretched(found[0], height)), kind)
    return None


def name_kind(kind: float) -> float:
    """Type of the name of the car."""
    return min(HEAD_SCALE * kind, _HEAD_MOST)


def head_height(heading: Heading, width: float, kind: float, short: bool = False) -> float:
    """Height of the name of the car and the lines about it; of later pages in one line."""
    if short:
        return line_height(kind) + _HEAD_GAP
    lines = sum(measure.lines_in(line, width, small(kind)) for line in heading.lines)
    about = lines * line_height(small(kind))
    if stands_beside(heading, width, kind):
        return max(line_height(name_kind(kind)), about) + _HEAD_GAP
    high = measure.lines_in(heading.name, width, name_kind(kind), bold=True)
    return high * line_height(name_kind(kind)) + about + _HEAD_GAP


def stands_beside(heading: Heading, width: float, kind: float) -> bool:
    """Whether the lines about the car have room beside its name."""
    beside = max((text_width(line, small(kind)) for line in heading.lines), default=0.0)
    return text_width(heading.name, name_kind(kind), bold=True) + beside + 4 <= width


def absent_height(dropped: Sequence[str], width: float, kind: float) -> float:
    """Height of the sentence about blocks without room."""
    if not dropped:
        return 0.0
    return measure.lines_in(absent(dropped), width, small(kind)) * line_height(small(kind))


def absent(dropped: Sequence[str]) -> str:
    return tr("Not on this sheet: {title}.", title="; ".join(dropped))
