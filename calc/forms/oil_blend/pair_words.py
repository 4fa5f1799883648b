"""Two oils to a target: what is common to the answers, whichever way the pair was found."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from calc.answering.answer import Answer, Caution, Quantity, Step
from calc.forms.bottles import miscounted, too_coarse
from calc.forms.cautions import FAR_APART, far_apart, opened, spill
from calc.forms.oil_blend import pair_pictures as show
from calc.forms.oil_blend.inputs import Asked
from calc.forms.oil_blend.recipe import (
    Pair,
    Recipe,
    exact_share,
    measure_words,
    poured_viscosity,
    with_measuring,
)
from calc.forms.oil_choice import parts_words
from calc.language import tr
from calc.physics import oil
from calc.replying.figures import Figures, figure


def pour(asked: Asked, pair: Pair, recipe: Recipe) -> Step:
    """The instruction to mix the two, or to take the one that the rounding leaves."""
    for volume, other in (
        (recipe.thin_volume, pair.thick_name),
        (recipe.thick_volume, pair.thin_name),
    ):
        if volume <= 0:
            return Step(
                tr(
                    "Use the {oil} on its own: the share of the other is too small to measure.",
                    oil=other,
                )
            )
    if recipe.parts is not None:
        names = (pair.thin_name, pair.thick_name)
        thin, thick = (parts_words(*each) for each in zip(recipe.parts, names, strict=True))
        return Step(tr("Mix {thin} with {thick}.", thin=thin, thick=thick))
    return Step(
        tr(
            "Mix {thin} of {thin_oil} with {thick} of {thick_oil}.",
            thin=measure_words(asked, recipe.thin_volume, pair.thin),
            thin_oil=pair.thin_name,
            thick=measure_words(asked, recipe.thick_volume, pair.thick),
            thick_oil=pair.thick_name,
        )
    )


def answer(
    asked: Asked, pair: Pair, recipe: Recipe, steps: Sequence[Step], notes: Sequence[Caution] = ()
) -> Answer:
    """The steps, what they really give, and everything beside it."""
    quantities = _quantities(asked, pair, recipe)
    made = next(one.value for one in quantities if one.name == "viscosity")
    last = steps[-1] if steps[-1].gives else replace(steps[-1], gives=_gives(asked, pair, recipe))
    if asked.step == "scale":
        last = replace(last, gives=f"{last.gives} {_density(asked, pair)}")
    ratio = oil.whole_parts(recipe.exact_share)[0]
    far = pair.thick / pair.thin > FAR_APART
    return Answer(
        steps=(*steps[:-1], last),
        quantities=quantities,
        tables=(show.table(asked, pair, ratio),),
        plots=(show.plot(asked, pair, recipe, made),),
        cautions=(
            *(miscounted(_most(recipe) / asked.drop) if asked.step == "drop" else ()),
            *too_coarse(asked, pair.blend(recipe.share), asked.target),
            *notes,
            *((far_apart(),) if far else ()),
            opened() if asked.task == "shift" else spill(),
        ),
        working=show.working(asked, pair, recipe, ratio),
    )


def _most(recipe: Recipe) -> float:
    return max(recipe.thin_volume, recipe.thick_volume)


def _density(asked: Asked, pair: Pair) -> str:
    """What the grams rest on, which nobody has measured."""
    densities = [asked.say(oil.density(of), "density") for of in (pair.thin, pair.thick)]
    return tr(
        "Grams assume the usual density of silicone oil: {density}.",
        density=tr(" and ").join(dict.fromkeys(densities)),
    )


def _gives(asked: Asked, pair: Pair, recipe: Recipe) -> str:
    low, high = (asked.say(end, "viscosity") for end in pair.band(recipe.share))
    made = asked.say(pair.blend(recipe.share), "viscosity")
    if low == high:
        return tr("The rounded amounts make {viscosity} at 25 °C.", viscosity=made)
    return tr(
        "The rounded amounts make {viscosity} at 25 °C (mixing rules differ: {low} to {high}).",
        viscosity=made,
        low=low,
        high=high,
    )


class PouredFigures(Figures):
    """The first two where the oil in a damper is shifted."""

    exchange: float | None = figure("Share to draw out and replace", kind="share", default=None)
    exchange_volume: float | None = figure("Volume to draw out", kind="volume", default=None)
    viscosity: float = figure("Viscosity of the rounded recipe", kind="viscosity")
    share: float = figure("Share of the thick oil, exact", kind="share", least=0.0)


def _quantities(asked: Asked, pair: Pair, recipe: Recipe) -> tuple[Quantity, ...]:
    """The viscosity of the recipe and its shares, with the uncertainty of all that goes in."""
    measuring = with_measuring(asked, pair, recipe)
    grades = _grades(asked, pair)

    wanted = asked.target
    thin, thick = recipe.thin_volume, recipe.thick_volume

    def figures(at: Asked) -> PouredFigures:
        share, draw = exact_share(at, pair, wanted, *grades(at)), None
        if asked.task == "shift":
            draw = share if asked.added == pair.thick else 1 - share
        return PouredFigures(
            exchange=draw,
            exchange_volume=None if draw is None else draw * (thin + thick),
            viscosity=poured_viscosity(at, pair, *grades(at)),
            share=share,
        )

    made = measuring.propagate(figures)
    low, high = pair.band(recipe.share)
    more = pair.blend((thick + recipe.step) / (thin + thick + recipe.step)) - made.value.viscosity
    one_more = tr("One step more of the thick oil adds")
    return (
        *measuring.quantities(made),
        Quantity("thin_volume", tr("Thin oil by volume"), thin, "volume"),
        Quantity("thick_volume", tr("Thick oil by volume"), thick, "volume"),
        Quantity("thin_mass", tr("Thin oil by mass"), thin * oil.density(pair.thin), "mass"),
        Quantity("thick_mass", tr("Thick oil by mass"), thick * oil.density(pair.thick), "mass"),
        Quantity("law_low", tr("Lowest by the mixing rules (double log)"), low, "viscosity"),
        Quantity("law_high", tr("Highest by the mixing rules (chain length)"), high, "viscosity"),
        Quantity("one_step_more", one_more, more, "viscosity", decimals=1),
    )


def _grades(asked: Asked, pair: Pair) -> Callable[[Asked], tuple[float, float]]:
    """How to look up the thin and the thick oil where they were entered, so that the uncertainty
    of both is propagated."""
    if asked.task == "shift":
        if asked.now == pair.thin:
            return lambda at: (at.now, at.added)
        return lambda at: (at.added, at.now)
    if asked.task == "bottles":
        places = {row.viscosity: place for place, row in enumerate(asked.bottles)}
        thin, thick = places[pair.thin], places[pair.thick]
        return lambda at: (at.bottles[thin].viscosity, at.bottles[thick].viscosity)
    return lambda at: (at.thin, at.thick)
