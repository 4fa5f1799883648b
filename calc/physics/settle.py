"""Where the body comes to rest when corners may sit on droop stops or lift a wheel. SI floats."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.physics.chassis import Point, Wheel, check_corners
from calc.physics.linear import solve
from calc.physics.require import finite, not_negative, positive

# A damper against its droop stop, at the wheel, N/m: stiff beside any spring.
STOP_RATE = 2e5
_STEPS = 200
# Share of the stiffness lent to hanging wheels where fewer than three hold the body.
_HOLD = 1e-6
_BALANCED = 1e-10

Vector = list[float]


@dataclass(frozen=True, slots=True)
class LoadLine:
    """Load of a wheel against how far the body sinks: preload is the load in N at which it leaves
    its droop stop (below 0: the spring is loose by -preload/wheel_rate at the wheel), droop_height
    the height of the body there in m with the wheel at full droop and just touching the ground."""

    wheel: Wheel
    preload: float
    droop_height: float
    stop_rate: float = STOP_RATE

    def __post_init__(self) -> None:
        finite(preload=self.preload, droop_height=self.droop_height)
        positive(stop_rate=self.stop_rate)

    @property
    def knots(self) -> tuple[float, float]:
        """Drops in m from droop_height at which the wheel takes load, and the spring acts."""
        if self.preload <= 0.0:
            gap = -self.preload / self.wheel.wheel_rate
            return gap, gap
        first = -self.preload / self.stop_rate
        return first, first + self.preload / self.wheel.above_tyre(self.stop_rate)

    def load(self, drop: float) -> float:
        """Load in N with the body a drop in m below droop_height: none, on the stop, on spring."""
        touch, act = self.knots
        on_stop = max(0.0, min(drop, act) - touch) * self.wheel.above_tyre(self.stop_rate)
        return on_stop + max(0.0, drop - act) * self.wheel.rate

    def slope(self, drop: float) -> float:
        """Change of load per m of drop, N/m."""
        touch, act = self.knots
        if drop < touch:
            return 0.0
        return self.wheel.above_tyre(self.stop_rate) if drop < act else self.wheel.rate


@dataclass(frozen=True, slots=True)
class Stance:
    """The body at rest: heave in m at x = y = 0, pitch and roll as slopes (nose up and left side
    up positive); of every corner its load in N, whether it sits on its droop stop, whether its
    wheel is off the ground."""

    heave: float
    pitch: float
    roll: float
    loads: tuple[float, ...]
    on_stop: tuple[bool, ...]
    lifted: tuple[bool, ...]

    def height(self, point: Point) -> float:
        """Height of the body in m at (x, y)."""
        return self.heave + self.pitch * point[0] + self.roll * point[1]


def measured_line(
    wheel: Wheel, *, load: float, preload: float, height: float, stop_rate: float = STOP_RATE
) -> LoadLine:
    """The line of a wheel under a load in N with the body at height in m, as measured."""
    not_negative(load=load)
    finite(height=height)
    leg = LoadLine(wheel, preload, 0.0, stop_rate)
    touch, act = leg.knots
    on_stop = min(load, max(0.0, preload))
    drop = touch + on_stop / wheel.above_tyre(stop_rate)
    if load > on_stop:
        drop = act + (load - on_stop) / wheel.rate
    return replace(leg, droop_height=height + drop)


def turned(leg: LoadLine, turns: float) -> LoadLine:
    """The line after turns of its collar (positive: down, more preload); full droop stays."""
    added = leg.wheel.wheel_rate * leg.wheel.turn_lift * turns
    return replace(leg, preload=leg.preload + added)


def balance_point(corners: Sequence[Wheel], loads: Sequence[float]) -> Point:
    """Point (x, y) in m under which the weight hangs, from the four loads."""
    total = math.fsum(loads)
    positive(total=total)
    x = sum(f * c.x for f, c in zip(loads, corners, strict=True)) / total
    y = sum(f * c.y for f, c in zip(loads, corners, strict=True)) / total
    return x, y


def settle(legs: Sequence[LoadLine], *, weight: float, centre: Point) -> Stance:
    """Where a body of weight N, centred over (x, y) in m, comes to rest on its legs.

    The potential energy is convex, and a parabola on every piece (wheel off the ground, on the
    stop, on the spring), so Newton steps with an exact search along each reach its bottom.
    Raises ValueError where the weight is not between the wheels: the car would tip over.
    """
    corners = [leg.wheel for leg in legs]
    check_corners(corners)
    positive(weight=weight)
    _check_centre(corners, centre)
    arms = [[1.0, c.x, c.y] for c in corners]
    pull = [weight, weight * centre[0], weight * centre[1]]
    body = _first_guess(legs, arms, pull)
    reach = corners[0].x - corners[2].x
    small = _BALANCED * weight
    for _ in range(_STEPS):
        drops = [leg.droop_height - _dot(arm, body) for leg, arm in zip(legs, arms, strict=True)]
        loads = [leg.load(drop) for leg, drop in zip(legs, drops, strict=True)]
        left = [sum(f * a[i] for f, a in zip(loads, arms, strict=True)) - pull[i] for i in range(3)]
        if abs(left[0]) <= small and max(abs(left[1]), abs(left[2])) <= small * reach:
            return _stance(legs, body, loads, small)
        slopes = [leg.slope(drop) for leg, drop in zip(legs, drops, strict=True)]
        step = solve(_stiffness(slopes, legs, arms), left)
        share = _line_search(legs, drops, [_dot(arm, step) for arm in arms], _dot(pull, step))
        body = [b + share * s for b, s in zip(body, step, strict=True)]
    raise ArithmeticError("the body found no rest")


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


def _check_centre(corners: Sequence[Wheel], centre: Point) -> None:
    """Go round the wheels anticlockwise: the weight must lie to the left of every side."""
    front_left, front_right, rear_left, rear_right = corners
    around = [front_right, front_left, rear_left, rear_right]
    for a, b in zip(around, around[1:] + around[:1], strict=True):
        side = (b.x - a.x) * (centre[1] - a.y) - (b.y - a.y) * (centre[0] - a.x)
        if not side > 0.0:
            raise ValueError("the weight must lie between the wheels, or the car tips over")


def _stiffness(
    slopes: Sequence[float], legs: Sequence[LoadLine], arms: list[Vector]
) -> list[Vector]:
    held = slopes
    if sum(k > 0.0 for k in slopes) < 3:
        most = max(*slopes, *(leg.wheel.rate for leg in legs))
        held = [max(k, _HOLD * most) for k in slopes]
    return [
        [sum(k * a[i] * a[j] for k, a in zip(held, arms, strict=True)) for j in range(3)]
        for i in range(3)
    ]


def _first_guess(legs: Sequence[LoadLine], arms: list[Vector], pull: Vector) -> Vector:
    """The rest of the same body with every corner on its spring."""
    rates = [leg.wheel.rate for leg in legs]
    tops = [leg.droop_height - leg.knots[1] for leg in legs]
    preloads = [max(0.0, leg.preload) for leg in legs]
    right = [
        sum((p + k * t) * a[i] for p, k, t, a in zip(preloads, rates, tops, arms, strict=True))
        - pull[i]
        for i in range(3)
    ]
    return solve(_stiffness(rates, legs, arms), right)


def _line_search(legs: Sequence[LoadLine], drops: Vector, rises: Vector, pull: float) -> float:
    """Share of a step at which the energy is lowest: where the force along it changes sign.

    The force is a broken line that never falls, with corners at the legs' knots.
    """

    def force(share: float) -> float:
        lifts = (leg.load(d - share * r) * r for leg, d, r in zip(legs, drops, rises, strict=True))
        return pull - sum(lifts)

    breaks = sorted(
        (drop - knot) / rise
        for leg, drop, rise in zip(legs, drops, rises, strict=True)
        for knot in leg.knots
        if rise != 0.0 and (drop - knot) / rise > 0.0
    )
    low, at_low = 0.0, force(0.0)
    for high in [*breaks, max(breaks, default=0.0) + 1.0]:
        at_high = force(high)
        # The last piece runs on for ever: its line decides, wherever its second point was taken.
        if (at_high >= 0.0 or high > max(breaks, default=0.0)) and at_high > at_low:
            return low - at_low * (high - low) / (at_high - at_low)
        low, at_low = high, at_high
    return 1.0


def _stance(legs: Sequence[LoadLine], body: Vector, loads: Vector, small: float) -> Stance:
    heave, pitch, roll = body
    pairs = list(zip(legs, loads, strict=True))
    return Stance(
        heave=heave,
        pitch=pitch,
        roll=roll,
        loads=tuple(loads),
        on_stop=tuple(leg.preload > 0.0 and load <= leg.preload + small for leg, load in pairs),
        lifted=tuple(load <= small for load in loads),
    )
