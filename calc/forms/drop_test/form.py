"""Drop test: the damping of a damper from timed runs of a hanging mass."""

from collections.abc import Callable, Mapping

from calc.answering.answer import Answer
from calc.forms.drop_test import friction, one, sides
from calc.forms.drop_test.inputs import Asked, Task
from calc.replying.form import Form

_TASKS: Mapping[Task, Callable[[Asked], Answer]] = {
    "one": one.solve,
    "friction": friction.solve,
    "sides": sides.solve,
}


def solve(asked: Asked) -> Answer:
    return _TASKS[asked.task](asked)


FORM = Form(
    slug="drop-test",
    title="Hanging-weight test",
    moment="bench",
    asks="How hard is this damper really, and are left and right alike?",
    inputs=Asked,
    solve=solve,
    first=("warm",),
    finer=("friction",),
)
