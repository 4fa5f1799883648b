"""Air mixed into the oil of a damper: its force with it, and how far it gives before it holds."""

from collections.abc import Iterator

from calc.answering.answer import Caution, Step, Table, Working
from calc.forms.piston import oil_at
from calc.forms.piston_oil.inputs import Asked
from calc.language import later, tr
from calc.physics import damper, emulsion
from calc.physics.damper import Piston
from calc.replying.figures import Figures, figure

_SHARES = (0.0, 0.02, 0.05, 0.1, 0.15, 0.2, 0.3)  # of the table
_CHANGES = later(
    "The share of air is never the same: it rises while the car runs and falls "
    "while it stands. Pump both shafts about twenty times before you compare two "
    "dampers, then time both at once."
)


class AirFigures(Figures):
    """What the air adds to the force of piston and oil; rebound presses it together."""

    stiffness: float = figure("Rate of the air under the piston", kind="rate")
    slow_way: float = figure("Rebound travel before it damps, slow", kind="length")
    fast_way: float = figure("Rebound travel before it damps, fast", kind="length")
    even: float = figure("More spring than damper above", kind="frequency")


def mixed(asked: Asked) -> bool:
    return asked.task == "force" and asked.air == "mixed"


def mix_at(asked: Asked) -> tuple[float, float]:
    """Kinematic viscosity, m2/s, and density, kg/m3, of what is in the damper, warm as it is: the
    oil, with its air where that is mixed in."""
    viscosity, density = oil_at(asked, asked.oil)
    if not mixed(asked):
        return viscosity, density
    share = _share(asked)
    thinnest, thickest = emulsion.viscosity_bounds(share)
    drawn_out = min(max(asked.drawn_out, 0.0), 1.0)
    dynamic = viscosity * density * thinnest**drawn_out * thickest ** (1 - drawn_out)
    with_air = emulsion.density(share, density)
    return dynamic / with_air, with_air


def _share(asked: Asked) -> float:
    """Of the air; a doubt leads no further than the law goes."""
    return min(max(asked.air_share, 0.0), emulsion.MOST_AIR)


def _rate(asked: Asked, piston: Piston, share: float) -> float:
    """Of so much air in the oil under the piston, N/m."""
    modulus = emulsion.bulk_modulus(share, asked.behind())
    return emulsion.stiffness(modulus, piston.working_area, asked.column)


def figures(asked: Asked) -> AirFigures:
    piston, warm = asked.made(), mix_at(asked)
    share, behind = _share(asked), asked.behind()
    rate = _rate(asked, piston, share)
    damping = damper.damping_coefficient(piston, 0.0, *warm, "rebound") * asked.piston_law

    def way(speed: float) -> float:
        rise = damper.pressure(piston, speed, *warm, "rebound") * asked.piston_law
        return emulsion.given_way(share, behind, rise, asked.column)

    return AirFigures(
        stiffness=rate,
        slow_way=way(asked.slow),
        fast_way=way(asked.fast),
        even=emulsion.even_frequency(rate, damping),
    )


def step(asked: Asked, found: AirFigures, u: AirFigures) -> Step:
    return Step(
        tr(
            "Air in the oil: in rebound the shaft moves {slow_way} at {slow}, {fast_way} at "
            "{fast}, before the damper takes hold.",
            slow_way=asked.rough(found.slow_way, "length", u.slow_way),
            slow=asked.say(asked.slow, "speed"),
            fast_way=asked.rough(found.fast_way, "length", u.fast_way),
            fast=asked.say(asked.fast, "speed"),
        ),
        tr(
            "Above {even} cycles a second the damper is more an air spring than a damper. Bleed "
            "it, or put the trapped air under more pressure, and that limit rises.",
            even=asked.rough(found.even, "ratio", u.even),
        ),
    )


def cautions(asked: Asked) -> Iterator[Caution]:
    if mixed(asked):
        yield Caution(tr(_CHANGES))


def table(asked: Asked, piston: Piston) -> Table:
    """What other shares would do, between both bounds of the viscosity."""
    viscosity, density = oil_at(asked, asked.oil)
    behind, rows = asked.behind(), []
    for share in sorted({*_SHARES, asked.air_share}):
        mix = emulsion.density(share, density)
        ends = [
            damper.force(piston, asked.fast, viscosity * density * factor / mix, mix, "rebound")
            for factor in emulsion.viscosity_bounds(share)
        ]
        rise = sum(ends) / 2 / piston.working_area
        rows.append(
            (
                asked.bare(share, "share", 0),
                *(asked.bare(end, "force") for end in ends),
                asked.bare(emulsion.given_way(share, behind, rise, asked.column), "length"),
                asked.bare(_rate(asked, piston, share), "rate", 1) if share else "–",
            )
        )
    force = asked.symbol("force")
    heads = (
        tr("Air %"),
        tr("Bubbles drawn out {unit}", unit=force),
        tr("Bubbles round {unit}", unit=force),
        tr("Gives {unit}", unit=asked.symbol("length")),
        tr("Rate {unit}", unit=asked.symbol("rate")),
    )
    title = tr("Rebound at {speed} by the share of air", speed=asked.say(asked.fast, "speed"))
    return Table(title, heads, tuple(rows))


def working(asked: Asked) -> Iterator[Working]:
    if not mixed(asked):
        return
    share = _share(asked)
    thinnest, thickest = emulsion.viscosity_bounds(share)
    yield Working(
        tr("viscosity with air: between × (1 − share)^(5/3) and × 1/(1 − share)"),
        tr(
            "{share} of air: {thinnest} to {thickest} times as thick",
            share=asked.say(share, "share", 0),
            thinnest=asked.say(thinnest, "ratio", 2),
            thickest=asked.say(thickest, "ratio", 2),
        ),
        tr(
            "Llewellin and Manga 2005, bubbles drawn out by the flow and bubbles that stay round; "
            "to first order as measured by Murai and Oiwa 2008"
        ),
    )
    yield Working(
        tr("1/K = (1 − share)/K of oil + share/p; rate = K × piston area / oil under the piston"),
        tr(
            "p = {pressure}, {column} of oil: {rate}",
            pressure=asked.say(asked.behind(), "pressure"),
            column=asked.say(asked.column, "length"),
            rate=asked.say(_rate(asked, asked.made(), share), "rate"),
        ),
        tr("Merritt, Hydraulic Control Systems; air by Boyle's law"),
    )
