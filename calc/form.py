"""What a form is: one declaration and one plain function from checked SI values to an `Answer`.

Everything else (page, command line, sheet, tests) is made from these two.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from calc import units
from calc.answer import Answer, Quantity
from calc.car import Car, entry_at
from calc.entry import Choice, Entry, Number, Rows, Text
from calc.language import tr
from calc.uncertainty import Doubted, propagate

_Columns = dict[tuple[str, str], dict[str, Any]]  # entry and row -> column -> value


class Problem(ValueError):
    """Entries that are fine alone but not together; tied to the field that should change."""

    def __init__(self, name: str, sentence: str) -> None:
        super().__init__(sentence)
        self.name = name


def from_car(path: str, name: str = "", **more: Any) -> Any:
    """The car's own declaration of an entry, as a field that fills itself from there.

    Braces in the path name a choice of the form ("{axle}.pitch"), or the row ("{row}", "{end}").
    """
    first = path.split(".")[0]
    row = {"bottles": "1", "springs": "1", "corners": "front_left"}.get(first, "front")
    sample = path.format(axle="front", end="front", row=row)
    entry = entry_at(sample)
    return replace(entry, name=name or sample.split(".")[-1], car=path, **more)


@dataclass(frozen=True)
class Row:
    """One filled row of a `Rows` entry; its numbers are attributes."""

    key: str
    label: str
    numbers: Mapping[str, float]
    texts: Mapping[str, str]

    def __getattr__(self, name: str) -> float:
        return _attribute(self.numbers, name)

    def maybe(self, name: str) -> float | None:
        return self.numbers.get(name)


def _attribute(numbers: Mapping[str, float], name: str) -> float:
    # Dunder names are asked for by copy and pickle before the attributes exist.
    if name.startswith("__") or name not in numbers:
        raise AttributeError(name)
    return numbers[name]


@dataclass(frozen=True)
class Given:
    """Checked SI values of the fields that are shown; numbers are attributes."""

    numbers: Mapping[str, float]
    u: Mapping[str, float]
    choices: Mapping[str, str]
    texts: Mapping[str, str]
    row_labels: Mapping[str, tuple[tuple[str, str], ...]]
    labels: Mapping[str, str]
    car: Car
    system: str = units.METRIC

    def __getattr__(self, name: str) -> float:
        return _attribute(self.numbers, name)

    def maybe(self, name: str) -> float | None:
        """A number that may have been left empty."""
        return self.numbers.get(name)

    def choice(self, name: str) -> str:
        return self.choices[name]

    def rows(self, name: str) -> tuple[Row, ...]:
        """The filled rows of an entry, in order."""
        numbers, texts = self._columns
        return tuple(
            Row(key, label, numbers.get((name, key), {}), texts.get((name, key), {}))
            for key, label in self.row_labels[name]
        )

    @cached_property
    def _columns(self) -> tuple[_Columns, _Columns]:
        # In one go: with doubt carried through, an answer asks for its rows hundreds of times.
        return _by_row(self.numbers), _by_row(self.texts)

    def say(self, value: float, kind: str, decimals: int | None = None) -> str:
        """A value as text in the user's units: "12.50 mm"."""
        return units.show(value, kind, self.system, decimals)

    def bare(self, value: float, kind: str, decimals: int | None = None) -> str:
        """The same without the unit, for a table column that names it in its head."""
        return units.number_text(value, kind, self.system, decimals)

    def symbol(self, kind: str) -> str:
        return units.symbol_text(kind, self.system)

    def carry(self, figures: Callable[["Given"], Mapping[str, float]]) -> dict[str, Doubted]:
        """The figures with the doubt of every entry carried into them."""
        return propagate(
            lambda numbers: figures(replace(self, numbers=numbers)), self.numbers, self.u
        )

    def quantity(self, name: str, label: str, kind: str, of: Doubted, note: str = "") -> Quantity:
        """A doubted figure as a quantity of the answer, its main contributor named."""
        main = self.labels.get(of.main, "")
        return Quantity(name, label, of.value, kind, of.u, main, of.main_share, note)


def _by_row(values: Mapping[str, Any]) -> _Columns:
    made: _Columns = {}
    for name, value in values.items():
        if name.count(".") == 2:
            rows, key, column = name.split(".")
            made.setdefault((rows, key), {})[column] = value
    return made


@dataclass(frozen=True)
class Form:
    """`moment` says when it is wanted: bench, car, track. `asks` is the question it answers.

    `extras` are tools of the page that stand beside it, by name: a timer.
    """

    slug: str
    title: str
    moment: str
    asks: str
    fields: tuple[Entry, ...]
    solve: Callable[[Given], Answer]
    extras: tuple[str, ...] = ()

    @property
    def said_title(self) -> str:
        """The title in the language spoken."""
        return tr(self.title)

    @property
    def said_asks(self) -> str:
        return tr(self.asks)

    def cells(self) -> Iterator[tuple[Entry, str, Choice | Number | Text]]:
        """(declared entry, flat name, single input) for every input of the form."""
        for entry in self.fields:
            if isinstance(entry, Rows):
                for _, name, cell in entry.cells():
                    yield entry, name, cell
            else:
                yield entry, entry.name, entry


@dataclass(frozen=True)
class Reply:
    """What a form says back: an answer or problems by field, and the texts it filled in."""

    answer: Answer | None
    problems: Mapping[str, str]
    filled: Mapping[str, str]
    keepable: tuple[str, ...] = ()
