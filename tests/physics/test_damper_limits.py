"""The piston model at its ends, where a single textbook formula is left."""

import math

import pytest
from scipy import optimize

from calc.physics import damper, flow
from calc.physics.damper import Holes, Piston
from tests.physics.examples import DENSITY, PLAIN


def test_slow_and_without_leak_the_viscous_formula_stands() -> None:
    speed, viscosity = 1e-3, 350e-6
    radius, length, area = 0.6e-3, 2e-3, math.pi / 4 * (12e-3**2 - 3e-3**2)
    resistance = viscosity * DENSITY * (3 / radius**3 + 8 * length / (math.pi * radius**4)) / 3
    expected = resistance * area * speed * area
    assert damper.viscous_force(PLAIN, speed, viscosity, DENSITY) == pytest.approx(expected)
    assert damper.force(PLAIN, speed, viscosity, DENSITY) == pytest.approx(expected, rel=0.002)


def test_very_thick_oil_through_a_sharp_hole_creeps() -> None:
    plate = Piston((Holes(1, 2e-3),), thickness=1e-9, diameter=12e-3, bore=12e-3, shaft=3e-3)
    area, mu = math.pi / 4 * (12e-3**2 - 3e-3**2), 0.1 * DENSITY
    sampson = 3 * mu * area * 0.01 / 1e-3**3
    assert damper.pressure(plate, 0.01, 0.1, DENSITY) == pytest.approx(sampson, rel=1e-3)


def test_without_holes_only_the_rim_leaks() -> None:
    solid = Piston((), thickness=2e-3, diameter=11.9e-3, bore=12e-3, shaft=3e-3)
    speed, mu, gap, mean = 1e-4, 0.34, 50e-6, 11.95e-3
    driven = math.pi / 4 * (12e-3**2 - 3e-3**2) * speed - math.pi * mean * gap * speed / 2
    expected = 12 * mu * 2e-3 * driven / (math.pi * mean * gap**3)
    assert damper.pressure(solid, speed, mu / DENSITY, DENSITY) == pytest.approx(expected, rel=1e-3)
    assert damper.rim_share(solid, speed, mu / DENSITY, DENSITY) == pytest.approx(1)


def test_very_fast_only_the_jet_counts() -> None:
    speed, area = 1e4, math.pi / 4 * (12e-3**2 - 3e-3**2)
    jet = area * speed / (3 * math.pi / 4 * 1.2e-3**2)
    expected = 1.5 * DENSITY * jet**2 / 2 * area
    assert damper.force(PLAIN, speed, 20e-6, DENSITY) == pytest.approx(expected, rel=0.001)


def test_two_sizes_of_hole_against_scipy() -> None:
    """Mixed holes and a rim: the same balance handed to scipy's root finder."""
    piston = Piston((Holes(2, 1.4e-3), Holes(3, 0.9e-3)), 2e-3, 11.9e-3, 12e-3, 3e-3, 0.5)
    mu, speed = 350e-6 * DENSITY, 0.7
    ways = [flow.hole(1.4e-3, 2e-3, mu, DENSITY, 2), flow.hole(0.9e-3, 2e-3, mu, DENSITY, 3)]
    ways.append(flow.rim_gap(11.95e-3, 50e-6, 2e-3, 0.5, mu, DENSITY))

    def missing(drop: float) -> float:
        return sum(way.flow(drop) for way in ways) - damper.driven_flow(piston, speed)

    drop = optimize.brentq(missing, 0.0, 1e8, xtol=1e-6)
    assert damper.pressure(piston, speed, 350e-6, DENSITY) == pytest.approx(drop, rel=1e-10)
