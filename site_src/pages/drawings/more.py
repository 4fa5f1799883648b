"""More measurements on the car: depth of a body, thread of a shaft, mounts, an added mass."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    THIN,
    Drawing,
    across,
    arrow,
    block,
    centre_line,
    dot,
    hatch,
    line,
    path,
    pointer,
    ring,
    solid,
    strut,
    upright,
    words,
)


def _depth() -> Drawing:
    return Drawing(
        tr("Inside length of a body"),
        tr(
            "An empty body cut open, its cap off and its shaft out. The depth bar of the "
            "calliper goes down to the seal; its length from the rim is the inside length."
        ),
        216,
        (
            words(90, 18, tr("body, cut open"), "middle"),
            line(60, 44, 60, 168, THICK),
            line(120, 44, 120, 168, THICK),
            path("M60 168H84M96 168H120", THICK),
            solid(80, 160, 6, 8),
            solid(94, 160, 6, 8),
            block(100, 24, 12, 20, 1.0),
            line(106, 44, 106, 168, PLAIN),
            upright(44, 168, 156, tr("inside\nlength"), (124, 124)),
            pointer(204, 160, 99, 163),
            words(208, 164, tr("seal")),
            words(160, 206, tr("From the rim to the seal, shaft out."), "middle"),
        ),
    )


def _shaft_thread() -> Drawing:
    return Drawing(
        tr("Diameter of the thread of a shaft"),
        tr(
            "The end of a shaft with its thread, the rod end taken off. The jaws of a "
            "calliper lie on the crests of the thread; the distance between them is its "
            "diameter."
        ),
        196,
        (
            line(92, 20, 92, 70, PLAIN),
            line(128, 20, 128, 70, PLAIN),
            path("M92 70" + "l5 4l-5 4" * 9 + "M128 70" + "l-5 4l5 4" * 9, PLAIN),
            line(92, 142, 128, 142, PLAIN),
            centre_line(110, 12, 110, 152),
            solid(76, 92, 16, 40),
            solid(128, 92, 16, 40),
            words(184, 40, tr("shaft")),
            pointer(180, 36, 124, 36),
            words(184, 116, tr("jaws of the\ncalliper, on\nthe crests")),
            across(92, 128, 166, tr("diameter"), (144, 144), under=True),
        ),
    )


def _mounts() -> Drawing:
    return Drawing(
        tr("From mount to mount"),
        tr(
            "One corner from the front, the car standing at ride height. The distance goes from "
            "the middle of the upper screw of the damper to the middle of the lower one."
        ),
        220,
        (
            path("M30 150H86V40H110", PLAIN),
            line(86, 142, 214, 166, THICK),
            dot(86, 142, 4),
            block(214, 118, 34, 88, PLAIN, 8),
            hatch(20, 300, 206),
            strut(104, 52, 172, 158),
            ring(104, 52, 5),
            ring(172, 158, 5),
            line(108, 49, 146, 25, THIN),
            line(177, 155, 214, 131, THIN),
            line(140, 29, 208, 135, THIN),
            line(136.5, 25.5, 143.5, 32.5),
            line(204.5, 131.5, 211.5, 138.5),
            words(184, 74, tr("mount to mount")),
        ),
    )


def _added() -> Drawing:
    return Drawing(
        tr("Where a mass is added"),
        tr(
            "The car from above, its front at the top. The place of the mass that is added is "
            "measured ahead of the rear axle and, across the car, from the middle line to the left."
        ),
        250,
        (
            arrow(160, 34, 160, 12),
            words(170, 24, tr("front", sense="in a picture")),
            *(block(x, y, 20, 40, PLAIN, 4) for y in (52, 164) for x in (78, 222)),
            line(88, 184, 232, 184, THIN),
            path("M134 54H186L192 90V158L186 204H134L128 158V90Z", PLAIN),
            centre_line(160, 44, 160, 216),
            solid(134, 96, 16, 20),
            upright(106, 184, 48, tr("ahead"), (132, 86), left=True),
            across(142, 160, 228, tr("across"), (118, 190), under=True),
            words(238, 100, tr("mass\nadded")),
            pointer(234, 100, 150, 104),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "body-depth": _depth,
    "shaft-thread": _shaft_thread,
    "mounts": _mounts,
    "added-mass": _added,
}
