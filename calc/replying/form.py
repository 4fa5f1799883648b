"""What a form is: one declaration and one plain function from checked SI values to an `Answer`.

Everything else (page, command line, sheet, tests) is made from these two.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from calc import units
from calc.answering.answer import Answer, Quantity
from calc.answering.uncertainty import Doubted, Watched, propagate
from calc.asking.entry import Choice, Entry, Number, Rows, Text
from calc.language import tr
from calc.model.car import Car, entry_at
from calc.model.origin import Origin

_Asked = ParamSpec("_Asked")
_Made = TypeVar("_Made")


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
    """One filled row of a `Rows` entry; its numbers are attributes, looked up when they are asked
    for, so that what carries the doubt sees which ones are."""

    key: str
    label: str
    of: "Given"
    prefix: str

    def __getattr__(self, name: str) -> float:
        return _attribute(self.of.numbers, name, self.prefix)

    def maybe(self, name: str) -> float | None:
        return self.of.numbers.get(self.prefix + name)

    def text(self, name: str) -> str:
        return self.of.texts.get(self.prefix + name, "")

    def entered(self) -> dict[str, Any]:
        """Everything in the row, by column."""
        given = {**self.of.texts, **self.of.numbers}
        return {
            name.removeprefix(self.prefix): value
            for name, value in given.items()
            if name.startswith(self.prefix)
        }


def _attribute(numbers: Mapping[str, float], name: str, prefix: str = "") -> float:
    # Dunder names are asked for by copy and pickle before the attributes exist.
    if name.startswith("__"):
        raise AttributeError(name)
    try:
        return numbers[prefix + name]
    except KeyError:
        raise AttributeError(name) from None


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
        return tuple(
            Row(key, label, self, f"{name}.{key}.") for key, label in self.row_labels[name]
        )

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


def part(
    make: Callable[Concatenate[Given, _Asked], _Made],
) -> Callable[Concatenate[Given, _Asked], _Made]:
    """A part of the figures: while doubts are carried it is made anew only where a number that it
    asks for has changed. Beside the numbers it depends on nothing that changes in one answer, and
    what it returns does not look at `given` later."""

    @wraps(make)
    def kept(given: Given, /, *args: _Asked.args, **more: _Asked.kwargs) -> _Made:
        if not isinstance(given.numbers, Watched):
            return make(given, *args, **more)
        key = make, args, tuple(more.items())
        made: _Made = given.numbers.part(key, lambda: make(given, *args, **more))
        return made

    return kept


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
    """What a form says back: an answer or problems by field, and the texts it filled in.

    `sources` says where a value comes from that nobody has typed, by field; `open` names the
    fields that are needed and known to nobody, in their order; `asked` all that the car is asked
    for.
    """

    answer: Answer | None
    problems: Mapping[str, str]
    filled: Mapping[str, str]
    keepable: tuple[str, ...] = ()
    sources: Mapping[str, Origin] = field(default_factory=dict)
    open: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
