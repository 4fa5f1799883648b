"""What a hand can do: rounding to the step of a tool, and the words for turning a collar."""

from calc.car import LEFT_HAND
from calc.units import turns_text


def to_step(value: float, step: float) -> float:
    """The multiple of `step` nearest to the value; halves go away from zero, as a hand counts."""
    whole = int(abs(value) / step + 0.5 + 1e-9)
    return (whole if value >= 0 else -whole) * step


def turn_words(turns: float, thread_hand: str) -> str:
    """ "1 1/4 turns down (clockwise seen from the cap end)"; turns > 0 move the collar down."""
    if turns == 0:
        return "no turn"
    clockwise = (turns > 0) != (thread_hand == LEFT_HAND)
    way = "clockwise" if clockwise else "anticlockwise"
    return f"{turns_text(abs(turns))} {'down' if turns > 0 else 'up'} ({way} seen from the cap end)"
