"""Piston and oil: the force of a damper against the speed of its shaft, and the oil for another."""

from collections.abc import Mapping
from typing import Literal

from calc.answering.answer import Answer, Step
from calc.forms.cautions import spill
from calc.forms.oil_warm import oil_cautions, with_law
from calc.forms.piston import direction_word, oil_at, piston_cautions
from calc.forms.piston_oil import match as piston_match
from calc.forms.piston_oil.inputs import Asked
from calc.forms.piston_oil.pictures import plot, table, working
from calc.language import later, tr
from calc.model.damper import directions
from calc.physics import damper
from calc.physics.damper import Direction
from calc.replying.figures import Figures, by_key, figure
from calc.replying.form import Form
from calc.replying.inputs import Problem
from calc.units import decimals_for


class WayFigures(Figures):
    """In one direction, or in both where they do not differ."""

    slow_force: float = figure("Force at the slow speed", kind="force")
    fast_force: float = figure("Force at the fast speed", kind="force")
    slow_damping: float = figure("Damping coefficient in slow motion", kind="damping")
    overtakes: float = figure("Speed above which pack is the larger share", kind="speed")
    rim_share: float = figure(
        "Share of the oil that leaks past the piston edge, slow", kind="share"
    )


def _in_direction(way: Direction | Literal[""], label: str) -> str:
    if not way:
        return label
    return tr("{figure}, {direction}", figure=label, direction=direction_word(way))


class ForceFigures(Figures):
    ways: Mapping[Direction | Literal[""], WayFigures] = by_key(_in_direction, key_last=True)


def figures(asked: Asked) -> ForceFigures:
    piston, law = asked.made(), asked.piston_law
    warm = oil_at(asked, asked.oil)
    ways = directions(piston)
    return ForceFigures(
        ways={
            way if len(ways) > 1 else "": WayFigures(
                slow_force=law * damper.force(piston, asked.slow, *warm, way),
                fast_force=law * damper.force(piston, asked.fast, *warm, way),
                slow_damping=law * damper.damping_coefficient(piston, 0, *warm, way),
                overtakes=damper.crossover_speed(piston, *warm, way),
                rim_share=damper.rim_share(piston, asked.slow, *warm, way),
            )
            for way in ways
        }
    )


def solve(asked: Asked) -> Answer:
    if asked.slow >= asked.fast:
        raise Problem(Asked.fast, tr("Fast shaft speed: it has to be faster than the slow one."))
    asked = with_law(asked)
    if asked.task == "match":
        return piston_match.solve(asked)
    piston, warm = asked.made(), oil_at(asked, asked.oil)
    found = asked.propagate(figures)
    u = found.u.ways
    return Answer(
        steps=tuple(_says(asked, way, one, u[way]) for way, one in found.value.ways.items()),
        quantities=asked.quantities(found),
        tables=(table(asked, piston, warm),),
        plots=(plot(asked, piston, warm),),
        cautions=(
            *oil_cautions(asked, [asked.oil], [asked.warm]),
            *piston_cautions(asked, piston, warm, asked.fast),
            spill(),
        ),
        working=working(asked, piston, warm),
    )


_HEADS = {
    "": later("Each way"),
    "compression": later("Compression"),
    "rebound": later("Rebound"),
}


def _says(asked: Asked, way: str, found: WayFigures, u: WayFigures) -> Step:
    def rough(value: float, kind: str, uncertainty: float) -> str:
        return asked.say(value, kind, decimals_for(uncertainty, kind, asked.system))

    return Step(
        tr(
            "{way}: {slow_force} at {slow}, {fast_force} at {fast}.",
            way=tr(_HEADS[way]),
            slow_force=rough(found.slow_force, "force", u.slow_force),
            slow=asked.say(asked.slow, "speed"),
            fast_force=rough(found.fast_force, "force", u.fast_force),
            fast=asked.say(asked.fast, "speed"),
        ),
        tr(
            "Above {speed} pack (the part that grows with the square of the speed) is the "
            "larger share; {share} of the oil leaks past the piston edge.",
            speed=rough(found.overtakes, "speed", u.overtakes),
            share=rough(found.rim_share, "share", u.rim_share),
        ),
    )


FORM = Form(
    slug="piston-oil",
    title="Piston and oil",
    moment="bench",
    asks="How hard does the damper hold at slow and at fast speed, and which oil suits another "
    "piston?",
    inputs=Asked,
    solve=solve,
    first=("oil", "warm"),
)
