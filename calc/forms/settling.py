"""How ends of the car settle when they are let go off their height: the plot of it, and the word
about dampers too stiff for it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from calc.answering.answer import Axis, Caution, Curve, Plot
from calc.answering.places import onward
from calc.forms.names import end_label
from calc.language import tr
from calc.model.corners import End
from calc.model.damper import Damped
from calc.physics.ride import free_decay
from calc.replying.inputs import Inputs

BUMP = 10e-3  # m off ride height
_SWINGS = 1.5  # of the slowest
_RINGS = 0.5
"""A damping ratio below which a swing is worth a word (common practice, no source)."""


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
    axes = Axis(tr("Time", sense="that passes"), "time"), Axis(tr("Off ride height"), "length")
    return Plot(title, *axes, tuple(curves), says=says)


def on_tyres(asked: Inputs, ends: Iterable[tuple[End, Damped, float]]) -> Iterator[Caution]:
    """Ends whose dampers are so stiff with their oil (m2/s at 25 C) that the car bounces on its
    tyres."""
    for end, damped, grade in ends:
        ratio = damped.ratio_on_tyre(grade)
        if ratio < _RINGS:
            yield Caution(
                tr(
                    "{end}: so stiff a damper holds the spring still, and the car bounces on its "
                    "tyres instead, with a damping ratio of {ratio}. Thicker oil only lowers that.",
                    end=end_label(end),
                    ratio=asked.say(ratio, "ratio", 2),
                )
            )
