"""The car standing on its four corners: a spring on each damper, a wheel under each, a body above.

SI throughout and no word of any interface. A `Seat` is a spring on its collar at one corner, a
`Leg` the same over its wheel, a `Standing` the body at rest on four legs as it was measured, and a
`Predicted` where it comes to rest once collars are turned, springs changed or load put in. All
that forms say of preload, wheel rate, sag, loads and cross weight comes from here, so that two
forms cannot disagree about one car.

The motion ratio is known at ride height. Where its growth is known too (the arm is drawn), what
follows is of first order in it: wheel rate k MR^2 + F dMR/dz, and by so much less does a turn of
the collar lift.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property, lru_cache
from math import inf, isinf

from calc.model.arm import PLACES, Arm
from calc.model.car import Car, is_known
from calc.model.corners import CORNERS, ENDS, Corner, End, Side
from calc.physics import chassis, settle
from calc.physics.chassis import Change, Point, Shares, move_seats, shares, turn_collars
from calc.physics.failure import PhysicsError
from calc.physics.linear import solve
from calc.physics.linkage import (
    Linkage,
    Position,
    Unreachable,
    lift_per_turn,
    position,
    wheel_damping,
    wheel_rate,
)
from calc.physics.ride import (
    damping_for_ratio,
    damping_ratio,
    natural_frequency,
    ratio_in_series,
)
from calc.physics.settle import Stance, balance_point, measured_line, turned
from calc.physics.spring import Spring
from calc.physics.stack import Stack, collar_shift
from calc.units import STANDARD_GRAVITY


class Fault(Enum):
    """Why a spring, or the car on it, cannot be as it was entered."""

    SOLID_AS_FREE = "a spring as long with its coils touching as free"
    ALL_UNSPRUNG = "wheel and arm weigh as much as the whole corner"
    BOUND = "the coils touch at ride height"
    GIVES_WAY = "the motion ratio falls so fast in bump that the wheel gives way under its load"


class CannotStand(ValueError):
    """`corner` is the first one at fault where a whole car was asked for, `place` the spring of a
    stack."""

    def __init__(self, fault: Fault, *, corner: Corner | None = None, place: int = 0) -> None:
        super().__init__(fault.value)
        self.fault = fault
        self.corner = corner
        self.place = place


@dataclass(frozen=True)
class SpringSize:
    """Rate in N/m, free and solid length in m; a solid length not asked for sets no limit."""

    rate: float
    free: float
    solid: float | None = None


def stack_of(springs: Sequence[SpringSize]) -> Stack:
    """Springs one behind the other. Raises CannotStand."""
    made = []
    for place, one in enumerate(springs):
        if one.solid is not None and one.solid >= one.free:
            raise CannotStand(Fault.SOLID_AS_FREE, place=place)
        made.append(Spring(one.rate, inf if one.solid is None else one.free - one.solid))
    return Stack(tuple(made), sum(one.free for one in springs))


def spring_load(reading: float, unsprung: float) -> float:
    """What the spring holds up at the wheel, N, from masses in kg. Raises CannotStand."""
    if unsprung >= reading:
        raise CannotStand(Fault.ALL_UNSPRUNG)
    return reading * STANDARD_GRAVITY - unsprung * STANDARD_GRAVITY


class Finding(Enum):
    """What is wrong with a spring where it stands."""

    ON_STOP = "the damper rests on its droop stop"
    BOTTOMED = "the load alone closes the damper"
    BINDS = "the coils touch before full bump"
    NEAR_BIND = "the coils nearly touch at full bump"
    LOOSE = "the spring is loose at full droop"


SLIGHT = 0.05e-3
"""m; a gap smaller than this shows on no gauge at hand (common practice, no source)."""
NEAR_BIND = 0.5e-3
"""m of room to coil bind at full bump that are worth a word (common practice, no source)."""
FAR = 6e-3
"""m that a collar moves at most before its thread may run out (common practice, no source)."""


@dataclass(frozen=True)
class Seat:
    """A spring (or pair) on its collar at one corner: the load in N that it holds up at the wheel,
    the motion ratio at ride height and its growth in 1/m of wheel rise, from collar to cup at full
    droop in m, the stroke of the shaft in m (no limit where it was not asked for).

    `tyre_rate` is that of the tyre under it, N/m. `ratio_at` is the shaft travel from full droop at
    which that ratio was found, where that is not where this seat comes to rest itself.
    """

    stack: Stack
    load: float
    motion_ratio: float
    droop_length: float
    stroke: float = inf
    growth: float = 0.0
    ratio_at: float | None = None
    tyre_rate: float = inf

    @property
    def preload(self) -> float:
        """How far the spring is pressed at full droop, m; below 0 it is loose."""
        return self.stack.free - self.droop_length

    @property
    def preload_force(self) -> float:
        """Force of the spring at full droop, N; 0 where it is loose."""
        return self.stack.force(self.preload)

    @property
    def force(self) -> float:
        """What the load asks of the spring, N."""
        return self.load / self.motion_ratio

    @cached_property
    def give(self) -> float:
        """Shaft travel that a metre of collar brings under an unchanged load; 1 where the ratio
        does not grow. Where it falls so fast that the wheel gives way, that is left out."""
        if not self.growth:
            return 1.0
        force = self.force
        spring = self.stack.rate(force) * self.motion_ratio**2
        rate = spring + force * self.growth
        return 1.0 if isinf(spring) or rate <= 0.0 else spring / rate

    @cached_property  # asked for by nearly all that follows
    def reach(self) -> float:
        """Shaft travel from full droop to where the load would rest, stops or not, m."""
        alone = self.stack.compression(self.force) - self.preload
        if self.ratio_at is None or not self.growth:
            return alone
        return self.ratio_at + (alone - self.ratio_at) * self.give

    @property
    def travel(self) -> float:
        """Shaft travel from full droop to ride height, m: 0 on the droop stop."""
        return min(max(self.reach, 0.0), self.stroke)

    @property
    def on_stop(self) -> bool:
        return self.reach <= 0

    @property
    def bottomed(self) -> bool:
        """Whether the load alone closes the damper."""
        return self.reach >= self.stroke

    @cached_property
    def held(self) -> float:
        """Force in the spring at ride height, N; a stop takes the rest of the load."""
        if self.on_stop:
            return self.preload_force
        return self.bump_force if self.bottomed else self.force

    @property
    def sag(self) -> float:
        """Wheel travel from full droop to ride height, m."""
        return self.travel / self.motion_ratio

    @property
    def sag_share(self) -> float:
        """Travel from full droop to ride height as a share of the whole."""
        return self.travel / self.stroke

    @property
    def bind_margin(self) -> float:
        """Room between the coils at full bump, m; below 0 they touch before it."""
        return self.droop_length - self.stroke - self.stack.solid

    @property
    def bump_force(self) -> float:
        """Force of the spring at full bump, N; where the coils touch, the least that binds them."""
        return self.stack.force(self.preload + self.stroke)

    @property
    def rate(self) -> float:
        """Rate of the spring where the car stands, N/m."""
        return self.stack.rate(self.held)

    @property
    def bound(self) -> bool:
        """Whether the coils touch where the car stands, so that it is no spring there."""
        return isinf(self.rate)

    @cached_property
    def wheel_rate(self) -> float:
        """Rate of the spring at the wheel where the car stands, N/m."""
        return wheel_rate(
            rate=self.rate,
            motion_ratio=self.motion_ratio,
            force=self.held,
            motion_ratio_slope=self.growth,
        )

    @property
    def over_tyre(self) -> float:
        """Share (0 to 1) of the travel between body and ground that the spring makes, and not the
        tyre."""
        return 1.0 / (1.0 + self.wheel_rate / self.tyre_rate)

    @property
    def ride_rate(self) -> float:
        """Spring and tyre in series, N/m: what the body stands on."""
        return self.wheel_rate * self.over_tyre

    @property
    def mass(self) -> float:
        """Sprung mass over the wheel, kg."""
        return self.load / STANDARD_GRAVITY

    @property
    def frequency(self) -> float:
        """Ride frequency, Hz; 0 where the wheel gives way before it carries."""
        if self.wheel_rate <= 0:
            return 0.0
        return natural_frequency(rate=self.ride_rate, mass=self.mass)

    def damping_ratio(self, damping: float) -> float:
        """Share of the critical damping that a damper of so many N s/m at its shaft gives.

        The damper makes a share of the travel alone, so that the body feels its coefficient times
        the square of that: exact for light damping; on a tyre ten times as stiff as the spring
        5 % low at a ratio of 0.5 and 17 % at 0.8.
        """
        at_wheel = wheel_damping(damping=damping, motion_ratio=self.motion_ratio)
        return damping_ratio(
            damping=at_wheel * self.over_tyre**2, rate=self.ride_rate, mass=self.mass
        )

    def ratio_on_tyre(self, damping: float) -> float:
        """Damping ratio of the body on its tyre, where a damper of so many N s/m at its shaft is so
        stiff that it holds the spring still."""
        at_wheel = wheel_damping(damping=damping, motion_ratio=self.motion_ratio)
        return ratio_in_series(damping=at_wheel, rate=self.tyre_rate, mass=self.mass)

    def damping_for(self, ratio: float) -> float:
        """The coefficient at the shaft, N s/m, that gives a damping ratio."""
        felt = damping_for_ratio(ratio=ratio, rate=self.ride_rate, mass=self.mass)
        return felt / (self.over_tyre * self.motion_ratio) ** 2

    @property
    def stop_load(self) -> float:
        """Wheel load at which it leaves its droop stop, N; below 0 the spring is loose."""
        preload = self.preload
        force = self.preload_force if preload > 0 else preload * self.stack.rate(0.0)
        at_wheel = force * self.motion_ratio
        return at_wheel + (self.load - at_wheel) * (1.0 - 1.0 / self.give)

    @property
    def spare(self) -> float:
        """How far down, m, the collar may go before the damper rests on its droop stop; below 0
        it does, and that is how far up it has to go."""
        return self.reach / self.give

    @property
    def bump_spare(self) -> float:
        """How far up, m, the collar may go before the load alone closes the damper; below 0 it
        does, and that is how far down it has to go."""
        return (self.stroke - self.reach) / self.give

    def lift(self, shift: float) -> float:
        """Rise of the body, m, once the collar is moved down by so many m, away from stops."""
        return shift * self.give / self.motion_ratio

    @property
    def findings(self) -> frozenset[Finding]:
        """All that is wrong with the spring where it stands."""
        tests = {
            Finding.ON_STOP: self.on_stop,
            Finding.BOTTOMED: self.bottomed,
            Finding.BINDS: self.bind_margin < -SLIGHT,
            Finding.NEAR_BIND: -SLIGHT <= self.bind_margin < NEAR_BIND,
            Finding.LOOSE: self.preload < -SLIGHT,
        }
        return frozenset(finding for finding, found in tests.items() if found)

    def check(self) -> "Seat":
        """The seat. Raises CannotStand where nothing springs there."""
        if self.bound:
            raise CannotStand(Fault.BOUND)
        if self.growth < 0 and self.wheel_rate <= 0:
            raise CannotStand(Fault.GIVES_WAY)
        return self

    def down(self, shift: float) -> "Seat":
        """This seat with its collar moved down by so many m."""
        return self._with(self.stack, self.droop_length - shift)

    def pushed(self, force: float) -> "Seat":
        """Where it stands with so many N (of trapped air) that push the shaft out: there the collar
        would have to be so much further down without."""
        return self.down(force / self.rate)

    def refitted(self, stack: Stack) -> "Seat":
        """This seat with another spring on the collar."""
        return self._with(stack, self.droop_length)

    def _with(self, stack: Stack, droop_length: float) -> "Seat":
        # Not by `replace`, which takes three times as long: answers make hundreds of these.
        ratio_at = self.place if self.growth else None
        return Seat(
            stack, self.load, self.motion_ratio, droop_length, self.stroke, self.growth, ratio_at,
            self.tyre_rate,
        )  # fmt: skip

    @property
    def place(self) -> float:
        """Shaft travel at which its motion ratio was found, m."""
        return self.reach if self.ratio_at is None else self.ratio_at

    def shift_to(self, after: "Seat", mount_shift: float = 0.0) -> float:
        """How far down, m, the collar goes from here for the other spring or load, so that the
        body keeps its height; against a stop the spring's force is kept."""
        force = self.held if self.on_stop or self.bottomed else after.force
        return collar_shift(
            before=self.stack,
            force_before=self.held,
            after=after.stack,
            force_after=force,
            mount_shift=mount_shift + self.sunk(after),
        )

    def sunk(self, after: "Seat") -> float:
        """How far down, m, the collar goes for what the wheel sinks into its tyre under the load
        of the other seat; against a stop it does nothing for that."""
        if self.on_stop or self.bottomed:
            return 0.0
        return (after.load - self.load) / after.tyre_rate * after.motion_ratio / after.give

    def rise(self, after: "Seat") -> float:
        """How much higher, m, this corner stands with the other seat, its load carried by it
        alone; droop and bump stops minded."""
        return self.sag - after.sag


def carrying(
    *,
    rate: float,
    load: float,
    motion_ratio: float,
    growth: float = 0.0,
    tyre_rate: float = inf,
) -> Seat:
    """A seat of which only the rate in N/m is known: its spring carries the load, away from stops,
    and nothing that depends on a length may be asked of it."""
    stack = Stack((Spring(rate),), 1.0)
    return Seat(
        stack, load, motion_ratio, droop_length=stack.free, growth=growth, tyre_rate=tyre_rate
    )


@dataclass(frozen=True)
class Leg:
    """A seat over its wheel at (x, y) in m; the pitch of its thread in m, and what the scale under
    the wheel shows in N."""

    seat: Seat
    pitch: float
    x: float
    y: float
    reading: float

    @cached_property
    def wheel(self) -> chassis.Wheel:
        lift = lift_per_turn(pitch=self.pitch, motion_ratio=self.seat.motion_ratio)
        return chassis.Wheel(
            x=self.x,
            y=self.y,
            wheel_rate=self.seat.wheel_rate,
            turn_lift=lift * self.seat.give,
            tyre_rate=self.seat.tyre_rate,
        )

    def line(self, height: float) -> settle.LoadLine:
        """Load against height, droop stop included, with the body at a height in m now."""
        seat = self.seat
        return measured_line(self.wheel, load=seat.load, preload=seat.stop_load, height=height)


@dataclass(frozen=True)
class Suspension:
    """What both corners of an end have in common: the springs, the motion ratio and its growth,
    lengths and tyre rate as in `Seat`, pitch and track in m, unsprung mass of a corner in kg."""

    stack: Stack
    motion_ratio: float
    droop_length: float
    pitch: float
    unsprung: float
    track: float = 0.0
    stroke: float = inf
    growth: float = 0.0
    tyre_rate: float = inf

    def seat(self, mass: float, *, before: Seat | None = None, mount_shift: float = 0.0) -> Seat:
        """A corner whose scale shows a mass in kg. Raises CannotStand.

        `before`: the seat on which the body stood at the height for which the ratio is known;
        `mount_shift`: how much further apart, m, the mounts of the damper are there now.
        """
        return Seat(
            stack=self.stack,
            load=spring_load(mass, self.unsprung),
            motion_ratio=self.motion_ratio,
            droop_length=self.droop_length,
            stroke=self.stroke,
            growth=self.growth,
            ratio_at=before.place - mount_shift if before and self.growth else None,
            tyre_rate=self.tyre_rate,
        )

    def legs(self, end: End, masses: Sequence[float], *, wheelbase: float) -> tuple[Leg, ...]:
        """Left and right, under their scale readings in kg. Raises CannotStand."""
        made = []
        for corner, mass in zip(end.corners, masses, strict=True):
            try:
                seat = self.seat(mass).check()
            except CannotStand as cannot:
                raise CannotStand(cannot.fault, corner=corner) from cannot
            made.append(self.leg(corner, seat, mass, wheelbase=wheelbase))
        return tuple(made)

    def leg(self, corner: Corner, seat: Seat, mass: float, *, wheelbase: float) -> Leg:
        """A seat over its wheel, whose scale shows a mass in kg."""
        return Leg(seat, self.pitch, *self.place(corner, wheelbase), mass * STANDARD_GRAVITY)

    def place(self, corner: Corner, wheelbase: float) -> Point:
        """(ahead of the rear axle, left of the middle) of a wheel, m."""
        side = 1.0 if corner.side is Side.LEFT else -1.0
        return wheelbase if corner.end is End.FRONT else 0.0, side * self.track / 2


@dataclass(frozen=True)
class Standing:
    """The car at rest as it was measured: its legs in the order of CORNERS, and the heights of the
    body at the four wheels in m (0: taken to stand level)."""

    legs: tuple[Leg, ...]
    heights: tuple[float, ...] = (0.0,) * len(CORNERS)

    @cached_property
    def corners(self) -> tuple[chassis.Wheel, ...]:
        return tuple(leg.wheel for leg in self.legs)

    @cached_property
    def seats(self) -> tuple[Seat, ...]:
        return tuple(leg.seat for leg in self.legs)

    @cached_property
    def readings(self) -> tuple[float, ...]:
        """What the scales show, N."""
        return tuple(leg.reading for leg in self.legs)

    @property
    def shares(self) -> Shares:
        return shares(self.readings)

    @cached_property
    def weight(self) -> float:
        """What the springs carry together, N."""
        return math.fsum(seat.load for seat in self.seats)

    @cached_property
    def centre(self) -> Point:
        """Where that weight hangs, (x, y) in m."""
        return balance_point(self.corners, [seat.load for seat in self.seats])

    @cached_property
    def lines(self) -> tuple[settle.LoadLine, ...]:
        """Load against height of each leg, droop stops included."""
        pairs = zip(self.legs, self.heights, strict=True)
        return tuple(leg.line(height) for leg, height in pairs)

    @cached_property
    def stance(self) -> Stance:
        return settle.settle(self.lines, weight=self.weight, centre=self.centre)

    def change(self, turns: Sequence[float]) -> Change:
        """What turns of each collar bring while every wheel stays clear of its stops."""
        return turn_collars(self.corners, turns)

    @cached_property
    def spares(self) -> tuple[float, ...]:
        """Turns down at each corner until its damper rests on its droop stop under the load that it
        has; below 0 it does."""
        return _spares(self.corners, self.lines, self.stance)

    def held(self, offsets: Sequence[float]) -> Change:
        """What friction does that holds the corners off their rest by so many m: it moves the body
        and shifts load from one diagonal to the other."""
        return move_seats(self.corners, offsets)

    def turned(self, turns: Sequence[float]) -> "Predicted":
        """Once the collars are turned down by these turns; stops and hanging wheels minded."""
        lines = tuple(turned(line, n) for line, n in zip(self.lines, turns, strict=True))
        seats = tuple(leg.seat.down(n * leg.pitch) for leg, n in zip(self.legs, turns, strict=True))
        return Predicted(self, seats, lines, self.weight, self.centre)

    def refitted(self, stacks: Mapping[End, Stack]) -> "Predicted":
        """Once other springs are fitted at these ends and no collar is touched: every wheel hangs
        as low at full droop as before. Raises CannotStand."""
        seats, lines = [], []
        for corner, leg, line in zip(CORNERS, self.legs, self.lines, strict=True):
            seat = leg.seat
            if corner.end in stacks:
                try:
                    seat = seat.refitted(stacks[corner.end]).check()
                except CannotStand as cannot:
                    raise CannotStand(cannot.fault, corner=corner) from cannot
                made = replace(leg, seat=seat)
                line = replace(line, wheel=made.wheel, preload=seat.stop_load)
            seats.append(seat)
            lines.append(line)
        return Predicted(self, tuple(seats), tuple(lines), self.weight, self.centre)

    def loaded(self, mass: float, at: Point) -> "Predicted":
        """Once a mass in kg is put in (or taken out) at (x, y) in m and no collar is touched.

        Raises ValueError where the car would tip over, or nothing would be left of it.
        """
        added = mass * STANDARD_GRAVITY
        weight = self.weight + added
        x, y = (
            (own * self.weight + place * added) / weight
            for own, place in zip(self.centre, at, strict=True)
        )
        return Predicted(self, self.seats, self.lines, weight, (x, y))


@dataclass(frozen=True)
class Predicted:
    """Where the car of a `Standing` comes to rest once something is done to it. The seats have the
    loads that they had before; `stance` has those that they carry then."""

    before: Standing
    seats: tuple[Seat, ...]
    lines: tuple[settle.LoadLine, ...]
    weight: float
    centre: Point

    @cached_property
    def stance(self) -> Stance:
        return settle.settle(self.lines, weight=self.weight, centre=self.centre)

    @cached_property
    def readings(self) -> tuple[float, ...]:
        """What the scales show then, N."""
        was = self.before
        moved = zip(was.readings, self.stance.loads, was.stance.loads, strict=True)
        return tuple(max(0.0, reading + (now - then)) for reading, now, then in moved)

    @property
    def shares(self) -> Shares:
        return shares(self.readings)

    @property
    def bottomed(self) -> tuple[bool, ...]:
        """Of every corner, whether the load that it carries then closes its damper fully."""
        pairs = zip(self.seats, self.stance.loads, strict=True)
        return tuple(replace(seat, load=load).bottomed for seat, load in pairs)

    def rise(self, point: Point) -> float:
        """How much higher, m, the body then stands at (x, y)."""
        return self.stance.height(point) - self.before.stance.height(point)

    @property
    def rises(self) -> tuple[float, ...]:
        """How much higher, m, the body then stands over each of the four wheels."""
        return tuple(self.rise((corner.x, corner.y)) for corner in self.before.corners)

    @property
    def spares(self) -> tuple[float, ...]:
        """As those of `Standing`."""
        return _spares(self.before.corners, self.lines, self.stance)

    @property
    def droop_lengths(self) -> tuple[float, ...]:
        """From collar to cup at full droop, m."""
        return tuple(seat.droop_length for seat in self.seats)


def _spares(
    corners: Sequence[chassis.Wheel], lines: Sequence[settle.LoadLine], stance: Stance
) -> tuple[float, ...]:
    return tuple(
        (load - line.preload) / (corner.wheel_rate * corner.turn_lift)
        for corner, line, load in zip(corners, lines, stance.loads, strict=True)
    )


def plane(points: Sequence[Point], heights: Sequence[float]) -> tuple[float, float, float]:
    """Heave, pitch and roll of the plane nearest to the heights (least squares), m and m/m."""
    arms = [(1.0, x, y) for x, y in points]
    matrix = [[sum(a[i] * a[j] for a in arms) for j in range(3)] for i in range(3)]
    right = [sum(a[i] * h for a, h in zip(arms, heights, strict=True)) for i in range(3)]
    heave, pitch, roll = solve(matrix, right)
    return heave, pitch, roll


def over_wheels(
    points: Sequence[Point], heights: Sequence[float], corners: Sequence[chassis.Wheel]
) -> tuple[float, ...]:
    """Heights of the body over the wheels, m, from those at the measuring points."""
    heave, pitch, roll = plane(points, heights)
    return tuple(heave + pitch * corner.x + roll * corner.y for corner in corners)


def measuring_points(
    wheelbase: float, reach: Mapping[End, float], width: Mapping[End, float]
) -> tuple[Point, ...]:
    """Where the ride height is measured, (x, y) in m, from how far beyond its axle and how far
    apart the two points of each end lie."""
    along = {End.FRONT: wheelbase + reach[End.FRONT], End.REAR: -reach[End.REAR]}
    return tuple((along[end], side * width[end] / 2) for end in ENDS for side in (1.0, -1.0))


def points_of(car: Car) -> tuple[Point, ...]:
    """The `measuring_points` of the record, m."""
    return measuring_points(
        car.body.wheelbase,
        {end: car.axle(end).reach for end in ENDS},
        {end: car.axle(end).gauge_width for end in ENDS},
    )


ONE_ARM = 0.05
"""Relative: a drawing that gives another motion ratio than this is not of the arm on the car
(common practice, no source)."""


@lru_cache(maxsize=8)
def drawn(arm: Arm) -> Position:
    """The arm of the record at ride height, in the hole now used. Raises PhysicsError or
    Unreachable."""
    linkage = Linkage(
        pivot=(arm.pivot_out, arm.pivot_up),
        lower=(arm.lower_out, arm.lower_up),
        upper=(arm.upper_out, arm.upper_up),
        wheel=(arm.wheel_out, arm.wheel_up),
        kick_up=arm.kick_up,
    )
    return position(linkage, 0.0)


def is_arm_of(arm: Arm, motion_ratio: float) -> bool:
    """Whether the arm of the record is the one with this motion ratio, so that it tells how the
    ratio grows."""
    try:
        ratio = drawn(arm).motion_ratio
    except (PhysicsError, Unreachable):
        return False
    return abs(ratio / motion_ratio - 1.0) <= ONE_ARM


def growth_of(arm: Arm, motion_ratio: float) -> float:
    """Growth of the motion ratio at ride height, 1/m of wheel rise; 0 where it is not known."""
    return drawn(arm).motion_ratio_slope if is_arm_of(arm, motion_ratio) else 0.0


def knows_arm(car: Car, end: End) -> bool:
    """Whether every place of the arm of an end, in the hole now used, is known."""
    return all(is_known(car, f"{end}.arm.{name}") for name in PLACES)


def suspension_of(car: Car, end: End) -> Suspension:
    """An end as the car record has it. Raises CannotStand."""
    axle = car.axle(end)
    size = SpringSize(axle.spring_rate, axle.spring_free, axle.spring_solid)
    return Suspension(
        stack=stack_of([size]),
        motion_ratio=axle.motion_ratio,
        droop_length=axle.droop_length,
        pitch=axle.pitch,
        unsprung=axle.unsprung,
        track=axle.track,
        stroke=axle.stroke,
        growth=growth_of(axle.arm, axle.motion_ratio) if knows_arm(car, end) else 0.0,
        tyre_rate=axle.tyre_rate,
    )


def stand_up(car: Car) -> Standing:
    """The car as its record has it. Raises CannotStand, and ValueError where the measuring points
    lie so that four heights say nothing about how it leans."""
    legs = [
        leg
        for end in ENDS
        for leg in suspension_of(car, end).legs(
            end,
            [car.corner(corner).load for corner in end.corners],
            wheelbase=car.body.wheelbase,
        )
    ]
    heights = [car.axle(corner.end).ride_height for corner in CORNERS]
    corners = [leg.wheel for leg in legs]
    return Standing(tuple(legs), over_wheels(points_of(car), heights, corners))
