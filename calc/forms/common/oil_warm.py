"""Oil at the temperature of the day, for the forms: within the law, or with a word about it."""

from collections.abc import Sequence

from calc import units
from calc.answering.answer import Caution, Table
from calc.forms.names import END_LABELS
from calc.language import later, tr
from calc.model.car import Car
from calc.physics import oil
from calc.physics.warm import same_feel
from calc.replying.form import Given

TABLE_TEMPERATURES = tuple(273.15 + 5.0 * n for n in range(11))  # 0 to 50 C
_ROUNDING = 1e-9  # of what was typed in other units; what is so near an end is the end
LAW_SOURCE = later(
    "temperature law of polydimethylsiloxane fluids, from makers' technical data, −25 to 250 °C"
)


def within(temperature: float) -> float:
    """The temperature, or the end of the law's range that is nearest to it."""
    return min(max(temperature, oil.COLDEST), oil.HOTTEST)


def law_doubt(temperature: float, known_at: float = oil.ROOM) -> tuple[float, float, str]:
    """The temperature law as an input of `with_inputs`: a factor of 1 with its own doubt."""
    doubt = oil.temperature_doubt(within(temperature), within(known_at))
    return 1.0, doubt, later("how exactly the oil follows the temperature law")


def kelvin(given: Given, temperature: float) -> str:
    """A temperature as the law takes it: "298.15 K"."""
    return f"{given.bare(temperature, 'ratio', 2)} K"


def oil_cautions(
    given: Given, grades: Sequence[float], temperatures: Sequence[float]
) -> list[Caution]:
    """What the temperature law does not cover."""
    found = []
    for temperature in sorted(set(temperatures)):
        if abs(within(temperature) - temperature) > _ROUNDING * temperature:
            says = given.say(temperature, "temperature")
            ends = [given.say(end, "temperature", 0) for end in (oil.COLDEST, oil.HOTTEST)]
            text = tr(
                "The temperature law of the oil is known from {coldest} to {hottest}; at {here} "
                "the figures are those of the nearest end. Do not rely on them.",
                coldest=ends[0],
                hottest=ends[1],
                here=says,
            )
            found.append(Caution(text, stop=True))
    if min(grades) < oil.THINNEST * (1 - _ROUNDING):
        text = tr(
            "Oil thinner than {thinnest} changes less with temperature than the law used here "
            "says.",
            thinnest=given.say(oil.THINNEST, "viscosity"),
        )
        found.append(Caution(text))
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
    heads = (symbol, *(f"{tr(label)} cSt" for _, label in END_LABELS), tr("Oil has % of 25 °C"))
    return Table(tr("Oil that feels as it does at {then}", then=says), heads, rows)
