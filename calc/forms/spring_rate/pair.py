"""Two springs one behind the other: soft together until one binds, then the other alone."""

from calc.answering.answer import Answer, Axis, Caution, Curve, Mark, Plot, Working
from calc.forms.fields import SpringInputs
from calc.forms.findings import stack_at
from calc.forms.spring_rate.common import Found, answer, force_table
from calc.forms.spring_rate.inputs import Asked
from calc.language import tr
from calc.physics.spring import series_rate
from calc.physics.stack import Stack
from calc.replying.figures import Figures, figure


class PairFigures(Figures):
    rate: float = figure("Rate of both together", kind="rate")
    knee_force: float = figure("Force at which one of them binds", kind="force")
    knee: float = figure("Travel at which one of them binds", kind="length")
    rate_after: float = figure("Rate from there on", kind="rate")
    free: float = figure("Free length of both", kind="length")
    solid: float = figure("Solid length of both", kind="length")
    travel: float = figure("From free to solid", kind="length")


def _stack(asked: Asked) -> Stack:
    springs = (asked.first, asked.second)
    return stack_at(
        [spring.size for spring in springs],
        [spring.at(SpringInputs.solid) for spring in springs],
    )


def _figures(asked: Asked) -> PairFigures:
    stack = _stack(asked)
    early, late = sorted(stack.springs, key=lambda spring: spring.rate * spring.travel)
    knee = early.rate * early.travel
    return PairFigures(
        rate=series_rate(asked.first.rate, asked.second.rate),
        knee_force=knee,
        knee=stack.compression(knee),
        rate_after=late.rate,
        free=stack.free,
        solid=stack.solid,
        travel=stack.travel,
    )


def solve(asked: Asked) -> Answer:
    stack = _stack(asked)
    found = asked.propagate(_figures)
    exact = found.value
    first_binds = asked.first.rate * stack.springs[0].travel <= exact.knee_force
    made = Found(
        at=asked.first.at(SpringInputs.rate),
        step=tr(
            "Use {rate} until one binds, {after} after that.",
            rate=asked.say(exact.rate, "rate"),
            after=asked.say(exact.rate_after, "rate"),
        ),
        quantities=asked.quantities(found),
        working=_working(asked, exact, first_binds),
        plot=_plot(asked, stack, exact, first_binds),
        tables=(force_table(asked, stack),),
        cautions=(
            Caution(
                tr(
                    "The two need a washer between them that cannot tilt or catch the damper body, "
                    "and coils that touch again and again wear."
                )
            ),
        ),
        free=exact.free,
        solid=exact.solid,
    )
    return answer(asked, made)


def _plot(asked: Asked, stack: Stack, exact: PairFigures, first_binds: bool) -> Plot:
    end = stack.travel
    line = ((0.0, 0.0), (exact.knee, exact.knee_force), (end, stack.force(end)))
    parts = {
        "rate": asked.say(exact.rate, "rate"),
        "knee": asked.say(exact.knee, "length"),
        "after": asked.say(exact.rate_after, "rate"),
    }
    if first_binds:
        binds = tr("the first binds")
        says = tr(
            "{rate} up to {knee}, where the first spring binds; {after} from there on.", **parts
        )
    else:
        binds = tr("the second binds")
        says = tr(
            "{rate} up to {knee}, where the second spring binds; {after} from there on.", **parts
        )
    return Plot(
        tr("Force of both springs against how far they are pressed"),
        Axis(tr("Pressed by"), "length"),
        Axis(tr("Force"), "force"),
        (Curve(tr("both", sense="springs"), line),),
        (Mark(exact.knee, exact.knee_force, binds),),
        says,
    )


def _working(asked: Asked, exact: PairFigures, first_binds: bool) -> tuple[Working, ...]:
    say, early = asked.say, asked.first if first_binds else asked.second
    relation = (
        tr("the first binds at rate × (free − solid length)")
        if first_binds
        else tr("the second binds at rate × (free − solid length)")
    )
    return (
        Working(tr("1 / rate = 1 / first + 1 / second"),
                f"1 / (1 / {say(asked.first.rate, 'rate')} + 1 / {say(asked.second.rate, 'rate')})"
                f" = {say(exact.rate, 'rate')}", tr("equal force in both")),
        Working(relation,
                f"{say(early.rate, 'rate')} × ({say(early.free, 'length')} − "
                f"{say(early.solid, 'length')}) = "
                f"{say(exact.knee_force, 'force')}", tr("Hooke's law")),
    )  # fmt: skip
