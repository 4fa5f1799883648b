"""How the motion ratio of an end grows in bump, by the arm in the car record."""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import TypeVar

from calc.answering.uncertainty import Uncertain, propagate
from calc.forms.names import end_label
from calc.forms.recorded import ArmPlaces
from calc.model.arm import PLACES, Arm
from calc.model.corners import End
from calc.model.standing import drawn, is_arm_of
from calc.replying.inputs import Inputs

_Asked = TypeVar("_Asked", bound=Inputs)
_NAMES = (*PLACES, "kick_up")


def with_growth(asked: _Asked, end: End, arm: ArmPlaces, ratio: float) -> _Asked:
    """The inputs joined by the growth of the motion ratio of an end, 0 where it is not known."""
    name, growth = arm.at(ArmPlaces.growth), _growth_by(arm, ratio)
    if growth is None:
        return asked.assuming((name, 0.0, 0.0))
    return asked.assuming((name, growth.value, growth.u), of=end_label(end))


def _growth_by(arm: ArmPlaces, ratio: float) -> Uncertain | None:
    """The growth by the arm, where all its places are known and it is the arm that has this ratio.

    Whether it is that arm is settled here, once, and not again for each entry that is varied.
    """
    known = {name: getattr(arm, name) for name in _NAMES}
    points = {name: value for name, value in known.items() if value is not None}
    if len(points) < len(_NAMES) or not is_arm_of(Arm(**points), ratio):
        return None
    return _drawn_growth(Arm(**points), tuple(arm.of.u[arm.prefix + name] for name in _NAMES))


@lru_cache(maxsize=8)
def _drawn_growth(arm: Arm, widths: tuple[float, ...]) -> Uncertain:
    """With the uncertainty that those of its places leave in it."""

    def growth(moved: Mapping[str, float]) -> Mapping[str, float]:
        return {"growth": drawn(replace(arm, **moved)).motion_ratio_slope}

    points = {name: float(getattr(arm, name)) for name in _NAMES}
    return propagate(growth, points, dict(zip(_NAMES, widths, strict=True)))["growth"]
