"""The inputs of a form as a typed class: declared once, checked, then read by attribute.

    class Asked(Inputs):
        task: Literal["blend", "made"] = choice(label="Task", options={...})
        thin: float = number(label="Thin oil", kind="viscosity", when=only("task", "blend"), ...)
        measured: float | None = number(..., optional=True)
        oils: tuple[Oil, ...] = rows(label="What went in", each=up_to(6, "Oil"), least=1)
        piston: PistonInputs = group()
        law: float = assumed("which blending law the oil follows")

The annotation is what `solve` reads, so a misspelt field, column or value of a choice fails in the
type check. At the class an attribute is its declaration (`Problem(Asked.thin, ...)`), at an
instance its checked value. Numbers are looked up when they are read, so that the propagation of
uncertainty sees which ones a figure depends on.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from enum import StrEnum
from functools import partial, wraps
from inspect import get_annotations
from itertools import chain
from typing import (
    Any,
    ClassVar,
    Concatenate,
    Generic,
    ParamSpec,
    Self,
    TypeVar,
    get_args,
    get_origin,
)

from calc import units
from calc.answering.answer import Quantity
from calc.answering.uncertainty import Uncertain, Watched, propagate
from calc.asking.declare import si
from calc.asking.entry import Choice, Entry, Number, Rows, Text, When
from calc.asking.record import declared
from calc.language import tr
from calc.model.car import Car, entry_at
from calc.replying.figures import Figures, Propagated

_Args = ParamSpec("_Args")
_Key = TypeVar("_Key", bound=str)
_Made = TypeVar("_Made")
_Record = TypeVar("_Record")
_Asked = TypeVar("_Asked", bound="Inputs")
_Found = TypeVar("_Found", bound=Figures)


class Problem(ValueError):
    """Entries that are fine alone but not together; tied to the field that should change: its
    declaration (`Asked.thin`), or its name (`row.at(Oil.amount)`)."""

    def __init__(self, at: Any, sentence: str) -> None:
        super().__init__(sentence)
        self.name: str = at if isinstance(at, str) else at.name


@dataclass(frozen=True)
class Assumed:
    """An input that nobody types, with its uncertainty: a law, a scatter. Without a value of its
    own it waits for `Inputs.assuming`; a group may have one too. `cause` is one name for several
    that the advice counts together."""

    label: str
    value: float | None = None
    u: float = 0.0
    cause: str = ""
    name: str = ""


@dataclass(frozen=True)
class _RowsToBe:
    """Rows that get their columns from the class in the annotation."""

    rows: Rows
    examples: tuple[tuple[str, ...], ...]
    path: str

    def of(self, columns: tuple[Any, ...]) -> Rows:
        """With these columns, in whose numbers, the first of them, the examples are read."""
        kinds = [column.kind for column in columns if isinstance(column, Number)]
        examples = tuple(
            tuple(si(text, kind) for text, kind in zip(row, kinds, strict=True))
            for row in self.examples
        )
        return replace(self.rows, columns=columns, examples=examples)


@dataclass(frozen=True)
class _GroupToBe:
    """Entries that come from the class in the annotation."""

    prefix: str
    when: When
    change: Callable[[Any], Any]
    path: str

    def of(self, entry: Entry) -> Entry:
        made: Entry = self.change(
            replace(entry, name=self.prefix + entry.name, when=entry.when + self.when)
        )
        return made

    def declares(self, kind: "type[Group]") -> "_Declares":
        """The entries and assumptions of the form that the group stands for."""
        if kind.required:
            raise TypeError(f"{kind.__name__} does not declare {', '.join(sorted(kind.required))}")
        return tuple(map(self.of, kind.fields)), tuple(
            replace(one, name=self.prefix + one.name) for one in kind.assumptions
        )


_Declares = tuple[tuple[Entry, ...], tuple[Assumed, ...]]


def assumed(label: str, value: float | None = None, u: float = 0.0, cause: str = "") -> Any:
    """An input that nobody types; `label` is the entry behind an uncertainty."""
    return Assumed(label, value, u, cause)


def from_car(path: str, name: str = "", **more: Any) -> Any:
    """The car's own declaration of an entry, as a field that fills itself from there.

    Braces in the path name a choice of the form ("{axle}.pitch"), or the row ("{row}", "{end}").
    """
    first = path.split(".")[0]
    row = {"bottles": "1", "springs": "1", "corners": "front_left"}.get(first, "front")
    sample = path.format(axle="front", end="front", row=row)
    return replace(entry_at(sample), name=name or sample.split(".")[-1], car=path, **more)


def rows(
    *,
    label: str,
    each: tuple[tuple[str, str], ...],
    measure: str = "",
    every: bool = False,
    least: int = 0,
    examples: tuple[tuple[str, ...], ...] = (),
    when: When = (),
    group: str = "",
    path: str = "",
) -> Any:
    """A `Rows` with the columns of the `Row` class in its annotation; `each` is (key, label),
    `examples` are quantities with their unit, `path` is where a `RecordRow` is in the car."""
    entry = Rows(label, (), each, measure, every=every, least=least, when=when, group=group)
    return _RowsToBe(entry, examples, path)


def group(
    *,
    prefix: str = "",
    when: When = (),
    change: Callable[[Any], Any] = lambda it: it,
    path: str = "",
) -> Any:
    """The entries of the `Group` class in the annotation, their names behind `prefix`, each as
    `change` makes it; `path` is where a `RecordGroup` is in the car."""
    return _GroupToBe(prefix, when, change, path)


def groups(
    *,
    keys: Iterable[str],
    prefix: str = "{key}.",
    when: When = (),
    change: Callable[[Any], Callable[[Any], Any]] = lambda key: lambda it: it,
) -> Any:
    """The entries of the `Group` class in the annotation, once for each key: `change(key)` is what
    `change` is to a `group`."""
    return {key: _GroupToBe(prefix.format(key=key), when, change(key), "") for key in keys}


def up_to(most: int, label: str) -> tuple[tuple[str, str], ...]:
    """Numbered rows: ("1", "Bottle 1") and so on."""
    return tuple((str(n), f"{label} {n}") for n in range(1, most + 1))


class _Field:
    """A declaration among the inputs: itself at the class, its value at an instance."""

    def __init__(self, name: str, declared: Any, read: "_Read") -> None:
        self.name, self.declared, self.read = name, declared, read

    def __get__(self, inputs: "Declared | None", owner: type) -> Any:
        return self.declared if inputs is None else self.read(inputs, self.name)


class Declared:
    """A class of declared entries; an instance looks their values up."""

    fields: ClassVar[tuple[Entry, ...]] = ()
    assumptions: ClassVar[tuple[Assumed, ...]] = ()
    required: ClassVar[frozenset[str]] = frozenset()
    """Annotated here, to be declared by a class that inherits."""
    _entries: ClassVar[dict[str, tuple[Entry, ...]]] = {}

    def __init_subclass__(cls, *, base: bool = False) -> None:
        super().__init_subclass__()
        if base:
            return
        above = [one for one in reversed(cls.__mro__[1:]) if issubclass(one, Declared)]
        entries = {name: flat for one in above for name, flat in one._entries.items()}
        known = {given.name: given for one in above for given in one.assumptions}
        required = {name for one in above for name in one.required}
        free = entries.keys() | known.keys() | required
        for name, kind in get_annotations(cls).items():
            if name not in free and any(_uses(one, name) for one in above):
                raise TypeError(f"{cls.__name__}.{name}: the name is taken")
            if name not in vars(cls):
                required.add(name)
                continue
            made = _declared(f"{cls.__name__}.{name}", kind, vars(cls)[name])
            declared, read, (flat, assumptions) = made
            setattr(cls, name, _Field(name, declared, read))
            required.discard(name)
            entries.pop(name, None)  # declared again, it stands where that is done
            known |= {one.name: one for one in assumptions}
            if not isinstance(declared, Assumed):
                entries[name] = flat
        cls._entries, cls.required = entries, frozenset(required)
        cls.fields = tuple(entry for flat in entries.values() for entry in flat)
        cls.assumptions = tuple(known.values())

    def place(self, name: str) -> "tuple[Inputs, str]":
        """The inputs that hold a value of this, and its name there."""
        raise NotImplementedError

    def at(self, declared: Any) -> str:
        """The name of a field among all those of the form: `row.at(Oil.amount)`."""
        return self.place(declared.name)[1]

    def label_of(self, declared: Any) -> str:
        """The label of a field in the language spoken, its row in front."""
        inputs, name = self.place(declared.name)
        return inputs.labels[name]


_Read = Callable[[Declared, str], Any]


def _uses(base: type, name: str) -> bool:
    return name in vars(base) or name in get_annotations(base)


@dataclass(frozen=True, eq=False)
class Inputs(Declared, base=True):
    """Checked SI values of the fields that are shown; `guessed` names those in which what is usual
    stands, because nobody knows better."""

    numbers: Mapping[str, float]
    u: Mapping[str, float]
    choices: Mapping[str, str]
    texts: Mapping[str, str]
    row_labels: Mapping[str, tuple[tuple[str, str], ...]]
    labels: Mapping[str, str]
    car: Car
    system: str = units.METRIC
    guessed: frozenset[str] = frozenset()

    def place(self, name: str) -> "tuple[Inputs, str]":
        return self, name

    def _with(self, numbers: Mapping[str, float]) -> Self:
        # Twice for every uncertain input, where `replace` would ask for each field's definition.
        return type(self)(
            numbers, self.u, self.choices, self.texts, self.row_labels, self.labels, self.car,
            self.system, self.guessed,
        )  # fmt: skip

    def say(self, value: float, kind: str, decimals: int | None = None) -> str:
        """A value as text in the user's units: "12.50 mm"; `decimals` are those of the metric unit,
        and another shows as many as lose nothing of them."""
        return units.show_to(value, kind, self.system, decimals)

    def typed(self, value: float, kind: str) -> str:
        """An entry as text, with the digits that its field has: "355 g"."""
        return units.as_typed(value, kind, self.system)

    def rough(self, value: float, kind: str, u: float) -> str:
        """A value as text in the user's units, with no more digits than its standard uncertainty
        leaves."""
        return units.show(value, kind, self.system, units.decimals_for(u, kind, self.system))

    def bare(self, value: float, kind: str, decimals: int | None = None) -> str:
        """As `say`, without the unit, for a table column that names it in its head."""
        places = None if decimals is None else units.places(decimals, kind, self.system)
        return units.number_text(value, kind, self.system, places)

    def symbol(self, kind: str) -> str:
        return units.symbol_text(kind, self.system)

    def assuming(self, *values: tuple[Any, float, float], of: str = "") -> Self:
        """With inputs that nobody typed: (what the class declares as `assumed`, or its name in a
        group, as `arm.at(ArmPlaces.growth)`; value; u). `of` says in the language spoken whose
        they are, at the head of each label."""
        labels = {one.name: tr(one.label) for one in self.assumptions}
        named = [(at if isinstance(at, str) else at.name, value, u) for at, value, u in values]
        return self.joined(
            *(
                (
                    name,
                    value,
                    u,
                    tr("{row}, {column}", row=of, column=labels[name]) if of else labels[name],
                )
                for name, value, u in named
            )
        )

    def joined(self, *inputs: tuple[str, float, float, str]) -> Self:
        """With numbers that were not typed at their fields: (name, value, u, label)."""
        return replace(
            self,
            numbers={**self.numbers, **{name: value for name, value, _, _ in inputs}},
            u={**self.u, **{name: u for name, _, u, _ in inputs}},
            labels={**self.labels, **{name: label for name, _, _, label in inputs}},
        )

    def changed(self, declared: Any, value: float) -> Self:
        """With another value of a field, its uncertainty as it was."""
        return replace(self, numbers={**self.numbers, declared.name: value})

    def propagate(self, figures: Callable[[Self], _Found]) -> Propagated[_Found]:
        """The figures with the uncertainty of every input propagated into them."""
        made: list[_Found] = []

        def flat(numbers: Mapping[str, float]) -> dict[str, float]:
            made.append(figures(self._with(numbers)))
            return made[-1].flat()

        uncertain = propagate(flat, self.numbers, self.u)
        return Propagated(made[0], uncertain)  # the first are those of the inputs as they are

    def quantities(self, of: Propagated[Any], **words: str) -> tuple[Quantity, ...]:
        """All figures as quantities of the answer; `words` go into their labels."""
        return tuple(
            self.quantity(name, label, kind, of.uncertain[name].no_less(least))
            for name, (label, kind, least) in of.value.labels(**words).items()
        )

    def quantity(self, name: str, label: str, kind: str, of: Uncertain, note: str = "") -> Quantity:
        """A figure with its uncertainty as a quantity of the answer, its main contributor named."""
        return Quantity(name, label, of.value, kind, of, self.labels, note)


class Group(Declared, base=True):
    """Entries that stand together, their names behind a prefix."""

    of: Inputs
    prefix: str

    def __init__(self, of: Inputs, prefix: str = "") -> None:
        self.of, self.prefix = of, prefix

    def place(self, name: str) -> tuple[Inputs, str]:
        return self.of, self.prefix + name


class Row(Group, Generic[_Key], base=True):
    """One filled row of a `Rows` entry."""

    key: _Key
    label: str

    def __init__(self, of: Inputs, prefix: str, key: _Key, label: str) -> None:
        super().__init__(of, prefix)
        self.key, self.label = key, label


class RecordGroup(Group, Generic[_Record], base=True):
    """All entries of a part of the car record."""


class RecordRow(Row[_Key], Generic[_Key, _Record], base=True):
    """One row with all entries of a part of the car record."""

    @property
    def entered(self) -> _Record:
        """The part of the record as it was entered."""
        read: dict[str, Any] = {}
        for entry in self.fields:
            values = self.of.numbers if isinstance(entry, Number) else self.of.texts
            read[entry.name] = values[self.prefix + entry.name]
        made: _Record = self.record(**read)
        return made

    record: ClassVar[type[Any]]


def _concrete(kind: Any, path: str) -> Any:
    """The class of rows or of a group; where it is of a record, with the entries of that."""
    origin = get_origin(kind)
    if not _is(origin, RecordGroup) and not _is(origin, RecordRow):
        return kind
    record = get_args(kind)[-1]
    entries = tuple(from_car(path + item.name) for item in fields(record) if declared(item))
    return type(origin.__name__, (origin,), {"record": record, "fields": entries}, base=True)


def _declared(where: str, kind: Any, made: Any) -> tuple[Any, _Read, _Declares]:
    """What the class shows, how its value is read, what of the form it stands for.

    Raises TypeError where the annotation is not what is read there.
    """
    name = where.rpartition(".")[2]
    match made:
        case _GroupToBe(path=path) if _is(of := _concrete(kind, path), Group) and not _is(of, Row):
            return made, partial(_group, of, made.prefix), made.declares(of)
        case dict() if get_origin(kind) is Mapping and _is(of := get_args(kind)[1], Group):
            prefixes = {key: one.prefix for key, one in made.items()}
            entries, assumptions = zip(*(one.declares(of) for one in made.values()), strict=True)
            flat = tuple(chain(*entries)), tuple(chain(*assumptions))
            return made, partial(_groups, of, prefixes), flat
        case _RowsToBe(path=path) if get_origin(kind) is tuple:
            row = _concrete(get_args(kind)[0], path)
            if _is(row, Row) and not row.required:
                entry = replace(made.of(row.fields), name=name)
                return entry, partial(_rows, row), ((entry,), ())
        case Assumed() if kind is float:
            one = replace(made, name=name)
            return one, _number, ((), (one,))
    read = _reader(kind, made)
    if read is None:
        raise TypeError(f"{where}: {kind} is not what is read there")
    entry = replace(made, name=name)
    return entry, read, ((entry,), ())


def _is(kind: Any, base: type) -> bool:
    return isinstance(kind, type) and issubclass(kind, base)


def _reader(kind: Any, made: Any) -> _Read | None:
    """How the value of a single entry is read; None where it is none of that kind."""
    match made:
        case Choice(options=options) if _is(kind, StrEnum):
            return partial(_member, kind) if {value for value, _ in options} == set(kind) else None
        case Number(optional=False) if kind is float:
            return _number
        case Number(optional=True) if kind == float | None:
            return _optional
        case Text() if kind is str:
            return _text
        case Choice(options=options) if {value for value, _ in options} == set(get_args(kind)):
            return _choice
    return None


def _number(window: Declared, name: str) -> float:
    inputs, flat = window.place(name)
    return _asked(inputs.numbers, flat)


def _optional(window: Declared, name: str) -> float | None:
    inputs, flat = window.place(name)
    return inputs.numbers.get(flat) if _asked(inputs.labels, flat) else None


def _text(window: Declared, name: str) -> str:
    inputs, flat = window.place(name)
    return _asked(inputs.texts, flat)


def _choice(window: Declared, name: str) -> str:
    inputs, flat = window.place(name)
    return _asked(inputs.choices, flat)


def _member(kind: type[StrEnum], window: Declared, name: str) -> StrEnum:
    return kind(_choice(window, name))


def _rows(kind: type[Row[str]], window: Declared, name: str) -> tuple[Row[str], ...]:
    inputs, flat = window.place(name)
    filled = _asked(inputs.row_labels, flat)
    return tuple(kind(inputs, f"{flat}.{key}.", key, label) for key, label in filled)


def _group(kind: type[Group], prefix: str, window: Declared, name: str) -> Group:
    return kind(*window.place(prefix))


class _ByKey(Mapping[str, Group]):
    """Groups by key, each looked up when it is asked for."""

    def __init__(self, kind: type[Group], prefixes: Mapping[str, str], window: Declared) -> None:
        self._kind, self._prefixes, self._window = kind, prefixes, window

    def __getitem__(self, key: str) -> Group:
        return self._kind(*self._window.place(self._prefixes[key]))

    def __iter__(self) -> Iterator[str]:
        return iter(self._prefixes)

    def __len__(self) -> int:
        return len(self._prefixes)


def _groups(
    kind: type[Group], prefixes: Mapping[str, str], window: Declared, name: str
) -> Mapping[str, Group]:
    return _ByKey(kind, prefixes, window)


def _asked(values: Mapping[str, _Made], name: str) -> _Made:
    """The value. Raises AttributeError where the field is not shown, or not given yet."""
    try:
        return values[name]
    except KeyError:
        raise AttributeError(f"{name} is not asked for") from None


def complete(kind: type[Inputs]) -> None:
    """Raise TypeError unless all is declared and every condition names a choice with its values."""
    options = {
        entry.name: {value for value, _ in entry.options}
        for entry in kind.fields
        if isinstance(entry, Choice)
    }
    columns = [one for entry in kind.fields if isinstance(entry, Rows) for one in entry.columns]
    for entry in (*kind.fields, *columns):
        for choice, values in entry.when:
            if not values <= options.get(choice, set()):
                raise TypeError(f"{entry.name}: no choice {choice} has {', '.join(values)}")
    if kind.required:
        raise TypeError(f"{kind.__name__} does not declare {', '.join(sorted(kind.required))}")


def memoised(
    make: Callable[Concatenate[_Asked, _Args], _Made],
) -> Callable[Concatenate[_Asked, _Args], _Made]:
    """Some of the figures: while uncertainty is propagated they are worked out again only where a
    number that they ask for has changed. Beside the numbers they depend on nothing that changes
    in one answer, and what is returned does not look at the inputs later."""

    @wraps(make)
    def memo(asked: _Asked, /, *args: _Args.args, **more: _Args.kwargs) -> _Made:
        if not isinstance(asked.numbers, Watched):
            return make(asked, *args, **more)
        key = make, args, tuple(more.items())
        made: _Made = asked.numbers.memoised(key, lambda: make(asked, *args, **more))
        return made

    return memo
