"""Placing labels on a plot: close to the thing named, over no curve and no other label.

Curves and labels are bits of a coarse grid, one integer a row, so that testing whether a box is
free takes a few bit operations: a plot is redrawn at every key press.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

Pixel = tuple[float, float]
_CELL = 3.0  # px
_GAPS = (6.5, 18.0, 30.0, 44.0, 60.0)  # px from the thing named to its label
_LEADER_FROM = 12.0  # px; a label this far off is joined to its curve by a thin line
_NEAR = 0.3  # px; curves this close are one line to the eye
# Costs of a spot: a step further away, a curve under the label, a curve in between, a point that
# another curve shares.
_STEP_COST, _OVER_CURVE_COST, _BETWEEN_COST, _SHARED_COST = 2.5, 10.0, 6.0, 9.0


@dataclass(frozen=True)
class Box:
    left: float
    top: float
    right: float
    bottom: float

    def nearest(self, point: Pixel) -> Pixel:
        x = min(max(point[0], self.left), self.right)
        return x, min(max(point[1], self.top), self.bottom)


@dataclass(frozen=True)
class Spot:
    """A place for a label, and the line that joins it to the thing named, if it needs one."""

    box: Box
    leader: tuple[Pixel, Pixel] | None


def along(line: Sequence[Pixel]) -> list[Pixel]:
    """Points of a line to put its name at: its end first, then back towards its start."""
    lengths = [abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in pairwise(line)]
    total = sum(lengths)
    found = []
    for share in (1.0, 0.85, 0.7, 0.55, 0.4, 0.25):
        left, place = share * total, 0
        while place < len(lengths) - 1 and left > lengths[place]:
            left -= lengths[place]
            place += 1
        if total == 0:
            return [line[0]]
        part = left / lengths[place] if lengths[place] else 0.0
        (a, b), (c, d) = line[place], line[place + 1]
        found.append((a + (c - a) * part, b + (d - b) * part))
    return found


def _settled(point: Pixel) -> Pixel:
    """A point without the last digits, in which one Python differs from another: equal costs stay
    equal, and the page places its labels as the build does."""
    return round(point[0], 6), round(point[1], 6)


class Field:
    """The inside of a plot and the occupied parts of it; it changes as labels are placed."""

    def __init__(self, inside: Box, lines: Sequence[Sequence[Pixel]]) -> None:
        self.inside = inside
        self.lines = [[_settled(point) for point in line] for line in lines]
        self._last = int(inside.bottom / _CELL) + 1
        self._taken = [0] * (self._last + 1)
        self._curves = [0] * (self._last + 1)
        for line in self.lines:
            self._trace(self._curves, line)

    def reserve(self, box: Box) -> None:
        rows, mask = self._cells(box)
        for row in rows:
            self._taken[row] |= mask

    def place(
        self, width: float, height: float, anchors: Sequence[Pixel], own: int | None = None
    ) -> Spot | None:
        """The best free spot for the label of a point or of a curve (`own`, its number)."""
        best: tuple[float, Spot] | None = None
        for order, anchor in enumerate(map(_settled, anchors)):
            if best and best[0] <= order:
                break
            heights = [line_at(line, anchor[0]) for n, line in enumerate(self.lines) if n != own]
            others = [y - anchor[1] for y in heights if y is not None]
            shared = 0.0
            if own is None:  # the curves through a point are no obstacle to its label
                others = [off for off in others if abs(off) > _GAPS[0]]
            elif any(abs(off) < _NEAR for off in others):
                shared = _SHARED_COST
            for far, box in self._boxes(width, height, anchor):
                cost = order + far + shared
                if best and best[0] <= cost:
                    break
                between = _between(anchor, box, others)
                cost += _BETWEEN_COST * between + _OVER_CURVE_COST * self._hits(self._curves, box)
                spot = Spot(box, _leader(anchor, box, between))
                if (best is None or cost < best[0]) and self._is_free(spot):
                    best = cost, spot
        if best is None:
            return None
        self.reserve(best[1].box)
        if best[1].leader:
            self._trace(self._taken, best[1].leader)
        return best[1]

    def _boxes(self, width: float, height: float, anchor: Pixel) -> Iterator[tuple[float, Box]]:
        """(distance from the ideal, box) around a point, nearest first, shifted sideways to stay
        inside."""
        x, y = anchor
        inside = self.inside
        for step, gap in enumerate(_GAPS):
            for top in (y - gap - height, y + gap):
                if not inside.top <= top <= inside.bottom - height:
                    continue
                for shift in (1.0, 0.0, 0.5):  # the label ends, starts, or is centred at the point
                    left = min(max(x - shift * width, inside.left), inside.right - width)
                    yield _STEP_COST * step, Box(left, top, left + width, top + height)
            if step == 0:
                top = min(max(y - height / 2, inside.top), inside.bottom - height)
                for left in (x - width - 8, x + 8):
                    if inside.left <= left <= inside.right - width:
                        yield 1.0, Box(left, top, left + width, top + height)

    def _hits(self, grid: Sequence[int], box: Box) -> int:
        rows, mask = self._cells(box)
        return sum([1 for row in rows if grid[row] & mask])

    def _is_free(self, spot: Spot) -> bool:
        if self._hits(self._taken, spot.box):
            return False
        if spot.leader is None:
            return True
        (a, b), (c, d) = spot.leader  # from beyond the ring of a mark
        probes = [(a + (c - a) * n / 8, b + (d - b) * n / 8) for n in range(3, 9)]
        return not any(self._taken[int(y / _CELL)] >> int(x / _CELL) & 1 for x, y in probes)

    def _cells(self, box: Box) -> tuple[range, int]:
        first, last = max(int(box.left / _CELL), 0), int(box.right / _CELL)
        rows = range(max(int(box.top / _CELL), 0), min(int(box.bottom / _CELL), self._last) + 1)
        return rows, ((1 << (last - first + 1)) - 1) << first

    def _trace(self, grid: list[int], line: Sequence[Pixel]) -> None:
        """Mark the cells that a line passes through."""
        for (a, b), (c, d) in pairwise(line):
            steps = int(max(abs(c - a), abs(d - b)) / _CELL) + 1
            for n in range(steps + 1):
                x, y = a + (c - a) * n / steps, b + (d - b) * n / steps
                grid[min(int(y / _CELL), self._last)] |= 1 << int(x / _CELL)


def line_at(line: Sequence[Pixel], x: float) -> float | None:
    """Height of a line at x; None outside of it and where it is vertical."""
    for (a, b), (c, d) in pairwise(line):
        if a != c and min(a, c) <= x <= max(a, c):
            return b + (d - b) * (x - a) / (c - a)
    return None


def _between(anchor: Pixel, box: Box, others: Sequence[float]) -> int:
    """How many other curves (their heights below the point) lie between a point and its label."""
    up, down = box.bottom - anchor[1], box.top - anchor[1]
    if up < 0:
        return sum([1 for off in others if up < off < -_NEAR])
    return sum([1 for off in others if _NEAR < off < down])


def _leader(anchor: Pixel, box: Box, between: int) -> tuple[Pixel, Pixel] | None:
    """A line from the point to a label that is far away, or behind another curve."""
    end = box.nearest(anchor)
    away = abs(end[0] - anchor[0]) + abs(end[1] - anchor[1])
    return (anchor, end) if between or away > _LEADER_FROM else None
