"""The arm of an end as it is drawn at ride height: its fields, its two holes, what cannot be."""

from dataclasses import replace
from typing import Any

from calc.asking.entry import When
from calc.forms.failures import problem
from calc.language import later, tr
from calc.physics.failure import PhysicsError
from calc.physics.linkage import Linkage, position
from calc.physics.mounting import Hole, drawn_hole
from calc.replying.inputs import Group, Problem, from_car, group

TO_OTHER_HOLE = later("Move both {end} dampers to the other mounting hole.")


class DrawnArm(Group):
    """The pins of an arm, its damper in the hole now used and in the other, m."""

    pivot_out: float = from_car("{axle}.arm.pivot_out")
    pivot_up: float = from_car("{axle}.arm.pivot_up")
    wheel_out: float = from_car("{axle}.arm.wheel_out")
    wheel_up: float = from_car("{axle}.arm.wheel_up")
    lower_out: float = from_car("{axle}.arm.lower_out")
    lower_up: float = from_car("{axle}.arm.lower_up")
    upper_out: float = from_car("{axle}.arm.upper_out")
    upper_up: float = from_car("{axle}.arm.upper_up")
    other_lower_out: float = from_car("{axle}.arm.other_lower_out")
    other_lower_up: float = from_car("{axle}.arm.other_lower_up")
    other_upper_out: float = from_car("{axle}.arm.other_upper_out")
    other_upper_up: float = from_car("{axle}.arm.other_upper_up")
    kick_up: float = from_car("{axle}.arm.kick_up")
    damper_length: float = from_car("{axle}.damper_length")

    def linkage(self, *, other: bool = False) -> Linkage:
        """The arm with its damper in the hole now used, or in the other. Raises PhysicsError."""
        if other:
            lower = self.other_lower_out, self.other_lower_up
            upper = self.other_upper_out, self.other_upper_up
        else:
            lower = self.lower_out, self.lower_up
            upper = self.upper_out, self.upper_up
        return Linkage(
            pivot=(self.pivot_out, self.pivot_up),
            lower=lower,
            upper=upper,
            wheel=(self.wheel_out, self.wheel_up),
            kick_up=self.kick_up,
        )

    def hole(self, stroke: float, *, other: bool = False) -> Hole:
        """The hole over the damper's whole stroke, m. Raises PhysicsError."""
        return drawn_hole(self.linkage(other=other), longest=self.damper_length, stroke=stroke)

    def entry(self, *, other: bool) -> str:
        """The field at which to say what cannot be in a hole."""
        return self.at(DrawnArm.other_upper_out if other else DrawnArm.upper_out)

    def checked_hole(self, stroke: float, stroke_at: str, *, other: bool) -> Hole:
        """The hole, saying in a sentence what cannot be; `stroke_at` is the field of the stroke.
        Raises Problem."""
        entry, labels = self.entry(other=other), self.of.labels
        try:
            drawn = self.linkage(other=other)
        except PhysicsError as failure:
            raise problem(entry, labels[entry], failure) from failure
        apart = position(drawn, 0.0).damper_length
        longest, shortest = self.damper_length, self.damper_length - stroke
        say = self.of.say
        if apart > longest:
            at = entry if other else self.at(DrawnArm.damper_length)
            raise Problem(
                at,
                tr(
                    "{entry}: at ride height the mounts are {apart} apart, and the damper is "
                    "{longest} fully out: it does not reach.",
                    entry=labels[at],
                    apart=say(apart, "length"),
                    longest=say(longest, "length"),
                ),
            )
        if apart < shortest:
            at = entry if other else stroke_at
            raise Problem(
                at,
                tr(
                    "{entry}: at ride height the mounts are {apart} apart, and fully in the damper "
                    "is still {shortest} long: it does not fit in.",
                    entry=labels[at],
                    apart=say(apart, "length"),
                    shortest=say(max(shortest, 0.0), "length"),
                ),
            )
        try:
            return drawn_hole(drawn, longest=longest, stroke=stroke)
        except PhysicsError as failure:
            raise problem(entry, labels[entry], failure) from failure


def drawn_arm(*, when: When, two: When) -> Any:
    """`DrawnArm` of the chosen end; what is of the other hole only `when` there are `two`."""

    def both(entry: Any) -> Any:
        return replace(entry, when=entry.when + two) if "other_" in entry.name else entry

    return group(when=when, change=both)
