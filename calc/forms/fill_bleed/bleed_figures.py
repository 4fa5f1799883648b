"""Bleed: how long bubbles take, and which are gone after a while."""

import math

from calc.forms.fill_bleed.inputs import Asked
from calc.forms.piston import oil_at
from calc.physics import bubbles
from calc.replying.figures import Figures, figure


class BleedFigures(Figures):
    longest: float = figure("Time at room pressure, used oil", kind="wait")
    shortest: float = figure("Time at room pressure, clean oil", kind="wait")
    pump_longest: float | None = figure("Time under vacuum, used oil", kind="wait")
    pump_shortest: float | None = figure("Time under vacuum, clean bubble", kind="wait")
    faster: float | None = figure("Under vacuum bubbles rise faster by a factor of", kind="ratio")
    gone: float | None = figure("Bubbles larger than this are then gone", kind="length")


def figures(asked: Asked) -> BleedFigures:
    longest, shortest = bubbles.rise_times(asked.height, asked.bubble, *oil_at(asked, asked.oil))
    pumped, factor = asked.pump is not None, faster(asked)
    gone = None
    if asked.patience is not None:
        size = bubbles.cleared_diameter(asked.height, asked.patience, *oil_at(asked, asked.oil))
        gone = size / math.sqrt(factor)
    return BleedFigures(
        longest=longest,
        shortest=shortest,
        pump_longest=longest / factor if pumped else None,
        pump_shortest=shortest / factor if pumped else None,
        faster=factor if pumped else None,
        gone=gone,
    )


def faster(asked: Asked) -> float:
    """How many times faster bubbles rise under the pump; 1 without one."""
    return 1.0 if asked.pump is None else bubbles.speed_factor(asked.room, asked.pump)
