"""Drop test with one mass: the damping of one damper."""

from calc.answering.answer import Answer, Quantity, Step
from calc.forms.drop_test import figures as common
from calc.forms.drop_test.inputs import Asked
from calc.forms.oil_warm import with_law
from calc.language import tr
from calc.physics import sample
from calc.replying.figures import Figures, figure
from calc.units import decimals_for


class OneFigures(Figures):
    damping: float = figure("Damping coefficient", kind="damping")
    speed: float = figure("Speed of the shaft", kind="speed")
    inferred: float | None = figure(
        "Oil by the piston model, at 25 °C", kind="viscosity", default=None, least=0.0
    )


def _figures(asked: Asked, known: bool) -> OneFigures:
    damping, pull = common.damping_of(asked, asked.runs, asked.runs_scatter), common.pull_of(asked)
    grade = common.inferred(asked, pull, pull / damping) if known else None
    return OneFigures(damping=damping, speed=pull / damping, inferred=grade)


def solve(asked: Asked) -> Answer:
    rows = asked.runs
    mean, pull = common.mean_damping(asked, rows), common.pull_of(asked)
    spread = common.spread(asked, rows, mean)
    asked = with_law(asked).assuming((Asked.runs_scatter, 0.0, spread))
    speed = pull / mean.value
    known = common.explained(asked, pull, speed)
    found = asked.propagate(lambda at: _figures(at, known))
    # Its digits in the instruction wait for no more than they need.
    doubt = asked.propagate(lambda at: _figures(at, known=False)).u.damping
    first, *others = asked.quantities(found)
    return Answer(
        steps=(_step(asked, found.value, doubt, speed),),
        quantities=(first, _error(asked, mean), *others),
        tables=(common.table(asked, [(tr("Run"), rows, [pull] * len(rows))]),),
        plots=(common.runs_plot(asked, [(tr("runs"), common.times(rows))]),),
        cautions=(
            *common.odd_cautions(asked, rows),
            *common.cautions(asked, pull, speed, common.hanging(asked, asked.mass)),
        ),
        working=common.working(asked, rows, mean),
        measured=asked.of_damper("hang", *common.mean_time(asked, rows), common.hung(asked)),
    )


def _error(asked: Asked, mean: sample.Mean) -> Quantity:
    places = decimals_for(mean.error, "damping", asked.system)
    label = tr("Its standard error from {count} runs", count=mean.count)
    return Quantity("standard_error", label, mean.error, "damping", decimals=places)


def _step(asked: Asked, found: OneFigures, doubt: float, speed: float) -> Step:
    has, grade = asked.rough(found.damping, "damping", doubt), found.inferred
    oil = asked.say(asked.oil, "viscosity")
    guessed = asked.at(Asked.oil) in asked.guessed
    entered = tr("The {oil} is assumed.", oil=oil) if guessed else tr("You entered {oil}.", oil=oil)
    if grade is not None:
        inferred = asked.say(grade, "viscosity")
        entered = (
            tr(
                "By the piston model it behaves like {inferred} oil; the {oil} is assumed.",
                inferred=inferred,
                oil=oil,
            )
            if guessed
            else tr(
                "By the piston model it behaves like {inferred} oil; you entered {oil}.",
                inferred=inferred,
                oil=oil,
            )
        )
    says = tr(
        "{damper}: {damping} at {speed}.",
        damper=asked.damper,
        damping=has,
        speed=asked.say(speed, "speed", 1),
    )
    return Step(says, entered)
