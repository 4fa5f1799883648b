"""Every way through a form: its combinations of choices, and what may be typed under each."""

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import product

from hypothesis import strategies as st

from calc import units
from calc.answering.answer import Answer
from calc.asking.entry import Choice, Number, Rows, Text, shown
from calc.language import spoken
from calc.model.car import Car
from calc.replying.form import Form, Reply
from calc.replying.reading import run
from tests.strategies import likely, usual, values

Choices = dict[str, str]
Cell = Choice | Number | Text


def ways(form: Form) -> list[Choices]:
    """Every combination of the choices that are shown together."""
    asked = [entry for entry in form.fields if isinstance(entry, Choice)]
    found: list[Choices] = []
    for options in product(*(entry.options for entry in asked)):
        made: Choices = {}
        for entry, (value, _) in zip(asked, options, strict=True):
            if shown(entry.when, made):
                made[entry.name] = value
        if made not in found:
            found.append(made)
    return found


def replies(form: Form, system: str = units.METRIC) -> tuple[Reply, ...]:
    """What the demo car is told along every way, worked out once a process and language."""
    return _replies(form, system, spoken().code)


@cache
def _replies(form: Form, system: str, language: str) -> tuple[Reply, ...]:
    return tuple(run(form, way, Car(), system) for way in ways(form))


def answers(form: Form, system: str = units.METRIC) -> list[Answer]:
    """The answers among the replies."""
    return [reply.answer for reply in replies(form, system) if reply.answer]


def shown_cells(form: Form, choices: Choices) -> Iterator[tuple[str, Cell]]:
    """Name and declaration of every single input that is asked for, the choices left out."""
    for entry, name, cell in form.cells():
        if (
            not isinstance(cell, Choice)
            and shown(entry.when, choices)
            and shown(cell.when, choices)
        ):
            yield name, cell


def hidden_names(form: Form, choices: Choices) -> list[str]:
    asked = {name for name, _ in shown_cells(form, choices)} | set(choices)
    return [name for _, name, _ in form.cells() if name not in asked]


def _number_texts(entry: Number, system: str, wild: bool) -> st.SearchStrategy[str]:
    """Numbers as somebody types them; wild ones lie anywhere in the possible range, doubts too."""

    def written(value: float) -> str:
        return units.entry_text(value, entry.kind, system)

    # What is left out is no text of a number: `entries` empties such fields itself.
    there = replace(entry, optional=False)
    plain = (values(there) if wild else usual(there)).map(written)
    if entry.kind == "turns" and entry.possible[0] <= 0.125:
        plain = st.one_of(plain, st.sampled_from(["1/4", "1/2", "1/8", "1"]))
    if not wild:
        return plain
    low, high = entry.possible
    doubts = st.floats(0, (high - low) / 2 / units.unit_of(entry.kind, system).factor)
    doubted = st.tuples(plain, doubts).map(lambda both: f"{both[0]} ± {both[1]:.6f}")
    return st.one_of(plain, plain, doubted)


def _texts(cell: Cell, system: str, wild: bool) -> st.SearchStrategy[str]:
    if isinstance(cell, Number):
        return _number_texts(cell, system, wild)
    return likely(cell)


def entries(form: Form, choices: Choices, system: str) -> st.SearchStrategy[dict[str, str]]:
    """What may be typed, all over the possible ranges; what is left out, the car fills in."""
    cells = list(shown_cells(form, choices))
    optional = {
        f"{entry.name}.{key}.{column.name}"
        for entry in form.fields
        if isinstance(entry, Rows)
        for key, _ in entry.rows
        for column in entry.columns
        if column.optional
    } | {name for name, cell in cells if cell.optional and "." not in name}

    @st.composite
    def typed(draw: st.DrawFn) -> dict[str, str]:
        made = dict(choices)
        often = draw(st.sampled_from([2 / len(cells), 0.2, 0.5, 1.0]))
        wildly = draw(st.sampled_from([0.0, 0.1, 1.0]))
        dice = random.Random(draw(st.integers(0, 2**16)))
        states: dict[str, str] = {}
        for name, cell in cells:
            row = name.rpartition(".")[0]
            if cell.optional and row and row not in states:
                states[row] = dice.choice(
                    ["as it is", "full" if dice.random() < often else "blank"]
                )
            state = states.get(row, "full" if dice.random() < often else "as it is")
            if state == "blank" or (state == "full" and name in optional and dice.random() < 0.3):
                made[name] = ""
            elif state == "full":
                made[name] = draw(_texts(cell, system, dice.random() < wildly))
        return made

    return typed()


def usual_entries(form: Form, choices: Choices, dice: random.Random) -> dict[str, str]:
    """Some numbers out of their usual ranges, optional ones included."""
    return choices | {
        name: units.entry_text(round(v) if cell.whole else v, cell.kind)
        for name, cell in shown_cells(form, choices)
        if isinstance(cell, Number) and dice.random() < 0.6
        for v in [dice.uniform(*cell.usual)]
    }
