"""The lines of the pocket sheet: where to fold, where to cut. In mm on paper."""

from calc.language import tr
from site_src.both.ink import clean
from site_src.both.paper.measure import POINT, SMALLEST

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
