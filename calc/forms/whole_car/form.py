"""One thing changes: what else has to be turned, filled or drilled, for the whole car at once."""

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Entry, Number, Rows, When, only
from calc.forms.fields import FREE, RATE, SOLID
from calc.forms.names import CORNER_LABELS
from calc.forms.whole_car import words
from calc.forms.whole_car.change import writes
from calc.forms.whole_car.figures import figures, plan
from calc.forms.whole_car.inputs import CAR_FIELDS
from calc.forms.whole_car.pictures import plot, tables
from calc.forms.whole_car.state import after, before, check_holes, joined
from calc.replying.form import Form, Given, from_car

_SPRING, _PISTON, _OIL = only("change", "spring"), only("change", "piston"), only("change", "oil")
_LOAD = only("change", "load")
_STAYS = "Empty: it stays as it is."


def _number(label: str, kind: str, usual: tuple[tuple[float, float], tuple[float, float]],
            **more: object) -> Number:  # fmt: skip
    return Number(label, kind, *usual, _STAYS, optional=True, **more)  # type: ignore[arg-type]


_HOLES = (1.0, 10.0), (0.0, 20.0)
_HOLE = (0.8e-3, 2e-3), (0.2e-3, 8e-3)
_THICKNESS = (1e-3, 4e-3), (0.2e-3, 20e-3)
_VISCOSITY = (100e-6, 1500e-6), (5e-6, 200000e-6)


def _springs(
    end: str, starts: tuple[float, float, float] | tuple[None, None, None]
) -> tuple[Number, ...]:
    of, (rate, free, solid) = f"New {end} spring", starts
    return (
        _number(f"{of} rate", "rate", RATE, name=f"{end}_rate", example=rate, relative=0.03,
                when=_SPRING),
        _number(f"{of} free length", "length", FREE, name=f"{end}_free", example=free,
                tool="ruler", when=_SPRING),
        _number(f"{of} solid length", "length", SOLID, name=f"{end}_solid", example=solid,
                tool="ruler", when=_SPRING),
    )  # fmt: skip


def _pistons(end: str, hole: float | None) -> tuple[Number, ...]:
    of = f"of the new {end} piston"
    return (
        _number(f"Holes {of}, open both ways", "count", _HOLES, name=f"{end}_holes", whole=True,
                when=_PISTON),
        _number(f"Diameter of a hole {of}", "length", _HOLE, name=f"{end}_hole", example=hole,
                tool="calliper", when=_PISTON),
        _number(f"Thickness {of}", "length", _THICKNESS, name=f"{end}_thickness",
                tool="calliper", when=_PISTON),
    )  # fmt: skip


def _oil(end: str, start: float | None) -> Number:
    return _number(f"New {end} oil, at 25 °C", "viscosity", _VISCOSITY, name=f"{end}_oil",
                   example=start, relative=0.03, when=_OIL)  # fmt: skip


def _place(label: str, measure: str, start: float, when: When, **more: object) -> Number:
    return Number(
        label, "length", (-0.2, 0.4), (-3.0, 3.0), measure, example=start, tool="ruler", when=when,
        **more,  # type: ignore[arg-type]
    )  # fmt: skip


_MASS = _LOAD + only("load_known", "mass")

FIELDS: tuple[Entry, ...] = (
    Choice(
        "What are you changing?",
        (
            ("spring", "a spring"),
            ("hole", "the mounting hole"),
            ("piston", "a piston"),
            ("oil", "the oil"),
            ("load", "the load"),
        ),
        "Everything else is as shown below, from the car record.",
        name="change",
    ),
    Choice(
        "Use the collars to keep",
        (("height", "the ride height"), ("preload", "the preload")),
        "One collar cannot keep both when the spring or the load changes.",
        name="keep",
    ),
    *_springs("front", (760.0, 40e-3, 14e-3)),
    *_springs("rear", (None, None, None)),
    Choice(
        "Move to the other mounting hole",
        (("front", "the front dampers"), ("rear", "the rear dampers"), ("both", "all four")),
        "Both holes are those below: see Motion ratio and mounting holes.",
        name="hole_end", when=only("change", "hole"),
    ),
    *_pistons("front", 1.7e-3),
    *_pistons("rear", None),
    _oil("front", 500e-6),
    _oil("rear", None),
    Choice(
        "Enter the new weight as",
        (("mass", "a mass and its place"), ("scales", "four scale readings")),
        name="load_known", when=_LOAD,
    ),
    Number(
        "Weight added", "mass", (-0.3, 0.3), (-20.0, 20.0),
        "Battery, motor, ballast; what is taken out is negative.",
        name="added", example=0.06, tool="scale", when=_MASS,
    ),
    _place("Its place, ahead of the rear axle", "Along the car, to the middle of what is added.",
           0.14, _MASS, name="along"),
    _place("Its place, left of the middle", "Across the car; right is negative.", 0.0, _MASS,
           name="across"),
    Rows(
        "Scale readings with the new load",
        (from_car("corners.{row}.load", fills_only=True),),
        CORNER_LABELS, name="scales", every=True, when=_LOAD + only("load_known", "scales"),
    ),
    Number(
        "Shaft speed to keep the damping at", "speed", (0.01, 0.2), (0.001, 2.0),
        "20 to 50 mm/s for chassis roll and dive.",
        name="speed", start=0.05,
    ),
    from_car("temperature", "warm", label="Temperature of the oil", fills_only=True),
    from_car("tools.turn_step"),
    from_car("thread_hand"),
    *CAR_FIELDS,
)  # fmt: skip


def solve(given: Given) -> Answer:
    given = joined(given)
    check_holes(given)
    was = before(given)
    becomes = after(given)
    made = plan(given, was, becomes)
    doubted = given.carry(lambda shifted: figures(shifted, made))
    return Answer(
        steps=words.steps(given, made),
        above=words.above(given, made),
        quantities=words.quantities(given, made, doubted),
        tables=tables(given, made),
        plots=(plot(given, made),),
        cautions=words.cautions(given, made),
        working=words.working(given, made),
        writes=writes(given, made),
        poured=made.poured,
        drawings=words.drawings(given, made),
    )


FORM = Form(
    "whole-car",
    "Change one thing",
    "car",
    "Another spring, hole, piston, oil or load: what else has to change to keep the car as it was?",
    FIELDS,
    solve,
    first=("scales.load",),
    finer=("speed",),
)
