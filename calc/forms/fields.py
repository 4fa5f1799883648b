"""Fields that several forms ask for, and what is worked out of them alike."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from calc.asking.declare import choice, number, si
from calc.asking.entry import Number, When
from calc.forms.names import END_LABELS
from calc.model.car import SOLID_LENGTH
from calc.replying.inputs import Group, Inputs, group


def which_end(when: When = ()) -> Any:
    """The end of the car that is asked about."""
    return choice(label="End of the car", options=dict(END_LABELS), when=when)


def rod_end_material() -> Any:
    """What its thread is cut or moulded into; the keys are those of `thread.ENGAGEMENT`."""
    return choice(
        label="Rod end material",
        options={"plastic": "plastic", "aluminium": "aluminium", "steel": "steel"},
    )


def table_row(
    given: Inputs, label: str, kind: str, values: Iterable[float], decimals: int | None = None
) -> tuple[str, ...]:
    """A row with a unit of its own: it stands once, at the label, so that columns stay narrow."""
    unit = given.symbol(kind)
    cells = (given.bare(value, kind, decimals) for value in values)
    return (f"{label}, {unit}" if unit else label, *cells)


RATE = (100.0, 5e3), (5.0, 2e5)  # usual and possible, N/m
FREE = (20e-3, 120e-3), (5e-3, 0.5)  # m
SOLID = (5e-3, 60e-3), (1e-3, 0.4)  # m


class SpringInputs(Group):
    """A spring that has no place of its own in the car record."""

    rate: float = number(
        label="Rate", kind="rate", usual="0.1 to 5 N/mm", possible="0.005 to 200 N/mm",
        measure="From the label, or with a scale and a ruler.", relative=0.03,
    )  # fmt: skip
    free: float = number(
        label="Free length", kind="length", usual="20 to 120 mm", possible="5 to 500 mm",
        measure="Off the car, with nothing on it.", tool="ruler",
    )  # fmt: skip
    solid: float = number(
        label="Solid length", kind="length", usual="5 to 60 mm", possible="1 to 400 mm",
        measure=SOLID_LENGTH, tool="ruler",
    )  # fmt: skip


def spring_typed(of: str, prefix: str, *, rate: str, free: str, solid: str, when: When = ()) -> Any:
    """`SpringInputs` whose labels begin with `of`, with examples."""
    examples = {"rate": rate, "free": free, "solid": solid}

    def of_it(entry: Number) -> Number:
        made = si(examples[entry.name.removeprefix(prefix)], entry.kind)
        return replace(entry, label=f"{of} {entry.label.lower()}", example=made)

    return group(prefix=prefix, when=when, change=of_it)
