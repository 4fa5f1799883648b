"""Piston and oil: the force of a damper against the speed of its shaft, and the oil for another."""

from collections.abc import Mapping

from calc.answer import Answer, Axis, Curve, Mark, Plot, Step, Table, Working
from calc.entry import Choice, Number, only
from calc.form import Form, Given, Problem, from_car
from calc.forms import piston_match
from calc.forms.bottles import amount_field, bottle_rows
from calc.forms.oil_warm import law_doubt, oil_cautions, within
from calc.forms.piston import (
    DIRECTIONS,
    DOUBTS,
    directions,
    oil_at,
    other_piston_fields,
    piston_cautions,
    piston_fields,
    piston_from,
)
from calc.forms.shared import AXLE, spill, with_inputs
from calc.physics import damper
from calc.physics.damper import Piston
from calc.uncertainty import Doubted
from calc.units import decimals_for

SPEEDS = (1e-3, 2e-3, 5e-3, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # m/s, of the table
_MATCH = only("task", "match")


def _speed(label: str, start: float, measure: str, **more: object) -> Number:
    return Number(
        label, "speed", (0.005, 1.5), (0.001, 2.0), measure, start=start, **more  # type: ignore[arg-type]
    )  # fmt: skip


FIELDS = (
    Choice(
        "Task",
        (("force", "force of my piston and oil"), ("match", "the oil for another piston")),
        name="task",
    ),
    AXLE,
    from_car("{axle}.oil"),
    from_car("temperature", "warm", label="Temperature of the oil", fills_only=True),
    _speed("Slow shaft speed", 0.02, "Rolling, braking, squatting: a few hundredths of a metre "
           "in a second.", name="slow"),
    _speed("Fast shaft speed", 0.5, "Landings and kerbs: half a metre in a second and more.",
           name="fast"),
    _speed("Speed at which they shall be alike", 0.1, "Where you feel the difference: between "
           "the slow and the fast speed.", name="match_speed", when=_MATCH),
    Choice(
        "Direction in which they shall be alike",
        (("rebound", "rebound"), ("compression", "compression")),
        "It matters only where holes close in one direction.", name="way", when=_MATCH,
    ),
    *other_piston_fields(_MATCH),
    amount_field(8e-6, _MATCH),
    bottle_rows(_MATCH),
    *piston_fields(),
)  # fmt: skip


def figures(given: Given) -> Mapping[str, float]:
    piston, law = piston_from(given), given.piston_law
    warm = oil_at(given, given.oil)
    values = {}
    for direction, (end, _) in zip(directions(piston), _ends(piston), strict=True):
        for name, speed in (("slow", given.slow), ("fast", given.fast)):
            values[f"{name}_force{end}"] = law * damper.force(piston, speed, *warm, direction)
        values[f"slow_damping{end}"] = law * damper.damping_coefficient(piston, 0, *warm, direction)
        values[f"overtakes{end}"] = damper.crossover_speed(piston, *warm, direction)
        values[f"rim_share{end}"] = damper.rim_share(piston, given.slow, *warm, direction)
    return values


_LABELS = {
    "slow_force": ("Force at the slow speed", "force"),
    "fast_force": ("Force at the fast speed", "force"),
    "slow_damping": ("Damping coefficient in slow motion", "damping"),
    "overtakes": ("Speed at which the inertial part overtakes", "speed"),
    "rim_share": ("Share of the oil that passes the rim, slow", "share"),
}


def label_of(name: str) -> tuple[str, str]:
    """Label and kind of a figure; the direction stands behind its name."""
    for direction in DIRECTIONS:
        if name.endswith(direction):
            says, kind = _LABELS[name.removesuffix(f"_{direction}")]
            return f"{says}, {direction}", kind
    return _LABELS[name]


def solve(given: Given) -> Answer:
    if given.slow >= given.fast:
        raise Problem("fast", "Fast shaft speed: it has to be faster than the slow one.")
    given = with_inputs(given, {**DOUBTS, "law_now": law_doubt(given.warm)})
    if given.choice("task") == "match":
        return piston_match.solve(given)
    piston, warm = piston_from(given), oil_at(given, given.oil)
    doubted = given.carry(figures)
    quantities = tuple(
        given.quantity(name, *label_of(name), figure) for name, figure in doubted.items()
    )
    return Answer(
        steps=tuple(_says(given, doubted, end, says) for end, says in _ends(piston)),
        quantities=quantities,
        tables=(_table(given, piston, warm),),
        plots=(_plot(given, piston, warm),),
        cautions=(
            *oil_cautions(given, [given.oil], [given.warm]),
            *piston_cautions(given, piston, warm, given.fast),
            spill(),
        ),
        working=_working(given, piston, warm),
    )


def _ends(piston: Piston) -> list[tuple[str, str]]:
    """(end of a figure's name, what it says) of each direction that has figures of its own."""
    ways = directions(piston)
    if len(ways) == 1:
        return [("", "Each way")]
    return [(f"_{way}", way.capitalize()) for way in ways]


def _says(given: Given, doubted: Mapping[str, Doubted], end: str, way: str) -> Step:
    def rough(name: str) -> str:
        figure, kind = doubted[name + end], _LABELS[name][1]
        return given.say(figure.value, kind, decimals_for(figure.u, kind, given.system))

    return Step(
        f"{way}: {rough('slow_force')} at {given.say(given.slow, 'speed')}, "
        f"{rough('fast_force')} at {given.say(given.fast, 'speed')}.",
        f"The part that grows with the square of the speed overtakes at {rough('overtakes')}; "
        f"{rough('rim_share')} of the oil passes the rim.",
    )


def _table(given: Given, piston: Piston, warm: tuple[float, float]) -> Table:
    ways = directions(piston)
    rows = []
    for speed in SPEEDS:
        forces = [damper.force(piston, speed, *warm, way) for way in ways]
        rows.append(
            (
                given.bare(speed, "speed"),
                *(given.bare(force, "force") for force in forces),
                *(given.bare(force / speed, "damping") for force in forces),
                given.bare(damper.rim_share(piston, speed, *warm, ways[0]), "share", 1),
            )
        )
    ends = [""] if len(ways) == 1 else [f" {way}" for way in ways]
    heads = (
        f"Speed {given.symbol('speed')}",
        *(f"Force{end} {given.symbol('force')}" for end in ends),
        *(f"Damping{end} {given.symbol('damping')}" for end in ends),
        "Past the rim %",
    )
    return Table("Force against shaft speed", heads, tuple(rows))


def _plot(given: Given, piston: Piston, warm: tuple[float, float]) -> Plot:
    speeds = [given.fast * n / 16 for n in range(1, 17)]
    ways = directions(piston)
    curves = [
        Curve(
            "each way" if len(ways) == 1 else way,
            ((0.0, 0.0), *((v, damper.force(piston, v, *warm, way)) for v in speeds)),
            style,
        )
        for way, style in zip(ways, ("main", "second"), strict=False)
    ]
    viscous = damper.viscous_force(piston, given.fast, *warm, ways[0])
    curves.append(Curve("without the square part", ((0.0, 0.0), (given.fast, viscous)), "limit"))
    marks = tuple(
        Mark(speed, damper.force(piston, speed, *warm, ways[0]), name)
        for name, speed in (("slow", given.slow), ("fast", given.fast))
    )
    top = given.say(marks[1].y, "force")
    return Plot(
        "Damping force against shaft speed",
        Axis("Shaft speed", "speed"),
        Axis("Force", "force"),
        tuple(curves),
        marks,
        f"The force grows from nothing to {top} at {given.say(given.fast, 'speed')}, faster than "
        "the straight line of thick oil in slow motion.",
    )


def _working(given: Given, piston: Piston, warm: tuple[float, float]) -> tuple[Working, ...]:
    say, speed = given.say, given.fast
    flow = damper.driven_flow(piston, speed)
    drop = damper.pressure(piston, speed, *warm)
    return (
        Working(
            "oil at its temperature",
            f"{say(given.oil, 'viscosity')} at 25 °C: {say(warm[0], 'viscosity')} and "
            f"{say(warm[1], 'density')} at {say(within(given.warm), 'temperature')}, "
            f"{say(warm[0] * warm[1], 'dynamic')}",
            "temperature law of polydimethylsiloxane fluids, from makers' data",
        ),
        Working(
            "flow = (bore area − shaft area) × speed, less what the wall carries through the gap",
            f"{say(speed, 'speed')} drives {say(flow, 'volume')} in a second",
        ),
        Working(
            "each hole: Δp = μ Q (3/a³ + 8 L/(π a⁴)) + 1.5 ρ u²/2",
            f"rim: Q = π D h³ Δp (1 + 1.5 ε²)/(12 μ L), h = {say(piston.gap, 'length', 3)}; all "
            f"side by side under {say(drop, 'pressure')}",
            "Dagan, Weinbaum and Pfeffer, J. Fluid Mech. 115 (1982); "
            "form of the law: Dixon, The Shock Absorber Handbook",
        ),
        Working(
            "force = pressure difference × (bore area − shaft area)",
            f"{say(drop, 'pressure')} on {piston.working_area * 1e6:.1f} mm² = "
            f"{say(drop * piston.working_area, 'force')}",
        ),
    )


FORM = Form(
    "piston-oil",
    "Piston and oil",
    "bench",
    "How hard does the damper hold at slow and at fast speed, and which oil suits another piston?",
    FIELDS,
    solve,
)
