"""The car on its four corners as it was entered: where it stands, and what came of turning."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import isclose

from calc.forms import entered
from calc.forms.collar_turns.inputs import Asked, EndRow
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.standing import Leg, Predicted, Standing, measuring_points, over_wheels
from calc.physics.chassis import Change, Point, move_seats
from calc.replying.inputs import Problem


@dataclass(frozen=True)
class Measured:
    """The car as it stands, where its height was measured, and the heights there in m."""

    legs: tuple[Leg, ...]
    points: tuple[Point, ...]
    heights: tuple[float, ...]

    @cached_property  # figures that are varied do without the plane through the heights
    def car(self) -> Standing:
        corners = [leg.wheel for leg in self.legs]
        return Standing(self.legs, over_wheels(self.points, self.heights, corners))

    def raised(self, offsets: Sequence[float]) -> "Measured":
        """Where the corners are lifted by so many m, by friction or by collars; by the linear
        model."""
        change = move_seats([leg.wheel for leg in self.legs], offsets)
        legs = tuple(
            replace(leg, reading=leg.reading + more)
            for leg, more in zip(self.legs, change.loads, strict=True)
        )
        return Measured(legs, self.points, tuple(self.heights_after(change)))

    def heights_after(self, change: Change) -> list[float]:
        """At the measuring points, m."""
        return [h + change.rise(p) for h, p in zip(self.heights, self.points, strict=True)]


@dataclass(frozen=True)
class Outcome:
    """Turns of each collar down, the exact ones where they were asked for, and what they bring:
    the car then, and the heights at the measuring points in m."""

    turns: tuple[float, ...]
    exact: tuple[float, ...]
    then: Predicted
    heights: tuple[float, ...]


def measured(asked: Asked) -> Measured:
    """Raises Problem."""
    ends = dict(zip(ENDS, asked.end, strict=True))
    points = measuring_points(
        asked.wheelbase,
        {end: row.reach for end, row in ends.items()},
        {end: row.gauge_width for end, row in ends.items()},
    )
    if isclose(points[0][0], points[2][0], abs_tol=1e-6):
        raise Problem(
            ends[End.FRONT].at(EndRow.reach),
            tr(
                "Measuring point: the front and the rear points lie at the same place, so the "
                "heights say nothing about how the car leans; measure nearer to the axles."
            ),
        )
    heights = tuple(row.height for row in asked.corner)
    return Measured(entered.legs(asked), points, heights)
