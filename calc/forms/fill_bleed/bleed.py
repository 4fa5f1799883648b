"""Bleed: how long bubbles take to leave the oil, at room pressure and under a pump."""

import math
from collections.abc import Mapping

from calc import units
from calc.answering.answer import Answer, Caution, Table
from calc.answering.hand import wait_words
from calc.asking.entry import Entry, Number, When
from calc.forms.cautions import spill
from calc.forms.common.oil_warm import law_doubt, oil_cautions
from calc.forms.fill_bleed import bleed_words as words
from calc.forms.inputs import with_inputs
from calc.language import later, tr
from calc.model.car import Axle, Car
from calc.physics import bubbles, oil
from calc.replying.form import Given, Problem, from_car

_BENCH = 293.15  # K, of the sheet
_ROOM_FOR_BUBBLES = later(
    "Two bounds: the slow one for bubbles whose skin is held by traces in the oil, as small ones "
    "in used oil are; the fast one for clean ones. New bubbles come out from behind the piston: "
    "work the shaft slowly, and wait again."
)
_PUMP = later(
    "Under the pump gas that was dissolved comes out as new bubbles and the oil may foam over: "
    "lower the pressure slowly, and wear eye protection; use only a vessel made for it."
)


def bleed_fields(when: When) -> tuple[Entry, ...]:
    return (
        from_car("{axle}.oil", when=when),
        Number(
            "Temperature of the oil", "temperature", (273.15, 353.15), (213.15, 573.15),
            "On the bench: that of the room, unless you warm the oil.",
            name="warm", start=_BENCH, relative=1 / 300, when=when,
        ),
        from_car(
            "{axle}.inside.length", "height", label="Height of the oil", fills_only=True, when=when,
            measure="From the lowest bubble to the surface: the whole body at most.",
        ),
        Number(
            "Diameter of the smallest bubble that matters", "length", (0.05e-3, 1e-3),
            (0.005e-3, 5e-3), "What you can just see in clear oil is a tenth of a millimetre.",
            name="bubble", start=0.1e-3, when=when,
        ),
        Number(
            "Time you can wait", "wait", (300, 14400), (1, 1e6),
            "Leave it empty to see how long it takes.", name="patience", optional=True, when=when,
        ),
        Number(
            "Pressure under the pump", "pressure", (10e3, 60e3), (100, 120e3),
            "Absolute: air pressure less what a vacuum gauge shows. Leave it empty without a pump.",
            name="pump", optional=True, when=when,
        ),
    )  # fmt: skip


def figures(given: Given) -> Mapping[str, float]:
    longest, shortest = bubbles.rise_times(given.height, given.bubble, *words.warm_oil(given))
    values = {"longest": longest, "shortest": shortest}
    if given.maybe("pump") is not None:
        values["pump_longest"] = longest / words.faster(given)
        values["pump_shortest"] = shortest / words.faster(given)
        values["faster"] = words.faster(given)
    patience = given.maybe("patience")
    if patience is not None:
        gone = bubbles.gone_diameter(given.height, patience, *words.warm_oil(given))
        values["gone"] = gone / math.sqrt(words.faster(given))
    return values


_LABELS = (
    ("longest", later("Time at room pressure, slow bound"), "wait"),
    ("shortest", later("Time at room pressure, clean bubble"), "wait"),
    ("pump_longest", later("Time under the pump, slow bound"), "wait"),
    ("pump_shortest", later("Time under the pump, clean bubble"), "wait"),
    ("faster", later("Under the pump bubbles rise faster by a factor of"), "ratio"),
    ("gone", later("Bubbles larger than this are then gone"), "length"),
)


def solve(given: Given) -> Answer:
    pump = given.maybe("pump")
    if pump is not None and pump > given.room:
        raise Problem("pump", tr("Pressure under the pump: it has to be below the air pressure."))
    given = with_inputs(given, {"law_now": law_doubt(given.warm)})
    doubted = given.carry(figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    return Answer(
        steps=(words.step(given, exact),),
        quantities=tuple(
            given.quantity(name, tr(says), kind, doubted[name])
            for name, says, kind in _LABELS
            if name in doubted
        ),
        tables=(words.table(given),),
        plots=(words.plot(given, exact),),
        cautions=(
            *oil_cautions(given, [given.oil], [given.warm]),
            *_cautions(given),
            Caution(tr(_ROOM_FOR_BUBBLES)),
            *((Caution(tr(_PUMP)),) if pump is not None else ()),
            spill(),
        ),
        working=words.working(given, exact),
    )


def _cautions(given: Given) -> list[Caution]:
    grown = given.bubble * math.sqrt(words.faster(given))
    viscosity, density = words.warm_oil(given)
    speed = bubbles.fast_speed(grown, viscosity, density)
    if bubbles.reynolds(speed, grown, viscosity) <= bubbles.CREEPING:
        return []
    return [
        Caution(
            tr(
                "So large a bubble in so thin an oil is held up by more than these laws count: it "
                "takes longer than this, though still not long."
            )
        )
    ]


def on_the_bench(axle: Axle, size: float) -> str:
    """How long bubbles of a size take at most to leave a damper of that end, at 20 °C."""
    liquid = oil.viscosity_at(axle.oil, _BENCH), oil.density(axle.oil, _BENCH)
    return wait_words(bubbles.rise_times(axle.inside.length, size, *liquid)[0])


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
    warm = units.show(_BENCH, "temperature", system, 0)
    title = tr("Bubbles leave at {temperature}, slow bound", temperature=warm)
    return Table(title, (tr("Bubble"), tr("Front"), tr("Rear")), rows)
