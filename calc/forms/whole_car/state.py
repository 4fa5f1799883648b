"""The whole car before and after one thing changes, collars not yet touched."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial

from calc.forms.end_damper import other_piston
from calc.forms.findings import said_at, stack_at
from calc.forms.friction import with_corner_frictions
from calc.forms.gas import with_gases
from calc.forms.growth import with_growth
from calc.forms.names import corner_first, end_label
from calc.forms.oil_warm import with_law
from calc.forms.piston import DamperInputs
from calc.forms.whole_car.inputs import Asked, EndInputs, RatioInputs
from calc.forms.whole_car.load import new_masses
from calc.language import tr
from calc.model.corners import CORNERS, ENDS, Corner, End, at_end
from calc.model.damper import Bench, Damped
from calc.model.standing import Fault, Seat, SpringSize, Standing, Suspension
from calc.physics.chassis import Point
from calc.physics.damper import Piston
from calc.physics.linkage import Position, position
from calc.physics.stack import Stack
from calc.replying.inputs import memoised

_AT_CHANGE = dict.fromkeys((Fault.ALL_UNSPRUNG, Fault.BOUND, Fault.GIVES_WAY), Asked.change)


@dataclass(frozen=True)
class EndState:
    """An end of the car: its two corners are alike but for what the scales under their wheels show,
    kg. After a change `was` is the same end before it, and `apart` how far a new hole moved the
    mounts of its dampers, m."""

    key: End
    suspension: Suspension
    piston: Piston
    oil: float
    masses: tuple[float, ...]
    was: "EndState | None" = None
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

    def turns_to(self, after: "EndState") -> list[float]:
        """Turns of both collars that keep the body where it is."""
        both = zip(self.seats, after.seats, strict=True)
        pitch = after.suspension.pitch
        return [now.shift_to(then, after.apart) / pitch for now, then in both]

    def settled(self, after: "EndState") -> Seat:
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

    front: EndState
    rear: EndState
    wheelbase: float

    def end(self, key: End) -> EndState:
        return self.front if key is End.FRONT else self.rear

    @property
    def masses(self) -> tuple[float, ...]:
        """The four scale readings, kg."""
        return self.front.masses + self.rear.masses

    @property
    def seats(self) -> tuple[Seat, ...]:
        return self.front.seats + self.rear.seats

    def pitch(self, corner: Corner) -> float:
        """Of the thread of its collar, m."""
        return self.end(corner.end).suspension.pitch

    def place(self, corner: Corner) -> Point:
        """(ahead of the rear axle, left of the middle) of a wheel, m."""
        return self.end(corner.end).suspension.place(corner, self.wheelbase)

    def standing(self, turns: Mapping[Corner, float]) -> Standing:
        """The car once its collars are turned so that nothing moves. Raises Problem."""
        legs = []
        for corner, seat, mass in zip(CORNERS, self.seats, self.masses, strict=True):
            with said_at(_AT_CHANGE, partial(_spring_then, corner)):
                still = seat.down(turns[corner] * self.pitch(corner)).check()
            suspension = self.end(corner.end).suspension
            legs.append(suspension.leg(corner, still, mass, wheelbase=self.wheelbase))
        return Standing(tuple(legs))


def joined(asked: Asked) -> Asked:
    """The inputs joined by the temperature law, by where friction holds the corners, and by how the
    motion ratios grow, where it is known."""
    asked = with_gases(with_law(with_corner_frictions(asked)), asked.ends)
    for end in ENDS:
        if end not in hole_ends(asked):
            stays = _staying(asked, end)
            asked = with_growth(asked, end, stays, stays.motion_ratio)
    return asked


def _staying(asked: Asked, end: End) -> RatioInputs:
    """Motion ratio and arm of an end whose dampers stay in their holes."""
    return asked.ends[end].stays if asked.change == "hole" else asked.ends[end].ratio


def hole_ends(asked: Asked) -> tuple[End, ...]:
    """The ends whose dampers go into another hole."""
    if asked.change != "hole":
        return ()
    return ENDS if asked.hole_end == "both" else (End(asked.hole_end),)


def check_holes(asked: Asked) -> None:
    """Raise Problem where a hole that is asked for cannot be as the record draws it."""
    for end in hole_ends(asked):
        own = asked.ends[end]
        for other in (False, True):
            own.arm.checked_hole(own.stroke, own.at(EndInputs.stroke), other=other)


@memoised
def ride(asked: Asked, end: End, other: bool) -> Position:
    """The damper of an end at ride height in a hole of the record."""
    return position(asked.ends[end].arm.linkage(other=other), 0.0)


def before(asked: Asked) -> State:
    """The car as the record has it. Raises Problem."""
    front, rear = (end_before(asked, key) for key in ENDS)
    return State(front, rear, asked.wheelbase)


@memoised
def end_before(asked: Asked, key: End) -> EndState:
    """An end as the record has it. Raises Problem."""
    own = asked.ends[key]
    if key in hole_ends(asked):
        here = ride(asked, key, other=False)
        ratio, growth = here.motion_ratio, here.motion_ratio_slope
    else:
        stays = _staying(asked, key)
        ratio, growth = stays.motion_ratio, stays.growth
    state = EndState(
        key=key,
        suspension=Suspension(
            stack=_stack(key, own.spring_rate, own.spring_free, own.spring_solid),
            motion_ratio=ratio,
            droop_length=own.droop_length,
            pitch=own.pitch,
            unsprung=own.unsprung,
            track=own.track,
            stroke=own.stroke,
            growth=growth,
            tyre_rate=asked.tyres[key].tyre_rate,
        ),
        piston=_piston(asked, key),
        oil=own.oil,
        masses=tuple(asked.masses(key)),
    )
    for seat, corner in zip(state.seats, key.corners, strict=True):
        with said_at(_AT_CHANGE, partial(_spring_now, corner)):
            seat.check()
    return state


@memoised
def _piston(asked: Asked, key: End) -> Piston:
    return asked.dampers[key].made()


def _other_piston(asked: Asked, key: End) -> Piston:
    new = asked.new_pistons[key]
    typed = (
        (DamperInputs.holes, new.holes),
        (DamperInputs.hole, new.hole),
        (DamperInputs.piston_thickness, new.thickness),
    )
    other = [(field, value) for field, value in typed if value is not None]
    return other_piston(asked.dampers[key], key, Asked.change, *other)


def _or(typed: float | None, now: float) -> float:
    """What was typed about the change, or the record's where it stays as it is."""
    return now if typed is None else typed


def _oil_after(asked: Asked, key: End) -> float:
    now = asked.ends[key].oil
    return _or(asked.new_oils[key].oil, now) if asked.change == "oil" else now


@memoised
def damping_before(asked: Asked, key: End) -> float:
    """Damping of the shaft before the change, N s/m."""
    return asked.bench(key).damping(_piston(asked, key), asked.ends[key].oil)


@memoised
def damping_after(asked: Asked, key: End) -> float:
    """Damping of the shaft with the change made, N s/m."""
    piston = _other_piston(asked, key) if asked.change == "piston" else _piston(asked, key)
    return asked.bench(key).damping(piston, _oil_after(asked, key))


def _spring_now(corner: Corner) -> str:
    return tr("{corner} spring now", corner=corner_first(corner))


def _spring_then(corner: Corner) -> str:
    return tr("{corner} spring then", corner=corner_first(corner))


def _stack(key: End, rate: float, free: float, solid: float) -> Stack:
    label = tr("Front spring") if key is End.FRONT else tr("Rear spring")
    return stack_at([SpringSize(rate, free, solid)], [Asked.change], label)


def after(asked: Asked) -> State:
    """The car with the change made and no collar touched. Raises Problem."""
    front, rear = (end_after(asked, key) for key in ENDS)
    return State(front, rear, asked.wheelbase)


@memoised
def end_after(asked: Asked, key: End) -> EndState:
    """An end with the change made and no collar touched. Raises Problem."""
    was = end_before(asked, key)
    state = replace(was, was=was)
    match asked.change:
        case "load":
            return replace(state, masses=at_end(key, _loaded(asked)))
        case "spring":
            own, new = asked.ends[key], asked.new_springs[key]
            stack = _stack(
                key,
                _or(new.rate, own.spring_rate),
                _or(new.free, own.spring_free),
                _or(new.solid, own.spring_solid),
            )
            return replace(state, suspension=replace(was.suspension, stack=stack))
        case "piston":
            return replace(state, piston=_other_piston(asked, key))
        case "oil":
            return replace(state, oil=_oil_after(asked, key))
    if key in hole_ends(asked):
        now, there = (ride(asked, key, other=other) for other in (False, True))
        moved = replace(
            was.suspension, motion_ratio=there.motion_ratio, growth=there.motion_ratio_slope
        )
        return replace(state, suspension=moved, apart=there.damper_length - now.damper_length)
    return state


@memoised
def _loaded(asked: Asked) -> tuple[float, ...]:
    was = before(asked)
    least = [was.end(corner.end).suspension.unsprung for corner in CORNERS]
    return new_masses(asked, was.masses, list(map(was.place, CORNERS)), least)
