"""Rate of a spring by scale, by its wire and by clipping; opposite turns; how a car settles."""

from collections.abc import Mapping
from math import cos, exp, pi

from site_src.drawings.hand import (
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
from site_src.ink import number

_SCALE = Drawing(
    "Rate with a scale and a ruler",
    "A spring stands on a kitchen scale between two flat plates. A hand presses the upper plate "
    "down. The distance between the plates is read on a ruler, the load on the scale, at several "
    "lengths.",
    236,
    (
        hatch(20, 300, 206),
        block(44, 172, 132, 34, PLAIN, 4),
        block(84, 180, 52, 18, 1.0, 2),
        words(110, 194, "664 g", "middle"),
        solid(62, 164, 96, 8),
        spring(110, 92, 164, 24, 7),
        solid(62, 84, 96, 8),
        arrow(110, 40, 110, 81, THICK),
        words(122, 56, "press, hold,\nread both"),
        ruler(196, 60, 112, standing=True),
        upright(92, 164, 240, "length\nbetween\nthe plates", (160, 160)),
        words(20, 228, "Five lengths, over the travel it works in."),
        words(20, 22, "Scale set to zero with the lower plate on it"),
    ),
)

_WIRE = Drawing(
    "Wire, outside diameter and coils",
    "A spring lying on its side. Three things are measured: the thickness of the wire, the outside "
    "diameter over the coils, and the number of coils from tip to tip, the flat end coils "
    "included.",
    212,
    (
        "".join(
            line(60 + 22 * n, 60, 60 + 22 * n + (0 if n in (0, 8) else 8), 130, 6) for n in range(9)
        ),
        upright(60, 130, 34, "", (54, 54)),
        words(8, 48, "outside diameter"),
        line(34, 54, 34, 60, THIN),
        across(123, 129, 40, "wire", (57, 57)),
        words(60, 160, "1"),
        words(82, 160, "2"),
        words(104, 160, "3"),
        words(150, 160, "and so on", "middle"),
        words(236, 160, "9"),
        words(20, 186, "Count the flat coil at each end too:"),
        words(20, 204, "those two do not give."),
        pointer(262, 92, 237, 96),
        words(266, 90, "flat\nend"),
    ),
)

_CLIP = Drawing(
    "A clipped coil",
    "The same spring before and after. The flat end coil and part of the next have been cut off, "
    "and the new end has been bent flat again. What is bent flat no longer gives, so the spring "
    "has lost more coils than were cut.",
    214,
    (
        hatch(20, 300, 170),
        spring(78, 44, 170, 24, 8),
        words(78, 26, "before", "middle"),
        path("M46 70L114 62", 1.2, "5 3"),
        words(118, 66, "cut here"),
        spring(232, 70, 170, 24, 6),
        words(232, 26, "after", "middle"),
        pointer(232, 52, 232, 69),
        words(232, 48, "bent flat again", "middle"),
        words(20, 196, "Fewer coils that give: a harder, shorter spring."),
    ),
)


def _corner(x: float, y: float, name: str, down: bool, load: str) -> str:
    """A wheel seen from above, and which way its collar goes."""
    way = "down" if down else "up"
    outer = "end" if x < 160 else "start"
    aside = -20 if x < 160 else 20
    return "".join(
        (
            block(x - 11, y - 22, 22, 44, THICK if down else 1.0, 5),
            words(x + aside, y - 12, f"{name}\n{way}\n{load}", outer),
        )
    )


_OPPOSITE = Drawing(
    "Opposite turns for more cross weight",
    "The car from above. For more cross weight the collars of the front left and the rear right "
    "corner go down and those of the other two go up by as much. The car stays level and the load "
    "moves to the diagonal.",
    262,
    (
        block(140, 44, 40, 160, 1.0, 8),
        line(116, 66, 204, 66, PLAIN),
        line(116, 182, 204, 182, PLAIN),
        _corner(116, 66, "front left", True, "more load"),
        _corner(204, 66, "front right", False, "less load"),
        _corner(116, 182, "rear left", False, "less load"),
        _corner(204, 182, "rear right", True, "more load"),
        path("M128 74L192 174", 1.4, "7 4"),
        arrow(160, 34, 160, 18),
        words(168, 24, "front"),
        words(160, 230, "All four by the same, or nearly: the height stays.", "middle"),
        words(160, 250, "For less cross weight the other way round.", "middle"),
    ),
)


def _swing(ratio: float) -> str:
    """A released mass over time, 56 px high, one and a half swings along 220 px."""
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


_SETTLE = Drawing(
    "How a car settles after a bump",
    "Height over time after a bump, three times. With little damping the car swings past its "
    "height and back. With a damping ratio of one half it swings past a little. With a ratio of "
    "one it comes back without swinging past.",
    196,
    (
        line(60, 32, 60, 160, 1.0),
        line(60, 106, 296, 106, 1.0),
        words(66, 28, "off its height"),
        words(300, 98, "time", "end"),
        path(_swing(0.15), 1.0, "3 3"),
        path(_swing(0.5), PLAIN),
        path(_swing(1.0), THICK),
        dot(60, 44),
        words(150, 52, "1: no swing past"),
        pointer(146, 50, 98, 86),
        words(206, 78, "0.15: it rocks"),
        words(140, 182, "0.5: a sixth past, then still"),
        pointer(146, 168, 136, 116),
        ring(60, 106, 3),
    ),
)

DRAWINGS: Mapping[str, Drawing] = {
    "spring-scale": _SCALE,
    "spring-wire": _WIRE,
    "spring-clip": _CLIP,
    "opposite-turns": _OPPOSITE,
    "settle": _SETTLE,
}
