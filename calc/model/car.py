"""The car record: what does not change from question to question. One schema, in one place.

Each attribute declares its entry (label, unit kind, ranges, how to measure it), so the forms, the
stored JSON and the tests all read the same declaration. Values are SI. `Car()` is the demo car,
an invention that stands in on first start and is marked as a demo.
"""

from dataclasses import dataclass, field, replace
from typing import Any

from calc.answering.hand import LEFT_HAND, RIGHT_HAND
from calc.asking import record
from calc.asking.entry import Choice, Number, Refused
from calc.asking.record import many, number, part, text
from calc.language import tr
from calc.model.arm import REAR_ARM, Arm
from calc.model.corners import Corner as CornerKey
from calc.model.corners import End
from calc.model.inside import REAR_INSIDE, Inside, RodEnd
from calc.units import Unit, weight_unit

SCHEMA = 1
MM, GRAM, ML, CST = 1e-3, 1e-3, 1e-6, 1e-6
SOLID_LENGTH = (
    "Press it solid in a vice between two flat plates and measure. Or: (coils + 1) × wire, ends "
    "counted; coils × wire only where the ends are ground flat."
)
"""How to measure it; the rule is that of `physics.spring.solid_length`. Coils times wire alone is
too short where ends are not ground, and promises room to coil bind that is not there."""


@dataclass(frozen=True)
class Axle:
    """One end of the car: its two dampers, springs and wheels are taken to be alike."""

    pitch: float = number(
        0.75, "Thread pitch of the body", "length", MM, (0.5, 1.5), (0.1, 5),
        "Count ten turns of the collar, measure how far it went, divide by ten.", relative=0.005,
    )  # fmt: skip
    motion_ratio: float = number(
        0.65, "Motion ratio (damper travel divided by wheel travel)",
        "ratio", 1, (0.4, 1), (0.1, 3),
        "Lift the wheel 10 mm and measure how far the shaft went in; divide by 10. "
        "Some write the inverse: it is below 1 here when the damper moves less than the wheel.",
        relative=0.02,
    )  # fmt: skip
    spring_free: float = number(
        40, "Spring free length", "length", MM, (20, 120), (5, 500),
        "Off the car, standing on the bench, with nothing on it.", tool="ruler",
    )  # fmt: skip
    spring_rate: float = number(
        0.65, "Spring rate", "rate", 1e3, (0.1, 5), (0.005, 200),
        "From the label, or with a scale and a ruler.", relative=0.03,
    )  # fmt: skip
    spring_solid: float = number(
        13, "Spring solid length", "length", MM, (5, 60), (1, 400),
        SOLID_LENGTH, tool="ruler",
    )  # fmt: skip
    droop_length: float = number(
        38.5, "Spring length at full droop", "length", MM, (15, 120), (2, 500),
        "Wheel hanging, damper fully out: from the collar to the cup.", tool="ruler",
    )  # fmt: skip
    stroke: float = number(
        22, "Damper stroke", "length", MM, (10, 60), (1, 300),
        "From shaft fully out to fully in, bump stop included.", tool="ruler",
    )  # fmt: skip
    damper_length: float = number(
        71.8, "Damper length, fully out", "length", MM, (40, 200), (5, 1000),
        "Wheel hanging: from the middle of the upper mount to the middle of the lower one.",
        tool="ruler",
    )  # fmt: skip
    bore: float = number(
        12, "Bore of the body", "length", MM, (8, 20), (3, 60),
        "Inside diameter of the body, with the calliper.", tool="calliper",
    )  # fmt: skip
    shaft: float = number(
        3, "Shaft diameter", "length", MM, (2, 5), (0.5, 20),
        "With the calliper, on the bright part of the shaft.", tool="calliper",
    )  # fmt: skip
    holes: float = number(
        3, "Holes in the piston, open both ways", "count", 1, (1, 10), (0, 20), "Count them.",
        whole=True,
    )  # fmt: skip
    hole: float = number(
        1.6, "Diameter of a hole", "length", MM, (0.8, 2), (0.2, 8),
        "The largest drill shank that goes in without force.", tool="calliper",
    )  # fmt: skip
    piston_thickness: float = number(
        2.5, "Thickness of the piston", "length", MM, (1, 4), (0.2, 20),
        "With the calliper, at a hole.", tool="calliper",
    )  # fmt: skip
    oil: float = number(
        400, "Oil in the dampers, at 25 °C", "viscosity", CST, (100, 1500), (5, 200000),
        "The cSt number on the bottle.", relative=0.03,
    )  # fmt: skip
    unsprung: float = number(
        70, "Unsprung mass of one corner", "mass", GRAM, (20, 300), (0, 5000),
        "Wheel, hub and half of the arm, on the scale.", relative=0.1,
    )  # fmt: skip
    ride_height: float = number(
        22, "Ride height now", "length", MM, (4, 60), (-20, 400),
        "Bounce the car, let it settle, measure under the chassis.", tool="height_gauge",
    )  # fmt: skip
    wanted_height: float = number(
        23.5, "Ride height wanted", "length", MM, (4, 60), (-20, 400),
        "At the same point under the chassis.", step=0.5e-3,
    )  # fmt: skip
    reach: float = number(
        0, "Measuring point, outward from the axle", "length", MM, (-120, 120), (-1000, 1000),
        "How far the point lies beyond the axle line (ahead of the front axle, behind the rear "
        "one); negative when it lies between the axles.", tool="ruler",
    )  # fmt: skip
    gauge_width: float = number(
        80, "Distance between left and right measuring point", "length", MM, (20, 300), (1, 1500),
        "Across the chassis.", tool="ruler",
    )  # fmt: skip
    track: float = number(
        210, "Track", "length", MM, (120, 400), (30, 2000),
        "From the middle of the left tyre to the middle of the right one.", tool="ruler",
    )  # fmt: skip
    inside: Inside = part(Inside)
    arm: Arm = part(Arm)


@dataclass(frozen=True)
class Corner:
    load: float = number(
        400, "Load on the scale", "mass", GRAM, (150, 3000), (1, 50000),
        "Ready to run, one scale under each wheel, all at the same level.", tool="scale",
    )  # fmt: skip
    collar: float = number(
        0, "Collar, turns down from its mark", "turns", 1, (-20, 20), (-200, 200),
        "Count from the mark; up is negative.",
    )  # fmt: skip
    stroke: float = number(
        22, "Stroke measured", "length", MM, (10, 60), (1, 300),
        "Spring off: from the rod end to the body, shaft fully out, less the same fully in.",
        tool="calliper",
    )  # fmt: skip
    engaged: float = number(
        8, "Thread in the rod end", "length", MM, (4, 15), (0, 60),
        "Count the turns until the rod end comes off, times the pitch of its thread.",
        tool="ruler",
    )  # fmt: skip


@dataclass(frozen=True)
class Corners:
    front_left: Corner = part(Corner, load=0.365, stroke=21.6e-3, engaged=8e-3)
    front_right: Corner = part(Corner, load=0.359, stroke=22.1e-3, engaged=7.5e-3)
    rear_left: Corner = part(Corner, load=0.462, stroke=30.4e-3, engaged=8e-3)
    rear_right: Corner = part(Corner, load=0.470, stroke=29.5e-3, engaged=8.5e-3)


@dataclass(frozen=True)
class Body:
    wheelbase: float = number(
        285, "Wheelbase", "length", MM, (150, 500), (30, 3000),
        "From the front axle to the rear axle.", tool="ruler",
    )  # fmt: skip


@dataclass(frozen=True)
class Tools:
    """The smallest step that the owner can set or read with each tool."""

    turn_step: float = number(
        0.25, "Smallest turn you set", "turns", 1, (0.25, 0.5), (0.01, 1),
        "Collars are set in quarter and half turns (common practice, no source).",
    )  # fmt: skip
    ruler: float = number(
        0.5, "Ruler reads to", "length", MM, (0.1, 1), (0.01, 10),
        "The smallest step you trust.",
    )  # fmt: skip
    calliper: float = number(
        0.05, "Calliper reads to", "length", MM, (0.01, 0.1), (0.001, 1),
        "The smallest step you trust.",
    )  # fmt: skip
    height_gauge: float = number(
        0.5, "Height gauge reads to", "length", MM, (0.1, 1), (0.01, 10),
        "The smallest step you trust.",
    )  # fmt: skip
    scale: float = number(
        1, "Scale reads to", "mass", GRAM, (0.1, 5), (0.001, 100), "Its last digit.",
    )  # fmt: skip
    oil_scale: float = number(
        0.1, "Scale for oil reads to", "mass", GRAM, (0.01, 1), (0.001, 10), "Its last digit.",
    )  # fmt: skip
    syringe: float = number(
        0.1, "Syringe marks", "volume", ML, (0.05, 1), (0.005, 20),
        "From one mark to the next.",
    )  # fmt: skip
    drop: float = number(
        0.03, "One drop", "volume", ML, (0.01, 0.06), (0.002, 0.5),
        "Count the drops that fill one millilitre; thick oil makes other drops than thin.",
    )  # fmt: skip


@dataclass(frozen=True)
class WeightScale:
    """The owner's line from a weight number to cSt (common practice, no source; from memory)."""

    slope: float = number(
        15, "cSt for each weight number", "ratio", 1, (8, 20), (0.1, 200),
        "From the table of the oil you use; makers differ.",
    )  # fmt: skip
    offset: float = number(
        -100, "cSt added to that", "ratio", 1, (-200, 50), (-2000, 2000),
        "From the table of the oil you use; makers differ.",
    )  # fmt: skip

    def units(self, kind: str) -> tuple[Unit, ...]:
        """What an entry of a kind understands besides the usual units: "wt" for a viscosity."""
        return (weight_unit(self.slope, self.offset),) if kind == "viscosity" else ()


@dataclass(frozen=True)
class Bottle:
    name: str = text("", "Name", "What stands on the bottle.", optional=True)
    viscosity: float = number(
        400, "Viscosity at 25 °C", "viscosity", CST, (100, 1500), (5, 200000),
        "The cSt number on the bottle.", relative=0.03,
    )  # fmt: skip
    left: float = number(
        50, "Left in the bottle", "volume", ML, (0, 100), (0, 5000), "By eye is enough.",
    )  # fmt: skip


@dataclass(frozen=True)
class Spring:
    name: str = text("", "Name", "Colour mark or number, as you call it.", optional=True)
    rate: float = number(
        0.65, "Rate", "rate", 1e3, (0.1, 5), (0.005, 200),
        "From the label, or with a scale and a ruler.", relative=0.03,
    )  # fmt: skip
    free: float = number(
        40, "Free length", "length", MM, (20, 120), (5, 500),
        "Off the car, with nothing on it.", tool="ruler",
    )  # fmt: skip
    solid: float = number(
        13, "Solid length", "length", MM, (5, 60), (1, 400),
        SOLID_LENGTH, tool="ruler",
    )  # fmt: skip


@dataclass(frozen=True)
class Car:
    name: str = text("Demo buggy", "Name of the car")
    thread_hand: str = field(
        default=RIGHT_HAND,
        metadata={
            "entry": Choice(
                "Thread of the body",
                ((RIGHT_HAND, "right-hand"), (LEFT_HAND, "left-hand")),
                "Right-hand: seen from the cap end, clockwise moves the collar down.",
            )
        },
    )
    front: Axle = part(Axle)
    rear: Axle = part(
        Axle, motion_ratio=0.62, spring_free=58e-3, spring_rate=500, spring_solid=15e-3,
        droop_length=55.5e-3, stroke=30e-3, oil=300e-6, unsprung=0.085, ride_height=23e-3,
        wanted_height=24e-3, track=212e-3, gauge_width=70e-3, damper_length=96.9e-3,
        arm=REAR_ARM, inside=REAR_INSIDE,
    )  # fmt: skip
    temperature: float = number(
        295.15, "Temperature at which the set-up works", "temperature", 1,
        (273.15, 323.15), (213.15, 573.15),
        "Of the air in the shade, where the car stands: the oil follows it.",
    )  # fmt: skip
    rod_end: RodEnd = part(RodEnd)
    body: Body = part(Body)
    corners: Corners = part(Corners)
    tools: Tools = part(Tools)
    weight_scale: WeightScale = part(WeightScale)
    bottles: tuple[Bottle, ...] = many(
        Bottle, ("blue cap", 200e-6, 60e-6), ("", 300e-6, 25e-6), ("", 350e-6, 8e-6),
        ("", 500e-6, 45e-6), ("red cap", 800e-6, 50e-6),
    )  # fmt: skip
    springs: tuple[Spring, ...] = many(
        Spring, ("front, one dot", 650.0, 40e-3, 13e-3), ("front, two dots", 760.0, 40e-3, 14e-3),
        ("rear, one dot", 500.0, 58e-3, 15e-3), ("rear, two dots", 440.0, 60e-3, 14.5e-3),
    )  # fmt: skip
    demo: bool = True

    def axle(self, end: End) -> Axle:
        return self.front if end is End.FRONT else self.rear

    def corner(self, corner: CornerKey) -> Corner:
        one: Corner = getattr(self.corners, corner)
        return one


def entry_at(path: str) -> record.Declared:
    """The declaration behind a path such as "front.pitch" or "bottles.2.left"."""
    return record.entry_at(Car, path)


def put(car: Car, path: str, value: Any) -> Car:
    """The car with another value at a path. It is nobody's demo any more."""
    changed: Car = record.put(car, path, value)
    return replace(changed, demo=False)


def to_json(car: Car) -> dict[str, Any]:
    """The car as plain JSON values, SI, with the number of its schema."""
    return {"schema": SCHEMA, **record.plain(car)}


def from_json(stored: object) -> Car:
    """The car in stored JSON values, every one of them checked. Raises Refused."""
    schema = stored.get("schema") if isinstance(stored, dict) else None
    if isinstance(schema, int) and schema > SCHEMA:
        raise Refused(tr("This car record is of a newer version: update the site, then try again."))
    if not isinstance(stored, dict) or schema != SCHEMA:
        raise Refused(tr("This is not a car record."))
    car: Car = record.built(Car, {key: stored[key] for key in stored if key != "schema"}, "car")
    return car


def numbers() -> list[tuple[str, Number]]:
    """Every number of the car with its path; lists stand with their first row."""
    return list(record.numbers(Car))
