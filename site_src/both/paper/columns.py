"""Ways of placing pieces in columns, from the one most faithful to their order to the one that
saves most.

Each takes the pieces of every block in order and the heights of the columns, and returns the
columns, or None if the pieces do not fit.
"""

from collections.abc import Callable, Sequence

from site_src.both.paper.pieces import GAP, Piece, split

Column = tuple[Piece, ...]
Blocks = Sequence[Sequence[Piece]]


def fit(blocks: Blocks, heights: Sequence[float]) -> bool:
    """Whether there is enough paper at all, however well it is used."""
    return sum(piece.height for block in blocks for piece in block) <= sum(heights)


def _in_order(blocks: Blocks, heights: Sequence[float]) -> list[Column] | None:
    """One after another, down each column; a block that would break starts the next column."""
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


def _first_fit(blocks: Blocks, heights: Sequence[float]) -> list[Column] | None:
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


def _first_fit_with_cuts(blocks: Blocks, heights: Sequence[float]) -> list[Column] | None:
    """Each piece in the first column that has room for it; without one, tables are cut."""
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


def highest_first(blocks: Blocks, heights: Sequence[float]) -> list[Column] | None:
    """The highest pieces first, which wastes the least; then back in order as far as possible."""
    order = {block[0].key: number for number, block in enumerate(blocks) if block}
    pieces = sorted((p for block in blocks for p in block), key=lambda p: -p.height)
    columns = _first_fit_with_cuts([pieces], heights)
    if columns is None:
        return None
    sorted_columns = [tuple(sorted(c, key=lambda p: (order[p.key], p.continued))) for c in columns]
    by_height: dict[float, list[Column]] = {}
    for column, height in zip(sorted_columns, heights, strict=True):
        by_height.setdefault(height, []).append(column)
    for alike in by_height.values():
        alike.sort(key=lambda c: (order[c[0].key], c[0].continued) if c else (len(order), False))
    return [by_height[height].pop(0) for height in heights]


WAYS: tuple[Callable[[Blocks, Sequence[float]], list[Column] | None], ...] = (
    _in_order,
    _first_fit,
    _first_fit_with_cuts,
    highest_first,
)
