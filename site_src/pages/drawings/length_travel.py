"""Droop at the wheel, and spacers above and under the piston."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    THIN,
    Drawing,
    arrow,
    block,
    hatch,
    line,
    pointer,
    ring,
    solid,
    upright,
    words,
)


def _stance(x: float, body: float) -> str:
    """A body on its wheel seen along the car, the wheel on the ground."""
    return "".join(
        (
            block(x, body, 62, 10, PLAIN, 2),
            ring(x + 84, 128, 26, THICK),
            ring(x + 84, 128, 6, 1.0),
            line(x + 62, body + 7, x + 78, 128, THICK),
            hatch(x - 6, x + 116, 154),
        )
    )


def _droop() -> Drawing:
    return Drawing(
        tr("Droop at the wheel"),
        tr(
            "The chassis over its wheel at ride height, and the same lifted until the tyre "
            "just leaves the ground. How far the chassis came up over the wheel is the "
            "droop."
        ),
        206,
        (
            words(70, 18, tr("at ride height"), "middle"),
            words(234, 18, tr("lifted: the tyre\nis just free"), "middle"),
            _stance(14, 108),
            _stance(178, 72),
            arrow(204, 66, 204, 48, THICK),
            line(76, 108, 172, 108, THIN),
            upright(72, 108, 150, tr("droop"), (176, 172), left=True),
            words(160, 180, tr("Lift over this wheel alone, slowly, and read"), "middle"),
            words(160, 196, tr("at the moment when the tyre turns free."), "middle"),
        ),
    )


def _limiters() -> Drawing:
    return Drawing(
        tr("Spacers above and under the piston"),
        tr(
            "A damper cut open. Spacers on the shaft between the piston and the seal limit "
            "the way out: less droop. Spacers between the piston and the cap limit the way "
            "in: less bump."
        ),
        230,
        (
            block(62, 20, 76, 16, PLAIN, 2),
            line(68, 36, 68, 186, THICK),
            line(132, 36, 132, 186, THICK),
            line(68, 186, 94, 186, THICK),
            line(106, 186, 132, 186, THICK),
            solid(69, 104, 62, 9),
            block(86, 90, 28, 14, PLAIN),
            block(86, 113, 28, 24, PLAIN),
            line(97, 36 + 54, 97, 216),
            line(103, 36 + 54, 103, 216),
            pointer(160, 60, 112, 96),
            words(164, 46, tr("above: limits the way in,\nless bump")),
            pointer(160, 106, 128, 108),
            words(164, 110, tr("piston")),
            pointer(160, 150, 110, 126),
            words(164, 148, tr("under: limits the way out,\nless droop")),
            pointer(160, 192, 120, 186),
            words(164, 196, tr("seal")),
            words(54, 32, tr("cap"), "end"),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {"droop": _droop, "limiters": _limiters}
