"""Two oils to a target: from two bottles, from the best bottles owned, or into a damper."""

from dataclasses import replace
from math import isclose

from calc.answer import Answer, Caution, Quantity, Step
from calc.form import Given, Problem
from calc.forms.bottles import bottles_of
from calc.forms.oil_choice import NoOil, best_mix, bottle_name
from calc.forms.oil_pair_answer import answer, pour
from calc.forms.oil_recipe import Pair, interaction, measure_words, round_recipe
from calc.physics import oil


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
        raise Problem(lack.lacks, f"{label}: {lack}.") from lack
    names = [bottle_name(bottle, given.say) for bottle in (mix.thin, mix.thick)]
    pair = Pair(mix.thin.viscosity, mix.thick.viscosity, names[0], names[1], mix.share)
    recipe = round_recipe(given, pair, given.amount, (mix.thin.left, mix.thick.left))
    if mix.single:
        has = f"It has {given.say(pair.thin, 'viscosity')} already."
        return answer(given, pair, recipe, [Step(f"Use {names[0]} as it is.", has)])
    return answer(given, pair, recipe, [pour(given, pair, recipe)])


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
    recipe = round_recipe(given, pair, given.held)
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
    drawn = Quantity("exchange_volume", "Volume to draw out", draw * held, "volume")
    made = answer(given, pair, recipe, steps, [note])
    return replace(made, quantities=(share_out, drawn, *made.quantities))


def _check_between(given: Given, thin: float, thick: float, of: str) -> None:
    if not thin <= given.target <= thick:
        raise Problem(
            "target",
            f"Viscosity wanted: {given.say(given.target, 'viscosity')} cannot be made {of}; "
            f"possible is {given.say(thin, 'viscosity')} to {given.say(thick, 'viscosity')}.",
        )


def _term(given: Given) -> float | None:
    """What the one measured blend fixes, None where there is none. Raises Problem."""
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
        oil.share_of_thick_measured(given.target, given.thin, given.thick, term or 0.0)
    except ValueError as error:
        raise Problem("measured", f"One measured blend: {error}.") from error
    return term
