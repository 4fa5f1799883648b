"""Parts laid out in a row, each with its letter, all measured the same way."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    THICK,
    THIN,
    Drawing,
    across,
    arrow,
    block,
    hatch,
    line,
    spring,
    words,
)


def _row() -> Drawing:
    return Drawing(
        tr("Parts in a row, each with its letter"),
        tr(
            "Four springs stand in a row, each with a letter. One after the other is pressed by "
            "the same amount on one scale. Those whose readings lie side by side make a pair."
        ),
        214,
        (
            *(
                part
                for x, letter in ((34, "A"), (80, "B"), (126, "C"), (172, "D"))
                for part in (spring(x, 40, 96, 15, 4), words(x, 30, letter, "middle"))
            ),
            hatch(12, 196, 98),
            block(226, 84, 76, 14, THICK, 2),
            spring(264, 42, 84, 15, 4),
            line(240, 41, 288, 41, THICK),
            arrow(264, 16, 264, 36, THICK),
            words(264, 116, tr("one scale"), "middle"),
            line(34, 110, 34, 124, THIN),
            line(126, 110, 126, 124, THIN),
            across(34, 126, 132, tr("readings side\nby side: a pair"), under=True),
            words(160, 186, tr("Press each by the same amount, all in one sitting:"), "middle"),
            words(160, 202, tr("the faults of the scale then cancel."), "middle"),
            block(6, 10, 194, 92, 0.7, 4),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {"in-a-row": _row}
