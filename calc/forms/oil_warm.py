"""Oil at the temperature of the day, for the forms: within the law, or with a word about it."""

from collections.abc import Sequence
from typing import Any, TypeVar

from calc.answering.answer import Caution
from calc.asking.declare import number
from calc.asking.entry import When
from calc.language import later, tr
from calc.model.oil import clamp
from calc.physics import oil
from calc.replying.inputs import Inputs, assumed, from_car

TABLE_TEMPERATURES = tuple(273.15 + 5.0 * n for n in range(11))  # 0 to 50 C
_NEAR = 2.5  # K
_ROUNDING = 1e-9  # of what was typed in other units; what is so near an end is the end
LAW_SOURCE = later(
    "temperature curve of polydimethylsiloxane fluids, from makers' technical data, −25 to 250 °C"
)


LAW = later("how exactly the oil follows the temperature curve")


def row_near(temperature: float) -> int:
    """Which of the rows by `TABLE_TEMPERATURES` is that of a temperature, K; −1 for none."""
    gaps = [abs(temperature - one) for one in TABLE_TEMPERATURES]
    return gaps.index(min(gaps)) if min(gaps) <= _NEAR else -1


def plotted(*temperatures: float) -> list[float]:
    """Those of a plot, K: of the tables, and as far as these; within the law."""
    low, high = (clamp(of(*TABLE_TEMPERATURES, *temperatures)) for of in (min, max))
    return [low + (high - low) * n / 20 for n in range(21)]


def temperature_now() -> Any:
    return number(
        label="Temperature now", kind="temperature", usual="0 to 50 °C", possible="-60 to 300 °C",
        measure="Taken like the one above: air in the shade both times, or the body of the damper "
                "after a run both times.", example="35 °C", relative=1 / 300,
    )  # fmt: skip


class AtWarmth(Inputs):
    """Oil at a temperature: as exactly as it follows the temperature law."""

    warm: float
    law_now: float = assumed(LAW)


class WarmOil(AtWarmth):
    """One grade of it."""

    oil: float


def warm_oil(*, when: When = ()) -> Any:
    """The temperature of the oil, which the car does not keep from here."""
    return from_car("temperature", label="Temperature of the oil", fills_only=True, when=when)


_Warm = TypeVar("_Warm", bound=AtWarmth)


def with_law(asked: _Warm) -> _Warm:
    """With the uncertainty of the temperature law at this temperature."""
    return asked.assuming((AtWarmth.law_now, 1.0, law_uncertainty(asked.warm)))


def law_uncertainty(temperature: float, known_at: float = oil.ROOM) -> float:
    """Of the factor 1 by which the oil follows the law from one temperature to the other."""
    return oil.temperature_uncertainty(clamp(temperature), clamp(known_at))


def kelvin(asked: Inputs, temperature: float) -> str:
    """A temperature as the law takes it: "298.15 K"."""
    return f"{asked.bare(temperature, 'ratio', 2)} K"


def oil_cautions(
    asked: Inputs, grades: Sequence[float], temperatures: Sequence[float]
) -> list[Caution]:
    """What the temperature law does not cover."""
    found = []
    for temperature in sorted(set(temperatures)):
        if abs(clamp(temperature) - temperature) > _ROUNDING * temperature:
            says = asked.say(temperature, "temperature")
            ends = [asked.say(end, "temperature", 0) for end in (oil.COLDEST, oil.HOTTEST)]
            text = tr(
                "How the oil changes is known from {coldest} to {hottest}; at {here} the "
                "figures are those of the nearest limit. Do not rely on them.",
                coldest=ends[0],
                hottest=ends[1],
                here=says,
            )
            found.append(Caution(text, stop=True))
    if min(grades) < oil.THINNEST * (1 - _ROUNDING):
        text = tr(
            "Oil thinner than {thinnest} changes less with temperature than is worked out here.",
            thinnest=asked.say(oil.THINNEST, "viscosity"),
        )
        found.append(Caution(text))
    return found
