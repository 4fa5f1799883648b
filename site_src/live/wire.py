"""JSON values to the records of the questions and their replies, and back.

Reading is strict: every name has to be there, none may be unknown, each value has to be of the type
that its record declares. Only a name with a default may be left out. A car, an entry of the log and
a set-up are read by their own modules, which check every value against its range.
"""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass
from sys import float_info
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from calc.kept import log, setups
from calc.kept.log import Entry
from calc.kept.setups import Setup
from calc.model import car
from calc.model.car import Car

Read = Callable[[Any], Any]


@dataclass(frozen=True)
class Stored:
    """A record that is stored on its own: how its module reads and writes its JSON values."""

    read: Read
    write: Callable[[Any], dict[str, Any]]


STORED: Mapping[type, Stored] = {
    Car: Stored(car.from_json, car.to_json),
    Entry: Stored(log.from_json, log.to_json),
    Setup: Stored(setups.setup_from_json, setups.setup_json),
}


@dataclass(frozen=True)
class Unread:
    """Marks JSON values of a type that pass as they are, because another module checks them."""

    kind: Any


class Misfit(Exception):
    """A value that is not as declared. `path` leads to it; `why` is missing, unknown or wrong."""

    def __init__(self, why: Literal["missing", "unknown", "wrong"], *path: str) -> None:
        super().__init__(why, *path)
        self.why, self.path = why, path


def reader(kind: Any) -> Read:
    """The function that reads JSON values of a type, for which it raises Misfit or Refused."""
    if kind in STORED:
        return STORED[kind].read
    if kind is float:
        return _number
    if kind in (str, bool, NoneType):
        return lambda told: told if isinstance(told, kind) else _wrong()
    if isinstance(kind, type) and is_dataclass(kind):
        return _record(kind)
    return _composed(get_origin(kind), get_args(kind))


def _composed(origin: Any, arguments: tuple[Any, ...]) -> Read:
    if origin is Annotated:
        return lambda told: told
    if origin is Literal:
        return lambda told: told if isinstance(told, str) and told in arguments else _wrong()
    if origin is Mapping:
        return _mapping(reader(arguments[1]))
    if origin is tuple and arguments[1:] == (...,):
        return _list(reader(arguments[0]))
    if origin is tuple:
        return _row(tuple(map(reader, arguments)))
    if origin in (Union, UnionType) and len(arguments) == 2 and NoneType in arguments:
        (there,) = (reader(one) for one in arguments if one is not NoneType)
        return lambda told: None if told is None else there(told)
    raise TypeError(f"no JSON stands for {origin} of {arguments}")


def _wrong() -> Any:
    raise Misfit("wrong")


def _number(told: Any) -> float:
    fits = isinstance(told, int | float) and not isinstance(told, bool)
    return float(told) if fits and abs(told) < float_info.max else _wrong()


def _at(name: str, read: Read, told: Any) -> Any:
    """What is read at a name; a misfit in there is told with the name before its own."""
    try:
        return read(told)
    except Misfit as misfit:
        raise Misfit(misfit.why, name, *misfit.path) from None


def _list(read: Read) -> Read:
    return lambda told: (
        tuple(_at(str(n), read, one) for n, one in enumerate(told, 1))
        if isinstance(told, list)
        else _wrong()
    )


def _row(reads: tuple[Read, ...]) -> Read:
    return lambda told: (
        tuple(_at(str(n), read, told[n - 1]) for n, read in enumerate(reads, 1))
        if isinstance(told, list) and len(told) == len(reads)
        else _wrong()
    )


def _mapping(read: Read) -> Read:
    return lambda told: (
        {name: _at(name, read, one) for name, one in told.items()}
        if isinstance(told, dict)
        else _wrong()
    )


def declared(kind: type) -> dict[str, Any]:
    """The types of a record by name, with what marks them."""
    hints = get_type_hints(kind, include_extras=True)
    return {item.name: hints[item.name] for item in fields(kind)}


def optional(kind: type) -> frozenset[str]:
    """The names of a record that may be left out."""
    return frozenset(item.name for item in fields(kind) if item.default is not MISSING)


def _record(kind: type) -> Read:
    reads = {name: reader(one) for name, one in declared(kind).items()}
    needed = reads.keys() - optional(kind)

    def read(told: Any) -> Any:
        if not isinstance(told, dict):
            return _wrong()
        if missing := needed - told.keys():
            raise Misfit("missing", min(missing))
        if unknown := told.keys() - reads.keys():
            raise Misfit("unknown", min(unknown))
        return kind(**{name: _at(name, reads[name], one) for name, one in told.items()})

    return read


def written(value: Any) -> Any:
    """The JSON values of a record; a name that may be left out is, where its value is None."""
    kind = type(value)
    if kind in STORED:
        return STORED[kind].write(value)
    if is_dataclass(value):
        spared = {name for name in optional(kind) if getattr(value, name) is None}
        names = (item.name for item in fields(value) if item.name not in spared)
        return {name: written(getattr(value, name)) for name in names}
    if isinstance(value, Mapping):
        return {name: written(one) for name, one in value.items()}
    if isinstance(value, tuple):
        return [written(one) for one in value]
    return value
