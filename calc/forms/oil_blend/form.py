"""Oil blend: two bottles to a target, the best bottles, shifting a damper's oil, what a mix is."""

from collections.abc import Callable, Mapping

from calc.answering.answer import Answer
from calc.forms.oil_blend import made, pair
from calc.forms.oil_blend.inputs import Asked, Task
from calc.replying.form import Form

_TASKS: Mapping[Task, Callable[[Asked], Answer]] = {
    "blend": pair.solve_blend,
    "shift": pair.solve_shift,
    "bottles": pair.solve_bottles,
    "made": made.solve,
}


def solve(asked: Asked) -> Answer:
    return _TASKS[asked.task](asked)


FORM = Form(
    slug="oil-blend",
    title="Oil blend",
    moment="bench",
    asks="How much of which oil makes the viscosity you want?",
    inputs=Asked,
    solve=solve,
    first=("now",),
    finer=("measured_share", "measured"),
    drawings={"added": ""},
)
