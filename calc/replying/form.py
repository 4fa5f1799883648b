"""What a form is: the class of its inputs and one plain function from them to an `Answer`.

Everything else (page, command line, sheet, tests) is made from these two.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from calc.answering.answer import Answer
from calc.asking.entry import Choice, Entry, Number, Rows, Text
from calc.language import tr
from calc.model.origin import Origin
from calc.replying.inputs import Inputs, complete

if TYPE_CHECKING:
    # A form is one of any inputs where it says nothing else; typing knows defaults from 3.13 on.
    import typing_extensions

    _Asked = typing_extensions.TypeVar("_Asked", bound=Inputs, default=Any)
else:
    _Asked = TypeVar("_Asked")


class Form(Generic[_Asked]):
    """`moment` says when it is wanted: bench, car, track; cars for the record. `asks` is the
    question it answers.

    `timer` names the figures whose time a timer beside it takes, the last of them that is there;
    without any there is no timer. `first` names what is the question's own among the fields that
    the car fills ("ride_height", a column as "end.ride_height"): the page shows these and folds the
    rest; None folds nothing. `finer` names what hardly anybody changes, folded too. `drawings` name
    the drawing that shows where to measure, by field, where it is not the one of all fields so
    called; nothing where there is none. `early` is what can be answered while some fields are still
    open, None where that is nothing.
    """

    def __init__(
        self,
        slug: str,
        title: str,
        moment: str,
        asks: str,
        inputs: type[_Asked],
        solve: Callable[[_Asked], Answer],
        timer: tuple[str, ...] = (),
        first: tuple[str, ...] | None = None,
        finer: tuple[str, ...] = (),
        drawings: Mapping[str, str] = MappingProxyType({}),
        early: Callable[[_Asked], Answer | None] = lambda asked: None,
    ) -> None:
        self.slug, self.title, self.moment, self.asks = slug, title, moment, asks
        self.inputs = inputs
        self.solve = solve
        self.timer = timer
        self.first, self.finer = first, finer
        self.drawings = drawings
        self.early = early
        complete(self.inputs)
        named = {*(first or ()), *finer} - {name for entry in self.fields for name in _names(entry)}
        if named:
            raise TypeError(f"{slug} has no fields {sorted(named)}")

    @property
    def fields(self) -> tuple[Entry, ...]:
        return self.inputs.fields

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

    @cached_property
    def by_name(self) -> Mapping[str, Choice | Number | Text]:
        """Every single input of the form by its flat name."""
        return {name: cell for _, name, cell in self.cells()}


def _names(entry: Entry) -> list[str]:
    """Of a field, or of each column of rows."""
    if isinstance(entry, Rows):
        return [f"{entry.name}.{column.name}" for column in entry.columns]
    return [entry.name]


@dataclass(frozen=True)
class Reply:
    """What a form says back: an answer or problems by field, and the texts it filled in.

    `sources` says where a value comes from that nobody has typed, by field; `open` names the
    fields that are needed and known to nobody, in their order; `asked` all that the car is asked
    for and has, or should have, at these `paths`; `unusual` asks at its field whether a number far
    from the usual is meant; `demo` that the car is the invented one; `early` what can be said while
    some are open; `stale` what a gauge showed in these before work that has changed it.
    """

    answer: Answer | None
    problems: Mapping[str, str]
    filled: Mapping[str, str]
    keepable: tuple[str, ...] = ()
    sources: Mapping[str, Origin] = field(default_factory=dict)
    open: tuple[str, ...] = ()
    asked: tuple[str, ...] = ()
    paths: frozenset[str] = frozenset()
    unusual: Mapping[str, str] = field(default_factory=dict)
    demo: bool = False
    stale: Mapping[str, str] = field(default_factory=dict)
    early: Answer | None = None

    @property
    def assumed(self) -> tuple[str, ...]:
        """The fields that have what is usual."""
        return tuple(name for name, source in self.sources.items() if source.how == "assumed")
