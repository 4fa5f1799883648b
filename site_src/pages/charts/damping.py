"""The charts of the oil in a damper: at another temperature, and behind another piston."""

from math import log10

from calc import units
from calc.language import tr
from calc.physics import flow, oil, warm
from site_src.pages.charts import draw, words
from site_src.pages.charts.draw import Drawn, Paper, Side
from site_src.pages.charts.nomogram import (
    Chart,
    both_sides,
    headed,
    log_scale,
    log_side,
    upright_chart,
)
from site_src.pages.charts.scale import (
    Tick,
    Upright,
    crossing,
    even_labels,
    hand_share,
    joined,
    number,
    spread,
    ticks,
)

GRADE, DRAG = (50.0, 2000.0), (30.0, 4000.0)  # cSt, mPa s
COLDEST, HOTTEST = -10.0, 60.0  # degrees Celsius
HOLES, HOLE, OPENING, DAMPING = (1.0, 10.0), (0.8, 2.2), (1.0, 100.0), (0.5, 1000.0)
PLATE = 2.5e-3  # m, the thickness of the piston for which the chart is drawn


def temperature(paper: Paper) -> Chart:
    """The grade that feels the same: log mu = G(grade) + f(T), with the dynamic viscosity mu, the
    force of slow flow. Exact, because the density is a product of such functions too."""
    at = (4.5, 49) if paper.small else (14, 170)
    grade = spread(at[0], _at_room(GRADE[0]), _at_room(GRADE[1]), paper.height)
    warmth = spread(at[1], _factor(HOTTEST), _factor(COLDEST), paper.height)
    drag = joined(grade, warmth)
    heat = both_sides(paper, "temperature", lambda system: _heat_side(paper, warmth, system))
    mpas = draw.renamed(log_side(paper, drag, DRAG, "ratio"), "mPa·s")
    head = tr("Oil at\n25 °C")
    scales = (
        log_scale(paper, "grade", head, grade, GRADE, "viscosity", (1, False), _at_room),
        Drawn("drag", headed(tr("Drag"), (mpas,)), drag, (mpas,), 3, True),
        Drawn("temperature", headed("", heat), warmth, heat, 2),
    )
    oil_25, hot, cold = 400.0, 35.0, 20.0
    there = warm.dynamic_at(oil_25 * 1e-6, hot + 273.15)
    same = warm.same_feel(oil_25 * 1e-6, hot + 273.15, cold + 273.15)
    y_there = drag.y(log10(there * 1e3))
    lines = tuple(
        [(grade.x, grade.y(_at_room(nu))), (drag.x, y_there), (warmth.x, warmth.y(_factor(t)))]
        for nu, t in ((oil_25, hot), (same * 1e6, cold))
    )
    law = tr(
        "log₁₀ (ν / ν₂₅) = 763.1 (1/T − 1/298.15 K), drag ν × density; silicone oil, from makers' "
        "data"
    )
    # The edge turned about the crossing leads back to the first scale.
    within = hand_share(grade, crossing(drag, warmth, grade, crossing(grade, warmth, drag)))
    title = tr("Oil and temperature")
    return Chart(
        *upright_chart(paper, "temperature", title, scales, lines, law),
        words.of_temperature(oil_25 * 1e-6, there, hot, same, cold), law,
        words.accurate(within), within,
    )  # fmt: skip


def _at_room(grade: float) -> float:
    """The part of the law that the grade, cSt, has: log of its mPa s at 25 °C."""
    return log10(warm.dynamic_at(grade * 1e-6, oil.ROOM) * 1e3)


def _factor(celsius: float) -> float:
    """The part of the law that the temperature has."""
    there = celsius + 273.15
    return log10(warm.dynamic_at(oil.THINNEST, there) / warm.dynamic_at(oil.THINNEST, oil.ROOM))


def _heat_side(paper: Paper, line: Upright, system: str) -> Side:
    unit = units.unit_of("temperature", system)

    def y(value: float) -> float:
        return line.y(_factor(unit.to_si(value) - 273.15))

    first, last = (round(unit.from_si(value + 273.15), 6) for value in (COLDEST, HOTTEST))
    found = even_labels(first, last, y, paper.gap)
    return Side(unit.symbol, ticks([(value, number(value)) for value in found], y, paper.fine))


def piston(paper: Paper) -> Chart:
    """The oil that damps alike behind another piston: in slow flow the force goes with viscosity
    over opening, and the opening with n g(d), g after Dagan. What passes the rim is left out."""
    holes = spread(14, log10(HOLES[1]), log10(HOLES[0]), paper.height)
    hole = spread(84, _one_hole(HOLE[1]), _one_hole(HOLE[0]), paper.height)
    opening = joined(holes, hole)
    grade = spread(178, log10(GRADE[0]), log10(GRADE[1]), paper.height)
    damping = joined(grade, opening)
    counts = [(float(n), str(n)) for n in range(round(HOLES[0]), round(HOLES[1]) + 1)]
    count_side = Side("", tuple(Tick(n, holes.y(log10(n)), text) for n, text in counts))
    scales = (
        Drawn("holes", (tr("Holes"),), holes, (count_side,), 1),
        log_scale(paper, "opening", tr("Opening"), opening, OPENING, "ratio", (3, True)),
        log_scale(paper, "hole", tr("Hole"), hole, HOLE, "length", (2, False), _one_hole),
        log_scale(
            paper, "damping", tr("Damping", sense="chart"), damping, DAMPING, "ratio", (5, True)
        ),
        log_scale(paper, "grade", tr("Oil at\n25 °C"), grade, GRADE, "viscosity", (4, False)),
    )
    (n, d), (m, e), nu = (3, 1.6), (2, 1.9), 400.0
    lines = []
    open_now, open_then = log10(n) + _one_hole(d), log10(m) + _one_hole(e)
    same = nu * 10 ** (open_then - open_now)
    y_damping = damping.y(log10(nu) - open_now)
    for count, wide, made, there in ((n, d, open_now, nu), (m, e, open_then, same)):
        first, last = (holes.x, holes.y(log10(count))), (hole.x, hole.y(_one_hole(wide)))
        pivot = (opening.x, opening.y(made))
        lines += [
            [first, pivot, last],
            [pivot, (damping.x, y_damping), (grade.x, grade.y(log10(there)))],
        ]
    law = tr(
        "slow force in proportion to viscosity / opening; opening = holes / (3/r³ + 8 L/(π r⁴)), "
        "r radius of a hole, L thickness of the piston"
    )
    one = crossing(holes, hole, opening)
    both = crossing(opening, grade, damping, one)
    within = hand_share(grade, crossing(damping, opening, grade, both, one))
    title = tr("Another piston, same damping")
    return Chart(
        *upright_chart(paper, "piston", title, scales, lines, law),
        words.of_piston((n, d * 1e-3), nu * 1e-6, (m, e * 1e-3), same * 1e-6, PLATE), law,
        words.accurate(within), within,
    )  # fmt: skip


def _one_hole(diameter: float) -> float:
    """Logarithm of the opening of one hole, mm across, in hundredths of a cubic millimetre."""
    way = flow.hole(diameter * 1e-3, PLATE, 1.0, 1.0)
    return log10(1e11 / way.viscous)
