"""Fields that several forms ask for, and what is worked out of them alike."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from calc.asking.declare import choice, si
from calc.asking.entry import Number, When
from calc.forms.names import END_LABELS
from calc.language import tr
from calc.model.car import entry_at
from calc.model.standing import SpringSize
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


def of_spring(name: str) -> Any:
    """The record's declaration of a spring of the list, as an entry that nothing fills."""
    return entry_at(f"springs.1.{name}")


def against(asked: Inputs, ratio: float, same: str, more: str, less: str) -> str:
    """A ratio in words, each as `later` has it; `more` and `less` take the share."""
    share = asked.say(abs(ratio - 1), "share", 0)
    if share == asked.say(0.0, "share", 0):
        return tr(same)
    return tr(more if ratio > 1 else less, share=share)


class SpringInputs(Group):
    """A spring that has no place of its own in the car record."""

    rate: float = of_spring("rate")
    free: float = of_spring("free")
    solid: float = of_spring("solid")

    @property
    def size(self) -> SpringSize:
        return SpringSize(self.rate, self.free, self.solid)


def spring_typed(of: str, prefix: str, *, rate: str, free: str, solid: str, when: When = ()) -> Any:
    """`SpringInputs` whose labels begin with `of`, with examples."""
    examples = {"rate": rate, "free": free, "solid": solid}

    def of_it(entry: Number) -> Number:
        made = si(examples[entry.name.removeprefix(prefix)], entry.kind)
        return replace(entry, label=f"{of} {entry.label.lower()}", example=made)

    return group(prefix=prefix, when=when, change=of_it)
