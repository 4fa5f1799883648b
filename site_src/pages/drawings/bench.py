"""The bench: clearance of the piston, thread in the rod end, bubbles, closing the cap, the drop
test."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    THIN,
    Drawing,
    arrow,
    block,
    dot,
    hatch,
    line,
    path,
    pointer,
    ring,
    solid,
    upright,
    words,
)


def _mass(x: float, top: float) -> str:
    """A mass on a hook."""
    return line(x, top, x, top + 12, 1.0) + solid(x - 14, top + 12, 28, 26)


def _play() -> Drawing:
    return Drawing(
        tr("Play of the piston in the bore"),
        tr(
            "A piston pushed to one side of a body that is cut open. On the other side a strip of "
            "feeler gauge goes in: the thickest that does is the play on the diameter."
        ),
        200,
        (
            words(108, 18, tr("body, cut open"), "middle"),
            line(60, 28, 60, 172, THICK),
            line(156, 28, 156, 172, THICK),
            block(61.5, 88, 86, 26, PLAIN),
            line(78, 88, 78, 114, 1.0),
            line(88, 88, 88, 114, 1.0),
            line(122, 88, 122, 114, 1.0),
            line(132, 88, 132, 114, 1.0),
            line(101, 114, 101, 178),
            line(109, 114, 109, 178),
            arrow(140, 64, 112, 64),
            words(108, 52, tr("push it over"), "middle"),
            line(151.5, 40, 151.5, 118, THICK),
            pointer(196, 76, 153, 82),
            words(200, 72, tr("feeler strip:\nthe thickest\nthat goes in")),
            words(200, 146, tr("or bore less\ndiameter of\nthe piston")),
            words(160, 194, tr("All the play on one side: that is the number."), "middle"),
        ),
    )


def _thread() -> Drawing:
    return Drawing(
        tr("Thread that holds the rod end"),
        tr(
            "The end of a shaft with its thread in a rod end, cut open. The length of thread "
            "inside the rod end is what holds it. Out makes the damper longer, in makes it "
            "shorter."
        ),
        236,
        (
            line(76, 24, 76, 78),
            line(86, 24, 86, 78),
            words(70, 40, tr("shaft"), "end"),
            path("M76 78" + "l-2 3l2 3" * 11 + "M86 78" + "l2 3l-2 3" * 11, 1.2),
            line(76, 144, 86, 144),
            path("M66 100H72M90 100H96M66 100V176M96 100V176", THICK),
            ring(81, 196, 22),
            ring(81, 196, 10, 1.0),
            upright(100, 144, 126, tr("thread in\nthe rod end"), (100, 92)),
            line(92, 144, 126, 144, THIN),
            words(176, 36, tr("seen from below:")),
            words(176, 58, tr("anticlockwise = out,\nlonger")),
            words(176, 166, tr("clockwise = in,\nshorter")),
            words(176, 212, tr("(right-hand thread)")),
        ),
    )


def _bubbles() -> Drawing:
    return Drawing(
        tr("Waiting for the bubbles"),
        tr(
            "A filled damper stands upright with its cap off and its shaft out. Bubbles rise "
            "through the height of the oil, the large ones first. A thermometer lies beside it."
        ),
        232,
        (
            words(96, 18, tr("cap off, upright"), "middle"),
            line(70, 36, 70, 164, THICK),
            line(122, 36, 122, 164, THICK),
            path("M70 164H90M102 164H122", THICK),
            line(71, 46, 121, 46, 1.0),
            block(72, 142, 48, 9),
            line(91, 164, 91, 196),
            line(101, 164, 101, 196),
            *(ring(x, y, r, 1.0) for x, y, r in (
                (84, 58, 4), (106, 66, 3.2), (94, 84, 2.6), (112, 96, 2), (82, 108, 1.6),
                (100, 118, 1.3), (90, 130, 1.0),
            )),
            arrow(136, 120, 136, 78),
            pointer(172, 52, 109, 64),
            words(176, 56, tr("large ones first:\nhalf the size needs\nfour times as long")),
            pointer(172, 128, 91, 130),
            words(176, 124, tr("the smallest that\nmatters decides")),
            line(50, 46, 66, 46, THIN),
            line(50, 142, 66, 142, THIN),
            line(54, 41, 54, 147, THIN),
            line(50.5, 49.5, 57.5, 42.5),
            line(50.5, 145.5, 57.5, 138.5),
            words(44, 90, tr("height\nof oil"), "end"),
            words(160, 222, tr("Warm oil lets them go sooner."), "middle"),
        ),
    )  # fmt: skip


def _closing() -> Drawing:
    return Drawing(
        tr("Where the shaft is when the cap is closed"),
        tr(
            "A damper with its cap on, cut open. Above the bladder there is air. The shaft is "
            "already some way in; any further in, it compresses the air."
        ),
        236,
        (
            block(56, 30, 68, 26, PLAIN, 3),
            path("M62 56Q90 36 118 56", PLAIN),
            line(60, 56, 60, 168, THICK),
            line(120, 56, 120, 168, THICK),
            path("M60 168H84M96 168H120", THICK),
            block(62, 104, 56, 10),
            line(85, 168, 85, 208),
            line(95, 168, 95, 208),
            path("M66 68h8M80 78h8M98 70h8M108 88h8M70 92h8M70 130h8M98 142h8M76 152h8", THIN),
            pointer(154, 40, 104, 44),
            words(158, 44, tr("air in the cap")),
            pointer(154, 66, 110, 52),
            words(158, 70, tr("bladder")),
            block(62, 154, 56, 10, 0.8),
            line(122, 109, 158, 109, THIN),
            line(122, 159, 158, 159, THIN),
            upright(109, 159, 148, tr("shaft in when\nthe cap is closed")),
            words(160, 228, tr("From here inward the air pushes back."), "middle"),
        ),
    )


def _drop() -> Drawing:
    return Drawing(
        tr("Hanging-weight test"),
        tr(
            "A damper without its spring is held fast at the edge of a bench, its shaft pointing "
            "down. A mass hangs on the rod end and pulls the shaft out past two marks, timed with "
            "a watch."
        ),
        270,
        (
            hatch(10, 80, 58),
            block(36, 44, 100, 14, PLAIN, 2),
            ring(103, 34, 7),
            dot(103, 34, 2),
            block(92, 58, 22, 70, PLAIN, 2),
            line(101, 128, 101, 166, 1.0),
            line(105, 128, 105, 166, 1.0),
            ring(103, 174, 8),
            dot(103, 174, 2),
            _mass(103, 182),
            arrow(72, 186, 72, 224, THICK),
            line(120, 174, 168, 174, THIN),
            line(120, 214, 168, 214, THIN),
            upright(174, 214, 158, tr("distance that\nis timed")),
            words(150, 54, tr("clamp it,\nspring off")),
            words(150, 100, tr("start a little\nabove the\nfirst mark")),
            words(160, 246, tr("Same way each time; five runs or more."), "middle"),
            words(160, 262, tr("Foam under it, fingers away."), "middle"),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "piston-play": _play,
    "rod-end-thread": _thread,
    "bubbles": _bubbles,
    "closing": _closing,
    "drop-test": _drop,
}
