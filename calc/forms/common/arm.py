"""The arm of an end as it is drawn at ride height: its fields, its two holes, what cannot be."""

from collections.abc import Callable

from calc.asking.entry import Number, When
from calc.language import tr
from calc.physics.linkage import Linkage, Point, position, position_for_length
from calc.physics.mounting import Hole, drawn_hole
from calc.replying.form import Given, Problem, from_car

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
    for end, length in ((tr("full droop"), longest), (tr("full bump"), shortest)):
        _passes(entry, label, drawn, end, length)
    return drawn_hole(drawn, longest=longest, stroke=given.stroke)


def _said(entry: str, label: str, make: Callable[[], Linkage]) -> Linkage:
    try:
        return make()
    except ValueError as error:
        # The physics says what cannot be in one clause of English, without a number in it.
        raise Problem(entry, tr("{entry}: {why}.", entry=label, why=tr(str(error)))) from error


def _passes(entry: str, label: str, drawn: Linkage, end: str, length: float) -> None:
    """Raise Problem where the arm cannot swing as far as the damper's stroke asks of it."""
    try:
        position_for_length(drawn, length)
    except ValueError as error:
        raise Problem(
            entry,
            tr(
                "{entry}: before {end} the arm would stand upright or pass its dead centre, where "
                "the damper is in line with it; measure the points and the stroke again.",
                entry=label,
                end=end,
            ),
        ) from error
