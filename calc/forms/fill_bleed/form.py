"""Fill and bleed: oil of the set, the air shut in with it, and the wait for the bubbles."""

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Number, only
from calc.forms.fields import AXLE
from calc.forms.fill_bleed import bleed, fill
from calc.forms.fill_bleed import gas as trapped_gas
from calc.physics.gas import ATMOSPHERE
from calc.replying.form import Form, Given, from_car

_FILL, _GAS, _BLEED = only("task", "fill"), only("task", "gas"), only("task", "bleed")
_ONE_END = only("task", "gas", "bleed")

FIELDS = (
    Choice(
        "Task",
        (
            ("bleed", "wait for the bubbles"),
            ("fill", "how much oil goes in"),
            ("gas", "air shut in, and rebound"),
        ),
        name="task",
    ),
    Choice(AXLE.label, AXLE.options, name=AXLE.name, when=_ONE_END),
    *fill.fill_fields(_FILL),
    from_car("tools.syringe", when=_FILL),
    *trapped_gas.gas_fields(_GAS),
    *bleed.bleed_fields(_BLEED),
    Number(
        "Air pressure", "pressure", (85e3, 104e3), (40e3, 120e3),
        "101.3 kPa at the sea, some 12% less for every 1000 m up.",
        name="room", start=ATMOSPHERE, relative=0.01, when=_ONE_END,
    ),
)  # fmt: skip


def solve(given: Given) -> Answer:
    return _TASKS[given.choice("task")](given)


_TASKS = {"fill": fill.solve, "gas": trapped_gas.solve, "bleed": bleed.solve}

FORM = Form(
    "fill-bleed",
    "Fill and bleed",
    "bench",
    "How much oil goes in, how long do bubbles take, and how far does the shaft come back?",
    FIELDS,
    solve,
    extras=("timer",),
)
