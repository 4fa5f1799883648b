"""Cars and entries at the edges of what can be entered: bounds, a hair beside them, and fields
that are all but equal, which is where divisions and roots go wrong."""

import math
import random
from dataclasses import fields
from typing import Any

from calc import units
from calc.asking.entry import Choice, Number, Text
from calc.asking.record import MOST
from calc.forms.catalogue import FORMS
from calc.model.car import Car
from calc.replying.form import Form
from tests.forms.ways import Choices, shown_cells, ways

HAIR = 1e-9  # relative
NAMES = ("", "x", "<b>&\"'", "{0}", "赤 🏁", "%s", "'; drop table")


def number(entry: Number, dice: random.Random, near: float = 0.0) -> float:
    """A value that the entry takes: at a bound, beside one or beside `near`, or anywhere."""
    low, high = entry.possible
    value = dice.choice(
        [
            low, high, dice.uniform(low, high), dice.uniform(*entry.usual),
            low + (high - low) * 10 ** dice.uniform(-9, 0),
            near * (1 + dice.choice([-1, 1]) * HAIR), near * (1 - 10 ** dice.uniform(-6, -1)),
        ]
    )  # fmt: skip
    value = min(max(value, low), high)
    return float(min(max(round(value), math.ceil(low)), math.floor(high))) if entry.whole else value


def cell(entry: Number | Choice | Text, dice: random.Random, near: float = 0.0) -> Any:
    """A value as the record holds it."""
    if isinstance(entry, Number):
        return number(entry, dice, near)
    if isinstance(entry, Choice):
        return dice.choice([value for value, _ in entry.options])
    return dice.choice([name for name in NAMES if name or entry.optional])


def record(kind: type, dice: random.Random) -> Any:
    """A record of a kind; in a third of its attributes as it is made."""
    made: dict[str, Any] = {}
    near = 0.0
    for item in fields(kind):
        told = item.metadata
        if "part" in told:
            made[item.name] = record(told["part"], dice)
        elif "many" in told:
            count = dice.choice([0, 1, 2, MOST])
            made[item.name] = tuple(record(told["many"], dice) for _ in range(count))
        elif "entry" in told and dice.random() < 2 / 3:
            made[item.name] = cell(told["entry"], dice, near)
            near = made[item.name] if isinstance(told["entry"], Number) else near
        elif "entry" in told and not isinstance(told["entry"], Number):
            made[item.name] = cell(told["entry"], dice)
    return kind(**made)


def typed(form: Form, way: Choices, system: str, dice: random.Random) -> dict[str, str]:
    """Entries along a way through a form, at most all of them."""
    made, near, often = dict(way), 0.0, dice.choice([0.0, 0.1, 0.4, 1.0])
    for name, entry in shown_cells(form, way):
        if dice.random() >= often:
            continue
        value = cell(entry, dice, near)
        if isinstance(entry, Number):
            near = value
            made[name] = units.entry_text(value, entry.kind, system)
            if dice.random() < 0.1:
                made[name] += " ± " + dice.choice(["0", "1e-9", "0.1", "50 %", "1e6"])
        else:
            made[name] = value
    return made


def case(seed: int) -> tuple[Form, Car, dict[str, str], str]:
    """A question, one and the same for one number."""
    dice = random.Random(seed)
    form, system = FORMS[seed % len(FORMS)], dice.choice(tuple(units.SYSTEMS))
    car = record(Car, dice) if dice.random() < 0.8 else Car()
    return form, car, typed(form, dice.choice(ways(form)), system, dice), system
