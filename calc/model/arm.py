"""The arm of an end in the car record: where its pins and both mounting holes of its damper are."""

from dataclasses import dataclass
from typing import Any

from calc.asking.record import number

MM = 1e-3


def _place(out: float, up: float, label: str, where: str) -> tuple[Any, Any]:
    """A point of an arm in its plane: how far out from the middle of the car, how far up."""
    return (
        number(
            out, f"{label}: out from the middle", "length", MM, (10, 150), (-100, 1000),
            f"{where} Along the ruler, from the middle line of the car outward.", tool="ruler",
        ),
        number(
            up, f"{label}: up from the bench", "length", MM, (5, 160), (-300, 1000),
            f"{where} Up from the bench, the car standing at its ride height.", tool="ruler",
        ),
    )  # fmt: skip


_PIVOT = _place(32, 30, "Arm pivot", "The middle of the inner hinge pin.")
_WHEEL = _place(98, 26, "Outer end of the arm", "The middle of the outer hinge pin.")
_LOWER = _place(78, 30, "Lower mount", "The middle of the screw that holds the rod end.")
_UPPER = _place(54, 92, "Upper mount", "The middle of the screw that holds the cap.")
_OTHER = "For the other hole; the same again where this end of the damper stays."
_OTHER_LOWER = _place(78, 30, "Lower mount, other hole", _OTHER)
_OTHER_UPPER = _place(48, 90, "Upper mount, other hole", _OTHER)


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


REAR_ARM = Arm(
    30e-3, 32e-3, 104e-3, 27e-3, 80e-3, 32e-3, 45e-3, 112e-3, 80e-3, 32e-3, 38e-3, 110e-3,
)  # fmt: skip
"""Of the demo car, whose front arm is `Arm()`."""
