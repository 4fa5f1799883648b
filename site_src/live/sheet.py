"""The reply to the question for the sheet on paper."""

from calc.sheet.blocks import BY_KEY as BLOCKS
from site_src.both.fragment import sheet_html
from site_src.both.paper.sizes import BY_KEY as SIZES
from site_src.live.questions import Html, SheetAsked


def sheet(asked: SheetAsked) -> Html:
    """A size or a block that an earlier version had is passed over: the choice is kept for long."""
    blocks = asked.blocks
    html = sheet_html(
        asked.at_work,
        asked.system,
        asked.made,
        size=asked.size if asked.size in SIZES else "one",
        blocks=None if blocks is None else [key for key in blocks if key in BLOCKS],
        address=asked.address,
        today=asked.today,
    )
    return Html(html=html)
