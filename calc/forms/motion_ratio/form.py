"""Motion ratio: of the hole now used, and what another hole does to rate, damping and height."""

from calc.asking.entry import Choice, Entry, Number, Rows, only
from calc.forms.arm import arm_fields
from calc.forms.fields import AXLE, corner_load_fields
from calc.forms.friction import friction_of_end
from calc.forms.motion_ratio.words import solve
from calc.forms.recorded import DrawnBody, Tyre, folded
from calc.replying.form import Form, from_car

_DRAWN, _PAIRS, _TWO = only("known", "geometry"), only("known", "pairs"), only("holes", "two")
_TRAVEL = (-15e-3, 40e-3), (-0.3, 0.3)
_APART = (30e-3, 150e-3), (5e-3, 1.0)


def _travel(label: str, measure: str, **more: object) -> Number:
    return Number(label, "length", *_TRAVEL, measure, tool="ruler", **more)  # type: ignore[arg-type]


FIELDS: tuple[Entry, ...] = (
    AXLE,
    Choice(
        "What do you know",
        (("geometry", "where the pins are"), ("pairs", "measured travels")),
        "Motion ratio is damper travel divided by wheel travel; some write the inverse.",
        name="known",
    ),
    Choice(
        "Which holes",
        (("two", "this one and another"), ("one", "this one only")),
        name="holes",
    ),
    *arm_fields(_DRAWN, _DRAWN + _TWO),
    Rows(
        "Travels from ride height",
        (
            _travel(
                "Wheel", "Up from where it stands at ride height; down is negative.", name="wheel"
            ),
            _travel(
                "Damper, other hole",
                "How much shorter the damper gets with its end in the other hole.",
                name="other", when=_TWO,
            ),
            _travel(
                "Damper", "How much shorter the damper gets; longer is negative.", name="damper"
            ),
        ),
        tuple((str(n), f"Pair {n}") for n in range(1, 9)),
        "Springs off, the chassis on a block at ride height. Two pairs give a ratio, four or more "
        "show how it changes.",
        name="pairs", least=2, when=_PAIRS,
        examples=(
            (-8e-3, -4.9e-3, -5.1e-3), (-4e-3, -2.45e-3, -2.6e-3), (0.0, 0.0, 0.0),
            (8e-3, 5.1e-3, 5.3e-3), (16e-3, 10.5e-3, 10.75e-3), (24e-3, 16.2e-3, 16.25e-3),
        ),
    ),
    Number(
        "Mount to mount at ride height, this hole", "length", *_APART,
        "From the middle of one screw to the middle of the other.",
        name="apart", example=66.5e-3, tool="ruler", when=_PAIRS + _TWO,
    ),
    Number(
        "Mount to mount at ride height, other hole", "length", *_APART,
        "The same with the chassis at the same height.",
        name="other_apart", example=67.1e-3, tool="ruler", when=_PAIRS + _TWO,
    ),
    from_car("{axle}.stroke"),
    from_car("{axle}.spring_rate"),
    from_car("{axle}.spring_free"),
    from_car("{axle}.spring_solid"),
    from_car("{axle}.droop_length"),
    from_car("{axle}.pitch"),
    from_car("{axle}.oil", when=_TWO),
    *corner_load_fields(),
    from_car("tools.turn_step"),
    from_car("thread_hand", when=_TWO),
    *friction_of_end(when=_TWO),
    *folded(Tyre),
    *folded(DrawnBody, when=_TWO),
)  # fmt: skip


FORM = Form(
    "motion-ratio",
    "Motion ratio and mounting holes",
    "car",
    "How far does the damper move with the wheel, and what would the other hole do?",
    FIELDS,
    solve,
    first=("other_lower_out", "other_lower_up", "other_upper_out", "other_upper_up"),
)
