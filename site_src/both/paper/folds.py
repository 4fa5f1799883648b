"""Lines beside the blocks: where to fold the pocket sheet and where to cut it, a small picture of
that, and a ruler to see whether the print has its size. In mm on paper."""

from calc.language import tr
from site_src.both.ink import clean
from site_src.both.paper.measure import POINT, SMALLEST
from site_src.both.paper.sizes import PANELS

_DASH = "3 2"


def folds(width: float, height: float) -> str:
    """Lines over a landscape sheet: folds dashed, the cut solid, each with its name."""
    quarters = [width * n / 4 for n in (1, 2, 3)]
    middle = height / 2
    dashed = "".join(f"M{x:.2f} 0V{height:.2f}" for x in quarters)
    dashed += f"M0 {middle:.2f}H{quarters[0]:.2f}M{quarters[2]:.2f} {middle:.2f}H{width:.2f}"
    cut = f"M{quarters[0]:.2f} {middle:.2f}H{quarters[2]:.2f}"
    size = SMALLEST * POINT
    cut_here, fold_here = tr("cut", sense="here"), tr("fold", sense="here")
    words = [(quarters[0] + 3, cut_here), (3, fold_here), (quarters[2] + 3, fold_here)]
    texts = "".join(
        f'<text x="{x:.2f}" y="{middle - 1:.2f}" font-size="{size:.3f}">{clean(word)}</text>'
        for x, word in words
    )
    title = clean(tr("Fold along the dashes, cut along the line between the two inner panels"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="folds" viewBox="0 0 {width} {height}"'
        f' width="{width}mm" height="{height}mm" role="img" aria-label="{title}">'
        f'<g fill="none" stroke="currentColor">'
        f'<path class="fold" d="{dashed}" stroke-width="0.25" stroke-dasharray="{_DASH}"/>'
        f'<path class="cut" d="{cut}" stroke-width="0.6"/></g>'
        f'<g fill="currentColor" font-family="Arial, Helvetica, sans-serif">{texts}</g></svg>'
    )


SKETCH_HEIGHT = 21.0
_PANEL, _TALL = 9.0, 9.4


def sketch() -> str:
    """The sheet in small: page numbers, folds dashed, the cut thick."""
    width, height = 4 * _PANEL + 2, 2 * _TALL + 2
    left, top = 1.0, 1.0
    dashes = "".join(f"M{left + n * _PANEL:g} {top:g}v{2 * _TALL:g}" for n in (1, 2, 3))
    dashes += (
        f"M{left:g} {top + _TALL:g}h{_PANEL:g}M{left + 3 * _PANEL:g} {top + _TALL:g}h{_PANEL:g}"
    )
    cut = f"M{left + _PANEL:g} {top + _TALL:g}h{2 * _PANEL:g}"
    size = SMALLEST * POINT
    texts = ""
    for row, numbers in enumerate(PANELS):
        for column, number in enumerate(numbers):
            x, y = left + (column + 0.5) * _PANEL, top + (row + 0.5) * _TALL
            turn = f' transform="rotate(180 {x:g} {y:g})"' if row == 0 else ""
            texts += (
                f'<text x="{x:g}" y="{y + 0.36 * size:.2f}" text-anchor="middle"'
                f' font-size="{size:.3f}"{turn}>{number}</text>'
            )
    title = clean(tr("The sheet laid flat: fold along the dashes, cut along the thick line"))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sketch" viewBox="0 0 {width:g} {height:g}"'
        f' width="{width:g}mm" height="{height:g}mm" role="img" aria-label="{title}">'
        f'<g fill="none" stroke="currentColor"><rect x="{left:g}" y="{top:g}"'
        f' width="{4 * _PANEL:g}" height="{2 * _TALL:g}" stroke-width="0.3"/>'
        f'<path d="{dashes}" stroke-width="0.25" stroke-dasharray="1.2 0.8"/>'
        f'<path d="{cut}" stroke-width="0.9"/></g>'
        f'<g fill="currentColor" font-family="Arial, Helvetica, sans-serif">{texts}</g></svg>'
    )


_RULER, _WIDE, _HIGH = 100, 104, 6.6  # mm


def ruler() -> str:
    """A hundred millimetres, to lay a ruler on."""
    marks = "".join(
        f"M{1 + x} 3v{3.4 if x % 10 == 0 else 2.4 if x % 5 == 0 else 1.4:g}"
        for x in range(_RULER + 1)
    )
    size = SMALLEST * POINT
    texts = "".join(
        f'<text x="{1 + x}" y="2.6" text-anchor="{anchor}" font-size="{size:.3f}">{x}</text>'
        for x, anchor in ((0, "start"), (50, "middle"), (100, "middle"))
    )
    words = clean(tr("mm, or the print is shrunk"))
    between = f'<text x="{1 + _RULER * 0.75:g}" y="2.6" text-anchor="middle"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="ruler" viewBox="0 0 {_WIDE} {_HIGH}"'
        f' width="{_WIDE}mm" height="{_HIGH}mm" role="img" aria-label="{_RULER} {words}">'
        f'<path d="M1 3H{1 + _RULER}{marks}" fill="none" stroke="currentColor" stroke-width="0.2"/>'
        f'<g fill="currentColor" font-family="Arial, Helvetica, sans-serif">{texts}'
        f'{between} font-size="{size:.3f}">{words}</text></g></svg>'
    )
