"""Whatever can be entered, and whatever cars there can be, for hypothesis."""

import math
import random
from collections.abc import Callable
from dataclasses import fields, replace
from typing import Any

from hypothesis import strategies as st

from calc.asking.entry import Choice, Number, Text
from calc.asking.record import MOST
from calc.model.car import Car, from_json, singles, to_json
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
        some = st.one_of(usual(entry), st.floats(low, high), st.sampled_from(entry.possible))
        return st.none() | some if entry.optional else some
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


_ALL_MEASURED = dict.fromkeys(singles(), Origin("measured", 1e9))


def _some_known(seed: int) -> dict[str, Origin]:
    """Where half of the values of a car come from; of the others nobody knows."""
    dice = random.Random(seed)
    sources = (Origin("measured", 1e9), Origin("label"), Origin("predicted", 2e9, "hotter"))
    return {path: dice.choice(sources) for path in singles() if dice.random() < 0.5}


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
        elif "u" in item.metadata:
            names = st.sampled_from(item.metadata["u"])
            made[item.name] = st.dictionaries(names, st.floats(0, 1e-3))
        elif item.name == "origins":
            made[item.name] = st.one_of(st.just(_ALL_MEASURED), st.integers(0, 99).map(_some_known))
        else:
            made[item.name] = st.booleans()
    return st.builds(kind, **made)


def _as_stored(car: Car) -> Car:
    """The demo car has no origins; of other cars what is not known is not there either."""
    return replace(car, origins={}) if car.demo else from_json(to_json(car))


CARS: st.SearchStrategy[Car] = records(Car).map(_as_stored)
LIKELY_CARS: st.SearchStrategy[Car] = records(Car, likely).map(_as_stored)
