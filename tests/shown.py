"""Numbers read back from what an answer shows."""

from fractions import Fraction

from calc.units import NBSP


def number(text: str) -> float:
    """A number as an answer writes it, "−1 1/4" and "−1.25" alike."""
    plain = text.replace("−", "-").replace(NBSP, " ")
    value = float(sum(Fraction(part) for part in plain.lstrip("-").split()))
    return -value if plain.startswith("-") else value


def half_a_digit(text: str) -> float:
    """How far the true value may be off what is shown."""
    return 0.5 * 10 ** -len(text.partition(".")[2]) if "/" not in text else 1e-9
