"""The checks that physics functions share: a value that cannot exist stops here."""

import math


def positive(**values: float) -> None:
    """Raise ValueError, naming the argument, unless every value is finite and above zero."""
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0.0):
            raise ValueError(f"{name.replace('_', ' ')} must be above 0, not {value:g}")


def not_negative(**values: float) -> None:
    """Raise ValueError, naming the argument, unless every value is finite and at least zero."""
    for name, value in values.items():
        if not (math.isfinite(value) and value >= 0.0):
            raise ValueError(f"{name.replace('_', ' ')} must not be below 0, not {value:g}")


def finite(**values: float) -> None:
    """Raise ValueError, naming the argument, unless every value is a finite number."""
    for name, value in values.items():
        if not math.isfinite(value):
            raise ValueError(f"{name.replace('_', ' ')} must be a number, not {value:g}")
