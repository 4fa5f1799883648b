"""The load on the spring of one corner, as the scale under its wheel shows it. SI floats."""

from calc.physics.require import not_negative


def sprung_load(*, corner_load: float, unsprung: float = 0.0) -> float:
    """Load in N on the spring: the scale reading less the weight of wheel and arm."""
    not_negative(corner_load=corner_load, unsprung=unsprung)
    if unsprung > corner_load:
        raise ValueError("the wheel and arm must not weigh more than the whole corner")
    return corner_load - unsprung
