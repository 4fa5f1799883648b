"""Inputs that nobody types: of the car record with the doubts of their entries, or of a model."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from calc.answering.uncertainty import Doubted, propagate, resolution
from calc.asking import record
from calc.asking.entry import Number
from calc.forms.names import end_label
from calc.language import inside, later, tr
from calc.model.arm import PLACES, Arm
from calc.model.car import Car, entry_at
from calc.model.corners import End
from calc.model.standing import drawn, is_arm_of
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


_GROWTH = later("growth of the motion ratio, by the arm in the car record")


def growth_inputs(asked: Given, ratios: Mapping[End, float], places: Mapping[End, str]) -> Inputs:
    """How the motion ratio of each end grows at ride height, 1/m of wheel rise, as inputs named
    "front.growth": by the arm whose places are the entries behind a prefix, where all of them are
    known and it is the arm that has this ratio; else none.

    Whether it is that arm is settled here, once, and not again for each entry that is varied.
    """
    made: Inputs = {}
    for end, ratio in ratios.items():
        names = {name: places[end] + name for name in PLACES}
        known = {name: asked.maybe(entry) for name, entry in names.items()}
        points = {name: value for name, value in known.items() if value is not None}
        if len(points) == len(names) and is_arm_of(Arm(**points), ratio):
            widths = tuple(asked.u[entry] for entry in names.values())
            growth = _drawn_growth(Arm(**points), widths)
            label = tr("{row}, {column}", row=end_label(end), column=tr(_GROWTH))
            made[f"{end}.growth"] = growth.value, growth.u, label
    return made


@lru_cache(maxsize=8)
def _drawn_growth(arm: Arm, widths: tuple[float, ...]) -> Doubted:
    """With the uncertainty that those of its places leave in it."""

    def growth(moved: Mapping[str, float]) -> Mapping[str, float]:
        return {"growth": drawn(replace(arm, **moved)).motion_ratio_slope}

    points = {name: float(getattr(arm, name)) for name in PLACES}
    return propagate(growth, points, dict(zip(PLACES, widths, strict=True)))["growth"]


def growth_of(given: Given, end: End) -> float:
    """The growth that `growth_inputs` joined to the entries; 0 where it is not known."""
    return given.numbers.get(f"{end}.growth", 0.0)
