"""What a hand can do: rounding to the step of a tool, and the words for turning a collar."""

from calc.car import LEFT_HAND
from calc.units import turns_text


def to_step(value: float, step: float) -> float:
    """The multiple of `step` nearest to the value; halves go away from zero, as a hand counts."""
    whole = int(abs(value) / step + 0.5 + 1e-9)
    return (whole if value >= 0 else -whole) * step


def turn_words(turns: float) -> str:
    """ "1 1/4 turns down"; turns > 0 move the collar down, towards the cup."""
    return f"{turns_text(abs(turns))} {'down' if turns > 0 else 'up'}" if turns else "no turn"


def way_words(turns: float, thread_hand: str) -> str:
    """Which way that is: "Clockwise, seen from the cap end."; nothing for no turn."""
    if turns == 0:
        return ""
    clockwise = (turns > 0) != (thread_hand == LEFT_HAND)
    return f"{'Clockwise' if clockwise else 'Anticlockwise'}, seen from the cap end."
