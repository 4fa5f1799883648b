"""A value of the record on paper: marked where nobody measured it, blank where nobody knows it."""

from calc import units
from calc.asking import record
from calc.language import later
from calc.model.car import Car, is_known, number_at
from calc.model.origin import How
from calc.sheet.grid import BLANK

MARKS: dict[How, tuple[str, str]] = {
    "assumed": ("?", later("? assumed")),
    "predicted": ("*", later("* predicted, not measured since")),
}
"""(mark behind the value, what it means) by where a value comes from."""


def mark(car: Car, *paths: str) -> str:
    """The mark of what stands at the paths; of several, the first that has one."""
    for path in paths:
        source = car.origins.get(path)
        if source and source.how in MARKS:
            return MARKS[source.how][0]
    return ""


def value(car: Car, path: str, system: str, decimals: int | None = None) -> str:
    """A number of the record without its unit, as finely in inches as in `decimals` of the metric
    unit; `BLANK` where it is not known."""
    entry = number_at(path)
    if not is_known(car, path):
        return BLANK
    kind = entry.kind
    places = None if decimals is None else units.places(decimals, kind, system)
    source = car.origins.get(path)
    leaves = source.leaves if source else None
    return units.number_text(record.get(car, path), kind, system, places, leaves) + mark(car, path)
