"""The root of a rising function between two bounds."""

from collections.abc import Callable


class NoRoot(ValueError):
    """The function does not change from below to above zero between the bounds."""


def rising_root(
    f: Callable[[float], float], low: float, high: float, tolerance: float = 1e-11
) -> float:
    """Where f, rising from below zero at `low` to above zero at `high`, crosses zero.

    The secant between the bounds, with the Illinois rule (the end that stays counts half next time)
    so that both bounds close in. tolerance: absolute, in the argument. Raises NoRoot where f does
    not cross zero between the bounds.
    """
    at_low, at_high = f(low), f(high)
    if not at_low <= 0 <= at_high:
        raise NoRoot(f"no root between {low:g} and {high:g}")
    if at_low == 0 or at_high == 0:
        return low if at_low == 0 else high
    stayed = 0
    while high - low > tolerance:
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        if not low < middle < high:
            break
        value = f(middle)
        if value == 0:
            return middle
        if value < 0:
            low, at_low = middle, value
            at_high *= 0.5 if stayed < 0 else 1.0
            stayed = -1
        else:
            high, at_high = middle, value
            at_low *= 0.5 if stayed > 0 else 1.0
            stayed = 1
    return low if abs(at_low) < abs(at_high) else high
