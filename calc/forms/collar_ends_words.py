"""Collar turns by the quick model: instructions, warnings, table, plot and working of an end."""

import math
from collections.abc import Iterator, Sequence

from calc.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working, Write
from calc.form import Given
from calc.forms.collar_end import End, gain, hand_step
from calc.hand import turn_words, way_words
from calc.units import turns_number, turns_text

TABLE_TURNS = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0)
_NOTHING = 1e-9  # m; less than this is none


def step(given: Given, end: End, turns: float, height: float) -> Step:
    gives = f"That gives {given.say(height, 'length')} at the {end.key} measuring point"
    if end.wanted is not None and abs(height - end.wanted) > _NOTHING:
        off = height - end.wanted
        gives += f", {given.say(abs(off), 'length')} {'above' if off > 0 else 'below'} the wanted"
    if turns == 0:
        return Step(f"Leave both {end.key} collars as they are.", gives + ".")
    way = way_words(turns, given.choice("thread_hand"))
    return Step(f"Turn both {end.key} collars {turn_words(turns)}.", f"{way} {gives}.")


def cautions(given: Given, end: End, turns: float, height: float) -> list[Caution]:
    found = [*_droop_cautions(given, end, turns, height)]
    gap = -end.preload - turns * end.pitch
    if gap > _NOTHING:
        text = (
            f"The {end.key} spring is then loose at full droop by {given.say(gap, 'length')}: it "
            "can rattle and leave its seat over jumps."
        )
        found.append(Caution(text))
    return found


def _droop_cautions(given: Given, end: End, turns: float, height: float) -> Iterator[Caution]:
    """What the droop stops make of it: the collar lifts nothing there."""
    left, step = end.turns_left, hand_step(given)
    missing = 0.0 if end.wanted is None else end.wanted - height
    if left <= 0:
        back = math.ceil(-left / step - 1e-9) * step
        text = (
            f"The {end.key} sits on its droop stops: the preload holds more than the car weighs "
            "there, so turning the collar down will not lift it. "
            f"It takes {turns_text(back)} up before the spring begins to carry the car."
        )
        yield Caution(text, stop=True)
    elif turns > left - step and missing > step * end.lift:
        text = (
            f"The {end.key} cannot reach that height by its collars: after "
            f"{turns_text(math.floor(left / step) * step)} down it sits on its droop stops. It "
            "needs more droop travel or a longer damper."
        )
        yield Caution(text, stop=True)
    elif turns >= left:
        text = (
            f"After these turns the {end.key} sits on its droop stops "
            f"({turns_text(round(left, 2))} were left)."
        )
        yield Caution(text, stop=True)
    elif left - turns < 1:
        spare = given.say((left - turns) * end.lift, "length")
        yield Caution(f"The {end.key} then has only {spare} of droop left.")


def table(given: Given, end: End) -> Table:
    rows = []
    for turns in TABLE_TURNS:
        down, up = end.rise(turns) * gain(given, end), end.rise(-turns) * gain(given, end)
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


def plot(given: Given, ends: Sequence[End], turns: Sequence[float]) -> Plot:
    reach = max(3.0, *(math.ceil(abs(n)) for n in turns))
    curves = []
    for end, style in zip(ends, ("main", "second"), strict=False):
        xs = sorted({-reach, min(max(end.turns_left, -reach), reach), reach})
        points = tuple((n, end.height + end.rise(n) * gain(given, end)) for n in xs)
        curves.append(Curve(end.key, points, style))
    marks = tuple(
        Mark(n, end.height + end.rise(n) * gain(given, end), f"{end.key} set here")
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
            f"{given.say(end.lift * gain(given, end), 'length')}"
            for end in ends
        )
        + ". The line is flat where the car sits on its droop stops.",
    )


def working(given: Given, end: End) -> list[Working]:
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
                f"the point moves {say(gain(given, end), 'ratio')} times its axle",
                "the body is rigid",
            ),
        )
    return lines


def writes(given: Given, end: End, turns: float, height: float) -> list[Write]:
    if turns == 0:
        return []
    length = end.droop - turns * end.pitch
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
