"""What did I make: the viscosity of any number of oils poured together."""

from calc.answering.answer import Answer, Step, Table, Working
from calc.forms.cautions import FAR_APART, far_apart, spill
from calc.forms.oil_blend.inputs import Asked
from calc.language import tr
from calc.model.oil import LAW_UNCERTAINTY, by_law
from calc.physics import oil
from calc.replying.figures import Figures, figure

Parts = list[tuple[float, float]]  # amount in m3, viscosity in m2/s


def _parts(asked: Asked) -> Parts:
    return [(row.amount, row.viscosity) for row in asked.oils]


class MixFigures(Figures):
    viscosity: float = figure("Viscosity of the mix at 25 °C", kind="viscosity")
    total: float = figure("Amount in all", kind="volume")


def figures(asked: Asked) -> MixFigures:
    parts = _parts(asked)
    return MixFigures(viscosity=by_law(parts, asked.law), total=sum(amount for amount, _ in parts))


def solve(asked: Asked) -> Answer:
    parts = _parts(asked)
    low, high = (asked.say(end, "viscosity") for end in oil.band(parts))
    asked = asked.assuming((Asked.law, 0.0, LAW_UNCERTAINTY))
    mix, say = asked.propagate(figures), asked.say
    viscosities = [viscosity for _, viscosity in parts]
    wide = max(viscosities) / min(viscosities) > FAR_APART
    step = Step(
        tr("The mix is {viscosity} at 25 °C.", viscosity=say(mix.value.viscosity, "viscosity")),
        tr("Mixing rules differ: {low} to {high}.", low=low, high=high) if low != high else "",
    )
    return Answer(
        steps=(step,),
        quantities=asked.quantities(mix),
        tables=(_table(asked, parts, mix.value.total),),
        cautions=(*((far_apart(),) if wide else ()), spill()),
        working=(_working(asked, parts, mix.value.total),),
    )


def _table(asked: Asked, parts: Parts, total: float) -> Table:
    rows = tuple(
        (
            asked.bare(viscosity, "viscosity"),
            asked.bare(amount, "volume", 2),
            asked.bare(amount / total, "share"),
        )
        for amount, viscosity in parts
    )
    heads = (tr("Oil cSt"), tr("Amount mL"), tr("Share %"))
    return Table(tr("What went in"), heads, rows)


def _working(asked: Asked, parts: Parts, total: float) -> Working:
    terms = (
        f"{asked.say(amount / total, 'share')} × ln {asked.bare(viscosity, 'viscosity')}"
        for amount, viscosity in parts
    )
    return Working(
        tr("ln ν = Σ share × ln ν"),
        f"{' + '.join(terms)} → {asked.say(oil.blend(parts), 'viscosity')}",
        tr("log rule (Arrhenius), Perry's Chemical Engineers' Handbook, 7th ed."),
    )
