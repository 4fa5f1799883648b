"""Inputs that nobody types: of the car record with the doubts of their entries, or of a model."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any, TypeVar

from calc.answering.uncertainty import Uncertain, propagate
from calc.asking import record
from calc.asking.entry import Number
from calc.forms.names import end_label
from calc.forms.recorded import ArmPlaces
from calc.language import inside, later, tr
from calc.model.arm import PLACES, Arm
from calc.model.car import Car, entry_at, entry_doubt
from calc.model.corners import End
from calc.model.standing import drawn, is_arm_of
from calc.replying.form import Given
from calc.replying.inputs import Inputs as Typed
from calc.replying.inputs import assumed

_Asked = TypeVar("_Asked", bound=Typed)
Inputs = dict[str, tuple[float, float, str]]  # name -> (value, u, label): for `with_inputs`


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


def with_inputs(given: _Asked, extra: Mapping[str, tuple[float, float, str]]) -> _Asked:
    """The entries joined by inputs that nobody typed: name -> (value, u, what it is)."""
    return replace(
        given,
        numbers={**given.numbers, **{name: value for name, (value, _, _) in extra.items()}},
        u={**given.u, **{name: u for name, (_, u, _) in extra.items()}},
        labels={**given.labels, **{name: tr(says) for name, (_, _, says) in extra.items()}},
    )


_GROWTH = later("change of the motion ratio, by the arm in the car record")


def growth_inputs(asked: Given, ratios: Mapping[End, float], places: Mapping[End, str]) -> Inputs:
    """The growth of the motion ratio of each end as inputs named "front.growth", where it is known;
    `places` are the prefixes of the arms."""
    made: Inputs = {}
    for end, ratio in ratios.items():
        growth = growth_by(ArmPlaces(asked, places[end]), ratio)
        if growth is not None:
            made[f"{end}.growth"] = growth.value, growth.u, _label(end)
    return made


def growth_assumed() -> Any:
    """How a motion ratio grows at ride height, 1/m of wheel rise, for `with_growth_by`."""
    return assumed(_GROWTH)


def with_growth_by(asked: _Asked, declared: Any, end: End, arm: ArmPlaces, ratio: float) -> _Asked:
    """The inputs with the growth of the motion ratio of an end, 0 where it is not known."""
    growth = growth_by(arm, ratio)
    if growth is None:
        return asked.assuming((declared, 0.0, 0.0))
    made = asked.assuming((declared, growth.value, growth.u))
    return replace(made, labels={**made.labels, declared.name: _label(end)})


def _label(end: End) -> str:
    return tr("{row}, {column}", row=end_label(end), column=tr(_GROWTH))


def growth_by(arm: ArmPlaces, ratio: float) -> Uncertain | None:
    """The growth of the motion ratio by the arm, where all its places are known and it is the arm
    that has this ratio.

    Whether it is that arm is settled here, once, and not again for each entry that is varied.
    """
    names = (*PLACES, "kick_up")
    known = {name: getattr(arm, name) for name in names}
    points = {name: value for name, value in known.items() if value is not None}
    if len(points) < len(names) or not is_arm_of(Arm(**points), ratio):
        return None
    return _drawn_growth(Arm(**points), tuple(arm.of.u[arm.prefix + name] for name in names))


@lru_cache(maxsize=8)
def _drawn_growth(arm: Arm, widths: tuple[float, ...]) -> Uncertain:
    """With the uncertainty that those of its places leave in it."""

    def growth(moved: Mapping[str, float]) -> Mapping[str, float]:
        return {"growth": drawn(replace(arm, **moved)).motion_ratio_slope}

    names = (*PLACES, "kick_up")
    points = {name: float(getattr(arm, name)) for name in names}
    return propagate(growth, points, dict(zip(names, widths, strict=True)))["growth"]


def growth_of(given: Given, end: End) -> float:
    """The growth that `growth_inputs` joined to the entries; 0 where it is not known."""
    return given.numbers.get(f"{end}.growth", 0.0)
