"""The oil with which another piston is as hard as the one in the damper, at a chosen speed."""

from collections.abc import Mapping
from dataclasses import replace
from typing import cast

from calc.answering.answer import Answer, Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.answering.places import between
from calc.forms.cautions import opened
from calc.forms.common.bottles import bottles_of, nearest_words, sentence
from calc.forms.common.failures import problem
from calc.forms.common.oil_choice import NoOil, named
from calc.forms.common.oil_warm import oil_cautions, within
from calc.forms.common.piston import OTHER, oil_at, piston_cautions, piston_from
from calc.forms.fields import chosen_end
from calc.forms.names import end_word
from calc.language import later, tr
from calc.physics import damper, oil
from calc.physics.damper import Direction, Piston
from calc.physics.failure import PhysicsError
from calc.replying.form import Given

_SPEEDS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # m/s, of the table


def _way(given: Given) -> Direction:
    return cast(Direction, given.choice("way"))


def grade_for(given: Given, piston: Piston, force: float) -> float:
    """The grade, m2/s at 25 C, that gives this piston a force at the chosen speed.

    Raises PhysicsError where none does.
    """
    warm, grade = within(given.warm), given.oil
    for _ in range(2):  # the density hardly depends on the grade: the second round is good to 1e-4
        density = oil.density(grade, warm)
        viscosity = damper.viscosity_for(force, piston, given.match_speed, density, _way(given))
        grade = oil.viscosity_25_from(viscosity / given.law_now, warm)
    return grade


def _force(given: Given, piston: Piston, grade: float, speed: float) -> float:
    return damper.force(piston, speed, *oil_at(given, grade), _way(given))


def _exact(given: Given) -> float:
    """The grade for the other piston, exact."""
    now = _force(given, piston_from(given), given.oil, given.match_speed)
    return grade_for(given, piston_from(given, OTHER), now * given.piston_law)


def _differences(given: Given, grade: float) -> dict[str, float]:
    """By how much the other piston with this oil is harder (softer: negative), as a share."""
    now, other = piston_from(given), piston_from(given, OTHER)
    return {
        name: _force(given, other, grade, speed) / _force(given, now, given.oil, speed) - 1
        for name, speed in (("slow", given.slow), ("fast", given.fast))
    }


def figures(given: Given) -> Mapping[str, float]:
    grade = _exact(given)
    differ = {f"{name}_difference": value for name, value in _differences(given, grade).items()}
    now = _force(given, piston_from(given), given.oil, given.match_speed)
    return {"wanted": grade, "force": now * given.piston_law, **differ}


_LABELS = (
    ("wanted", later("Oil for the other piston, at 25 °C"), "viscosity"),
    ("force", later("Force at the speed where they are alike"), "force"),
    (
        "slow_difference",
        later("The other one is then harder (softer: −) at the slow speed"),
        "share",
    ),
    (
        "fast_difference",
        later("The other one is then harder (softer: −) at the fast speed"),
        "share",
    ),
)


def solve(given: Given) -> Answer:
    """The answer for the task `match`; `given` holds the doubts of the model already."""
    try:
        wanted = _exact(given)
    except PhysicsError as failure:
        raise problem("match_speed", given.labels["match_speed"], failure) from failure
    doubted = given.carry(figures)
    other = piston_from(given, OTHER)
    answer = Answer(
        steps=(_take(given, wanted),),
        quantities=tuple(
            given.quantity(name, tr(says), kind, doubted[name]) for name, says, kind in _LABELS
        ),
        tables=(_table(given, wanted),),
        plots=(_plot(given, wanted),),
        cautions=(
            *oil_cautions(given, [given.oil, wanted], [given.warm]),
            *piston_cautions(given, other, oil_at(given, wanted), given.fast),
            opened(),
        ),
        working=_working(given, wanted),
    )
    return _with_bottles(given, answer, wanted)


def _with_bottles(given: Given, answer: Answer, wanted: float) -> Answer:
    """The answer with the oil to fill in, where the bottles give one."""
    try:
        filled = named(bottles_of(given), wanted, given.amount, given.say)
    except NoOil as lack:
        stop = Caution(sentence(lack), stop=True)
        return replace(answer, cautions=(stop, *answer.cautions))
    off = _differences(given, filled.viscosity)
    step = Step(
        tr("With the other piston fill in {oil}.", oil=filled.words),
        tr(
            "It has {viscosity} where {wanted} would be exact. At {slow} it is {slow_harder}, at "
            "{fast} {fast_harder}.",
            viscosity=given.say(filled.viscosity, "viscosity"),
            wanted=given.say(wanted, "viscosity"),
            slow=given.say(given.slow, "speed"),
            slow_harder=_harder(given, off["slow"]),
            fast=given.say(given.fast, "speed"),
            fast_harder=_harder(given, off["fast"]),
        ),
    )
    return replace(answer, steps=(step,))


def _harder(given: Given, off: float) -> str:
    share = given.say(abs(off), "share", 0)
    if share == given.say(0.0, "share", 0):
        return tr("as hard as now")
    if off > 0:
        return tr("{share} harder than now", share=share)
    return tr("{share} softer than now", share=share)


def _take(given: Given, wanted: float) -> Step:
    return Step(
        tr("The other piston takes {oil} oil.", oil=given.say(wanted, "viscosity")),
        tr(
            "It is then as hard at {speed} as the piston now in the {end} dampers.",
            speed=given.say(given.match_speed, "speed"),
            end=end_word(chosen_end(given)),
        )
        + nearest_words(given, bottles_of(given), wanted),
    )


def _table(given: Given, wanted: float) -> Table:
    now, other = piston_from(given), piston_from(given, OTHER)
    rows = []
    for speed in _SPEEDS:
        one = _force(given, now, given.oil, speed)
        two = _force(given, other, wanted, speed)
        rows.append(
            (
                given.bare(speed, "speed"),
                given.bare(one, "force"),
                given.bare(two, "force"),
                given.bare(two / one - 1, "share"),
            )
        )
    unit = given.symbol("force")
    heads = (
        tr("Speed {unit}", unit=given.symbol("speed")),
        tr("Now {unit}", unit=unit),
        tr("Other {unit}", unit=unit),
        tr("Differs %"),
    )
    return Table(tr("How far the two differ elsewhere"), heads, tuple(rows))


def _plot(given: Given, wanted: float) -> Plot:
    now, other = piston_from(given), piston_from(given, OTHER)
    speeds = between(0.0, given.fast, "speed", given.system)[1:]
    pistons = (
        (tr("now"), now, given.oil, "main"), (tr("other piston"), other, wanted, "second"),
    )  # fmt: skip
    curves = tuple(
        Curve(name, ((0.0, 0.0), *((v, _force(given, one, grade, v)) for v in speeds)), style)
        for name, one, grade, style in pistons
    )
    meet = _force(given, now, given.oil, given.match_speed)
    return Plot(
        tr("Damping force of both pistons against shaft speed"),
        Axis(tr("Shaft speed"), "speed"),
        Axis(tr("Force"), "force"),
        curves,
        (Mark(given.match_speed, meet, tr("alike here")),),
        tr(
            "Both take {force} at {speed}; slower and faster they part.",
            force=given.say(meet, "force"),
            speed=given.say(given.match_speed, "speed"),
        ),
    )


def _working(given: Given, wanted: float) -> tuple[Working, ...]:
    say, speed = given.say, given.match_speed
    now = _force(given, piston_from(given), given.oil, speed)
    then = _force(given, piston_from(given, OTHER), wanted, speed)
    return (
        Working(
            tr("each hole: Δp = μ Q (3/a³ + 8 L/(π a⁴)) + 1.5 ρ u²/2; rim: Q = π D h³ Δp/(12 μ L)"),
            tr(
                "{oil} at {speed}: {force}",
                oil=say(given.oil, "viscosity"),
                speed=say(speed, "speed"),
                force=say(now, "force"),
            ),
            tr(
                "Dagan, Weinbaum and Pfeffer, J. Fluid Mech. 115 (1982); form of the law: Dixon, "
                "The Shock Absorber Handbook"
            ),
        ),
        Working(
            tr("the oil is changed until the other piston gives the same"),
            f"{say(wanted, 'viscosity')}: {say(then, 'force')}",
            tr("root of the force over the viscosity, to a millionth"),
        ),
    )
