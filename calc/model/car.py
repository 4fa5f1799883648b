"""The car record: what does not change from question to question. One schema, in one place.

Each attribute declares its entry (label, unit kind, ranges, how to measure it), so the forms, the
stored JSON and the tests all read the same declaration. Values are SI. `Car()` is the demo car,
an invention that stands in on first start and is marked as a demo; `demo()` is the same with its
names in the language spoken.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from functools import cache
from typing import Any

from calc.answering.hand import LEFT_HAND, RIGHT_HAND
from calc.answering.uncertainty import resolution
from calc.asking import record
from calc.asking.entry import Entry, Number, Refused, Text
from calc.asking.record import choice, many, number, part, text, uncertainties
from calc.language import later, tr
from calc.model import origin
from calc.model.arm import REAR_ARM, Arm
from calc.model.corners import Corner, End
from calc.model.inside import BY_DRILLS, DRILLS, REAR_INSIDE, Inside, RodEnd
from calc.model.origin import Origin, Origins
from calc.units import Unit, weight_unit

SCHEMA = 6
_READ = ("measured", "label")
OWNED = frozenset({"name", "tools", "weight_scale", "bottles", "springs", "demo"})
"""What its owner has, not what the car is set to: it stays where a set-up is put back."""
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
        label="Thread pitch of the body", kind="length", start="0.75 mm", usual="0.5 to 1.5 mm",
        possible="0.1 to 5 mm", relative=0.005,
        measure="Count ten turns of the collar, measure how far it went, divide by ten.",
    )  # fmt: skip
    motion_ratio: float = number(
        label="Motion ratio (damper travel divided by wheel travel)", kind="ratio", start="0.65",
        usual="0.4 to 1", possible="0.1 to 3", relative=0.02,
        measure="Spring off. Raise the wheel from 5 mm below to 5 mm above where it sits at "
                "ride height; shaft travel divided by 10. Some write the inverse: it is below 1 "
                "here when the damper moves less than the wheel.",
    )  # fmt: skip
    spring_free: float = number(
        label="Spring free length", kind="length", start="40 mm", usual="20 to 120 mm",
        possible="5 to 500 mm", tool="ruler",
        measure="Off the car, standing on the bench, with nothing on it.",
    )  # fmt: skip
    spring_rate: float = number(
        label="Spring rate", kind="rate", start="0.65 N/mm", usual="0.1 to 5 N/mm",
        possible="0.005 to 200 N/mm", relative=0.03,
        measure="From the label, or with a scale and a ruler.",
    )  # fmt: skip
    spring_solid: float = number(
        label="Spring solid length", kind="length", start="13 mm", usual="5 to 60 mm",
        possible="1 to 400 mm", tool="ruler", measure=SOLID_LENGTH,
    )  # fmt: skip
    droop_length: float = number(
        label="Spring length at full droop", kind="length", start="38.5 mm", usual="15 to 120 mm",
        possible="2 to 500 mm", tool="ruler",
        measure="Wheel hanging, damper fully out: from the collar to the cup.",
    )  # fmt: skip
    stroke: float = number(
        label="Damper stroke", kind="length", start="22 mm", usual="10 to 60 mm",
        possible="1 to 300 mm", tool="ruler", readings=2,
        measure="From shaft fully out to fully in, with the bump stop fitted.",
    )  # fmt: skip
    damper_length: float = number(
        label="Damper length, fully out", kind="length", start="71.8 mm", usual="40 to 200 mm",
        possible="5 to 1000 mm", tool="ruler",
        measure="Wheel hanging: from the middle of the upper mount to the middle of the lower one.",
    )  # fmt: skip
    bore: float = number(
        label="Bore of the body", kind="length", start="12 mm", usual="8 to 20 mm",
        possible="3 to 60 mm", tool="calliper",
        measure="Inside diameter of the body, with the calliper.",
    )  # fmt: skip
    shaft: float = number(
        label="Shaft diameter", kind="length", start="3 mm", usual="2 to 5 mm",
        possible="0.5 to 20 mm", tool="calliper",
        measure="With the calliper, on the bright part of the shaft.",
    )  # fmt: skip
    holes: float = number(
        label="Holes in the piston, open both ways", kind="count", start="3", usual="1 to 10",
        possible="0 to 20", whole=True, measure="Count them.",
    )  # fmt: skip
    hole: float = number(
        label="Diameter of a hole", kind="length", start="1.6 mm", usual="0.8 to 2 mm",
        possible="0.2 to 8 mm", reads=DRILLS, step="0.05 mm", measure=BY_DRILLS,
    )  # fmt: skip
    piston_thickness: float = number(
        label="Thickness of the piston", kind="length", start="2.5 mm", usual="1 to 4 mm",
        possible="0.2 to 20 mm", tool="calliper", measure="With the calliper, at a hole.",
    )  # fmt: skip
    oil: float = number(
        label="Oil in the dampers, at 25 °C", kind="viscosity", start="400 cSt",
        usual="100 to 1500 cSt", possible="5 to 200000 cSt", relative=0.03,
        measure="The cSt number on the bottle.",
    )  # fmt: skip
    oil_at: float = number(
        label="Temperature at which this oil is right", kind="temperature", start="22 °C",
        usual="0 to 50 °C", possible="-60 to 300 °C", relative=1 / 300,
        measure="Air in the shade on the day it felt right: the oil follows it.",
    )  # fmt: skip
    unsprung: float = number(
        label="Unsprung mass of one corner", kind="mass", start="70 g", usual="20 to 300 g",
        possible="0 to 5000 g", relative=0.1,
        measure="Wheel, hub carrier and half of the arm, on the scale.",
    )  # fmt: skip
    ride_height: float = number(
        label="Ride height now", kind="length", start="22 mm", usual="4 to 60 mm",
        possible="-20 to 400 mm", tool="height_gauge", asked_for=True,
        measure="Bounce the car, let it settle, measure under the chassis, in line with the axle.",
    )  # fmt: skip
    friction: float = number(
        label="Height after lifting less height after pressing down", kind="length",
        start="0.4 mm", typical="0.4 mm", usual="0 to 1.5 mm", possible="0 to 20 mm",
        tool="height_gauge", readings=2,
        measure="Press the car down, let it rise, measure; lift it, let it settle, measure. The "
        "mean is its ride height, the difference goes in here: seals and joints hold the car "
        "anywhere in between.",
    )  # fmt: skip
    tyre_rate: float = number(
        label="Tyre rate", kind="rate", start="3 N/mm", typical="3 N/mm", usual="1.5 to 6 N/mm",
        possible="0.05 to 1000000 N/mm", relative=0.1,
        measure="Press a wheel on a scale and measure how far the tyre gives.",
    )  # fmt: skip
    wanted_height: float = number(
        label="Ride height wanted", kind="length", start="23.5 mm", usual="4 to 60 mm",
        possible="-20 to 400 mm", step="0.5 mm", asked_for=True, now="ride_height",
        measure="At the same point under the chassis.",
    )  # fmt: skip
    reach: float = number(
        label="Measuring point: how far beyond the axle", kind="length",
        start="0 mm", typical="0 mm", typical_within="20 mm",
        usual="-120 to 120 mm", possible="-1000 to 1000 mm", tool="ruler",
        measure="0 in line with the axle. Otherwise how far the point lies beyond it (ahead of "
        "the front axle, behind the rear one); negative between the axles. It counts because the "
        "end of the chassis rises by more than the axle does.",
    )  # fmt: skip
    gauge_width: float = number(
        label="Distance between left and right measuring point", kind="length", start="80 mm",
        usual="20 to 300 mm", possible="1 to 1500 mm", tool="ruler", measure="Across the chassis.",
    )  # fmt: skip
    track: float = number(
        label="Track width", kind="length", start="210 mm", usual="120 to 400 mm",
        possible="30 to 2000 mm", tool="ruler",
        measure="From the middle of the left tyre to the middle of the right one.",
    )  # fmt: skip
    inside: Inside = part(Inside)
    arm: Arm = part(Arm)


@dataclass(frozen=True)
class CornerRecord:
    load: float = number(
        label="Load on the scale", kind="mass", start="400 g", usual="150 to 3000 g",
        possible="1 to 50000 g", tool="scale", asked_for=True,
        measure="Ready to run, one scale under each wheel, all at the same level. With two: the "
        "front pair, then the rear pair, blocks of their height under the other axle. With one: "
        "three blocks, and weigh wheel by wheel.",
    )  # fmt: skip
    collar: float = number(
        label="Collar from its mark", kind="turns", start="0 turns", typical="0 turns",
        usual="-20 to 20 turns", possible="-200 to 200 turns",
        measure="Count the turns from the mark: down is positive, up is negative.",
    )  # fmt: skip
    stroke: float = number(
        label="Stroke measured", kind="length", start="22 mm", usual="10 to 60 mm",
        possible="1 to 300 mm", tool="calliper", readings=2, asked_for=True,
        measure="Spring off: from the rod end to the body, shaft fully out, less the same fully "
        "in.",
    )  # fmt: skip
    engaged: float = number(
        label="Thread in the rod end", kind="length", start="8 mm", usual="4 to 15 mm",
        possible="0 to 60 mm", tool="ruler",
        measure="Count the turns until the rod end comes off, times the pitch of its thread.",
    )  # fmt: skip
    damper_length: float = number(
        label="Damper length measured, fully out", kind="length", start="71.8 mm",
        usual="40 to 200 mm", possible="5 to 1000 mm", tool="calliper", step="0.1 mm",
        asked_for=True,
        measure="Off the car, fully out, without the spring: from the middle of the upper eye to "
        "the middle of the rod end.",
    )  # fmt: skip


@dataclass(frozen=True)
class Corners:
    front_left: CornerRecord = part(CornerRecord, load="365 g", stroke="21.6 mm", engaged="8 mm")
    front_right: CornerRecord = part(CornerRecord, load="359 g", stroke="22.1 mm", engaged="7.5 mm")
    rear_left: CornerRecord = part(
        CornerRecord, load="462 g", stroke="30.4 mm", engaged="8 mm", damper_length="96.9 mm"
    )
    rear_right: CornerRecord = part(
        CornerRecord, load="470 g", stroke="29.5 mm", engaged="8.5 mm", damper_length="96.9 mm"
    )


@dataclass(frozen=True)
class Body:
    wheelbase: float = number(
        label="Wheelbase", kind="length", start="285 mm", usual="150 to 500 mm",
        possible="30 to 3000 mm", tool="ruler", measure="From the front axle to the rear axle.",
    )  # fmt: skip


@dataclass(frozen=True)
class Tools:
    """The smallest step that the owner can set or read with each tool."""

    turn_step: float = number(
        label="Smallest turn you set", kind="turns", start="0.25 turns", typical="0.25 turns",
        usual="0.25 to 0.5 turns",
        possible="0.01 to 1 turns",
        measure="Collars are set in quarter and half turns (common practice, no source).",
    )  # fmt: skip
    ruler: float = number(
        label="Ruler reads to", kind="length", start="0.5 mm", typical="0.5 mm",
        usual="0.1 to 1 mm",
        possible="0.01 to 10 mm", measure="The smallest step you trust.",
    )  # fmt: skip
    calliper: float = number(
        label="Calliper reads to", kind="length", start="0.05 mm", typical="0.05 mm",
        usual="0.01 to 0.1 mm",
        possible="0.001 to 1 mm", measure="The smallest step you trust.",
    )  # fmt: skip
    height_gauge: float = number(
        label="Height gauge reads to", kind="length", start="0.5 mm", typical="0.5 mm",
        usual="0.1 to 1 mm",
        possible="0.01 to 10 mm", measure="The smallest step you trust.",
    )  # fmt: skip
    scale: float = number(
        label="Scale reads to", kind="mass", start="1 g", typical="1 g", usual="0.1 to 5 g",
        possible="0.001 to 100 g", measure="Its last digit.",
    )  # fmt: skip
    oil_scale: float = number(
        label="Scale for oil reads to", kind="mass", start="0.1 g", typical="0.1 g",
        usual="0.01 to 1 g",
        possible="0.001 to 10 g", measure="Its last digit.",
    )  # fmt: skip
    syringe: float = number(
        label="Syringe marks", kind="volume", start="0.1 mL", typical="0.1 mL",
        usual="0.05 to 1 mL",
        possible="0.005 to 20 mL", measure="From one mark to the next.",
    )  # fmt: skip
    drop: float = number(
        label="One drop", kind="volume", start="0.03 mL", typical="0.03 mL",
        usual="0.01 to 0.06 mL",
        possible="0.002 to 0.5 mL",
        measure="Count the drops that fill one millilitre; thick and thin oil make drops of "
        "different size.",
    )  # fmt: skip


@dataclass(frozen=True)
class WeightScale:
    """The owner's line from a weight number to cSt, through two lines of a bottle's table. Weight
    numbers are no standard: as long as no line was noted, what stands here means nothing."""

    slope: float = number(
        label="cSt for each weight number", kind="ratio", start="1", usual="0.1 to 200",
        possible="0.1 to 200", measure="From two lines of the table of your bottle.",
    )  # fmt: skip
    offset: float = number(
        label="cSt added to that", kind="ratio", start="0", usual="-2000 to 2000",
        possible="-2000 to 2000", measure="From two lines of the table of your bottle.",
    )  # fmt: skip


@dataclass(frozen=True)
class Bottle:
    name: str = text(label="Name", measure="The name on the bottle.", optional=True)
    viscosity: float = number(
        label="Viscosity at 25 °C", kind="viscosity", start="400 cSt", usual="100 to 1500 cSt",
        possible="5 to 200000 cSt", relative=0.03, measure="The cSt number on the bottle.",
    )  # fmt: skip
    left: float | None = number(
        label="Remaining in the bottle", kind="volume", usual="0 to 100 mL",
        possible="0 to 5000 mL",
        measure="By eye is enough. Leave it empty where you cannot tell: then check yourself that "
        "there is enough.",
    )  # fmt: skip
    u: Mapping[str, float] = uncertainties("viscosity", "left")

    @property
    def at_most(self) -> float:
        """How much may be asked of it, m3: any amount where nobody has said what is in it."""
        return math.inf if self.left is None else self.left


@dataclass(frozen=True)
class Spring:
    name: str = text(label="Name", measure="Colour mark or number, as you call it.", optional=True)
    rate: float = number(
        label="Rate", kind="rate", start="0.65 N/mm", usual="0.1 to 5 N/mm",
        possible="0.005 to 200 N/mm", relative=0.03,
        measure="From the label, or with a scale and a ruler.",
    )  # fmt: skip
    free: float = number(
        label="Free length", kind="length", start="40 mm", usual="20 to 120 mm",
        possible="5 to 500 mm", tool="ruler", measure="Off the car, with nothing on it.",
    )  # fmt: skip
    solid: float = number(
        label="Solid length", kind="length", start="13 mm", usual="5 to 60 mm",
        possible="1 to 400 mm", tool="ruler", measure=SOLID_LENGTH,
    )  # fmt: skip
    u: Mapping[str, float] = uncertainties("rate", "free", "solid")


@dataclass(frozen=True)
class Car:
    name: str = text(start=later("Demo buggy"), label="Name of the car")
    thread_hand: str = choice(
        label="Thread of the body",
        options={RIGHT_HAND: "right-hand", LEFT_HAND: "left-hand"},
        measure="Right-hand: seen from the cap end, clockwise moves the collar down.",
    )
    front: Axle = part(Axle)
    rear: Axle = part(
        Axle, motion_ratio="0.62", spring_free="58 mm", spring_rate="0.5 N/mm",
        spring_solid="15 mm", droop_length="55.5 mm", stroke="30 mm", oil="300 cSt",
        unsprung="85 g", ride_height="23 mm", wanted_height="24 mm", track="212 mm",
        gauge_width="70 mm", damper_length="96.9 mm", arm=REAR_ARM, inside=REAR_INSIDE,
    )  # fmt: skip
    temperature: float = number(
        label="Temperature at which the set-up works", kind="temperature", start="22 °C",
        usual="0 to 50 °C", possible="-60 to 300 °C", relative=1 / 300,
        measure="Air in the shade, where the car stands: the oil follows it.",
    )  # fmt: skip
    rod_end: RodEnd = part(RodEnd)
    body: Body = part(Body)
    corners: Corners = part(Corners)
    tools: Tools = part(Tools)
    weight_scale: WeightScale = part(WeightScale)
    bottles: tuple[Bottle, ...] = many(
        Bottle,
        {"name": later("blue cap"), "viscosity": "200 cSt", "left": "60 mL"},
        {"viscosity": "300 cSt", "left": "25 mL"},
        {"viscosity": "350 cSt", "left": "8 mL"},
        {"viscosity": "500 cSt", "left": "45 mL"},
        {"name": later("red cap"), "viscosity": "800 cSt", "left": "50 mL"},
    )  # fmt: skip
    springs: tuple[Spring, ...] = many(
        Spring,
        {"name": later("front, one dot"), "rate": "0.65 N/mm", "free": "40 mm", "solid": "13 mm"},
        {"name": later("front, two dots"), "rate": "0.76 N/mm", "free": "40 mm", "solid": "14 mm"},
        {"name": later("rear, one dot"), "rate": "0.5 N/mm", "free": "58 mm", "solid": "15 mm"},
        {"name": later("rear, two dots"), "rate": "0.44 N/mm", "free": "60 mm", "solid": "14.5 mm"},
    )  # fmt: skip
    demo: bool = True
    origins: Origins = field(default_factory=dict, metadata={"apart": True})

    def axle(self, end: End) -> Axle:
        return self.front if end is End.FRONT else self.rear

    def corner(self, corner: Corner) -> CornerRecord:
        one: CornerRecord = getattr(self.corners, corner)
        return one

    def own_units(self, kind: str) -> tuple[Unit, ...]:
        """What an entry of a kind understands besides the usual units: "wt" for a viscosity, once
        two lines of a bottle's table were noted. None is built in, the demo car has none either."""
        noted = [self.origins.get(f"weight_scale.{name}") for name in ("slope", "offset")]
        if kind != "viscosity" or not all(one and one.how in _READ for one in noted):
            return ()
        return (weight_unit(self.weight_scale.slope, self.weight_scale.offset),)


def entry_at(path: str) -> record.Declared:
    """The declaration behind a path such as "front.pitch" or "bottles.2.left"."""
    return record.entry_at(Car, path)


def number_at(path: str) -> Number:
    """The declaration of the number at a path."""
    entry = declared().get(path) or entry_at(path)
    assert isinstance(entry, Number), path
    return entry


_SHARES: Mapping[str, tuple[float, float]] = {
    "spring_solid": (0.2, 0.5),
    "droop_length": (0.9, 1.0),
    "stroke": (0.3, 0.6),
}
"""What is usual of an end as a share of the free length of its springs (common practice, no
source)."""


def assumed_at(car: Car, path: str, typed: Mapping[str, float]) -> tuple[Any, Origin]:
    """What is assumed at a path, assumed again where the free length of its spring is known since
    or is another one: by what is `typed`, path by path, else by the record."""
    value, source = record.get(car, path), car.origins[path]
    end, _, name = path.partition(".")
    if name not in _SHARES:
        return value, source
    entry, free = number_at(path), f"{end}.spring_free"
    if free in typed or is_sure(car, free):
        length = typed.get(free, record.get(car, free))
        low, high = (share * length for share in _SHARES[name])
        entry = replace(entry, usual=(low, high))
    again = replace(origin.assumed(entry), when=source.when, of=source.of)
    return (value, source) if source == again else (origin.usual_value(entry), again)


def assumed_again(car: Car) -> Car:
    """The car with all that is assumed of its springs as their free lengths leave it."""
    for path, source in car.origins.items():
        if source.how == "assumed":
            value, again = assumed_at(car, path, {})
            if again != source:
                car = put(car, path, value, again)
    return car


def source_at(car: Car, path: str) -> Origin | None:
    """Where the value at a path comes from; of one in a list as much as its uncertainty tells."""
    if not record.in_list(path):
        return car.origins.get(path)
    row, _, name = path.rpartition(".")
    kept = record.get(car, row)
    u = kept.u.get(name) if kept else None
    return None if u is None else origin.entered(entry_at(path), 0.0, u)


def text_at(path: str) -> Text:
    """The declaration of the text at a path."""
    entry = entry_at(path)
    assert isinstance(entry, Text), path
    return entry


def collar_path(corner: Corner) -> str:
    """The path of a corner's collar."""
    return f"corners.{corner}.collar"


@cache
def declared() -> Mapping[str, record.Declared]:
    """Every entry of the record that is no row of a list, by path."""
    return dict(_entries(Car))


@cache
def singles() -> Mapping[str, record.Declared]:
    """The `declared` ones of which it may be asked whether they are known; the name always is."""
    return {path: entry for path, entry in declared().items() if path != "name"}


def _entries(kind: type, prefix: str = "") -> Iterator[tuple[str, record.Declared]]:
    for item in fields(kind):
        path = prefix + item.name
        if "part" in item.metadata:
            yield from _entries(item.metadata["part"], path + ".")
        elif "entry" in item.metadata:
            yield path, item.metadata["entry"]


def is_known(car: Car, path: str) -> bool:
    """Whether anybody has said what stands at a path. All of the demo car is known, and whatever
    stands in a list. A reading of a gauge that was only assumed, as it once could be, is not."""
    entry = singles().get(path)
    if car.demo or entry is None:
        return True
    source = car.origins.get(path)
    if source is None or source.how == "stale":
        return False
    return source.how != "assumed" or not is_asked_for(entry)


def is_asked_for(entry: Entry) -> bool:
    """Whether only a gauge on that very car or its owner tells it, so that it is never assumed."""
    return isinstance(entry, Number) and entry.asked_for


def is_sure(car: Car, path: str) -> bool:
    """Whether what stands at a path is more than what is usual."""
    source = car.origins.get(path)
    return is_known(car, path) and (car.demo or source is None or source.how != "assumed")


def is_entered(car: Car, path: str) -> bool:
    """Whether somebody has measured what stands at a path, or has read it off a label."""
    if car.demo or path not in singles():
        return True
    return path in car.origins and car.origins[path].how in _READ


def put(car: Car, path: str, value: Any, source: Origin | None = None) -> Car:
    """The car with another value at a path, and where it comes from. Without a source the origin
    stays what it is."""
    changed: Car = record.put(car, path, value)
    if source is None or path not in singles():
        return changed
    return replace(changed, origins={**car.origins, path: source})


def forget(car: Car, path: str) -> Car:
    """The car with the value at a path not known any more."""
    known = {name: one for name, one in car.origins.items() if name != path}
    changed: Car = record.put(car, path, _stand_in(singles()[path]))
    return replace(changed, origins=known)


def _stand_in(entry: record.Declared) -> Any:
    """What stands in a record in place of a value that is not known."""
    return origin.usual_value(entry) if isinstance(entry, Number) else entry.start


@cache
def _nothing_known() -> Car:
    car = replace(Car(), bottles=(), springs=(), demo=False)
    return _settled(car)


def entry_uncertainty(car: Car, entry: Number, value: float) -> float:
    """Standard uncertainty (SI) of a value that came without one: by the tool that it is read with
    (each of its readings apart, JCGM 100:2008, 5.1.2), else the entry's share of it."""
    if step := entry.reads or (getattr(car.tools, entry.tool) if entry.tool else 0.0):
        return resolution(step) * math.sqrt(entry.readings)
    return entry.relative * abs(value)


def demo() -> Car:
    """The demo car as it is shown, with its names in the language spoken."""
    car = _renamed(Car(), _demo_names())
    return replace(car, name=tr(car.name))


def _demo_names() -> dict[str, str]:
    """How the bottles and springs of the demo car are called, and the same in the language."""
    car = Car()
    names = [*(one.name for one in car.bottles), *(one.name for one in car.springs)]
    return {name: tr(name) for name in names if name}


def _renamed(car: Car, names: Mapping[str, str]) -> Car:
    """The car with other names for its bottles and springs."""
    bottles = (replace(one, name=names.get(one.name, one.name)) for one in car.bottles)
    springs = (replace(one, name=names.get(one.name, one.name)) for one in car.springs)
    return replace(car, bottles=tuple(bottles), springs=tuple(springs))


def empty(name: str) -> Car:
    """A car of which nothing but the name is known."""
    return replace(_nothing_known(), name=name)


def to_json(car: Car) -> dict[str, Any]:
    """The car as plain JSON values, SI, with the number of its schema. Bottles and springs of a
    demo car are stored by their English names, so that it can be read in another language."""
    if car.demo:
        car = _renamed(car, {said: name for name, said in _demo_names().items()})
    return {"schema": SCHEMA, **record.plain(car), "origins": origin.plain(car.origins)}


def from_json(stored: object) -> Car:
    """The car in stored JSON values, every one of them checked. Raises Refused.

    Schema 1 did not say where a value comes from: whatever it holds is marked as noted. What an
    older schema lacks nobody has entered then. Before schema 5 a bottle had an amount, before
    schema 6 no row of a list an uncertainty.
    """
    schema = stored.get("schema") if isinstance(stored, dict) else None
    if isinstance(schema, int) and schema > SCHEMA:
        raise Refused(tr("This car record is of a newer version: update the site, then try again."))
    if not isinstance(stored, dict) or schema not in _SCHEMAS or isinstance(schema, bool):
        raise Refused(tr("This is not a car record."))
    told = {key: value for key, value in stored.items() if key not in ("schema", "origins")}
    if schema == 1:
        told = _with_oil_at(told)
        noted = dict.fromkeys(singles().keys() - {*added_since(1)}, Origin("noted"))
    elif "origins" in stored:
        noted = origin.built(stored["origins"], singles())
    else:
        raise Refused(tr("This is not a car record."))
    told = with_new(told, added_since(schema))
    car: Car = record.built(Car, told, "car")
    if car.demo:
        car = _renamed(car, _demo_names())
        return car if schema == 1 else replace(car, origins=noted)
    return _settled(replace(car, origins=noted))


def _with_oil_at(told: dict[str, Any]) -> dict[str, Any]:
    """Schema 1 had one temperature for the oil of both ends."""
    ends = {end: told.get(end) for end in End}
    warm = {"oil_at": told.get("temperature")}
    return {**told, **{end: {**had, **warm} for end, had in ends.items() if isinstance(had, dict)}}


_SCHEMAS = (1, 2, 3, 4, 5, SCHEMA)
_AT_ENDS_3 = ("friction", "tyre_rate", "arm.kick_up", "inside.pressure", "inside.moving")
_NEW: Mapping[int, tuple[str, ...]] = {
    3: tuple(f"{end}.{path}" for end in End for path in _AT_ENDS_3),
    4: tuple(f"corners.{corner}.damper_length" for corner in Corner),
}
"""The paths that a schema has first."""


def added_since(schema: int) -> tuple[str, ...]:
    """The paths that a record of this schema lacks."""
    return tuple(path for new, paths in _NEW.items() if new > schema for path in paths)


def with_new(told: dict[str, Any], paths: tuple[str, ...]) -> dict[str, Any]:
    """The stored values with what stands in for those that are missing at these paths."""
    demo = told.get("demo") is True
    made = dict(told)
    for path in paths:
        *above, last = path.split(".")
        holder = made
        for name in above:
            if not isinstance(holder.get(name), dict):
                break  # damaged, as will be said
            holder[name] = dict(holder[name])
            holder = holder[name]
        else:
            holder.setdefault(last, record.get(Car(), path) if demo else _stand_in(singles()[path]))
    return made


def _settled(car: Car) -> Car:
    """The car with nothing in the place of what is not known that anybody could have entered."""
    for path, entry in singles().items():
        if path not in car.origins and record.get(car, path) != _stand_in(entry):
            put_in: Car = record.put(car, path, _stand_in(entry))
            car = put_in
    return car


def numbers() -> list[tuple[str, Number]]:
    """Every number of the car with its path; lists stand with their first row."""
    return list(record.numbers(Car))
