"""The force of a damper as a table, a plot and its working."""

from collections.abc import Sequence

from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.answering.places import between
from calc.forms.oil_warm import LAW_SOURCE
from calc.forms.piston import FLOW_SOURCE, direction_word, oil_at
from calc.forms.piston_oil.inputs import Asked
from calc.language import tr
from calc.model.damper import DIRECTIONS, directions
from calc.model.oil import clamp
from calc.physics import damper
from calc.physics.damper import Direction, Piston
from calc.units import spelt

_SPEEDS = (1e-3, 2e-3, 5e-3, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0)  # m/s, of the table


def table(asked: Asked, piston: Piston, warm: tuple[float, float]) -> Table:
    ways, behind = _ways_to(asked, piston, warm, _SPEEDS[-1]), asked.behind()
    rows = []
    for speed in _SPEEDS:
        forces = [damper.force(piston, speed, *warm, way, behind) for way in ways]
        rows.append(
            (
                asked.bare(speed, "speed"),
                *(asked.bare(force, "force") for force in forces),
                *(asked.bare(force / speed, "damping") for force in forces),
                asked.bare(damper.rim_share(piston, speed, *warm, ways[0]), "share", 1),
            )
        )
    return Table(tr("Force and damping against shaft speed"), _heads(asked, ways), tuple(rows))


def _ways_to(
    asked: Asked, piston: Piston, warm: tuple[float, float], speed: float
) -> tuple[Direction, ...]:
    """The directions that differ up to a speed."""
    parts = damper.parting_speed(piston, *warm, asked.behind())
    return DIRECTIONS if speed > parts else directions(piston)


def _heads(asked: Asked, ways: tuple[Direction, ...]) -> tuple[str, ...]:
    """The units tell forces from damping: six columns have to fit a phone."""
    force, damping = asked.symbol("force"), asked.symbol("damping")
    of_each = [tr("Force {unit}", unit=force), tr("Damping {unit}", unit=damping)]
    if len(ways) > 1:
        of_each = [
            tr("Comp. {unit}", unit=unit) if way == "compression" else tr("Reb. {unit}", unit=unit)
            for unit in (force, damping)
            for way in ways
        ]
    return (asked.symbol("speed"), *of_each, tr("Past the edge %"))


def plot(
    asked: Asked, piston: Piston, warm: tuple[float, float], ways: tuple[Direction, ...]
) -> Plot:
    speeds = between(0.0, asked.fast, "speed", asked.system)[1:]
    behind = asked.behind()
    parts = damper.parting_speed(piston, *warm, behind)

    def _with_bend(speeds: Sequence[float], way: Direction) -> list[float]:
        bends = way == "compression" and parts < asked.fast
        return sorted({*speeds, parts}) if bends else list(speeds)

    curves = [
        Curve(
            tr("each way") if len(ways) == 1 else direction_word(way),
            (
                (0.0, 0.0),
                *(
                    (v, damper.force(piston, v, *warm, way, behind))
                    for v in _with_bend(speeds, way)
                ),
            ),
            style,
        )
        for way, style in zip(ways, ("main", "second"), strict=False)
    ]
    viscous = damper.viscous_force(piston, asked.fast, *warm, ways[-1])
    straight = ((0.0, 0.0), (asked.fast, viscous))
    curves.append(Curve(tr("without the square part"), straight, "limit"))
    marks = tuple(
        Mark(speed, damper.force(piston, speed, *warm, ways[-1], behind), name)
        for name, speed in ((tr("slow"), asked.slow), (tr("fast"), asked.fast))
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
            force=asked.say(marks[1].y, "force"),
            speed=asked.say(asked.fast, "speed"),
        ),
    )


def working(asked: Asked, piston: Piston, warm: tuple[float, float]) -> tuple[Working, ...]:
    drop = damper.pressure(piston, asked.fast, *warm)
    return (
        _oil_working(asked, *oil_at(asked, asked.oil)),
        _flow_working(asked, piston),
        _pressure_working(asked, piston, drop),
        _force_working(asked, piston, drop),
    )


def _oil_working(asked: Asked, viscosity: float, density: float) -> Working:
    say = asked.say
    return Working(
        tr("oil at its temperature"),
        tr(
            "{oil} at 25 °C: {viscosity} and {density} at {temperature}, {dynamic}",
            oil=say(asked.oil, "viscosity"),
            viscosity=say(viscosity, "viscosity"),
            density=say(density, "density"),
            temperature=say(clamp(asked.warm), "temperature"),
            dynamic=say(viscosity * density, "dynamic"),
        ),
        tr(LAW_SOURCE),
    )


def _flow_working(asked: Asked, piston: Piston) -> Working:
    return Working(
        tr("flow = (bore area − shaft area) × speed, less what the wall carries through the gap"),
        tr(
            "{speed} drives {flow} in a second",
            speed=asked.say(asked.fast, "speed"),
            flow=asked.say(damper.driven_flow(piston, asked.fast), "volume"),
        ),
        tr("the oil keeps its volume"),
    )


def _pressure_working(asked: Asked, piston: Piston, drop: float) -> Working:
    return Working(
        tr("each hole: Δp = μ Q (3/a³ + 8 L/(π a⁴)) + 1.5 ρ u²/2"),
        tr(
            "piston edge: Q = π D h³ Δp (1 + 1.5 ε²)/(12 μ L), h = {gap}; all side by side "
            "under {pressure}",
            gap=asked.say(piston.gap, "length", 3),
            pressure=asked.say(drop, "pressure"),
        ),
        tr(FLOW_SOURCE),
    )


def _force_working(asked: Asked, piston: Piston, drop: float) -> Working:
    return Working(
        tr("force = pressure difference × (bore area − shaft area)"),
        tr(
            "{pressure} on {area} = {force}",
            pressure=asked.say(drop, "pressure"),
            area=f"{spelt(f'{piston.working_area * 1e6:.1f}')} mm²",
            force=asked.say(drop * piston.working_area, "force"),
        ),
        tr("balance of forces"),
    )
