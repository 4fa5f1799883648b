"""The piston in the forms: the entries that describe one, and what the model leaves in doubt."""

from dataclasses import replace

from calc.entry import Number, When
from calc.form import Given, Problem, from_car
from calc.physics import flow
from calc.physics.damper import Direction, Holes, Piston

DIRECTIONS: tuple[Direction, ...] = ("compression", "rebound")
_GROUPS = ("", "more_", "compression_", "rebound_")
_THIN = 0.5  # thickness over hole diameter below which the jet does not fill the hole again

DOUBTS = {
    "off_centre": (0.5, 12**-0.5, "how far off centre the piston runs"),
    "piston_law": (1.0, 0.1 * 3**-0.5, "the piston model, good to some 10 %"),
}
"""Inputs that nobody typed, for `with_inputs`: anywhere from centred to touching, and within 10 %
of the model, each as likely."""


def piston_fields(when: When = (), prefix: str = "") -> tuple[Number, ...]:
    """Bore, shaft, play, thickness and holes of the chosen end. With a prefix: those of another
    piston for the same body, which start as the car's and are never kept there."""
    inside = tuple(
        from_car(f"{{axle}}.inside.{group}{what}", prefix + group + what, when=when)
        for group in _GROUPS[1:]
        for what in ("holes", "hole")
    )
    holes = (
        from_car("{axle}.holes", prefix + "holes", when=when),
        from_car("{axle}.hole", prefix + "hole", when=when),
        *inside,
        from_car("{axle}.piston_thickness", prefix + "piston_thickness", when=when),
        from_car("{axle}.inside.clearance", prefix + "clearance", when=when),
    )
    if prefix:
        return tuple(replace(entry, fills_only=True, label=_other(entry.label)) for entry in holes)
    return (
        *holes,
        from_car("{axle}.bore", when=when),
        from_car("{axle}.shaft", when=when),
    )


def _other(label: str) -> str:
    return f"Other piston: {label[0].lower()}{label[1:]}"


def piston_from(given: Given, prefix: str = "") -> Piston:
    """The piston that was entered, off centre as far as `off_centre` says (see DOUBTS).

    Raises Problem where it cannot be, or lets no oil through in one direction.
    """
    groups = []
    for group in _GROUPS:
        count = given.numbers[f"{prefix}{group}holes"]
        diameter = given.numbers[f"{prefix}{group}hole"]
        if count > 0:
            only = group.rstrip("_")
            groups.append(Holes(round(count), diameter, only if only in DIRECTIONS else "both"))
    clearance = given.numbers[prefix + "clearance"]
    if given.shaft >= given.bore - clearance:
        raise Problem(
            "shaft", "Shaft diameter: it has to be thinner than the piston; measure both again."
        )
    try:
        piston = Piston(
            holes=tuple(groups),
            thickness=given.numbers[prefix + "piston_thickness"],
            diameter=given.bore - clearance,
            bore=given.bore,
            shaft=given.shaft,
            eccentricity=min(max(given.off_centre, 0.0), 1.0),
        )
    except ValueError as error:
        raise Problem(prefix + "hole", f"{given.labels[prefix + 'hole']}: {error}.") from error
    _check_open(given, piston, prefix)
    return piston


def _check_open(given: Given, piston: Piston, prefix: str) -> None:
    for direction in DIRECTIONS:
        ways = [group for group in piston.holes if group.one_way in ("both", direction)]
        if not ways and piston.gap == 0:
            label = given.labels[prefix + "holes"]
            raise Problem(
                prefix + "holes",
                f"{label}: in {direction} the oil would have no way past this piston; it needs "
                "a hole that is open then, or play.",
            )


def is_thin(piston: Piston) -> bool:
    """Whether the plate is so thin against its holes that it loses more than the model says."""
    return any(piston.thickness < _THIN * group.diameter for group in piston.holes)


def fastest_reynolds(piston: Piston, pressure: float, viscosity: float, density: float) -> float:
    """Highest Reynolds number in the holes under a pressure difference, Pa; 0 without holes."""
    numbers = [0.0]
    for group in piston.holes:
        way = flow.hole(group.diameter, piston.thickness, viscosity * density, density)
        speed = way.flow(pressure) / flow.circle(group.diameter)
        numbers.append(speed * group.diameter / viscosity)
    return max(numbers)
