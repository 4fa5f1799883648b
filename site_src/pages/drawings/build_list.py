"""Building dampers: trays with letters, how the three kinds are closed, a pair pushed together."""

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
    words,
)


def _tray(x: float, letter: str) -> str:
    """A tray with the parts of one damper, its letter on the cap."""
    return "".join(
        (
            block(x, 34, 64, 120, PLAIN, 6),
            block(x + 20, 44, 24, 14, THICK, 2),
            words(x + 32, 56, letter, "middle"),
            block(x + 22, 66, 20, 44, 1.0),
            line(x + 10, 64, x + 10, 122, THICK),
            block(x + 4, 122, 12, 6, 1.0, 1),
            ring(x + 28, 128, 4, 1.0),
            ring(x + 40, 128, 4, 1.0),
            ring(x + 34, 142, 6, PLAIN),
            dot(x + 34, 142, 2),
        )
    )


def _trays() -> Drawing:
    return Drawing(
        tr("One tray per damper, a letter on each cap"),
        tr(
            "Four trays side by side, each with the cap, body, shaft, piston, seals and rod end of "
            "one damper. On the caps are the letters A to D."
        ),
        190,
        (
            *(_tray(10 + 78 * place, letter) for place, letter in enumerate("ABCD")),
            line(10, 166, 152, 166, THIN),
            words(81, 182, tr("a pair"), "middle"),
            line(166, 166, 308, 166, THIN),
            words(237, 182, tr("a pair"), "middle"),
            words(160, 20, tr("Keep parts together that ran together."), "middle"),
        ),
    )


def _closed(x: float, oil: float, inside: str) -> str:
    """A damper cut open, oil up to a level, what its cap holds."""
    return "".join(
        (
            block(x - 22, 60, 44, 110, PLAIN),
            block(x - 26, 44, 52, 16, PLAIN, 2),
            line(x - 22, oil, x + 22, oil, 1.0),
            *(line(x - 14, oil + 12 * n, x + 14, oil + 12 * n, 0.5) for n in range(1, 3)),
            solid(x - 19, 122, 38, 8),
            line(x - 2, 130, x - 2, 196, 1.0),
            line(x + 2, 130, x + 2, 196, 1.0),
            ring(x, 203, 7),
            dot(x, 203, 2),
            inside,
        )
    )


def _kinds() -> Drawing:
    bladder = path("M34 60V66Q34 80 54 80Q74 80 74 66V60", THICK)
    bubbles = "".join(
        ring(160 + dx, y, r, 0.8)
        for dx, y, r in ((-12, 96, 2), (8, 90, 3), (2, 108, 2), (14, 112, 2), (-6, 84, 2.5))
    )
    screw = line(266, 32, 266, 46, THICK) + line(260, 32, 272, 32, THICK)
    return Drawing(
        tr("Three kinds of damper"),
        tr(
            "Three dampers cut open. One has a rubber bladder under the cap and oil up to it. One "
            "has oil and air mixed and no bladder. One has a screw in the cap, by which the last "
            "air and the surplus oil leave."
        ),
        262,
        (
            _closed(54, 80, bladder),
            _closed(160, 78, bubbles),
            _closed(266, 62, screw),
            words(54, 228, tr("bladder"), "middle"),
            words(160, 228, tr("emulsion:\noil and air"), "middle"),
            words(266, 228, tr("bleed screw\nor vent"), "middle"),
            words(160, 20, tr("Look under the cap before you fill."), "middle"),
        ),
    )


def _in_hand(x: float, out: float) -> str:
    """A closed damper, its shaft out by so much."""
    return "".join(
        (
            ring(x, 44, 7),
            dot(x, 44, 2),
            block(x - 15, 52, 30, 14, PLAIN, 2),
            block(x - 11, 66, 22, 70, PLAIN),
            line(x - 2, 136, x - 2, 150 + out, 1.0),
            line(x + 2, 136, x + 2, 150 + out, 1.0),
            ring(x, 157 + out, 7),
            dot(x, 157 + out, 2),
        )
    )


def _push() -> Drawing:
    return Drawing(
        tr("A pair pushed in together"),
        tr(
            "Two dampers of a pair side by side, the shafts pushed in together on a bench and let "
            "go. One has come out further: they do not have the same air or oil."
        ),
        222,
        (
            _in_hand(70, 0),
            _in_hand(120, 0),
            hatch(46, 146, 165),
            arrow(95, 14, 95, 34, THICK),
            words(95, 194, tr("1. push both\nfully in"), "middle"),
            _in_hand(216, 14),
            _in_hand(266, 26),
            line(200, 178, 300, 178, THIN),
            line(250, 190, 300, 190, THIN),
            words(241, 22, tr("2. let go"), "middle"),
            words(241, 212, tr("apart: open one again"), "middle"),
            pointer(292, 150, 282, 184),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    "build-trays": _trays,
    "build-kinds": _kinds,
    "build-push": _push,
}
