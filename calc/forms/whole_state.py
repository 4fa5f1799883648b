"""The whole car before and after one thing changes, collars not yet touched."""

from dataclasses import dataclass, fields, replace
from functools import cached_property

from calc.arm import Arm
from calc.car import Axle
from calc.form import Given, Problem
from calc.forms import arm
from calc.forms.end_damper import Bench, piston_inputs, piston_of
from calc.forms.from_record import Inputs, record_inputs
from calc.forms.oil_warm import law_doubt
from calc.forms.piston import DOUBTS
from calc.forms.seat import Seat, check_not_bound, stack_of
from calc.forms.shared import CORNER_NAMES, corner_word, end_word, sprung_load, with_inputs
from calc.forms.whole_load import new_masses
from calc.language import tr
from calc.physics.damper import Piston
from calc.physics.linkage import Position, position, wheel_damping
from calc.physics.ride import damping_ratio
from calc.physics.stack import Stack
from calc.units import STANDARD_GRAVITY

ENDS = ("front", "rear")
_AXLE = (
    "spring_rate", "spring_free", "spring_solid", "droop_length", "stroke", "motion_ratio",
    "pitch", "unsprung", "oil", "track", "damper_length",
)  # fmt: skip
_ARM = tuple(item.name for item in fields(Arm))
_DRAWN = (*_ARM, "damper_length", "stroke")


@dataclass(frozen=True)
class End:
    """One end of the car, SI; its two corners are alike but for their loads."""

    key: str
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
class State:
    """The car: its ends, the four scale readings in kg, and where the hole moved the mounts, m."""

    front: End
    rear: End
    masses: tuple[float, ...]
    wheelbase: float
    apart: tuple[float, float] = (0.0, 0.0)

    @property
    def ends(self) -> tuple[End, End]:
        return self.front, self.rear

    def end_of(self, place: int) -> End:
        return self.ends[place // 2]

    def seats(self) -> tuple[Seat, ...]:
        return self._seats

    @cached_property  # so that what each of them works out is kept too
    def _seats(self) -> tuple[Seat, ...]:
        return tuple(self.end_of(n).seat(mass) for n, mass in enumerate(self.masses))

    def mean_seat(self, key: str) -> Seat:
        """An end with the mean load of its two corners."""
        place = 2 * ENDS.index(key)
        return self.end_of(place).seat(sum(self.masses[place : place + 2]) / 2)


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
    for key in CORNER_NAMES:
        paths = {f"{key}.load": f"corners.{key}.load"}
        made |= record_inputs(car, paths, corner_word(key).capitalize())
    return with_inputs(given, made)


def hole_ends(given: Given) -> tuple[str, ...]:
    """The ends whose dampers go into another hole."""
    if given.choice("change") != "hole":
        return ()
    end = given.choice("hole_end")
    return ENDS if end == "both" else (end,)


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


def ride(given: Given, end: str, other: bool) -> Position:
    """The damper of an end at ride height in a hole of the record."""
    return position(arm.linkage(_drawn(given, end), other), 0.0)


def _drawn(given: Given, end: str) -> Given:
    return replace(
        given,
        numbers={name: given.numbers[f"{end}.{name}"] for name in _DRAWN},
        labels={name: given.labels[f"{end}.{name}"] for name in _DRAWN},
    )


def before(given: Given) -> State:
    """The car as the record has it. Raises Problem."""
    ends = []
    for key in ENDS:
        own = {name: given.numbers[f"{key}.{name}"] for name in _AXLE}
        ratio = own["motion_ratio"]
        if key in hole_ends(given):
            ratio = ride(given, key, other=False).motion_ratio
        ends.append(
            End(
                key=key,
                stack=_stack(key, own["spring_rate"], own["spring_free"], own["spring_solid"]),
                motion_ratio=ratio,
                piston=piston_of(given, key, "change"),
                **{
                    name: own[name]
                    for name in ("droop_length", "stroke", "pitch", "unsprung", "track", "oil")
                },
            )
        )
    masses = tuple(given.numbers[f"{key}.load"] for key in CORNER_NAMES)
    return _checked(State(ends[0], ends[1], masses, given.wheelbase))


def _stack(key: str, rate: float, free: float, solid: float) -> Stack:
    label = tr("Front spring") if key == "front" else tr("Rear spring")
    return stack_of([(rate, free, solid)], ["change"], label)


def _checked(state: State) -> State:
    for seat, key in zip(state.seats(), CORNER_NAMES, strict=True):
        label = tr("{corner} spring now", corner=corner_word(key).capitalize())
        check_not_bound(seat, "change", label)
    return state


def after(given: Given, was: State) -> State:
    """The car with the change made and no collar touched. Raises Problem."""
    others = {key: ride(given, key, other=True) for key in hole_ends(given)}
    ends = [_end_after(given, end, others.get(end.key)) for end in was.ends]
    apart = [0.0, 0.0]
    for key, other in others.items():
        now = ride(given, key, other=False)
        apart[ENDS.index(key)] = other.damper_length - now.damper_length
    least = [was.end_of(place).unsprung for place in range(4)]
    loaded = given.choice("change") == "load"
    masses = new_masses(given, was.masses, places(was), least) if loaded else was.masses
    return State(ends[0], ends[1], masses, was.wheelbase, (apart[0], apart[1]))


def _end_after(given: Given, end: End, other_hole: Position | None) -> End:
    key = end.key

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
    if other_hole is not None:
        return replace(end, motion_ratio=other_hole.motion_ratio)
    return end


def places(state: State) -> list[tuple[float, float]]:
    """(ahead of the rear axle, left of the middle) of the four wheels, m."""
    front, rear = state.front.track / 2, state.rear.track / 2
    base = state.wheelbase
    return [(base, front), (base, -front), (0.0, rear), (0.0, -rear)]


def axle(given: Given, key: str) -> Axle:
    return given.car.front if key == "front" else given.car.rear
