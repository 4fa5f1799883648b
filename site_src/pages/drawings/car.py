"""The whole car: ride height and its measuring points, corner scales, the remaining droop."""

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
    upright,
    words,
)


def _side_wheel(x: float, ground: float, r: float = 30) -> str:
    return ring(x, ground - r, r, PLAIN) + ring(x, ground - r, r * 0.5, THIN) + dot(x, ground - r)


def _height() -> Drawing:
    return Drawing(
        tr("Ride height"),
        tr(
            "The car stands on a flat plate, seen from the side. A stepped gauge is pushed under "
            "the chassis until a step just touches. The height is from the plate to the underside "
            "of the chassis."
        ),
        196,
        (
            hatch(10, 310, 136),
            _side_wheel(66, 136),
            _side_wheel(254, 136),
            block(104, 96, 112, 10, THICK),
            path("M104 100L84 103M216 100L236 103", PLAIN),
            path("M104 136V128H118V120H132V112H146V106H168V136Z", PLAIN),
            arrow(86, 128, 102, 128),
            upright(106, 136, 186, "", (168, 168)),
            words(160, 16, tr("Bounce the car, let it settle."), "middle"),
            words(160, 34, tr("Push the gauge in until it just touches."), "middle"),
            words(152, 84, tr("chassis"), "middle"),
            pointer(218, 62, 188, 121),
            words(222, 60, tr("ride height")),
            words(160, 162, tr("On a set-up board or a flat plate, ready to run."), "middle"),
            words(160, 180, tr("Always at the same point."), "middle"),
        ),
    )


def _reach() -> Drawing:
    return Drawing(
        tr("Where the measuring point lies"),
        tr(
            "The car from the side, its front to the left. A measuring point ahead of the front "
            "axle, or behind the rear axle, has a positive distance to that axle; a point between "
            "the axles a negative one."
        ),
        204,
        (
            words(160, 16, tr("front is left"), "middle"),
            arrow(112, 12, 84, 12),
            hatch(10, 310, 128),
            _side_wheel(92, 128, 26),
            _side_wheel(240, 128, 26),
            line(36, 92, 296, 92, THICK),
            line(36, 86, 36, 92, THICK),
            centre_line(92, 30, 92, 178),
            centre_line(240, 30, 240, 178),
            dot(48, 95, 4),
            dot(206, 95, 4),
            across(48, 92, 56, "+", (88,)),
            across(206, 240, 56, "−", (88,)),
            words(92, 194, tr("front axle"), "middle"),
            words(240, 194, tr("rear axle"), "middle"),
            across(92, 240, 156, tr("wheelbase")),
            words(148, 62, tr("measuring\npoints"), "middle"),
            line(120, 72, 53, 93, THIN),
            line(176, 72, 202, 92, THIN),
        ),
    )


def _plan_wheels(half: float, front: float, rear: float, middle: float) -> str:
    """Four wheels from above, `half` the track apart on each side, at the y of the axles."""
    return "".join(
        block(middle + side * half - 10, axle - 20, 20, 40, PLAIN, 4)
        for axle in (front, rear)
        for side in (-1, 1)
    )


def _plan() -> Drawing:
    return Drawing(
        tr("Wheelbase, track and how far apart the measuring points are"),
        tr(
            "The car from above, its front at the top. The wheelbase is from axle to axle, the "
            "track from the middle of the left tyre to the middle of the right one, and the two "
            "measuring points of an axle stand apart by their own distance."
        ),
        252,
        (
            arrow(130, 34, 130, 12),
            words(140, 24, tr("front", sense="in a picture")),
            _plan_wheels(72, 74, 186, 130),
            line(58, 74, 202, 74, THIN),
            line(58, 186, 202, 186, THIN),
            path("M104 52H156L162 96V164L156 208H104L98 164V96Z", THICK),
            dot(112, 60, 4),
            dot(148, 60, 4),
            across(112, 148, 108, "", (64, 64)),
            words(130, 128, tr("points\napart"), "middle"),
            upright(74, 186, 236, tr("wheelbase"), (214, 214)),
            across(58, 202, 228, tr("track width"), (208, 208), under=True),
        ),
    )


def _scale(x: float, y: float, name: str, *, counted: bool) -> str:
    pad = path(
        "".join(f"M{x + 6 * n} {y + 52}L{x + 6 * n + 10} {y}" for n in range(9)), THIN
    ) if counted else ""  # fmt: skip
    return (
        block(x, y, 62, 52, THICK if counted else 1.0, 3)
        + pad
        + block(x + 21, y + 6, 20, 40, PLAIN, 4)
        + words(x + 31, y - 6, name, "middle")
    )


def _scales() -> Drawing:
    return Drawing(
        tr("Corner loads and cross weight"),
        tr(
            "The car from above, one scale under each wheel, all at one level. The cross weight is"
            " the share of the front left and the rear right scale, drawn hatched, of all four."
        ),
        276,
        (
            arrow(160, 34, 160, 12),
            words(170, 24, tr("front", sense="in a picture")),
            _scale(60, 50, tr("front left", sense="in a picture"), counted=True),
            _scale(198, 50, tr("front right", sense="in a picture"), counted=False),
            _scale(60, 158, tr("rear left", sense="in a picture"), counted=False),
            _scale(198, 158, tr("rear right", sense="in a picture"), counted=True),
            line(101, 76, 219, 76, THIN),
            line(101, 184, 219, 184, THIN),
            path("M144 60H176L182 100V164L176 204H144L138 164V100Z", PLAIN),
            words(160, 232, tr("All four scales at one level."), "middle"),
            words(160, 252, tr("cross weight =\nhatched scales ÷ all four"), "middle"),
        ),
    )


def _droop() -> Drawing:
    return Drawing(
        tr("How much droop remains"),
        tr(
            "The car from the side. One end of the chassis is lifted by hand until its "
            "wheels are about to leave the plate; how far it rose is the droop that "
            "remains. If the wheels leave at once, that end sits on its droop stops."
        ),
        206,
        (
            hatch(10, 310, 148),
            _side_wheel(78, 148, 28),
            _side_wheel(244, 148, 28),
            path("M40 118H284V126H40Z", PLAIN),
            path("M40 94L284 114V122L40 102Z", 1.0, "5 4"),
            arrow(34, 122, 34, 90, THICK),
            upright(94, 118, 18, ""),
            words(
                44,
                24,
                tr("lift one end by hand\nuntil its wheels begin to leave:\nthat far is the droop"),
                apart=16,
            ),
            line(40, 60, 20, 88, THIN),
            words(
                160,
                176,
                tr("If they leave at once, that end\nsits on its droop stops."),
                "middle",
                apart=18,
            ),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "ride-height": _height,
    "reach": _reach,
    "plan": _plan,
    "corner-scales": _scales,
    "droop-left": _droop,
}
