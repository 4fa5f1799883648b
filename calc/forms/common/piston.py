"""The piston in the forms: the entries that describe one, and what the model leaves in doubt."""

from dataclasses import replace

from calc.answering.answer import Caution
from calc.asking.entry import Number, When
from calc.forms.common.failures import problem
from calc.forms.common.oil_warm import within
from calc.language import later, tr
from calc.physics import damper, flow, oil
from calc.physics.damper import Direction, Holes, Piston
from calc.physics.failure import PhysicsError
from calc.replying.form import Given, Problem, from_car

DIRECTIONS: tuple[Direction, ...] = ("compression", "rebound")
OTHER = "other_"
_GROUPS = ("", "more_", "compression_", "rebound_")
_TURBULENT = 2300.0  # Reynolds number of a pipe; the model leaves turbulent friction out
_THIN = 0.5  # thickness over hole diameter below which the jet does not fill the hole again

DOUBTS = {
    "off_centre": (0.5, 12**-0.5, later("how far off centre the piston runs")),
    "piston_law": (1.0, 0.1 * 3**-0.5, later("the piston model, good to some 10%")),
}
"""Inputs that nobody typed, for `with_inputs`: anywhere from centred to touching, and within 10 %
of the model, each as likely."""


def piston_fields(when: When = ()) -> tuple[Number, ...]:
    """Holes, thickness, play, bore and shaft of the dampers of the chosen end."""
    further = (
        from_car(f"{{axle}}.inside.{group}{what}", when=when)
        for group in _GROUPS[1:]
        for what in ("holes", "hole")
    )
    return (
        from_car("{axle}.holes", when=when),
        from_car("{axle}.hole", when=when),
        *further,
        from_car("{axle}.piston_thickness", when=when),
        from_car("{axle}.inside.clearance", when=when),
        from_car("{axle}.bore", when=when),
        from_car("{axle}.shaft", when=when),
    )


_OTHER_STARTS = {"holes": 2.0, "hole": 1.9e-3}


def other_piston_fields(when: When = ()) -> tuple[Number, ...]:
    """Another piston for the same body. Its plate and play start as the car's, its holes do not;
    nothing of it is kept in the car."""
    made = []
    for entry in piston_fields(when)[:-2]:
        label = f"Other piston: {entry.label[0].lower()}{entry.label[1:]}"
        other = replace(entry, name=OTHER + entry.name, label=label, fills_only=True)
        if entry.name in _OTHER_STARTS:
            other = replace(other, car="", start=_OTHER_STARTS[entry.name])
        made.append(other)
    return tuple(made)


def _holes(given: Given, prefix: str) -> tuple[Holes, ...]:
    groups = []
    for group in _GROUPS:
        count = given.numbers[f"{prefix}{group}holes"]
        diameter = given.numbers[f"{prefix}{group}hole"]
        if count > 0:
            only = group.rstrip("_")
            groups.append(Holes(round(count), diameter, only if only in DIRECTIONS else "both"))
    return tuple(groups)


def piston_from(given: Given, prefix: str = "") -> Piston:
    """The piston that was entered, off centre as far as `off_centre` says (see DOUBTS).

    Raises Problem where it cannot be, or lets no oil through in one direction.
    """
    clearance = given.numbers[prefix + "clearance"]
    if given.shaft >= given.bore - clearance:
        raise Problem(
            "shaft",
            tr("Shaft diameter: it has to be thinner than the piston; measure both again."),
        )
    try:
        piston = Piston(
            holes=_holes(given, prefix),
            thickness=given.numbers[prefix + "piston_thickness"],
            diameter=given.bore - clearance,
            bore=given.bore,
            shaft=given.shaft,
            eccentricity=min(max(given.off_centre, 0.0), 1.0),
        )
    except PhysicsError as failure:
        raise problem(prefix + "hole", given.labels[prefix + "hole"], failure) from failure
    _check_open(given, piston, prefix)
    return piston


def _check_open(given: Given, piston: Piston, prefix: str) -> None:
    for direction in DIRECTIONS:
        ways = [group for group in piston.holes if group.one_way in ("both", direction)]
        if not ways and piston.gap == 0:
            raise Problem(
                prefix + "holes",
                tr(
                    "{entry}: in {direction} the oil would have no way past this piston; it needs "
                    "a hole that is open then, or play.",
                    entry=given.labels[prefix + "holes"],
                    direction=direction_word(direction),
                ),
            )


_WORDS: dict[Direction, str] = {
    "compression": later("compression"),
    "rebound": later("rebound"),
}


def direction_word(direction: Direction) -> str:
    """ "compression" or "rebound" in the language spoken, for the inside of a sentence."""
    return tr(_WORDS[direction])


def oil_at(given: Given, grade: float) -> tuple[float, float]:
    """Kinematic viscosity, m2/s, and density, kg/m3, of a grade at the temperature `warm`, as far
    as `law_now` says that it follows the law."""
    warm = within(given.warm)
    return oil.viscosity_at(grade, warm) * given.law_now, oil.density(grade, warm)


def directions(piston: Piston) -> tuple[Direction, ...]:
    """Both where they differ, else one that stands for both."""
    differs = any(group.one_way != "both" for group in piston.holes)
    return DIRECTIONS if differs else DIRECTIONS[:1]


def piston_cautions(
    given: Given, piston: Piston, warm: tuple[float, float], speed: float
) -> list[Caution]:
    """What the model of this piston does not cover, with the oil `warm` up to the speed."""
    found = []
    if any(piston.thickness < _THIN * group.diameter for group in piston.holes):
        found.append(
            Caution(
                tr(
                    "The piston is thinner than half the diameter of a hole: so thin a plate loses "
                    "more at high speed than this model says."
                )
            )
        )
    drop = max(damper.pressure(piston, speed, *warm, way) for way in DIRECTIONS)
    if _reynolds(piston, drop, *warm) > _TURBULENT:
        text = tr(
            "At {speed} the flow in the holes is turbulent: the force is then more than this "
            "model says.",
            speed=given.say(speed, "speed"),
        )
        found.append(Caution(text))
    return found


def _reynolds(piston: Piston, pressure: float, viscosity: float, density: float) -> float:
    """Highest Reynolds number in the holes under a pressure difference, Pa; 0 without holes."""
    numbers = [0.0]
    for group in piston.holes:
        way = flow.hole(group.diameter, piston.thickness, viscosity * density, density)
        speed = way.flow(pressure) / flow.circle(group.diameter)
        numbers.append(speed * group.diameter / viscosity)
    return max(numbers)
