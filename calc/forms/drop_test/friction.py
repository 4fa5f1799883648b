"""Drop test with two masses or more: friction of the seal and damping apart."""

import math
from collections.abc import Iterator, Sequence
from statistics import fmean

from calc.answering.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    OfDamper,
    Plot,
    Step,
    Working,
    barring,
)
from calc.answering.uncertainty import COVERAGE
from calc.forms.drop_test import figures as common
from calc.forms.drop_test.inputs import Asked, LoadedRun
from calc.forms.failures import problem
from calc.forms.oil_warm import with_law
from calc.language import tr
from calc.physics.drop import Friction, friction_and_damping
from calc.physics.failure import PhysicsError
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Problem
from calc.units import STANDARD_GRAVITY

Weighed = tuple[int, ...]


def _fit(asked: Asked, of: Weighed) -> Friction:
    return _line(asked, of, common.times(asked.loaded))


def _line(asked: Asked, of: Weighed, times: Sequence[float]) -> Friction:
    return friction_and_damping(_masses(asked, of), asked.distance, times)


_SLIGHT = 1e-4  # of a time, to see what moves with it


def _spreads(asked: Asked, of: Weighed, fit: Friction) -> tuple[float, float]:
    """Standard uncertainties of damping and friction by the times of the runs: by their scatter
    about the line, and no less than by the hand, however near to it they are."""
    rows, by_hand = asked.loaded, []
    times, spare = common.times(rows), len(rows) - 2
    for place, hand in enumerate(common.hands(asked, rows)):
        step = _SLIGHT * times[place]
        moved = _line(asked, of, [*times[:place], times[place] + step, *times[place + 1 :]])
        share = hand / step
        by_hand.append(
            (share * (moved.coefficient - fit.coefficient), share * (moved.friction - fit.friction))
        )
    damping, friction = (math.hypot(*each) for each in zip(*by_hand, strict=True))
    return (
        max(common.widened(fit.coefficient_error, spare), damping),
        max(common.widened(fit.friction_error, spare), friction),
    )


def weighed(asked: Asked) -> Weighed:
    """For each run the first one with the same mass, which was weighed once."""
    masses = [row.mass for row in asked.loaded]
    return tuple(map(masses.index, masses))


def _masses(asked: Asked, of: Weighed) -> list[float]:
    """All that hung in each run, kg; what the reading of a mass is off by is the same in all runs
    with it."""
    rows = asked.loaded
    masses = [common.hanging(asked, rows[place].mass) for place in of]
    least = min(range(len(masses)), key=masses.__getitem__)
    if masses[least] <= 0.0:
        raise Problem(
            rows[least].at(LoadedRun.mass),
            tr("Hanging mass: the air under the cap pulls harder, and nothing would drop."),
        )
    return masses


def _checked_fit(asked: Asked, of: Weighed) -> Friction:
    rows = asked.loaded
    if len({row.mass for row in rows}) < 2:
        raise Problem(
            rows[-1].at(LoadedRun.mass),
            tr("Hanging mass: runs with two masses are needed to tell friction from damping."),
        )
    last, label = rows[-1].at(LoadedRun.time), rows[-1].label_of(LoadedRun.time)
    try:
        fit = _fit(asked, of)
    except PhysicsError as failure:
        raise problem(last, label, failure) from failure
    if _middle(asked, of, fit.coefficient, fit.friction)[0] <= 0:
        raise Problem(
            last,
            tr(
                "{entry}: these runs would mean a friction that holds the masses; time them again.",
                entry=label,
            ),
        )
    return fit


def _middle(asked: Asked, of: Weighed, damping: float, friction: float) -> tuple[float, float]:
    """Damping force and speed in the middle of the test."""
    pull = STANDARD_GRAVITY * fmean(_masses(asked, of))
    force = pull - friction
    return force, force / damping


class FrictionFigures(Figures):
    damping: float = figure("Damping coefficient", kind="damping")
    friction: float = figure("Seal drag", kind="force", least=0.0)
    inferred: float | None = figure(
        "Oil by the piston model, at 25 °C", kind="viscosity", least=0.0
    )


def _figures(asked: Asked, of: Weighed, known: bool) -> FrictionFigures:
    fit = _fit(asked, of)
    damping = fit.coefficient + asked.damping_scatter
    grade = common.inferred(asked, *_middle(asked, of, damping, fit.friction)) if known else None
    return FrictionFigures(
        damping=damping, friction=fit.friction + asked.friction_scatter, inferred=grade
    )


def solve(asked: Asked) -> Answer:
    of = weighed(asked)
    fit = _checked_fit(asked, of)
    of_damping, of_friction = _spreads(asked, of, fit)
    asked = with_law(asked).assuming(
        (Asked.damping_scatter, 0.0, of_damping), (Asked.friction_scatter, 0.0, of_friction)
    )
    force, speed = _middle(asked, of, fit.coefficient, fit.friction)
    known = common.explained(asked, force, speed)
    found = asked.propagate(lambda at: _figures(at, of, known))
    # Their digits in the instruction wait for no more than they need.
    doubts = asked.propagate(lambda at: _figures(at, of, known=False)).u
    rows = asked.loaded
    masses = _masses(asked, of)
    pulls = [mass * STANDARD_GRAVITY - fit.friction for mass in masses]
    return Answer(
        steps=(_step(asked, fit, doubts.damping, doubts.friction),),
        quantities=asked.quantities(found),
        tables=(common.table(asked, [(tr("Run"), rows, pulls)]),),
        plots=(_plot(asked, fit, doubts.friction, masses),),
        cautions=(
            *_below_zero(asked, fit.friction, doubts.friction),
            *common.odd_cautions(asked, rows),
            *common.cautions(asked, force, speed, max(masses)),
        ),
        working=_working(asked, fit),
        measured=_of_damper(asked, fit, doubts.friction),
    )


def _of_damper(asked: Asked, fit: Friction, u: float) -> tuple[OfDamper, ...]:
    """The drag of its seals, in oil; below zero it is none."""
    masses = [row.mass for row in asked.loaded]
    says = tr(
        "in oil, {low} to {high} over {distance}",
        low=asked.typed(min(masses), "mass"), high=asked.typed(max(masses), "mass"),
        distance=asked.typed(asked.distance, "length"),
    )  # fmt: skip
    return asked.of_damper("drag", max(fit.friction, 0.0), u, says)


def _is_found(friction: float, u: float) -> bool:
    """Whether it is more than its doubt (k = 2)."""
    return friction > COVERAGE * u


def _below_zero(asked: Asked, friction: float, u: float) -> Iterator[Caution]:
    """Where the runs contradict themselves by more than their doubt."""
    if friction < -COVERAGE * u:
        text = tr(
            "These runs mean a friction of {friction}, and no seal pushes: a mass, a time or the "
            "distance is wrong, or the damping grows faster than the speed between these speeds. "
            "Measure again, with lighter masses.",
            friction=asked.rough(friction, "force", u),
        )
        yield barring(text)


def _step(asked: Asked, fit: Friction, u_damping: float, u_friction: float) -> Step:
    damping = asked.rough(fit.coefficient, "damping", u_damping)
    if not _is_found(fit.friction, u_friction):
        most = max(fit.friction, 0.0) + COVERAGE * u_friction
        says = tr(
            "{damper}: damping {damping}, no friction found: below {most}.",
            damper=asked.damper, damping=damping, most=asked.rough(most, "force", u_friction),
        )  # fmt: skip
        return Step(says, tr("Any friction is lost in the ± of the runs."))
    as_mass = asked.say(fit.friction / STANDARD_GRAVITY, "mass")
    says = tr(
        "{damper}: damping {damping}, friction {friction}.",
        damper=asked.damper, damping=damping,
        friction=asked.rough(fit.friction, "force", u_friction),
    )  # fmt: skip
    return Step(says, tr("Seal drag: equal to {mass} hung on the shaft.", mass=as_mass))


def _plot(asked: Asked, fit: Friction, u_friction: float, masses: Sequence[float]) -> Plot:
    pairs = zip(asked.loaded, masses, strict=True)
    rows = sorted(pairs, key=lambda pair: (pair[1], pair[0].time))
    named: set[float] = set()
    marks = []
    for row, mass in rows:
        label = "" if row.mass in named else asked.typed(row.mass, "mass")
        named.add(row.mass)
        marks.append(Mark(mass * STANDARD_GRAVITY, asked.distance / row.time, label))
    ends = (marks[0].x, marks[-1].x)
    line = tuple((pull, (pull - fit.friction) / fit.coefficient) for pull in ends)
    says = tr("The line reaches zero speed at no pull, as far as the runs can tell.")
    if _is_found(fit.friction, u_friction):
        says = tr(
            "The line reaches zero speed at a pull of {pull}: that is the seal drag.",
            pull=asked.say(fit.friction, "force"),
        )
    return Plot(
        tr("Speed of the shaft against the pull"),
        Axis(tr("Pull of mass, shaft and piston"), "force"),
        Axis(tr("Speed"), "speed"),
        (Curve(tr("fitted line"), line),),
        tuple(marks),
        says,
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
