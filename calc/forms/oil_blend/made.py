"""What did I make: the viscosity of any number of oils poured together."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Step, Table, Working
from calc.forms.cautions import far_apart, spill
from calc.forms.common.blending import LAW_INPUT, by_law
from calc.forms.inputs import with_inputs
from calc.forms.oil_blend.recipe import RATIO_LIMIT
from calc.language import tr
from calc.physics import oil
from calc.replying.form import Given

Parts = list[tuple[float, float]]  # amount in m3, viscosity in m2/s


def _parts(given: Given) -> Parts:
    return [(row.amount, row.viscosity) for row in given.rows("oils")]


def figures(given: Given) -> Mapping[str, float]:
    parts = _parts(given)
    return {
        "viscosity": by_law(parts, given.law),
        "total": sum(amount for amount, _ in parts),
    }


def solve(given: Given) -> Answer:
    parts = _parts(given)
    low, high = oil.band(parts)
    given = with_inputs(given, LAW_INPUT)
    doubted = given.carry(figures)
    made, say = doubted["viscosity"], given.say
    viscosities = [viscosity for _, viscosity in parts]
    wide = max(viscosities) / min(viscosities) > RATIO_LIMIT
    step = Step(
        tr("The mix has {viscosity} at 25 °C.", viscosity=say(made.value, "viscosity")),
        tr(
            "Between {low} and {high} by the laws in use.",
            low=say(low, "viscosity"),
            high=say(high, "viscosity"),
        ),
    )
    return Answer(
        steps=(step,),
        quantities=(
            given.quantity("viscosity", tr("Viscosity of the mix at 25 °C"), "viscosity", made),
            given.quantity("total", tr("Amount in all"), "volume", doubted["total"]),
        ),
        tables=(_table(given, parts, doubted["total"].value),),
        cautions=(*((far_apart(),) if wide else ()), spill()),
        working=(_working(given, parts, doubted["total"].value),),
    )


def _table(given: Given, parts: Parts, total: float) -> Table:
    rows = tuple(
        (
            given.bare(viscosity, "viscosity"),
            given.bare(amount, "volume", 2),
            given.bare(amount / total, "share"),
        )
        for amount, viscosity in parts
    )
    heads = (tr("Oil cSt"), tr("Amount mL"), tr("Share %"))
    return Table(tr("What went in"), heads, rows)


def _working(given: Given, parts: Parts, total: float) -> Working:
    terms = (
        f"{given.say(amount / total, 'share')} × ln {given.bare(viscosity, 'viscosity')}"
        for amount, viscosity in parts
    )
    return Working(
        tr("ln ν = Σ share × ln ν"),
        f"{' + '.join(terms)} → {given.say(oil.blend(parts), 'viscosity')}",
        tr("log law (Arrhenius), Perry's Chemical Engineers' Handbook, 7th ed."),
    )
