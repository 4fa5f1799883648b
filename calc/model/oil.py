"""Damper oil where its laws are known."""

from calc.physics import oil


def within(temperature: float) -> float:
    """The temperature, or the end of the law's range that is nearest to it."""
    return min(max(temperature, oil.COLDEST), oil.HOTTEST)
