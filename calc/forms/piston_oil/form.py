"""Piston and oil: the force of a damper against the speed of its shaft, and the oil for another."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from calc.answering.answer import Answer, Step
from calc.answering.uncertainty import smaller
from calc.forms.cautions import spill
from calc.forms.gas import parting, with_gas
from calc.forms.oil_warm import oil_cautions, with_law
from calc.forms.piston import direction_word, piston_cautions
from calc.forms.piston_oil import air
from calc.forms.piston_oil import match as piston_match
from calc.forms.piston_oil.inputs import Asked
from calc.forms.piston_oil.pictures import plot, table, working
from calc.language import later, tr
from calc.model.damper import DIRECTIONS, directions
from calc.physics import damper
from calc.physics.damper import Direction
from calc.replying.figures import Figures, Propagated, by_key, figure
from calc.replying.form import Form
from calc.replying.inputs import Problem


class WayFigures(Figures):
    """In one direction, or in both where they do not differ."""

    slow_force: float = figure("Force at the slow speed", kind="force")
    fast_force: float | None = figure("Force at the fast speed", kind="force", default=None)
    slow_damping: float = figure("Damping coefficient in slow motion", kind="damping")
    overtakes: float = figure("Speed above which pack is the larger share", kind="speed")
    rim_share: float = figure(
        "Share of the oil that leaks past the piston edge, slow", kind="share"
    )


class FastFigures(Figures):
    """Where the directions differ only in that the oil parts in one of them."""

    fast_force: float = figure("Force at the fast speed", kind="force")


def _in_direction(way: Direction | Literal[""], label: str) -> str:
    if not way:
        return label
    return tr("{figure}, {direction}", figure=label, direction=direction_word(way))


class ForceFigures(Figures):
    ways: Mapping[Direction | Literal[""], WayFigures] = by_key(_in_direction, key_last=True)
    fast: Mapping[Direction, FastFigures] = by_key(_in_direction, key_last=True)
    parts: float = figure("Speed at which the oil cavitates in compression", kind="speed")
    most: float = figure("Greatest force in compression", kind="force")
    in_oil: Mapping[Literal["mixed"], air.AirFigures] = by_key(lambda _, label: label)


def parts(asked: Asked, speed: float) -> bool:
    """Whether the oil parts in compression below a speed."""
    warm = air.mix_at(asked)
    return speed > damper.parting_speed(asked.made(), *warm, asked.behind())


def ways_of(asked: Asked) -> tuple[Direction, ...]:
    """The directions that differ at all speeds asked about."""
    return DIRECTIONS if parts(asked, asked.slow) else directions(asked.made())


def figures(
    asked: Asked, ways: tuple[Direction, ...], parted: bool, capped: bool = True
) -> ForceFigures:
    """`ways` are listed apart; `parted`: the oil parts at the fast speed; `capped`: that ends the
    force."""
    piston, law, behind = asked.made(), asked.piston_law, asked.behind()
    most = behind * piston.working_area
    warm = air.mix_at(asked)

    def force(speed: float, way: Direction) -> float:
        made = law * damper.force(piston, speed, *warm, way)
        return min(made, most) if capped and way == "compression" else made

    apart = parted and len(ways) == 1
    return ForceFigures(
        fast={way: FastFigures(fast_force=force(asked.fast, way)) for way in DIRECTIONS}
        if apart
        else {},
        # The law says how hard the holes are to pass: a tenth harder, and it parts sooner.
        parts=damper.parting_speed(piston, *warm, behind / law),
        most=most,
        in_oil={"mixed": air.figures(asked)} if air.mixed(asked) else {},
        ways={
            way if len(ways) > 1 else "": WayFigures(
                slow_force=force(asked.slow, way),
                fast_force=None if apart else force(asked.fast, way),
                slow_damping=law * damper.damping_coefficient(piston, 0, *warm, way),
                overtakes=damper.crossover_speed(piston, *warm, way),
                rim_share=damper.rim_share(piston, asked.slow, *warm, way),
            )
            for way in ways
        },
    )


def solve(asked: Asked) -> Answer:
    if asked.slow >= asked.fast:
        raise Problem(Asked.fast, tr("Fast shaft speed: it has to be faster than the slow one."))
    asked = with_law(with_gas(asked, asked.shut_in))
    if asked.task == "match":
        return piston_match.solve(asked)
    piston, warm = asked.made(), air.mix_at(asked)
    ways, parted = ways_of(asked), parts(asked, asked.fast)
    found = asked.propagate(lambda shifted: figures(shifted, ways, parted))
    if asked.fast > found.value.parts * _NEAR:
        free = asked.propagate(lambda shifted: figures(shifted, ways, parted, capped=False))
        found = _smaller(found, free)
    return Answer(
        steps=(
            *(_says(asked, way, found) for way in found.value.ways),
            *(air.step(asked, one, found.u.in_oil[key]) for key, one in found.value.in_oil.items()),
        ),
        quantities=asked.quantities(found),
        tables=(
            table(asked, piston, warm),
            *((air.table(asked, piston),) if air.mixed(asked) else ()),
        ),
        plots=(plot(asked, piston, warm, DIRECTIONS if parted else ways),),
        cautions=(
            *oil_cautions(asked, [asked.oil], [asked.warm]),
            *parting(asked, asked.fast, found.value.parts, found.u.parts),
            *piston_cautions(asked, piston, warm, asked.fast),
            *air.cautions(asked),
            spill(),
        ),
        working=(*working(asked, piston, warm), *air.working(asked)),
    )


_NEAR = 0.5
"""Share of the speed from which the oil parts, below which no doubt reaches as far."""
_IN_COMPRESSION = [f"{at}_force{way}" for at in ("slow", "fast") for way in ("", "_compression")]


def _smaller(
    found: Propagated[ForceFigures], free: Propagated[ForceFigures]
) -> Propagated[ForceFigures]:
    """In compression the force is the smaller of two, each with its doubt: `free` is that of an oil
    which never parts."""
    most = found.uncertain["most"]
    doubts = {
        name: smaller(free.uncertain[name], most)
        for name in _IN_COMPRESSION
        if name in found.uncertain
    }
    return replace(found, uncertain={**found.uncertain, **doubts})


_HEADS = {
    "": later("Each way"),
    "compression": later("In compression"),
    "rebound": later("In rebound"),
}


def _says(asked: Asked, way: Direction | Literal[""], of: Propagated[ForceFigures]) -> Step:
    found, u = of.value.ways[way], of.u.ways[way]
    forces = {
        "way": tr(_HEADS[way]),
        "slow_force": asked.rough(found.slow_force, "force", u.slow_force),
        "slow": asked.say(asked.slow, "speed"),
        "fast": asked.say(asked.fast, "speed"),
    }
    if found.fast_force is None or u.fast_force is None:
        fast = {
            key: asked.rough(one.fast_force, "force", of.u.fast[key].fast_force)
            for key, one in of.value.fast.items()
        }
        text = tr(
            "{way}: {slow_force} at {slow}; at {fast} {compression} in compression, {rebound} in "
            "rebound.",
            **forces,
            **fast,
        )
    else:
        text = tr(
            "{way}: {slow_force} at {slow}, {fast_force} at {fast}.",
            fast_force=asked.rough(found.fast_force, "force", u.fast_force),
            **forces,
        )
    return Step(
        text,
        tr(
            "Above {speed}, pack (the part that grows with the square of the speed) is the "
            "larger share; {share} of the oil leaks past the piston edge.",
            speed=asked.rough(found.overtakes, "speed", u.overtakes),
            share=asked.rough(found.rim_share, "share", u.rim_share),
        ),
    )


FORM = Form(
    slug="piston-oil",
    title="Piston and oil",
    moment="bench",
    asks="How hard does the damper resist at slow and at fast speed, and which oil suits another "
    "piston?",
    inputs=Asked,
    solve=solve,
    first=("oil", "warm"),
)
