"""The sizes of a sheet. Lengths in mm, type in pt."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.language import later, tr

MARGIN = 8.0
COLUMN_GAP = 5.0
# The area common to A4 (210 x 297) and Letter (215.9 x 279.4) within the margins: a sheet of this
# size prints on either paper.
_WIDTH, _HEIGHT = 210.0 - 2 * MARGIN, 279.4 - 2 * MARGIN - 0.4
POCKET_MARGIN = 5.0  # printers leave about this much of the paper's edge white
_FOOT = 4.0  # the number of a pocket page


@dataclass(frozen=True)
class Size:
    """`pages` of `columns`, each `width` by `height`. `types` are tried from the largest, each with
    the columns as given and with one more if `splits`.

    `paper` is the landscape sheet from which the pages are folded; None if each page is a side of
    paper.
    """

    key: str
    name: str
    pages: int
    columns: int
    width: float
    height: float
    types: tuple[float, ...]
    paper: tuple[float, float] | None = None
    splits: bool = False

    @property
    def title(self) -> str:
        """Its name in the language spoken."""
        return tr(self.name)

    @property
    def folds(self) -> bool:
        return self.paper is not None

    @property
    def page_width(self) -> float:
        return self.columns * self.width + (self.columns - 1) * COLUMN_GAP

    def ways(self) -> Iterator[tuple["Size", float]]:
        """Columns and type to try, the most readable first."""
        more = replace(self, columns=self.columns + 1, width=_share(self.columns + 1))
        for kind in self.types:
            yield self, kind
            if self.splits:
                yield more, kind


def _share(columns: int) -> float:
    """Width of each of this many columns on a full page."""
    return (_WIDTH - (columns - 1) * COLUMN_GAP) / columns


def _flat(key: str, name: str, pages: int, types: tuple[float, ...]) -> Size:
    return Size(key, name, pages, 2, _share(2), _HEIGHT, types, splits=True)


def _pocket(key: str, name: str, across: float, down: float) -> Size:
    """Eight pages from a landscape sheet: four by two, folded and cut into a booklet."""
    width, height = across / 4 - 2 * POCKET_MARGIN, down / 2 - 2 * POCKET_MARGIN - _FOOT
    return Size(key, name, 8, 1, width, height, (9.0, 8.5, 8.0), (across, down))


SIZES = (
    _flat("one", later("One page, A4 or Letter"), 1, (10.0, 9.5, 9.0, 8.5, 8.0)),
    _flat("two", later("Two sides, A4 or Letter"), 2, (11.0, 10.5, 10.0, 9.5, 9.0, 8.5, 8.0)),
    _pocket("pocket", later("Pocket, folded from A4"), 297.0, 210.0),
    _pocket("pocket-letter", later("Pocket, folded from Letter"), 279.4, 215.9),
)
BY_KEY = {size.key: size for size in SIZES}

# The panels of the pocket sheet, row by row. The upper row is upside down: folded along the
# middle of its length, cut between the two inner panels of both rows and pushed together from the
# ends, the sheet becomes a booklet whose pages follow one another the right way up.
PANELS = ((7, 6, 5, 4), (8, 1, 2, 3))
