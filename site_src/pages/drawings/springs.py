"""The spring: free, at full droop, at first touch, solid; its length along the travel."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THIN,
    Damper,
    Drawing,
    arrow,
    hatch,
    line,
    pointer,
    ruler,
    solid,
    spring,
    upright,
    words,
)


def _free() -> Drawing:
    return Drawing(
        tr("Free length of a spring"),
        tr(
            "A spring stands on the bench with nothing on it, a ruler beside it. The free length "
            "is from the bench to the top of its upper end coil."
        ),
        200,
        (
            hatch(20, 300, 170),
            spring(110, 40, 170, 26, 8),
            ruler(150, 38, 132, standing=True),
            upright(
                41, 170, 186, tr("free length:\nbench to the\ntop coil,\nnothing on it"), (140, 180)
            ),
            words(20, 22, tr("Off the car, standing on the bench")),
        ),
    )


def _droop() -> Drawing:
    return Drawing(
        tr("Spring length at full droop"),
        tr(
            "An upright damper with its spring. The wheel hangs, so the damper is fully out. The "
            "length is measured from the face of the collar to the face of the cup, where the "
            "spring lies."
        ),
        264,
        (
            Damper(120, 30, 76, 196, 236).draw(coils=7),
            upright(84, 196, 176, tr("spring length\nat full droop:\ncollar to cup"), (142, 142)),
            pointer(66, 62, 98, 79),
            words(14, 60, tr("collar")),
            pointer(62, 190, 98, 199),
            words(14, 188, tr("cup")),
            arrow(120, 246, 120, 262),
            words(140, 240, tr("wheel hanging,\ndamper fully out")),
            words(150, 34, tr("cap")),
            pointer(147, 30, 130, 44),
        ),
    )


def _touch() -> Drawing:
    return Drawing(
        tr("First touch of the collar"),
        tr(
            "Two dampers with the wheel hanging. On the left the collar stands above the spring, "
            "which is loose. On the right the collar has come down until it just meets the spring:"
            " count turns from there."
        ),
        262,
        (
            words(78, 16, tr("loose"), "middle"),
            Damper(78, 38, 76, 196, 226).draw(coils=6, gap=16),
            upright(84, 100, 118, tr("play"), (102, 97)),
            words(226, 16, tr("first touch"), "middle"),
            Damper(226, 38, 92, 196, 226).draw(coils=6),
            arrow(262, 66, 262, 94),
            words(268, 78, tr("down\nto here")),
            words(160, 256, tr("Wheel hanging. Count turns from first touch."), "middle"),
        ),
    )


def _solid() -> Drawing:
    return Drawing(
        tr("Solid length of a spring"),
        tr(
            "A spring pressed until all its coils touch. Its solid length is the number of "
            "coils, the two end coils included, plus one, times the thickness of the wire; "
            "without the plus one only where the ends are ground flat."
        ),
        206,
        (
            hatch(20, 300, 160),
            "".join(line(64, 156 - 8 * n, 136, 156 - 8 * n, 6.4) for n in range(9)),
            solid(56, 80, 88, 6),
            arrow(100, 44, 100, 77),
            words(100, 34, tr("pressed until the coils touch"), "middle"),
            upright(88, 160, 164, tr("solid length\n= (coils + 1)\n× wire"), (140,)),
            words(242, 62, tr("wire"), "middle"),
            line(222, 86, 262, 86, 14),
            upright(79, 93, 278, ""),
            words(20, 182, tr("Count every coil, both ends too.\nEnds ground flat: coils × wire.")),
        ),
    )


def _stage(x: float, collar: float, cup: float, name: str, wheel: float) -> str:
    """One stage of the travel: spring between collar and cup, wheel centre at `wheel`."""
    return "".join(
        (
            solid(x - 21, collar, 42, 8),
            spring(x, collar + 8, cup, 15, 6),
            solid(x - 21, cup, 42, 6),
            line(x, cup + 6, x, wheel, PLAIN),
            line(x - 30, wheel, x + 30, wheel, PLAIN),
            words(x, 196, name, "middle"),
        )
    )


def _travel() -> Drawing:
    return Drawing(
        tr("Full droop, ride height, full bump"),
        tr(
            "The same spring three times: longest at full droop, shorter at ride height, shortest "
            "at full bump. From full droop to ride height is the sag; from full droop to full bump"
            " the whole travel."
        ),
        212,
        (
            _stage(50, 20, 130, tr("full droop", sense="below a picture"), 172),
            _stage(142, 20, 98, tr("ride height", sense="below a picture"), 140),
            _stage(232, 20, 62, tr("full bump", sense="below a picture"), 104),
            line(80, 172, 296, 172, THIN),
            upright(140, 172, 190, tr("sag")),
            line(172, 140, 200, 140, THIN),
            upright(104, 172, 290, tr("all the\ntravel"), (262,), left=True),
            words(4, 167, tr("wheel")),
        ),
    )


def _series() -> Drawing:
    return Drawing(
        tr("Two springs in series"),
        tr(
            "A short and a long spring stand on one another between the collar and the "
            "spring cup, with a washer between them. Both carry the same force; when "
            "one of them is solid, only the other still gives."
        ),
        216,
        (
            solid(69, 20, 42, 8),
            spring(90, 28, 70, 16, 4),
            solid(70, 70, 40, 4),
            spring(90, 74, 178, 16, 6),
            solid(69, 178, 42, 6),
            words(52, 28, tr("collar"), "end"),
            words(60, 76, tr("washer"), "end"),
            line(63, 72, 70, 72, THIN),
            words(52, 186, tr("cup"), "end"),
            upright(28, 70, 138, tr("second spring"), (114, 114)),
            upright(74, 178, 138, tr("first spring"), (114, 114)),
            words(160, 208, tr("Both carry the same force."), "middle"),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "spring-free": _free,
    "spring-droop": _droop,
    "first-touch": _touch,
    "spring-solid": _solid,
    "travel": _travel,
    "spring-series": _series,
}
