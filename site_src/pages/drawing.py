"""All drawings by name. They are rendered as pictures at build time, for the guides, in the
language spoken."""

from collections.abc import Callable, Mapping

from site_src.both.ink import Picture, picture
from site_src.pages.drawings import bench, car, corner, damper, more, oil, rates, springs
from site_src.pages.drawings.hand import WIDTH, Drawing

DRAWINGS: Mapping[str, Callable[[], Drawing]] = {
    **springs.DRAWINGS,
    **rates.DRAWINGS,
    **damper.DRAWINGS,
    **bench.DRAWINGS,
    **car.DRAWINGS,
    **corner.DRAWINGS,
    **oil.DRAWINGS,
    **more.DRAWINGS,
}


def draw(name: str) -> Picture:
    """The drawing of that name. Raises KeyError for an unknown name."""
    drawing = DRAWINGS[name]()
    body = "".join(drawing.parts)
    return picture(name, WIDTH, drawing.height, drawing.title, drawing.says, body, "drawing")
