"""The whole car before and after one thing changes, collars not yet touched."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial

from calc.forms import arm
from calc.forms.end_damper import bench, damper_doubts, other_piston_of, piston_of
from calc.forms.entered import masses_at
from calc.forms.findings import said_at, stack_at
from calc.forms.friction import with_corner_frictions
from calc.forms.inputs import growth_inputs, growth_of, with_inputs
from calc.forms.names import corner_word, end_label
from calc.forms.oil_warm import law_doubt
from calc.forms.whole_car.inputs import DRAWN, OF_END
from calc.forms.whole_car.load import new_masses
from calc.language import tr
from calc.model.corners import CORNERS, ENDS, Corner, End, at_end
from calc.model.damper import Bench, Damped
from calc.model.standing import Fault, Leg, Seat, SpringSize, Standing, Suspension
from calc.physics.damper import Piston
from calc.physics.linkage import Position, position
from calc.physics.stack import Stack
from calc.replying.form import Given, Problem, part
from calc.units import STANDARD_GRAVITY

_AT_CHANGE = {Fault.ALL_UNSPRUNG: "change", Fault.BOUND: "change", Fault.GIVES_WAY: "change"}


@dataclass(frozen=True)
class Pair:
    """An end of the car: its two corners are alike but for what the scales under their wheels show,
    kg. After a change `was` is the same end before it, and `apart` how far a new hole moved the
    mounts of its dampers, m."""

    key: End
    suspension: Suspension
    piston: Piston
    oil: float
    masses: tuple[float, ...]
    was: "Pair | None" = None
    apart: float = 0.0

    @cached_property  # so that what each of them works out is kept too
    def seats(self) -> tuple[Seat, ...]:
        before = self.was.seats if self.was else (None, None)
        with said_at(_AT_CHANGE):
            return tuple(map(self._seat, self.masses, before))

    @cached_property
    def mean_seat(self) -> Seat:
        """The corner with the mean load of both."""
        with said_at(_AT_CHANGE):
            return self._seat(sum(self.masses) / 2, self.was.mean_seat if self.was else None)

    def _seat(self, mass: float, before: Seat | None) -> Seat:
        return self.suspension.seat(mass, before=before, mount_shift=self.apart)

    def turns_to(self, after: "Pair") -> list[float]:
        """Turns of both collars that keep the body where it is."""
        both = zip(self.seats, after.seats, strict=True)
        pitch = after.suspension.pitch
        return [now.shift_to(then, after.apart) / pitch for now, then in both]

    def settled(self, after: "Pair") -> Seat:
        """The mean corner after the change, its collar where the height stays. Raises Problem."""
        then = after.mean_seat.down(self.mean_seat.shift_to(after.mean_seat, after.apart))
        with said_at(_AT_CHANGE, lambda: tr("{corner} spring then", corner=end_label(self.key))):
            return then.check()

    def damped(self, seat: Seat, bench: Bench) -> Damped:
        """A corner of this end on that seat, with its damper."""
        return Damped(seat, self.piston, bench)


@dataclass(frozen=True)
class State:
    """The car: its two ends, and the wheelbase in m."""

    front: Pair
    rear: Pair
    wheelbase: float

    def pair(self, key: End) -> Pair:
        return self.front if key is End.FRONT else self.rear

    @property
    def masses(self) -> tuple[float, ...]:
        """The four scale readings, kg."""
        return self.front.masses + self.rear.masses

    @property
    def seats(self) -> tuple[Seat, ...]:
        return self.front.seats + self.rear.seats

    def pitch(self, corner: Corner) -> float:
        return self.pair(corner.end).suspension.pitch

    def place(self, corner: Corner) -> tuple[float, float]:
        """(ahead of the rear axle, left of the middle) of a wheel, m."""
        half = self.pair(corner.end).suspension.track / 2
        left = corner is corner.end.corners[0]
        return self.wheelbase if corner.end is End.FRONT else 0.0, half if left else -half

    def standing(self, turns: Mapping[Corner, float]) -> Standing:
        """The car once its collars are turned so that nothing moves. Raises Problem."""
        legs = []
        for corner, seat, mass in zip(CORNERS, self.seats, self.masses, strict=True):
            still = seat.down(turns[corner] * self.pitch(corner))
            with said_at(_AT_CHANGE, partial(_spring_then, corner)):
                still.check()
            x, y = self.place(corner)
            legs.append(Leg(still, self.pitch(corner), x, y, mass * STANDARD_GRAVITY))
        return Standing(tuple(legs))


def joined(given: Given) -> Given:
    """The entries joined by the models and by how the motion ratios grow, where it is known."""
    swapped = hole_ends(given)
    stays = {end: staying(given, end) for end in ENDS if end not in swapped}
    ratios = {end: given.numbers[f"{prefix}motion_ratio"] for end, prefix in stays.items()}
    growth = growth_inputs(given, ratios, stays)
    given = with_corner_frictions(given)
    return with_inputs(given, {**damper_doubts(), "law_now": law_doubt(given.warm), **growth})


def staying(given: Given, end: End) -> str:
    """What stands before the names of motion ratio and arm of an end whose dampers stay in their
    holes."""
    return f"{end}.stays." if given.choice("change") == "hole" else f"{end}."


def hole_ends(given: Given) -> tuple[End, ...]:
    """The ends whose dampers go into another hole."""
    if given.choice("change") != "hole":
        return ()
    end = given.choice("hole_end")
    return ENDS if end == "both" else (End(end),)


def check_holes(given: Given) -> None:
    """Raise Problem where a hole that is asked for cannot be as the record draws it."""
    for end in hole_ends(given):
        for other in (False, True):
            try:
                arm.checked_hole(_drawn(given, end), other)
            except Problem as problem:
                raise Problem(f"{end}.{problem.name}", str(problem)) from problem


@part
def ride(given: Given, end: End, other: bool) -> Position:
    """The damper of an end at ride height in a hole of the record."""
    return position(arm.linkage(_drawn(given, end), other), 0.0)


def _drawn(given: Given, end: End) -> Given:
    return replace(
        given,
        numbers={name: given.numbers[f"{end}.{name}"] for name in DRAWN},
        labels={name: given.labels[f"{end}.{name}"] for name in DRAWN},
    )


def before(given: Given) -> State:
    """The car as the record has it. Raises Problem."""
    front, rear = (pair_before(given, key) for key in ENDS)
    return State(front, rear, given.wheelbase)


@part
def pair_before(given: Given, key: End) -> Pair:
    """An end as the record has it. Raises Problem."""
    own = {name: given.numbers[f"{key}.{name}"] for name in OF_END}
    if key in hole_ends(given):
        here = ride(given, key, other=False)
        ratio, growth = here.motion_ratio, here.motion_ratio_slope
    else:
        ratio = given.numbers[f"{staying(given, key)}motion_ratio"]
        growth = growth_of(given, key)
    pair = Pair(
        key=key,
        suspension=Suspension(
            stack=_stack(key, own["spring_rate"], own["spring_free"], own["spring_solid"]),
            motion_ratio=ratio,
            droop_length=own["droop_length"],
            pitch=own["pitch"],
            unsprung=own["unsprung"],
            track=own["track"],
            stroke=own["stroke"],
            growth=growth,
            tyre_rate=given.numbers[f"{key}.tyre_rate"],
        ),
        piston=_piston(given, key),
        oil=own["oil"],
        masses=tuple(masses_at(given, key)),
    )
    for seat, corner in zip(pair.seats, key.corners, strict=True):
        with said_at(_AT_CHANGE, partial(_spring_now, corner)):
            seat.check()
    return pair


@part
def _piston(given: Given, key: End) -> Piston:
    return piston_of(given, key)


def _other_piston(given: Given, key: End) -> Piston:
    names = {"holes": "holes", "hole": "hole", "thickness": "piston_thickness"}
    other = {there: _new(given, key, name, there) for name, there in names.items()}
    return other_piston_of(given, key, other, "change")


def _new(given: Given, key: End, name: str, there: str) -> float:
    """What was typed about the change, or the record's where it stays as it is."""
    typed = given.maybe(f"{key}_{name}")
    return given.numbers[f"{key}.{there}"] if typed is None else typed


@part
def damping_before(given: Given, key: End) -> float:
    """Of the shaft, N s/m."""
    return bench(given).damping(_piston(given, key), given.numbers[f"{key}.oil"])


@part
def damping_after(given: Given, key: End) -> float:
    change = given.choice("change")
    piston = _other_piston(given, key) if change == "piston" else _piston(given, key)
    oil = _new(given, key, "oil", "oil") if change == "oil" else given.numbers[f"{key}.oil"]
    return bench(given).damping(piston, oil)


def _spring_now(corner: Corner) -> str:
    return tr("{corner} spring now", corner=corner_word(corner).capitalize())


def _spring_then(corner: Corner) -> str:
    return tr("{corner} spring then", corner=corner_word(corner).capitalize())


def _stack(key: End, rate: float, free: float, solid: float) -> Stack:
    label = tr("Front spring") if key is End.FRONT else tr("Rear spring")
    return stack_at([SpringSize(rate, free, solid)], ["change"], label)


def after(given: Given) -> State:
    """The car with the change made and no collar touched. Raises Problem."""
    front, rear = (pair_after(given, key) for key in ENDS)
    return State(front, rear, given.wheelbase)


@part
def pair_after(given: Given, key: End) -> Pair:
    """An end with the change made and no collar touched. Raises Problem."""
    was = pair_before(given, key)
    pair = replace(was, was=was)

    change = given.choice("change")
    if change == "load":
        return replace(pair, masses=at_end(key, _loaded(given)))
    if change == "spring":
        rate, free, solid = (
            _new(given, key, name, f"spring_{name}") for name in ("rate", "free", "solid")
        )
        return replace(
            pair, suspension=replace(was.suspension, stack=_stack(key, rate, free, solid))
        )
    if change == "piston":
        return replace(pair, piston=_other_piston(given, key))
    if change == "oil":
        return replace(pair, oil=_new(given, key, "oil", "oil"))
    if key in hole_ends(given):
        now, there = (ride(given, key, other=other) for other in (False, True))
        moved = replace(
            was.suspension, motion_ratio=there.motion_ratio, growth=there.motion_ratio_slope
        )
        return replace(pair, suspension=moved, apart=there.damper_length - now.damper_length)
    return pair


@part
def _loaded(given: Given) -> tuple[float, ...]:
    was = before(given)
    least = [was.pair(corner.end).suspension.unsprung for corner in CORNERS]
    return new_masses(given, was.masses, list(map(was.place, CORNERS)), least)
