"""Piston and oil: the force of a damper against the speed of its shaft.

The shaft drives the oil through the holes of the piston and through the gap at its rim, side by side
under one pressure difference. Each path loses pressure as dp = C1 Q + C2 Q^2: viscous and inertial
(the form in J. C. Dixon, The Shock Absorber Handbook). Lengths in m, kinematic viscosity in m2/s and
density in kg/m3 at the temperature of the oil, speed in m/s, pressure in Pa, force in N; speeds,
flows and forces are sizes, the direction is said apart. Left out: heat, the elastic give of oil and
bladder, seal friction, the drag on the rim (near 1 % of the force).
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Direction = Literal["compression", "rebound"]

ENTRY_AND_EXIT = 1.5
"""Loss factor K of a sharp-edged hole between two chambers: 0.5 for the entry, 1 for the exit."""
THINNEST, THICKEST = 1e-7, 10.0
"""Range in which viscosity_for looks for an oil, m2/s: 0.1 cSt to 10 million cSt."""


@dataclass(frozen=True)
class Holes:
    """Like holes of a piston. one_way: the only direction in which they are open, or "both"."""

    count: int
    diameter: float
    one_way: Literal["both", "compression", "rebound"] = "both"

    def __post_init__(self) -> None:
        if self.count < 1 or not self.diameter > 0:
            raise ValueError("Holes: one or more, of a diameter above zero")


@dataclass(frozen=True)
class Piston:
    """A piston in its body. thickness: length of holes and rim; shaft: its diameter.

    diameter equal to bore: sealed rim. eccentricity: 0 centred, 1 touching the bore.
    """

    holes: tuple[Holes, ...]
    thickness: float
    diameter: float
    bore: float
    shaft: float
    eccentricity: float = 0.0

    def __post_init__(self) -> None:
        if not (self.thickness > 0 and math.isfinite(self.thickness)):
            raise ValueError("The piston needs a thickness above zero")
        if not 0 <= self.shaft < self.diameter <= self.bore < math.inf:
            raise ValueError("The shaft is thinner than the piston, the piston fits in the bore")
        if not 0 <= self.eccentricity <= 1:
            raise ValueError("Eccentricity is from 0 (centred) to 1 (touching)")
        open_area = sum(group.count * _circle(group.diameter) for group in self.holes)
        if not open_area < _circle(self.diameter) - _circle(self.shaft):
            raise ValueError("The holes together are larger than the piston")

    @property
    def gap(self) -> float:
        """Clearance at the rim all round when centred, m."""
        return (self.bore - self.diameter) / 2

    @property
    def swept_area(self) -> float:
        """Area that drives oil through the piston and that its pressure acts on, m2."""
        return _circle(self.bore) - _circle(self.shaft)


@dataclass(frozen=True)
class Path:
    """`count` like ways for the oil, each losing viscous Q + inertial Q^2 (Pa s/m3, Pa s2/m6)."""

    count: int
    viscous: float
    inertial: float

    def flow(self, pressure: float) -> float:
        """Flow through all of them together, m3/s."""
        root = math.sqrt(self.viscous**2 + 4 * self.inertial * pressure)
        return self.count * 2 * pressure / (self.viscous + root)

    def ease(self, pressure: float) -> float:
        """Growth of the flow with the pressure, m3/(s Pa)."""
        return self.count / math.sqrt(self.viscous**2 + 4 * self.inertial * pressure)


def _circle(diameter: float) -> float:
    return math.pi / 4 * diameter**2


def hole(diameter: float, length: float, viscosity: float, density: float, count: int = 1) -> Path:
    """A sharp-edged hole: creeping flow at any length, plus the loss of the jet.

    Viscous: mu (3/a^3 + 8 L/(pi a^4)), within 1 % (Z. Dagan, S. Weinbaum, R. Pfeffer, J. Fluid Mech.
    115, 1982, 505-523). Inertial: ENTRY_AND_EXIT rho u^2/2. Turbulent friction is left out.
    """
    radius = diameter / 2
    viscous = viscosity * density * (3 / radius**3 + 8 * length / (math.pi * radius**4))
    return Path(count, viscous, ENTRY_AND_EXIT * density / 2 / _circle(diameter) ** 2)


def rim(piston: Piston, viscosity: float, density: float) -> Path:
    """The gap at the rim of a piston that stands: Q = pi D h^3 dp (1 + 1.5 e^2)/(12 mu L).

    D is the mean diameter; textbook form for h much below D. The jet is lost as behind a hole.
    """
    mean = (piston.bore + piston.diameter) / 2
    off_centre = 1 + 1.5 * piston.eccentricity**2
    per_pressure = math.pi * mean * piston.gap**3 * off_centre / (12 * piston.thickness)
    area = math.pi * mean * piston.gap
    return Path(1, viscosity * density / per_pressure, ENTRY_AND_EXIT * density / 2 / area**2)


def paths(piston: Piston, viscosity: float, density: float, direction: Direction) -> list[Path]:
    """Ways open to the oil in this direction, the rim last. ValueError where there is none."""
    for name, value in (("viscosity", viscosity), ("density", density)):
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"The {name} of an oil is above zero, not {value}")
    ways = [
        hole(group.diameter, piston.thickness, viscosity, density, group.count)
        for group in piston.holes
        if group.one_way in ("both", direction)
    ]
    if piston.gap > 0:
        ways.append(rim(piston, viscosity, density))
    if not ways:
        raise ValueError(f"In {direction} the oil has no way past this piston")
    return ways


def pressure_at(ways: list[Path], flow: float) -> float:
    """Pressure difference that drives a flow through ways side by side, Pa."""
    if flow == 0:
        return 0.0
    shares = [flow / way.count for way in ways]
    # The easiest way alone would need more than all together: nothing lies above it.
    high = min(w.viscous * q + w.inertial * q * q for w, q in zip(ways, shares, strict=True))
    # The sum of flows bends downward, so Newton's step from below never passes the root.
    pressure = 0.0
    for _ in range(100):
        missing = flow - sum(way.flow(pressure) for way in ways)
        following = pressure + missing / sum(way.ease(pressure) for way in ways)
        if not pressure < following < high:
            break
        pressure = following
    return min(following, high)


def _driven_flow(piston: Piston, speed: float) -> float:
    """Flow that pressure has to drive: the wall, moving past the rim, carries some along unasked.

    Plane Couette flow: half the speed over the area of the gap.
    """
    if not (math.isfinite(speed) and speed >= 0):
        raise ValueError(f"A speed is zero or more, not {speed}; the direction is said apart")
    carried = math.pi * (piston.bore + piston.diameter) / 2 * piston.gap / 2
    return (piston.swept_area - carried) * speed


def pressure(
    piston: Piston,
    speed: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
) -> float:
    """Pressure difference across the piston at a speed of the shaft, Pa."""
    ways = paths(piston, viscosity, density, direction)
    return pressure_at(ways, _driven_flow(piston, speed))


def force(
    piston: Piston,
    speed: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
) -> float:
    """Damping force on the shaft, N: the pressure difference on bore area less shaft area.

    The laws behind it carry some 10 %, more near crossover_speed; a bent hole edge carries more.
    """
    return pressure(piston, speed, viscosity, density, direction) * piston.swept_area
