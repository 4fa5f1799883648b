"""How long the shaft of a closed damper takes to come out by itself.

Gas pushes, the oil passes the piston and the seal drags: p A = damping force + friction at every
place, since the mass of the shaft is next to nothing. Lengths in m, forces in N, kinematic
viscosity in m2/s and density in kg/m3 at the temperature of the oil, times in s.
"""

import math

from calc.physics import damper
from calc.physics.damper import Piston
from calc.physics.gas import TrappedGas
from calc.physics.require import not_negative, positive

_STEPS = 24  # of Simpson's rule, even; the integrand is nearly level


def time_out(
    gas: TrappedGas,
    piston: Piston,
    viscosity: float,
    density: float,
    start: float,
    *,
    friction: float = 0.0,
    share: float = 0.9,
) -> float:
    """Time from `start` (how far in the shaft is let go) over a share of the way to its rest, s.

    The whole way would take for ever, since the push beyond friction fades as the shaft nears its
    rest. share: above 0 and below 1. The time is 0 where the shaft starts at its rest or further
    out. Slow motion: the gas keeps its temperature (Boyle). ValueError where no gas is left at the
    start.
    """
    positive(start=start, share=share)
    if not share < 1:
        raise ValueError("share must be below 1: the rest is reached only in the end")
    rest = gas.rest_position(friction)
    way = start - rest
    if way <= 0:
        return 0.0
    # With the way still to go as way exp(-u) the integrand does not grow where the push fades.
    last = -math.log(1 - share)

    def integrand(u: float) -> float:
        to_go = way * math.exp(-u)
        push = gas.force_at(rest + to_go) - friction
        return to_go / damper.speed_under(piston, push, viscosity, density, "rebound")

    values = [integrand(last * n / _STEPS) for n in range(_STEPS + 1)]
    inner = 4 * math.fsum(values[1:-1:2]) + 2 * math.fsum(values[2:-1:2])
    return last / _STEPS / 3 * (values[0] + inner + values[-1])


def friction_from(gas: TrappedGas, rest: float) -> float:
    """Friction of seal and piston, N, from where the gas left the shaft: it pushed as hard there.

    rest: how far in the shaft still stood, m, at closed_at or deeper; else ValueError.
    """
    not_negative(rest=rest)
    if rest < gas.closed_at:
        raise ValueError("The gas does not push the shaft further out than where it was shut in")
    return gas.force_at(rest)
