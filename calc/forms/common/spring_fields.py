"""Fields of a spring that has no place of its own in the car record."""

from calc.asking.entry import Number, When
from calc.model.car import SOLID_LENGTH

RATE = (100.0, 5e3), (5.0, 2e5)  # usual and possible, N/m
FREE = (20e-3, 120e-3), (5e-3, 0.5)  # m
SOLID = (5e-3, 60e-3), (1e-3, 0.4)  # m


def spring_fields(
    start: str, of: str, values: tuple[float, float, float], when: When
) -> tuple[Number, ...]:
    """Rate, free and solid length; their names begin with `start`, their labels with `of`."""
    rate, free, solid = values
    return (
        Number(
            f"{of} rate", "rate", *RATE, "From the label, or with a scale and a ruler.",
            name=f"{start}_rate", start=rate, relative=0.03, when=when,
        ),
        Number(
            f"{of} free length", "length", *FREE, "Off the car, with nothing on it.",
            name=f"{start}_free", start=free, tool="ruler", when=when,
        ),
        Number(
            f"{of} solid length", "length", *SOLID,
            SOLID_LENGTH, name=f"{start}_solid", start=solid, tool="ruler", when=when,
        ),
    )  # fmt: skip
