"""One end of the car as the quick model sees it: both collars turned alike, the load unchanged."""

from dataclasses import dataclass

from calc.forms import entered
from calc.forms.collar_turns.inputs import Asked, EndRow
from calc.model.corners import ENDS, End
from calc.model.standing import Seat, SpringSize, stack_of
from calc.replying.inputs import memoised


@dataclass(frozen=True)
class QuickEnd:
    """One end of the car, SI, `alone` or with the other: the height `wanted` or the `turns` asked,
    and the field `at` which that was; `seat` is the mean of its two corners, `point` its measuring
    point, ahead of the rear axle, `rest` how high in its band friction holds it, `band` how wide
    that is."""

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

    @property
    def lift(self) -> float:
        """Rise at the axle, m, by a turn of both collars."""
        return self.seat.lift(self.pitch)

    @property
    def turns_left(self) -> float:
        """Turns down until the end sits on its droop stops; below 0 it sits there now."""
        return self.seat.spare / self.pitch

    def rise(self, turns: float) -> float:
        """Rise at the axle in m, droop stops minded."""
        return self.seat.rise(self.seat.down(turns * self.pitch))

    def reachable(self, turns: float) -> float:
        """The turns that really give the rise that `turns` would give without droop stops."""
        left = self.turns_left
        if left <= 0:
            return left + turns if turns < 0 else 0.0
        return min(turns, left)


def quick_ends(asked: Asked) -> tuple[QuickEnd, ...]:
    """The end that was chosen, or front and rear. Raises Problem."""
    if asked.scope == "axle":
        return (_chosen(asked),)
    return tuple(_of_rows(asked, end) for end in ENDS)


def _chosen(asked: Asked) -> QuickEnd:
    seat = Seat(
        stack=stack_of([SpringSize(asked.spring_rate, asked.spring_free)]),
        load=asked.loads.mean(),
        motion_ratio=asked.motion_ratio,
        droop_length=asked.droop_length,
        growth=asked.arm.growth,
    )
    find = asked.ask == "turns"
    return QuickEnd(
        key=asked.axle,
        alone=True,
        height=asked.ride_height,
        wanted=asked.wanted_height if find else None,
        turns=None if find else asked.turns,
        at=asked.at(Asked.wanted_height if find else Asked.turns),
        pitch=asked.pitch,
        seat=entered.checked(seat, Asked.motion_ratio),
        point=_point(asked.axle, asked.reach, asked.wheelbase),
        rest=asked.friction.rest,
        band=asked.friction.friction,
    )


@memoised
def _of_rows(asked: Asked, end: End) -> QuickEnd:
    row, friction = asked.end[ENDS.index(end)], asked.frictions[end]
    find = asked.ask == "turns"
    return QuickEnd(
        key=end,
        alone=False,
        height=row.ride_height,
        wanted=row.wanted_height if find else None,
        turns=None if find else row.turns,
        at=row.at(EndRow.wanted_height if find else EndRow.turns),
        pitch=row.pitch,
        seat=entered.mean_seat(asked, end),
        point=_point(end, row.reach, asked.wheelbase),
        rest=friction.rest,
        band=friction.friction,
    )


def _point(key: End, reach: float, wheelbase: float) -> float:
    return wheelbase + reach if key is End.FRONT else -reach


def gain(asked: Asked, end: QuickEnd) -> float:
    """How far the measuring point rises for each metre that its own axle rises."""
    along = end.point / asked.wheelbase
    return along if end.key is End.FRONT else 1 - along
