"""One end of the car as the quick model sees it: both collars turned alike, the load unchanged."""

from dataclasses import dataclass
from math import inf
from typing import Any

from calc.asking.said import Said
from calc.forms.collar_turns.inputs import Asked, EndRow, Weighed
from calc.forms.entered import CornerRow, stop_lacks
from calc.forms.findings import said_at
from calc.forms.friction import EndFriction
from calc.forms.recorded import ArmPlaces, Shaft
from calc.model.corners import ENDS, End
from calc.model.standing import Fault, Seat, SpringSize, spring_load, stack_of
from calc.replying.inputs import memoised


@dataclass(frozen=True)
class QuickEnd:
    """One end of the car, SI, `alone` or with the other: the height `wanted` or the `turns` asked,
    and the field `at` which that was; `seat` is the mean of its two corners, `point` its measuring
    point, ahead of the rear axle, `rest` how high in its band friction holds it, `band` how wide
    that is. Where its droop stop is, nobody knows while it `lacks` something, a load or its own
    spring: it is left out then, for a car on a usual spring would stand on its stop by chance."""

    key: End
    alone: bool
    height: float
    wanted: float | None
    turns: float | None
    at: str
    pitch: float
    seat: Seat
    point: float
    rest: float
    band: float
    lacks: tuple[Said, ...]

    @property
    def stop_known(self) -> bool:
        return not self.lacks

    @property
    def lift(self) -> float:
        """Rise at the axle, m, by a turn of both collars."""
        return self.seat.lift(self.pitch)

    @property
    def turns_left(self) -> float:
        """Turns down until the end sits on its droop stops; below 0 it sits there now."""
        return self.seat.spare / self.pitch if self.stop_known else inf

    @property
    def turns_up(self) -> float:
        """Turns (up is negative) from which its dampers are fully in; above 0 they are now."""
        return -self.seat.bump_spare / self.pitch if self.stop_known else -inf

    def rise(self, turns: float) -> float:
        """Rise at the axle in m, stops minded."""
        if not self.stop_known:
            return turns * self.lift
        return self.seat.rise(self.seat.down(turns * self.pitch))

    def reachable(self, turns: float) -> float:
        """The turns that really give the rise that `turns` would give without stops, as far as the
        droop stop."""
        left, up = self.turns_left, self.turns_up
        if left <= 0:
            return left + turns if turns < 0 else 0.0
        if up >= 0:
            return min(up + turns, left) if turns > 0 else 0.0
        return min(turns, left)


def quick_ends(asked: Asked) -> tuple[QuickEnd, ...]:
    """The end that was chosen, or front and rear. Raises Problem."""
    if asked.scope == "axle":
        return (_chosen(asked),)
    return tuple(_of_rows(asked, end) for end in ENDS)


def _chosen(asked: Asked) -> QuickEnd:
    return _quick(asked, asked.axle, asked, asked.arm, asked.loads, asked.shaft, asked.friction)


@memoised
def _of_rows(asked: Asked, end: End) -> QuickEnd:
    row, loads, shaft = asked.end[end.place], asked.loads_at[end], asked.shafts[end]
    return _quick(asked, end, row, asked.arms[end], loads, shaft, asked.frictions[end])


def _quick(
    asked: Asked,
    key: End,
    own: Asked | EndRow,
    arm: ArmPlaces,
    loads: Weighed,
    shaft: Shaft,
    friction: EndFriction,
) -> QuickEnd:
    """`own` has what was entered of this end alone. Raises Problem."""
    find, field = asked.ask == "turns", type(own)
    unweighed: tuple[Any, ...] = (CornerRow.load,) if loads.mean is None else ()
    lacks = (*unweighed, *stop_lacks(asked, own))
    return QuickEnd(
        key=key,
        alone=own is asked,
        height=own.ride_height,
        wanted=own.wanted_height if find else None,
        turns=None if find else own.turns,
        at=own.at(field.wanted_height if find else field.turns),
        pitch=own.pitch,
        seat=_seat(own, arm, loads, shaft, checked=not lacks),
        point=asked.wheelbase + own.reach if key is End.FRONT else -own.reach,
        rest=friction.rest,
        band=friction.friction,
        lacks=lacks,
    )


def _seat(
    own: Asked | EndRow, arm: ArmPlaces, loads: Weighed, shaft: Shaft, *, checked: bool
) -> Seat:
    """A corner with the mean load of both, on a rigid tyre; with none where they were not weighed,
    so that the growth of the ratio has nothing to act on. Raises Problem."""
    field, mean = type(own), loads.mean
    faults = {
        Fault.ALL_UNSPRUNG: loads.at(Weighed.unsprung),
        Fault.GIVES_WAY: own.at(field.motion_ratio),
    }
    with said_at(faults):
        seat = Seat(
            stack=stack_of([SpringSize(own.spring_rate, own.spring_free)]),
            load=0.0 if mean is None else spring_load(mean, loads.unsprung),
            motion_ratio=own.motion_ratio,
            droop_length=own.droop_length,
            stroke=shaft.most,
            growth=arm.growth,
        )
        return seat.check() if checked else seat


def gain(asked: Asked, end: QuickEnd) -> float:
    """How far the measuring point rises for each metre that its own axle rises."""
    along = end.point / asked.wheelbase
    return along if end.key is End.FRONT else 1 - along
