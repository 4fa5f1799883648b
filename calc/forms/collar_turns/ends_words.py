"""Collar turns by the quick model: instructions, warnings, table, plot and working of an end."""

import math
from collections.abc import Iterator, Sequence

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working, Write
from calc.answering.hand import turn_words
from calc.forms import findings
from calc.forms.collar_turns.end import QuickEnd, gain
from calc.forms.collar_turns.inputs import Asked
from calc.forms.names import end_label, end_word
from calc.forms.turning import both, both_turned, turned_step
from calc.forms.workings import lift_working, stop_working
from calc.forms.writes import collar_writes, end_write
from calc.language import tr
from calc.units import turns_number, turns_text

TABLE_TURNS = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0)
_NOTHING = 1e-9  # m; less than this is none


def step(asked: Asked, end: QuickEnd, turns: float, height: float) -> Step:
    gives, at = _gives(asked, end, height), end_word(end.key)
    if turns == 0:
        return Step(tr("Leave both {end} collars as they are.", end=at), gives)
    text = (
        tr("Both {end} collars: {turns}, as far as it goes.", end=at, turns=turn_words(turns))
        if _falls_short(asked, end, turns, height)
        else both_turned(end.key, turns)
    )
    exact = "turns" if end.alone else f"{end.key}_turns"
    return turned_step(asked, text, turns, gives, of=exact)


def _falls_short(asked: Asked, end: QuickEnd, turns: float, height: float) -> bool:
    """Whether the droop stops end the lift short of the wanted height by more than a step."""
    step = asked.turn_step
    missing = 0.0 if end.wanted is None else end.wanted - height
    return 0 < end.turns_left < turns + step and missing > step * end.lift


def _gives(asked: Asked, end: QuickEnd, height: float) -> str:
    """The height that comes of it, and how far that is from the wanted one."""
    off = 0.0 if end.wanted is None else height - end.wanted
    parts = {"height": asked.say(height, "length"), "off": asked.say(abs(off), "length")}
    place = _place(asked, end)
    if off > _NOTHING:
        return tr(
            "That gives {height} {place}, {off} above the height you want.", place=place, **parts
        )
    if off < -_NOTHING:
        return tr(
            "That gives {height} {place}, {off} below the height you want.", place=place, **parts
        )
    return tr("That gives {height} {place}.", place=place, **parts)


def _place(asked: Asked, end: QuickEnd) -> str:
    """Where the height is measured."""
    if gain(asked, end) == 1.0:
        return tr("measured in line with the {end} axle", end=end_word(end.key))
    return tr("at the {end} measuring point", end=end_word(end.key))


def cautions(asked: Asked, end: QuickEnd, turns: float, height: float) -> list[Caution]:
    return [
        *findings.on_ground(end.key, end.height, height),
        *findings.far_turned(end.key, turns, end.pitch),
        *_spring_cautions(asked, end, turns, height),
    ]


def _spring_cautions(asked: Asked, end: QuickEnd, turns: float, height: float) -> Iterator[Caution]:
    """What becomes of the spring, where it is known."""
    if not end.stop_known:
        yield findings.stop_left_out(end.key, end.lacks)
        return
    then = end.seat.down(turns * end.pitch)
    yield from _droop_cautions(asked, end, turns, height)
    yield from findings.of_seat(
        asked, end.key, then, pitch=end.pitch, step=asked.turn_step, now=end.seat
    )


def _droop_cautions(asked: Asked, end: QuickEnd, turns: float, height: float) -> Iterator[Caution]:
    """A height out of reach, or little droop left."""
    left, at = end.turns_left, end_word(end.key)
    if _falls_short(asked, end, turns, height):
        step = asked.turn_step
        text = tr(
            "The {end} cannot reach that height by its collars: after {turns} down it sits on its "
            "droop stops. It needs more droop travel or a longer damper.",
            end=at,
            turns=turns_text(math.floor(left / step) * step),
        )
        yield Caution(text, stop=True)
    elif 0 < left - turns < 1 and left > 0:
        spare = asked.say((left - turns) * end.lift, "length")
        text = tr("The {end} then has only {droop} of droop.", end=at, droop=spare)
        yield Caution(text, finding=text)


def height_after(asked: Asked, end: QuickEnd, turns: float) -> float:
    """Height in m at the measuring point once the collars of this end alone are turned."""
    return end.height + end.rise(turns) * gain(asked, end)


def table(asked: Asked, end: QuickEnd) -> Table:
    rows = []
    for turns in TABLE_TURNS:
        down, up = (height_after(asked, end, n) for n in (turns, -turns))
        rows.append(
            (
                turns_number(turns),
                asked.bare(turns * end.lift, "length"),
                asked.bare(down, "length"),
                asked.bare(up, "length"),
            )
        )
    unit = asked.symbol("length")
    heads = (
        tr("Turns"),
        tr("Moves it {unit}", unit=unit),
        tr("Down gives {unit}", unit=unit),
        tr("Up gives {unit}", unit=unit),
    )
    title = tr("{end}: collar turns and ride height", end=end_label(end.key))
    return Table(title, heads, tuple(rows))


def plot(asked: Asked, ends: Sequence[QuickEnd], turns: Sequence[float]) -> Plot:
    reach = max(3.0, *(math.ceil(abs(n)) for n in turns))
    curves = []
    for end, style in zip(ends, ("main", "second"), strict=False):
        stops = (min(max(n, -reach), reach) for n in (end.turns_up, end.turns_left))
        xs = sorted({-reach, *stops, reach})
        points = tuple((n, height_after(asked, end, n)) for n in xs)
        curves.append(Curve(end_word(end.key), points, style))
    marks = tuple(
        Mark(
            n,
            height_after(asked, end, n),
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
            "One turn changes the height: {moves}. The line is flat where the car sits on its "
            "droop stops.",
            moves="; ".join(_moves(asked, end) for end in ends),
        ),
    )


def _moves(asked: Asked, end: QuickEnd) -> str:
    lift = asked.say(end.lift * gain(asked, end), "length")
    return tr("{end} by {lift}", end=end_word(end.key), lift=lift)


def working(asked: Asked, end: QuickEnd) -> list[Working]:
    at = end_word(end.key)
    lines = [lift_working(asked, end.seat, end.pitch, at)]
    if end.stop_known:
        lines.append(stop_working(asked, end.seat, end.pitch, at))
    if end.wanted is not None:
        lines.insert(1, _to_go(asked, end, end.wanted))
    return lines


def _to_go(asked: Asked, end: QuickEnd, wanted: float) -> Working:
    """The turns from the height that is missing."""
    say = asked.say
    return Working(
        tr("turns = (height wanted − height now) / lift at the measuring point")
        if end.alone
        else tr("rise at a point = rear + (front − rear) × its place / wheelbase"),
        tr(
            "{end}: {wanted} − {height} = {rise} to go at the measuring point; the point moves "
            "{gain} times its axle",
            end=end_word(end.key),
            wanted=say(wanted, "length"),
            height=say(end.height, "length"),
            rise=say(wanted - end.height, "length"),
            gain=say(gain(asked, end), "ratio"),
        ),
        tr("the chassis is rigid"),
    )


def writes(asked: Asked, end: QuickEnd, turns: float, height: float) -> list[Write]:
    if turns == 0:
        return []
    length = end.seat.droop_length - turns * end.pitch
    return [
        end_write(asked, end.key, "ride_height", height),
        end_write(asked, end.key, "droop_length", length),
        *collar_writes(asked, both(end.key, turns)),
    ]
