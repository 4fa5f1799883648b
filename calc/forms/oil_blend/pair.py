"""Two oils to a target: from two bottles, from the best bottles owned, or into a damper."""

from dataclasses import replace
from math import isclose

from calc.answering.answer import Answer, Caution, Filled, Step
from calc.forms.bottles import in_the_list, owned, places, poured, pours
from calc.forms.failures import clause
from calc.forms.oil_blend.inputs import Asked
from calc.forms.oil_blend.pair_words import answer, pour
from calc.forms.oil_blend.recipe import Pair, interaction, measure_words, round_recipe
from calc.forms.oil_choice import NoOil, best_mix, bottle_name
from calc.language import tr
from calc.physics import oil
from calc.physics.failure import PhysicsError
from calc.replying.inputs import Problem


def solve_blend(asked: Asked) -> Answer:
    thin, thick, target = asked.thin, asked.thick, asked.target
    if thin >= thick or isclose(thin, thick):
        raise Problem(
            Asked.thick,
            tr(
                "Thick oil: {thick} is not thicker than the thin oil; it has to be above {thin}.",
                thick=asked.say(thick, "viscosity"),
                thin=asked.say(thin, "viscosity"),
            ),
        )
    _check_between(asked, thin, thick, tr("from the two bottles"))
    term = _term(asked)
    share = oil.share_of_thick_measured(target, thin, thick, term or 0.0)
    say = asked.say
    pair = Pair(thin, thick, say(thin, "viscosity"), say(thick, "viscosity"), share, term)
    recipe = round_recipe(asked, pair, asked.amount)
    return answer(asked, pair, recipe, [pour(asked, pair, recipe)])


def solve_bottles(asked: Asked) -> Answer:
    bottles = owned(asked.bottles)
    try:
        mix = best_mix(bottles, asked.target, asked.amount, asked.say)
    except NoOil as lack:
        at = Asked.target if lack.lacks == "target" else Asked.amount
        label = asked.label_of(at).partition(",")[0]
        raise Problem(at, tr("{entry}: {lack}.", entry=label, lack=lack)) from lack
    names = [bottle_name(bottle, asked.say) for bottle in (mix.thin, mix.thick)]
    pair = Pair(mix.thin.viscosity, mix.thick.viscosity, names[0], names[1], mix.share)
    recipe = round_recipe(asked, pair, asked.amount, (mix.thin.at_most, mix.thick.at_most))
    volumes = zip((mix.thin, mix.thick), (recipe.thin_volume, recipe.thick_volume), strict=True)
    taken = pours(poured(places(asked.bottles), bottles, volumes))
    if mix.single:
        has = tr("It is {viscosity} already.", viscosity=asked.say(pair.thin, "viscosity"))
        use = Step(tr("Use {oil} straight.", oil=names[0]), has)
        return replace(answer(asked, pair, recipe, [use]), pours=taken)
    made = replace(answer(asked, pair, recipe, [pour(asked, pair, recipe)]), pours=taken)
    if asked.goes == "dampers" or not (recipe.thin_volume and recipe.thick_volume):
        return made
    becomes = next(
        one.uncertain for one in made.quantities if one.uncertain and one.name == "viscosity"
    )
    mix_of_both = Filled(tr("blend"), pair.blend(recipe.share), becomes, recipe.volume)
    return replace(made, steps=(*made.steps, _keep(asked, mix_of_both)), bottled=(mix_of_both,))


def _keep(asked: Asked, mix: Filled) -> Step:
    return Step(
        tr(
            "Bottle the {amount} and write “{name}, {viscosity} at 25 °C” and the date on it.",
            amount=asked.say(mix.volume, "volume", 1),
            name=mix.name,
            viscosity=asked.say(mix.viscosity, "viscosity"),
        ),
        in_the_list(),
    )


def solve_shift(asked: Asked) -> Answer:
    now, added, target = asked.now, asked.added, asked.target
    thin, thick = min(now, added), max(now, added)
    if isclose(thin, thick):
        raise Problem(Asked.added, tr("Oil to add: it is the oil that is in the damper already."))
    _check_between(asked, thin, thick, tr("from the oil in the damper and the oil to add"))
    draw = oil.exchange(now, added, target)
    share = draw if added == thick else 1 - draw
    say = asked.say
    in_name = tr("{oil} (in the damper)", oil=say(now, "viscosity"))
    add_name = say(added, "viscosity")
    names = (in_name, add_name) if added == thick else (add_name, in_name)
    pair = Pair(thin, thick, *names, share)
    recipe = round_recipe(asked, pair, asked.held)
    volume = recipe.thick_volume if added == thick else recipe.thin_volume
    return answer(asked, pair, recipe, _exchange(asked, volume), [_clings()])


def _exchange(asked: Asked, volume: float) -> list[Step]:
    """The instructions to replace so much of the oil in a damper, m3."""
    if volume <= 0:
        return [Step(tr("Leave the oil as it is: the change you want is smaller than your step."))]
    added = measure_words(asked, volume, asked.added)
    weighed = asked.step == "scale"
    out = measure_words(asked, volume, asked.now) if weighed else added
    return [
        Step(tr("Draw {amount} out of each damper.", amount=out)),
        Step(
            tr(
                "Put {amount} of {oil} in, and work the shaft slowly to mix it.",
                amount=added,
                oil=asked.say(asked.added, "viscosity"),
            )
        ),
    ]


def _clings() -> Caution:
    return Caution(
        tr(
            "Oil that clings to the piston and the body is not drawn out, so the first fill comes "
            "out a little nearer to the old oil."
        )
    )


def _check_between(asked: Asked, thin: float, thick: float, of: str) -> None:
    if not thin <= asked.target <= thick:
        raise Problem(
            Asked.target,
            tr(
                "Viscosity wanted: {wanted} cannot be made {of_what}; possible is {thin} to "
                "{thick}.",
                wanted=asked.say(asked.target, "viscosity"),
                of_what=of,
                thin=asked.say(thin, "viscosity"),
                thick=asked.say(thick, "viscosity"),
            ),
        )


def _term(asked: Asked) -> float | None:
    """What the one measured blend fixes, None where there is none. Raises Problem."""
    share, measured = asked.measured_share, asked.measured
    if (share is None) != (measured is None):
        missing = Asked.measured if measured is None else Asked.measured_share
        raise Problem(
            missing, tr("One measured blend: both its share and its viscosity are needed.")
        )
    if measured is not None and not asked.thin < measured < asked.thick:
        raise Problem(
            Asked.measured,
            tr("One measured blend: its viscosity has to lie between the two oils that are in it."),
        )
    try:
        term = interaction(asked)
        oil.share_of_thick_measured(asked.target, asked.thin, asked.thick, term or 0.0)
    except PhysicsError as failure:
        says = tr("One measured blend: {why}.", why=clause(failure))
        raise Problem(Asked.measured, says) from failure
    return term
