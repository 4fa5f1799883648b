"""Drop test with two masses or more: friction of the seal and damping apart."""

from collections.abc import Mapping
from statistics import fmean

from calc.answering.answer import Answer, Axis, Caution, Curve, Mark, Plot, Step, Working
from calc.forms.common.failures import problem
from calc.forms.drop_test import figures as common
from calc.forms.inputs import with_inputs
from calc.language import later, tr
from calc.physics.drop import Friction, friction_and_damping
from calc.physics.failure import PhysicsError
from calc.replying.form import Given, Problem
from calc.units import STANDARD_GRAVITY

_NEGATIVE = later(
    "Friction below zero says that the damping grows faster than the speed between these speeds, "
    "or that the runs scatter. Take it as no friction that can be told; use lighter masses."
)


def _fit(given: Given) -> Friction:
    rows = given.rows("loaded")
    return friction_and_damping(
        [row.mass for row in rows], given.distance, [row.time for row in rows]
    )


def _checked_fit(given: Given) -> Friction:
    rows = given.rows("loaded")
    if len({row.mass for row in rows}) < 2:
        raise Problem(
            f"loaded.{rows[-1].key}.mass",
            tr("Mass that hangs: it takes runs with two masses to tell friction from damping."),
        )
    last = f"loaded.{rows[-1].key}.time"
    try:
        fit = _fit(given)
    except PhysicsError as failure:
        raise problem(last, given.labels[last], failure) from failure
    if _middle(given, fit.coefficient, fit.friction)[0] <= 0:
        raise Problem(
            last,
            tr(
                "{entry}: these runs would mean a friction that holds the masses; time them again.",
                entry=given.labels[last],
            ),
        )
    return fit


def _middle(given: Given, damping: float, friction: float) -> tuple[float, float]:
    """Damping force and speed in the middle of the test."""
    pull = STANDARD_GRAVITY * fmean(row.mass for row in given.rows("loaded"))
    force = pull - friction
    return force, force / damping


def _figures(given: Given, known: bool) -> Mapping[str, float]:
    fit = _fit(given)
    damping = fit.coefficient + given.damping_scatter
    values = {"damping": damping, "friction": fit.friction + given.friction_scatter}
    if known:
        values["inferred"] = common.inferred(given, *_middle(given, damping, fit.friction))
    return values


_LABELS = {
    "damping": (later("Damping coefficient"), "damping"),
    "friction": (later("Friction of the seal"), "force"),
    "inferred": (later("Oil that the piston model infers, at 25 °C"), "viscosity"),
}


def solve(given: Given) -> Answer:
    fit = _checked_fit(given)
    scatter = {
        "damping_scatter": (0.0, fit.coefficient_error, common.SCATTER),
        "friction_scatter": (0.0, fit.friction_error, common.SCATTER),
    }
    given = with_inputs(common.with_model(given), scatter)
    force, speed = _middle(given, fit.coefficient, fit.friction)
    known = common.explained(given, force, speed)
    doubted = given.carry(lambda shifted: _figures(shifted, known))
    rows = given.rows("loaded")
    pulls = [row.mass * STANDARD_GRAVITY - fit.friction for row in rows]
    return Answer(
        steps=(_step(given, fit, doubted["damping"].u, doubted["friction"].u),),
        quantities=common.quantities(given, doubted, _LABELS),
        tables=(common.table(given, [(tr("Run"), rows, pulls)]),),
        plots=(_plot(given, fit),),
        cautions=(
            *((Caution(tr(_NEGATIVE)),) if fit.friction < 0 else ()),
            *common.odd_cautions(given, rows),
            *common.cautions(given, force, speed, max(row.mass for row in rows)),
        ),
        working=_working(given, fit),
    )


def _step(given: Given, fit: Friction, u_damping: float, u_friction: float) -> Step:
    damping = common.rough(given, fit.coefficient, "damping", u_damping)
    friction = common.rough(given, fit.friction, "force", u_friction)
    as_mass = given.say(abs(fit.friction) / STANDARD_GRAVITY, "mass")
    gives = tr("The seal holds as much as {mass} pulls.", mass=as_mass)
    if fit.friction < 0:
        gives = tr("There is no friction that these runs can tell.")
    says = tr("Damping {damping}, friction {friction}.", damping=damping, friction=friction)
    return Step(says, gives)


def _plot(given: Given, fit: Friction) -> Plot:
    rows = sorted(given.rows("loaded"), key=lambda row: (row.mass, row.time))
    named: set[float] = set()
    marks = []
    for row in rows:
        label = "" if row.mass in named else given.say(row.mass, "mass")
        named.add(row.mass)
        marks.append(Mark(row.mass * STANDARD_GRAVITY, given.distance / row.time, label))
    ends = (marks[0].x, marks[-1].x)
    line = tuple((pull, (pull - fit.friction) / fit.coefficient) for pull in ends)
    return Plot(
        tr("Speed of the drop against the pull"),
        Axis(tr("Pull of the mass"), "force"),
        Axis(tr("Speed"), "speed"),
        (Curve(tr("fitted line"), line),),
        tuple(marks),
        tr(
            "The line meets no speed at a pull of {pull}: that is the friction of the seal.",
            pull=given.say(fit.friction, "force"),
        ),
    )


def _working(given: Given, fit: Friction) -> tuple[Working, ...]:
    say = given.say
    return (
        Working(
            tr("mass × g = friction + damping × speed, a line through all runs"),
            tr(
                "{count} runs: damping {damping} with a standard error of {damping_error}, "
                "friction {friction} with {friction_error}",
                count=len(given.rows("loaded")),
                damping=say(fit.coefficient, "damping"),
                damping_error=say(fit.coefficient_error, "damping", 3),
                friction=say(fit.friction, "force", 3),
                friction_error=say(fit.friction_error, "force", 3),
            ),
            tr("least squares of the speed, read the other way as a calibration is"),
        ),
    )
