"""What the car learns from a form: the values typed in it, or what is usual where nobody knows."""

from collections.abc import Mapping
from dataclasses import replace
from math import isclose
from typing import Any

from calc import units
from calc.asking import record
from calc.asking.entry import Choice, Number, Rows, Text, path_of
from calc.model.car import Car, entry_at, entry_uncertainty, is_asked_for, number_at
from calc.model.origin import Origin, assumed, entered, usual_value
from calc.replying.form import Form, Reply
from calc.replying.inputs import Inputs
from calc.replying.reading import read, row_at, value_at

Learned = dict[str, tuple[Any, Origin]]  # path in the car -> value, where it comes from


def learned(
    form: Form, typed: Mapping[str, str], car: Car, when: float, system: str = units.METRIC
) -> Learned:
    """Every typed value that has a home in the car record and is new there."""
    given, reply = read(form, typed, car, system)
    own = car.own_units
    homes: Learned = {}
    for _, name, cell in form.cells():
        path = path_of(cell, given.choices) if name in reply.keepable else ""
        if path and not record.in_list(path):
            read_again = (
                cell.read(typed[name], system, own(cell.kind)) if isinstance(cell, Number) else None
            )
            u = read_again.u if read_again else None
            homes[path] = value_at(given, name), entered(entry_at(path), when, u)
    for entry in form.fields:
        if isinstance(entry, Rows):
            homes |= _lists(entry, given, reply, when)
    return homes


def _lists(rows: Rows, given: Inputs, reply: Reply, when: float) -> Learned:
    """The lists that the rows stand for, made again where any of it was changed."""
    mine = f"{rows.name}."
    columns = {name: cell.car for _, name, cell in rows.cells()}
    lists = {
        columns[name].split(".")[0]
        for name in reply.keepable
        if name.startswith(mine) and record.in_list(columns[name])
    }
    return {
        path: (
            record.listed(
                Car,
                path,
                [_row(rows, given, f"{mine}{key}.") for key, _ in given.row_labels[rows.name]],
            ),
            Origin("measured", when),
        )
        for path in lists
    }


def _row(rows: Rows, given: Inputs, prefix: str) -> dict[str, Any]:
    """All that a row of a list holds, with the uncertainties that the tools do not tell."""
    values = row_at(given, prefix)
    u = {
        cell.name: given.u[prefix + cell.name]
        for cell in rows.columns
        if isinstance(cell, Number) and values.get(cell.name) is not None
        if not isclose(
            given.u[prefix + cell.name], entry_uncertainty(given.car, cell, values[cell.name])
        )
    }
    return {**values, "u": u}


def can_be_assumed(cell: Choice | Number | Text) -> bool:
    """Whether what is usual may stand in for a field that nobody knows. Of a part of the car it
    may; not of a reading, whether the car keeps it or not, nor of a bottle or a spring that the
    owner may not have."""
    return bool(cell.car) and not record.in_list(cell.car) and not is_asked_for(cell)


def usual(form: Form, typed: Mapping[str, str], car: Car, when: float) -> Learned:
    """What stands in for every value that the form needs from the car and nobody knows."""
    given, reply = read(form, typed, car)
    found: Learned = {}
    for name in reply.open:
        path = path_of(form.by_name[name], given.choices)
        if not can_be_assumed(form.by_name[name]):
            continue
        entry = number_at(path)
        found[path] = usual_value(entry), replace(assumed(entry), when=when)
    return found
