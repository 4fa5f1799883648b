"""The scale readings with another load in the car."""

import math
from collections.abc import Sequence

from calc.forms.whole_car.inputs import Asked, ScaleRow
from calc.language import tr
from calc.physics.chassis import Point, shares
from calc.physics.linear import solve
from calc.replying.inputs import Problem


def new_masses(
    asked: Asked, was: Sequence[float], places: Sequence[Point], least: Sequence[float]
) -> tuple[float, ...]:
    """The four scale readings, kg, with the new load and the cross weight as it was.

    places: the wheels, (ahead of the rear axle, left of the middle) in m; least: what rests on each
    without the car. Raises Problem where a wheel would carry nothing.
    """
    known = asked.load_known == "mass"
    if known:
        masses, added = was, asked.added
        extra = (asked.along * added, asked.across * added)
    else:
        masses, added, extra = [row.load for row in asked.scales], 0.0, (0.0, 0.0)
    total = math.fsum(masses) + added
    moments = [
        sum(mass * place[way] for mass, place in zip(masses, places, strict=True)) + extra[way]
        for way in (0, 1)
    ]
    rows = [[1.0] * 4, [x for x, _ in places], [y for _, y in places], [1.0, 0.0, 0.0, 1.0]]
    made = solve(rows, [total, *moments, shares(was).cross * total])
    if any(mass <= low for mass, low in zip(made, least, strict=True)):
        entry = asked.at(Asked.added) if known else asked.scales[0].at(ScaleRow.load)
        raise Problem(
            entry,
            tr(
                "{entry}: with this load a wheel would carry nothing; check it.",
                entry=asked.labels[entry],
            ),
        )
    return tuple(made)
