"""Values of the car record that a form needs beside its own subject.

They are fields like any other, so that one that nobody knows keeps the form open and one that is
assumed brings its usual range; the page folds them at the end of the form.
"""

from collections.abc import Callable
from dataclasses import replace
from math import inf
from typing import Any

from calc.asking.entry import Number, When
from calc.forms.names import END_LABELS
from calc.language import later
from calc.model.corners import ENDS, End
from calc.replying.inputs import Group, assumed, from_car, groups

FOLDED = "record"
"""`group` of the fields that are folded."""
OfEnd = Callable[[str], Callable[[Any], Any]]
"""What makes an entry for the chosen end one for an end."""


class ArmPlaces(Group):
    """Where the pins of the arm and of its damper are, in the hole now used. None of it is asked
    for: without, it is not known how the motion ratio grows."""

    pivot_out: float | None = from_car("{axle}.arm.pivot_out", optional=True)
    pivot_up: float | None = from_car("{axle}.arm.pivot_up", optional=True)
    wheel_out: float | None = from_car("{axle}.arm.wheel_out", optional=True)
    wheel_up: float | None = from_car("{axle}.arm.wheel_up", optional=True)
    lower_out: float | None = from_car("{axle}.arm.lower_out", optional=True)
    lower_up: float | None = from_car("{axle}.arm.lower_up", optional=True)
    upper_out: float | None = from_car("{axle}.arm.upper_out", optional=True)
    upper_up: float | None = from_car("{axle}.arm.upper_up", optional=True)
    kick_up: float = from_car("{axle}.arm.kick_up")
    growth: float = assumed(later("change of the motion ratio, by the arm in the car record"))
    """How the motion ratio grows at ride height, 1/m of wheel rise; see `calc.forms.growth`."""


class Tyre(Group):
    """What the wheel stands on."""

    tyre_rate: float = from_car("{axle}.tyre_rate")


class Shaft(Group):
    """How far the shaft goes; without, it is not known where the damper is fully in."""

    stroke: float | None = from_car("{axle}.stroke", optional=True)

    @property
    def most(self) -> float:
        """The same, m; no limit where it is not known."""
        return inf if self.stroke is None else self.stroke


class DrawnBody(Group):
    """The damper as it is drawn to scale; without, it is not drawn."""

    bore: float | None = from_car("{axle}.bore", optional=True)
    shaft: float | None = from_car("{axle}.shaft", optional=True)


def at_the_end(entry: Any) -> Any:
    """An entry among those that are folded, for the `change` of a group."""
    return replace(entry, group=FOLDED)


def at_ends(*, prefix: str = "", when: When = (), change: OfEnd | None = None) -> Any:
    """The entries of the `Group` class in the annotation for both ends, as `asked.tyres[end]`."""
    return groups(keys=ENDS, prefix=f"{{key}}.{prefix}", when=when, change=change or of_end)


def of_end(end: str) -> Callable[[Any], Any]:
    """Makes an entry for the chosen end one for this end."""
    row = dict(END_LABELS)[End(end)]

    def made(entry: Number) -> Number:
        return replace(
            entry,
            label=f"{row}, {entry.label[0].lower()}{entry.label[1:]}",
            parts=(row, entry.label),
            car=entry.car.replace("{axle}", end),
            group=FOLDED,
        )

    return made
