"""The car on its four corners as it was entered: where it stands, and what came of turning."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isclose

from calc.forms.fields import sprung_load
from calc.language import tr
from calc.model.corners import Corner
from calc.physics import chassis
from calc.physics.chassis import Point, turn_collars
from calc.physics.linear import solve as solve_linear
from calc.physics.linkage import lift_per_turn, wheel_rate
from calc.physics.settle import Leg, Stance, measured_leg
from calc.replying.form import Given, Problem, Row
from calc.units import STANDARD_GRAVITY


@dataclass(frozen=True)
class State:
    """The car as measured: corners in order, where and how high it was measured, scale loads."""

    corners: tuple[chassis.Corner, ...]
    points: tuple[Point, ...]
    heights: tuple[float, ...]
    loads: tuple[float, ...]

    def heights_after(self, turns: Sequence[float]) -> list[float]:
        """By the linear model, which holds while every wheel is clear of its stops."""
        change = turn_collars(self.corners, turns)
        return [h + change.rise(p) for h, p in zip(self.heights, self.points, strict=True)]


def state(given: Given) -> State:
    ends = {row.key: row for row in given.rows("end")}
    corners, points = [], []
    for row in given.rows("corner"):
        end = ends[Corner(row.key).end]
        side = 1.0 if row.key.endswith("left") else -1.0
        front = end.key == "front"
        corners.append(
            chassis.Corner(
                x=given.wheelbase if front else 0.0,
                y=side * end.track / 2,
                wheel_rate=wheel_rate(rate=end.spring_rate, motion_ratio=end.motion_ratio),
                turn_lift=lift_per_turn(pitch=end.pitch, motion_ratio=end.motion_ratio),
                tyre_rate=given.maybe("tyre_rate"),
            )
        )
        along = given.wheelbase + end.reach if front else -end.reach
        points.append((along, side * end.gauge_width / 2))
    if isclose(points[0][0], points[2][0], abs_tol=1e-6):
        raise Problem(
            "end.front.reach",
            tr(
                "Measuring point: the front and the rear points lie at the same place, so the "
                "heights say nothing about how the car leans; measure nearer to the axles."
            ),
        )
    rows = given.rows("corner")
    return State(
        tuple(corners),
        tuple(points),
        tuple(row.height for row in rows),
        tuple(row.load * STANDARD_GRAVITY for row in rows),
    )


def plane(points: Sequence[Point], heights: Sequence[float]) -> tuple[float, float, float]:
    """Heave, pitch and roll of the plane nearest to four heights (least squares), m and m/m."""
    arms = [(1.0, x, y) for x, y in points]
    matrix = [[sum(a[i] * a[j] for a in arms) for j in range(3)] for i in range(3)]
    right = [sum(a[i] * h for a, h in zip(arms, heights, strict=True)) for i in range(3)]
    heave, pitch, roll = solve_linear(matrix, right)
    return heave, pitch, roll


def legs(given: Given, car: State) -> tuple[Leg, ...]:
    """Every corner with its droop stop, standing as it was measured."""
    ends = {row.key: row for row in given.rows("end")}
    heave, pitch, roll = plane(car.points, car.heights)
    made = []
    for row, corner in zip(given.rows("corner"), car.corners, strict=True):
        end = ends[Corner(row.key).end]
        load = sprung(given, row)
        preload = (end.spring_free - end.droop_length) * end.spring_rate * end.motion_ratio
        height = heave + pitch * corner.x + roll * corner.y
        made.append(measured_leg(corner, load=load, preload=preload, height=height))
    return tuple(made)


def sprung(given: Given, row: Row) -> float:
    """What the spring of a corner holds up at the wheel, N."""
    end = next(end for end in given.rows("end") if Corner(row.key).end == end.key)
    return sprung_load(row.load, end.unsprung, f"end.{end.key}.unsprung")


@dataclass(frozen=True)
class Outcome:
    """Turns of each collar down, and what they bring: heights at the measuring points in m, scale
    loads in N, and how the body rests before and after. `exact` is empty where none were found."""

    turns: tuple[float, ...]
    exact: tuple[float, ...]
    heights: tuple[float, ...]
    loads: tuple[float, ...]
    before: Stance
    after: Stance
