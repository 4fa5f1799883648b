"""Two oils to a target: what is common to the answers, whichever way the pair was found."""

from collections.abc import Sequence
from dataclasses import replace

from calc.answer import Answer, Caution, Quantity, Step
from calc.form import Given
from calc.forms import oil_pair_show as show
from calc.forms.oil_recipe import (
    RATIO_LIMIT,
    Pair,
    Recipe,
    measure_words,
    poured_viscosity,
    with_measuring,
)
from calc.forms.shared import far_apart, spill
from calc.physics import oil


def pour(given: Given, pair: Pair, recipe: Recipe) -> Step:
    """The instruction to mix the two."""
    if recipe.parts is not None:
        thin, thick = (f"{n} {'part' if n < 2 else 'parts'}" for n in recipe.parts)
        return Step(f"Mix {thin} {pair.thin_name} with {thick} {pair.thick_name}.")
    thin = measure_words(given, recipe.thin_volume, pair.thin)
    thick = measure_words(given, recipe.thick_volume, pair.thick)
    return Step(f"Mix {thin} of {pair.thin_name} with {thick} of {pair.thick_name}.")


def answer(
    given: Given, pair: Pair, recipe: Recipe, steps: Sequence[Step], notes: Sequence[Caution] = ()
) -> Answer:
    """The steps, what they really give, and everything beside it."""
    quantities = _quantities(given, pair, recipe)
    made = quantities[0].value
    last = steps[-1] if steps[-1].gives else replace(steps[-1], gives=_gives(given, pair, recipe))
    ratio = oil.whole_parts(recipe.exact_share)[0]
    far = pair.thick / pair.thin > RATIO_LIMIT
    return Answer(
        steps=(*steps[:-1], last),
        quantities=quantities,
        tables=(show.table(given, pair, ratio),),
        plots=(show.plot(given, pair, recipe, made),),
        cautions=(*notes, *((far_apart(),) if far else ()), spill()),
        working=show.working(given, pair, recipe, ratio),
    )


def _gives(given: Given, pair: Pair, recipe: Recipe) -> str:
    low, high = pair.band(recipe.share)
    text = f"That really gives {given.say(pair.blend(recipe.share), 'viscosity')} at 25 °C"
    if high > low:
        low_text, high_text = given.say(low, "viscosity"), given.say(high, "viscosity")
        text += f", between {low_text} and {high_text} by the laws"
    return text + "."


def _quantities(given: Given, pair: Pair, recipe: Recipe) -> tuple[Quantity, ...]:
    """The viscosity of the recipe first, with the doubt of all that goes into it."""
    measuring = with_measuring(given, pair, recipe)
    names = _inputs(given, pair)

    def figures(shifted: Given) -> dict[str, float]:
        thin = shifted.numbers.get(names[0], pair.thin)
        thick = shifted.numbers.get(names[1], pair.thick)
        return {"viscosity": poured_viscosity(shifted, thin, thick)}

    made = measuring.carry(figures)["viscosity"]
    low, high = pair.band(recipe.share)
    thin, thick = recipe.thin_volume, recipe.thick_volume
    more = pair.blend((thick + recipe.step) / (thin + thick + recipe.step)) - made.value
    one_more = "One step more of the thick oil adds"
    return (
        measuring.quantity("viscosity", "Viscosity of the rounded recipe", "viscosity", made),
        Quantity("share", "Share of the thick oil, exact", pair.share, "share"),
        Quantity("thin_volume", "Thin oil by volume", thin, "volume"),
        Quantity("thick_volume", "Thick oil by volume", thick, "volume"),
        Quantity("thin_mass", "Thin oil by mass", thin * oil.density(pair.thin), "mass"),
        Quantity("thick_mass", "Thick oil by mass", thick * oil.density(pair.thick), "mass"),
        Quantity("law_low", "Lowest by the laws (double-log)", low, "viscosity"),
        Quantity("law_high", "Highest by the laws (cube-root)", high, "viscosity"),
        Quantity("one_step_more", one_more, more, "viscosity", decimals=1),
    )


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
