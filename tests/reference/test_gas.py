"""Trapped gas against textbook examples and the library `fluids`: see gas.toml."""

import math

import fluids
import pint
import pytest
from scipy import constants

from calc.physics import gas
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("gas", "boyle"), ids=str)
def test_gas_squeezed_to_half_has_twice_the_pressure(case: Case) -> None:
    start, end = case.given["volume"], case.given["squeezed"]
    trapped = gas.TrappedGas(start, 0.0, shaft=10e-3, pressure=case.given["pressure"])
    travel = (start - end) / (math.pi / 4 * 10e-3**2)
    assert trapped.pressure_at(travel) == case.printed["pressure"]


def test_quick_squeezing_heats_as_the_library_says() -> None:
    """Pressure by ours, temperature by `fluids`: the gas law p V/T has to balance."""
    trapped = gas.TrappedGas(0.5e-6, 0.0, shaft=3e-3)
    squeezed = trapped.pressure_at(0.03, exponent=gas.GAMMA)
    warmer = fluids.isentropic_T_rise_compression(
        T1=298.15, P1=gas.ATMOSPHERE, P2=squeezed, k=gas.GAMMA
    )
    before = gas.ATMOSPHERE * trapped.volume / 298.15
    assert squeezed * trapped.volume_at(0.03) / warmer == pytest.approx(before, rel=1e-9)


def test_the_standard_atmosphere() -> None:
    assert constants.atm == gas.ATMOSPHERE
    assert pint.UnitRegistry()("1 atm").to("Pa").magnitude == pytest.approx(gas.ATMOSPHERE)


@pytest.mark.parametrize("case", load("gas", "altitude"), ids=str)
def test_how_much_less_it_is_higher_up(case: Case) -> None:
    """The docstring says about 12 % at 1000 m."""
    higher = fluids.ATMOSPHERE_1976(case.given["altitude"]).P / gas.ATMOSPHERE
    assert higher == case.printed["share"]
    assert 1 - higher == pytest.approx(0.12, abs=0.01)
