"""The whole car before and after one thing changes, collars not yet touched."""

from dataclasses import dataclass, fields, replace
from functools import cached_property

from calc.forms.common import arm
from calc.forms.common.end_damper import Bench, piston_inputs, piston_of
from calc.forms.common.oil_warm import law_doubt
from calc.forms.common.piston import DOUBTS
from calc.forms.common.seat import Seat, check_not_bound, stack_of
from calc.forms.fields import sprung_load
from calc.forms.inputs import Inputs, record_inputs, with_inputs
from calc.forms.names import corner_word, end_word
from calc.forms.whole_car.load import new_masses
from calc.language import tr
from calc.model.arm import Arm
from calc.model.car import Axle
from calc.model.corners import CORNERS, ENDS, End
from calc.physics.damper import Piston
from calc.physics.linkage import Position, position, wheel_damping
from calc.physics.ride import damping_ratio
from calc.physics.stack import Stack
from calc.replying.form import Given, Problem, part
from calc.units import STANDARD_GRAVITY

_AXLE = (
    "spring_rate", "spring_free", "spring_solid", "droop_length", "stroke", "motion_ratio",
    "pitch", "unsprung", "oil", "track", "damper_length",
)  # fmt: skip
_ARM = tuple(item.name for item in fields(Arm))
_DRAWN = (*_ARM, "damper_length", "stroke")


@dataclass(frozen=True)
class Sprung:
    """One end of the car, SI; its two corners are alike but for their loads."""

    key: End
    stack: Stack
    motion_ratio: float
    droop_length: float
    stroke: float
    pitch: float
    unsprung: float
    track: float
    oil: float
    piston: Piston

    def seat(self, mass: float) -> Seat:
        """A corner of this end whose scale shows a mass in kg. Raises Problem."""
        return Seat(
            stack=self.stack,
            load=sprung_load(mass, self.unsprung, "change"),
            motion_ratio=self.motion_ratio,
            droop_length=self.droop_length,
            stroke=self.stroke,
        )

    def ratio(self, seat: Seat, bench: Bench, grade: float) -> float:
        """Damping ratio of a corner with an oil."""
        damping = bench.damping(self.piston, grade)
        return damping_ratio(
            damping=wheel_damping(damping=damping, motion_ratio=self.motion_ratio),
            rate=seat.wheel_rate,
            mass=seat.load / STANDARD_GRAVITY,
        )


@dataclass(frozen=True)
class Pair:
    """An end and what the scales under its two wheels show, kg; `apart` is how far a new hole moved
    the mounts of its dampers, m."""

    end: Sprung
    masses: tuple[float, ...]
    apart: float = 0.0

    @cached_property  # so that what each of them works out is kept too
    def seats(self) -> tuple[Seat, ...]:
        return tuple(map(self.end.seat, self.masses))

    @cached_property
    def mean_seat(self) -> Seat:
        """The corner with the mean load of both."""
        return self.end.seat(sum(self.masses) / 2)

    def turns_to(self, after: "Pair") -> list[float]:
        """Turns of both collars that keep the body where it is."""
        both = zip(self.seats, after.seats, strict=True)
        return [now.shift_to(then, after.apart) / after.end.pitch for now, then in both]

    def settled(self, after: "Pair") -> Seat:
        """The mean corner after the change, its collar where the height stays."""
        return after.mean_seat.down(self.mean_seat.shift_to(after.mean_seat, after.apart))


@dataclass(frozen=True)
class State:
    """The car: its two ends, and the wheelbase in m."""

    front: Pair
    rear: Pair
    wheelbase: float

    def pair(self, key: End) -> Pair:
        return self.front if key is End.FRONT else self.rear

    @property
    def pairs(self) -> tuple[Pair, Pair]:
        return self.front, self.rear

    @property
    def masses(self) -> tuple[float, ...]:
        """The four scale readings, kg."""
        return self.front.masses + self.rear.masses

    def end_of(self, place: int) -> Sprung:
        return self.pairs[place // 2].end

    def seats(self) -> tuple[Seat, ...]:
        return self.front.seats + self.rear.seats


def joined(given: Given) -> Given:
    """The entries joined by all that the record says of the car, doubts and all."""
    car = given.car
    made: Inputs = {
        **record_inputs(car, {"wheelbase": "body.wheelbase"}, tr("The car")),
        "piston_law": DOUBTS["piston_law"],
        "law_now": law_doubt(given.warm),
    }
    for end in ENDS:
        paths = {f"{end}.{name}": f"{end}.{name}" for name in _AXLE}
        if end in hole_ends(given):
            paths |= {f"{end}.{name}": f"{end}.arm.{name}" for name in _ARM}
        made |= record_inputs(car, paths, end_word(end).capitalize())
        made |= piston_inputs(car, end)
    for key in CORNERS:
        paths = {f"{key}.load": f"corners.{key}.load"}
        made |= record_inputs(car, paths, corner_word(key).capitalize())
    return with_inputs(given, made)


def hole_ends(given: Given) -> tuple[End, ...]:
    """The ends whose dampers go into another hole."""
    if given.choice("change") != "hole":
        return ()
    end = given.choice("hole_end")
    return ENDS if end == "both" else (End(end),)


def bench(given: Given) -> Bench:
    return Bench(given.warm, given.speed, given.law_now, given.piston_law)


def check_holes(given: Given) -> None:
    """Raise Problem where a hole that is asked for cannot be as the record draws it."""
    for end in hole_ends(given):
        for other in (False, True):
            try:
                arm.checked_hole(_drawn(given, end), other)
            except Problem as problem:
                sentence = tr("The holes in the car record cannot be. {why}", why=problem)
                raise Problem("hole_end", sentence) from problem


@part
def ride(given: Given, end: End, other: bool) -> Position:
    """The damper of an end at ride height in a hole of the record."""
    return position(arm.linkage(_drawn(given, end), other), 0.0)


def _drawn(given: Given, end: End) -> Given:
    return replace(
        given,
        numbers={name: given.numbers[f"{end}.{name}"] for name in _DRAWN},
        labels={name: given.labels[f"{end}.{name}"] for name in _DRAWN},
    )


def before(given: Given) -> State:
    """The car as the record has it. Raises Problem."""
    front, rear = (pair_before(given, key) for key in ENDS)
    return State(front, rear, given.wheelbase)


@part
def pair_before(given: Given, key: End) -> Pair:
    """An end as the record has it. Raises Problem."""
    corners = key.corners
    masses = tuple(given.numbers[f"{corner}.load"] for corner in corners)
    pair = Pair(_sprung_before(given, key), masses)
    for seat, corner in zip(pair.seats, corners, strict=True):
        label = tr("{corner} spring now", corner=corner_word(corner).capitalize())
        check_not_bound(seat, "change", label)
    return pair


@part
def _sprung_before(given: Given, key: End) -> Sprung:
    own = {name: given.numbers[f"{key}.{name}"] for name in _AXLE}
    ratio = own["motion_ratio"]
    if key in hole_ends(given):
        ratio = ride(given, key, other=False).motion_ratio
    plain = ("droop_length", "stroke", "pitch", "unsprung", "track", "oil")
    return Sprung(
        key=key,
        stack=_stack(key, own["spring_rate"], own["spring_free"], own["spring_solid"]),
        motion_ratio=ratio,
        piston=piston_of(given, key, "change"),
        **{name: own[name] for name in plain},
    )


def _stack(key: End, rate: float, free: float, solid: float) -> Stack:
    label = tr("Front spring") if key is End.FRONT else tr("Rear spring")
    return stack_of([(rate, free, solid)], ["change"], label)


def after(given: Given) -> State:
    """The car with the change made and no collar touched. Raises Problem."""
    front, rear = (pair_after(given, key) for key in ENDS)
    return State(front, rear, given.wheelbase)


@part
def pair_after(given: Given, key: End) -> Pair:
    """An end with the change made and no collar touched. Raises Problem."""
    masses, apart = pair_before(given, key).masses, 0.0
    if given.choice("change") == "load":
        place = 2 * ENDS.index(key)
        masses = _loaded(given)[place : place + 2]
    if key in hole_ends(given):
        now, other = (ride(given, key, other=other) for other in (False, True))
        apart = other.damper_length - now.damper_length
    return Pair(_sprung_after(given, key), masses, apart)


@part
def _loaded(given: Given) -> tuple[float, ...]:
    was = before(given)
    least = [was.end_of(place).unsprung for place in range(4)]
    return new_masses(given, was.masses, places(was), least)


@part
def _sprung_after(given: Given, key: End) -> Sprung:
    end = _sprung_before(given, key)

    def new(name: str, now: float) -> float:
        typed = given.maybe(f"{key}_{name}")
        return now if typed is None else typed

    change = given.choice("change")
    if change == "spring":
        own = [given.numbers[f"{key}.spring_{name}"] for name in ("rate", "free", "solid")]
        values = [new(name, now) for name, now in zip(("rate", "free", "solid"), own, strict=True)]
        return replace(end, stack=_stack(key, *values))
    if change == "piston":
        names = {"holes": "holes", "hole": "hole", "thickness": "piston_thickness"}
        other = {there: new(name, given.numbers[f"{key}.{there}"]) for name, there in names.items()}
        return replace(end, piston=piston_of(given, key, "change", other))
    if change == "oil":
        return replace(end, oil=new("oil", end.oil))
    if key in hole_ends(given):
        return replace(end, motion_ratio=ride(given, key, other=True).motion_ratio)
    return end


def places(state: State) -> list[tuple[float, float]]:
    """(ahead of the rear axle, left of the middle) of the four wheels, m."""
    front, rear = (pair.end.track / 2 for pair in state.pairs)
    base = state.wheelbase
    return [(base, front), (base, -front), (0.0, rear), (0.0, -rear)]


def axle(given: Given, key: End) -> Axle:
    return given.car.axle(key)
