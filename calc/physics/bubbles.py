"""How fast bubbles leave oil. Diameters and heights in m, kinematic viscosity in m2/s, density in
kg/m3, speeds in m/s, pressures in Pa (absolute).

Two bounds: a bubble whose skin is held by traces in the oil rises like a solid ball (Stokes), a
perfectly clean one half as fast again (Hadamard and Rybczynski). Small bubbles in used oil are near
the slow bound. Both hold for a single bubble far from the wall, with a Reynolds number below
CREEPING.
"""

from __future__ import annotations

import math

from calc.physics.require import not_negative, positive
from calc.physics.ride import GRAVITY

CREEPING = 1.0
"""Reynolds number above which bubbles rise slower than these laws: near 10 % slower at 1."""
CLEAN = 1.5
"""How many times faster a clean bubble rises, its gas taken as without viscosity."""
AIR = 1.2
"""Density of air at 20 C and standard pressure, kg/m3."""


def slow_speed(
    diameter: float, viscosity: float, density: float, gas_density: float = AIR
) -> float:
    """Speed of rise as a solid ball: g d^2 (rho - rho_gas)/(18 mu) (Stokes 1851)."""
    positive(diameter=diameter, viscosity=viscosity, density=density)
    not_negative(gas_density=gas_density)
    if not gas_density < density:
        raise ValueError("A bubble rises only where the gas is lighter than the oil")
    return GRAVITY * diameter**2 * (1 - gas_density / density) / (18 * viscosity)


def fast_speed(
    diameter: float, viscosity: float, density: float, gas_density: float = AIR
) -> float:
    """Speed of rise of a clean bubble, 1.5 times the slow one (Hadamard, Rybczynski 1911)."""
    return CLEAN * slow_speed(diameter, viscosity, density, gas_density)


def rise_times(
    height: float, diameter: float, viscosity: float, density: float, gas_density: float = AIR
) -> tuple[float, float]:
    """Longest and shortest time, s, in which a bubble rises through the height."""
    positive(height=height)
    slow = slow_speed(diameter, viscosity, density, gas_density)
    return height / slow, height / (CLEAN * slow)


def cleared_diameter(
    height: float, time: float, viscosity: float, density: float, gas_density: float = AIR
) -> float:
    """Diameter, m, above which every bubble has left after the time (s), by the slow bound."""
    positive(height=height, time=time)
    return math.sqrt(height / time / slow_speed(1.0, viscosity, density, gas_density))


def reynolds(speed: float, diameter: float, viscosity: float) -> float:
    """Reynolds number of a bubble; the laws here hold below CREEPING."""
    positive(diameter=diameter, viscosity=viscosity)
    not_negative(speed=speed)
    return speed * diameter / viscosity


def diameter_factor(pressure: float, vacuum: float) -> float:
    """By how much a bubble grows from one pressure to a lower: (p1/p2)^(1/3), Boyle's law.

    For a pump that stops at `vacuum`; gas that comes out of solution is on top of it.
    """
    positive(pressure=pressure, vacuum=vacuum)
    return math.cbrt(pressure / vacuum)


def speed_factor(pressure: float, vacuum: float) -> float:
    """By how much faster it then rises: the square of diameter_factor."""
    return diameter_factor(pressure, vacuum) ** 2
