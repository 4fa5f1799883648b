"""The arm of an end as it is drawn at ride height: its fields, its two holes, what cannot be."""

from calc.asking.entry import Number, When
from calc.forms.failures import problem
from calc.language import tr
from calc.physics.failure import PhysicsError
from calc.physics.linkage import Linkage, Point, position
from calc.physics.mounting import Hole, drawn_hole
from calc.replying.form import Given, Problem, from_car

_POINTS = ("pivot", "wheel", "lower", "upper")
OTHER_POINTS = ("other_lower", "other_upper")


def arm_fields(when: When, other: When) -> tuple[Number, ...]:
    """Points of the arm; those of the other hole under their own condition."""
    return (
        *_fields(_POINTS, when),
        *_fields(OTHER_POINTS, other),
        from_car("{axle}.arm.kick_up", when=when),
        from_car("{axle}.damper_length", when=when),
    )


def _fields(points: tuple[str, ...], when: When) -> tuple[Number, ...]:
    return tuple(
        from_car(f"{{axle}}.arm.{point}_{way}", when=when)
        for point in points
        for way in ("out", "up")
    )


def point(given: Given, name: str) -> Point:
    return given.numbers[f"{name}_out"], given.numbers[f"{name}_up"]


def linkage(given: Given, other: bool = False) -> Linkage:
    """The arm with its damper in the hole now used, or in the other. Raises PhysicsError."""
    lower, upper = OTHER_POINTS if other else ("lower", "upper")
    return Linkage(
        pivot=point(given, "pivot"),
        lower=point(given, lower),
        upper=point(given, upper),
        wheel=point(given, "wheel"),
        kick_up=given.kick_up,
    )


def hole(given: Given, other: bool = False) -> Hole:
    """The hole over the damper's whole stroke. Raises PhysicsError."""
    drawn = linkage(given, other)
    return drawn_hole(drawn, longest=given.damper_length, stroke=given.stroke)


def checked_hole(given: Given, other: bool = False) -> Hole:
    """The same, saying in a sentence what cannot be. Raises Problem."""
    entry = "other_upper_out" if other else "upper_out"
    label = given.labels[entry]
    try:
        drawn = linkage(given, other)
    except PhysicsError as failure:
        raise problem(entry, label, failure) from failure
    apart = position(drawn, 0.0).damper_length
    longest, shortest = given.damper_length, given.damper_length - given.stroke
    say = given.say
    if apart > longest:
        raise Problem(
            entry if other else "damper_length",
            tr(
                "{entry}: at ride height the mounts are {apart} apart, and the damper is {longest} "
                "fully out: it does not reach.",
                entry=label if other else given.labels["damper_length"],
                apart=say(apart, "length"),
                longest=say(longest, "length"),
            ),
        )
    if apart < shortest:
        raise Problem(
            entry if other else "stroke",
            tr(
                "{entry}: at ride height the mounts are {apart} apart, and fully in the damper is "
                "still {shortest} long: it does not fit in.",
                entry=label if other else given.labels["stroke"],
                apart=say(apart, "length"),
                shortest=say(max(shortest, 0.0), "length"),
            ),
        )
    try:
        return drawn_hole(drawn, longest=longest, stroke=given.stroke)
    except PhysicsError as failure:
        raise problem(entry, label, failure) from failure
