"""Numbers read back from what an answer shows, and its parts put together."""

from fractions import Fraction

from calc.units import NBSP
from site_src.pages import tree


def number(text: str) -> float:
    """A number as an answer writes it, "−1 1/4" and "−1.25" alike."""
    plain = text.replace("−", "-").replace(NBSP, " ")
    value = float(sum(Fraction(part) for part in plain.lstrip("-").split()))
    return -value if plain.startswith("-") else value


def half_a_digit(text: str) -> float:
    """How far the true value may be off what is shown."""
    return 0.5 * 10 ** -len(text.partition(".")[2]) if "/" not in text else 1e-9


def whole(words: str, doubts: str, figures: str) -> str:
    """The panel of an answer once its parts have come, as the page puts them into their places."""
    panel = tree.read(words)
    for place in panel.iter("div"):
        if place.get("class") == "doubted coming":
            place.set("class", "doubted")
            place.children = [doubts]
        elif place.get("class") == "figures":
            place.children = [figures]
    return str(panel)
