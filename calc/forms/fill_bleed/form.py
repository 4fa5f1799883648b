"""Fill and bleed: oil of the set, the air shut in with it, and the wait for the bubbles."""

from collections.abc import Callable, Mapping

from calc.answering.answer import Answer
from calc.forms.fill_bleed import bleed, fill, gas
from calc.forms.fill_bleed.inputs import Asked, Task
from calc.replying.form import Form

_TASKS: Mapping[Task, Callable[[Asked], Answer]] = {
    "fill": fill.solve,
    "gas": gas.solve,
    "bleed": bleed.solve,
}


def solve(asked: Asked) -> Answer:
    return _TASKS[asked.task](asked)


FORM = Form(
    slug="fill-bleed",
    title="Fill and bleed",
    moment="bench",
    asks="How much oil goes in, how long do bubbles take, and how far does the shaft come back?",
    inputs=Asked,
    solve=solve,
    timer=("longest", "pump_longest"),
    first=("stroke", "gas", "oil"),
    finer=("friction", "bubble", "pump", "room"),
    drawings={"height": "bubbles"},
)
