"""Drop test with one mass: the damping of one damper."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Quantity, Step
from calc.forms.drop_test import figures as common
from calc.forms.fields import chosen_end
from calc.forms.names import end_word
from calc.language import later, tr
from calc.physics import sample
from calc.replying.form import Given
from calc.units import decimals_for

_LABELS = {
    "damping": (later("Damping coefficient"), "damping"),
    "speed": (later("Speed of the drop"), "speed"),
    "inferred": (later("Oil that the piston model infers, at 25 °C"), "viscosity"),
}


def _figures(given: Given, known: bool) -> Mapping[str, float]:
    damping = common.damping_of(given, "runs")
    values = {"damping": damping, "speed": common.pull_of(given) / damping}
    if known:
        values["inferred"] = common.inferred(given, common.pull_of(given), values["speed"])
    return values


def solve(given: Given) -> Answer:
    given, means = common.with_scatter(given, "runs")
    mean, pull = means["runs"], common.pull_of(given)
    speed = pull / mean.value
    known = common.explained(given, pull, speed)
    doubted = given.carry(lambda shifted: _figures(shifted, known))
    rows, readings = given.rows("runs"), common.times(given, "runs")
    first, *others = common.quantities(given, doubted, _LABELS)
    return Answer(
        steps=(_step(given, first, speed, doubted["inferred"].value if known else None),),
        quantities=(first, _error(given, mean), *others),
        tables=(common.table(given, [(tr("Run"), rows, [pull] * len(rows))]),),
        plots=(common.runs_plot(given, [(tr("runs"), readings)]),),
        cautions=(
            *common.odd_cautions(given, rows),
            *common.cautions(given, pull, speed, given.mass),
        ),
        working=common.working(given, "runs", mean),
    )


def _error(given: Given, mean: sample.Mean) -> Quantity:
    places = decimals_for(mean.error, "damping", given.system)
    label = tr("Its standard error from {count} runs", count=mean.count)
    return Quantity("standard_error", label, mean.error, "damping", decimals=places)


def _step(given: Given, damping: Quantity, speed: float, grade: float | None) -> Step:
    has = common.rough(given, damping.value, "damping", damping.u)
    oil = given.say(given.oil, "viscosity")
    entered = tr("{oil} is entered.", oil=oil)
    if grade is not None:
        entered = tr(
            "The piston model infers {inferred} oil; {oil} is entered.",
            inferred=given.say(grade, "viscosity"),
            oil=oil,
        )
    says = tr(
        "The {end} damper has {damping} at {speed}.",
        end=end_word(chosen_end(given)),
        damping=has,
        speed=given.say(speed, "speed", 1),
    )
    return Step(says, entered)
