"""A chart as SVG whose unit is the millimetre on paper. Black on white; hairlines, not grey."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from site_src.both.ink import clean
from site_src.pages.charts.scale import Tick, Upright

POINT = 25.4 / 72
_AXIS, _TICK, _HAIR, _WORKED = 0.3, 0.15, 0.1, 0.35
_LONG, _SHORT = 2.4, 1.2  # ticks with and without a label
_RING = 1.3
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


PAGE = Paper("page", width=190, height=195, head=17, kind=9, gap=4.2, fine=0.8)
POCKET = Paper("pocket", width=59.8, height=70, head=12.5, kind=8, gap=3.6, fine=0.7)


@dataclass(frozen=True)
class Side:
    """The ticks on one side of a scale, in one unit. `way` is 1 to the right, -1 to the left."""

    unit: str
    ticks: tuple[Tick, ...]
    way: int = 1


@dataclass(frozen=True)
class Drawn:
    """A scale with a head of a few short lines of text, and one or two sides."""

    key: str
    head: tuple[str, ...]
    line: Upright
    sides: tuple[Side, ...]


Point = tuple[float, float]


def scale(paper: Paper, drawn: Drawn) -> str:
    """A scale: axis, ticks, numbers, head."""
    x = drawn.line.x
    ys = [tick.y for side in drawn.sides for tick in side.ticks]
    axis = f'<path d="M{x:.2f} {paper.down(min(ys)):.2f}V{paper.down(max(ys)):.2f}"/>'
    sides = "".join(_side(paper, x, side) for side in drawn.sides)
    top = paper.head - 3.0 - paper.letter * 1.15 * (len(drawn.head) - 1)
    head = "".join(
        text(x, top + n * paper.letter * 1.15, line, "middle", paper.letter)
        for n, line in enumerate(drawn.head)
    )
    bold = "" if paper.small else ' font-weight="700"'
    return (
        f'<g class="scale" data-scale="{drawn.key}">'
        f'<g stroke="currentColor" stroke-width="{_AXIS}">{axis}</g>{sides}'
        f'<g class="head" fill="currentColor"{bold}>{head}</g></g>'
    )


def _side(paper: Paper, x: float, side: Side) -> str:
    lines, texts = [], []
    for tick in side.ticks:
        length = _LONG if tick.text else _SHORT
        y = paper.down(tick.y)
        lines.append(
            f'<path data-value="{tick.value:.10g}" d="M{x:.3f} {y:.3f}h{side.way * length:g}"/>'
        )
        if tick.text:
            at = x + side.way * (_LONG + 0.6)
            anchor = "start" if side.way > 0 else "end"
            texts.append(text(at, y + 0.36 * paper.letter, tick.text, anchor, paper.letter))
    return (
        f'<g class="side" data-unit="{clean(side.unit)}" stroke="currentColor"'
        f' stroke-width="{_TICK}">{"".join(lines)}</g>'
        f'<g fill="currentColor">{"".join(texts)}</g>'
    )


def text(x: float, y: float, words: str, anchor: str, size: float) -> str:
    at = "" if anchor == "start" else f' text-anchor="{anchor}"'
    return f'<text x="{x:.2f}" y="{y:.2f}"{at} font-size="{size:.3f}">{clean(words)}</text>'


def worked(paper: Paper, points: Sequence[Point]) -> str:
    """A straight edge over these points, a ring around each; dashed, to be no part of a scale."""
    path = "L".join(f"{x:.2f} {paper.down(y):.2f}" for x, y in (points[0], points[-1]))
    rings = "".join(
        f'<circle cx="{x:.2f}" cy="{paper.down(y):.2f}" r="{_RING}"/>' for x, y in points
    )
    return (
        f'<g class="worked" stroke="currentColor" stroke-width="{_WORKED}">'
        f'<path stroke-dasharray="4 1.5" d="M{path}"/>{rings}</g>'
    )


def hairlines(paper: Paper, lines: Iterable[tuple[Point, Point]]) -> str:
    """A grid."""
    path = "".join(
        f"M{a:.2f} {paper.down(b):.2f}L{c:.2f} {paper.down(d):.2f}" for (a, b), (c, d) in lines
    )
    return f'<path class="grid" stroke="currentColor" stroke-width="{_HAIR}" d="{path}"/>'


def curve(paper: Paper, points: Sequence[Point]) -> str:
    """A dotted curve."""
    path = "L".join(f"{x:.2f} {paper.down(y):.2f}" for x, y in points)
    return (
        f'<path class="limit" stroke="currentColor" stroke-width="{_WORKED}"'
        f' stroke-dasharray="0.4 1.2" stroke-linecap="round" d="M{path}"/>'
    )


def picture(paper: Paper, key: str, title: str, says: str, body: str) -> str:
    """The whole chart with its title and text alternative."""
    height = paper.head + paper.height + paper.foot
    name = f"chart-{key}-{paper.key}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="chart" viewBox="0 0 {paper.width:g}'
        f' {height:g}" width="{paper.width:g}mm" height="{height:g}mm" role="img"'
        f' aria-labelledby="{name}-title" aria-describedby="{name}-desc">'
        f'<title id="{name}-title">{clean(title)}</title>'
        f'<desc id="{name}-desc">{clean(says)}</desc>'
        f'<g fill="none" stroke="none" color="currentColor" font-family="{_FONT}">{body}</g></svg>'
    )


def to_left(side: Side) -> Side:
    return replace(side, way=-1)
