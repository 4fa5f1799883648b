"""The oil with which another piston is as hard as the one in the damper, at a chosen speed."""

from collections.abc import Iterator
from dataclasses import replace

from calc.answering.answer import Answer, Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.answering.places import between
from calc.forms.bottles import nearest_words, none_entered, owned, pours, sentence
from calc.forms.cautions import opened
from calc.forms.failures import problem
from calc.forms.fields import against
from calc.forms.filling import Wanted, filled_from, in_stock
from calc.forms.gas import parting
from calc.forms.names import end_word
from calc.forms.oil_choice import NoOil
from calc.forms.oil_warm import oil_cautions
from calc.forms.piston import FLOW_SOURCE, grade_holding, oil_at, piston_cautions
from calc.forms.piston_oil.inputs import Asked
from calc.language import later, tr
from calc.physics import damper
from calc.physics.damper import Piston
from calc.physics.failure import PhysicsError
from calc.replying.figures import Figures, figure

_SPEEDS = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # m/s, of the table


def _force(asked: Asked, piston: Piston, grade: float, speed: float) -> float:
    """In the direction asked about, up to where the oil parts."""
    return damper.force(piston, speed, *oil_at(asked, grade), asked.way, asked.behind())


def _exact(asked: Asked) -> float:
    """The grade, m2/s at 25 C, with which the other piston is as hard. Raises PhysicsError where
    none is."""
    warm = oil_at(asked, asked.oil)
    now = damper.force(asked.made(), asked.match_speed, *warm, asked.way)
    force, other = now * asked.piston_law, asked.made(asked.other)
    return grade_holding(asked, other, force, asked.match_speed, asked.way)


def _differences(asked: Asked, grade: float) -> tuple[float, float]:
    """By how much the other piston with this oil is harder (softer: negative) at the slow and at
    the fast speed, as a share."""
    now, other = asked.made(), asked.made(asked.other)
    slow, fast = (
        _force(asked, other, grade, speed) / _force(asked, now, asked.oil, speed) - 1
        for speed in (asked.slow, asked.fast)
    )
    return slow, fast


class MatchFigures(Figures):
    wanted: float = figure("Oil for the other piston, at 25 °C", kind="viscosity")
    force: float = figure("Force at the speed where they are alike", kind="force")
    slow_difference: float = figure(
        "The other one is then harder (softer: −) at the slow speed", kind="share"
    )
    fast_difference: float = figure(
        "The other one is then harder (softer: −) at the fast speed", kind="share"
    )


def figures(asked: Asked, filled: float) -> MatchFigures:
    """With the oil that is filled in, m2/s at 25 C: what is not known of both pistons makes the
    other one harder or softer with it."""
    slow, fast = ((1 + more) / asked.piston_law - 1 for more in _differences(asked, filled))
    now = _force(asked, asked.made(), asked.oil, asked.match_speed)
    return MatchFigures(
        wanted=_exact(asked),
        force=now * asked.piston_law,
        slow_difference=slow,
        fast_difference=fast,
    )


def solve(asked: Asked) -> Answer:
    """The answer for the task `match`; `asked` holds the uncertainty of the model already."""
    try:
        wanted = _exact(asked)
    except PhysicsError as failure:
        label = asked.label_of(Asked.match_speed)
        raise problem(Asked.match_speed, label, failure) from failure
    other = asked.made(asked.other)
    answer = Answer(
        steps=(_take(asked, wanted),),
        quantities=asked.quantities(asked.propagate(lambda at: figures(at, wanted))),
        tables=(_table(asked, wanted),),
        plots=(_plot(asked, wanted),),
        cautions=(
            *oil_cautions(asked, [asked.oil, wanted], [asked.warm]),
            *_parts(asked, other, oil_at(asked, wanted)),
            *piston_cautions(asked, other, oil_at(asked, wanted), asked.fast),
            opened(),
        ),
        working=_working(asked, wanted),
    )
    return _with_bottles(asked, answer, wanted)


def _parts(asked: Asked, piston: Piston, warm: tuple[float, float]) -> Iterator[Caution]:
    if asked.way == "compression":
        speed = damper.parting_speed(piston, *warm, asked.behind())
        yield from parting(asked, asked.fast, speed, speed * 0.1)


def _with_bottles(asked: Asked, answer: Answer, wanted: float) -> Answer:
    """The answer with the oil to fill in, where the bottles give one."""
    try:
        fill = Wanted(wanted, asked.fill.to_make, asked.syringe)
        made = filled_from(in_stock(asked.bottles), fill, asked.say)
    except NoOil as lack:
        lacks = none_entered(asked.bottles) or (Caution(sentence(lack), stop=True),)
        return replace(answer, cautions=(*lacks, *answer.cautions))
    slow, fast = _differences(asked, made.oil.viscosity)
    step = Step(
        tr("With the other piston: refill with {oil}.", oil=made.oil.words),
        tr(
            "That is {viscosity}; {wanted} would be exact. At {slow} the damper is "
            "{slow_harder}, at {fast} {fast_harder}.",
            viscosity=asked.say(made.oil.viscosity, "viscosity"),
            wanted=asked.say(wanted, "viscosity"),
            slow=asked.say(asked.slow, "speed"),
            slow_harder=against(asked, 1 + slow, _ALIKE, _HARDER, _SOFTER),
            fast=asked.say(asked.fast, "speed"),
            fast_harder=against(asked, 1 + fast, _ALIKE, _HARDER, _SOFTER),
        ),
    )
    return replace(answer, steps=(step,), pours=pours(made.poured, asked.axle))


_ALIKE, _HARDER = later("as hard as now"), later("{share} harder than now")
_SOFTER = later("{share} softer than now")


def _take(asked: Asked, wanted: float) -> Step:
    return Step(
        tr("The other piston needs {oil} oil.", oil=asked.say(wanted, "viscosity")),
        tr(
            "It is then as hard at {speed} as the piston now in the {end} dampers.",
            speed=asked.say(asked.match_speed, "speed"),
            end=end_word(asked.axle),
        )
        + nearest_words(asked, owned(asked.bottles), wanted),
    )


def _table(asked: Asked, wanted: float) -> Table:
    now, other = asked.made(), asked.made(asked.other)
    rows = []
    for speed in _SPEEDS:
        one = _force(asked, now, asked.oil, speed)
        two = _force(asked, other, wanted, speed)
        rows.append(
            (
                asked.bare(speed, "speed"),
                asked.bare(one, "force"),
                asked.bare(two, "force"),
                asked.bare(two / one - 1, "share"),
            )
        )
    unit = asked.symbol("force")
    heads = (
        tr("Speed {unit}", unit=asked.symbol("speed")),
        tr("Now {unit}", unit=unit),
        tr("Other {unit}", unit=unit),
        tr("Differs %"),
    )
    return Table(tr("How far the two differ at other speeds"), heads, tuple(rows))


def _plot(asked: Asked, wanted: float) -> Plot:
    now, other = asked.made(), asked.made(asked.other)
    speeds = between(0.0, asked.fast, "speed", asked.system)[1:]
    pistons = (
        (tr("now"), now, asked.oil, "main"), (tr("other piston"), other, wanted, "second"),
    )  # fmt: skip
    curves = tuple(
        Curve(name, ((0.0, 0.0), *((v, _force(asked, one, grade, v)) for v in speeds)), style)
        for name, one, grade, style in pistons
    )
    meet = _force(asked, now, asked.oil, asked.match_speed)
    return Plot(
        tr("Damping force of both pistons against shaft speed"),
        Axis(tr("Shaft speed"), "speed"),
        Axis(tr("Force"), "force"),
        curves,
        (Mark(asked.match_speed, meet, tr("alike here")),),
        tr(
            "Both resist with {force} at {speed}; slower and faster they differ.",
            force=asked.say(meet, "force"),
            speed=asked.say(asked.match_speed, "speed"),
        ),
    )


def _working(asked: Asked, wanted: float) -> tuple[Working, ...]:
    say, speed = asked.say, asked.match_speed
    now = _force(asked, asked.made(), asked.oil, speed)
    then = _force(asked, asked.made(asked.other), wanted, speed)
    return (
        Working(
            tr(
                "each hole: Δp = μ Q (3/a³ + 8 L/(π a⁴)) + 1.5 ρ u²/2; piston edge: Q = π D h³ "
                "Δp/(12 μ L)"
            ),
            tr(
                "{oil} at {speed}: {force}",
                oil=say(asked.oil, "viscosity"),
                speed=say(speed, "speed"),
                force=say(now, "force"),
            ),
            tr(FLOW_SOURCE),
        ),
        Working(
            tr("the oil is changed until the other piston gives the same"),
            f"{say(wanted, 'viscosity')}: {say(then, 'force')}",
            tr("root of the force over the viscosity, to a millionth"),
        ),
    )
