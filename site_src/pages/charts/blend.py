"""The blend chart: a straight edge from bottle to bottle shows every blend of the two."""

import math
from dataclasses import replace

from calc.language import tr
from calc.physics import oil
from calc.units import number_text, show
from site_src.pages.charts import draw, words
from site_src.pages.charts.damping import GRADE
from site_src.pages.charts.draw import Drawing, Drawn, Paper, Side
from site_src.pages.charts.nomogram import Chart, log_side
from site_src.pages.charts.scale import (
    NINETEEN_OF_TWENTY,
    OFF,
    Tick,
    Upright,
    crossing,
    hand_share,
    spread,
)

THIN, THICK, WANTED = 300e-6, 800e-6, 450e-6  # the worked example
_APART = (2, 3, 5)  # ratios of bottles whose spread of laws is drawn to scale
_AROUND = 300e-6
_NUMBERS_BELOW = 8.0  # mm below the grid
_BARS, _CAP = 164.0, 1.5  # x of the first bar; half the width of its ends


def blend(paper: Paper) -> Chart:
    """Viscosity of any share of two oils, and the share for any viscosity."""
    left_x, right_x = (10.5, 48.5) if paper.small else (14.0, 144.0)
    left = spread(left_x, math.log10(GRADE[0]), math.log10(GRADE[1]), paper.height)
    right = Upright(right_x, left.zero, left.slope)
    side = log_side(paper, left, GRADE, "viscosity")
    shares = range(0, 101, 20 if paper.small else 10)
    lines = [((x, 0.0), (x, paper.height)) for x in (_x(left, right, s) for s in shares)]
    lines += [((left_x, t.y), (right_x, t.y)) for t in side.ticks if t.text]
    share = oil.share_of_thick(WANTED, THIN, THICK)
    points = [(_x(left, right, 100 * s), left.y(_log(v))) for s, v in (
        (0, THIN), (share, WANTED), (1, THICK)
    )]  # fmt: skip
    drawing = Drawing(paper if paper.small else replace(paper, foot=_NUMBERS_BELOW))
    drawing.hairlines(lines)
    drawing.parts.append(_crosses(paper, left, right, side, shares))
    drawing.scale(Drawn("thin", (tr("Thin"), "cSt"), left, (draw.to_left(side),), 1))
    drawing.scale(Drawn("thick", (tr("Thick"), "cSt"), right, (side,), 2))
    _shares(drawing, left, right, shares)
    if not paper.small:
        for law in oil.BAND:
            if law != "log":
                _law(drawing, left, right, law)
        _ladder(drawing, left)
    drawing.worked(points)
    title = tr("Oil blend")
    law_said = tr("log rule (Arrhenius): ln ν = Σ share × ln ν; shares of volume, 25 °C")
    says = tr("Two upright scales of viscosity with shares between them. {law}.", law=law_said)
    half = Upright((left_x + right_x) / 2, left.zero, left.slope)
    within = hand_share(left, crossing(left, right, half))
    return Chart(
        "blend",
        title,
        drawing.picture("blend", title, says),
        _how(share, paper.small),
        law_said,
        words.accurate_blend(within, _share_off(left)),
        within,
    )


def _share_off(line: Upright) -> float:
    """How far off 19 of 20 shares are at most, for bottles 2 : 1 apart, read half way."""
    rise = line.slope * math.log10(2)
    return NINETEEN_OF_TWENTY * math.hypot(OFF / math.sqrt(2), OFF) / rise


def _log(viscosity: float) -> float:
    return math.log10(viscosity * 1e6)


def _x(left: Upright, right: Upright, percent: float) -> float:
    return left.x + percent / 100 * (right.x - left.x)


def _how(share: float, small: bool) -> tuple[str, ...]:
    low, high = sorted(oil.share_of_thick(WANTED, THIN, THICK, law) for law in oil.BAND)[::2]
    worked = tr(
        "Dashed: {thin} and {thick}; {wanted} needs {share} of the thick oil ({low} to {high} by "
        "the other mixing rules).",
        thin=number_text(THIN, "viscosity"),
        thick=show(THICK, "viscosity"),
        wanted=show(WANTED, "viscosity"),
        share=show(share, "share", decimals=0),
        low=show(low, "share", decimals=0),
        high=show(high, "share", decimals=0),
    )
    dotted = tr("Dotted: the same two oils by those rules, double log and chain length.")
    return (
        tr(
            "Straight edge from the thin bottle on the left to the thick one on the right: where "
            "it crosses a share of thick oil it shows the viscosity; where it crosses a viscosity, "
            "the share."
        ),
        worked if small else f"{worked} {dotted}",
        tr(
            "How far the mixing rules differ for equal parts, bottles {spreads}. "
            "Neighbouring bottles give the surer blend.",
            spreads="; ".join(map(_spread, _APART)),
        ),
        tr("All viscosities may be read ten times as large."),
    )


def _halves(ratio: int) -> tuple[float, float]:
    """Between which viscosities the laws put equal parts of bottles of this ratio."""
    return oil.band([(1.0, _AROUND / math.sqrt(ratio)), (1.0, _AROUND * math.sqrt(ratio))])


def _spread(ratio: int) -> str:
    """How far apart the laws are for bottles of this ratio."""
    low, high = (number_text(v / _AROUND - 1, "share", decimals=0) for v in _halves(ratio))
    return tr("{ratio} : 1 apart {low} to +{high}%", ratio=ratio, low=low, high=high)


def _crosses(paper: Paper, left: Upright, right: Upright, side: Side, shares: range) -> str:
    """The fine ticks of the scale on every share, so that it can be read at each crossing."""
    path = "".join(
        f"M{_x(left, right, s) - 0.5:.2f} {paper.down(tick.y):.2f}h1"
        for s in shares[1:-1]
        for tick in side.ticks
        if not tick.text
    )
    return f'<path class="grid" stroke="currentColor" stroke-width="0.1" d="{path}"/>'


def _shares(drawing: Drawing, left: Upright, right: Upright, shares: range) -> None:
    """The scale of shares, level above the grid and, on a page, below it."""
    paper = drawing.paper
    marks = [
        Tick(
            percent,
            _x(left, right, percent),
            str(percent) if percent in shares[1:-1] else "",
            percent in shares or (percent % 5 == 0 and not paper.small),
        )
        for percent in range(0, 101, 5 if paper.small else 1)
    ]
    middle = _x(left, right, 50)
    said = tr("% of thick oil") if paper.small else tr("share of the thick oil, %")
    head = drawing.text(middle, paper.head - 3 - 1.3 * paper.letter, said)
    above = drawing.across("%", marks, paper.down(paper.height), -1)
    drawing.parts.append(
        f'<g class="scale" data-scale="share">{above}<g fill="currentColor">{head}</g>'
        f"{drawing.numbered(middle, 3, True)}</g>"
    )
    if not paper.small:
        below = drawing.across("%", marks, paper.down(0.0), 1)
        drawing.parts.append(f'<g class="scale" data-scale="share-below">{below}</g>')


def _law(drawing: Drawing, left: Upright, right: Upright, law: oil.LawName) -> None:
    """The blend of the worked example by another law."""
    points = [
        (
            _x(left, right, 5 * n),
            left.y(_log(oil.blend([(20 - n, THIN), (n, THICK)], law))),
        )
        for n in range(21)
    ]
    drawing.curve(points)


def _ladder(drawing: Drawing, left: Upright) -> None:
    """The spread of the laws at half and half, as bars in the scale of the chart."""
    paper, found = drawing.paper, []
    for n, ratio in enumerate(_APART):
        x = _BARS + 10 * n
        low, high = (paper.down(left.y(_log(v))) for v in _halves(ratio))
        middle = paper.down(left.y(_log(_AROUND)))
        found.append(
            f'<path d="M{x - _CAP} {low:.2f}h{2 * _CAP}M{x - _CAP} {high:.2f}h{2 * _CAP}'
            f'M{x} {low:.2f}V{high:.2f}M{x - _CAP / 2} {middle:.2f}h{_CAP}"/>'
        )
    bottom = paper.down(left.y(_log(_AROUND))) + 12
    texts = [drawing.text(_BARS + 10 * n, bottom, f"{ratio} : 1") for n, ratio in enumerate(_APART)]
    head = tr("Mixing rules\ndiffer for\nequal parts;\nbottles apart:")
    for n, line in enumerate(head.split("\n")):
        texts.append(drawing.text(_BARS + 10, bottom - 40 + 4 * n, line))
    drawing.parts.append(
        f'<g class="spread" stroke="currentColor" stroke-width="0.3">{"".join(found)}</g>'
        f'<g fill="currentColor">{"".join(texts)}</g>'
    )
