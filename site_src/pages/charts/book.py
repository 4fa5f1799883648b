"""All the charts: one to a page, or folded into a pocket booklet."""

from calc.language import later
from site_src.pages.charts import damping, suspension
from site_src.pages.charts.blend import blend
from site_src.pages.charts.draw import Paper
from site_src.pages.charts.nomogram import Chart

POCKET_MAKERS = (blend, suspension.collar, suspension.spring, damping.temperature)
MAKERS = (
    blend,
    damping.temperature,
    damping.piston,
    suspension.collar,
    suspension.spring,
    suspension.sag,
    suspension.swap,
)
GENERAL = (
    later(
        "Lay a straight edge, or stretch a thread, in the order of the numbers: over two points, "
        "read where it crosses the next line. A number in a ring is set, one in a square is read. "
        "Between two marks, judge by eye."
    ),
)
ANY_SIZE = later("A chart reads the same at any size.")


def charts(paper: Paper) -> tuple[Chart, ...]:
    """All of them on pages; in the pocket those whose scales fit its width."""
    return tuple(make(paper) for make in (POCKET_MAKERS if paper.small else MAKERS))


def pocket_pages(paper: Paper) -> tuple[tuple[Chart | None, Chart | None], ...]:
    """Eight pages of (chart drawn, chart described), each chart opposite its description.

    The last chart is drawn on the back and described on the cover, which are side by side when the
    booklet is laid open.
    """
    *inner, last = charts(paper)
    pages: list[tuple[Chart | None, Chart | None]] = [(None, last)]
    for chart in inner:
        pages += [(None, chart), (chart, None)]
    return (*pages, (last, None))
