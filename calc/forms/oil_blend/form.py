"""Oil blend: two bottles to a target, the best bottles, shifting a damper's oil, what a mix is."""

from dataclasses import replace

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Number, Rows, only
from calc.forms.common.bottles import bottle_rows
from calc.forms.fields import AXLE
from calc.forms.oil_blend import made as oil_made
from calc.forms.oil_blend import pair as oil_pair
from calc.replying.form import Form, Given, from_car

_VISCOSITY = (100e-6, 1500e-6), (5e-6, 200000e-6)
_AMOUNT = (1e-6, 100e-6), (0.05e-6, 5000e-6)
_BLEND, _MADE = only("task", "blend"), only("task", "made")
_SHIFT, _BOTTLES = only("task", "shift"), only("task", "bottles")
_ON_BOTTLE = "The cSt number on the bottle."
_MEASURED_OUT = only("task", "blend", "shift", "bottles")


def _oil(label: str, measure: str, start: float | None, **more: object) -> Number:
    return Number(
        label, "viscosity", *_VISCOSITY, measure, relative=0.03, start=start, **more  # type: ignore[arg-type]
    )  # fmt: skip


FIELDS = (
    Choice(
        "Task",
        (
            ("blend", "blend two bottles to a target"),
            ("bottles", "find the best two of my bottles"),
            ("shift", "shift the oil that is in a damper"),
            ("made", "what did I make"),
        ),
        name="task",
    ),
    _oil("Thin oil, at 25 °C", _ON_BOTTLE, 300e-6, name="thin", when=_BLEND),
    _oil("Thick oil, at 25 °C", _ON_BOTTLE, 500e-6, name="thick", when=_BLEND),
    replace(AXLE, when=_SHIFT),
    from_car("{axle}.oil", "now", when=_SHIFT, label="Oil in the damper, at 25 °C"),
    _oil("Oil to add, at 25 °C", _ON_BOTTLE, 800e-6, name="added", when=_SHIFT),
    Number(
        "Viscosity wanted, at 25 °C", "viscosity", *_VISCOSITY,
        "A weight number works too, through your own scale: write 35 wt.",
        name="target", start=450e-6, when=_MEASURED_OUT,
    ),
    Number(
        "Amount to make", "volume", *_AMOUNT, "Four small dampers take about 15 mL in all.",
        name="amount", start=20e-6, when=only("task", "blend", "bottles"),
    ),
    from_car("{axle}.inside.held", when=_SHIFT),
    Choice(
        "Measure with",
        (
            ("syringe", "a syringe"),
            ("drop", "drops"),
            ("scale", "a scale"),
            ("parts", "whole parts"),
        ),
        name="step", when=_MEASURED_OUT,
    ),
    from_car("tools.syringe", when=_MEASURED_OUT + only("step", "syringe")),
    from_car("tools.drop", when=_MEASURED_OUT + only("step", "drop")),
    from_car("tools.oil_scale", when=_MEASURED_OUT + only("step", "scale")),
    Number(
        "One measured blend: share of the thick oil", "share", (0.1, 0.9), (0.01, 0.99),
        "Only if you measured a blend of these two oils; it then replaces the law.",
        name="measured_share", optional=True, when=_BLEND,
    ),
    _oil(
        "One measured blend: its viscosity", "Measured at 25 °C.", None,
        name="measured", optional=True, when=_BLEND,
    ),
    Rows(
        "What went in",
        (
            _oil("Viscosity at 25 °C", _ON_BOTTLE, None, name="viscosity"),
            Number("Amount", "volume", *_AMOUNT, "Any unit of volume.", name="amount",
                   relative=0.02),
        ),
        tuple((str(n), f"Oil {n}") for n in range(1, 7)),
        name="oils", least=1, when=_MADE, starts=((300e-6, 12e-6), (500e-6, 8e-6)),
    ),
    bottle_rows(_BOTTLES, least=1),
)  # fmt: skip


def solve(given: Given) -> Answer:
    return _TASKS[given.choice("task")](given)


_TASKS = {
    "blend": oil_pair.solve_blend,
    "shift": oil_pair.solve_shift,
    "bottles": oil_pair.solve_bottles,
    "made": oil_made.solve,
}

FORM = Form(
    "oil-blend",
    "Oil blend",
    "bench",
    "How much of which oil makes the viscosity you want?",
    FIELDS,
    solve,
)
