"""The damper: its thread, the direction of down, its stroke, bore, shaft, piston and volume."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    THIN,
    Damper,
    Drawing,
    across,
    arrow,
    block,
    centre_line,
    dot,
    head,
    line,
    path,
    pointer,
    ring,
    ruler,
    solid,
    thread,
    upright,
    words,
)


def _lying_thread(x1: float, x2: float, y: float, half: float) -> str:
    """A threaded body on its side."""
    count = int((x2 - x1) / 6)
    above, below = "l3 -3l3 3" * count, "l3 3l3 -3" * count
    return path(f"M{x1} {y - half}{above}M{x1} {y + half}{below}", 1.2)


def _pitch() -> Drawing:
    return Drawing(
        tr("Thread pitch: ten turns along a ruler"),
        tr(
            "A threaded body lies beside a ruler. The collar is drawn before and after ten turns. "
            "How far it went, divided by ten, is the pitch."
        ),
        200,
        (
            block(18, 62, 16, 44, PLAIN, 2),
            _lying_thread(34, 292, 84, 18),
            line(292, 66, 292, 102),
            solid(70, 58, 9, 52),
            block(214, 58, 9, 52, 1.0),
            arrow(98, 84, 194, 84),
            words(146, 79, tr("ten turns"), "middle"),
            across(70, 214, 36, tr("how far it went"), (54, 54)),
            ruler(40, 124, 252),
            line(70, 112, 70, 124, THIN),
            line(214, 112, 214, 124, THIN),
            words(26, 120, tr("cap"), "middle"),
            words(160, 166, tr("pitch = how far it went ÷ 10"), "middle"),
            words(160, 186, tr("Measure to the same face of the collar."), "middle"),
        ),
    )


def _way() -> Drawing:
    return Drawing(
        tr("Which way is down"),
        tr(
            "Seen from the cap end, turning the collar clockwise moves it down, towards the "
            "cup, on a right-hand thread. Down adds preload and raises the car. A left-hand "
            "thread works the other way round."
        ),
        260,
        (
            Damper(64, 34, 86, 190, 226, 84).draw(coils=5),
            arrow(104, 78, 104, 116, THICK),
            words(112, 90, tr("down:\ncar goes up")),
            words(112, 192, tr("cup")),
            pointer(108, 188, 84, 193),
            words(22, 74, tr("collar"), "middle"),
            pointer(24, 79, 46, 88),
            words(244, 24, tr("seen from\nthe cap end"), "middle"),
            ring(244, 106, 44, PLAIN),
            ring(244, 106, 24, PLAIN),
            ring(244, 106, 8, 1.0),
            path("M212.9 89.9A35 35 0 1 1 214.5 124.9", THICK),
            head(214.5, 124.9, -10, -17),
            words(244, 172, tr("clockwise = down\n(right-hand thread)"), "middle"),
            words(160, 250, tr("Left-hand thread: anticlockwise = down."), "middle"),
        ),
    )


def _mark() -> Drawing:
    return Drawing(
        tr("Counting turns from a mark"),
        tr(
            "A collar seen from the cap end with a mark on its rim and a mark on the body. Each "
            "quarter of a turn brings the mark to one of four places."
        ),
        220,
        (
            words(160, 18, tr("Seen from the cap end"), "middle"),
            ring(160, 110, 62, PLAIN),
            ring(160, 110, 34, PLAIN),
            solid(157, 49, 6, 14),
            line(160, 76, 160, 86, THICK),
            pointer(244, 50, 164, 56),
            words(248, 48, tr("mark on\nthe collar")),
            pointer(70, 66, 156, 82),
            words(66, 56, tr("mark on\nthe body"), "end"),
            line(222, 110, 232, 110),
            line(160, 172, 160, 182),
            line(98, 110, 88, 110),
            words(238, 114, "1/4"),
            words(160, 196, "1/2", "middle"),
            words(82, 114, "3/4", "end"),
            path("M182.3 71.4A44.6 44.6 0 0 1 203.9 102.3", PLAIN),
            head(203.9, 102.3, 2, 9),
        ),
    )


def _stroke() -> Drawing:
    return Drawing(
        tr("Stroke and length of a damper"),
        tr(
            "The same damper fully out and fully in, without its spring. The stroke is how far the"
            " rod end moved between the two. The length is from the middle of the upper eye to the"
            " middle of the rod end, fully out."
        ),
        244,
        (
            words(70, 16, tr("fully out"), "middle"),
            words(176, 16, tr("fully in"), "middle"),
            *(
                part
                for x, end in ((70, 208), (176, 158))
                for part in (
                    ring(x, 34, 7),
                    dot(x, 34, 2),
                    block(x - 13, 42, 26, 13, PLAIN, 2),
                    thread(x, 56, 138, 9),
                    line(x - 9, 138, x + 9, 138),
                    line(x - 2, 138, x - 2, end - 7, 1.0),
                    line(x + 2, 138, x + 2, end - 7, 1.0),
                    ring(x, end, 7),
                    dot(x, end, 2),
                )
            ),
            line(77, 208, 222, 208, THIN),
            line(183, 158, 222, 158, THIN),
            upright(158, 208, 218, tr("stroke")),
            upright(34, 208, 46, tr("length"), (63, 63), left=True),
            words(160, 236, tr("Spring off. Bump stop counts: leave it on."), "middle"),
        ),
    )


def _bore() -> Drawing:
    return Drawing(
        tr("Bore, shaft and piston"),
        tr(
            "A body cut open. The bore is its inside diameter, the shaft is measured on its bright"
            " part, the piston by its thickness, the number of its holes and their diameter."
        ),
        232,
        (
            words(76, 16, tr("body, cut open"), "middle"),
            line(36, 30, 36, 176, THICK),
            line(116, 30, 116, 176, THICK),
            line(28, 30, 28, 176, 1.0),
            line(124, 30, 124, 176, 1.0),
            path("M28 176H36V184H72M80 184H116V176H124", PLAIN),
            block(37.5, 92, 77, 22, PLAIN),
            line(52, 92, 52, 114, 1.0),
            line(60, 92, 60, 114, 1.0),
            line(92, 92, 92, 114, 1.0),
            line(100, 92, 100, 114, 1.0),
            line(72, 114, 72, 200, PLAIN),
            line(80, 114, 80, 200, PLAIN),
            centre_line(76, 24, 76, 206),
            across(36, 116, 60, tr("bore")),
            upright(92, 114, 140, tr("thickness"), (126, 126)),
            line(80, 194, 128, 194, THIN),
            line(44, 194, 72, 194, THIN),
            line(68.5, 197.5, 75.5, 190.5),
            line(76.5, 197.5, 83.5, 190.5),
            words(132, 198, tr("shaft")),
            ring(256, 84, 40),
            ring(256, 84, 4),
            ring(256, 62, 7),
            ring(237, 95, 7),
            ring(275, 95, 7),
            words(256, 32, tr("piston from above"), "middle"),
            pointer(220, 142, 234, 98),
            words(190, 156, tr("diameter of a hole,\nhow many holes")),
            words(160, 226, tr("Inside diameter: not the thread outside."), "middle"),
        ),
    )


def _volume() -> Drawing:
    return Drawing(
        tr("How much a damper holds"),
        tr(
            "A damper stands upright with its cap off, the shaft fully out, filled to the brim. "
            "The oil drawn out of it with a syringe is what it holds."
        ),
        206,
        (
            line(70, 40, 70, 150, THICK),
            line(110, 40, 110, 150, THICK),
            path("M70 150H86M94 150H110", THICK),
            block(72, 128, 36, 8, PLAIN),
            line(86, 150, 86, 178),
            line(94, 150, 94, 178),
            path("M72 44H108M76 56H84M96 62H104M78 74H86M94 88H102M76 100H84M92 112H100", THIN),
            words(90, 24, tr("cap off, full to the brim"), "middle"),
            words(64, 170, tr("shaft\nfully out"), "end"),
            block(196, 52, 26, 90, PLAIN, 2),
            line(209, 142, 209, 168, THICK),
            line(198, 36, 220, 36),
            line(209, 36, 209, 90, 1.0),
            line(196, 90, 222, 90, THICK),
            path("M196 102h8M196 114h8M196 126h8", 1.0),
            path("M208 98h8M210 110h8M207 122h8M210 134h8", THIN),
            words(230, 112, tr("draw it out\nonce and\nread the mark")),
            arrow(124, 96, 184, 96),
        ),
    )


def _moving() -> Drawing:
    return Drawing(
        tr("Mass of shaft, piston and rod end"),
        tr(
            "A shaft lies on a scale with the piston at one end and the rod end at the other: what "
            "moves in and out of the body is weighed together."
        ),
        168,
        (
            block(84, 62, 14, 34, PLAIN, 2),
            line(98, 79, 216, 79, THICK),
            ring(228, 79, 12, PLAIN),
            dot(228, 79),
            path("M60 98H260L266 132H54Z", PLAIN),
            words(160, 121, tr("scale"), "middle"),
            words(91, 48, tr("piston"), "middle"),
            words(156, 68, tr("shaft"), "middle"),
            words(228, 48, tr("rod end"), "middle"),
            words(160, 158, tr("All that moves in and out, weighed together."), "middle"),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "moving-mass": _moving,
    "thread-pitch": _pitch,
    "which-way": _way,
    "collar-mark": _mark,
    "stroke": _stroke,
    "bore": _bore,
    "volume": _volume,
}
