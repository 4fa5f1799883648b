"""The code to scan (QR, ISO/IEC 18004): the address of the page with a car behind it, as SVG."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from qrcodegen import DataTooLongError, QrCode, QrSegment  # type: ignore[import-untyped]

from calc.kept.link import FRAGMENT
from calc.language import tr
from calc.sheet.grid import Carried
from site_src.both.ink import clean

QUIET = 4  # modules left white around the code, as the standard asks
MODULE, MODULE_LEAST = 0.6, 0.4  # mm; a phone reads 0.4 mm from a hand's breadth
_LEVELS = (
    QrCode.Ecc.MEDIUM,
    QrCode.Ecc.LOW,
)  # of error correction: the first tolerates a stain, the second is smaller


@dataclass(frozen=True)
class Code:
    """A square of `side` mm whose smallest dots are `module` mm; `lacks` names the data left
    out."""

    svg: str
    side: float
    module: float
    lacks: str


def code(carried: Carried, address: str, most: float) -> Code | None:
    """The code of the first text that fits a square of `most` mm; None if none does."""
    if not address:
        return None
    for text, lacks in carried.texts:
        for level in _LEVELS:
            rows = _modules(f"{address}#{FRAGMENT}", text, level)
            count = len(rows) + 2 * QUIET
            module = min(MODULE, most / count) if rows else 0.0
            if module >= MODULE_LEAST:
                return Code(_svg(rows, count * module), count * module, module, lacks)
    return None


@lru_cache(maxsize=4)  # asked again for each way of placing a sheet
def _modules(address: str, packed: str, level: QrCode.Ecc) -> list[list[bool]]:
    """The dark and light dots, row by row; empty if no code can hold this much."""
    # Two segments: the packed car takes less room among capital letters and digits.
    parts = [QrSegment.make_bytes(address.encode()), QrSegment.make_alphanumeric(packed)]
    try:
        made = QrCode.encode_segments(parts, level, boostecl=False)
    except DataTooLongError:
        return []
    whole = range(made.get_size())
    return [[made.get_module(x, y) for x in whole] for y in whole]


def _svg(rows: list[list[bool]], side: float) -> str:
    """Runs of dark dots as boxes of one path: a dot is one unit of the view."""
    path = []
    for y, row in enumerate(rows, QUIET):
        x = QUIET
        for dark, run in groupby(row):
            count = len(list(run))
            if dark:
                path.append(f"M{x} {y}h{count}v1h-{count}z")
            x += count
    whole = len(rows) + 2 * QUIET
    title = clean(tr("Code to scan: this car on this page"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="code" viewBox="0 0 {whole} {whole}"'
        f' width="{side:.2f}mm" height="{side:.2f}mm" role="img" aria-label="{title}"'
        f' shape-rendering="crispEdges"><path fill="currentColor" d="{"".join(path)}"/></svg>'
    )
