"""The car on four scales: what opposite turns do to loads and heights, and which are best."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from calc.answering.hand import to_step
from calc.forms.fields import sprung_load
from calc.language import tr
from calc.model.corners import Corner
from calc.physics import chassis
from calc.physics.chassis import (
    Shares,
    shares,
    still_turns,
    turn_collars,
)
from calc.physics.linkage import lift_per_turn, wheel_rate
from calc.physics.settle import Leg, Stance, balance_point, measured_leg, settle, turned
from calc.replying.form import Given, Problem
from calc.units import STANDARD_GRAVITY

OPPOSITE = (1.0, -1.0, -1.0, 1.0)  # more cross weight: front left and rear right down
PAIRS = {
    "all": OPPOSITE,
    "front": (1.0, -1.0, 0.0, 0.0),
    "rear": (0.0, 0.0, -1.0, 1.0),
}
_LEAN, _OFF = 0.2e-3, 0.0025  # m of lean at a wheel that counts like so much cross weight missed
_AROUND = (-2, -1, 0, 1, 2)  # steps tried around the exact turns
_MOST = 60.0  # turns; no thread is longer


@dataclass(frozen=True)
class Stand:
    """The car as it stands on the scales: corners, legs, the stance, scale readings in N."""

    corners: tuple[chassis.Corner, ...]
    legs: tuple[Leg, ...]
    stance: Stance
    readings: tuple[float, ...]
    weight: float
    centre: tuple[float, float]

    @property
    def shares(self) -> Shares:
        return shares(self.readings)

    def turned(self, turns: Sequence[float]) -> "Stand":
        """The same after turns of each collar, droop stops and hanging wheels minded."""
        legs = tuple(turned(leg, n) for leg, n in zip(self.legs, turns, strict=True))
        stance = settle(legs, weight=self.weight, centre=self.centre)
        moved = zip(self.readings, stance.loads, self.stance.loads, strict=True)
        readings = tuple(max(0.0, reading + then - was) for reading, then, was in moved)
        return Stand(self.corners, legs, stance, readings, self.weight, self.centre)

    def heights(self) -> list[float]:
        """Of the body at the four wheels, m, from where it stood level."""
        return [self.stance.height((corner.x, corner.y)) for corner in self.corners]


def stand(given: Given) -> Stand:
    """The car on the scales, taken to stand level. Raises Problem."""
    ends = {row.key: row for row in given.rows("end")}
    corners, legs, readings = [], [], []
    for row in given.rows("corner"):
        end = ends[Corner(row.key).end]
        corner = chassis.Corner(
            x=given.wheelbase if end.key == "front" else 0.0,
            y=(1.0 if row.key.endswith("left") else -1.0) * end.track / 2,
            wheel_rate=wheel_rate(rate=end.spring_rate, motion_ratio=end.motion_ratio),
            turn_lift=lift_per_turn(pitch=end.pitch, motion_ratio=end.motion_ratio),
        )
        load = sprung_load(row.load, end.unsprung, f"end.{end.key}.unsprung")
        preload = (end.spring_free - end.droop_length) * end.spring_rate * end.motion_ratio
        corners.append(corner)
        legs.append(measured_leg(corner, load=load, preload=preload, height=0.0))
        readings.append(row.load * STANDARD_GRAVITY)
    loads = [
        reading - ends[Corner(row.key).end].unsprung * STANDARD_GRAVITY
        for row, reading in zip(given.rows("corner"), readings, strict=True)
    ]
    centre = balance_point(corners, loads)
    stance = settle(legs, weight=sum(loads), centre=centre)
    return Stand(tuple(corners), tuple(legs), stance, tuple(readings), sum(loads), centre)


def exact(given: Given, car: Stand) -> tuple[float, ...]:
    """The turns, exact, that bring the cross weight to its target by the linear model."""
    where, target = given.choice("where"), given.cross_wanted
    if where == "all":
        return still_turns(car.corners, car.readings, target)
    number = (target - car.shares.cross) / cross_of_a_turn(car, where)
    return tuple(number * each for each in PAIRS[where])


def cross_of_a_turn(car: Stand, where: str) -> float:
    """Change of cross weight by one opposite turn of each collar concerned."""
    change = turn_collars(car.corners, PAIRS[where]).loads
    return (change[0] + change[3]) / car.shares.total


def best(given: Given, car: Stand) -> tuple[float, ...]:
    """Whole steps: the cross weight within the rounding, the least lean among those."""
    step = given.turn_step
    front, _, _, rear = exact(given, car)
    if max(abs(front), abs(rear)) > _MOST:
        raise Problem(
            "cross_wanted",
            tr(
                "Cross weight wanted: it would take over {most} turns of these collars; it is out "
                "of reach of the springs.",
                most=f"{_MOST:.0f}",
            ),
        )
    steps = [_near(front, step), _near(rear, step)]
    within = abs(cross_of_a_turn(car, given.choice("where"))) * step / 2
    return min(
        ((f, -f, -r, r) for f, r in product(*steps)),
        key=lambda turns: _miss(given.cross_wanted, within, car, turns),
    )


def _near(turns: float, step: float) -> list[float]:
    """Whole steps around the exact turns; a pair that stays is not touched."""
    if turns == 0:
        return [0.0]
    return [to_step(turns, step) + n * step for n in _AROUND]


def _miss(
    wanted: float, within: float, car: Stand, turns: Sequence[float]
) -> tuple[bool, float, float]:
    """Outside the rounding or not; miss and lean together; how many turns."""
    change = turn_collars(car.corners, turns)
    cross = (change.loads[0] + change.loads[3]) / car.shares.total
    off = abs(car.shares.cross + cross - wanted)
    lean = abs(change.roll) * max(corner.y for corner in car.corners)
    cost = (off / _OFF) ** 2 + (lean / _LEAN) ** 2
    return off > within * (1 + 1e-9), cost, sum(map(abs, turns))


def figures(given: Given, turns: Sequence[float]) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact."""
    car = stand(given)
    after = car.turned(turns)
    front, _, _, rear = exact(given, car)
    made = {
        "cross_weight": car.shares.cross,
        "front_share": car.shares.front,
        "left_share": car.shares.left,
        "cross_after": after.shares.cross,
        "mean_height": sum(after.heights()) / 4 - sum(car.heights()) / 4,
    }
    for end, number in (("front", front), ("rear", rear)):
        if given.choice("where") in ("all", end):
            made[f"{end}_turns"] = number
    return made
