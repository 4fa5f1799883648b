"""Two oils to a target: the table of whole parts, the plot, the working."""

from fractions import Fraction

from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.forms.oil_blend.inputs import Asked
from calc.forms.oil_blend.recipe import Pair, Recipe
from calc.language import tr
from calc.physics import oil
from calc.units import NBSP, spelt

_PARTS = 10


def table(asked: Asked, pair: Pair, best: tuple[int, int]) -> Table:
    by_share = {Fraction(n, _PARTS): (_PARTS - n, n) for n in range(_PARTS + 1)}
    by_share[Fraction(best[1], sum(best))] = best
    ratios = [by_share[share] for share in sorted(by_share)]
    rows = tuple(_line(asked, pair, *parts) for parts in ratios)
    heads = (tr("Thin : thick"), tr("Thick %"), tr("Gives cSt"), tr("By mixing rules cSt"))
    return Table(tr("Small whole parts"), heads, rows, mark=ratios.index(best))


def _line(asked: Asked, pair: Pair, thin_parts: int, thick_parts: int) -> tuple[str, ...]:
    share = thick_parts / (thin_parts + thick_parts)
    low, high = (asked.bare(value, "viscosity") for value in pair.band(share))
    return (
        f"{thin_parts}{NBSP}:{NBSP}{thick_parts}",
        asked.bare(share, "share", 0),
        asked.bare(pair.blend(share), "viscosity"),
        "" if pair.measured or low == high else tr("{low} to {high}", low=low, high=high),
    )


def plot(asked: Asked, pair: Pair, recipe: Recipe, made: float) -> Plot:
    shares = [n / 20 for n in range(21)]

    def curve(law: oil.LawName) -> tuple[tuple[float, float], ...]:
        return tuple((s, oil.blend([(1 - s, pair.thin), (s, pair.thick)], law)) for s in shares)

    middle = tuple((s, pair.blend(s)) for s in shares)
    curves = [Curve(tr("measured") if pair.measured else tr("log rule"), middle)]
    if not pair.measured:
        curves += [
            Curve(tr("double log"), curve("double-log"), "limit"),
            Curve(tr("chain length"), curve("chain"), "limit"),
        ]
    return Plot(
        tr("Viscosity against share of the thick oil"),
        Axis(tr("Share of the thick oil"), "share"),
        Axis(tr("Viscosity at 25 °C"), "viscosity"),
        tuple(curves),
        (Mark(recipe.share, made, tr("this recipe")),),
        tr(
            "From {thin} to {thick}; the recipe is at {share} and {viscosity}.",
            thin=asked.say(pair.thin, "viscosity"),
            thick=asked.say(pair.thick, "viscosity"),
            share=asked.say(recipe.share, "share"),
            viscosity=asked.say(made, "viscosity"),
        ),
    )


def working(
    asked: Asked, pair: Pair, recipe: Recipe, ratio: tuple[int, int]
) -> tuple[Working, ...]:
    if pair.thin == pair.thick:
        return ()
    parts = tr(
        "{thin} thin : {thick} thick = {share} thick",
        thin=ratio[0],
        thick=ratio[1],
        share=asked.say(ratio[1] / sum(ratio), "share"),
    )
    return (
        _law(asked, pair),
        Working(tr("best whole parts up to 10"), parts, tr("nearest to the share, all tried")),
        _masses(asked, pair, recipe),
        _pit_rule(asked, pair),
    )


def _masses(asked: Asked, pair: Pair, recipe: Recipe) -> Working:
    say = asked.say
    thin, thick = (
        f"{say(volume, 'volume')} × {say(oil.density(viscosity), 'density')}"
        for volume, viscosity in (
            (recipe.thin_volume, pair.thin), (recipe.thick_volume, pair.thick),
        )
    )  # fmt: skip
    return Working(
        tr("mass = volume × density"),
        tr("{thin} and {thick}", thin=thin, thick=thick),
        tr("silicone makers' density tables"),
    )


def _pit_rule(asked: Asked, pair: Pair) -> Working:
    linear = (asked.target - pair.thin) / (pair.thick - pair.thin)
    return Working(
        tr("pit rule: average the wt numbers"),
        tr(
            "that would be {share} thick, which gives {viscosity} instead of {wanted}",
            share=asked.say(linear, "share"),
            viscosity=asked.say(pair.blend(linear), "viscosity"),
            wanted=asked.say(asked.target, "viscosity"),
        ),
        tr("common practice, no source"),
    )


def _law(asked: Asked, pair: Pair) -> Working:
    say, bare = asked.say, asked.bare
    if pair.term is not None:
        return Working(
            tr("ln ν = share × ln thick + (1 − share) × ln thin + share (1 − share) G"),
            tr(
                "G = {term} from the measured blend; share = {share}",
                term=spelt(f"{pair.term:.3f}"),
                share=say(pair.share, "share"),
            ),
            tr("Grunberg and Nissan, Nature 164 (1949)"),
        )
    wanted, thin, thick = (bare(v, "viscosity") for v in (asked.target, pair.thin, pair.thick))
    return Working(
        tr("share of thick = (ln wanted − ln thin) / (ln thick − ln thin)"),
        f"(ln {wanted} − ln {thin}) / (ln {thick} − ln {thin}) = {say(pair.share, 'share')}",
        tr("log rule (Arrhenius), Perry's Chemical Engineers' Handbook, 7th ed."),
    )
