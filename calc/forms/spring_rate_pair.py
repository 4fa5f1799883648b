"""Two springs one behind the other: soft together until one binds, then the other alone."""

from calc.answer import Answer, Axis, Caution, Curve, Mark, Plot, Quantity, Working
from calc.form import Given
from calc.forms.seat import stack_of
from calc.forms.spring_rate_common import Found, answer, force_table
from calc.physics.spring import series_rate
from calc.physics.stack import Stack


def _stack(given: Given) -> Stack:
    return stack_of(
        [
            (given.first_rate, given.first_free, given.first_solid),
            (given.second_rate, given.second_free, given.second_solid),
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
    ("rate", "Rate of both together", "rate"),
    ("knee_force", "Force at which one of them binds", "force"),
    ("knee", "Pressed by then", "length"),
    ("rate_after", "Rate from there on", "rate"),
    ("free", "Free length of both", "length"),
    ("solid", "Solid length of both", "length"),
)


def solve(given: Given) -> Answer:
    stack = _stack(given)
    doubted = given.carry(_figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    first_binds = given.first_rate * stack.springs[0].travel <= exact["knee_force"]
    early = "first" if first_binds else "second"
    travel = Quantity("travel", "From free to solid", stack.travel, "length")
    found = Found(
        at="first_rate",
        step=f"Reckon with {given.say(exact['rate'], 'rate')} until one binds, then "
        f"{given.say(exact['rate_after'], 'rate')}.",
        quantities=(
            *(given.quantity(name, label, kind, doubted[name]) for name, label, kind in _LABELS),
            travel,
        ),
        working=_working(given, exact, early),
        plot=_plot(given, stack, exact, early),
        tables=(force_table(given, stack),),
        cautions=(
            Caution(
                "The two need a plate between them that cannot tilt or catch the body, and the "
                "coils that touch again and again wear."
            ),
        ),
        free=exact["free"],
        solid=exact["solid"],
    )
    return answer(given, found)


def _plot(given: Given, stack: Stack, exact: dict[str, float], early: str) -> Plot:
    end = stack.travel
    line = ((0.0, 0.0), (exact["knee"], exact["knee_force"]), (end, stack.force(end)))
    return Plot(
        "Force of both springs against how far they are pressed",
        Axis("Pressed by", "length"),
        Axis("Force", "force"),
        (Curve("both", line),),
        (Mark(exact["knee"], exact["knee_force"], f"the {early} binds"),),
        f"{given.say(exact['rate'], 'rate')} up to {given.say(exact['knee'], 'length')}, where the "
        f"{early} spring binds; {given.say(exact['rate_after'], 'rate')} from there on.",
    )


def _working(given: Given, exact: dict[str, float], early: str) -> tuple[Working, ...]:
    say = given.say
    rate, free, solid = (getattr(given, f"{early}_{part}") for part in ("rate", "free", "solid"))
    return (
        Working("1 / rate = 1 / first + 1 / second",
                f"1 / (1 / {say(given.first_rate, 'rate')} + 1 / {say(given.second_rate, 'rate')})"
                f" = {say(exact['rate'], 'rate')}", "equal force in both"),
        Working(f"the {early} binds at rate × (free − solid length)",
                f"{say(rate, 'rate')} × ({say(free, 'length')} − {say(solid, 'length')}) = "
                f"{say(exact['knee_force'], 'force')}"),
    )  # fmt: skip
