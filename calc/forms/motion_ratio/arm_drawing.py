"""The arm with its damper and its holes to scale, seen along the car."""

from math import cos

from calc.answering.answer import Drawing, Line, Ring, Tag
from calc.forms.motion_ratio.inputs import Asked
from calc.language import tr
from calc.physics.linkage import Linkage, Point, position_for_length

_PIN, _HOLE = 1.2e-3, 2e-3  # m, radius as drawn


def arm_drawing(asked: Asked) -> Drawing:
    """The arm at ride height, the damper in the hole now used and dashed in the other; the arm at
    full droop and full bump in thin lines."""
    drawn = asked.arm.linkage()
    swung, tags = _swings(asked, drawn)
    lines = [
        Line((drawn.pivot, drawn.wheel), width=2e-3),
        Line((drawn.lower, drawn.upper), width=1.2e-3),
        *_bracket(drawn.pivot, drawn.wheel, drawn.lower),
        *swung,
    ]
    rings = [Ring(*pin, _PIN, "solid") for pin in (drawn.pivot, drawn.wheel)]
    rings += [Ring(*hole, _HOLE) for hole in (drawn.lower, drawn.upper)]
    says = tr(
        "The arm at ride height with its damper. Thin lines: the arm at full droop and at full "
        "bump."
    )
    if asked.holes == "two":
        there = asked.arm.linkage(other=True)
        lines.append(Line((there.lower, there.upper), "dashed"))
        rings += [Ring(*hole, _HOLE) for hole in (there.lower, there.upper)]
        tags += _named_holes(drawn, there)
        says = tr(
            "The arm at ride height with its damper. Dashed: the damper in the other hole. Thin "
            "lines: the arm at full droop and at full bump."
        )
    x, y = drawn.pivot
    tags.append(Tag(x, y - _PIN, tr("arm pivot"), "below"))
    return Drawing(
        tr("The arm and its holes, seen along the car"),
        tuple(lines),
        tuple(rings),
        tuple(tags),
        says,
    )


def _named_holes(drawn: Linkage, there: Linkage) -> list[Tag]:
    """Names at that end of the damper which moves, on the sides away from each other."""
    here, moved = drawn.upper, there.upper
    if moved == here:
        here, moved = drawn.lower, there.lower
    out = moved[0] > here[0]
    return [
        _named(moved, tr("other hole"), right=out),
        _named(here, tr("this hole"), right=not out),
    ]


def _named(hole: Point, name: str, right: bool) -> Tag:
    return Tag(hole[0] + (_HOLE if right else -_HOLE), hole[1], name, "right" if right else "left")


def _bracket(pivot: Point, wheel: Point, lower: Point) -> list[Line]:
    """What carries a lower mount that stands off the line of the arm."""
    along = (lower[0] - pivot[0]) / (wheel[0] - pivot[0])
    foot = (lower[0], pivot[1] + along * (wheel[1] - pivot[1]))
    return [Line((foot, lower), "thin")]


def _swings(asked: Asked, drawn: Linkage) -> tuple[list[Line], list[Tag]]:
    """The arm at both ends of the damper's stroke, named."""
    lines, tags = [], []
    reach = drawn.wheel[0] - drawn.pivot[0], drawn.wheel[1] - drawn.pivot[1]
    longest = asked.arm.damper_length
    ends = (tr("full droop"), longest), (tr("full bump"), longest - asked.stroke)
    for name, length in ends:
        up = reach[1] + position_for_length(drawn, length).wheel_rise
        # The arm keeps its length in its own plane, so its end comes in a little on the way.
        lean = cos(drawn.kick_up) ** 2
        out = max(reach[0] ** 2 + (reach[1] ** 2 - up**2) / lean, 0.0) ** 0.5
        end = (drawn.pivot[0] + out, drawn.pivot[1] + up)
        lines.append(Line((drawn.pivot, end), "thin"))
        tags.append(Tag(*end, name))
    return lines, tags
