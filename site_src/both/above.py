"""The car seen from above, its front at the top: what is done at each wheel, what it comes to."""

from collections.abc import Sequence

from calc.answering.answer import AtCorner
from calc.forms.names import corner_label
from calc.language import tr
from calc.model.corners import Corner, End, Side
from site_src.both.ink import SIZE, Picture, fit, label, number, picture

WIDTH = 360
_HEIGHT = 214
_AXLES = {End.FRONT: 62.0, End.REAR: 174.0}
_SIDES = {Side.LEFT: -1, Side.RIGHT: 1}
_MIDDLE, _HALF = 180.0, 46.0  # px: the middle of the car, and from there to that of a wheel
_ROOM = 104.0  # px: for the words beside a wheel
_BODY = "M166 26H194L203 66L208 100V150L200 206H160L152 150V100L157 66Z"
_LARGE, _LEADING = 15.0, 17.0  # px: letters of the first line, and from line to line


def draw(corners: Sequence[AtCorner], key: str) -> Picture:
    """`key` makes the ids of the picture unique on the page."""
    front = tr("front", sense="in a picture")
    body = [
        _path(_BODY, 2.0),
        *(_path(f"M134 {y}H226", 1.0) for y in _AXLES.values()),
        f'<g fill="currentColor">{label(_MIDDLE, 18, front, "middle")}</g>',
        *(_corner(one) for one in corners),
    ]
    says = " ".join(said(corners))
    title = tr("The car from above")
    return picture(key, WIDTH, _HEIGHT, title, says, "".join(body), "drawing")


def said(corners: Sequence[AtCorner]) -> list[str]:
    """The work at the corners in words, a corner each, for whoever does not see the drawing."""
    return [_said(one) for one in corners]


def _said(one: AtCorner) -> str:
    first, *more = one.texts
    told = one.says if one.says.endswith(".") else f"{', '.join((one.says or first, *more))}."
    return f"{corner_label(one.corner)}: {told}"


def _corner(one: AtCorner) -> str:
    """A wheel, with its words on the outer side."""
    corner = Corner(one.corner)
    side, y = _SIDES[corner.side], _AXLES[corner.end]
    x = _MIDDLE + side * _HALF
    wheel = (
        f'<rect x="{number(x - 11)}" y="{number(y - 24)}" width="22" height="48" rx="5"'
        f' stroke="currentColor" stroke-width="{3 if one.way else 1.5}"/>'
    )
    anchor = "end" if side < 0 else "start"
    edge = x + side * 19
    top = y - _LEADING * (len(one.texts) - 1) / 2 + 4
    first, *more = one.texts
    large = _LARGE if fit(first, _ROOM, _LARGE) == first else SIZE
    sizes = (large, *(SIZE for _ in more))
    words = [
        label(edge, top + _LEADING * row, fit(text, _ROOM, size), anchor, size)
        for row, (text, size) in enumerate(zip(one.texts, sizes, strict=True))
    ]
    return f'{wheel}{_arrow(one.way, x, y)}<g fill="currentColor">{"".join(words)}</g>'


def _arrow(way: str, x: float, y: float) -> str:
    """In the wheel, where its collar goes."""
    if not way:
        return ""
    on = -1 if way == "up" else 1
    tip, tail, barb = (number(y + on * part) for part in (15, -15, 8))
    left, middle, right = (number(x + part) for part in (-6, 0, 6))
    return _path(f"M{middle} {tail}V{tip}M{left} {barb}L{middle} {tip}L{right} {barb}", 2.4)


def _path(d: str, weight: float) -> str:
    return f'<path d="{d}" stroke="currentColor" stroke-width="{weight}" stroke-linejoin="round"/>'
