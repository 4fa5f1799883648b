"""Collar turns by the quick model: instructions, warnings, table, plot and working of an end."""

import math
from collections.abc import Iterator, Sequence

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working, Write
from calc.answering.hand import turn_words, way_words
from calc.forms.collar_turns.end import QuickEnd, end_writes, gain, hand_step
from calc.forms.names import END_LABELS, collar_word, end_word
from calc.language import tr
from calc.replying.form import Given
from calc.units import turns_number, turns_text

TABLE_TURNS = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0)
_NOTHING = 1e-9  # m; less than this is none


def step(given: Given, end: QuickEnd, turns: float, height: float) -> Step:
    gives, at = _gives(given, end, height), end_word(end.key)
    if turns == 0:
        return Step(tr("Leave both {end} collars as they are.", end=at), gives)
    way, says = way_words(turns, given.choice("thread_hand")), turn_words(turns)
    text = (
        tr("As far as it goes: turn both {end} collars {turns}.", end=at, turns=says)
        if _falls_short(given, end, turns, height)
        else tr("Turn both {end} collars {turns}.", end=at, turns=says)
    )
    return Step(text, f"{way} {gives}")


def _falls_short(given: Given, end: QuickEnd, turns: float, height: float) -> bool:
    """Whether the droop stops end the lift short of the wanted height by more than a step."""
    step = hand_step(given)
    missing = 0.0 if end.wanted is None else end.wanted - height
    return 0 < end.turns_left < turns + step and missing > step * end.lift


def _gives(given: Given, end: QuickEnd, height: float) -> str:
    """The height that comes of it, and how far that is from the wanted one."""
    off = 0.0 if end.wanted is None else height - end.wanted
    parts = {
        "height": given.say(height, "length"),
        "end": end_word(end.key),
        "off": given.say(abs(off), "length"),
    }
    if off > _NOTHING:
        return tr(
            "That gives {height} at the {end} measuring point, {off} above the wanted.", **parts
        )
    if off < -_NOTHING:
        return tr(
            "That gives {height} at the {end} measuring point, {off} below the wanted.", **parts
        )
    return tr("That gives {height} at the {end} measuring point.", **parts)


def cautions(given: Given, end: QuickEnd, turns: float, height: float) -> list[Caution]:
    found = [*_droop_cautions(given, end, turns, height)]
    gap = -end.preload - turns * end.pitch
    if gap > _NOTHING:
        text = tr(
            "The {end} spring is then loose at full droop by {gap}: it can rattle and leave its "
            "seat over jumps.",
            end=end_word(end.key),
            gap=given.say(gap, "length"),
        )
        found.append(Caution(text))
    return found


def _droop_cautions(given: Given, end: QuickEnd, turns: float, height: float) -> Iterator[Caution]:
    """What the droop stops make of it: the collar lifts nothing there."""
    left, step, at = end.turns_left, hand_step(given), end_word(end.key)
    if left <= 0:
        back = math.ceil(-left / step - 1e-9) * step
        text = tr(
            "The {end} sits on its droop stops: the preload holds more than the car weighs "
            "there, so turning the collar down will not lift it. It takes {turns} up before the "
            "spring begins to carry the car.",
            end=at,
            turns=turns_text(back),
        )
        yield Caution(text, stop=True)
    elif _falls_short(given, end, turns, height):
        text = tr(
            "The {end} cannot reach that height by its collars: after {turns} down it sits on its "
            "droop stops. It needs more droop travel or a longer damper.",
            end=at,
            turns=turns_text(math.floor(left / step) * step),
        )
        yield Caution(text, stop=True)
    elif turns >= left:
        text = tr(
            "After these turns the {end} sits on its droop stops ({turns} were left).",
            end=at,
            turns=turns_text(round(left, 2)),
        )
        yield Caution(text, stop=True)
    elif left - turns < 1:
        spare = given.say((left - turns) * end.lift, "length")
        yield Caution(tr("The {end} then has only {droop} of droop left.", end=at, droop=spare))


def table(given: Given, end: QuickEnd) -> Table:
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
    heads = (
        tr("Turns"),
        tr("Moves it {unit}", unit=unit),
        tr("Down gives {unit}", unit=unit),
        tr("Up gives {unit}", unit=unit),
    )
    title = tr("{end}: collar turns and ride height", end=tr(dict(END_LABELS)[end.key]))
    return Table(title, heads, tuple(rows))


def plot(given: Given, ends: Sequence[QuickEnd], turns: Sequence[float]) -> Plot:
    reach = max(3.0, *(math.ceil(abs(n)) for n in turns))
    curves = []
    for end, style in zip(ends, ("main", "second"), strict=False):
        xs = sorted({-reach, min(max(end.turns_left, -reach), reach), reach})
        points = tuple((n, end.height + end.rise(n) * gain(given, end)) for n in xs)
        curves.append(Curve(end_word(end.key), points, style))
    marks = tuple(
        Mark(
            n,
            end.height + end.rise(n) * gain(given, end),
            tr("{end} set here", end=end_word(end.key)),
        )
        for end, n in zip(ends, turns, strict=True)
    )
    return Plot(
        tr("Ride height against collar turns"),
        Axis(tr("Turns down (up is negative)"), "turns"),
        Axis(tr("Height at the measuring point"), "length"),
        tuple(curves),
        marks,
        tr(
            "{moves}. The line is flat where the car sits on its droop stops.",
            moves="; ".join(_moves(given, end) for end in ends),
        ),
    )


def _moves(given: Given, end: QuickEnd) -> str:
    lift = given.say(end.lift * gain(given, end), "length")
    return tr("one {end} turn moves the height {lift}", end=end_word(end.key), lift=lift)


def working(given: Given, end: QuickEnd) -> list[Working]:
    say, at = given.say, end_word(end.key)
    lines = [
        Working(
            tr("one turn lifts the end by pitch / motion ratio"),
            f"{at}: {say(end.pitch, 'length')} / {say(end.motion_ratio, 'ratio')} = "
            f"{say(end.lift, 'length')}",
            tr("the spring's length at unchanged load does not change"),
        ),
        Working(
            tr("turns to the droop stop = (load / motion ratio / rate − preload) / pitch"),
            f"{at}: ({say(end.load, 'force')} / {say(end.motion_ratio, 'ratio')} / "
            f"{say(end.rate, 'rate')} − {say(end.preload, 'length')}) / "
            f"{say(end.pitch, 'length')} = {say(end.turns_left, 'turns', 2)}",
            tr("the spring at full droop just holds the corner's share"),
        ),
    ]
    if end.wanted is not None:
        lines.insert(1, _to_go(given, end, end.wanted))
    return lines


def _to_go(given: Given, end: QuickEnd, wanted: float) -> Working:
    """The turns from the height that is missing."""
    say = given.say
    return Working(
        tr("turns = (height wanted − height now) / lift at the measuring point")
        if not end.prefix
        else tr("rise at a point = rear + (front − rear) × its place / wheelbase"),
        tr(
            "{end}: {wanted} − {height} = {rise} to go at the measuring point; the point moves "
            "{gain} times its axle",
            end=end_word(end.key),
            wanted=say(wanted, "length"),
            height=say(end.height, "length"),
            rise=say(wanted - end.height, "length"),
            gain=say(gain(given, end), "ratio"),
        ),
        tr("the body is rigid"),
    )


def writes(given: Given, end: QuickEnd, turns: float, height: float) -> list[Write]:
    if turns == 0:
        return []
    length = end.droop - turns * end.pitch
    collars = [
        Write(
            f"corners.{corner}.collar",
            given.car.corner(corner).collar + turns,
            f"{collar_word(corner)}: {turn_words(turns)}",
        )
        for corner in end.key.corners
    ]
    return [*end_writes(given, end.key, height, length), *collars]
