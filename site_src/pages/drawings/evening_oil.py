"""A batch of oil: from two bottles over a cup into four dampers, the rest into a bottle."""

from collections.abc import Callable, Mapping

from calc.language import tr
from site_src.pages.drawings.hand import (
    PLAIN,
    THICK,
    Drawing,
    arrow,
    block,
    line,
    path,
    words,
)


def _bottle(x: float, y: float, level: float) -> str:
    """A bottle with its oil up to a level."""
    return (
        block(x, y, 34, 54, PLAIN, 4)
        + block(x + 10, y - 12, 14, 12, PLAIN, 2)
        + line(x, y + level, x + 34, y + level, 1.0)
    )


def _batch() -> Drawing:
    return Drawing(
        tr("One batch for all dampers"),
        tr(
            "Oil from two bottles goes into one beaker, is stirred there, and goes from "
            "the beaker into the dampers. Some runs over or stays in beaker and syringe; "
            "the rest goes into a bottle with a label."
        ),
        230,
        (
            _bottle(20, 40, 12),
            _bottle(74, 40, 24),
            words(64, 20, tr("two bottles"), "middle"),
            arrow(112, 70, 138, 86, THICK),
            path("M142 82V126H196V82", THICK),
            line(142, 98, 196, 98, 1.0),
            words(170, 66, tr("mix in\none beaker"), "middle"),
            arrow(202, 96, 230, 80, THICK),
            *(block(236 + 18 * n, 46, 11, 44, PLAIN, 2) for n in range(4)),
            words(270, 30, tr("fill"), "middle"),
            words(258, 108, tr("some runs over:\nwaste"), "middle"),
            arrow(168, 132, 168, 152, THICK),
            _bottle(151, 170, 30),
            words(196, 186, tr("the rest: a bottle\nwith a label")),
        ),
    )


DRAWINGS: Mapping[str, Callable[[], Drawing]] = {"batch": _batch}
