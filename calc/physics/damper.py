"""Piston and oil: the force of a damper against the speed of its shaft.

The shaft drives the oil through the holes of the piston and through the gap at its rim, side by
side under one pressure difference (flow.py has the law of each). Lengths in m, kinematic viscosity
in m2/s and density in kg/m3 at the temperature of the oil, speed in m/s, force in N. Speed and
force are magnitudes; the direction is an argument of its own. In compression the oil under the
piston is drawn by it and can go no lower than a vacuum: there the force ends (`behind`). Left out:
heat, the compliance of oil and bladder, seal friction, and the drag on the rim (near 1 % of the
force).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from calc.physics.failure import Cause, PhysicsError
from calc.physics.flow import Path, circle, hole, pressure_for, rim_gap
from calc.physics.require import not_negative, positive
from calc.physics.root import rising_root

Direction = Literal["compression", "rebound"]

THINNEST, THICKEST = 1e-7, 10.0
"""Range in which viscosity_for looks for an oil, m2/s: 0.1 cSt to 10 million cSt."""


@dataclass(frozen=True)
class Holes:
    """Like holes of a piston. one_way: the only direction in which they are open, or "both"."""

    count: int
    diameter: float
    one_way: Literal["both", "compression", "rebound"] = "both"

    def __post_init__(self) -> None:
        positive(count=self.count, diameter=self.diameter)


@dataclass(frozen=True)
class Piston:
    """A piston in its body. thickness: length of holes and rim; shaft: its diameter.

    A diameter equal to the bore: sealed rim. eccentricity: 0 centred, 1 touching the bore.
    Raises PhysicsError where the holes are larger than the piston.
    """

    holes: tuple[Holes, ...]
    thickness: float
    diameter: float
    bore: float
    shaft: float
    eccentricity: float = 0.0

    def __post_init__(self) -> None:
        positive(thickness=self.thickness)
        if not 0 <= self.shaft < self.diameter <= self.bore < math.inf:
            raise ValueError("The shaft is thinner than the piston, and the piston fits the bore")
        if not 0 <= self.eccentricity <= 1:
            raise ValueError("Eccentricity is from 0 (centred) to 1 (touching)")
        if not self.open_share < 1:
            raise PhysicsError(Cause.HOLES_EXCEED_PISTON)

    @property
    def open_share(self) -> float:
        """Area of all holes over that of the piston round its shaft, 0 to 1."""
        area = math.fsum(group.count * circle(group.diameter) for group in self.holes)
        return area / (circle(self.diameter) - circle(self.shaft))

    @property
    def room(self) -> float:
        """Width of the piston between shaft and rim, m: no hole can be as wide."""
        return (self.diameter - self.shaft) / 2

    @property
    def gap(self) -> float:
        """Clearance at the rim, all round when centred, m."""
        return (self.bore - self.diameter) / 2

    @property
    def mean_diameter(self) -> float:
        """Of the gap, m."""
        return (self.bore + self.diameter) / 2

    @property
    def working_area(self) -> float:
        """Bore less shaft, m2: it displaces the oil, and the pressure acts on it."""
        return circle(self.bore) - circle(self.shaft)


def _paths(piston: Piston, viscosity: float, density: float, direction: Direction) -> list[Path]:
    """Paths open to the oil in this direction: the groups of holes in order, the rim last."""
    positive(viscosity=viscosity, density=density)
    dynamic = viscosity * density
    paths = [
        hole(group.diameter, piston.thickness, dynamic, density, group.count)
        for group in piston.holes
        if group.one_way in ("both", direction)
    ]
    if piston.gap > 0:
        shape = (piston.mean_diameter, piston.gap, piston.thickness, piston.eccentricity)
        paths.append(rim_gap(*shape, dynamic, density))
    if not paths:
        raise ValueError(f"In {direction} the oil has no way past this piston")
    return paths


def driven_flow(piston: Piston, speed: float) -> float:
    """Flow that pressure has to drive past the piston, m3/s.

    Working area times speed, less the flow that the moving wall drags through the gap: half the
    speed over the area of the gap (plane Couette flow).
    """
    not_negative(speed=speed)
    return (piston.working_area - math.pi * piston.mean_diameter * piston.gap / 2) * speed


def pressure(
    piston: Piston,
    speed: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
) -> float:
    """Pressure difference across the piston, Pa."""
    return _pressure(piston, speed, viscosity, density, direction)


@lru_cache(maxsize=512)  # varying one input leaves most dampers of an answer as they are
def _pressure(
    piston: Piston, speed: float, viscosity: float, density: float, direction: Direction
) -> float:
    paths = _paths(piston, viscosity, density, direction)
    return pressure_for(driven_flow(piston, speed), paths)


def force(
    piston: Piston,
    speed: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
    behind: float = math.inf,
) -> float:
    """Damping force on the shaft, N: the pressure difference on the working area.

    behind: absolute pressure of the gas that the oil over the piston is under, Pa. In compression
    that is all the difference there can be, since the oil drawn from under the piston parts at next
    to no pressure (silicone oils hardly evaporate); no limit in rebound, which presses it.
    For sharp holes in laminar flow the laws behind it are good to some 10 %; rounded edges take
    less force at high speed.
    """
    drop = pressure(piston, speed, viscosity, density, direction)
    return (min(drop, behind) if direction == "compression" else drop) * piston.working_area


def speed_under(
    piston: Piston,
    force: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
) -> float:
    """Shaft speed, m/s, at which the damping force is `force`, N (above 0): `force` read the other
    way."""
    positive(force=force)
    paths = _paths(piston, viscosity, density, direction)
    passed = math.fsum(path.flow(force / piston.working_area) for path in paths)
    return passed / driven_flow(piston, 1.0)


def parting_speed(piston: Piston, viscosity: float, density: float, behind: float) -> float:
    """Shaft speed, m/s, from which the oil under the piston parts in compression; `behind` as in
    `force`."""
    positive(behind=behind)
    most = behind * piston.working_area
    return speed_under(piston, most, viscosity, density, "compression")


def viscous_force(
    piston: Piston,
    speed: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
) -> float:
    """Force that would be left without the inertia of the oil, N: in proportion to the speed."""
    paths = _paths(piston, viscosity, density, direction)
    conductance = math.fsum(path.conductance(0.0) for path in paths)
    return driven_flow(piston, speed) / conductance * piston.working_area


def damping_coefficient(
    piston: Piston,
    speed: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
    behind: float = math.inf,
) -> float:
    """Force over speed at that speed, N s/m; at speed 0 its limit for slow motion. `behind` as in
    `force`."""
    if speed == 0:
        return viscous_force(piston, 1.0, viscosity, density, direction)
    return force(piston, speed, viscosity, density, direction, behind) / speed


def rim_share(
    piston: Piston,
    speed: float,
    viscosity: float,
    density: float,
    direction: Direction = "compression",
) -> float:
    """Share (0 to 1) of the oil displaced by the piston that passes its rim; speed above 0."""
    positive(speed=speed)
    if piston.gap == 0:
        return 0.0
    drop = pressure(piston, speed, viscosity, density, direction)
    displaced = piston.working_area * speed
    driven = _paths(piston, viscosity, density, direction)[-1].flow(drop)
    return (driven + displaced - driven_flow(piston, speed)) / displaced


def crossover_speed(
    piston: Piston, viscosity: float, density: float, direction: Direction = "compression"
) -> float:
    """Speed at which the inertial part overtakes, m/s: the force is twice the viscous force.

    For one kind of path it is where C2 Q^2 = C1 Q; for several no closed form is known.
    """
    paths = _paths(piston, viscosity, density, direction)
    conductance = math.fsum(path.conductance(0.0) for path in paths)

    def flow(log_pressure: float) -> float:
        return math.fsum(path.flow(math.exp(log_pressure)) for path in paths)

    def excess(log_pressure: float) -> float:
        return math.log(math.exp(log_pressure) * conductance / flow(log_pressure) / 2)

    bounds = (math.log(pressure_for(driven_flow(piston, v), paths)) for v in (1e-9, 1e12))
    return flow(rising_root(excess, *bounds)) / driven_flow(piston, 1.0)


def viscosity_for(
    target: float,
    piston: Piston,
    speed: float,
    density: float,
    direction: Direction = "compression",
) -> float:
    """Kinematic viscosity, m2/s, that gives the force `target` (N) at the speed; relative 1e-9.

    Raises PhysicsError where the jet alone takes more force, or no oil is thick enough.
    """

    positive(force=target, speed=speed)
    drop, driven = target / piston.working_area, driven_flow(piston, speed)

    def excess(log_viscosity: float) -> float:
        # The pressure is known, so no root has to be found for it: too little passes too thick oil.
        paths = _paths(piston, math.exp(log_viscosity), density, direction)
        return math.log(driven / math.fsum(path.flow(drop) for path in paths))

    if excess(math.log(THINNEST)) > 0:
        raise PhysicsError(Cause.TOO_STIFF_WITH_ANY_OIL)
    if excess(math.log(THICKEST)) < 0:
        raise PhysicsError(Cause.TOO_SOFT_WITH_ANY_OIL)
    return math.exp(rising_root(excess, math.log(THINNEST), math.log(THICKEST)))
