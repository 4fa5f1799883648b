"""The charts of collar and spring: height, force, sag, and another spring at the same height."""

import math
from collections.abc import Callable
from math import log10

from calc import units
from calc.language import tr
from calc.physics.linkage import lift_per_turn
from calc.physics.ride import GRAVITY
from calc.physics.spring import spring_force
from calc.units import METRIC, turns_number
from site_src.pages.charts import words
from site_src.pages.charts.draw import Drawing, Drawn, Paper, Point, Side
from site_src.pages.charts.nomogram import (
    Chart,
    both_sides,
    headed,
    log_scale,
    upright_chart,
)
from site_src.pages.charts.scale import (
    NINETEEN_OF_TWENTY,
    OFF,
    Upright,
    anchored_labels,
    beyond,
    crossing,
    even_labels,
    hand_share,
    joined,
    moved,
    number,
    spread,
    ticks,
)

PITCH, RATIO, TURNS = (0.4, 1.5), (0.3, 1.2), (0.25, 8.0)  # mm, none, turns
LIFT, HEIGHT = (0.4, 4.0), (0.1, 30.0)  # mm
RATE, PRELOAD, FORCE = (0.1, 10.0), (0.5, 30.0), (0.2, 60.0)  # N/mm, mm, N
_OCTAVES, _EIGHTHS = (0.25, 0.5, 1.0, 2.0, 4.0, 8.0), (0.125, 0.25, 0.5, 1.0)

LOAD, SAG_RATE, SAG_FORCE = (100.0, 2000.0), (0.1, 5.0), (1.0, 60.0)  # g, N/mm, N
SQUEEZE, SHAFT_SAG, WHEEL_SAG = (2.0, 60.0), (1.0, 40.0), (1.0, 80.0)  # mm

SWAP_RATE, SWAP_FORCE = (0.2, 2.0), (1.0, 40.0)  # N/mm, N
_GIVE, _SHIFT = 1.1, 9.0  # mm/N either way, mm of collar either way
_RATES, _FORCES = (0.2, 0.3, 0.4, 0.5, 1.0, 1.5, 2.0), (1.0, 2.0, 5.0, 10.0, 20.0, 40.0)
_PINCHED = 0.5  # mm, the finest ticks of scales that are crowded at one end


def collar(paper: Paper) -> Chart:
    """Height from pitch, motion ratio and turns: h = n p / MR."""
    at = (4, 24.5, 49) if paper.small else (18, 90, 174)
    pitch = spread(at[0], log10(PITCH[0]), log10(PITCH[1]), paper.height)
    ratio = spread(at[1], log10(RATIO[1]), log10(RATIO[0]), paper.height)
    turns = spread(at[2], log10(TURNS[0]), log10(TURNS[1]), paper.height)
    lift = joined(pitch, ratio)
    height = joined(lift, turns)
    scales = (
        log_scale(paper, "pitch", tr("Pitch", sense="chart"), pitch, PITCH, "length", (1, False)),
        log_scale(paper, "lift", tr("1 turn"), lift, LIFT, "length", (3, True)),
        log_scale(paper, "ratio", tr("Motion\nratio"), ratio, RATIO, "ratio", (2, False)),
        log_scale(paper, "height", tr("Height"), height, HEIGHT, "length", (5, True)),
        Drawn("turns", (tr("Turns"),), turns, (_turns_side(paper, turns),), 4),
    )
    p, mr, n = 0.75, 0.65, 1.5
    one = lift_per_turn(pitch=p * 1e-3, motion_ratio=mr)
    y_lift, y_height = lift.y(log10(one * 1e3)), height.y(log10(n * one * 1e3))
    lines = (
        [(pitch.x, pitch.y(log10(p))), (lift.x, y_lift), (ratio.x, ratio.y(log10(mr)))],
        [(lift.x, y_lift), (height.x, y_height), (turns.x, turns.y(log10(n)))],
    )
    law = tr("height = turns × pitch / motion ratio")
    within = hand_share(height, crossing(lift, turns, height, crossing(pitch, ratio, lift)))
    title = tr("Collar turns and ride height")
    return Chart(
        *upright_chart(paper, "collar", title, scales, lines, law),
        words.of_collar(p * 1e-3, mr, n, one), law, words.accurate(within), within,
    )  # fmt: skip


def _turns_side(paper: Paper, line: Upright) -> Side:
    """Turns as a hand makes them: quarters and eighths."""

    def y(value: float) -> float:
        return line.y(log10(value))

    found = anchored_labels(_OCTAVES, y, paper.gap, _EIGHTHS)
    labels = [(value, turns_number(value)) for value in found]
    return Side("", ticks(labels, y, 0.95 * paper.fine, _EIGHTHS))


def spring(paper: Paper) -> Chart:
    """Force from rate and preload: F = k s."""
    at = (8, 48) if paper.small else (22, 172)
    rate = spread(at[0], log10(RATE[0]), log10(RATE[1]), paper.height)
    preload = spread(at[1], log10(PRELOAD[0]), log10(PRELOAD[1]), paper.height)
    force = joined(rate, preload)
    scales = (
        log_scale(paper, "rate", tr("Rate"), rate, RATE, "rate", (1, False)),
        log_scale(paper, "force", tr("Force"), force, FORCE, "force", (3, True)),
        log_scale(paper, "preload", tr("Preload"), preload, PRELOAD, "length", (2, False)),
    )
    k, s = 0.65, 1.6
    f = spring_force(rate=k * 1e3, compression=s * 1e-3)
    line = [
        (rate.x, rate.y(log10(k))),
        (force.x, force.y(log10(f))),
        (preload.x, preload.y(log10(s))),
    ]
    law = tr("force = rate × preload, until the coils touch")
    within = hand_share(force, crossing(rate, preload, force))
    return Chart(
        *upright_chart(paper, "spring", tr("Spring force"), scales, (line,), law),
        words.of_spring(k * 1e3, s * 1e-3, f), law, words.accurate(within), within,
    )  # fmt: skip


def sag(paper: Paper) -> Chart:
    """Sag from load, motion ratio, rate and preload: c = W g/(MR k), sag = (c - s)/MR."""
    tall = 0.68 * paper.height
    load = spread(14, log10(LOAD[0]), log10(LOAD[1]), paper.height)
    low = spread(178, log10(RATIO[1]), log10(RATIO[0]), tall)
    ratio = Upright(low.x, low.zero + (paper.height - tall) / 2, low.slope)
    pull = moved(joined(load, ratio), log10(GRAVITY * 1e-3))  # N, not g
    rate = spread(38, log10(SAG_RATE[1]), log10(SAG_RATE[0]), paper.height)
    squeeze = joined(pull, rate)
    shaft = spread(108, log10(SHAFT_SAG[0]), log10(SHAFT_SAG[1]), paper.height)
    wheel = joined(shaft, ratio)
    scales = (
        log_scale(paper, "load", tr("Load"), load, LOAD, "mass", (1, False)),
        log_scale(paper, "rate", tr("Rate"), rate, SAG_RATE, "rate", (4, False)),
        log_scale(paper, "squeeze", tr("Spring\nshorter"), squeeze, SQUEEZE, "length", (5, True)),
        log_scale(paper, "force", tr("Spring\nforce"), pull, SAG_FORCE, "force", (3, True)),
        log_scale(paper, "shaft", tr("Shaft\nsag"), shaft, SHAFT_SAG, "length", (6, False)),
        log_scale(paper, "wheel", tr("Wheel\nsag"), wheel, WHEEL_SAG, "length", (7, True)),
        log_scale(paper, "ratio", tr("Motion\nratio"), ratio, RATIO, "ratio", (2, False)),
    )
    w, mr, k, s = 350.0, 0.6, 0.65, 3.0
    f = w * 1e-3 * GRAVITY / mr
    c = f / k
    y_force, y_ratio = pull.y(log10(f)), ratio.y(log10(mr))
    lines = (
        [(load.x, load.y(log10(w))), (pull.x, y_force), (ratio.x, y_ratio)],
        [
            (rate.x, rate.y(log10(k))),
            (squeeze.x, squeeze.y(log10(c))),
            (pull.x, y_force),
        ],
        [
            (shaft.x, shaft.y(log10(c - s))),
            (wheel.x, wheel.y(log10((c - s) / mr))),
            (ratio.x, y_ratio),
        ],
    )
    law = tr(
        "spring shorter = load × 9.81 m/s² / (motion ratio × rate); wheel sag = (spring shorter − "
        "preload) / motion ratio"
    )
    within = hand_share(squeeze, crossing(pull, rate, squeeze, crossing(load, ratio, pull)))
    return Chart(
        *upright_chart(paper, "sag", tr("Sag"), scales, lines, law),
        words.of_sag(w * 1e-3, mr, k * 1e3, s * 1e-3), law, words.accurate_squeeze(within), within,
    )  # fmt: skip


def swap(paper: Paper) -> Chart:
    """Collar travel for another spring at the same height: F (1/k_new - 1/k_now)."""
    half = paper.height / 2
    now = spread(14, 1 / SWAP_RATE[1], 1 / SWAP_RATE[0], paper.height)
    small = spread(48, 1 / SWAP_RATE[1], 1 / SWAP_RATE[0], paper.height * 2 / 3)
    new = Upright(small.x, small.zero + paper.height / 6, small.slope)
    give = beyond(now, new)
    shift = Upright(176, half, -half / _SHIFT)

    def across(force: float) -> float:
        """Where the force lies between the two scales that run against one another."""
        along = give.slope / (give.slope + force * -shift.slope)
        return give.x + along * (shift.x - give.x)

    drawing = Drawing(paper)
    softer = _linear_side(paper, give, _GIVE, "mm/N")
    for scale in (
        _compliance(paper, "now", tr("Rate\nnow"), now, 1),
        _compliance(paper, "new", tr("Rate\nnew"), new, 2),
        Drawn("give", headed(tr("Softer\nby"), (softer,)), give, (softer,), 3, True),
        _shift(paper, shift),
    ):
        drawing.scale(scale)
    drawing.parts.append(_forces(drawing, paper.down(half), (give.x, shift.x), across))
    k, other, f = 0.5, 0.65, 6.0
    d = 1 / other - 1 / k
    y_give = give.y(d)
    drawing.worked([(now.x, now.y(1 / k)), (new.x, new.y(1 / other)), (give.x, y_give)])
    drawing.worked([(give.x, y_give), (across(f), half), (shift.x, shift.y(f * d))])
    title = tr("Another spring, same height")
    law = tr("collar down by force × (1/new rate − 1/rate now)")
    says = tr(
        "Two upright scales of rates lead to a third; a level scale of forces leads from it to the "
        "travel of the collar. {law}.",
        law=law,
    )
    read = OFF / -shift.slope
    within = NINETEEN_OF_TWENTY * math.hypot(f * crossing(now, new, give) / give.slope, read) * 1e-3
    return Chart(
        "swap",
        title,
        drawing.picture("swap", title, says),
        words.of_swap(k * 1e3, other * 1e3, f, f * d * 1e-3),
        law,
        words.accurate_shift(within, f),
        within,
    )


def _compliance(paper: Paper, key: str, head: str, line: Upright, place: int) -> Drawn:
    """A scale of rates on which equal steps are equal steps of 1/rate."""

    def side(system: str) -> Side:
        unit, base = units.unit_of("rate", system), units.unit_of("rate", METRIC)

        def y(value: float) -> float:
            return line.y(base.factor / (value * unit.factor))

        anchors = _RATES if system == METRIC else (1.2, 1.5, 2.0, 3.0, 5.0, 10.0)
        labels = [(value, number(value)) for value in anchored_labels(anchors, y, paper.gap)]
        return Side(unit.symbol, ticks(labels, y, _PINCHED))

    sides = both_sides(paper, "rate", side)
    return Drawn(key, headed(head, sides), line, sides, place)


def _linear_side(paper: Paper, line: Upright, most: float, unit: str) -> Side:
    found = even_labels(-most, most, line.y, 2 * paper.gap)
    return Side(unit, ticks([(value, number(value)) for value in found], line.y, paper.fine))


def _shift(paper: Paper, line: Upright) -> Drawn:
    def side(system: str) -> Side:
        unit, base = units.unit_of("length", system), units.unit_of("length", METRIC)

        def y(value: float) -> float:
            return line.y(value * unit.factor / base.factor)

        most = _SHIFT * base.factor / unit.factor
        found = even_labels(-most, most, y, 1.5 * paper.gap)
        return Side(unit.symbol, ticks([(v, number(v)) for v in found], y, paper.fine))

    sides = both_sides(paper, "length", side)
    return Drawn("shift", headed(tr("Collar\ndown (−: up)"), sides), line, sides, 5, True)


def _forces(drawing: Drawing, y: float, ends: Point, across: Callable[[float], float]) -> str:
    """The level scale of forces at y from the top: newtons below, pounds above."""
    paper = drawing.paper
    unit, pound = units.unit_of("force", METRIC), units.unit_of("force", units.IMPERIAL)
    wide = 1.7 * paper.gap

    def at(value: float) -> float:
        return across(value * pound.factor / unit.factor)

    found = anchored_labels(_FORCES, across, wide)
    below = ticks([(v, number(v)) for v in found], across, paper.fine)
    found = anchored_labels((0.5, 1.0, 2.0, 5.0), at, wide)
    above = ticks([(v, number(v)) for v in found], at, paper.fine)
    middle, size = (ends[0] + ends[1]) / 2, paper.letter
    base = y + 3 + 2.3 * size
    words = tr("Spring force at rest, {unit}", unit=f"{unit.symbol} ({pound.symbol})").split("\n")
    head = "".join(
        drawing.text(middle, base + n * 1.15 * size, line) for n, line in enumerate(words)
    )
    base += (len(words) - 1) * 1.15 * size
    return (
        '<g class="scale" data-scale="force">'
        f'<path d="M{ends[0]:.2f} {y:.2f}H{ends[1]:.2f}" stroke="currentColor"'
        ' stroke-width="0.15"/>'
        f"{drawing.across(unit.symbol, below, y, 1)}{drawing.across(pound.symbol, above, y, -1)}"
        f'<g fill="currentColor" font-weight="700">{head}</g>'
        f"{drawing.numbered(middle, 4, False, base + 0.6 * size)}</g>"
    )
