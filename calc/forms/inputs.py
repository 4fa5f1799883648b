"""Inputs that nobody types: of the car record with the doubts of their entries, or of a model."""

from collections.abc import Mapping
from dataclasses import replace

from calc.answering.uncertainty import resolution
from calc.asking import record
from calc.asking.entry import Number
from calc.language import inside, tr
from calc.model.car import Car, entry_at
from calc.replying.form import Given

Inputs = dict[str, tuple[float, float, str]]  # name -> (value, u, label): for `with_inputs`


def entry_doubt(car: Car, entry: Number, value: float) -> float:
    """Standard uncertainty of a value of the record, as where it is typed without a doubt."""
    if entry.tool:
        return resolution(getattr(car.tools, entry.tool))
    return entry.relative * abs(value)


def record_inputs(car: Car, paths: Mapping[str, str], of: str) -> Inputs:
    """Numbers of the record by name; `of` says in the language spoken whose they are, at the head
    of each label."""
    made: Inputs = {}
    for name, path in paths.items():
        entry, value = entry_at(path), record.get(car, path)
        if isinstance(entry, Number):
            label = tr("{row}, {column}", row=of, column=inside(entry.said))
            made[name] = (value, entry_doubt(car, entry, value), label)
    return made


def with_inputs(given: Given, extra: Mapping[str, tuple[float, float, str]]) -> Given:
    """The entries joined by inputs that nobody typed: name -> (value, u, what it is)."""
    return replace(
        given,
        numbers={**given.numbers, **{name: value for name, (value, _, _) in extra.items()}},
        u={**given.u, **{name: u for name, (_, u, _) in extra.items()}},
        labels={**given.labels, **{name: tr(says) for name, (_, _, says) in extra.items()}},
    )
