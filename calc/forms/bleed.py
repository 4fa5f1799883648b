"""Bleed: how long bubbles take to leave the oil, at room pressure and under a pump."""

import math
from collections.abc import Mapping

from calc import units
from calc.answer import Answer, Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.car import Axle, Car
from calc.entry import Entry, Number, When
from calc.form import Given, Problem, from_car
from calc.forms.oil_warm import law_doubt, oil_cautions, within
from calc.forms.shared import spill, with_inputs
from calc.hand import wait_words
from calc.physics import bubbles, oil

_SIZES = (0.05e-3, 0.1e-3, 0.15e-3, 0.2e-3, 0.3e-3, 0.5e-3, 1e-3)  # m, of the tables
_BENCH = 293.15  # K, of the sheet
_ROOM_FOR_BUBBLES = Caution(
    "Two bounds: the slow one for bubbles whose skin is held by traces in the oil, as small ones "
    "in used oil are; the fast one for clean ones. New bubbles come out from behind the piston: "
    "work the shaft slowly, and wait again."
)
_PUMP = Caution(
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


def _oil(given: Given) -> tuple[float, float]:
    warm = within(given.warm)
    return oil.viscosity_at(given.oil, warm) * given.law_now, oil.density(given.oil, warm)


def _faster(given: Given) -> float:
    """How many times faster bubbles rise under the pump; 1 without one."""
    pump = given.maybe("pump")
    return 1.0 if pump is None else bubbles.speed_factor(given.room, pump)


def figures(given: Given) -> Mapping[str, float]:
    longest, shortest = bubbles.rise_times(given.height, given.bubble, *_oil(given))
    values = {"longest": longest, "shortest": shortest}
    if given.maybe("pump") is not None:
        values["pump_longest"] = longest / _faster(given)
        values["pump_shortest"] = shortest / _faster(given)
        values["faster"] = _faster(given)
    patience = given.maybe("patience")
    if patience is not None:
        gone = bubbles.gone_diameter(given.height, patience, *_oil(given))
        values["gone"] = gone / math.sqrt(_faster(given))
    return values


_LABELS = (
    ("longest", "Time at room pressure, slow bound", "wait"),
    ("shortest", "Time at room pressure, clean bubble", "wait"),
    ("pump_longest", "Time under the pump, slow bound", "wait"),
    ("pump_shortest", "Time under the pump, clean bubble", "wait"),
    ("faster", "Under the pump bubbles rise faster by a factor of", "ratio"),
    ("gone", "Bubbles larger than this are then gone", "length"),
)


def solve(given: Given) -> Answer:
    pump = given.maybe("pump")
    if pump is not None and pump > given.room:
        raise Problem("pump", "Pressure under the pump: it has to be below the air pressure.")
    given = with_inputs(given, {"law_now": law_doubt(given.warm)})
    doubted = given.carry(figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    return Answer(
        steps=(_step(given, exact),),
        quantities=tuple(
            given.quantity(name, says, kind, doubted[name])
            for name, says, kind in _LABELS
            if name in doubted
        ),
        tables=(_table(given),),
        plots=(_plot(given, exact),),
        cautions=(
            *oil_cautions(given, [given.oil], [given.warm]),
            *_cautions(given),
            _ROOM_FOR_BUBBLES,
            *((_PUMP,) if pump is not None else ()),
            spill(),
        ),
        working=_working(given, exact),
    )


def _step(given: Given, exact: Mapping[str, float]) -> Step:
    size = given.say(given.bubble, "length")
    longest, shortest = exact["longest"], exact["shortest"]
    where = f"through {given.say(given.height, 'length', 1)} of oil"
    room = f"{wait_words(shortest)} to {wait_words(longest)} at room pressure"
    pump = ""
    if "pump_longest" in exact:
        fast, slow = wait_words(exact["pump_shortest"]), wait_words(exact["pump_longest"])
        pump = f", {fast} to {slow} under the pump"
    takes = f"Bubbles of {size} take {room}{pump} {where}."
    if "gone" in exact:
        gone = given.say(exact["gone"], "length", 3)
        wait = wait_words(given.patience)
        return Step(f"After {wait} all bubbles larger than {gone} have left.", takes)
    wait = wait_words(exact["pump_longest" if pump else "longest"])
    return Step(
        f"Let it stand for {wait} {'under the pump' if pump else 'with the cap off'}.",
        f"{takes} Larger ones leave sooner.",
    )


def _cautions(given: Given) -> list[Caution]:
    grown = given.bubble * math.sqrt(_faster(given))
    viscosity, density = _oil(given)
    speed = bubbles.fast_speed(grown, viscosity, density)
    if bubbles.reynolds(speed, grown, viscosity) <= bubbles.CREEPING:
        return []
    return [
        Caution(
            "So large a bubble in so thin an oil is held up by more than these laws count: it "
            "takes longer than this, though still not long."
        )
    ]


def _table(given: Given) -> Table:
    sizes = sorted({*_SIZES, given.bubble})
    rows = []
    for size in sizes:
        longest, shortest = bubbles.rise_times(given.height, size, *_oil(given))
        under = (wait_words(longest / _faster(given)),) if given.maybe("pump") is not None else ()
        rows.append(
            (given.bare(size, "length", 3), wait_words(longest), wait_words(shortest), *under)
        )
    under_head = ("Pump, slow bound",) if given.maybe("pump") is not None else ()
    heads = (f"Bubble {given.symbol('length')}", "Slow bound", "Clean bubble", *under_head)
    title = f"How long bubbles take through {given.say(given.height, 'length', 1)}"
    return Table(title, heads, tuple(rows), mark=sizes.index(given.bubble))


def _plot(given: Given, exact: Mapping[str, float]) -> Plot:
    last = 2 * max(exact["longest"], given.maybe("patience") or 0.0)
    times = [last * n / 20 for n in range(1, 21)]

    def left(time: float, faster: float) -> float:
        return bubbles.gone_diameter(given.height, time * faster, *_oil(given))

    bounds = [("slow bound", 1.0, "main"), ("clean bubble", bubbles.CLEAN, "second")]
    if given.maybe("pump") is not None:
        bounds.append(("pump, slow bound", _faster(given), "limit"))
    curves = tuple(
        Curve(name, tuple((time, left(time, faster)) for time in times), style)
        for name, faster, style in bounds
    )
    size = given.say(given.bubble, "length")
    return Plot(
        "Smallest bubble that has left against the time",
        Axis("Time", "wait"),
        Axis("Diameter of the bubble", "length"),
        curves,
        (Mark(exact["longest"], given.bubble, "this bubble"),),
        f"At room pressure a bubble of {size} has left after {wait_words(exact['longest'])} at the "
        "latest; half the size takes four times as long.",
    )


def _working(given: Given, exact: Mapping[str, float]) -> tuple[Working, ...]:
    say = given.say
    viscosity, density = _oil(given)
    speed = bubbles.slow_speed(given.bubble, viscosity, density)
    lines = [
        Working(
            "speed = g d² (1 − density of air / density of oil) / (18 ν)",
            f"d = {say(given.bubble, 'length')}, ν = {say(viscosity, 'viscosity')}: "
            f"{say(speed, 'speed', 4)}; {say(given.height, 'length', 1)} takes "
            f"{wait_words(exact['longest'])}",
            "Stokes 1851, the bubble as a solid ball",
        ),
        Working(
            "a clean bubble rises 1.5 times as fast",
            wait_words(exact["shortest"]),
            "Hadamard, Rybczynski 1911, gas without viscosity",
        ),
    ]
    pump = given.maybe("pump")
    if pump is not None:
        lines.append(
            Working(
                "under the pump: diameter × (p1/p2)^(1/3), speed × its square",
                f"({say(given.room, 'pressure')} / {say(pump, 'pressure')})^(2/3) = "
                f"{say(exact['faster'], 'ratio', 2)}",
                "Boyle's law; gas out of solution is not counted",
            )
        )
    return tuple(lines)


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
        for size in _SIZES
    )
    warm = units.show(_BENCH, "temperature", system, 0)
    return Table(f"Bubbles leave at {warm}, slow bound", ("Bubble", "Front", "Rear"), rows)
