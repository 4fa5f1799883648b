"""Oil at the temperature of the day, for the forms: within the law, or with a word about it."""

from collections.abc import Sequence

from calc import units
from calc.answer import Caution, Table
from calc.car import Car
from calc.form import Given
from calc.forms.shared import END_LABELS
from calc.physics import oil
from calc.physics.warm import same_feel

TABLE_TEMPERATURES = tuple(273.15 + 5.0 * n for n in range(11))  # 0 to 50 C
_ROUNDING = 1e-9  # of what was typed in other units; what is so near an end is the end
LAW_SOURCE = (
    "temperature law of polydimethylsiloxane fluids, from makers' technical data, −25 to 250 °C"
)


def within(temperature: float) -> float:
    """The temperature, or the end of the law's range that is nearest to it."""
    return min(max(temperature, oil.COLDEST), oil.HOTTEST)


def law_doubt(temperature: float, known_at: float = oil.ROOM) -> tuple[float, float, str]:
    """The temperature law as an input of `with_inputs`: a factor of 1 with its own doubt."""
    doubt = oil.temperature_doubt(within(temperature), within(known_at))
    return 1.0, doubt, "how exactly the oil follows the temperature law"


def oil_cautions(
    given: Given, grades: Sequence[float], temperatures: Sequence[float]
) -> list[Caution]:
    """What the temperature law does not cover."""
    found = []
    for temperature in sorted(set(temperatures)):
        if abs(within(temperature) - temperature) > _ROUNDING * temperature:
            says = given.say(temperature, "temperature")
            ends = [given.say(end, "temperature", 0) for end in (oil.COLDEST, oil.HOTTEST)]
            found.append(
                Caution(
                    f"The temperature law of the oil is known from {ends[0]} to {ends[1]}; at "
                    f"{says} the figures are those of the nearest end. Do not rely on them.",
                    stop=True,
                )
            )
    if min(grades) < oil.THINNEST * (1 - _ROUNDING):
        found.append(
            Caution(
                f"Oil thinner than {given.say(oil.THINNEST, 'viscosity')} changes less with "
                "temperature than the law used here says."
            )
        )
    return found


def temperature_table(car: Car, system: str = units.METRIC) -> Table:
    """For the sheet: the oils that feel as those in the car do where its set-up works."""
    then = within(car.temperature)
    rows = tuple(
        (
            units.number_text(temperature, "temperature", system, 0),
            *(
                units.number_text(same_feel(axle.oil, then, temperature), "viscosity", system)
                for axle in (car.front, car.rear)
            ),
            units.number_text(oil.viscosity_at(1.0, temperature), "share", system, 0),
        )
        for temperature in TABLE_TEMPERATURES
    )
    symbol = units.unit_of("temperature", system).symbol
    says = units.show(car.temperature, "temperature", system, 0)
    heads = (symbol, *(f"{label} cSt" for _, label in END_LABELS), "Oil has % of 25 °C")
    return Table(f"Oil that feels as it does at {says}", heads, rows)
