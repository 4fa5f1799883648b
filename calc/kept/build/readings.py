"""What is measured of one damper while it is built, and how near two of a pair have to be."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from calc.asking import declare
from calc.asking.entry import Number
from calc.asking.typed import Measured
from calc.kept.build.steps import ALL_KINDS, Kind
from calc.language import later
from calc.model.car import Car, entry_uncertainty, number_at
from calc.model.corners import End
from calc.physics.drop import HAND
from calc.units import METRIC, tidy

Limit = Callable[[Car, End, float], float]
"""From the car, the end and the mean of both readings: how far apart two may be (SI)."""

_BY_HAND = HAND / math.sqrt(3)
"""Standard uncertainty of the mean of three times stopped by hand, s."""
_OURS = later("our judgement")


@dataclass(frozen=True)
class Reading:
    """`entry` asks it; two are alike within `limit`, which has its reason in `why`. `needs` is the
    path of a pitch without which the limit is that of a usual one. `u` is the standard uncertainty
    where neither a tool of the owner nor a share of the value gives it. `coarse` is said
    where the tool cannot tell two apart that are so small. `path` is its place in the
    record of the car, of a corner or of an end; empty where the record has none. `of_pair` is
    where the mean of a pair goes besides; where that `is_wanted` it is what both are to be built
    to, which stays once somebody has said it. `only` names the kinds of damper that have it."""

    entry: Number
    limit: Limit
    why: str = _OURS
    needs: str = ""
    u: float = 0.0
    coarse: str = ""
    path: str = ""
    of_pair: str = ""
    is_wanted: bool = False
    only: tuple[Kind, ...] = ALL_KINDS

    @property
    def homes(self) -> tuple[str, ...]:
        """Both places in the record, as far as there are any."""
        return tuple(filter(None, (self.path, self.of_pair)))

    @property
    def of_corner(self) -> bool:
        """Whether the record of the car has it of each damper, not only of a pair."""
        return "{corner}" in self.path

    def doubt(self, car: Car, read: Measured) -> float:
        """Standard uncertainty (SI): as typed, else by the tool."""
        if read.u is not None:
            return read.u
        return self.u or entry_uncertainty(car, self.entry, read.value)


def _within(text: str, kind: str) -> Limit:
    size = declare.si(text, kind)
    return lambda car, end, mean: size


def _share(of: float) -> Limit:
    return lambda car, end, mean: of * mean


def _rod_step(car: Car, end: End, mean: float) -> float:
    return tidy(car.tools.turn_step * car.rod_end.pitch)


def _syringe_step(car: Car, end: End, mean: float) -> float:
    return car.tools.syringe


def _collar_step(car: Car, end: End, mean: float) -> float:
    return tidy(car.tools.turn_step * car.axle(end).pitch)


_ROD = later("your smallest turn of a rod end")
_ROD_PITCH = "rod_end.pitch"
_COLLAR = later("your smallest turn of a collar")


def _asked(**declared: Any) -> Number:
    entry: Number = declare.number(optional=True, **declared)
    return entry


def _of_record(
    path: str,
    limit: Limit,
    why: str = _OURS,
    needs: str = "",
    of_pair: str = "",
    is_wanted: bool = False,
    only: tuple[Kind, ...] = ALL_KINDS,
    **changed: Any,
) -> Reading:
    """A reading that the record of the car has a place for."""
    entry = number_at(path.format(end=End.FRONT, corner=End.FRONT.corners[0]))
    return Reading(
        replace(entry, optional=True, **changed),
        limit,
        why,
        needs,
        path=path,
        of_pair=of_pair,
        is_wanted=is_wanted,
        only=only,
    )


READINGS: Mapping[str, Reading] = {
    "piston": Reading(
        _asked(
            label="Diameter of the piston", kind="length", usual="8 to 20 mm",
            possible="3 to 60 mm", tool="calliper",
            measure="With the calliper, across the rim at two places; enter the mean.",
        ),
        _share(0.005),
    ),
    "mass": Reading(
        _asked(
            label="Mass of the piston", kind="mass", usual="0.1 to 3 g", possible="0.01 to 100 g",
            tool="oil_scale", measure="On the scale for oil, dry and without burr.",
        ),
        _share(0.05),
        coarse=later(
            "Your scale cannot tell such light pistons apart: gauge rim and holes instead."
        ),
    ),
    "spacers": Reading(
        _asked(
            label="Spacers under the piston", kind="length", usual="0 to 15 mm",
            possible="0 to 100 mm", tool="calliper",
            measure="All of them together, between the piston and the seal; 0 where there are "
            "none.",
        ),
        _within("0.2 mm", "length"),
    ),
    "engaged": _of_record("corners.{corner}.engaged", _within("1 mm", "length")),
    "length": _of_record(
        "corners.{corner}.damper_length", _rod_step, _ROD, _ROD_PITCH, "{end}.damper_length",
        label="Damper length, fully out",
    ),
    "stroke": _of_record(
        "corners.{corner}.stroke", _rod_step, _ROD, _ROD_PITCH, "{end}.stroke", is_wanted=True
    ),
    "drag": Reading(
        _asked(
            label="Drag of the seals", kind="force", usual="0 to 1 N", possible="0 to 50 N",
            relative=0.1,
            measure="No oil in it, seals lubricated: the least weight that draws the shaft out "
            "slowly. 0.1 N is about 10 g.",
        ),
        _within("0.2 N", "force"),
    ),
    "oil": _of_record(
        "{end}.oil", _share(0.05), label="Oil put in, at 25 °C", relative=0.01
    ),
    "filled": _of_record(
        "{end}.inside.held", _syringe_step, later("the marks of your syringe"),
        label="Oil poured in", tool="syringe", relative=0.0, only=("emulsion",),
        measure="With a syringe, as much in both of a pair.",
    ),
    "closed": _of_record("{end}.inside.closed_at", _within("1 mm", "length")),
    "rebound": Reading(
        _asked(
            label="Rebound", kind="length", usual="0 to 30 mm", possible="0 to 300 mm",
            tool="ruler",
            measure="Push the shaft fully in and let it come out slowly: how far it comes by "
            "itself.",
        ),
        _within("1 mm", "length"),
    ),
    "rebound_time": Reading(
        _asked(
            label="Time for that", kind="time", usual="0.5 to 20 s", possible="0.1 to 600 s",
            measure="From letting go until it rests; the mean of three.",
        ),
        _share(0.25), u=_BY_HAND,
    ),
    "hang": Reading(
        _asked(
            label="Time under the weight", kind="time", usual="0.5 to 60 s",
            possible="0.02 to 3600 s",
            measure="The same weight on every shaft, over the same travel; the mean of three.",
        ),
        _share(0.1), u=_BY_HAND,
    ),
    "rate": _of_record(
        "{end}.spring_rate", _share(0.05), relative=0.01,
        measure="With a scale and a ruler; a label says less.",
    ),
    "free": _of_record("{end}.spring_free", _within("1 mm", "length")),
    "gap": Reading(
        _asked(
            label="From the cap to the collar, at first touch", kind="length", usual="1 to 60 mm",
            possible="0 to 300 mm", tool="calliper",
            measure="Wind the collar down until the spring just has no play, then measure along "
            "the body.",
        ),
        _collar_step, _COLLAR, "{end}.pitch",
    ),
    "droop": Reading(
        _asked(
            label="Droop at the wheel", kind="length", usual="2 to 40 mm",
            possible="0.1 to 300 mm", tool="height_gauge",
            measure="Lift the chassis at this wheel until the tyre is just free: how far it came "
            "up.",
        ),
        _within("1 mm", "length"),
    ),
}  # fmt: skip


def read(name: str, text: str, car: Car, system: str = METRIC) -> Measured | None:
    """What was typed for a reading, None where nothing was. Raises Refused."""
    entry = READINGS[name].entry
    return entry.read(text, system, car.own_units(entry.kind))
