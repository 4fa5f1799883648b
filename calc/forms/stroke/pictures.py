"""The four dampers of the stroke form as tables, plot and working; its table for the sheet."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc import units
from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.forms.names import corner_first, corner_word, end_label
from calc.forms.stroke.inputs import Asked
from calc.language import tr
from calc.model.car import Car
from calc.model.corners import ENDS, Corner, End
from calc.physics.thread import length_after
from calc.units import turns_number, turns_text

_TURNS_SHOWN = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0)


@dataclass(frozen=True)
class Turned:
    """One damper and its rod end, before and after turns (out is positive); in m. `length` is that
    of the damper fully out, afterwards, where it is known."""

    key: Corner
    stroke: float
    wanted: float
    exact: float
    turns: float
    after: float
    thread: float
    length: float | None

    @property
    def label(self) -> str:
        """ "Front left", in the language spoken."""
        return corner_first(self.key)


def apart(dampers: Mapping[Corner, Turned], end: End) -> tuple[float, float]:
    """By how much the left one of an end has more stroke than the right one: before, after."""
    left, right = (dampers[corner] for corner in end.corners)
    return left.stroke - right.stroke, left.after - right.after


def table(asked: Asked, dampers: list[Turned]) -> Table:
    unit = asked.symbol("length")
    rows = tuple(
        (
            one.label,
            asked.bare(one.stroke, "length"),
            _signed(one.turns),
            asked.bare(one.after, "length"),
            asked.bare(one.thread, "length", 1),
            "" if one.length is None else asked.bare(one.length, "length"),
        )
        for one in dampers
    )
    heads = (
        tr("Damper", sense="head"),
        tr("Now {unit}", unit=unit),
        tr("Turns out"),
        tr("Then {unit}", unit=unit),
        tr("Thread engaged {unit}", unit=unit),
        tr("Length then {unit}", unit=unit),
    )
    return Table(tr("The four dampers"), heads, rows)


def _signed(turns: float) -> str:
    return turns_number(turns) if turns <= 0 else f"+{turns_number(turns)}"


def pairs(asked: Asked, dampers: list[Turned]) -> Table:
    found = {one.key: one for one in dampers}
    rows = tuple(
        (
            end_label(end),
            *(asked.bare(abs(off), "length") for off in apart(found, end)),
        )
        for end in ENDS
    )
    unit = asked.symbol("length")
    heads = (
        tr("Pair", sense="left and right"),
        tr("Before {unit}", unit=unit),
        tr("After {unit}", unit=unit),
    )
    return Table(tr("How alike each pair is"), heads, rows)


def plot(asked: Asked, dampers: list[Turned]) -> Plot:
    reach = max(1.0, *(abs(one.turns) + 0.5 for one in dampers))
    curves = tuple(
        Curve(
            corner_word(one.key),
            tuple((n, length_after(one.stroke, n, asked.pitch)) for n in (-reach, reach)),
            "main" if one.key.end is End.FRONT else "second",
        )
        for one in dampers
    )
    longest = max(one.after for one in dampers)
    return Plot(
        tr("Stroke against turns of the rod end"),
        Axis(tr("Turns out (in is negative)"), "turns"),
        Axis(tr("Stroke"), "length"),
        curves,
        tuple(Mark(one.turns, one.after, tr("set here")) for one in dampers),
        tr(
            "Every turn out adds {pitch}; the longest stroke is then {longest}.",
            pitch=asked.say(asked.pitch, "length"),
            longest=asked.say(longest, "length"),
        ),
    )


def working(asked: Asked, dampers: list[Turned]) -> tuple[Working, ...]:
    say = asked.say
    return tuple(
        Working(
            tr("turns out = (stroke wanted − stroke measured) / pitch of the shaft thread"),
            tr(
                "{damper}: ({wanted} − {measured}) / {pitch} = {exact}, set to {turns}",
                damper=one.label,
                wanted=say(one.wanted, "length"),
                measured=say(one.stroke, "length"),
                pitch=say(asked.pitch, "length"),
                exact=say(one.exact, "turns", 2),
                turns=turns_text(one.turns),
            ),
            tr("geometry of the thread"),
        )
        for one in dampers
    )


def stroke_table(car: Car, system: str = units.METRIC) -> Table:
    """For the sheet: what turns of a rod end do to the stroke."""
    lengths = (
        units.entry_text(turns * car.rod_end.pitch, "length", system) for turns in _TURNS_SHOWN
    )
    unit = units.unit_of("length", system).symbol
    pitch = units.show(car.rod_end.pitch, "length", system)
    heads = (tr("Turns"), *map(turns_number, _TURNS_SHOWN))
    title = tr("Rod end, pitch {pitch}: out adds stroke", pitch=pitch)
    return Table(title, heads, ((unit, *lengths),))
