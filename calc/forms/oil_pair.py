"""Two oils to a target: from two bottles, from the best bottles owned, or into a damper."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import isclose

from calc.answer import Answer, Axis, Caution, Curve, Mark, Plot, Quantity, Step, Table, Working
from calc.car import Bottle
from calc.form import Given, Problem
from calc.forms.oil_choice import NoOil, best_mix, bottle_name
from calc.forms.oil_recipe import (
    RATIO_LIMIT,
    Recipe,
    interaction,
    measure_words,
    poured_viscosity,
    round_recipe,
    with_measuring,
)
from calc.forms.shared import FAR_APART, SPILL
from calc.physics import oil
from calc.units import NBSP

_PARTS = 10


@dataclass(frozen=True)
class Pair:
    """Two oils by name and viscosity, and the exact share of the thick one."""

    thin: float
    thick: float
    thin_name: str
    thick_name: str
    share: float
    term: float = 0.0


def solve_blend(given: Given) -> Answer:
    thin, thick, target = given.thin, given.thick, given.target
    if thin >= thick or isclose(thin, thick):
        raise Problem(
            "thick",
            f"Thick oil: {given.say(thick, 'viscosity')} is not thicker than the thin oil; "
            f"it has to be above {given.say(thin, 'viscosity')}.",
        )
    _check_between(given, thin, thick, "of the two bottles")
    term = _term(given)
    share = oil.share_of_thick_measured(target, thin, thick, term)
    say = given.say
    pair = Pair(thin, thick, say(thin, "viscosity"), say(thick, "viscosity"), share, term)
    recipe = round_recipe(given, thin, thick, share, given.amount)
    return _answer(given, pair, recipe, [_pour(given, pair, recipe)], [])


def solve_bottles(given: Given) -> Answer:
    pair, rows = _best_pair(given)
    recipe = round_recipe(given, pair.thin, pair.thick, pair.share, given.amount)

    if len(rows) == 1:
        step = Step(
            f"Use {rows[0]} as it is.", f"It has {given.say(pair.thin, 'viscosity')} already."
        )
        return _answer(given, pair, recipe, [step], [])
    return _answer(given, pair, recipe, [_pour(given, pair, recipe)], [])


def solve_shift(given: Given) -> Answer:
    now, added, target = given.now, given.added, given.target
    thin, thick = min(now, added), max(now, added)
    if isclose(thin, thick):
        raise Problem("added", "Oil to add: it is the oil that is in the damper already.")
    _check_between(given, thin, thick, "of the oil in the damper and the oil to add")
    draw = oil.exchange(now, added, target)
    share = draw if added == thick else 1 - draw
    say = given.say
    in_name, add_name = f"{say(now, 'viscosity')} (in the damper)", say(added, "viscosity")
    names = (in_name, add_name) if added == thick else (add_name, in_name)
    pair = Pair(thin, thick, *names, share)
    recipe = round_recipe(given, thin, thick, share, given.held)
    volume = recipe.thick_volume if added == thick else recipe.thin_volume
    held = recipe.thin_volume + recipe.thick_volume
    words = measure_words(given, volume, added)
    out = measure_words(given, volume, now) if given.choice("step") == "scale" else words
    steps = [
        Step(f"Draw {out} out of each damper."),
        Step(f"Put {words} of {add_name} in, and work the shaft slowly to mix it."),
    ]
    note = Caution(
        "Oil that clings to the piston and the body is not drawn out, so the first fill comes out "
        "a little nearer to the old oil."
    )
    if volume <= 0:
        steps = [Step("Leave the oil as it is: the wanted change is smaller than your step.")]
    share_out = Quantity("exchange", "Share to draw out and replace", draw, "share")
    answer = _answer(given, pair, recipe, steps, [note])
    drawn = Quantity("exchange_volume", "Volume to draw out", draw * held, "volume")
    return replace(answer, quantities=(share_out, drawn, *answer.quantities))


def _check_between(given: Given, thin: float, thick: float, of: str) -> None:
    if not thin <= given.target <= thick:
        raise Problem(
            "target",
            f"Viscosity wanted: {given.say(given.target, 'viscosity')} cannot be made {of}; "
            f"possible is {given.say(thin, 'viscosity')} to {given.say(thick, 'viscosity')}.",
        )


def _term(given: Given) -> float:
    share, measured = given.maybe("measured_share"), given.maybe("measured")
    if (share is None) != (measured is None):
        missing = "measured" if measured is None else "measured_share"
        raise Problem(missing, "One measured blend: it takes both its share and its viscosity.")
    if measured is not None and not given.thin < measured < given.thick:
        raise Problem(
            "measured",
            "One measured blend: its viscosity has to lie between the two oils that are in it.",
        )
    try:
        term = interaction(given)
        oil.share_of_thick_measured(given.target, given.thin, given.thick, term)
    except ValueError as error:
        raise Problem("measured", f"One measured blend: {error}.") from error
    return term


def _best_pair(given: Given) -> tuple[Pair, list[str]]:
    """The pair whose laws disagree least and that holds enough; one bottle if it is the target."""
    bottles = [
        Bottle(row.texts.get("name", ""), row.viscosity, row.left) for row in given.rows("bottles")
    ]
    try:
        mix = best_mix(bottles, given.target, given.amount, given.say)
    except NoOil as lack:
        label = given.labels[lack.lacks].partition(",")[0]
        raise Problem(lack.lacks, f"{label}: {lack}.") from lack
    names = [bottle_name(bottle, given.say) for bottle in (mix.thin, mix.thick)]
    pair = Pair(mix.thin.viscosity, mix.thick.viscosity, names[0], names[1], mix.share)
    return pair, names[:1] if mix.single else names


def _pour(given: Given, pair: Pair, recipe: Recipe) -> Step:
    if recipe.words and given.choice("step") == "parts":
        parts = recipe.words.split(" : ")
        text = f"Mix {parts[0]} parts {pair.thin_name} with {parts[1]} parts {pair.thick_name}."
        for count in ("0", "1"):
            text = text.replace(f" {count} parts", f" {count} part")
    else:
        thin = measure_words(given, recipe.thin_volume, pair.thin)
        thick = measure_words(given, recipe.thick_volume, pair.thick)
        text = f"Mix {thin} of {pair.thin_name} with {thick} of {pair.thick_name}."
    return Step(text)


def _answer(
    given: Given, pair: Pair, recipe: Recipe, steps: Sequence[Step], notes: Sequence[Caution]
) -> Answer:
    measuring = with_measuring(given, recipe, pair.term)
    names = _inputs(given, pair)

    def figures(shifted: Given) -> dict[str, float]:
        thin = shifted.numbers.get(names[0], pair.thin)
        thick = shifted.numbers.get(names[1], pair.thick)
        return {"viscosity": poured_viscosity(shifted, thin, thick, pair.term)}

    made = measuring.carry(figures)["viscosity"]
    parts = [(1 - recipe.share, pair.thin), (recipe.share, pair.thick)]
    low, high = oil.band(parts) if not pair.term else (made.value, made.value)
    more = recipe.thick_volume + recipe.step
    share_more = more / (recipe.thin_volume + more)
    one_more = oil.blend_measured(share_more, pair.thin, pair.thick, pair.term) - made.value
    say = given.say
    gives = f"That really gives {say(made.value, 'viscosity')} at 25 °C"
    if not pair.term and high > low:
        gives += f", between {say(low, 'viscosity')} and {say(high, 'viscosity')} by the laws"
    last = Step(steps[-1].text, steps[-1].gives or gives + ".")
    ratio = oil.whole_parts(recipe.exact_share if given.choice("step") != "parts" else pair.share)[
        0
    ]
    cautions = [*notes, *((FAR_APART,) if pair.thick / pair.thin > RATIO_LIMIT else ()), SPILL]
    return Answer(
        steps=(*steps[:-1], last),
        quantities=(
            measuring.quantity("viscosity", "Viscosity of the rounded recipe", "viscosity", made),
            Quantity("share", "Share of the thick oil, exact", pair.share, "share"),
            Quantity("thin_volume", "Thin oil by volume", recipe.thin_volume, "volume"),
            Quantity("thick_volume", "Thick oil by volume", recipe.thick_volume, "volume"),
            Quantity("thin_mass", "Thin oil by mass", _mass(recipe.thin_volume, pair.thin), "mass"),
            Quantity(
                "thick_mass", "Thick oil by mass", _mass(recipe.thick_volume, pair.thick), "mass"
            ),
            Quantity("law_low", "Lowest by the laws (double-log)", low, "viscosity"),
            Quantity("law_high", "Highest by the laws (cube-root)", high, "viscosity"),
            Quantity(
                "one_step_more",
                "One step more of the thick oil adds",
                one_more,
                "viscosity",
                decimals=1,
            ),
        ),
        tables=(_table(given, pair, ratio),),
        plots=(_plot(given, pair, recipe, made.value),),
        cautions=tuple(cautions),
        working=_working(given, pair, recipe, ratio),
    )


def _mass(volume: float, viscosity: float) -> float:
    return volume * oil.density(viscosity)


def _inputs(given: Given, pair: Pair) -> tuple[str, str]:
    """The names of the entries that hold the two viscosities, for carrying their doubt."""
    if given.choice("task") == "shift":
        return ("now", "added") if given.now == pair.thin else ("added", "now")
    if given.choice("task") == "bottles":
        by_viscosity = {
            row.viscosity: f"bottles.{row.key}.viscosity" for row in given.rows("bottles")
        }
        return by_viscosity[pair.thin], by_viscosity[pair.thick]
    return "thin", "thick"


def _table(given: Given, pair: Pair, best: tuple[int, int]) -> Table:
    by_share = {Fraction(n, _PARTS): (_PARTS - n, n) for n in range(_PARTS + 1)}
    by_share[Fraction(best[1], sum(best))] = best
    ratios = [by_share[share] for share in sorted(by_share)]
    rows = []
    for thin_parts, thick_parts in ratios:
        share = thick_parts / (thin_parts + thick_parts)
        low, high = oil.band([(1 - share, pair.thin), (share, pair.thick)])
        middle = oil.blend_measured(share, pair.thin, pair.thick, pair.term)
        spread = (
            ""
            if pair.term
            else f"{given.bare(low, 'viscosity')} to {given.bare(high, 'viscosity')}"
        )
        rows.append(
            (
                f"{thin_parts}{NBSP}:{NBSP}{thick_parts}",
                given.bare(share, "share", 0),
                given.bare(middle, "viscosity"),
                spread,
            )
        )
    heads = ("Thin : thick", "Thick %", "Gives cSt", "By the laws cSt")
    return Table("Small whole parts", heads, tuple(rows), mark=ratios.index(best))


def _plot(given: Given, pair: Pair, recipe: Recipe, made: float) -> Plot:
    shares = [n / 20 for n in range(21)]

    def curve(law: str) -> tuple[tuple[float, float], ...]:
        return tuple((s, oil.blend([(1 - s, pair.thin), (s, pair.thick)], law)) for s in shares)

    def measured() -> tuple[tuple[float, float], ...]:
        return tuple((s, oil.blend_measured(s, pair.thin, pair.thick, pair.term)) for s in shares)

    curves = [Curve("log law" if not pair.term else "measured", measured())]
    if not pair.term:
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


def _working(
    given: Given, pair: Pair, recipe: Recipe, ratio: tuple[int, int]
) -> tuple[Working, ...]:
    say, bare = given.say, given.bare
    if pair.thin == pair.thick:
        return ()
    linear = (given.target - pair.thin) / (pair.thick - pair.thin)
    by_rule = oil.blend_measured(linear, pair.thin, pair.thick, pair.term)
    return (
        Working(
            "share of thick = (ln wanted − ln thin) / (ln thick − ln thin)"
            if not pair.term
            else "ln ν = share × ln thick + (1 − share) × ln thin + share (1 − share) G",
            f"(ln {bare(given.target, 'viscosity')} − ln {bare(pair.thin, 'viscosity')}) / "
            f"(ln {bare(pair.thick, 'viscosity')} − ln {bare(pair.thin, 'viscosity')}) = "
            f"{say(pair.share, 'share')}"
            if not pair.term
            else f"G = {pair.term:.3f} from the measured blend; share = {say(pair.share, 'share')}",
            "log law (Arrhenius), Perry's Chemical Engineers' Handbook, 7th ed."
            if not pair.term
            else "Grunberg and Nissan, Nature 164 (1949)",
        ),
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
            f"it would take {say(linear, 'share')} thick, which gives {say(by_rule, 'viscosity')} "
            f"instead of {say(given.target, 'viscosity')}",
            "common practice, no source",
        ),
    )
