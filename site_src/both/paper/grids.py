"""A grid on paper: the widths of its columns and its height in a width and a type."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.sheet.grid import Grid, Role
from site_src.both.paper import measure
from site_src.both.paper.measure import PAD_X, PAD_Y, RULE, small, text_width

PENCIL = 8.5  # mm: least width of a column to write in
TEXT_PAD = 2.4  # left of words that belong to the number before them
_NAME_LINES = 2
_HEAD_LINES = (1, 2, 3, 9)  # tried in turn; the last is a line for each word
_NAME = 17.0  # mm: what a name that is shortened gets at least
_STRONG: frozenset[Role] = frozenset({"key"})
_NAMES: frozenset[Role] = frozenset({"name", "label"})
_SMALL: frozenset[Role] = frozenset({"small", "label"})


@dataclass(frozen=True)
class Laid:
    """A grid as it is printed, its columns in mm; whether a name had to be wrapped or shortened."""

    grid: Grid
    widths: tuple[float, ...]
    height: float
    squeezed: bool = False

    @property
    def shares(self) -> tuple[str, ...]:
        whole = sum(self.widths)
        return tuple(f"{100 * wide / whole:.2f}%" for wide in self.widths)


def lay(grid: Grid, width: float, kind: float, wraps: bool = False) -> Laid | None:
    """The grid in a width; None where a number would not fit, or words that are not to `wrap`."""
    columns = range(len(grid.heads))
    for lines in _HEAD_LINES:
        needs = [_need(grid, column, kind, lines) for column in columns]
        spare = width - sum(needs)
        if spare >= 0:
            break
    squeezed = False
    if spare < 0:
        wrapped = _NAMES | {"text"} if wraps else _NAMES
        names = [n for n in columns if grid.roles[n] in wrapped and _texts(grid, n)]
        give = {n: max(needs[n] - _least(grid, n, kind), 0.0) for n in names}
        if sum(give.values()) < -spare:
            return None
        for n in names:
            needs[n] -= -spare * give[n] / sum(give.values())
        squeezed = any(give[n] and grid.roles[n] == "name" for n in names)
        grid = _shortened(grid, needs, kind)
        spare = 0.0
    widths = _spread(grid, needs, spare)
    return Laid(grid, widths, _height(grid, widths, kind), squeezed)


def _spread(grid: Grid, needs: Sequence[float], spare: float) -> tuple[float, ...]:
    """Room to spare goes to the columns to write in, else to all by what they need."""
    blank = [n for n in range(len(needs)) if not _texts(grid, n)]
    takers = blank if blank and len(blank) < len(needs) else list(range(len(needs)))
    whole = sum(needs[n] for n in takers)
    return tuple(
        need + (spare * need / whole if n in takers else 0.0) for n, need in enumerate(needs)
    )


def type_of(role: Role, kind: float) -> tuple[float, bool]:
    """Size and weight of a cell."""
    return (small(kind) if role in _SMALL else kind), role in _STRONG


def _texts(grid: Grid, column: int) -> list[str]:
    return [row[column] for row in grid.rows if row[column]]


def _need(grid: Grid, column: int, kind: float, head_lines: int = _HEAD_LINES[-1]) -> float:
    """Width of a column with every text on one line, and its head on so many at most."""
    texts = _texts(grid, column)
    widest = max(
        (
            text_width(row[column], size, bold or place in grid.boxed)
            for place, row in enumerate(grid.rows)
            for size, bold in (type_of(grid.roles[column], kind),)
        ),
        default=0.0,
    )
    head = measure.width_in(grid.shown_heads[column], head_lines, small(kind))
    floor = PENCIL if not texts and grid.roles[column] not in _SMALL else 0.0
    before = TEXT_PAD - PAD_X if grid.roles[column] == "text" else 0.0
    return max(widest, head, floor) + 2 * PAD_X + before + 0.2


def _least(grid: Grid, column: int, kind: float) -> float:
    """Width with a name shortened, or a label or a recipe wrapped between its words."""
    head = measure.longest_word(grid.shown_heads[column], small(kind)) + 2 * PAD_X
    role = grid.roles[column]
    if role in ("label", "text"):
        size, before = (small(kind), 0.0) if role == "label" else (kind, TEXT_PAD - PAD_X)
        words = (measure.longest_word(text, size, role == "text") for text in _texts(grid, column))
        return max(*words, head) + 2 * PAD_X + before + 0.2
    return max(min(_need(grid, column, kind), _NAME), head)


def _shortened(grid: Grid, widths: Sequence[float], kind: float) -> Grid:
    """The grid with names that take two lines at most."""
    rows = []
    for place, row in enumerate(grid.rows):
        cells = list(row)
        for n, role in enumerate(grid.roles):
            if role == "name":
                bold = place in grid.boxed
                cells[n] = measure.clipped(cells[n], widths[n] - 2 * PAD_X, kind, bold, _NAME_LINES)
        rows.append(tuple(cells))
    return replace(grid, rows=tuple(rows))


def row_height(kind: float) -> float:
    return measure.snapped(kind * measure.POINT * measure.TIGHT + 2 * PAD_Y)


def _caption_height(caption: str, width: float, kind: float) -> float:
    lines = measure.lines_in(caption.upper(), width - 2 * PAD_X, kind, bold=True)
    return measure.snapped(lines * kind * measure.POINT * measure.TIGHT + 2 * PAD_Y)


def _height(grid: Grid, widths: Sequence[float], kind: float) -> float:
    title = _caption_height(grid.caption, sum(widths), kind) if grid.caption else 0.0
    rest = row_height(small(kind)) if grid.rest else 0.0
    boxes = 4 * RULE * len(grid.boxed) + RULE * len(grid.ruled)
    boxes += sum(RULE for row in grid.rows if not all(row))
    return (
        title
        + head_height(grid, widths, kind)
        + sum(_lines(grid, n, widths, kind) for n in range(len(grid.rows)))
        + rest
        + boxes
    )


def _lines(grid: Grid, place: int, widths: Sequence[float], kind: float) -> float:
    """Height of a row, whose labels, names and recipes may wrap."""
    high = row_height(kind)
    for n, role in enumerate(grid.roles):
        if role in _NAMES or role == "text":
            size, bold = type_of(role, kind)
            bold = bold or place in grid.boxed
            free = widths[n] - 2 * PAD_X - (TEXT_PAD - PAD_X if role == "text" else 0.0)
            lines = measure.lines_in(grid.rows[place][n], free, size, bold)
            tall = lines * size * measure.POINT * measure.TIGHT + 2 * PAD_Y
            # All cells of a row stand on one line, and larger ones hang lower.
            lower = (kind - size) * measure.POINT if lines > 1 else 0.0
            high = max(high, measure.snapped(tall + lower))
    return high


def head_height(grid: Grid, widths: Sequence[float], kind: float) -> float:
    lines = max(
        measure.lines_in(head, wide - 2 * PAD_X, small(kind))
        for head, wide in zip(grid.shown_heads, widths, strict=True)
    )
    high = lines * small(kind) * measure.POINT * measure.TIGHT + measure.HEAD_PAD + PAD_Y
    return measure.snapped(high + RULE)
