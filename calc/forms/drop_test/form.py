"""Drop test: the damping of a damper from timed runs of a hanging mass."""

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Number, only
from calc.forms.common.piston import piston_fields
from calc.forms.drop_test import friction as drop_friction
from calc.forms.drop_test import one as drop_one
from calc.forms.drop_test import sides as drop_sides
from calc.forms.drop_test.fields import loaded_rows, mass_column, run_rows
from calc.forms.fields import AXLE
from calc.replying.form import Form, Given, from_car

_ONE_MASS = only("task", "one", "sides")
_RUNS = (1.72, 1.66, 1.70, 1.75, 1.67)
_LEFT, _RIGHT = (1.71, 1.66, 1.73, 1.69, 1.68), (1.80, 1.75, 1.83, 1.77, 1.79)
_LOADED = ((0.02, 3.42), (0.02, 3.31), (0.02, 3.48), (0.05, 1.13), (0.05, 1.10), (0.05, 1.15))

FIELDS = (
    Choice(
        "Task",
        (
            ("one", "damping of one damper"),
            ("friction", "friction and damping apart"),
            ("sides", "left against right"),
        ),
        "A mass hangs on the shaft, no spring on the damper, and pulls it out: the rebound.",
        name="task",
    ),
    AXLE,
    mass_column(start=0.03, when=_ONE_MASS),
    Number(
        "Distance that is timed", "length", (0.005, 0.05), (0.001, 0.3),
        "Between two marks, the first a little below the start, the last before the end.",
        name="distance", start=0.015, tool="ruler",
    ),
    run_rows("Timed runs", "runs", _RUNS, only("task", "one")),
    loaded_rows("loaded", _LOADED, only("task", "friction")),
    run_rows("Left damper, timed runs", "left", _LEFT, only("task", "sides")),
    run_rows("Right damper, timed runs", "right", _RIGHT, only("task", "sides")),
    Number(
        "Friction of the seal", "force", (0, 0.5), (0, 50),
        "From a drop test with two masses; 0 where you do not know it.",
        name="friction", start=0.0, when=_ONE_MASS,
    ),
    from_car("{axle}.oil"),
    from_car("temperature", "warm", label="Temperature of the oil", fills_only=True),
    *piston_fields(),
)  # fmt: skip


def solve(given: Given) -> Answer:
    return _TASKS[given.choice("task")](given)


_TASKS = {
    "one": drop_one.solve,
    "friction": drop_friction.solve,
    "sides": drop_sides.solve,
}

FORM = Form(
    "drop-test",
    "Drop test",
    "bench",
    "How hard is this damper really, and are left and right alike?",
    FIELDS,
    solve,
)
