"""The car standing on its corners: against the arm solved exactly, against statics, and itself."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.model.car import Car
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.standing import (
    NEAR_BIND,
    ONE_ARM,
    SLIGHT,
    CannotStand,
    Fault,
    Finding,
    Seat,
    SpringSize,
    Standing,
    carrying,
    drawn,
    growth_of,
    is_arm_of,
    knows_arm,
    points_of,
    spring_load,
    stack_of,
    stand_up,
    suspension_of,
)
from calc.physics.linkage import Linkage
from calc.physics.mounting import drawn_hole, rate_at_wheel, rest
from calc.physics.spring import preload_from_turns
from calc.units import STANDARD_GRAVITY
from tests.owned import owned

STACK = stack_of([SpringSize(650.0, 40e-3, 13e-3)])
SEAT = Seat(STACK, load=2.9, motion_ratio=0.65, droop_length=38.5e-3, stroke=22e-3, growth=2.26)


def hole_of(end: End) -> tuple[Linkage, Seat]:
    arm = Car().axle(end).arm
    linkage = Linkage(
        pivot=(arm.pivot_out, arm.pivot_up),
        lower=(arm.lower_out, arm.lower_up),
        upper=(arm.upper_out, arm.upper_up),
        wheel=(arm.wheel_out, arm.wheel_up),
    )
    ratio = drawn(arm).motion_ratio
    seat = replace(suspension_of(Car(), end), motion_ratio=ratio).seat(0.41)
    return linkage, seat


@pytest.mark.parametrize("end", ENDS)
@given(turns=st.floats(-2.0, 2.0))
@settings(max_examples=40, deadline=None)
def test_a_turn_lifts_as_far_as_the_arm_solved_exactly_says(end: End, turns: float) -> None:
    """Wheel force = spring force x motion ratio all along the travel, its rest found as a root: the
    linear lift is off by the bend of the curve alone, some hundredths of what is moved; without
    the growth it is off by 3.5 % from the first turn on."""
    axle = Car().axle(end)
    linkage, seat = hole_of(end)
    hole = drawn_hole(linkage, longest=axle.damper_length, stroke=axle.stroke)
    offset = hole.ride.length - seat.stack.length(seat.force)
    shift = turns * axle.pitch
    exact = -rest(hole, seat.stack, seat=offset + shift, load=seat.load)
    assert seat.lift(shift) == pytest.approx(exact, rel=0.03, abs=2e-6)
    assert seat.rise(seat.down(shift)) == pytest.approx(seat.lift(shift), abs=1e-12)
    small = 0.01 * axle.pitch
    exact = -rest(hole, seat.stack, seat=offset + small, load=seat.load)
    assert seat.lift(small) == pytest.approx(exact, rel=1e-3)
    assert small / seat.motion_ratio > 1.03 * exact


@pytest.mark.parametrize("end", ENDS)
def test_the_wheel_rate_is_the_slope_of_the_wheel_force(end: End) -> None:
    axle = Car().axle(end)
    linkage, seat = hole_of(end)
    hole = drawn_hole(linkage, longest=axle.damper_length, stroke=axle.stroke)
    offset = hole.ride.length - seat.stack.length(seat.force)

    def force(rise: float) -> float:
        spot = hole.at(rise)
        return seat.stack.force(seat.stack.free - (spot.length - offset)) * spot.ratio

    slope = (force(1e-5) - force(-1e-5)) / 2e-5
    assert seat.wheel_rate == pytest.approx(slope, rel=1e-6)
    assert rate_at_wheel(hole, seat.stack, seat=offset, rise=0.0) == pytest.approx(slope, rel=1e-6)


def test_without_growth_a_turn_lifts_pitch_over_ratio() -> None:
    """By hand: 0.75 mm / 0.65 = 1.1538 mm; 0.65 N/mm x 0.65^2 = 0.274625 N/mm."""
    seat = replace(SEAT, growth=0.0)
    assert seat.lift(0.75e-3) == pytest.approx(1.153846e-3, rel=1e-6)
    assert seat.wheel_rate == pytest.approx(274.625)
    assert seat.down(1e-3).reach == pytest.approx(seat.reach - 1e-3)


def test_a_corner_that_falls_in_ratio_gives_way() -> None:
    """k MR^2 + F dMR/dz = 0 at dMR/dz = -650 x 0.65^2 / (2.9 / 0.65) = -61.6 per m."""
    assert replace(SEAT, growth=-61.0).check().wheel_rate > 0
    with pytest.raises(CannotStand) as raised:
        replace(SEAT, growth=-62.0).check()
    assert raised.value.fault is Fault.GIVES_WAY
    assert replace(SEAT, growth=-62.0).frequency == 0.0


def test_only_the_arm_with_this_ratio_tells_how_it_grows() -> None:
    arm = Car().front.arm
    ratio = drawn(arm).motion_ratio
    assert growth_of(arm, ratio * (1 + 0.9 * ONE_ARM)) == drawn(arm).motion_ratio_slope > 0
    assert growth_of(arm, ratio * (1 + 1.2 * ONE_ARM)) == 0.0
    assert not is_arm_of(replace(arm, wheel_out=arm.pivot_out), ratio)  # no arm can be like that
    level = {"pivot_out": 0.0, "wheel_up": arm.pivot_up, "lower_out": 0.125, "upper_out": 0.0625}
    assert not is_arm_of(replace(arm, **level, wheel_out=1.6e-181), ratio)


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ({}, set()),
        ({"droop_length": 30e-3}, {Finding.ON_STOP, Finding.BINDS}),
        ({"load": 30.0}, {Finding.BOTTOMED}),
        ({"droop_length": 40e-3 + 0.9 * SLIGHT}, set()),
        ({"droop_length": 40e-3 + 1.1 * SLIGHT}, {Finding.LOOSE}),
        ({"stroke": 25.5e-3 + 0.9 * SLIGHT}, {Finding.NEAR_BIND}),
        ({"stroke": 25.5e-3 + 1.1 * SLIGHT}, {Finding.BINDS}),
        ({"stroke": 25.5e-3 - 0.9 * NEAR_BIND}, {Finding.NEAR_BIND}),
        ({"stroke": 25.5e-3 - 1.1 * NEAR_BIND}, set()),
    ],
)
def test_findings_and_their_thresholds(change: dict[str, float], found: set[Finding]) -> None:
    """38.5 mm at full droop less 13 mm solid leave 25.5 mm of stroke."""
    assert replace(SEAT, **change).findings == found  # type: ignore[arg-type]


def test_a_spring_without_solid_length_never_binds() -> None:
    seat = replace(SEAT, stack=stack_of([SpringSize(650.0, 40e-3)]), stroke=float("inf"))
    assert seat.findings == set() and not seat.bound
    assert seat.preload_force == pytest.approx(650.0 * 1.5e-3)
    assert seat.reach == pytest.approx(SEAT.reach) and seat.wheel_rate == pytest.approx(
        SEAT.wheel_rate
    )


def test_preload_is_the_same_from_lengths_and_from_turns() -> None:
    seat = replace(SEAT, stack=stack_of([SpringSize(650.0, 80e-3)]), droop_length=76.5e-3)
    assert seat.preload == pytest.approx(preload_from_turns(pitch=1e-3, turns=3.5), rel=1e-12)


def test_a_spring_shorter_than_its_room_is_loose_by_the_gap() -> None:
    seat = replace(SEAT, stack=stack_of([SpringSize(650.0, 70e-3)]), droop_length=72e-3)
    assert seat.preload == pytest.approx(-2e-3, rel=1e-12)


def test_a_seat_known_by_its_rate_alone_has_the_same_rate_at_the_wheel() -> None:
    alone = carrying(rate=650.0, load=2.9, motion_ratio=0.65, growth=2.26)
    assert alone.wheel_rate == pytest.approx(SEAT.wheel_rate)
    assert alone.frequency == pytest.approx(SEAT.frequency)


def test_what_cannot_stand_is_told_by_its_fault() -> None:
    with pytest.raises(CannotStand) as raised:
        stack_of([SpringSize(650.0, 40e-3, 13e-3), SpringSize(650.0, 13e-3, 13e-3)])
    assert (raised.value.fault, raised.value.place) == (Fault.SOLID_AS_FREE, 1)
    with pytest.raises(CannotStand) as raised:
        spring_load(0.07, 0.07)
    assert raised.value.fault is Fault.ALL_UNSPRUNG
    with pytest.raises(CannotStand) as raised:
        replace(SEAT, load=0.65 * 27e-3 * 650.0 * 1.01, stroke=30e-3).check()
    assert raised.value.fault is Fault.BOUND
    light = replace(Car().corners, rear_left=replace(Car().corners.rear_left, load=0.08))
    with pytest.raises(CannotStand) as raised:
        stand_up(replace(Car(), corners=light))
    assert raised.value.corner is Corner.REAR_LEFT


def statics(car: Standing, turns: list[float]) -> np.ndarray:
    """Heave, pitch and roll of a rigid body on four springs, by numpy: a turn at a body that is
    held still adds k MR pitch to its wheel's load, less what the tyre gives under that: of two
    springs in series the one takes kt/(k + kt) of what is asked of the other."""
    arms = np.array([[1.0, leg.x, leg.y] for leg in car.legs])
    tyre = 3000.0  # N/m, of the demo car
    gives = [tyre / (tyre + leg.seat.wheel_rate) for leg in car.legs]
    rates = np.diag([leg.seat.wheel_rate * it for leg, it in zip(car.legs, gives, strict=True)])
    pushes = [
        n * leg.pitch * leg.seat.rate * leg.seat.motion_ratio * it
        for n, leg, it in zip(turns, car.legs, gives, strict=True)
    ]
    moved: np.ndarray = np.linalg.solve(arms.T @ rates @ arms, arms.T @ np.array(pushes))
    return moved


@given(turns=st.lists(st.floats(-1.5, 1.0), min_size=4, max_size=4))
@settings(max_examples=50, deadline=None)
def test_a_car_of_the_record_with_its_collars_turned_against_numpy(turns: list[float]) -> None:
    car = stand_up(Car())
    then = car.turned(turns)
    heave, pitch, roll = statics(car, turns)
    for corner, rise in zip(car.corners, then.rises, strict=True):
        assert rise == pytest.approx(heave + pitch * corner.x + roll * corner.y, abs=1e-9)
    arms = np.array([[1.0, leg.x, leg.y] for leg in car.legs])
    was, now = (np.array(each.readings) for each in (car, then))
    assert arms.T @ now == pytest.approx(arms.T @ was, rel=1e-9)
    lengths = [38.5e-3, 38.5e-3, 55.5e-3, 55.5e-3]
    assert then.droop_lengths == pytest.approx(
        [length - n * 0.75e-3 for length, n in zip(lengths, turns, strict=True)]
    )


def test_the_car_of_the_record_stands_as_high_and_as_heavy_as_it_says() -> None:
    car = stand_up(Car())
    assert [car.stance.height(point) for point in points_of(Car())] == pytest.approx(
        [22e-3, 22e-3, 23e-3, 23e-3], abs=1e-12
    )
    masses = [Car().corner(corner).load for corner in CORNERS]
    assert [reading / STANDARD_GRAVITY for reading in car.readings] == pytest.approx(masses)
    assert car.turned([0.0] * 4).rises == pytest.approx([0.0] * 4, abs=1e-15)


def test_other_springs_with_the_collars_left_alone() -> None:
    """A spring half as stiff again, its collar untouched, lifts by what it presses less: F/k less
    F/(1.5 k), less what the body tilts; turned back by exactly that it stands as before."""
    car = stand_up(Car())
    stiff = stack_of([SpringSize(975.0, 40e-3, 13e-3)])
    then = car.refitted({End.FRONT: stiff})
    assert min(then.rises[:2]) > 2e-3 and max(map(abs, then.rises[2:])) < 0.05e-3
    assert sum(then.readings) == pytest.approx(sum(car.readings))
    shifts = [seat.shift_to(new) for seat, new in zip(car.seats[:2], then.seats[:2], strict=True)]
    legs = [
        replace(leg, seat=new.down(shift))
        for leg, new, shift in zip(car.legs[:2], then.seats[:2], shifts, strict=True)
    ]
    back = Standing((*legs, *car.legs[2:]), car.heights)
    assert back.stance.loads == pytest.approx(car.stance.loads, rel=1e-9)
    assert legs[0].seat.sag == pytest.approx(car.seats[0].sag, rel=1e-9)
    with pytest.raises(CannotStand) as raised:
        car.refitted({End.REAR: stack_of([SpringSize(20.0, 58e-3, 40e-3)])})
    assert raised.value.fault is Fault.BOUND and raised.value.corner is Corner.REAR_LEFT


@given(apart=st.floats(-4e-3, 4e-3), growth=st.floats(-1.0, 3.0), ratio=st.floats(0.55, 0.75))
@settings(max_examples=100, deadline=None)
def test_where_mounts_are_further_apart_the_damper_stands_further_out(
    apart: float, growth: float, ratio: float
) -> None:
    """The body and the wheel stay where they are, so the damper is longer by just what its mounts
    are moved apart, whatever its ratio there and however that grows."""
    front = replace(suspension_of(Car(), End.FRONT), tyre_rate=math.inf)
    now = front.seat(0.41)
    new_hole = replace(front, motion_ratio=ratio, growth=growth)
    then = new_hole.seat(0.41, before=now, mount_shift=apart)
    stays = then.down(now.shift_to(then, apart))
    assert stays.reach == pytest.approx(now.reach - apart, abs=1e-12)
    assert stays.reach == pytest.approx(stays.place, abs=1e-12), "where the ratio was found"


def test_a_load_put_in_by_moments() -> None:
    """60 g over the middle of the car: the scales show it all, and moments stay in balance."""
    car = stand_up(Car())
    then = car.loaded(0.06, (0.14, 0.0))
    extra = 0.06 * STANDARD_GRAVITY
    arms = np.array([[1.0, leg.x, leg.y] for leg in car.legs])
    gained = arms.T @ (np.array(then.readings) - np.array(car.readings))
    assert gained == pytest.approx([extra, extra * 0.14, 0.0], abs=1e-9)
    assert max(then.rises) < 0


def test_a_corner_on_its_stop_is_not_lifted_by_its_collar() -> None:
    """Preload of 10 mm where the load presses by 6.8 mm: on the stop, three turns down lift it by
    what the stop itself gives, a thousandth of a millimetre or two."""
    front = replace(Car().front, spring_free=48.5e-3)
    car = stand_up(replace(Car(), front=front))
    assert car.stance.on_stop == (True, True, False, False)
    assert car.turned([3.0, 3.0, 0.0, 0.0]).rises[:2] == pytest.approx([0.0, 0.0], abs=5e-6)
    assert Finding.ON_STOP in car.seats[0].findings


@given(
    load=st.floats(0.0, 60.0),
    ratio=st.floats(0.3, 1.2),
    rate=st.floats(50.0, 2e4),
    preload=st.floats(-0.01, 0.05),
    turns=st.floats(-10.0, 10.0),
    pitch=st.floats(0.3e-3, 2e-3),
)
@settings(max_examples=200, deadline=None)
def test_the_collar_lifts_only_off_the_droop_stop(
    load: float, ratio: float, rate: float, preload: float, turns: float, pitch: float
) -> None:
    """Load / ratio / rate less the preload is the shaft travel left to droop: what the collar moves
    within it lifts by pitch / ratio, the rest only loads the spring."""
    seat = Seat(stack_of([SpringSize(rate, 0.2)]), load, ratio, droop_length=0.2 - preload)
    left = (load / ratio / rate - preload) / pitch
    assert seat.spare / pitch == pytest.approx(left, rel=1e-9, abs=1e-9)
    acting = min(turns, left) if left > 0 else min(0.0, turns - left)
    rise = seat.rise(seat.down(turns * pitch))
    assert rise == pytest.approx(acting * pitch / ratio, rel=1e-6, abs=1e-11)
    assert rise <= seat.sag + 1e-12
    # A hair from the stop the two ways of saying it may round apart.
    assert seat.on_stop == (rate * preload >= load / ratio) or abs(left) < 1e-9


@pytest.mark.parametrize("end", ENDS)
def test_an_arm_counts_only_where_all_of_it_is_known(end: End) -> None:
    car = owned()
    assert knows_arm(car, end)
    assert suspension_of(car, end).growth == suspension_of(Car(), end).growth > 0
    origins = {path: one for path, one in car.origins.items() if path != f"{end}.arm.upper_up"}
    lacking = replace(car, origins=origins)
    assert not knows_arm(lacking, end)
    assert suspension_of(lacking, end).growth == 0.0
    drawn_once = {path: one for path, one in car.origins.items() if ".arm.other" not in path}
    assert knows_arm(replace(car, origins=drawn_once), end)  # the other hole is another matter
