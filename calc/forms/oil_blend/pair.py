"""Two oils to a target: from two bottles, from the best bottles owned, or into a damper."""

from dataclasses import replace
from math import isclose

from calc.answering.answer import Answer, Caution, Quantity, Step
from calc.forms.common.bottles import bottles_of
from calc.forms.common.failures import clause
from calc.forms.common.oil_choice import NoOil, best_mix, bottle_name
from calc.forms.oil_blend.pair_words import answer, pour
from calc.forms.oil_blend.recipe import Pair, interaction, measure_words, round_recipe
from calc.language import tr
from calc.physics import oil
from calc.physics.failure import PhysicsError
from calc.replying.form import Given, Problem


def solve_blend(given: Given) -> Answer:
    thin, thick, target = given.thin, given.thick, given.target
    if thin >= thick or isclose(thin, thick):
        raise Problem(
            "thick",
            tr(
                "Thick oil: {thick} is not thicker than the thin oil; it has to be above {thin}.",
                thick=given.say(thick, "viscosity"),
                thin=given.say(thin, "viscosity"),
            ),
        )
    _check_between(given, thin, thick, tr("of the two bottles"))
    term = _term(given)
    share = oil.share_of_thick_measured(target, thin, thick, term or 0.0)
    say = given.say
    pair = Pair(thin, thick, say(thin, "viscosity"), say(thick, "viscosity"), share, term)
    recipe = round_recipe(given, pair, given.amount)
    return answer(given, pair, recipe, [pour(given, pair, recipe)])


def solve_bottles(given: Given) -> Answer:
    try:
        mix = best_mix(bottles_of(given), given.target, given.amount, given.say)
    except NoOil as lack:
        label = given.labels[lack.lacks].partition(",")[0]
        raise Problem(lack.lacks, tr("{entry}: {lack}.", entry=label, lack=lack)) from lack
    names = [bottle_name(bottle, given.say) for bottle in (mix.thin, mix.thick)]
    pair = Pair(mix.thin.viscosity, mix.thick.viscosity, names[0], names[1], mix.share)
    recipe = round_recipe(given, pair, given.amount, (mix.thin.left, mix.thick.left))
    if mix.single:
        has = tr("It has {viscosity} already.", viscosity=given.say(pair.thin, "viscosity"))
        use = Step(tr("Use {oil} as it is.", oil=names[0]), has)
        return answer(given, pair, recipe, [use])
    return answer(given, pair, recipe, [pour(given, pair, recipe)])


def solve_shift(given: Given) -> Answer:
    now, added, target = given.now, given.added, given.target
    thin, thick = min(now, added), max(now, added)
    if isclose(thin, thick):
        raise Problem("added", tr("Oil to add: it is the oil that is in the damper already."))
    _check_between(given, thin, thick, tr("of the oil in the damper and the oil to add"))
    draw = oil.exchange(now, added, target)
    share = draw if added == thick else 1 - draw
    say = given.say
    in_name = tr("{oil} (in the damper)", oil=say(now, "viscosity"))
    add_name = say(added, "viscosity")
    names = (in_name, add_name) if added == thick else (add_name, in_name)
    pair = Pair(thin, thick, *names, share)
    recipe = round_recipe(given, pair, given.held)
    volume = recipe.thick_volume if added == thick else recipe.thin_volume
    held = recipe.thin_volume + recipe.thick_volume
    share_out = Quantity("exchange", tr("Share to draw out and replace"), draw, "share")
    drawn = Quantity("exchange_volume", tr("Volume to draw out"), draw * held, "volume")
    made = answer(given, pair, recipe, _exchange(given, volume), [_clings()])
    return replace(made, quantities=(share_out, drawn, *made.quantities))


def _exchange(given: Given, volume: float) -> list[Step]:
    """The instructions to replace so much of the oil in a damper, m3."""
    if volume <= 0:
        return [Step(tr("Leave the oil as it is: the wanted change is smaller than your step."))]
    added = measure_words(given, volume, given.added)
    weighed = given.choice("step") == "scale"
    out = measure_words(given, volume, given.now) if weighed else added
    return [
        Step(tr("Draw {amount} out of each damper.", amount=out)),
        Step(
            tr(
                "Put {amount} of {oil} in, and work the shaft slowly to mix it.",
                amount=added,
                oil=given.say(given.added, "viscosity"),
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


def _check_between(given: Given, thin: float, thick: float, of: str) -> None:
    if not thin <= given.target <= thick:
        raise Problem(
            "target",
            tr(
                "Viscosity wanted: {wanted} cannot be made {of_what}; possible is {thin} to "
                "{thick}.",
                wanted=given.say(given.target, "viscosity"),
                of_what=of,
                thin=given.say(thin, "viscosity"),
                thick=given.say(thick, "viscosity"),
            ),
        )


def _term(given: Given) -> float | None:
    """What the one measured blend fixes, None where there is none. Raises Problem."""
    share, measured = given.maybe("measured_share"), given.maybe("measured")
    if (share is None) != (measured is None):
        missing = "measured" if measured is None else "measured_share"
        raise Problem(missing, tr("One measured blend: it takes both its share and its viscosity."))
    if measured is not None and not given.thin < measured < given.thick:
        raise Problem(
            "measured",
            tr("One measured blend: its viscosity has to lie between the two oils that are in it."),
        )
    try:
        term = interaction(given)
        oil.share_of_thick_measured(given.target, given.thin, given.thick, term or 0.0)
    except PhysicsError as failure:
        says = tr("One measured blend: {why}.", why=clause(failure))
        raise Problem("measured", says) from failure
    return term
