"""The reply to the question for the sheet on paper."""

from calc.sheet.blocks import BY_KEY as BLOCKS
from calc.sheet.blocks import FORMERLY
from site_src.both.fragment import sheet_html
from site_src.both.paper.sizes import BY_KEY as SIZES
from site_src.live.questions import Html, SheetAsked


def sheet(asked: SheetAsked) -> Html:
    """A size or a block that an earlier version had is passed over: the choice is kept for long."""
    blocks = None
    if asked.blocks is not None:
        named = (FORMERLY.get(key, key) for key in asked.blocks)
        blocks = [key for key in named if key in BLOCKS]
    html = sheet_html(
        asked.at_work,
        asked.system,
        asked.made,
        size=asked.size if asked.size in SIZES else "one",
        blocks=blocks,
        build=asked.build,
        address=asked.address,
        today=asked.today,
    )
    return Html(html=html)
