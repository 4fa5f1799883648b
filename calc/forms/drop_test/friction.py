"""Drop test with two masses or more: friction of the seal and damping apart."""

from statistics import fmean

from calc.answering.answer import Answer, Axis, Caution, Curve, Mark, Plot, Step, Working
from calc.forms.drop_test import figures as common
from calc.forms.drop_test.inputs import Asked, LoadedRun
from calc.forms.failures import problem
from calc.forms.oil_warm import with_law
from calc.language import later, tr
from calc.physics.drop import Friction, friction_and_damping
from calc.physics.failure import PhysicsError
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Problem
from calc.units import STANDARD_GRAVITY

_NEGATIVE = later(
    "Friction below zero says that the damping grows faster than the speed between "
    "these speeds, or that the runs scatter. Count it as no friction; use lighter "
    "masses."
)


def _fit(asked: Asked) -> Friction:
    rows = asked.loaded
    return friction_and_damping(
        [row.mass for row in rows], asked.distance, [row.time for row in rows]
    )


def _checked_fit(asked: Asked) -> Friction:
    rows = asked.loaded
    if len({row.mass for row in rows}) < 2:
        raise Problem(
            rows[-1].at(LoadedRun.mass),
            tr("Mass that hangs: runs with two masses are needed to tell friction from damping."),
        )
    last, label = rows[-1].at(LoadedRun.time), rows[-1].label_of(LoadedRun.time)
    try:
        fit = _fit(asked)
    except PhysicsError as failure:
        raise problem(last, label, failure) from failure
    if _middle(asked, fit.coefficient, fit.friction)[0] <= 0:
        raise Problem(
            last,
            tr(
                "{entry}: these runs would mean a friction that holds the masses; time them again.",
                entry=label,
            ),
        )
    return fit


def _middle(asked: Asked, damping: float, friction: float) -> tuple[float, float]:
    """Damping force and speed in the middle of the test."""
    pull = STANDARD_GRAVITY * fmean(row.mass for row in asked.loaded)
    force = pull - friction
    return force, force / damping


class FrictionFigures(Figures):
    damping: float = figure("Damping coefficient", kind="damping")
    friction: float = figure("Seal drag", kind="force")
    inferred: float | None = figure("Oil by the piston model, at 25 °C", kind="viscosity")


def _figures(asked: Asked, known: bool) -> FrictionFigures:
    fit = _fit(asked)
    damping = fit.coefficient + asked.damping_scatter
    grade = common.inferred(asked, *_middle(asked, damping, fit.friction)) if known else None
    return FrictionFigures(
        damping=damping, friction=fit.friction + asked.friction_scatter, inferred=grade
    )


def solve(asked: Asked) -> Answer:
    fit = _checked_fit(asked)
    asked = with_law(asked).assuming(
        (Asked.damping_scatter, 0.0, fit.coefficient_error),
        (Asked.friction_scatter, 0.0, fit.friction_error),
    )
    force, speed = _middle(asked, fit.coefficient, fit.friction)
    known = common.explained(asked, force, speed)
    found = asked.propagate(lambda at: _figures(at, known))
    rows = asked.loaded
    pulls = [row.mass * STANDARD_GRAVITY - fit.friction for row in rows]
    return Answer(
        steps=(_step(asked, fit, found.u.damping, found.u.friction),),
        quantities=asked.quantities(found),
        tables=(common.table(asked, [(tr("Run"), rows, pulls)]),),
        plots=(_plot(asked, fit),),
        cautions=(
            *((Caution(tr(_NEGATIVE)),) if fit.friction < 0 else ()),
            *common.odd_cautions(asked, rows),
            *common.cautions(asked, force, speed, max(row.mass for row in rows)),
        ),
        working=_working(asked, fit),
    )


def _step(asked: Asked, fit: Friction, u_damping: float, u_friction: float) -> Step:
    damping = common.rough(asked, fit.coefficient, "damping", u_damping)
    friction = common.rough(asked, fit.friction, "force", u_friction)
    as_mass = asked.say(abs(fit.friction) / STANDARD_GRAVITY, "mass")
    gives = tr("Seal drag: as much as {mass} on the shaft.", mass=as_mass)
    if fit.friction < 0:
        gives = tr("These runs show no friction.")
    says = tr("Damping {damping}, friction {friction}.", damping=damping, friction=friction)
    return Step(says, gives)


def _plot(asked: Asked, fit: Friction) -> Plot:
    rows = sorted(asked.loaded, key=lambda row: (row.mass, row.time))
    named: set[float] = set()
    marks = []
    for row in rows:
        label = "" if row.mass in named else asked.say(row.mass, "mass")
        named.add(row.mass)
        marks.append(Mark(row.mass * STANDARD_GRAVITY, asked.distance / row.time, label))
    ends = (marks[0].x, marks[-1].x)
    line = tuple((pull, (pull - fit.friction) / fit.coefficient) for pull in ends)
    return Plot(
        tr("Speed of the shaft against the pull"),
        Axis(tr("Pull of the mass"), "force"),
        Axis(tr("Speed"), "speed"),
        (Curve(tr("fitted line"), line),),
        tuple(marks),
        tr(
            "The line reaches zero speed at a pull of {pull}: that is the seal drag.",
            pull=asked.say(fit.friction, "force"),
        ),
    )


def _working(asked: Asked, fit: Friction) -> tuple[Working, ...]:
    say = asked.say
    return (
        Working(
            tr("mass × g = friction + damping × speed, a line through all runs"),
            tr(
                "{count} runs: damping {damping} with a standard error of {damping_error}, "
                "friction {friction} with {friction_error}",
                count=len(asked.loaded),
                damping=say(fit.coefficient, "damping"),
                damping_error=say(fit.coefficient_error, "damping", 3),
                friction=say(fit.friction, "force", 3),
                friction_error=say(fit.friction_error, "force", 3),
            ),
            tr("least squares of the speed, read the other way as a calibration is"),
        ),
    )
