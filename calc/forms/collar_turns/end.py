"""One end of the car as the quick model sees it: both collars turned alike, the load unchanged."""

from dataclasses import dataclass

from calc.answering.answer import Write
from calc.forms.fields import axle_load, chosen_end, sprung_load
from calc.forms.names import end_word
from calc.language import tr
from calc.model.corners import End
from calc.physics.droop import collar_rise, turns_to_droop_stop
from calc.physics.linkage import lift_per_turn
from calc.physics.spring import preload_from_lengths
from calc.replying.form import Given


@dataclass(frozen=True)
class QuickEnd:
    """One end of the car, SI; `point` is its measuring point, ahead of the rear axle."""

    key: End
    prefix: str
    height: float
    wanted: float | None
    turns: float | None
    pitch: float
    motion_ratio: float
    rate: float
    free: float
    droop: float
    load: float
    point: float

    @property
    def preload(self) -> float:
        """How far the spring is pressed at full droop, m; below 0 it is loose."""
        return preload_from_lengths(free_length=self.free, droop_length=self.droop)

    @property
    def lift(self) -> float:
        return lift_per_turn(pitch=self.pitch, motion_ratio=self.motion_ratio)

    @property
    def turns_left(self) -> float:
        """Turns down until the end sits on its droop stops; below 0 it sits there now."""
        return turns_to_droop_stop(
            corner_load=self.load,
            motion_ratio=self.motion_ratio,
            rate=self.rate,
            preload=self.preload,
            pitch=self.pitch,
        )

    def rise(self, turns: float) -> float:
        """Rise at the axle in m, droop stops minded."""
        return collar_rise(
            turns=turns,
            corner_load=self.load,
            motion_ratio=self.motion_ratio,
            rate=self.rate,
            preload=self.preload,
            pitch=self.pitch,
        )

    def reachable(self, turns: float) -> float:
        """The turns that really give the rise that `turns` would give without droop stops."""
        left = self.turns_left
        if left <= 0:
            return left + turns if turns < 0 else 0.0
        return min(turns, left)


def one(given: Given) -> tuple[QuickEnd, ...]:
    """The end that was chosen."""
    key = chosen_end(given)
    return (
        QuickEnd(
            key=key,
            prefix="",
            height=given.ride_height,
            wanted=given.maybe("wanted_height"),
            turns=given.maybe("turns"),
            pitch=given.pitch,
            motion_ratio=given.motion_ratio,
            rate=given.spring_rate,
            free=given.spring_free,
            droop=given.droop_length,
            load=axle_load(given),
            point=_point(key, given.reach, given.wheelbase),
        ),
    )


def both(given: Given) -> tuple[QuickEnd, ...]:
    """Front and rear."""
    loads = {row.key: row.load for row in given.rows("corner")}
    return tuple(
        QuickEnd(
            key=End(row.key),
            prefix=f"{row.key}_",
            height=row.ride_height,
            wanted=row.maybe("wanted_height"),
            turns=row.maybe("turns"),
            pitch=row.pitch,
            motion_ratio=row.motion_ratio,
            rate=row.spring_rate,
            free=row.spring_free,
            droop=row.droop_length,
            load=sprung_load(
                (loads[f"{row.key}_left"] + loads[f"{row.key}_right"]) / 2,
                row.unsprung,
                f"end.{row.key}.unsprung",
            ),
            point=_point(End(row.key), row.reach, given.wheelbase),
        )
        for row in given.rows("end")
    )


def _point(key: End, reach: float, wheelbase: float) -> float:
    return wheelbase + reach if key is End.FRONT else -reach


def gain(given: Given, end: QuickEnd) -> float:
    """How far the measuring point rises for each metre that its own axle rises."""
    along = end.point / given.wheelbase
    return along if end.key is End.FRONT else 1 - along


def end_writes(given: Given, key: End, height: float, length: float) -> list[Write]:
    """What the car takes over for an end: its ride height and its springs at full droop, m."""
    end = end_word(key)
    stand, spring = given.say(height, "length"), given.say(length, "length")
    return [
        Write(
            f"{key}.ride_height",
            height,
            tr("{end} ride height {height}", end=end, height=stand),
        ),
        Write(
            f"{key}.droop_length",
            length,
            tr("{end} spring at full droop {length}", end=end, length=spring),
        ),
    ]


def hand_step(given: Given) -> float:
    """The smallest turn: as entered, or the car's where it is not asked for."""
    return given.maybe("turn_step") or given.car.tools.turn_step
