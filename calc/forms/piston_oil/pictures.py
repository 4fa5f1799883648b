"""The force of a damper as a table, a plot and its working."""

from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.answering.places import between
from calc.forms.common.oil_warm import LAW_SOURCE
from calc.forms.common.piston import direction_word
from calc.language import tr
from calc.model.damper import directions
from calc.model.oil import within
from calc.physics import damper
from calc.physics.damper import Direction, Piston
from calc.replying.form import Given
from calc.units import spelt

_SPEEDS = (1e-3, 2e-3, 5e-3, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # m/s, of the table


def table(given: Given, piston: Piston, warm: tuple[float, float]) -> Table:
    ways = directions(piston)
    rows = []
    for speed in _SPEEDS:
        forces = [damper.force(piston, speed, *warm, way) for way in ways]
        rows.append(
            (
                given.bare(speed, "speed"),
                *(given.bare(force, "force") for force in forces),
                *(given.bare(force / speed, "damping") for force in forces),
                given.bare(damper.rim_share(piston, speed, *warm, ways[0]), "share", 1),
            )
        )
    return Table(tr("Force against shaft speed"), _heads(given, ways), tuple(rows))


def _heads(given: Given, ways: tuple[Direction, ...]) -> tuple[str, ...]:
    force, damping = given.symbol("force"), given.symbol("damping")
    forces = [tr("Force {unit}", unit=force)]
    dampings = [tr("Damping {unit}", unit=damping)]
    if len(ways) > 1:
        words = [direction_word(way) for way in ways]
        forces = [tr("Force {direction} {unit}", direction=word, unit=force) for word in words]
        dampings = [
            tr("Damping {direction} {unit}", direction=word, unit=damping) for word in words
        ]
    return (
        tr("Speed {unit}", unit=given.symbol("speed")), *forces, *dampings, tr("Past the rim %"),
    )  # fmt: skip


def plot(given: Given, piston: Piston, warm: tuple[float, float]) -> Plot:
    speeds = between(0.0, given.fast, "speed", given.system)[1:]
    ways = directions(piston)
    curves = [
        Curve(
            tr("each way") if len(ways) == 1 else direction_word(way),
            ((0.0, 0.0), *((v, damper.force(piston, v, *warm, way)) for v in speeds)),
            style,
        )
        for way, style in zip(ways, ("main", "second"), strict=False)
    ]
    viscous = damper.viscous_force(piston, given.fast, *warm, ways[0])
    straight = ((0.0, 0.0), (given.fast, viscous))
    curves.append(Curve(tr("without the square part"), straight, "limit"))
    marks = tuple(
        Mark(speed, damper.force(piston, speed, *warm, ways[0]), name)
        for name, speed in ((tr("slow"), given.slow), (tr("fast"), given.fast))
    )
    return Plot(
        tr("Damping force against shaft speed"),
        Axis(tr("Shaft speed"), "speed"),
        Axis(tr("Force"), "force"),
        tuple(curves),
        marks,
        tr(
            "The force grows from nothing to {force} at {speed}, faster than the straight line of "
            "thick oil in slow motion.",
            force=given.say(marks[1].y, "force"),
            speed=given.say(given.fast, "speed"),
        ),
    )


def working(given: Given, piston: Piston, warm: tuple[float, float]) -> tuple[Working, ...]:
    drop = damper.pressure(piston, given.fast, *warm)
    return (
        _oil_working(given, *warm),
        _flow_working(given, piston),
        _pressure_working(given, piston, drop),
        _force_working(given, piston, drop),
    )


def _oil_working(given: Given, viscosity: float, density: float) -> Working:
    say = given.say
    return Working(
        tr("oil at its temperature"),
        tr(
            "{oil} at 25 °C: {viscosity} and {density} at {temperature}, {dynamic}",
            oil=say(given.oil, "viscosity"),
            viscosity=say(viscosity, "viscosity"),
            density=say(density, "density"),
            temperature=say(within(given.warm), "temperature"),
            dynamic=say(viscosity * density, "dynamic"),
        ),
        tr(LAW_SOURCE),
    )


def _flow_working(given: Given, piston: Piston) -> Working:
    return Working(
        tr("flow = (bore area − shaft area) × speed, less what the wall carries through the gap"),
        tr(
            "{speed} drives {flow} in a second",
            speed=given.say(given.fast, "speed"),
            flow=given.say(damper.driven_flow(piston, given.fast), "volume"),
        ),
        tr("the oil keeps its volume"),
    )


def _pressure_working(given: Given, piston: Piston, drop: float) -> Working:
    return Working(
        tr("each hole: Δp = μ Q (3/a³ + 8 L/(π a⁴)) + 1.5 ρ u²/2"),
        tr(
            "rim: Q = π D h³ Δp (1 + 1.5 ε²)/(12 μ L), h = {gap}; all side by side under "
            "{pressure}",
            gap=given.say(piston.gap, "length", 3),
            pressure=given.say(drop, "pressure"),
        ),
        tr(
            "Dagan, Weinbaum and Pfeffer, J. Fluid Mech. 115 (1982); form of the law: Dixon, "
            "The Shock Absorber Handbook"
        ),
    )


def _force_working(given: Given, piston: Piston, drop: float) -> Working:
    return Working(
        tr("force = pressure difference × (bore area − shaft area)"),
        tr(
            "{pressure} on {area} = {force}",
            pressure=given.say(drop, "pressure"),
            area=f"{spelt(f'{piston.working_area * 1e6:.1f}')} mm²",
            force=given.say(drop * piston.working_area, "force"),
        ),
        tr("balance of forces"),
    )
