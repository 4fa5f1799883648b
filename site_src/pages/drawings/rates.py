"""Rate of a spring by scale, by its wire and by clipping; turns in opposite directions;
settling."""

from collections.abc import Callable, Mapping
from math import cos, exp, pi

from calc.language import tr
from site_src.both.ink import number
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    THIN,
    Drawing,
    across,
    arrow,
    block,
    dot,
    hatch,
    line,
    path,
    pointer,
    ring,
    ruler,
    solid,
    spring,
    upright,
    words,
)


def _scale() -> Drawing:
    return Drawing(
        tr("Rate with a scale and a ruler"),
        tr(
            "A spring stands on a kitchen scale between two flat plates. A hand presses the upper "
            "plate down. The distance between the plates is read on a ruler, the load on the "
            "scale, at several lengths."
        ),
        236,
        (
            hatch(20, 300, 206),
            block(44, 172, 132, 34, PLAIN, 4),
            block(84, 180, 52, 18, 1.0, 2),
            words(110, 194, tr("664 g"), "middle"),
            solid(62, 164, 96, 8),
            spring(110, 92, 164, 24, 7),
            solid(62, 84, 96, 8),
            arrow(110, 40, 110, 81, THICK),
            words(122, 56, tr("press, hold,\nread both")),
            ruler(196, 60, 112, standing=True),
            upright(92, 164, 240, tr("length\nbetween\nthe plates"), (160, 160)),
            words(20, 228, tr("Five lengths, over the travel it works in.")),
            words(20, 22, tr("Scale set to zero with the lower plate on it")),
        ),
    )


def _wire() -> Drawing:
    return Drawing(
        tr("Wire, outside diameter and coils"),
        tr(
            "A spring lying on its side. Three things are measured: the thickness of the wire, the"
            " outside diameter over the coils, and the number of coils from tip to tip, the flat "
            "end coils included."
        ),
        212,
        (
            "".join(
                line(60 + 22 * n, 60, 60 + 22 * n + (0 if n in (0, 8) else 8), 130, 6)
                for n in range(9)
            ),
            upright(60, 130, 34, "", (54, 54)),
            words(8, 48, tr("outside diameter")),
            line(34, 54, 34, 60, THIN),
            across(123, 129, 40, tr("wire"), (57, 57)),
            words(60, 160, "1"),
            words(82, 160, "2"),
            words(104, 160, "3"),
            words(150, 160, tr("and so on"), "middle"),
            words(236, 160, "9"),
            words(
                20,
                186,
                tr("Count the flat coil at each end too:\nthose two do not give."),
                apart=18,
            ),
            pointer(262, 92, 237, 96),
            words(266, 90, tr("flat\nend")),
        ),
    )


def _clip() -> Drawing:
    return Drawing(
        tr("A clipped coil"),
        tr(
            "The same spring before and after. The flat end coil and part of the next have "
            "been cut off, and the new end has been bent flat again. A coil that lies flat "
            "no longer gives, so the spring has lost more coils than were cut."
        ),
        214,
        (
            hatch(20, 300, 170),
            spring(78, 44, 170, 24, 8),
            words(78, 26, tr("before"), "middle"),
            path("M46 70L114 62", 1.2, "5 3"),
            words(118, 66, tr("cut here")),
            spring(232, 70, 170, 24, 6),
            words(232, 26, tr("after"), "middle"),
            pointer(232, 52, 232, 69),
            words(232, 48, tr("bent flat again"), "middle"),
            words(20, 196, tr("Fewer active coils: a harder, shorter spring.")),
        ),
    )


def _corner(x: float, y: float, name: str, down: bool, load: str) -> str:
    """A wheel from above, with the direction of its collar."""
    way = tr("down", sense="collar") if down else tr("up", sense="collar")
    outer = "end" if x < 160 else "start"
    aside = -20 if x < 160 else 20
    return "".join(
        (
            block(x - 11, y - 22, 22, 44, THICK if down else 1.0, 5),
            words(x + aside, y - 12, f"{name}\n{way}\n{load}", outer),
        )
    )


def _opposite() -> Drawing:
    return Drawing(
        tr("Opposite turns for more cross weight"),
        tr(
            "The car from above. For more cross weight the collars of the front left and "
            "the rear right corner go down; those of the other two go up by as much. The "
            "car stays level, and the load moves to the diagonal."
        ),
        262,
        (
            block(140, 44, 40, 160, 1.0, 8),
            line(116, 66, 204, 66, PLAIN),
            line(116, 182, 204, 182, PLAIN),
            _corner(116, 66, tr("front left", sense="in a picture"), True, tr("more load")),
            _corner(204, 66, tr("front right", sense="in a picture"), False, tr("less load")),
            _corner(116, 182, tr("rear left", sense="in a picture"), False, tr("less load")),
            _corner(204, 182, tr("rear right", sense="in a picture"), True, tr("more load")),
            path("M128 74L192 174", 1.4, "7 4"),
            arrow(160, 34, 160, 18),
            words(168, 24, tr("front", sense="in a picture")),
            words(160, 230, tr("All four by the same, or nearly: the height stays."), "middle"),
            words(160, 250, tr("For less cross weight the other way round."), "middle"),
        ),
    )


def _swing(ratio: float) -> str:
    """A released mass over time, 56 px high, one and a half periods along 220 px."""
    points = []
    for n in range(81):
        time = 1.6 * n / 80
        omega = 2 * pi
        if ratio < 1:
            own = omega * (1 - ratio**2) ** 0.5
            value = exp(-ratio * omega * time) * cos(own * time)
        else:
            value = exp(-omega * time) * (1 + omega * time)
        points.append(f"{number(60 + 220 * n / 80)} {number(106 - 62 * value)}")
    return "M" + "L".join(points)


def _settle() -> Drawing:
    return Drawing(
        tr("How a car settles after a bump"),
        tr(
            "Height over time after a bump, three times. With little damping the car "
            "overshoots its height and keeps bouncing. With a damping ratio of one half it "
            "overshoots a little. With a ratio of one it comes back without overshoot."
        ),
        196,
        (
            line(60, 32, 60, 160, 1.0),
            line(60, 106, 296, 106, 1.0),
            words(66, 28, tr("off ride height")),
            words(300, 98, tr("time"), "end"),
            path(_swing(0.15), 1.0, "3 3"),
            path(_swing(0.5), PLAIN),
            path(_swing(1.0), THICK),
            dot(60, 44),
            words(150, 52, tr("1: no overshoot")),
            pointer(146, 50, 98, 86),
            words(206, 78, tr("0.15: it bounces")),
            words(140, 182, tr("0.5: overshoots a sixth")),
            pointer(146, 168, 136, 116),
            ring(60, 106, 3),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "spring-scale": _scale,
    "spring-wire": _wire,
    "spring-clip": _clip,
    "opposite-turns": _opposite,
    "settle": _settle,
}
