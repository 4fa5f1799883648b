"""The body on its four corners: heights, loads, cross weight. SI floats.

x is the distance ahead of the rear axle, y to the left of the middle of the car, z up.
The corners always come front left, front right, rear left, rear right. A turn is positive when it
raises the car (collar down, towards the cup).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.physics.linear import solve
from calc.physics.require import finite, not_negative, positive

Point = tuple[float, float]  # (x, y) in m


@dataclass(frozen=True, slots=True)
class Wheel:
    """The wheel of a corner, at (x, y) in m: wheel_rate in N/m, turn_lift in m (p/MR, the lift by
    one turn of the collar at unchanged load), tyre_rate in N/m, infinite for one taken as rigid."""

    x: float
    y: float
    wheel_rate: float
    turn_lift: float
    tyre_rate: float = math.inf

    def __post_init__(self) -> None:
        finite(x=self.x, y=self.y)
        positive(wheel_rate=self.wheel_rate, turn_lift=self.turn_lift)
        if not self.tyre_rate > 0.0:
            raise ValueError(f"tyre rate must be above 0, not {self.tyre_rate:g}")

    def above_tyre(self, rate: float) -> float:
        """A rate in N/m between wheel and body as the ground feels it, through the tyre."""
        return rate / (1.0 + rate / self.tyre_rate)

    @property
    def rate(self) -> float:
        """Wheel rate and tyre rate in series, N/m."""
        return self.above_tyre(self.wheel_rate)


@dataclass(frozen=True, slots=True)
class Change:
    """A move of the body: heave in m at x = y = 0, pitch and roll as slopes (m per m; nose up and
    left side up positive), and the change of each corner's load, N."""

    heave: float
    pitch: float
    roll: float
    loads: tuple[float, ...]

    @property
    def cross(self) -> float:
        """Change of load on the front left and the rear right together, N."""
        return self.loads[0] + self.loads[3]

    def on_scales(self, loads: Sequence[float]) -> list[float]:
        """What the scales show then, N, where they showed these loads; nothing at a wheel that
        would have to pull."""
        return [max(0.0, load + more) for load, more in zip(loads, self.loads, strict=True)]

    def rise(self, point: Point) -> float:
        """Rise of the body in m at (x, y)."""
        return self.heave + self.pitch * point[0] + self.roll * point[1]


@dataclass(frozen=True, slots=True)
class Shares:
    """Readings of four scales: total in N; shares of it on the front, the left, and the diagonal of
    the front left and the rear right corner (cross weight)."""

    total: float
    front: float
    left: float
    cross: float


def axle_turns(*, wheelbase: float, lifts: Point, points: Point, rises: Point) -> Point:
    """Turns (front, rear) of both collars of each axle for rises in m at two points x.

    Quick model: an axle rises by turns times lift (p/MR), and the body stays straight. Holds while
    no corner sits on its droop stop. Raises ValueError for two points at the same place.
    """
    positive(wheelbase=wheelbase, front_lift=lifts[0], rear_lift=lifts[1])
    if points[0] == points[1]:
        raise ValueError("the two measuring points must not be at the same place")
    shares = [x / wheelbase for x in points]
    front, rear = solve([[s, 1.0 - s] for s in shares], rises)
    return front / lifts[0], rear / lifts[1]


def check_corners(corners: Sequence[Wheel]) -> None:
    """Raise ValueError unless there are four corners and each stands where its name belongs."""
    if len(corners) != 4:
        raise ValueError("a car has four corners")
    front_left, front_right, rear_left, rear_right = corners
    if min(front_left.x, front_right.x) <= max(rear_left.x, rear_right.x):
        raise ValueError("the front wheels must stand ahead of the rear wheels")
    if min(front_left.y, rear_left.y) <= max(front_right.y, rear_right.y):
        raise ValueError("the left wheels must stand to the left of the right wheels")


def turn_collars(corners: Sequence[Wheel], turns: Sequence[float]) -> Change:
    """Move of the body, and of its loads, by turns of each collar: `move_seats` by turns lift."""
    return move_seats(
        corners, [corner.turn_lift * n for corner, n in zip(corners, turns, strict=True)]
    )


def move_seats(corners: Sequence[Wheel], raised: Sequence[float]) -> Change:
    """Move of the body, and of its loads, where each corner would lift it by so many m under an
    unchanged load (three equations of statics): collars, a scale that stands high, friction.

    F_i = K_i (s_i - heave - pitch x_i - roll y_i), s_i what is raised; the force changes and their
    two moments add up to nothing. Holds while every wheel stays clear of its droop stop and on
    the ground; `settle` does not need that.
    """
    check_corners(corners)
    # Sums written out: answers with their doubts ask for thousands of these.
    k0 = kx = ky = kxx = kxy = kyy = f0 = fx = fy = 0.0
    wheels = [
        (corner.rate, up, corner.x, corner.y) for corner, up in zip(corners, raised, strict=True)
    ]
    for k, up, x, y in wheels:
        k0, kx, ky = k0 + k, kx + k * x, ky + k * y
        kxx, kxy, kyy = kxx + k * x * x, kxy + k * x * y, kyy + k * y * y
        f0, fx, fy = f0 + k * up, fx + k * up * x, fy + k * up * y
    matrix = [[k0, kx, ky], [kx, kxx, kxy], [ky, kxy, kyy]]
    heave, pitch, roll = solve(matrix, [f0, fx, fy])
    loads = tuple(k * (up - heave - pitch * x - roll * y) for k, up, x, y in wheels)
    return Change(heave, pitch, roll, loads)


def shares(loads: Sequence[float]) -> Shares:
    """Shares of four scale readings (any one unit of force or mass, at least 0)."""
    front_left, front_right, rear_left, rear_right = loads
    for load in loads:
        not_negative(load=load)
    total = math.fsum(loads)
    positive(total=total)
    return Shares(
        total=total,
        front=(front_left + front_right) / total,
        left=(front_left + rear_left) / total,
        cross=(front_left + rear_right) / total,
    )


def still_turns(
    corners: Sequence[Wheel], loads: Sequence[float], target: float
) -> tuple[float, ...]:
    """Turns at each corner that bring the cross weight to its target and do not move the body.

    The load goes across the diagonals so that force and moments balance by themselves; every
    spring then gets the collar travel that its own change of load asks for.
    """
    _check_target(target)
    check_corners(corners)
    now = shares(loads)
    wanted = (target - now.cross) * now.total
    # Force, both moments, and the wanted sum on the front left to rear right diagonal.
    rows = [[1.0] * 4, [c.x for c in corners], [c.y for c in corners], [1.0, 0.0, 0.0, 1.0]]
    moved = solve(rows, [0.0, 0.0, 0.0, wanted])
    return tuple(f / (c.rate * c.turn_lift) for f, c in zip(moved, corners, strict=True))


def _check_target(target: float) -> None:
    if not 0.0 < target < 1.0:
        raise ValueError("the cross weight wanted must lie between 0 and 1 (a share of the total)")
