"""Whatever can be entered, and whatever cars there can be, for hypothesis."""

import math
from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

from hypothesis import strategies as st

from calc.asking.entry import Choice, Number, Text
from calc.asking.record import MOST
from calc.model.car import Car, singles
from calc.model.origin import Origin

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=40)


def usual(entry: Number) -> st.SearchStrategy[float]:
    """SI values of the entry that are nothing to wonder about."""
    low, high = entry.usual
    if entry.whole:
        return st.integers(math.ceil(low), math.floor(high)).map(float)
    return st.floats(low, high)


def values(entry: Number | Choice | Text) -> st.SearchStrategy[Any]:
    """Every value that the entry takes, as the record holds it: SI, bounds included."""
    if isinstance(entry, Number):
        low, high = entry.possible
        if entry.whole:
            return st.integers(math.ceil(low), math.floor(high)).map(float)
        return st.one_of(usual(entry), st.floats(low, high), st.sampled_from(entry.possible))
    if isinstance(entry, Choice):
        return st.sampled_from([value for value, _ in entry.options])
    return WORDS.filter(lambda words: entry.optional or _seen(words)).map(_read(entry))


def _seen(words: str) -> bool:
    return any(c.isprintable() and not c.isspace() for c in words)


def _read(entry: Text) -> Any:
    return lambda words: entry.read(words)


def likely(entry: Number | Choice | Text) -> st.SearchStrategy[Any]:
    """Values of the entry that somebody may well have."""
    if isinstance(entry, Number):
        return usual(entry)
    if isinstance(entry, Choice):
        return values(entry)
    return st.sampled_from(["red cap", "two dots", "No. 3", "<b>&\"'", "赤 🏁"])


Values = Callable[[Any], st.SearchStrategy[Any]]


def records(kind: type, of: Values = values) -> st.SearchStrategy[Any]:
    """Every record of a kind: each attribute over all that its declaration allows."""
    made: dict[str, st.SearchStrategy[Any]] = {}
    for item in fields(kind):
        if "part" in item.metadata:
            made[item.name] = records(item.metadata["part"], of)
        elif "many" in item.metadata:
            one = records(item.metadata["many"], of)
            made[item.name] = st.lists(one, max_size=MOST).map(tuple)
        elif "entry" in item.metadata:
            made[item.name] = of(item.metadata["entry"])
        elif "apart" not in item.metadata:
            made[item.name] = st.booleans()
    return st.builds(kind, **made)


def _sourced(car: Car) -> Car:
    """The car of somebody who has measured all of it, unless it is invented."""
    return car if car.demo else replace(car, origins=dict.fromkeys(singles(), Origin("measured")))


CARS: st.SearchStrategy[Car] = records(Car).map(_sourced)
LIKELY_CARS: st.SearchStrategy[Car] = records(Car, likely).map(_sourced)
