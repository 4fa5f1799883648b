"""Two oils to a target: the table of whole parts, the plot, the working."""

from fractions import Fraction

from calc.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.form import Given
from calc.forms.oil_recipe import Pair, Recipe
from calc.physics import oil
from calc.units import NBSP

_PARTS = 10


def table(given: Given, pair: Pair, best: tuple[int, int]) -> Table:
    by_share = {Fraction(n, _PARTS): (_PARTS - n, n) for n in range(_PARTS + 1)}
    by_share[Fraction(best[1], sum(best))] = best
    ratios = [by_share[share] for share in sorted(by_share)]
    rows = tuple(_line(given, pair, *parts) for parts in ratios)
    heads = ("Thin : thick", "Thick %", "Gives cSt", "By the laws cSt")
    return Table("Small whole parts", heads, rows, mark=ratios.index(best))


def _line(given: Given, pair: Pair, thin_parts: int, thick_parts: int) -> tuple[str, ...]:
    share = thick_parts / (thin_parts + thick_parts)
    low, high = (given.bare(value, "viscosity") for value in pair.band(share))
    return (
        f"{thin_parts}{NBSP}:{NBSP}{thick_parts}",
        given.bare(share, "share", 0),
        given.bare(pair.blend(share), "viscosity"),
        "" if pair.measured else f"{low} to {high}",
    )


def plot(given: Given, pair: Pair, recipe: Recipe, made: float) -> Plot:
    shares = [n / 20 for n in range(21)]

    def curve(law: str) -> tuple[tuple[float, float], ...]:
        return tuple((s, oil.blend([(1 - s, pair.thin), (s, pair.thick)], law)) for s in shares)

    middle = tuple((s, pair.blend(s)) for s in shares)
    curves = [Curve("measured" if pair.measured else "log law", middle)]
    if not pair.measured:
        curves += [
            Curve("double-log", curve("double-log"), "limit"),
            Curve("cube-root", curve("cube-root"), "limit"),
        ]
    return Plot(
        "Viscosity against share of the thick oil",
        Axis("Share of the thick oil", "share"),
        Axis("Viscosity at 25 °C", "viscosity"),
        tuple(curves),
        (Mark(recipe.share, made, "this recipe"),),
        f"From {given.say(pair.thin, 'viscosity')} to {given.say(pair.thick, 'viscosity')}; "
        f"the recipe stands at {given.say(recipe.share, 'share')} and "
        f"{given.say(made, 'viscosity')}.",
    )


def working(
    given: Given, pair: Pair, recipe: Recipe, ratio: tuple[int, int]
) -> tuple[Working, ...]:
    say = given.say
    if pair.thin == pair.thick:
        return ()
    linear = (given.target - pair.thin) / (pair.thick - pair.thin)
    return (
        _law(given, pair),
        Working(
            "best whole parts up to 10",
            f"{ratio[0]} thin : {ratio[1]} thick = {say(ratio[1] / sum(ratio), 'share')} thick",
        ),
        Working(
            "mass = volume × density",
            f"{say(recipe.thin_volume, 'volume')} × {say(oil.density(pair.thin), 'density')} and "
            f"{say(recipe.thick_volume, 'volume')} × {say(oil.density(pair.thick), 'density')}",
            "silicone makers' density tables",
        ),
        Working(
            "pit rule: the mean on the weight scale",
            f"it would take {say(linear, 'share')} thick, which gives "
            f"{say(pair.blend(linear), 'viscosity')} instead of {say(given.target, 'viscosity')}",
            "common practice, no source",
        ),
    )


def _law(given: Given, pair: Pair) -> Working:
    say, bare = given.say, given.bare
    if pair.term is not None:
        return Working(
            "ln ν = share × ln thick + (1 − share) × ln thin + share (1 − share) G",
            f"G = {pair.term:.3f} from the measured blend; share = {say(pair.share, 'share')}",
            "Grunberg and Nissan, Nature 164 (1949)",
        )
    wanted, thin, thick = (bare(v, "viscosity") for v in (given.target, pair.thin, pair.thick))
    return Working(
        "share of thick = (ln wanted − ln thin) / (ln thick − ln thin)",
        f"(ln {wanted} − ln {thin}) / (ln {thick} − ln {thin}) = {say(pair.share, 'share')}",
        "log law (Arrhenius), Perry's Chemical Engineers' Handbook, 7th ed.",
    )
