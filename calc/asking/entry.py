"""Declarations of what can be entered: a number, a choice, a text, rows of numbers.

One object parses, checks, words the error and describes itself: the HTML form, the command line,
the car record and the tests all read it, so nothing about a field is said twice. Its texts are
declared in English; `said` and its kin are the same in the language spoken.
"""

import math
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cached_property

from calc import units
from calc.asking.said import Said, SaidCell, SaidNumber
from calc.asking.typed import Measured, NotANumber, parse
from calc.language import numbered, tr

When = tuple[tuple[str, frozenset[str]], ...]  # (choice, its values): every pair has to hold


class Refused(ValueError):
    """An entry that cannot be used; the message is a whole sentence for the person at the field."""


_TYPED_ON = 7  # digits that may follow while a number is being typed


@dataclass(frozen=True)
class Number(SaidNumber):
    """A number with its unit kind. `usual` and `possible` are SI; outside `possible` is refused.

    `car` is the place in the car record that fills the field ("{axle}.pitch": the braces name a
    choice of the same form); with `fills_only` it is never written back there. The standard
    uncertainty of an entry without "±" comes from `tool`, the name of an accuracy in the car's
    tools (the smallest step its owner can read), or from `reads`, the step of what nearly all read
    it with, or is `relative` times the value; `readings` says how many it is the sum or the
    difference of, two for a way from one place to another. `whole` is for what is counted. `step`
    (SI) is what one press of plus adds, where that is known better than from the tool. `start` is
    what stands in the field until something is typed, `example` the same for the demo car alone: an
    invented reading. `typical` is what is assumed where nobody knows it and the middle of `usual`
    is not it, `typical_u` its standard uncertainty where that is less than the usual range leaves.
    `asked_for` is for what is never assumed: what work changes and only a gauge on that very car
    tells, and what its owner wants. `now` names the height beside it in the record that a wanted
    one takes the place of. `when` shows the field only for some values of a choice.
    """

    label: str
    kind: str
    usual: tuple[float, float]
    possible: tuple[float, float]
    measure: str
    name: str = ""
    car: str = ""
    fills_only: bool = False
    start: float | None = None
    example: float | None = None
    tool: str = ""
    reads: float = 0.0
    relative: float = 0.0
    readings: int = 1
    optional: bool = False
    whole: bool = False
    step: float = 0.0
    typical: float | None = None
    typical_u: float | None = None
    asked_for: bool = False
    now: str = ""
    when: When = ()
    group: str = ""
    parts: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        low, high = self.possible
        if not low <= self.usual[0] <= self.usual[1] <= high:
            raise ValueError(f"{self.label}: the usual range must lie within the possible range")

    @property
    def is_measured(self) -> bool:
        """Whether it is read with something that says how well: a tool, or a share of the value."""
        return bool(self.tool or self.reads or self.relative)

    def read(
        self, text: str, system: str = units.METRIC, extra: tuple[units.Unit, ...] = ()
    ) -> Measured | None:
        """The SI value typed, None for an empty optional entry. Raises Refused."""
        if not text.strip() and self.optional:
            return None
        try:
            measured = parse(text, self.kind, system, extra)
        except NotANumber as problem:
            usual = self.range_text(system, "usual")
            raise Refused(
                tr("{label}: {problem}; usual is {usual}.",
                   label=self.said, problem=problem, usual=usual)
            ) from None  # fmt: skip
        value = self.check(measured.value, system)
        widest = (self.possible[1] - self.possible[0]) / 2
        if measured.u is not None and measured.u > widest:
            raise Refused(
                tr("{label}: the number behind ± is wider than the whole possible range.",
                   label=self.said)
            )  # fmt: skip
        by_weight = measured.u is None and measured.unit and measured.unit.symbol == units.WEIGHT
        return Measured(value, units.WEIGHT_UNCERTAINTY * value if by_weight else measured.u)

    def may_become(
        self, text: str, system: str = units.METRIC, extra: tuple[units.Unit, ...] = ()
    ) -> bool:
        """Whether a text that is refused is the beginning of a number that is possible here."""
        with suppress(Refused):
            self.read(text, system, extra)
            return False
        if not text.strip():
            return False
        low, high = self.possible
        for more in range(_TYPED_ON):
            try:
                ends = sorted(
                    parse(text + digit * more, self.kind, system, extra).value for digit in "09"
                )
            except NotANumber:
                continue
            if ends[0] <= high and ends[1] >= low:
                return True
        return False

    def check(self, value: float, system: str = units.METRIC) -> float:
        """The value, a bound where it reads the same as that. Raises Refused for any other that is
        not possible here (NaN and infinity included)."""
        held = self._held(value, self.possible, system)
        if held is not None and self.whole and held != round(held):
            raise Refused(
                tr("{label}: these are counted, so it has to be a whole number.", label=self.said)
            )
        if held is not None:
            return held
        raise Refused(self.impossible(value, system))

    def is_unusual(self, value: float) -> bool:
        return self._held(value, self.usual, units.METRIC) is None

    def is_far(self, value: float) -> bool:
        """Whether it is so far from what is usual that it is rather a slip: more than three times
        as much or less than a third of it, where it is not none; else (of temperatures, and where
        none is usual too) further outside the usual range than that is wide (common practice, no
        source)."""
        low, high = self.usual
        if low > 0 and self.kind != "temperature":
            return value != 0 and not low / 3 <= value <= high * 3
        return not 2 * low - high <= value <= 2 * high - low

    def slip(self, label: str, value: float, system: str) -> str:
        """The question about such a value that was typed without its unit."""
        return tr(
            "{label}: {value} is far from what is usual ({usual}). Is that a slip? Type “{value}” "
            "with its unit if you meant it.",
            label=label,
            value=units.as_typed(value, self.kind, system),
            usual=self.range_text(system, "usual"),
        )

    def unusual(self, label: str, value: float, system: str) -> str:
        """A question about such a value; where there is a unit, it is what is mixed up first."""
        asks = tr(
            "{label}: {value} is unusual; usual is {usual}.",
            label=label,
            value=units.as_typed(value, self.kind, system),
            usual=self.range_text(system, "usual"),
        )
        if units.unit_of(self.kind, system).symbol:
            return f"{asks} {tr('Is the unit right?')}"
        return f"{asks} {tr('Is that right?')}"

    def _held(self, value: float, bounds: tuple[float, float], system: str) -> float | None:
        """The value where it lies within the bounds, to the digits that an entry has."""
        low, high = bounds
        if low <= value <= high:
            return value
        if math.isfinite(value):
            shown = units.entry_text(value, self.kind, system)
            for bound in bounds:
                if shown == units.entry_text(bound, self.kind, system):
                    return bound
        return None


@dataclass(frozen=True)
class Choice(Said):
    """One of a few named options; `options` are (value, text) and the first is the start."""

    label: str
    options: tuple[tuple[str, str], ...]
    measure: str = ""
    name: str = ""
    car: str = ""
    fills_only: bool = False
    when: When = ()
    group: str = ""

    @property
    def start(self) -> str:
        return self.options[0][0]

    @property
    def said_options(self) -> tuple[tuple[str, str], ...]:
        return tuple((value, tr(text)) for value, text in self.options)

    def read(self, text: str) -> str:
        """The option chosen. Raises Refused."""
        values = [value for value, _ in self.options]
        if text.strip() not in values:
            raise Refused(
                tr("{label}: choose one of {values}.", label=self.said, values=", ".join(values))
            )
        return text.strip()


@dataclass(frozen=True)
class Text(SaidCell):
    """A short text such as a name."""

    label: str
    longest: int
    measure: str = ""
    name: str = ""
    car: str = ""
    fills_only: bool = False
    start: str = ""
    optional: bool = False
    when: When = ()
    group: str = ""
    parts: tuple[str, ...] = ()

    def read(self, text: str) -> str:
        """The text, on one line, without what cannot be seen. Raises Refused."""
        line = " ".join("".join(c for c in text if c.isprintable() or c.isspace()).split())
        if not line and not self.optional:
            raise Refused(tr("{label}: nothing was entered; any name will do.", label=self.said))
        if len(line) > self.longest:
            raise Refused(
                tr("{label}: {count} characters are too many; up to {most} fit.",
                   label=self.said, count=len(line), most=self.longest)
            )  # fmt: skip
        return line


Column = Number | Text


@dataclass(frozen=True)
class Rows(Said):
    """A few entries, once for each row: corners, bottles, measured pairs.

    `rows` are (key, label). A row left empty is passed over unless `every` row is asked for.
    A column's `car` names a place in the record for each row: "{row}" stands for its key, "{end}"
    for front or rear. `examples` are SI values of the columns for the first rows, where the car has
    none.
    """

    label: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, str], ...]
    measure: str = ""
    name: str = ""
    every: bool = False
    least: int = 0
    examples: tuple[tuple[float, ...], ...] = ()
    when: When = ()
    group: str = ""

    @property
    def said_rows(self) -> tuple[tuple[str, str], ...]:
        """(key, label in the language spoken)."""
        return tuple((key, numbered(label)) for key, label in self.rows)

    def cells(self) -> tuple[tuple[str, str, Column], ...]:
        """(row key, flat name, the entry with its row's label and place in the car)."""
        return self._cells

    @cached_property
    def _cells(self) -> tuple[tuple[str, str, Column], ...]:
        # Made once: every reading of a form goes through them several times.
        return tuple(
            (key, f"{self.name}.{key}.{column.name}", self._cell(row, place, column))
            for row, (key, _) in enumerate(self.rows)
            for place, column in enumerate(self.columns)
        )

    def _cell(self, row: int, place: int, column: Column) -> Column:
        key, label = self.rows[row]
        path = column.car.replace("{row}", key).replace("{end}", key.partition("_")[0])
        cell = replace(
            column,
            label=f"{label}, {column.label[0].lower()}{column.label[1:]}",
            parts=(label, column.label),
            car=path,
            fills_only=column.fills_only or "{end}" in column.car,
            optional=column.optional or not self.every,
        )
        if row < len(self.examples) and isinstance(cell, Number):
            return replace(cell, example=self.examples[row][place])
        return cell


Entry = Number | Choice | Text | Rows


def shown(when: When, choices: Mapping[str, str]) -> bool:
    """Whether an entry with this `when` is asked for under the choices made."""
    return all(choices.get(choice) in values for choice, values in when)


def path_of(cell: Choice | Number | Text, choices: Mapping[str, str]) -> str:
    """Where the value of an entry stands in the car record, by the choices made in its form; empty
    where the car does not fill it."""
    return cell.car.format(**choices)


def only(choice: str, *values: str) -> When:
    """The `when` of an entry that is asked for only where `choice` has one of the values.

    Conditions add up: only("scope", "both") + only("ask", "turns").
    """
    return ((choice, frozenset(values)),)
