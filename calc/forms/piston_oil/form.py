"""Piston and oil: the force of a damper against the speed of its shaft, and the oil for another."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Step
from calc.answering.uncertainty import Doubted
from calc.asking.entry import Choice, Number, only
from calc.forms.cautions import spill
from calc.forms.common.bottles import amount_field, bottle_rows
from calc.forms.common.oil_warm import law_doubt, oil_cautions
from calc.forms.common.piston import (
    DIRECTIONS,
    DOUBTS,
    direction_word,
    directions,
    oil_at,
    other_piston_fields,
    piston_cautions,
    piston_fields,
    piston_from,
)
from calc.forms.fields import AXLE
from calc.forms.inputs import with_inputs
from calc.forms.piston_oil import match as piston_match
from calc.forms.piston_oil.pictures import plot, table, working
from calc.language import later, tr
from calc.physics import damper
from calc.physics.damper import Piston
from calc.replying.form import Form, Given, Problem, from_car
from calc.units import decimals_for

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
    "slow_force": (later("Force at the slow speed"), "force"),
    "fast_force": (later("Force at the fast speed"), "force"),
    "slow_damping": (later("Damping coefficient in slow motion"), "damping"),
    "overtakes": (later("Speed at which the inertial part overtakes"), "speed"),
    "rim_share": (later("Share of the oil that passes the rim, slow"), "share"),
}


def label_of(name: str) -> tuple[str, str]:
    """Label and kind of a figure; the direction stands behind its name."""
    for direction in DIRECTIONS:
        if name.endswith(direction):
            says, kind = _LABELS[name.removesuffix(f"_{direction}")]
            way = direction_word(direction)
            return tr("{figure}, {direction}", figure=tr(says), direction=way), kind
    says, kind = _LABELS[name]
    return tr(says), kind


def solve(given: Given) -> Answer:
    if given.slow >= given.fast:
        raise Problem("fast", tr("Fast shaft speed: it has to be faster than the slow one."))
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
        tables=(table(given, piston, warm),),
        plots=(plot(given, piston, warm),),
        cautions=(
            *oil_cautions(given, [given.oil], [given.warm]),
            *piston_cautions(given, piston, warm, given.fast),
            spill(),
        ),
        working=working(given, piston, warm),
    )


def _ends(piston: Piston) -> list[tuple[str, str]]:
    """(end of a figure's name, what it says) of each direction that has figures of its own."""
    ways = directions(piston)
    if len(ways) == 1:
        return [("", tr("Each way"))]
    return [(f"_{way}", tr(_HEADS[way])) for way in ways]


_HEADS = {"compression": later("Compression"), "rebound": later("Rebound")}


def _says(given: Given, doubted: Mapping[str, Doubted], end: str, way: str) -> Step:
    def rough(name: str) -> str:
        figure, kind = doubted[name + end], _LABELS[name][1]
        return given.say(figure.value, kind, decimals_for(figure.u, kind, given.system))

    return Step(
        tr(
            "{way}: {slow_force} at {slow}, {fast_force} at {fast}.",
            way=way,
            slow_force=rough("slow_force"),
            slow=given.say(given.slow, "speed"),
            fast_force=rough("fast_force"),
            fast=given.say(given.fast, "speed"),
        ),
        tr(
            "The part that grows with the square of the speed overtakes at {speed}; {share} of "
            "the oil passes the rim.",
            speed=rough("overtakes"),
            share=rough("rim_share"),
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
