"""The gas over the oil, and the speed from which the oil under the piston parts."""

from collections.abc import Iterator

from calc.answering.answer import Caution
from calc.forms.piston_oil.inputs import Asked
from calc.language import tr
from calc.units import decimals_for

_UNKNOWN = 0.1
"""Relative, standard uncertainty: what a closing point a third of the stroke off does to the
pressure at either end of it in dampers of a usual size."""


def with_gas(asked: Asked) -> Asked:
    """With the doubt of the pressure where it is not known what gas was shut in, and when."""
    shut_in = asked.shut_in
    known = None not in (shut_in.gas, shut_in.closed_at, shut_in.stroke)
    return asked.assuming((Asked.stroke_of_gas, 1.0, 0.0 if known else _UNKNOWN))


def parting(asked: Asked, speed: float, u: float) -> Iterator[Caution]:
    """Where the oil parts at a speed that is asked about."""
    if speed < asked.fast:
        text = tr(
            "From {speed} up the oil under the piston tears (cavitates) in compression: "
            "the force stops growing, and the rebound after it starts slack. More pressure "
            "in the cap, larger holes or thinner oil raise that speed.",
            speed=asked.say(speed, "speed", decimals_for(u, "speed", asked.system)),
        )
        yield Caution(text)
