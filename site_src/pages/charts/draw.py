"""A chart as SVG whose unit is the millimetre on paper. Black on white; hairlines, not grey."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from math import hypot

from site_src.both.ink import clean
from site_src.both.paper.measure import POINT, text_width
from site_src.pages.charts.scale import Tick, Upright

_AXIS, _TICK, _HAIR, _WORKED = 0.3, 0.15, 0.1, 0.35
_LONG, _FIFTH, _SHORT = 2.4, 1.8, 1.2  # ticks with a label, those counted by, the rest
_RING = 1.3
_DASH, _GAP = 4.0, 1.5
_CLEAR = 0.5  # white around a label that a worked line leaves
_FONT = "Arial, Helvetica, 'Liberation Sans', sans-serif"


@dataclass(frozen=True)
class Paper:
    """Room for a chart: `width` and `height` of the scales, `head` above them; type in pt. Labels
    are at least `gap` apart, ticks `fine`."""

    key: str
    width: float
    height: float
    head: float
    kind: float
    gap: float
    fine: float
    foot: float = 3.0

    @property
    def small(self) -> bool:
        return self.key != "page"

    @property
    def letter(self) -> float:
        """Height of the type in mm."""
        return self.kind * POINT

    def down(self, y: float) -> float:
        """From y above the foot of the scales to y below the top of the picture."""
        return self.head + self.height - y


PAGE = Paper("page", width=190, height=168, head=22, kind=9, gap=4.2, fine=0.77)
POCKET = Paper("pocket", width=59.8, height=66, head=16.5, kind=8, gap=3.6, fine=0.7)


@dataclass(frozen=True)
class Side:
    """The ticks on one side of a scale, in one unit. `way` is 1 to the right, -1 to the left."""

    unit: str
    ticks: tuple[Tick, ...]
    way: int = 1


@dataclass(frozen=True)
class Drawn:
    """A scale with a head of a few short lines of text, and one or two sides. `number` is its place
    in the order of use, in a ring where a value is set, in a square where it is `read`."""

    key: str
    head: tuple[str, ...]
    line: Upright
    sides: tuple[Side, ...]
    number: int = 0
    read: bool = False


Point = tuple[float, float]


@dataclass
class Drawing:
    """The drawing so far, in mm from the top left, and the boxes of its texts."""

    paper: Paper
    parts: list[str] = field(default_factory=list)
    boxes: list[tuple[float, float, float, float]] = field(default_factory=list)

    def text(self, x: float, y: float, words: str, anchor: str = "middle") -> str:
        """A text, to be put in a group by the caller."""
        size = self.paper.letter
        wide = text_width(words, self.paper.kind)
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
        self.boxes.append((left, y - 0.78 * size, left + wide, y + 0.2 * size))
        at = "" if anchor == "start" else f' text-anchor="{anchor}"'
        return f'<text x="{x:.2f}" y="{y:.2f}"{at} font-size="{size:.3f}">{clean(words)}</text>'

    def scale(self, drawn: Drawn) -> None:
        """A scale: axis, ticks, numbers, head."""
        paper, x = self.paper, drawn.line.x
        ys = [tick.y for side in drawn.sides for tick in side.ticks]
        axis = f'<path d="M{x:.2f} {paper.down(min(ys)):.2f}V{paper.down(max(ys)):.2f}"/>'
        sides = "".join(self._side(x, side) for side in drawn.sides)
        step = paper.letter * 1.15
        top = paper.head - 3.0 - step * (len(drawn.head) - 1)
        head = "".join(self.text(x, top + n * step, line) for n, line in enumerate(drawn.head))
        bold = "" if paper.small else ' font-weight="700"'
        self.parts.append(
            f'<g class="scale" data-scale="{drawn.key}">'
            f'<g stroke="currentColor" stroke-width="{_AXIS}">{axis}</g>{sides}'
            f'<g class="head" fill="currentColor"{bold}>{head}</g>'
            f"{self.numbered(x, drawn.number, drawn.read) if drawn.number else ''}</g>"
        )

    def numbered(self, x: float, number: int, read: bool, top: float = 0.2) -> str:
        """The number of a scale, by default above its head, at the top of the picture."""
        size = self.paper.letter
        radius = 0.66 * size
        y = radius + top
        frame = (
            f'<rect x="{x - radius:.2f}" y="{y - radius:.2f}" width="{2 * radius:.2f}"'
            f' height="{2 * radius:.2f}"/>'
            if read
            else f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{radius:.2f}"/>'
        )
        return (
            f'<g class="number"><g stroke="currentColor" stroke-width="0.25">{frame}</g>'
            f'<g fill="currentColor">{self.text(x, y + 0.36 * size, str(number))}</g></g>'
        )

    def _side(self, x: float, side: Side) -> str:
        lines, texts = [], []
        for tick in side.ticks:
            y = self.paper.down(tick.y)
            lines.append(_mark(tick, x, y, "h", side.way))
            if tick.text:
                at = x + side.way * (_LONG + 0.6)
                anchor = "start" if side.way > 0 else "end"
                texts.append(self.text(at, y + 0.36 * self.paper.letter, tick.text, anchor))
        return _ruled(side.unit, lines, texts)

    def across(self, unit: str, marks: Sequence[Tick], y: float, way: int) -> str:
        """The ticks and numbers of a horizontal scale, whose `Tick.y` are its x; `way` 1 is down.
        To be put in the group of its scale by the caller."""
        lines, texts = [], []
        for tick in marks:
            lines.append(_mark(tick, tick.y, y, "v", way))
            if tick.text:
                base = y + way * 3 + (0.72 * self.paper.letter if way > 0 else 0.0)
                texts.append(self.text(tick.y, base, tick.text))
        return _ruled(unit, lines, texts)

    def worked(self, points: Sequence[Point]) -> None:
        """A straight edge over these points, a ring around each; dashed, to be no part of a scale,
        and broken at texts, so that they stay legible. Drawn last."""
        down = self.paper.down
        (ax, ay), (bx, by) = ((x, down(y)) for x, y in (points[0], points[-1]))
        path = "".join(
            f"M{ax + (bx - ax) * start:.2f} {ay + (by - ay) * start:.2f}"
            f"L{ax + (bx - ax) * end:.2f} {ay + (by - ay) * end:.2f}"
            for start, end in self._free((ax, ay), (bx, by))
        )
        rings = "".join(f'<circle cx="{x:.2f}" cy="{down(y):.2f}" r="{_RING}"/>' for x, y in points)
        self.parts.append(
            f'<g class="worked" stroke="currentColor" stroke-width="{_WORKED}">'
            f'<path stroke-dasharray="{_DASH:g} {_GAP:g}" d="{path}"/>{rings}</g>'
        )

    def _free(self, a: Point, b: Point) -> list[tuple[float, float]]:
        """The stretches of a line, as shares of its length, on which no text stands."""
        hidden = sorted(
            span for box in self.boxes if (span := _within(a, b, box)) is not None
        )  # fmt: skip
        found, at = [], 0.0
        for start, end in hidden:
            if start > at:
                found.append((at, start))
            at = max(at, end)
        return [*found, (at, 1.0)] if at < 1.0 else found

    def hairlines(self, lines: Iterable[tuple[Point, Point]]) -> None:
        """A grid."""
        down = self.paper.down
        path = "".join(f"M{a:.2f} {down(b):.2f}L{c:.2f} {down(d):.2f}" for (a, b), (c, d) in lines)
        self.parts.append(
            f'<path class="grid" stroke="currentColor" stroke-width="{_HAIR}" d="{path}"/>'
        )

    def curve(self, points: Sequence[Point]) -> None:
        """A dotted curve."""
        path = "L".join(f"{x:.2f} {self.paper.down(y):.2f}" for x, y in points)
        self.parts.append(
            f'<path class="limit" stroke="currentColor" stroke-width="{_WORKED}"'
            f' stroke-dasharray="0.4 1.2" stroke-linecap="round" d="M{path}"/>'
        )

    def picture(self, key: str, title: str, says: str) -> str:
        """The whole chart with its title and text alternative."""
        paper = self.paper
        height = paper.head + paper.height + paper.foot
        name = f"chart-{key}-{paper.key}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 {paper.width:g}'
            f' {height:g}" width="{paper.width:g}mm" height="{height:g}mm" role="img"'
            f' aria-labelledby="{name}-title" aria-describedby="{name}-desc">'
            f'<title id="{name}-title">{clean(title)}</title>'
            f'<desc id="{name}-desc">{clean(says)}</desc>'
            f'<g fill="none" stroke="none" color="currentColor" font-family="{_FONT}">'
            f"{''.join(self.parts)}</g></svg>"
        )


def length(tick: Tick) -> float:
    """Of its line, mm."""
    return _LONG if tick.text else _FIFTH if tick.fifth else _SHORT


def _mark(tick: Tick, x: float, y: float, along: str, way: int) -> str:
    return (
        f'<path data-value="{tick.value:.10g}" d="M{x:.3f} {y:.3f}{along}{way * length(tick):g}"/>'
    )


def _ruled(unit: str, lines: Iterable[str], texts: Iterable[str]) -> str:
    """The ticks of one side of a scale, and their numbers."""
    return (
        f'<g class="side" data-unit="{clean(unit)}" stroke="currentColor"'
        f' stroke-width="{_TICK}">{"".join(lines)}</g>'
        f'<g fill="currentColor">{"".join(texts)}</g>'
    )


def _within(
    a: Point, b: Point, box: tuple[float, float, float, float]
) -> tuple[float, float] | None:
    """From which share of a line to which it lies in a box and the white around it (clipping after
    Liang and Barsky); None where it does not."""
    left, top, right, bottom = box
    start, end = 0.0, 1.0
    for at, to, low, high in (
        (a[0], b[0], left - _CLEAR, right + _CLEAR),
        (a[1], b[1], top - _CLEAR, bottom + _CLEAR),
    ):
        if at == to:
            if not low <= at <= high:
                return None
            continue
        one, other = sorted(((low - at) / (to - at), (high - at) / (to - at)))
        start, end = max(start, one), min(end, other)
    return (start, end) if end - start > 0.1 / hypot(b[0] - a[0], b[1] - a[1]) else None


def to_left(side: Side) -> Side:
    return replace(side, way=-1)


def renamed(side: Side, unit: str) -> Side:
    return replace(side, unit=unit)
