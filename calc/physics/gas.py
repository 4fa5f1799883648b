"""Oil and trapped gas in a closed damper: lengths in m, volumes in m3, absolute pressures in Pa,
forces in N.

The shaft takes up room as it goes in: `shaft_in` is how far it stands in the body, 0 fully out.
Oil and body are taken as rigid and only the gas gives: p V^n stays the same, with n = 1 for a slow
stroke (Boyle) and at most GAMMA for one so quick that the gas keeps its heat.
"""

import math
from dataclasses import dataclass

from calc.physics.failure import Cause, PhysicsError
from calc.physics.require import not_negative, positive

ATMOSPHERE = 101325.0
"""Standard atmosphere, Pa (ISO 2533); about 12 % less at 1000 m above the sea."""
GAMMA = 1.4
"""Exponent of air that exchanges no heat."""


def oil_volume(
    bore: float, length: float, shaft: float, shaft_in: float, solid: float = 0
) -> float:
    """Oil that fills a body of this inside length with the shaft so far in, m3.

    solid: volume of piston, spacers and clips inside. Raises PhysicsError where no room is left.
    """
    positive(bore=bore, length=length)
    not_negative(shaft=shaft, shaft_in=shaft_in, solid=solid)
    if shaft >= bore:
        raise PhysicsError(Cause.SHAFT_FILLS_BORE)
    if shaft_in > length:
        raise PhysicsError(Cause.SHAFT_THROUGH_BODY)
    volume = math.pi / 4 * (bore**2 * length - shaft**2 * shaft_in) - solid
    if not volume > 0:
        raise PhysicsError(Cause.NO_ROOM_FOR_OIL)
    return volume


@dataclass(frozen=True)
class Oil:
    """Oil beside the gas: its volume, m3, and by what share of it it grows for each K."""

    volume: float
    expansion: float

    def __post_init__(self) -> None:
        not_negative(volume=self.volume, expansion=self.expansion)

    def grown(self, warmer: float) -> float:
        """By how much it has grown, m3, once it is so many K warmer."""
        return self.volume * self.expansion * warmer


@dataclass(frozen=True)
class TrappedGas:
    """Gas in a damper, shut in when the cap was closed.

    volume: of the gas at that moment (air left over the oil, or behind a bladder); closed_at: how
    far in the shaft then stood; shaft: its diameter; pressure: of the room, inside and outside.
    """

    volume: float
    closed_at: float
    shaft: float
    pressure: float = ATMOSPHERE

    def __post_init__(self) -> None:
        positive(gas_volume=self.volume, shaft=self.shaft, pressure=self.pressure)
        not_negative(closed_at=self.closed_at)

    @property
    def area(self) -> float:
        """Cross-section of the shaft, m2."""
        return math.pi / 4 * self.shaft**2

    @property
    def locked_at(self) -> float:
        """How far in the shaft stands when no gas is left, m: oil cannot be pressed together."""
        return self.closed_at + self.volume / self.area

    def volume_at(self, shaft_in: float) -> float:
        """Volume of the gas, m3. Raises ValueError from locked_at on, where no gas is left."""
        not_negative(shaft_in=shaft_in)
        volume = self.volume - self.area * (shaft_in - self.closed_at)
        if not volume > 0:
            raise ValueError(f"The shaft locks at {self.locked_at:.4g} m: the gas is used up")
        return volume

    def pressure_at(self, shaft_in: float, exponent: float = 1.0) -> float:
        """Pressure of the gas, Pa: p V^n as when the cap was closed. exponent: 1 slow to GAMMA."""
        return self.pressure * math.pow(self.volume / self.volume_at(shaft_in), exponent)

    def force_at(self, shaft_in: float, exponent: float = 1.0) -> float:
        """Force on the shaft, N: (p - p0) A. Above zero it pushes out (rebound), below it draws in.

        It begins where the shaft stood when the cap was closed.
        """
        return (self.pressure_at(shaft_in, exponent) - self.pressure) * self.area

    def force_warmer(self, shaft_in: float, warmer: float, at: float, oil: Oil) -> float:
        """Force on the shaft, N, once gas and oil are `warmer`, K, than `at`, K, when the cap was
        closed.

        The gas keeps p V/T (ideal gas); the oil beside it grows into its room, body and shaft do
        not. Raises ValueError where that leaves none.
        """
        positive(temperature=at, then=at + warmer)
        volume = self.volume_at(shaft_in) - oil.grown(warmer)
        if not volume > 0:
            raise ValueError("The oil has grown until the gas is used up")
        pressure = self.pressure * self.volume / volume * (at + warmer) / at
        return (pressure - self.pressure) * self.area

    def rest_position(self, friction: float) -> float:
        """How far in the shaft still stands when the gas has pushed it out against friction, m.

        friction: of the seal, N. Slow motion (Boyle).
        """
        not_negative(friction=friction)
        extra = friction / self.area
        return self.closed_at + self.volume / self.area * extra / (self.pressure + extra)
