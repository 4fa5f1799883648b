"""One end of the car as the quick model sees it: both collars turned alike, the load unchanged."""

from dataclasses import dataclass

from calc.forms import entered
from calc.forms.fields import chosen_end
from calc.forms.friction import rest
from calc.forms.inputs import growth_of
from calc.model.corners import ENDS, End
from calc.model.standing import Seat, SpringSize, stack_of
from calc.replying.form import Given, part


@dataclass(frozen=True)
class QuickEnd:
    """One end of the car, SI; `seat` is the mean of its two corners, `point` its measuring point,
    ahead of the rear axle, `rest` how high in its band friction holds it, `band` how wide that
    is."""

    key: End
    prefix: str
    height: float
    wanted: float | None
    turns: float | None
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


def one(given: Given) -> tuple[QuickEnd, ...]:
    """The end that was chosen."""
    key = chosen_end(given)
    seat = Seat(
        stack=stack_of([SpringSize(given.spring_rate, given.spring_free)]),
        load=entered.axle_load(given),
        motion_ratio=given.motion_ratio,
        droop_length=given.droop_length,
        growth=growth_of(given, key),
    )
    return (
        QuickEnd(
            key=key,
            prefix="",
            height=given.ride_height,
            wanted=given.maybe("wanted_height"),
            turns=given.maybe("turns"),
            pitch=given.pitch,
            seat=entered.checked(seat),
            point=_point(key, given.reach, given.wheelbase),
            rest=rest(given, key),
            band=given.friction,
        ),
    )


def both(given: Given) -> tuple[QuickEnd, ...]:
    """Front and rear."""
    return tuple(_of_rows(given, end) for end in ENDS)


@part
def _of_rows(given: Given, end: End) -> QuickEnd:
    row = entered.end_row(given, end)
    return QuickEnd(
        key=end,
        prefix=f"{end}_",
        height=row.ride_height,
        wanted=row.maybe("wanted_height"),
        turns=row.maybe("turns"),
        pitch=row.pitch,
        seat=entered.mean_seat(given, end),
        point=_point(end, row.reach, given.wheelbase),
        rest=rest(given, end),
        band=given.numbers[f"{end}.friction"],
    )


def _point(key: End, reach: float, wheelbase: float) -> float:
    return wheelbase + reach if key is End.FRONT else -reach


def gain(given: Given, end: QuickEnd) -> float:
    """How far the measuring point rises for each metre that its own axle rises."""
    along = end.point / given.wheelbase
    return along if end.key is End.FRONT else 1 - along
