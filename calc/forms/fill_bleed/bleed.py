"""Bleed: how long bubbles take to leave the oil, at room pressure and under a pump."""

import math

from calc import units
from calc.answering.answer import Answer, Caution, Table
from calc.answering.hand import wait_words
from calc.forms.cautions import spill
from calc.forms.fill_bleed import bleed_words as words
from calc.forms.fill_bleed.bleed_figures import faster, figures
from calc.forms.fill_bleed.inputs import Asked
from calc.forms.oil_warm import oil_cautions, with_law
from calc.forms.piston import oil_at
from calc.language import later, tr
from calc.model.car import Axle, Car
from calc.model.oil import at_temperature
from calc.physics import bubbles
from calc.replying.inputs import Problem

BENCH = 293.15  # K, of the sheet and the build list
SEEN = 0.1e-3  # m; the smallest bubble that can just be seen in clear oil
_ROOM_FOR_BUBBLES = later(
    "The longer time is for used oil, the shorter for fresh, clean oil. Moving the "
    "shaft brings more bubbles out from behind the piston: move it slowly, and "
    "wait again."
)
_PUMP = later(
    "Under vacuum, dissolved gas comes out as new bubbles and the oil may foam "
    "over: lower the pressure slowly, and wear eye protection; use only a vessel "
    "made for it."
)


def solve(asked: Asked) -> Answer:
    pump = asked.pump
    if pump is not None and pump > asked.room:
        raise Problem(
            Asked.pump, tr("Pressure in the vacuum chamber: it has to be below the air pressure.")
        )
    asked = with_law(asked)
    found = asked.propagate(figures)
    exact = found.value
    return Answer(
        steps=(words.step(asked, exact),),
        quantities=asked.quantities(found),
        tables=(words.table(asked),),
        plots=(words.plot(asked, exact),),
        cautions=(
            *oil_cautions(asked, [asked.oil], [asked.warm]),
            *_cautions(asked),
            Caution(tr(_ROOM_FOR_BUBBLES)),
            *((Caution(tr(_PUMP)),) if pump is not None else ()),
            spill(),
        ),
        working=words.working(asked, exact),
    )


def _cautions(asked: Asked) -> list[Caution]:
    grown = asked.bubble * math.sqrt(faster(asked))
    viscosity, density = oil_at(asked, asked.oil)
    speed = bubbles.fast_speed(grown, viscosity, density)
    if bubbles.reynolds(speed, grown, viscosity) <= bubbles.CREEPING:
        return []
    return [
        Caution(
            tr(
                "So large a bubble in so thin an oil is held up by more than is counted here: "
                "it needs longer than this, though still not long."
            )
        )
    ]


def on_the_bench(axle: Axle, size: float) -> str:
    """How long bubbles of a size take at most to leave a damper of that end, at 20 °C."""
    return wait_words(rise_on_the_bench(axle, size)[0])


def rise_on_the_bench(axle: Axle, size: float) -> tuple[float, float]:
    """Longest and shortest time, s, in which they rise through the whole body."""
    return bubbles.rise_times(axle.inside.length, size, *at_temperature(axle.oil, BENCH))


def bleed_table(car: Car, system: str = units.METRIC) -> Table:
    """For the sheet: how long bubbles take to leave the dampers of both ends on the bench."""
    rows = tuple(
        (
            units.show(size, "length", system),
            on_the_bench(car.front, size),
            on_the_bench(car.rear, size),
        )
        for size in words.SIZES
    )
    warm = units.show(BENCH, "temperature", system, 0)
    title = tr("Bubbles gone at {temperature}, used oil", temperature=warm)
    return Table(title, (tr("Bubble"), tr("Front"), tr("Rear")), rows)
