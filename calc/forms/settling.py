"""How ends of the car settle when they are let go off their height: the plot of it."""

from collections.abc import Sequence
from dataclasses import dataclass

from calc.answering.answer import Axis, Curve, Plot
from calc.answering.places import onward
from calc.language import tr
from calc.physics.ride import free_decay
from calc.replying.inputs import Inputs

BUMP = 10e-3  # m off its height
_SWINGS = 1.5  # of the slowest


@dataclass(frozen=True)
class Released:
    """An end let go: its name in the plot, damping ratio, ride frequency in Hz, style of line."""

    name: str
    ratio: float
    frequency: float
    style: str = "main"


def settling(asked: Inputs, title: str, ends: Sequence[Released], says: str) -> Plot:
    """All of them over the same time."""
    times = onward(_SWINGS / min(end.frequency for end in ends), "time", asked.system)
    curves = []
    for end in ends:
        line = tuple(
            (t, BUMP * free_decay(ratio=end.ratio, frequency=end.frequency, time=t)) for t in times
        )
        curves.append(Curve(end.name, line, end.style))
    axes = Axis(tr("Time", sense="that passes"), "time"), Axis(tr("Off its height"), "length")
    return Plot(title, *axes, tuple(curves), says=says)
