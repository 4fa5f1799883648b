"""Collar turns by the quick model: both collars of an end turned alike, the other end at rest
or turned too. Loads are taken as unchanged; droop stops are minded."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from calc.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Step,
    Table,
    Working,
    Write,
)
from calc.form import Given, Problem
from calc.forms.shared import STAND, axle_load, sprung_load
from calc.hand import to_step, turn_words, way_words
from calc.physics.chassis import axle_turns
from calc.physics.droop import collar_rise, turns_to_droop_stop
from calc.physics.linkage import lift_per_turn
from calc.physics.spring import preload_from_lengths
from calc.units import turns_number, turns_text

TABLE_TURNS = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0)
_NOTHING = 1e-9  # m; a rise smaller than this is none


@dataclass(frozen=True)
class End:
    """One end of the car, SI; `point` is its measuring point, ahead of the rear axle."""

    key: str
    prefix: str
    height: float
    wanted: float | None
    turns: float | None
    pitch: float
    motion_ratio: float
    rate: float
    preload: float
    load: float
    point: float

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


def solve_one(given: Given) -> Answer:
    return _solve(given, _one)


def solve_both(given: Given) -> Answer:
    return _solve(given, _both)


def _one(given: Given) -> tuple[End, ...]:
    key = given.choice("axle")
    reach = given.reach
    return (
        End(
            key=key,
            prefix="",
            height=given.ride_height,
            wanted=given.maybe("wanted_height"),
            turns=given.maybe("turns"),
            pitch=given.pitch,
            motion_ratio=given.motion_ratio,
            rate=given.spring_rate,
            preload=preload_from_lengths(
                free_length=given.spring_free, droop_length=given.droop_length
            ),
            load=axle_load(given),
            point=_point(key, reach, given.wheelbase),
        ),
    )


def _both(given: Given) -> tuple[End, ...]:
    loads = {row.key: row.load for row in given.rows("corner")}
    return tuple(
        End(
            key=row.key,
            prefix=f"{row.key}_",
            height=row.ride_height,
            wanted=row.maybe("wanted_height"),
            turns=row.maybe("turns"),
            pitch=row.pitch,
            motion_ratio=row.motion_ratio,
            rate=row.spring_rate,
            preload=preload_from_lengths(
                free_length=row.spring_free, droop_length=row.droop_length
            ),
            load=sprung_load(
                (loads[f"{row.key}_left"] + loads[f"{row.key}_right"]) / 2,
                row.unsprung,
                f"end.{row.key}.unsprung",
            ),
            point=_point(row.key, row.reach, given.wheelbase),
        )
        for row in given.rows("end")
    )


def _point(key: str, reach: float, wheelbase: float) -> float:
    return wheelbase + reach if key == "front" else -reach


def _free_turns(given: Given, ends: Sequence[End]) -> list[float]:
    """Exact turns of each end without minding droop stops: asked for, or as given."""
    rises = [0.0 if end.wanted is None else end.wanted - end.height for end in ends]
    if any(end.turns is not None for end in ends):
        return [end.turns or 0.0 for end in ends]
    if len(ends) == 2:
        front, rear = ends
        if math.isclose(front.point, rear.point, abs_tol=1e-6):
            raise Problem(
                "end.front.reach",
                "Measuring point: the front and the rear point lie at the same place, so one "
                "height says nothing about the other; measure nearer to the axles.",
            )
        return list(
            axle_turns(
                wheelbase=given.wheelbase,
                lifts=(front.lift, rear.lift),
                points=(front.point, rear.point),
                rises=(rises[0], rises[1]),
            )
        )
    share = _share(given, ends[0])
    return [rises[0] / (ends[0].lift * share)]


def _share(given: Given, end: End) -> float:
    """How far the measuring point rises for each metre that its own axle rises."""
    along = end.point / given.wheelbase
    share = along if end.key == "front" else 1 - along
    if abs(share) < 0.05:
        raise Problem(
            "reach",
            "Measuring point: it lies so near the other axle that this end's collars hardly "
            "move it; measure nearer to this axle.",
        )
    return share


def _heights(given: Given, ends: Sequence[End], turns: Sequence[float]) -> list[float]:
    """Height at each measuring point after the turns, droop stops minded."""
    rises = {end.key: end.rise(n) for end, n in zip(ends, turns, strict=True)}
    front, rear = rises.get("front", 0.0), rises.get("rear", 0.0)
    return [end.height + rear + (front - rear) * end.point / given.wheelbase for end in ends]


def _solve(given: Given, read: Callable[[Given], tuple[End, ...]]) -> Answer:
    ends = read(given)
    finding = given.choice("ask") == "turns"
    exact = [end.reachable(n) for end, n in zip(ends, _free_turns(given, ends), strict=True)]
    turns = [_rounded(end, n, _hand_step(given)) for end, n in zip(ends, exact, strict=True)]
    if not finding:
        turns = exact = [end.turns or 0.0 for end in ends]

    def figures(shifted: Given) -> Mapping[str, float]:
        moved = read(shifted)
        values = {}
        if finding:
            for end, n in zip(moved, _free_turns(shifted, moved), strict=True):
                values[f"{end.prefix}turns"] = end.reachable(n)
        for end, height in zip(moved, _heights(shifted, moved, turns), strict=True):
            values[f"{end.prefix}height_after"] = height
            values[f"{end.prefix}lift_per_turn"] = end.lift
            values[f"{end.prefix}turns_left"] = end.turns_left
        return values

    doubted = given.carry(figures)
    heights = [doubted[f"{end.prefix}height_after"].value for end in ends]
    quantities = tuple(
        given.quantity(
            f"{end.prefix}{name}", _label(end, label), kind, doubted[f"{end.prefix}{name}"]
        )
        for end in ends
        for name, label, kind in _LABELS
        if f"{end.prefix}{name}" in doubted
    )
    placed = list(zip(ends, turns, heights, strict=True))
    return Answer(
        steps=tuple(_step(given, *each) for each in placed),
        quantities=quantities,
        tables=tuple(_table(given, end) for end in ends),
        plots=(_plot(given, ends, turns),),
        cautions=(*(caution for each in placed for caution in _cautions(given, *each)), STAND),
        working=tuple(line for end in ends for line in _working(given, end)),
        writes=tuple(write for each in placed for write in _writes(given, *each)),
    )


_LABELS = (
    ("turns", "Turns of each collar, exact (down is positive)", "turns"),
    ("height_after", "Height after the rounded turns", "length"),
    ("lift_per_turn", "One turn lifts this end by", "length"),
    ("turns_left", "Turns down until it sits on its droop stops", "turns"),
)


def _label(end: End, label: str) -> str:
    return label if not end.prefix else f"{end.key.capitalize()}: {label[0].lower()}{label[1:]}"


def _hand_step(given: Given) -> float:
    """The smallest turn: as entered, or the car's where it is not asked for."""
    return given.maybe("turn_step") or given.car.tools.turn_step


def _rounded(end: End, turns: float, step: float) -> float:
    """To the step of the hand, but never past the droop stop for a rounding."""
    rounded = to_step(turns, step)
    return rounded - step if 0 < end.turns_left < rounded else rounded


def _step(given: Given, end: End, turns: float, height: float) -> Step:
    gives = f"That gives {given.say(height, 'length')} at the {end.key} measuring point"
    if end.wanted is not None and abs(height - end.wanted) > _NOTHING:
        off = height - end.wanted
        gives += f", {given.say(abs(off), 'length')} {'above' if off > 0 else 'below'} the wanted"
    if turns == 0:
        return Step(f"Leave both {end.key} collars as they are.", gives + ".")
    way = way_words(turns, given.choice("thread_hand"))
    return Step(f"Turn both {end.key} collars {turn_words(turns)}.", f"{way} {gives}.")


def _cautions(given: Given, end: End, turns: float, height: float) -> list[Caution]:
    left = end.turns_left
    short = end.wanted is not None and end.wanted - height > _hand_step(given) * end.lift
    if left <= 0:
        back = math.ceil(-left / _hand_step(given) - 1e-9) * _hand_step(given)
        text = (
            f"The {end.key} sits on its droop stops: the preload holds more than the car weighs "
            "there, so turning the collar down will not lift it. "
            f"It takes {turns_text(back)} up before the spring begins to carry the car."
        )
        return [Caution(text, stop=True)]
    if short:
        return [
            Caution(
                f"The {end.key} cannot reach that height by its collars: after "
                f"{turns_text(math.floor(left / _hand_step(given)) * _hand_step(given))} down "
                "it sits on its droop stops. It needs more droop travel or a longer damper.",
                stop=True,
            )
        ]
    if turns >= left:
        return [
            Caution(
                f"After these turns the {end.key} sits on its droop stops "
                f"({turns_text(round(left, 2))} were left).",
                stop=True,
            )
        ]
    if left - turns < 1:
        return [
            Caution(
                f"The {end.key} then has only {given.say((left - turns) * end.lift, 'length')} of "
                "droop left."
            )
        ]
    return []


def _table(given: Given, end: End) -> Table:
    rows = []
    for turns in TABLE_TURNS:
        down, up = end.rise(turns) * _gain(given, end), end.rise(-turns) * _gain(given, end)
        rows.append(
            (
                turns_number(turns),
                given.bare(turns * end.lift, "length"),
                given.bare(end.height + down, "length"),
                given.bare(end.height + up, "length"),
            )
        )
    unit = given.symbol("length")
    heads = ("Turns", f"Moves it {unit}", f"Down gives {unit}", f"Up gives {unit}")
    return Table(f"{end.key.capitalize()}: collar turns and ride height", heads, tuple(rows))


def _gain(given: Given, end: End) -> float:
    along = end.point / given.wheelbase
    return along if end.key == "front" else 1 - along


def _plot(given: Given, ends: Sequence[End], turns: Sequence[float]) -> Plot:
    reach = max(3.0, *(math.ceil(abs(n)) for n in turns))
    curves = []
    for end, style in zip(ends, ("main", "second"), strict=False):
        xs = sorted({-reach, min(max(end.turns_left, -reach), reach), reach})
        points = tuple((n, end.height + end.rise(n) * _gain(given, end)) for n in xs)
        curves.append(Curve(end.key, points, style))
    marks = tuple(
        Mark(n, end.height + end.rise(n) * _gain(given, end), f"{end.key} set here")
        for end, n in zip(ends, turns, strict=True)
    )
    return Plot(
        "Ride height against collar turns",
        Axis("Turns down (up is negative)", "turns"),
        Axis("Height at the measuring point", "length"),
        tuple(curves),
        marks,
        "; ".join(
            f"one {end.key} turn moves the height "
            f"{given.say(end.lift * _gain(given, end), 'length')}"
            for end in ends
        )
        + ". The line is flat where the car sits on its droop stops.",
    )


def _working(given: Given, end: End) -> list[Working]:
    say = given.say
    lines = [
        Working(
            "one turn lifts the end by pitch / motion ratio",
            f"{end.key}: {say(end.pitch, 'length')} / {say(end.motion_ratio, 'ratio')} = "
            f"{say(end.lift, 'length')}",
            "the spring's length at unchanged load does not change",
        ),
        Working(
            "turns to the droop stop = (load / motion ratio / rate − preload) / pitch",
            f"{end.key}: ({say(end.load, 'force')} / {say(end.motion_ratio, 'ratio')} / "
            f"{say(end.rate, 'rate')} − {say(end.preload, 'length')}) / "
            f"{say(end.pitch, 'length')} = {say(end.turns_left, 'turns', 2)}",
            "the spring at full droop just holds the corner's share",
        ),
    ]
    if end.wanted is not None:
        lines.insert(
            1,
            Working(
                "turns = (height wanted − height now) / lift at the measuring point"
                if not end.prefix
                else "rise at a point = rear + (front − rear) × its place / wheelbase",
                f"{end.key}: {say(end.wanted, 'length')} − {say(end.height, 'length')} = "
                f"{say(end.wanted - end.height, 'length')} to go at the measuring point; "
                f"the point moves {say(_gain(given, end), 'ratio')} times its axle",
                "the body is rigid",
            ),
        )
    return lines


def _writes(given: Given, end: End, turns: float, height: float) -> list[Write]:
    if turns == 0:
        return []
    free = given.car.front.spring_free if end.key == "front" else given.car.rear.spring_free
    length = free - end.preload - turns * end.pitch
    words = turns_text(abs(turns)) + (" down" if turns > 0 else " up")
    corners = given.car.corners
    collars = [
        Write(f"corners.{end.key}_{side}.collar", now + turns, f"{end.key} {side} collar {words}")
        for side, now in (
            ("left", getattr(corners, f"{end.key}_left").collar),
            ("right", getattr(corners, f"{end.key}_right").collar),
        )
    ]
    stand, spring = given.say(height, "length"), given.say(length, "length")
    return [
        Write(f"{end.key}.ride_height", height, f"{end.key} ride height {stand}"),
        Write(f"{end.key}.droop_length", length, f"{end.key} spring at full droop {spring}"),
        *collars,
    ]
