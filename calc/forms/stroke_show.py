"""The four dampers of the stroke form as tables, plot and working; its table for the sheet."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc import units
from calc.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.car import Car
from calc.form import Given
from calc.forms.shared import CORNER_NAMES, END_LABELS
from calc.physics.thread import length_after
from calc.units import turns_number, turns_text

_TURNS_SHOWN = (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0)


@dataclass(frozen=True)
class Turned:
    """One damper and its rod end, before and after turns (out is positive); lengths in m."""

    key: str
    label: str
    stroke: float
    wanted: float
    exact: float
    turns: float
    after: float
    thread: float


def apart(dampers: Mapping[str, Turned], end: str) -> tuple[float, float]:
    """By how much the left one of an end has more stroke than the right one: before, after."""
    left, right = dampers[f"{end}_left"], dampers[f"{end}_right"]
    return left.stroke - right.stroke, left.after - right.after


def table(given: Given, dampers: list[Turned]) -> Table:
    unit = given.symbol("length")
    rows = tuple(
        (
            one.label,
            given.bare(one.stroke, "length"),
            _signed(one.turns),
            given.bare(one.after, "length"),
            given.bare(one.thread, "length", 1),
        )
        for one in dampers
    )
    heads = ("Damper", f"Now {unit}", "Turns out", f"Then {unit}", f"Thread left {unit}")
    return Table("The four dampers", heads, rows)


def _signed(turns: float) -> str:
    return turns_number(turns) if turns <= 0 else f"+{turns_number(turns)}"


def pairs(given: Given, dampers: list[Turned]) -> Table:
    found = {one.key: one for one in dampers}
    rows = tuple(
        (label, *(given.bare(abs(apart), "length") for apart in apart(found, end)))
        for end, label in END_LABELS
    )
    unit = given.symbol("length")
    return Table("How alike each pair is", ("Pair", f"Before {unit}", f"After {unit}"), rows)


def plot(given: Given, dampers: list[Turned]) -> Plot:
    reach = max(1.0, *(abs(one.turns) + 0.5 for one in dampers))
    curves = tuple(
        Curve(
            CORNER_NAMES[one.key],
            tuple((n, length_after(one.stroke, n, given.pitch)) for n in (-reach, reach)),
            "main" if one.key.startswith("front") else "second",
        )
        for one in dampers
    )
    longest = max(one.after for one in dampers)
    return Plot(
        "Stroke against turns of the rod end",
        Axis("Turns out (in is negative)", "turns"),
        Axis("Stroke", "length"),
        curves,
        tuple(Mark(one.turns, one.after, "set here") for one in dampers),
        f"Every turn out adds {given.say(given.pitch, 'length')}; the longest stroke is then "
        f"{given.say(longest, 'length')}.",
    )


def working(given: Given, dampers: list[Turned]) -> tuple[Working, ...]:
    say = given.say
    return tuple(
        Working(
            "turns out = (stroke wanted − stroke measured) / pitch of the shaft thread",
            f"{one.label}: ({say(one.wanted, 'length')} − {say(one.stroke, 'length')}) / "
            f"{say(given.pitch, 'length')} = {say(one.exact, 'turns', 2)}, "
            f"set to {turns_text(one.turns)}",
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
    heads = ("Turns", *map(turns_number, _TURNS_SHOWN))
    return Table(f"Rod end, pitch {pitch}: out adds stroke", heads, ((unit, *lengths),))
