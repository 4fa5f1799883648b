"""Flow paths of oil from one chamber to another, and the pressure for a flow through several.

Each path loses pressure as dp = C1 Q + C2 Q^2: viscous and inertial (the form in J. C. Dixon, The
Shock Absorber Handbook). Lengths in m, dynamic viscosity in Pa s, density in kg/m3, flow in m3/s,
pressure in Pa.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

ENTRY_AND_EXIT = 1.5
"""Loss factor K of a sharp-edged path between two chambers: 0.5 for the entry, 1 for the exit."""


@dataclass(frozen=True)
class Path:
    """`count` equal paths, each losing viscous Q + inertial Q^2 (Pa s/m3 and Pa s2/m6)."""

    count: int
    viscous: float
    inertial: float

    def loss(self, flow: float) -> float:
        """Pressure that drives this flow through all of them together, Pa."""
        each = flow / self.count
        return (self.viscous + self.inertial * each) * each

    def flow(self, pressure: float) -> float:
        """Flow through all of them together, m3/s."""
        root = math.sqrt(self.viscous**2 + 4 * self.inertial * pressure)
        return self.count * 2 * pressure / (self.viscous + root)

    def conductance(self, pressure: float) -> float:
        """Slope of the flow over the pressure, m3/(s Pa)."""
        return self.count / math.sqrt(self.viscous**2 + 4 * self.inertial * pressure)


def circle(diameter: float) -> float:
    """Area of a circle, m2."""
    return math.pi / 4 * diameter**2


def hole(
    diameter: float, length: float, dynamic_viscosity: float, density: float, count: int = 1
) -> Path:
    """Sharp-edged holes: creeping flow at any length, plus the loss of the jet.

    Viscous: mu (3/a^3 + 8 L/(pi a^4)), within 1 % (Z. Dagan, S. Weinbaum, R. Pfeffer, J. Fluid
    Mech. 115, 1982, 505-523). Inertial: ENTRY_AND_EXIT rho u^2/2. Turbulent friction is left out.
    """
    radius = diameter / 2
    viscous = dynamic_viscosity * (3 / radius**3 + 8 * length / (math.pi * radius**4))
    return Path(count, viscous, ENTRY_AND_EXIT * density / 2 / circle(diameter) ** 2)


def rim_gap(
    mean_diameter: float,
    gap: float,
    length: float,
    eccentricity: float,
    dynamic_viscosity: float,
    density: float,
) -> Path:
    """The ring between a piston and its bore: Q = pi D h^3 dp (1 + 1.5 e^2)/(12 mu L).

    gap: all round when centred, well below the diameter; eccentricity: 0 centred, 1 touching. The
    jet is lost as behind a hole.
    """
    off_centre = 1 + 1.5 * eccentricity**2
    viscous = 12 * dynamic_viscosity * length / (math.pi * mean_diameter * gap**3 * off_centre)
    area = math.pi * mean_diameter * gap
    return Path(1, viscous, ENTRY_AND_EXIT * density / 2 / area**2)


def pressure_for(flow: float, paths: Sequence[Path]) -> float:
    """Pressure difference that drives a flow through paths in parallel, Pa."""
    # The widest path alone would need more than all together: an upper bound.
    high = min(path.loss(flow) for path in paths)
    # The sum of flows bends downward, so Newton's step from below never passes the root.
    pressure = 0.0
    for _ in range(100):
        roots = [math.sqrt(path.viscous**2 + 4 * path.inertial * pressure) for path in paths]
        flows = [
            path.count * 2 * pressure / (path.viscous + root)
            for path, root in zip(paths, roots, strict=True)
        ]
        conductance = math.fsum(path.count / root for path, root in zip(paths, roots, strict=True))
        following = pressure + (flow - math.fsum(flows)) / conductance
        if not pressure < following < high:
            break
        pressure = following
    return min(following, high)
