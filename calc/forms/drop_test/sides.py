"""Drop test of two dampers with one mass: do left and right differ by more than the scatter?"""

import math
from collections.abc import Mapping

from calc.answering.answer import Answer, Quantity, Step, Working
from calc.forms.common.failures import problem
from calc.forms.drop_test import figures as common
from calc.forms.names import side_word
from calc.language import later, tr
from calc.model.corners import Side
from calc.physics import sample
from calc.physics.failure import PhysicsError
from calc.replying.form import Given
from calc.units import number_text

_SIDES = ("left", "right")
_SURE = 0.05  # a chance below this is taken for a difference, as is usual
_LABELS = {
    "left_damping": (later("Left: damping coefficient"), "damping"),
    "right_damping": (later("Right: damping coefficient"), "damping"),
    "difference": (later("Left is harder (softer: −) than right"), "share"),
    "left_inferred": (later("Left: oil that the piston model infers, at 25 °C"), "viscosity"),
    "right_inferred": (later("Right: oil that the piston model infers, at 25 °C"), "viscosity"),
}


def _figures(given: Given, known: bool) -> Mapping[str, float]:
    values = {f"{side}_damping": common.damping_of(given, side) for side in _SIDES}
    values["difference"] = values["left_damping"] / values["right_damping"] - 1
    for side in _SIDES if known else ():
        pull = common.pull_of(given)
        values[f"{side}_inferred"] = common.inferred(given, pull, pull / values[f"{side}_damping"])
    return values


def _test(given: Given) -> sample.Welch:
    try:
        return sample.welch(*(common.times(given, side) for side in _SIDES))
    except PhysicsError as failure:
        name = f"left.{given.rows('left')[0].key}.time"
        raise problem(name, given.labels[name], failure) from failure


def solve(given: Given) -> Answer:
    given, means = common.with_scatter(given, *_SIDES)
    test, pull = _test(given), common.pull_of(given)
    speeds = [pull / mean.value for mean in means.values()]
    known = all(common.explained(given, pull, speed) for speed in speeds)
    doubted = given.carry(lambda shifted: _figures(shifted, known))
    rows = {side: given.rows(side) for side in _SIDES}
    named = {"left": tr("Left"), "right": tr("Right")}
    return Answer(
        steps=(_verdict(given, doubted["difference"].value, test),),
        quantities=(*common.quantities(given, doubted, _LABELS), _chance(test)),
        tables=(common.table(given, [(named[s], rows[s], [pull] * len(rows[s])) for s in rows]),),
        plots=(
            common.runs_plot(given, [(side_word(Side(s)), common.times(given, s)) for s in _SIDES]),
        ),
        cautions=(
            *common.odd_cautions(given, rows["left"], f"{named['left']}, "),
            *common.odd_cautions(given, rows["right"], f"{named['right']}, "),
            *common.cautions(given, pull, max(speeds), given.mass),
        ),
        working=(
            *common.working(given, "left", means["left"]),
            *common.working(given, "right", means["right"]),
            _welch_line(given, test),
        ),
    )


def _chance(test: sample.Welch) -> Quantity:
    label = tr("Chance of such a difference between two alike")
    return Quantity("chance", label, test.p, "share", decimals=2)


def _verdict(given: Given, difference: float, test: sample.Welch) -> Step:
    apart = given.say(abs(difference), "share", 1)
    by_chance = _of_such_tests(test.p)
    if test.p < _SURE:
        harder = side_word(Side.LEFT if difference > 0 else Side.RIGHT)
        return Step(
            tr("They differ by {apart}: the {side} one is harder.", apart=apart, side=harder),
            tr(
                "The scatter alone would set two alike so far apart in {chance}. Look at oil, "
                "holes and air of both.",
                chance=by_chance,
            ),
        )
    return Step(
        tr("The runs show no difference between left and right."),
        tr(
            "They are {apart} apart, and the scatter alone would do as much in {chance}. More runs "
            "would show smaller differences.",
            apart=apart,
            chance=by_chance,
        ),
    )


def _of_such_tests(chance: float) -> str:
    """A chance as a hand counts it: "30 of 100 such tests", "about 1 of 200 such tests"."""
    if chance >= 0.095:
        return tr("{count} of 100 such tests", count=f"{100 * chance:.0f}")
    if chance < 1e-6:
        return tr("less than 1 of a million such tests")
    one_in = round(1 / chance, -math.floor(math.log10(1 / chance)))
    return tr("about 1 of {count} such tests", count=f"{one_in:.0f}")


def _welch_line(given: Given, test: sample.Welch) -> Working:
    return Working(
        tr("t = (mean left − mean right) / √(error² left + error² right)"),
        tr(
            "t = {t} with {degrees} degrees of freedom: a chance of {chance}",
            t=number_text(test.t, "ratio", decimals=2),
            degrees=number_text(test.degrees, "ratio", decimals=1),
            chance=given.say(test.p, "share", 2),
        ),
        "B. L. Welch, Biometrika 34 (1947)",
    )
