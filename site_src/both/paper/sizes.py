"""The sizes of a sheet. Lengths in mm, type in pt."""

from dataclasses import dataclass

from calc.language import later, tr
from calc.sheet.blocks import CARD, FLAT, FOLDED

MARGIN = 8.0
COLUMN_GAP = 5.0
# The area common to A4 (210 x 297) and Letter (215.9 x 279.4) within the margins: a sheet of this
# size prints on either paper, in WebKit too, which is off by up to a thousandth.
WIDTH, _HEIGHT = 210.0 - 2 * MARGIN, 279.4 - 2 * MARGIN - 0.9
POCKET_MARGIN = 6.5  # printers leave up to 6.35 mm of the paper's edge white
_FOOT = 3.5  # the number of a pocket page
_TYPES = (12.0, 11.5, 11.0, 10.5, 10.0, 9.5, 9.0, 8.5)


@dataclass(frozen=True)
class Size:
    """`pages`, each `width` by `height`; `types` are tried from the largest.

    Keys and answers in type smaller than `easy` are not read at arm's length, or in the hand, or
    where one writes.
    `paper` is the landscape sheet from which the pages are folded and `from_paper` its name; None
    if each page is a side of paper. `kind` is that of its blocks.
    """

    key: str
    name: str
    pages: int
    width: float
    height: float
    types: tuple[float, ...]
    easy: float
    paper: tuple[float, float] | None = None
    from_paper: str = ""
    kind: str = FLAT

    @property
    def title(self) -> str:
        """Its name in the language spoken."""
        return tr(self.name)

    @property
    def folds(self) -> bool:
        return self.paper is not None


def _pocket(key: str, name: str, paper: str, across: float, down: float) -> Size:
    """Eight pages from a landscape sheet: four by two, folded and cut into a booklet."""
    width, height = across / 4 - 2 * POCKET_MARGIN, down / 2 - 2 * POCKET_MARGIN - _FOOT
    return Size(key, name, 8, width, height, _TYPES, 9.5, (across, down), paper, FOLDED)


SIZES = (
    Size("one", later("One page, A4 or Letter"), 1, WIDTH, _HEIGHT, _TYPES, 11.0),
    Size("two", later("Two sides, A4 or Letter"), 2, WIDTH, _HEIGHT, (14.0, 13.0, *_TYPES), 11.0),
    _pocket("pocket", later("Pocket, folded from A4"), "A4", 297.0, 210.0),
    _pocket("pocket-letter", later("Pocket, folded from Letter"), "Letter", 279.4, 215.9),
    Size("build", later("Build card, A4 or Letter"), 2, WIDTH, _HEIGHT, _TYPES, 10.0, kind=CARD),
)
BY_KEY = {size.key: size for size in SIZES}

# The panels of the pocket sheet, row by row. The upper row is upside down: folded along the
# middle of its length, cut between the two inner panels of both rows and pushed together from the
# ends, the sheet becomes a booklet whose pages follow one another the right way up.
PANELS = ((7, 6, 5, 4), (8, 1, 2, 3))
PLACES = {
    "base": 1, "height": 2, "preload": 3, "springs": 4, "oil": 5, "fill": 6, "code": 6, "log": 7,
    "cautions": 8,
}  # fmt: skip
"""The page of the pocket card on which a block stands, in every language."""
