"""One end of the car as the quick model sees it: both collars turned alike, the load unchanged."""

from dataclasses import dataclass
from math import inf

from calc.forms import entered
from calc.forms.collar_turns.inputs import Asked, EndRow, HeightRow
from calc.forms.entered import EndLoads
from calc.forms.friction import EndFriction
from calc.model.corners import ENDS, End
from calc.model.standing import Seat, SpringSize, stack_of
from calc.replying.inputs import memoised


@dataclass(frozen=True)
class QuickEnd:
    """One end of the car, SI, `alone` or with the other: the height `wanted` or the `turns` asked,
    and the field `at` which that was; `seat` is the mean of its two corners, `point` its measuring
    point, ahead of the rear axle, `rest` how high in its band friction holds it, `band` how wide
    that is. Where its droop stop is, nobody knows (`stop_known`) while the spring that stands there
    is only a usual one: it is left out then, for such a car would stand on its stop by chance."""

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
    stop_known: bool

    @property
    def lift(self) -> float:
        """Rise at the axle, m, by a turn of both collars."""
        return self.seat.lift(self.pitch)

    @property
    def turns_left(self) -> float:
        """Turns down until the end sits on its droop stops; below 0 it sits there now."""
        return self.seat.spare / self.pitch if self.stop_known else inf

    def rise(self, turns: float) -> float:
        """Rise at the axle in m, droop stops minded."""
        if not self.stop_known:
            return turns * self.lift
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
    seat = entered.checked(seat, Asked.motion_ratio)
    loads = asked.loads
    scales = {loads.at(EndLoads.load_left), loads.at(EndLoads.load_right)}
    return _quick(asked, asked.axle, asked, seat, asked.friction, scales)


@memoised
def _of_rows(asked: Asked, end: End) -> QuickEnd:
    row = asked.end[end.place]
    scales = {asked.corner[corner.place].at(HeightRow.load) for corner in end.corners}
    return _quick(asked, end, row, entered.mean_seat(asked, end), asked.frictions[end], scales)


def _quick(
    asked: Asked,
    key: End,
    own: Asked | EndRow,
    seat: Seat,
    friction: EndFriction,
    scales: set[str],
) -> QuickEnd:
    """`own` has what was entered of this end alone, `scales` are the fields of its loads."""
    find, field = asked.ask == "turns", type(own)
    places = scales | {
        own.at(at) for at in (field.spring_rate, field.spring_free, field.droop_length)
    }
    return QuickEnd(
        key=key,
        alone=own is asked,
        height=own.ride_height,
        wanted=own.wanted_height if find else None,
        turns=None if find else own.turns,
        at=own.at(field.wanted_height if find else field.turns),
        pitch=own.pitch,
        seat=seat,
        point=asked.wheelbase + own.reach if key is End.FRONT else -own.reach,
        rest=friction.rest,
        band=friction.friction,
        stop_known=places.isdisjoint(asked.guessed),
    )


def gain(asked: Asked, end: QuickEnd) -> float:
    """How far the measuring point rises for each metre that its own axle rises."""
    along = end.point / asked.wheelbase
    return along if end.key is End.FRONT else 1 - along
