"""A drawing of an answer as SVG, to scale: the actual lengths of the user, with a bar of known
length.

Lines of parts have their true width; pens and letters keep their size on the page. Runs at build
time and in the browser.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from calc import units
from calc.answering.answer import Drawing, Line, Ring, Tag
from site_src.both.ink import SIZE, Picture, fit, label, number, picture, width_of

WIDTH, HIGHEST = 360, 420
_EDGE, _FOOT = 6.0, 24.0  # px; the foot holds the bar
_GAP = 5.0  # px from a point to the words beside it
_LEADING = SIZE + 2  # px from line to line
_PENS = {"main": (2.0, ""), "thin": (0.9, ""), "dashed": (1.2, "5 3"), "solid": (1.0, "")}
_BARS = (0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001)  # m
_INCH_BARS = tuple(0.0254 * inches for inches in (4, 2, 1, 0.5, 0.25, 0.125))
_LONGEST_BAR = 90.0  # px
_LARGEST = 5e4  # px to a metre: the shortest bar still fits the sheet
_LONGEST_WORDS = 160.0  # px; longer ones are cut


@dataclass(frozen=True)
class _Sheet:
    """From m to px: `scale` px to a metre, the point (0, 0) of the drawing at (left, base)."""

    scale: float
    left: float
    base: float

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.left + x * self.scale, self.base - y * self.scale


@dataclass(frozen=True)
class _Box:
    """The room of an element: from and to in m, and px beyond that at any scale."""

    x: tuple[float, float]
    y: tuple[float, float]
    left: float = 0.0
    right: float = 0.0
    above: float = 0.0
    below: float = 0.0


def draw(drawing: Drawing, system: str, key: str) -> Picture:
    """The drawing in the units of `system`; `key` makes its ids unique on the page."""
    room = _extents(drawing)
    scale = _largest_scale(room)
    low, high, under, over = (_reach(side, scale) for side in room)
    height = round(under + over + 2 * _EDGE + _FOOT)
    # Centred on the sheet, with its lowest part on the foot.
    sheet = _Sheet(scale, (WIDTH + low - high) / 2, height - _FOOT - _EDGE - under)
    body = [
        *(_line(line, sheet) for line in drawing.lines),
        *(_ring(ring, sheet) for ring in drawing.rings),
        f'<g class="drawing-tag" fill="currentColor">{"".join(_tags(drawing, sheet))}</g>',
        _bar(sheet, system, height),
    ]
    return picture(key, WIDTH, height, drawing.title, drawing.says, "".join(body), "drawing")


_Side = tuple[tuple[float, float], ...]  # (extent in m, px beyond it)


def _extents(drawing: Drawing) -> tuple[_Side, _Side, _Side, _Side]:
    """The room needed to the left of the origin, to the right, below and above."""
    boxes = list(_boxes(drawing))
    return (
        _farthest((-box.x[0], box.left) for box in boxes),
        _farthest((box.x[1], box.right) for box in boxes),
        _farthest((-box.y[0], box.below) for box in boxes),
        _farthest((box.y[1], box.above) for box in boxes),
    )


def _farthest(parts: Iterable[tuple[float, float]]) -> _Side:
    """For each number of px beyond, the part farthest out: the others need no more room at any
    scale."""
    out: dict[float, float] = {}
    for at, beyond in parts:
        out[beyond] = max(at, out.get(beyond, at))
    return tuple((at, beyond) for beyond, at in out.items())


def _reach(side: _Side, scale: float) -> float:
    """Extent of a side in px."""
    return max(at * scale + beyond for at, beyond in side)


def _boxes(drawing: Drawing) -> Iterator[_Box]:
    for line in drawing.lines:
        xs, ys = [x for x, _ in line.points], [y for _, y in line.points]
        half = line.width / 2
        yield _Box((min(xs), max(xs)), (min(ys) - half, max(ys) + half), 2, 2, 2, 2)
    for ring in drawing.rings:
        r = ring.radius
        yield _Box((ring.x - r, ring.x + r), (ring.y - r, ring.y + r), 2, 2, 2, 2)
    for tag in drawing.tags:
        yield _tag_box(tag)


def _tag_box(tag: Tag) -> _Box:
    lines = _words(tag)
    wide, tall = max(map(width_of, lines)), len(lines) * _LEADING
    room = {
        "right": (0.0, wide + _GAP, tall / 2, tall / 2),
        "left": (wide + _GAP, 0.0, tall / 2, tall / 2),
        "above": (wide / 2, wide / 2, tall + _GAP, 0.0),
        "below": (wide / 2, wide / 2, 0.0, tall + _GAP),
    }
    return _Box((tag.x, tag.x), (tag.y, tag.y), *room[tag.side])


def _words(tag: Tag) -> list[str]:
    return [fit(words, _LONGEST_WORDS) for words in tag.text.split("\n")]


def _largest_scale(room: tuple[_Side, _Side, _Side, _Side]) -> float:
    """The largest scale, px to a metre, at which everything fits the sheet, words included."""
    left, right, under, over = room
    small, large = 0.0, _LARGEST
    for _ in range(50):
        scale = (small + large) / 2
        fits = (
            _reach(left, scale) + _reach(right, scale) <= WIDTH - 2 * _EDGE
            and _reach(under, scale) + _reach(over, scale) <= HIGHEST - 2 * _EDGE - _FOOT
        )
        small, large = (scale, large) if fits else (small, scale)
    return small


def _line(line: Line, sheet: _Sheet) -> str:
    points = "L".join(
        f"{number(x)} {number(y)}" for x, y in (sheet.at(*point) for point in line.points)
    )
    pen, dashes = _PENS[line.style]
    look = f' stroke-width="{number(max(pen, line.width * sheet.scale))}"'
    if dashes:
        look += f' stroke-dasharray="{dashes}"'
    if line.width:
        look += ' stroke-linecap="round"'
    close = ""
    if line.style == "solid":
        close = "Z"
        look += ' fill="currentColor"'
    return (
        f'<path class="drawing-{line.style}" d="M{points}{close}" stroke="currentColor"{look}'
        ' stroke-linejoin="round"/>'
    )


def _ring(ring: Ring, sheet: _Sheet) -> str:
    x, y = sheet.at(ring.x, ring.y)
    pen, dashes = _PENS[ring.style]
    radius = max(ring.radius * sheet.scale, 1.5)
    dash = f' stroke-dasharray="{dashes}"' if dashes else ""
    fill = ' fill="currentColor"' if ring.style == "solid" else ""
    return (
        f'<circle class="drawing-{ring.style}" cx="{number(x)}" cy="{number(y)}"'
        f' r="{number(radius)}" stroke="currentColor" stroke-width="{pen}"{dash}{fill}/>'
    )


def _tags(drawing: Drawing, sheet: _Sheet) -> Iterator[str]:
    for tag in drawing.tags:
        x, y = sheet.at(tag.x, tag.y)
        lines = _words(tag)
        tall = len(lines) * _LEADING
        shift, anchor = {
            "right": (_GAP, "start"),
            "left": (-_GAP, "end"),
        }.get(tag.side, (0.0, "middle"))
        top = {"above": y - _GAP - tall, "below": y + _GAP}.get(tag.side, y - tall / 2)
        for place, words in enumerate(lines):
            baseline = top + place * _LEADING + SIZE * 0.85
            yield label(x + shift, baseline, words, anchor)


def _bar(sheet: _Sheet, system: str, height: int) -> str:
    """A bar of a round length, so that a printed drawing can be measured."""
    bars = _INCH_BARS if system == units.IMPERIAL else _BARS
    length = next((bar for bar in bars if bar * sheet.scale <= _LONGEST_BAR), bars[-1])
    start, end, y = _EDGE, _EDGE + length * sheet.scale, height - _EDGE - 5
    shown = f"{units.entry_text(length, 'length', system)}{units.NBSP}"
    shown += units.unit_of("length", system).symbol
    d = f"M{number(start)} {number(y - 4)}v8m0 -4H{number(end)}m0 -4v8"
    return (
        f'<path class="drawing-bar" d="{d}" stroke="currentColor" stroke-width="1.2"/>'
        f'<g fill="currentColor">{label(end + _GAP, y + 4, shown)}</g>'
    )
