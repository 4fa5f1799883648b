"""Two springs one behind the other: soft together until one binds, then the other alone."""

from calc.answering.answer import Answer, Axis, Caution, Curve, Mark, Plot, Quantity, Working
from calc.forms.findings import stack_at
from calc.forms.spring_rate.common import Found, answer, force_table, named_quantities
from calc.language import later, tr
from calc.model.standing import SpringSize
from calc.physics.spring import series_rate
from calc.physics.stack import Stack
from calc.replying.form import Given


def _stack(given: Given) -> Stack:
    return stack_at(
        [
            SpringSize(given.first_rate, given.first_free, given.first_solid),
            SpringSize(given.second_rate, given.second_free, given.second_solid),
        ],
        ["first_solid", "second_solid"],
    )


def _figures(given: Given) -> dict[str, float]:
    stack = _stack(given)
    early, late = sorted(stack.springs, key=lambda spring: spring.rate * spring.travel)
    knee = early.rate * early.travel
    return {
        "rate": series_rate(given.first_rate, given.second_rate),
        "knee_force": knee,
        "knee": stack.compression(knee),
        "rate_after": late.rate,
        "free": stack.free,
        "solid": stack.solid,
    }


_LABELS = (
    ("rate", later("Rate of both together"), "rate"),
    ("knee_force", later("Force at which one of them binds"), "force"),
    ("knee", later("Pressed by then"), "length"),
    ("rate_after", later("Rate from there on"), "rate"),
    ("free", later("Free length of both"), "length"),
    ("solid", later("Solid length of both"), "length"),
)


def solve(given: Given) -> Answer:
    stack = _stack(given)
    doubted = given.carry(_figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    first_binds = given.first_rate * stack.springs[0].travel <= exact["knee_force"]
    travel = Quantity("travel", tr("From free to solid"), stack.travel, "length")
    found = Found(
        at="first_rate",
        step=tr(
            "Reckon with {rate} until one binds, then {after}.",
            rate=given.say(exact["rate"], "rate"),
            after=given.say(exact["rate_after"], "rate"),
        ),
        quantities=(*named_quantities(given, doubted, _LABELS), travel),
        working=_working(given, exact, first_binds),
        plot=_plot(given, stack, exact, first_binds),
        tables=(force_table(given, stack),),
        cautions=(
            Caution(
                tr(
                    "The two need a plate between them that cannot tilt or catch the body, and the "
                    "coils that touch again and again wear."
                )
            ),
        ),
        free=exact["free"],
        solid=exact["solid"],
    )
    return answer(given, found)


def _plot(given: Given, stack: Stack, exact: dict[str, float], first_binds: bool) -> Plot:
    end = stack.travel
    line = ((0.0, 0.0), (exact["knee"], exact["knee_force"]), (end, stack.force(end)))
    parts = {
        "rate": given.say(exact["rate"], "rate"),
        "knee": given.say(exact["knee"], "length"),
        "after": given.say(exact["rate_after"], "rate"),
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
        (Mark(exact["knee"], exact["knee_force"], binds),),
        says,
    )


def _working(given: Given, exact: dict[str, float], first_binds: bool) -> tuple[Working, ...]:
    say, early = given.say, "first" if first_binds else "second"
    rate, free, solid = (getattr(given, f"{early}_{part}") for part in ("rate", "free", "solid"))
    relation = (
        tr("the first binds at rate × (free − solid length)")
        if first_binds
        else tr("the second binds at rate × (free − solid length)")
    )
    return (
        Working(tr("1 / rate = 1 / first + 1 / second"),
                f"1 / (1 / {say(given.first_rate, 'rate')} + 1 / {say(given.second_rate, 'rate')})"
                f" = {say(exact['rate'], 'rate')}", tr("equal force in both")),
        Working(relation,
                f"{say(rate, 'rate')} × ({say(free, 'length')} − {say(solid, 'length')}) = "
                f"{say(exact['knee_force'], 'force')}", tr("Hooke's law")),
    )  # fmt: skip
