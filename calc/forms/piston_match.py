"""The oil with which another piston is as hard as the one in the damper, at a chosen speed."""

from collections.abc import Mapping
from dataclasses import replace
from typing import cast

from calc.answer import Answer, Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.form import Given, Problem
from calc.forms.bottles import bottles_of, nearest_words, sentence
from calc.forms.oil_choice import NoOil, named
from calc.forms.oil_warm import oil_cautions, within
from calc.forms.piston import OTHER, oil_at, piston_cautions, piston_from
from calc.forms.shared import spill
from calc.physics import damper, oil
from calc.physics.damper import Direction, Piston

_SPEEDS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # m/s, of the table


def _way(given: Given) -> Direction:
    return cast(Direction, given.choice("way"))


def grade_for(given: Given, piston: Piston, force: float) -> float:
    """The grade, m2/s at 25 C, that gives this piston a force at the chosen speed.

    Raises ValueError where none does.
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
    ("wanted", "Oil for the other piston, at 25 °C", "viscosity"),
    ("force", "Force at the speed where they are alike", "force"),
    ("slow_difference", "The other one is then harder (softer: −) at the slow speed", "share"),
    ("fast_difference", "The other one is then harder (softer: −) at the fast speed", "share"),
)


def solve(given: Given) -> Answer:
    """The answer for the task `match`; `given` holds the doubts of the model already."""
    try:
        wanted = _exact(given)
    except ValueError as error:
        if isinstance(error, Problem):
            raise
        raise Problem("match_speed", f"{given.labels['match_speed']}: {error}.") from error
    doubted = given.carry(figures)
    other = piston_from(given, OTHER)
    answer = Answer(
        steps=(_take(given, wanted),),
        quantities=tuple(given.quantity(n, says, kind, doubted[n]) for n, says, kind in _LABELS),
        tables=(_table(given, wanted),),
        plots=(_plot(given, wanted),),
        cautions=(
            *oil_cautions(given, [given.oil, wanted], [given.warm]),
            *piston_cautions(given, other, oil_at(given, wanted), given.fast),
            spill(),
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
        f"With the other piston fill in {filled.words}.",
        f"It has {given.say(filled.viscosity, 'viscosity')} where "
        f"{given.say(wanted, 'viscosity')} would be exact. At {given.say(given.slow, 'speed')} it "
        f"is {_harder(given, off['slow'])}, at {given.say(given.fast, 'speed')} "
        f"{_harder(given, off['fast'])}.",
    )
    return replace(answer, steps=(step,))


def _harder(given: Given, off: float) -> str:
    share = given.say(abs(off), "share", 0)
    if share == given.say(0.0, "share", 0):
        return "as hard as now"
    return f"{share} {'harder' if off > 0 else 'softer'} than now"


def _take(given: Given, wanted: float) -> Step:
    return Step(
        f"The other piston takes {given.say(wanted, 'viscosity')} oil.",
        f"It is then as hard at {given.say(given.match_speed, 'speed')} as the piston now in the "
        f"{given.choice('axle')} dampers.{nearest_words(given, bottles_of(given), wanted)}",
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
    heads = (f"Speed {given.symbol('speed')}", f"Now {unit}", f"Other {unit}", "Differs %")
    return Table("How far the two differ elsewhere", heads, tuple(rows))


def _plot(given: Given, wanted: float) -> Plot:
    now, other = piston_from(given), piston_from(given, OTHER)
    speeds = [given.fast * n / 16 for n in range(1, 17)]
    pistons = (("now", now, given.oil, "main"), ("other piston", other, wanted, "second"))
    curves = tuple(
        Curve(name, ((0.0, 0.0), *((v, _force(given, one, grade, v)) for v in speeds)), style)
        for name, one, grade, style in pistons
    )
    meet = _force(given, now, given.oil, given.match_speed)
    return Plot(
        "Damping force of both pistons against shaft speed",
        Axis("Shaft speed", "speed"),
        Axis("Force", "force"),
        curves,
        (Mark(given.match_speed, meet, "alike here"),),
        f"Both take {given.say(meet, 'force')} at {given.say(given.match_speed, 'speed')}; "
        "slower and faster they part.",
    )


def _working(given: Given, wanted: float) -> tuple[Working, ...]:
    say, speed = given.say, given.match_speed
    now = _force(given, piston_from(given), given.oil, speed)
    then = _force(given, piston_from(given, OTHER), wanted, speed)
    return (
        Working(
            "force of the piston now, from the holes and the rim side by side",
            f"{say(given.oil, 'viscosity')} at {say(speed, 'speed')}: {say(now, 'force')}",
            "each hole: Δp = μ Q (3/a³ + 8 L/(π a⁴)) + 1.5 ρ u²/2; rim: Q = π D h³ Δp/(12 μ L)",
        ),
        Working(
            "the oil is changed until the other piston gives the same",
            f"{say(wanted, 'viscosity')}: {say(then, 'force')}",
            "root of the force over the viscosity, to a millionth",
        ),
    )
