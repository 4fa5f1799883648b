"""Bubbles against textbook laws and the library `fluids`: see bubbles.toml."""

import fluids
import pytest
from scipy import constants

from calc.physics import bubbles
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("bubbles", "slow speed"), ids=str)
def test_the_slow_bound_is_stokes(case: Case) -> None:
    assert bubbles.slow_speed(**case.given) == case.printed["speed"]


@pytest.mark.parametrize("diameter", [0.1e-3, 0.5e-3, 1e-3])
@pytest.mark.parametrize("viscosity", [100e-6, 1000e-6])
def test_the_slow_bound_in_the_library(diameter: float, viscosity: float) -> None:
    theirs = fluids.v_terminal(
        D=diameter, rhop=bubbles.AIR, rho=970.0, mu=viscosity * 970.0, Method="Stokes"
    )
    assert bubbles.slow_speed(diameter, viscosity, 970.0) == pytest.approx(abs(theirs), rel=1e-9)


@pytest.mark.parametrize("speed", [1e-4, 3e-3, 0.1])
def test_the_reynolds_number_is_that_of_the_library(speed: float) -> None:
    theirs = fluids.Reynolds(V=speed, D=0.5e-3, nu=350e-6)
    assert bubbles.reynolds(speed, 0.5e-3, 350e-6) == pytest.approx(theirs, rel=1e-12)


def test_the_fast_bound_is_the_law_for_a_fluid_ball() -> None:
    """v = (2/3)(g r^2 drho/mu)(mu + mu')/(2 mu + 3 mu'): Hadamard 1911, Rybczynski 1911, printed in
    Clift, Grace, Weber, Bubbles, Drops and Particles (from memory); mu' of air 1.8e-5 Pa s."""
    radius, mu, gas = 0.25e-3, 350e-6 * 970, 1.8e-5
    drive = 2 / 3 * constants.g * radius**2 * (970 - bubbles.AIR) / mu
    law = drive * (mu + gas) / (2 * mu + 3 * gas)
    assert bubbles.fast_speed(2 * radius, 350e-6, 970) == pytest.approx(law, rel=1e-4)


def test_at_the_limit_the_drag_is_a_tenth_above_stokes() -> None:
    """Drag of a ball at Reynolds number 1, by the library's correlation, over Stokes' 24/Re."""
    excess = fluids.drag_sphere(bubbles.CREEPING) / (24 / bubbles.CREEPING) - 1
    assert excess == pytest.approx(0.10, abs=0.02)


def test_density_of_air_is_that_of_an_ideal_gas() -> None:
    molar_mass = 0.0289647  # kg/mol, dry air, US Standard Atmosphere 1976 (from memory)
    ideal = constants.atm * molar_mass / (constants.R * 293.15)
    assert pytest.approx(ideal, abs=0.05) == bubbles.AIR
