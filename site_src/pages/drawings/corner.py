"""One corner of the car: motion ratio and its points, unsprung mass, tyre rate."""

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
    strut,
    upright,
    words,
)

_P = (62.0, 150.0)  # pivot of the arm
_TOP = (102.0, 40.0)  # upper mount of the damper


def _corner(mount: tuple[float, float], hub: tuple[float, float], *, thin: bool = False) -> str:
    """An arm with its damper and its wheel, from the front."""
    weight = THIN if thin else PLAIN
    wheel = block(hub[0] - 2, hub[1] - 40, 32, 80, weight, 7)
    if thin:
        return path(f"M{_P[0]} {_P[1]}L{hub[0]} {hub[1]}", 1.0, "4 4") + wheel
    return (
        line(*_P, *hub, THICK)
        + strut(*_TOP, *mount)
        + dot(*_P)
        + dot(*_TOP)
        + dot(*mount)
        + wheel
        + path(f"M{_P[0] - 30} {_P[1] - 16}H{_P[0]}V{_P[1] + 8}H{_P[0] - 30}", PLAIN)
        + path(f"M{_P[0] - 8} {_P[1] - 16}L{_TOP[0] - 8} {_TOP[1] - 6}H{_TOP[0] + 6}", PLAIN)
    )


def _ratio() -> Drawing:
    return Drawing(
        tr("Motion ratio"),
        tr(
            "One corner from the front. The wheel has been lifted by ten millimetres; the shaft of"
            " the damper went in by less. Damper travel divided by wheel travel is the motion "
            "ratio."
        ),
        256,
        (
            _corner((158, 150), (206, 150)),
            _corner((156, 131), (204, 119.5), thin=True),
            line(236, 150, 288, 150, THIN),
            line(234, 119.5, 288, 119.5, THIN),
            upright(119.5, 150, 270, ""),
            words(316, 92, tr("wheel up\n10 mm"), "end"),
            words(160, 40, tr("shaft goes in by:\nmeasure it here")),
            pointer(196, 60, 148, 121),
            words(160, 222, tr("motion ratio =\nshaft travel ÷ wheel travel"), "middle", apart=18),
            words(30, 186, tr("chassis"), "middle"),
            words(118, 172, tr("arm"), "middle"),
        ),
    )


def _unsprung() -> Drawing:
    return Drawing(
        tr("Unsprung mass of one corner"),
        tr(
            "One corner from the front. The wheel, the hub carrier and the outer half of the arm "
            "count as unsprung and are drawn thick; the chassis, the damper and the inner half "
            "of the arm do not."
        ),
        222,
        (
            path("M32 118H62V142H32", THIN),
            line(62, 134, 134, 134, 1.0),
            line(134, 134, 206, 134, 5),
            dot(62, 134),
            strut(102, 34, 158, 134, 0.8),
            path("M54 118L94 28H108", THIN),
            block(204, 94, 32, 80, 4, 7),
            block(192, 120, 12, 28, 4),
            centre_line(134, 96, 134, 160),
            words(134, 176, tr("half of\nthe arm"), "middle"),
            words(246, 88, tr("wheel"), "start"),
            words(200, 161, tr("hub"), "end"),
            words(160, 214, tr("On the scale: everything drawn thick."), "middle"),
        ),
    )


def _tyre() -> Drawing:
    return Drawing(
        tr("Tyre rate"),
        tr(
            "A wheel stands on a scale and is pressed down at the axle. The rate is the force on "
            "the scale divided by how far the axle came down."
        ),
        226,
        (
            arrow(110, 12, 110, 46, THICK),
            path("M76 132A40 40 0 1 1 144 132Q110 140 76 132", PLAIN),
            ring(110, 108, 18, THIN),
            dot(110, 108),
            path("M60 138H160L166 166H54Z", PLAIN),
            words(110, 157, tr("scale: force"), "middle"),
            hatch(30, 190, 166),
            centre_line(110, 96, 210, 96),
            line(116, 108, 210, 108, THIN),
            upright(96, 108, 206, tr("how far the\naxle came\ndown")),
            words(160, 196, tr("tyre rate = force ÷ how far"), "middle"),
            words(122, 26, tr("press at the axle")),
            words(160, 214, tr("Start from the load it carries on the car."), "middle"),
        ),
    )


def _points() -> Drawing:
    return Drawing(
        tr("The points of an arm and its damper"),
        tr(
            "One corner from the front, the car standing at ride height. Four points count: the "
            "inner hinge pin of the arm, its outer hinge pin, the lower and the upper mount of the"
            " damper. Each is measured outward from the middle line of the car and upward from the"
            " bench."
        ),
        262,
        (
            hatch(10, 310, 190),
            centre_line(36, 20, 36, 202),
            words(44, 28, tr("middle line")),
            line(96, 140, 216, 140, THICK),
            strut(126, 50, 178, 140),
            block(214, 110, 32, 80, PLAIN, 7),
            *(dot(x, y) for x, y in ((96, 140), (216, 140), (178, 140), (126, 50))),
            words(84, 134, "1", "middle"),
            words(206, 132, "2", "middle"),
            words(178, 159, "3", "middle"),
            words(114, 48, "4", "middle"),
            across(36, 126, 76, tr("out"), (88, 50)),
            line(131, 50, 286, 50, THIN),
            upright(50, 190, 280, tr("up")),
            words(
                20,
                220,
                tr(
                    "1 inner hinge pin, 2 outer hinge pin,\n3 lower mount, 4 upper mount.\n"
                    "Each: out from the middle, up from the bench."
                ),
                apart=18,
            ),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "motion-ratio": _ratio,
    "unsprung": _unsprung,
    "tyre-rate": _tyre,
    "arm-points": _points,
}
