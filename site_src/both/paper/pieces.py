"""A block of a sheet in a width and a type, with its height."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from calc.language import later, tr
from calc.sheet.grid import Base, Carried, Grid, Log, Made, Part, Points, Spot, Steps, Things
from calc.units import NBSP, spelt
from site_src.both.paper import grids, measure, steps
from site_src.both.paper.code import MODULE_LEAST, Code, code
from site_src.both.paper.folds import SKETCH_HEIGHT
from site_src.both.paper.grids import Laid
from site_src.both.paper.measure import LOG_ROW, RULE, line_height, small, text_width
from site_src.both.paper.steps import LaidSteps

GAP = 1.25  # free below a piece
GRID_GAP = 4.0  # between grids side by side
BAR_TYPE = 0.9  # relative to keys and answers
BAR_PAD, BAR_SIDE = 0.2, 1.6
LEAD_PAD = 0.6
INDENT = 3.0  # of a sentence in a list, for its bullet
SPOT_PAD, SPOT_HIGH, SPOT_GAP = 1.2, 0.6, 1.5  # of a corner
PLAN = 30.0  # the car between left and right
_WIDE = 120.0  # from here on the car is drawn between its corners
ALL = 1000  # rows of a list that is not shortened
_TERSE = 10  # so few rows leave no room for a sentence of a step
_NOW = 9.0  # to write in at a corner
_LOG_LEAST, _CODE_GAP, _WORDS_LEAST = 3, 2.0, 24.0
CODE_MOST = 60.0
_FOLDING = (
    later("Fold into eight along the dashes, open, cut the thick line."),
    later("Fold along the length, push the ends together: page 1 is in front."),
)
_TOO_LARGE = later(
    "This car does not fit a code whose dots are at least {dot} mm: remove bottles "
    "or springs that you no longer use from the car record."
)

Rows = tuple[tuple[Laid, ...], ...]


@dataclass(frozen=True)
class Piece:
    """`rows` are grids side by side, row by row; `about` stands in the bar, or `below` it. Lines
    to write in are `log`, of which there are `lines`, each `line` mm high."""

    key: str
    title: str
    width: float
    kind: float
    height: float = 0.0
    about: str = ""
    below: bool = False
    lead: tuple[str, ...] = ()
    spots: tuple[Spot, ...] = ()
    drawn: bool = False
    spot_lines: int = 1
    rows: Rows = ()
    notes: tuple[str, ...] = ()
    log: tuple[tuple[str, float], ...] = ()
    lines: int = 0
    line: float = LOG_ROW
    code: Code | None = None
    beside: bool = False
    fold: bool = False
    things: tuple[str, ...] = ()
    steps: LaidSteps | None = None

    @property
    def line_pixels(self) -> int:
        """Height of a line to write in, in whole pixels of CSS."""
        return int(self.line / measure.PIXEL)

    @property
    def squeezed(self) -> bool:
        """Whether a name on it had to be wrapped or shortened."""
        return _squeezed(self.rows)

    def stretched(self, room: float) -> "Piece":
        """With as many more lines to write in as the room below allows, or higher ones."""
        if self.steps:
            higher = self.steps.stretched(room)
            return replace(
                self, steps=higher, height=self.height + higher.height - self.steps.height
            )
        if not self.log or room <= 0:
            return self
        lines, free = self.lines + int(room / LOG_ROW), self.lines * self.line + room
        return replace(self, lines=lines, line=free / lines, height=self.height + room)


@dataclass(frozen=True)
class Room:
    """What a block is laid out in: width in mm, type in pt, and the most rows of a list. The code
    may take up to `code` mm. `known` are the pieces laid out for the same sheet before."""

    width: float
    kind: float
    most: int = ALL
    code: float = CODE_MOST
    address: str = ""
    folded: bool = False
    known: "dict[tuple[str, Room], Piece | None]" = field(
        default_factory=dict, compare=False, repr=False
    )


def lay(made: Made, room: Room) -> Piece | None:
    """The block in its room; None where a number would not fit its column."""
    if (made.key, room) not in room.known:
        room.known[made.key, room] = _laid(made, room)
    return room.known[made.key, room]


def _laid(made: Made, room: Room) -> Piece | None:
    content = made.content
    if isinstance(content, Base):
        return _base(made, content, room)
    if isinstance(content, Part):
        return _part(made, content, room)
    if isinstance(content, Log):
        return _log(made, content, room)
    if isinstance(content, Things):
        inner = steps.things_height(content, room.width, small(room.kind))
        return _finished(made, room, "", inner + 0.8, things=content.names)
    if isinstance(content, Steps):
        return _steps(made, content, room)
    if isinstance(content, Points):
        if not room.folded:
            return _finished(made, room, notes=(f" •{NBSP}".join(content.lines),))
        return _finished(made, room, notes=(*map(tr, _FOLDING), *content.lines), fold=True)
    return _code(made, content, room)


def _steps(made: Made, content: Steps, room: Room) -> Piece | None:
    """The steps of a card; where room is short without the sentences that a practised hand does
    without."""
    told = 2 if room.most >= ALL else 1 if room.most > _TERSE else 0
    laid = steps.lay(content, room.width, room.kind, told)
    if laid is None:
        return None
    return _finished(made, room, content.about, laid.height, steps=laid)


def bar_height(kind: float) -> float:
    return line_height(bar_type(kind)) + 2 * BAR_PAD


def bar_type(kind: float) -> float:
    return max(BAR_TYPE * kind, measure.SMALLEST)


def _finished(made: Made, room: Room, about: str = "", inner: float = 0.0, **parts: Any) -> Piece:
    """A piece with its bar above `inner` mm, its box and its sentences."""
    width, kind = room.width, room.kind
    used = text_width(made.title.upper(), bar_type(kind), bold=True) + text_width(
        about, small(kind)
    )
    below = bool(about) and used + 2 * BAR_SIDE + 3 > width
    height = bar_height(kind) + inner + (0.2 if about and not below else 0.0)
    if below:
        height += measure.lines_in(about, width, small(kind)) * line_height(small(kind)) + 0.4
    for line in parts.get("lead", ()):
        lines = measure.lines_in(line, width - 2 * BAR_SIDE - 2 * RULE, kind, bold=True)
        height += lines * line_height(kind) + 2 * LEAD_PAD + 4 * RULE
    height += sentences_height(parts.get("notes", ()), width, kind)
    if parts.get("fold"):
        height += SKETCH_HEIGHT + 1.0
    return Piece(made.key, made.title, width, kind, height, about, below, **parts)


def sentences_height(lines: Sequence[str], width: float, kind: float) -> float:
    count = sum(measure.lines_in(line, width - INDENT, small(kind)) for line in lines)
    return count * line_height(small(kind)) + (0.5 if lines else 0.0)


def _part(made: Made, part: Part, room: Room) -> Piece | None:
    wide, narrow = (
        tuple(grid.shorter(room.most) for grid in found) for found in (part.grids, part.narrow)
    )
    rows = _unbroken(_ways(wide, narrow, room))
    if rows is None:
        return None
    return _finished(
        made, room, part.about, _rows_height(rows), lead=part.lead, rows=rows, notes=part.notes
    )


def _unbroken(ways: Iterator[Rows | None]) -> Rows | None:
    """The first that breaks no name, else the first that fits."""
    first: Rows | None = None
    for rows in ways:
        if rows is not None and not _squeezed(rows):
            return rows
        first = rows if first is None else first
    return first


def _squeezed(rows: Rows) -> bool:
    """Whether a name had to be wrapped or shortened."""
    return any(laid.squeezed for row in rows for laid in row)


def _ways(wide: Sequence[Grid], narrow: Sequence[Grid], room: Room) -> Iterator[Rows | None]:
    yield _beside(wide, room)
    if narrow:
        yield _beside(narrow, room)
    if len(narrow) > 1:
        yield _below(narrow, room)
    yield _below(wide, room)
    if narrow:
        yield _below(narrow, room, wraps=True)


def _beside(found: Sequence[Grid], room: Room) -> Rows | None:
    """Grids side by side; None where one is too wide."""
    if not found:
        return ()
    each = (room.width - GRID_GAP * (len(found) - 1)) / len(found)
    beside = [grids.lay(grid, each, room.kind) for grid in found]
    return (tuple(laid for laid in beside if laid),) if all(beside) else None


def _below(found: Sequence[Grid], room: Room, wraps: bool = False) -> Rows | None:
    """Grids one below another; None where one is too wide even so."""
    below = [grids.lay(grid, room.width, room.kind, wraps) for grid in found]
    return tuple((laid,) for laid in below if laid) if all(below) else None


def _rows_height(rows: Sequence[Sequence[Laid]]) -> float:
    return sum(max(laid.height for laid in row) for row in rows) + max(len(rows) - 1, 0) * 1.0


def _base(made: Made, base: Base, room: Room) -> Piece | None:
    drawn = room.width >= _WIDE
    grid = grids.lay(base.grid if drawn else base.narrow, room.width, room.kind)
    each = (room.width - (PLAN if drawn else SPOT_GAP)) / 2
    lines = [spot_lines(spot, each, room.kind) for spot in base.spots]
    if grid is None or not all(lines):
        return None
    most = max(line or 0 for line in lines)
    inner = 1.0 + 2 * spot_height(most, room.kind) + SPOT_GAP + 1.0 + grid.height
    about = "" if room.folded else base.about
    return _finished(
        made,
        room,
        about,
        inner,
        spots=base.spots,
        drawn=drawn,
        spot_lines=most,
        rows=((grid,),),
    )


def spot_lines(spot: Spot, width: float, kind: float) -> int | None:
    """Lines that a corner takes: all on one, the room to write on another, or one for each of its
    values; None if too wide."""
    gap, inside = 4.5, width - 2 * SPOT_PAD - 4 * RULE
    name = text_width(spot.name, kind, bold=True)
    parts = [
        text_width(f"{label} ", small(kind)) + text_width(shown or "0000", kind, bold=True)
        for label, shown in spot.values
    ]
    now = text_width(tr("now"), small(kind)) + 1.0 + _NOW
    known = sum((name, *parts)) + gap * len(parts)
    if known + gap + now <= inside:
        return 1
    if max(known, now) <= inside:
        return 2
    if max(name + gap, *parts, now) <= inside:
        return 2 + len(parts) if name + gap + parts[0] > inside else 1 + len(parts)
    return None


def spot_height(lines: int, kind: float) -> float:
    return max(lines * line_height(kind) + 2 * SPOT_HIGH + 4 * RULE, 8.3)


def _log(made: Made, log: Log, room: Room) -> Piece:
    heads = log.narrow if room.folded else log.wide
    whole = sum(share for _, share in heads)
    head = max(
        measure.lines_in(text, room.width * share / whole - 2 * measure.PAD_X - 1, measure.SMALLEST)
        for text, share in heads
    )
    inner = head * line_height(measure.SMALLEST) + measure.HEAD_PAD + measure.PAD_Y + 3 * RULE
    inner += _LOG_LEAST * LOG_ROW
    return _finished(made, room, log.about, inner, log=heads, lines=_LOG_LEAST)


def _code(made: Made, carried: Carried, room: Room) -> Piece:
    """The code with its purpose: beside it in a wide column, below it in a narrow one."""
    found = code(carried, room.address, min(room.code, room.width))
    if found is None:
        why = tr(_TOO_LARGE, dot=spelt(f"{MODULE_LEAST}"))
        return _finished(made, room, notes=(why,))
    lines = (found.lacks,) if found.lacks else ()
    left = room.width - found.side - _CODE_GAP
    beside = bool(lines) and left >= _WORDS_LEAST
    words = sentences_height(lines, left if beside else room.width, room.kind)
    inner = 1.0 + (max(found.side, words) if beside else found.side + words)
    piece = _finished(made, room, carried.about, inner)
    if piece.below:  # it goes without saying
        piece = _finished(made, room, "", inner)
    return replace(piece, notes=lines, code=found, beside=beside)
