"""The piston in the forms: its entries, and the uncertainty of the model."""

from dataclasses import replace
from typing import Any, Literal

from calc.answering.answer import Caution
from calc.asking.declare import si
from calc.asking.entry import Number, When
from calc.forms.failures import problem
from calc.forms.oil_warm import WarmOil
from calc.language import later, tr
from calc.model.damper import DIRECTIONS
from calc.model.oil import at_temperature, clamp
from calc.physics import damper, flow, oil
from calc.physics.damper import Direction, Holes, Piston
from calc.physics.failure import PhysicsError
from calc.replying.inputs import Group, Inputs, Problem, assumed, from_car, group

FLOW_SOURCE = later(
    "Dagan, Weinbaum and Pfeffer, J. Fluid Mech. 115 (1982); form of the law: Dixon, "
    "The Shock Absorber Handbook"
)
_ROUNDS, _NEAR = 20, 1e-9
_TURBULENT = 2300.0  # Reynolds number of a pipe; the model leaves turbulent friction out
_OPEN = 0.2  # share of a piston that its holes take
_THIN = 0.5  # thickness over hole diameter below which the jet does not fill the hole again


class PistonInputs(Group):
    """Holes, thickness and play of a piston."""

    holes: float = from_car("{axle}.holes")
    hole: float = from_car("{axle}.hole")
    more_holes: float = from_car("{axle}.inside.more_holes")
    more_hole: float = from_car("{axle}.inside.more_hole")
    compression_holes: float = from_car("{axle}.inside.compression_holes")
    compression_hole: float = from_car("{axle}.inside.compression_hole")
    rebound_holes: float = from_car("{axle}.inside.rebound_holes")
    rebound_hole: float = from_car("{axle}.inside.rebound_hole")
    piston_thickness: float = from_car("{axle}.piston_thickness")
    clearance: float = from_car("{axle}.inside.clearance")


class DamperInputs(PistonInputs):
    """A piston with the bore that it runs in and its shaft."""

    bore: float = from_car("{axle}.bore")
    shaft: float = from_car("{axle}.shaft")


class PistonModel(WarmOil):
    """The dampers of the chosen end and the inputs that nobody types: anywhere from centred to
    touching, and within 10 % of the model, each as likely."""

    piston: DamperInputs
    off_centre: float = assumed("how far off centre the piston runs", 0.5, 12**-0.5)
    piston_law: float = assumed("the piston model, good to about 10%", 1.0, 0.1 * 3**-0.5)

    def made(self, piston: PistonInputs | None = None) -> Piston:
        """The piston in these dampers, or another in its place. Raises Problem."""
        return piston_from(piston or self.piston, self.piston, self.off_centre)


_OTHER_EXAMPLES = {"other_holes": "2", "other_hole": "1.9 mm"}


def other_piston_inputs(when: When = ()) -> Any:
    """`PistonInputs` of another piston for the same body. Its plate and play start as the car's,
    its holes do not; nothing of it is kept in the car."""
    return group(prefix="other_", when=when, change=_other)


def _other(entry: Number) -> Number:
    label = f"Other piston: {entry.label[0].lower()}{entry.label[1:]}"
    other = replace(entry, label=label, fills_only=True)
    if entry.name in _OTHER_EXAMPLES:
        return replace(other, car="", example=si(_OTHER_EXAMPLES[entry.name], entry.kind))
    return other


_OneWay = Literal["both"] | Direction


def _holes(piston: PistonInputs) -> list[tuple[Any, Holes]]:
    """The groups of holes that there are, each with the field of its diameter."""
    groups: tuple[tuple[Any, float, float, _OneWay], ...] = (
        (PistonInputs.hole, piston.holes, piston.hole, "both"),
        (PistonInputs.more_hole, piston.more_holes, piston.more_hole, "both"),
        (
            PistonInputs.compression_hole,
            piston.compression_holes, piston.compression_hole, "compression",
        ),
        (PistonInputs.rebound_hole, piston.rebound_holes, piston.rebound_hole, "rebound"),
    )  # fmt: skip
    return [
        (field, Holes(round(count), diameter, way))
        for field, count, diameter, way in groups
        if count > 0
    ]


def piston_from(piston: PistonInputs, damper: DamperInputs, off_centre: float) -> Piston:
    """A piston that was entered, in a damper, off centre by a share of its play.

    Raises Problem where it cannot be, or lets no oil through in one direction.
    """
    clearance = piston.clearance
    if damper.shaft >= damper.bore - clearance:
        raise Problem(
            damper.at(DamperInputs.shaft),
            tr("Shaft diameter: it has to be thinner than the piston; measure both again."),
        )
    try:
        made = Piston(
            holes=tuple(holes for _, holes in _holes(piston)),
            thickness=piston.piston_thickness,
            diameter=damper.bore - clearance,
            bore=damper.bore,
            shaft=damper.shaft,
            eccentricity=min(max(off_centre, 0.0), 1.0),
        )
    except PhysicsError as failure:
        label = piston.label_of(PistonInputs.hole)
        raise problem(piston.at(PistonInputs.hole), label, failure) from failure
    _check_room(made, piston)
    _check_open(made, piston)
    return made


def _check_room(made: Piston, piston: PistonInputs) -> None:
    """Raises Problem where a hole is as wide as the piston between shaft and rim."""
    for field, holes in _holes(piston):
        if holes.diameter >= made.room:
            raise Problem(
                piston.at(field),
                tr(
                    "{entry}: so wide a hole does not fit between shaft and rim of this piston; "
                    "look at the digits.",
                    entry=piston.label_of(field),
                ),
            )


def _check_open(made: Piston, piston: PistonInputs) -> None:
    for direction in DIRECTIONS:
        ways = [group for group in made.holes if group.one_way in ("both", direction)]
        if not ways and made.gap == 0:
            raise Problem(
                piston.at(PistonInputs.holes),
                tr(
                    "{entry}: in {direction} the oil would have no way past this piston; it needs "
                    "a hole that is open then, or play.",
                    entry=piston.label_of(PistonInputs.holes),
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


def oil_at(asked: WarmOil, grade: float) -> tuple[float, float]:
    """Kinematic viscosity, m2/s, and density, kg/m3, of a grade at the temperature `warm`, as far
    as `law_now` says that it follows the law."""
    return at_temperature(grade, asked.warm, asked.law_now)


def grade_holding(
    asked: WarmOil, piston: Piston, force: float, speed: float, way: Direction
) -> float:
    """The grade, m2/s at 25 C, with which a piston holds with a force (N) at a speed (m/s).

    Raises PhysicsError where none does.
    """
    warm, grade = clamp(asked.warm), asked.oil
    for _ in range(_ROUNDS):  # the density hardly depends on the grade
        was, density = grade, oil.density(grade, warm)
        viscosity = damper.viscosity_for(force, piston, speed, density, way)
        grade = oil.viscosity_25_from(viscosity / asked.law_now, warm)
        if abs(grade / was - 1) < _NEAR:
            break
    return grade


def piston_cautions(
    asked: Inputs, piston: Piston, warm: tuple[float, float], speed: float
) -> list[Caution]:
    """What the model of this piston does not cover, with the oil `warm` up to the speed."""
    found = []
    if piston.open_share > _OPEN:
        found.append(
            Caution(
                tr(
                    "The holes take {share} of the piston: few have more than a fifth (common "
                    "practice, no source). Look at count and digits.",
                    share=asked.say(piston.open_share, "share"),
                )
            )
        )
    if any(piston.thickness < _THIN * group.diameter for group in piston.holes):
        found.append(
            Caution(
                tr(
                    "The piston is thinner than half the diameter of a hole: so thin a plate damps "
                    "more at high speed than this model says."
                )
            )
        )
    drop = max(damper.pressure(piston, speed, *warm, way) for way in DIRECTIONS)
    if _reynolds(piston, drop, *warm) > _TURBULENT:
        text = tr(
            "At {speed} the flow in the holes is turbulent: the force is then more than this "
            "model says.",
            speed=asked.say(speed, "speed"),
        )
        found.append(Caution(text))
    return found


def _reynolds(piston: Piston, pressure: float, viscosity: float, density: float) -> float:
    """Highest Reynolds number in the holes under a pressure difference, Pa; 0 without holes."""
    numbers = [0.0]
    for holes in piston.holes:
        way = flow.hole(holes.diameter, piston.thickness, viscosity * density, density)
        speed = way.flow(pressure) / flow.circle(holes.diameter)
        numbers.append(speed * holes.diameter / viscosity)
    return max(numbers)
