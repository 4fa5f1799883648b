"""Two oils to a target: what is common to the answers, whichever way the pair was found."""

from collections.abc import Sequence
from dataclasses import replace

from calc.answering.answer import Answer, Caution, Quantity, Step
from calc.forms.cautions import far_apart, opened, spill
from calc.forms.common.oil_choice import parts_words
from calc.forms.oil_blend import pair_pictures as show
from calc.forms.oil_blend.recipe import (
    RATIO_LIMIT,
    Pair,
    Recipe,
    measure_words,
    poured_viscosity,
    with_measuring,
)
from calc.language import tr
from calc.physics import oil
from calc.replying.form import Given


def pour(given: Given, pair: Pair, recipe: Recipe) -> Step:
    """The instruction to mix the two, or to take the one that the rounding leaves."""
    for volume, other in (
        (recipe.thin_volume, pair.thick_name),
        (recipe.thick_volume, pair.thin_name),
    ):
        if volume <= 0:
            return Step(tr("Take {oil} alone: the other is less than one step.", oil=other))
    if recipe.parts is not None:
        names = (pair.thin_name, pair.thick_name)
        thin, thick = (parts_words(*each) for each in zip(recipe.parts, names, strict=True))
        return Step(tr("Mix {thin} with {thick}.", thin=thin, thick=thick))
    return Step(
        tr(
            "Mix {thin} of {thin_oil} with {thick} of {thick_oil}.",
            thin=measure_words(given, recipe.thin_volume, pair.thin),
            thin_oil=pair.thin_name,
            thick=measure_words(given, recipe.thick_volume, pair.thick),
            thick_oil=pair.thick_name,
        )
    )


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
        cautions=(
            *notes,
            *((far_apart(),) if far else ()),
            opened() if given.choice("task") == "shift" else spill(),
        ),
        working=show.working(given, pair, recipe, ratio),
    )


def _gives(given: Given, pair: Pair, recipe: Recipe) -> str:
    low, high = pair.band(recipe.share)
    made = given.say(pair.blend(recipe.share), "viscosity")
    if high <= low:
        return tr("That really gives {viscosity} at 25 °C.", viscosity=made)
    return tr(
        "That really gives {viscosity} at 25 °C, between {low} and {high} by the laws.",
        viscosity=made,
        low=given.say(low, "viscosity"),
        high=given.say(high, "viscosity"),
    )


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
    one_more = tr("One step more of the thick oil adds")
    return (
        measuring.quantity("viscosity", tr("Viscosity of the rounded recipe"), "viscosity", made),
        Quantity("share", tr("Share of the thick oil, exact"), pair.share, "share"),
        Quantity("thin_volume", tr("Thin oil by volume"), thin, "volume"),
        Quantity("thick_volume", tr("Thick oil by volume"), thick, "volume"),
        Quantity("thin_mass", tr("Thin oil by mass"), thin * oil.density(pair.thin), "mass"),
        Quantity("thick_mass", tr("Thick oil by mass"), thick * oil.density(pair.thick), "mass"),
        Quantity("law_low", tr("Lowest by the laws (double-log)"), low, "viscosity"),
        Quantity("law_high", tr("Highest by the laws (cube-root)"), high, "viscosity"),
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
