"""The arm of an end in the car record: where its pins and both mounting holes of its damper are."""

from dataclasses import dataclass, fields
from typing import Any

from calc.asking.record import number, with_quantities


def _place(
    out: int, up: int, label: str, where: str, *, usual_out: str, usual_up: str
) -> tuple[Any, Any]:
    """A point of an arm in its plane: how far out from the middle of the car, how far up. The
    middles of what is usual make an arm that can be built: they stand in where nobody knows one."""
    return (
        number(
            label=f"{label}: out from the middle", kind="length", start=f"{out} mm",
            usual=usual_out, possible="-100 to 1000 mm", tool="ruler",
            measure=f"{where} Along the ruler, from the middle line of the car outward.",
        ),
        number(
            label=f"{label}: up from the bench", kind="length", start=f"{up} mm",
            usual=usual_up, possible="-300 to 1000 mm", tool="ruler",
            measure=f"{where} Up from the bench, the car standing at its ride height.",
        ),
    )  # fmt: skip


_PINS_UP, _HIGH_UP = "8 to 70 mm", "40 to 160 mm"
_LOWER_OUT, _UPPER_OUT = "35 to 140 mm", "20 to 95 mm"
_PIVOT = _place(
    32, 30, "Arm pivot", "The middle of the inner hinge pin.",
    usual_out="10 to 60 mm", usual_up=_PINS_UP,
)  # fmt: skip
_WHEEL = _place(
    98, 26, "Outer end of the arm", "The middle of the outer hinge pin.",
    usual_out="45 to 170 mm", usual_up=_PINS_UP,
)  # fmt: skip
_LOWER = _place(
    78, 30, "Lower mount", "The middle of the screw that holds the rod end.",
    usual_out=_LOWER_OUT, usual_up=_PINS_UP,
)  # fmt: skip
_UPPER = _place(
    54, 92, "Upper mount", "The middle of the screw that holds the cap.",
    usual_out=_UPPER_OUT, usual_up=_HIGH_UP,
)  # fmt: skip
_OTHER = "For the other hole; the same again where this end of the damper stays."
_OTHER_LOWER = _place(
    78, 30, "Lower mount, other hole", _OTHER, usual_out=_LOWER_OUT, usual_up=_PINS_UP
)
_OTHER_UPPER = _place(
    48, 90, "Upper mount, other hole", _OTHER, usual_out="18 to 88 mm", usual_up=_HIGH_UP
)


@dataclass(frozen=True)
class Arm:
    """One arm of an end seen along the car, with its damper in the hole now used and in another."""

    pivot_out: float = _PIVOT[0]
    pivot_up: float = _PIVOT[1]
    wheel_out: float = _WHEEL[0]
    wheel_up: float = _WHEEL[1]
    lower_out: float = _LOWER[0]
    lower_up: float = _LOWER[1]
    upper_out: float = _UPPER[0]
    upper_up: float = _UPPER[1]
    other_lower_out: float = _OTHER_LOWER[0]
    other_lower_up: float = _OTHER_LOWER[1]
    other_upper_out: float = _OTHER_UPPER[0]
    other_upper_up: float = _OTHER_UPPER[1]
    kick_up: float = number(
        label="Kick-up of the hinge pin", kind="angle", start="0 °", typical="8 °",
        usual="0 to 25 °", possible="-45 to 45 °", relative=0.1,
        measure="How far the inner hinge pin rises towards the front, as an angle to the bench; "
        "the mounts of the damper are taken to lean back with it.",
    )  # fmt: skip


PLACES = tuple(
    item.name
    for item in fields(Arm)
    if item.name.endswith(("_out", "_up")) and not item.name.startswith(("other_", "kick_"))
)
"""Of the pins as they are now, without those of the other hole."""

REAR_ARM = with_quantities(
    Arm, pivot_out="30 mm", pivot_up="32 mm", wheel_out="104 mm", wheel_up="27 mm",
    lower_out="80 mm", lower_up="32 mm", upper_out="45 mm", upper_up="112 mm",
    other_lower_out="80 mm", other_lower_up="32 mm", other_upper_out="38 mm",
    other_upper_up="110 mm",
)  # fmt: skip
"""Of the demo car, whose front arm is `Arm()`."""
