"""The arm of an end as it is drawn at ride height: its fields, its two holes, what cannot be."""

from collections.abc import Callable

from calc.entry import Number, When
from calc.form import Given, Problem, from_car
from calc.physics.linkage import Linkage, Point, position, position_for_length
from calc.physics.mounting import Hole, drawn_hole

_POINTS = ("pivot", "wheel", "lower", "upper")
OTHER_POINTS = ("other_lower", "other_upper")


def arm_fields(when: When, other: When) -> tuple[Number, ...]:
    """Points of the arm; those of the other hole under their own condition."""
    return (
        *_fields(_POINTS, when),
        *_fields(OTHER_POINTS, other),
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
    """The arm with its damper in the hole now used, or in the other. Raises ValueError."""
    lower, upper = OTHER_POINTS if other else ("lower", "upper")
    return Linkage(
        pivot=point(given, "pivot"),
        lower=point(given, lower),
        upper=point(given, upper),
        wheel=point(given, "wheel"),
    )


def hole(given: Given, other: bool = False) -> Hole:
    """The hole over the damper's whole stroke. Raises ValueError."""
    drawn = linkage(given, other)
    return drawn_hole(drawn, longest=given.damper_length, stroke=given.stroke)


def checked_hole(given: Given, other: bool = False) -> Hole:
    """The same, saying in a sentence what cannot be. Raises Problem."""
    entry = "other_upper_out" if other else "upper_out"
    label = given.labels[entry]
    drawn = _said(entry, label, lambda: linkage(given, other))
    apart = position(drawn, 0.0).damper_length
    longest, shortest = given.damper_length, given.damper_length - given.stroke
    say = given.say
    if apart > longest:
        raise Problem(
            entry if other else "damper_length",
            f"{label if other else given.labels['damper_length']}: at ride height the mounts "
            f"are {say(apart, 'length')} apart, and the damper is {say(longest, 'length')} fully "
            "out: it does not reach.",
        )
    if apart < shortest:
        raise Problem(
            entry if other else "stroke",
            f"{label if other else given.labels['stroke']}: at ride height the mounts are "
            f"{say(apart, 'length')} apart, and fully in the damper is still "
            f"{say(max(shortest, 0.0), 'length')} long: it does not fit in.",
        )
    for end, length in (("full droop", longest), ("full bump", shortest)):
        _passes(entry, label, drawn, end, length)
    return drawn_hole(drawn, longest=longest, stroke=given.stroke)


def _said(entry: str, label: str, make: Callable[[], Linkage]) -> Linkage:
    try:
        return make()
    except ValueError as error:
        raise Problem(entry, f"{label}: {error}.") from error


def _passes(entry: str, label: str, drawn: Linkage, end: str, length: float) -> None:
    """Raise Problem where the arm cannot swing as far as the damper's stroke asks of it."""
    try:
        position_for_length(drawn, length)
    except ValueError as error:
        raise Problem(
            entry,
            f"{label}: before {end} the arm would stand upright or pass its dead centre, where "
            "the damper is in line with it; measure the points and the stroke again.",
        ) from error
