"""Trapped gas against textbook examples and the library `fluids`: see gas.toml."""

import math

import fluids
import pytest
from scipy import constants, optimize

from calc.physics import gas
from tests.reference.cases import UNITS, Case, load


@pytest.mark.parametrize("case", load("gas", "boyle"), ids=str)
def test_gas_squeezed_to_half_has_twice_the_pressure(case: Case) -> None:
    start, end = case.given["volume"], case.given["squeezed"]
    trapped = gas.TrappedGas(start, 0.0, shaft=10e-3, pressure=case.given["pressure"])
    travel = (start - end) / (math.pi / 4 * 10e-3**2)
    assert trapped.pressure_at(travel) == case.printed["pressure"]
    assert trapped.volume_at(travel) == pytest.approx(end)
    assert trapped.locked_at == pytest.approx(travel * start / (start - end))
    push = (case.printed["pressure"].expected - trapped.pressure) * math.pi / 4 * 10e-3**2
    assert trapped.force_at(travel) == pytest.approx(push)
    assert trapped.rest_position(push) == pytest.approx(travel)


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
    assert UNITS("1 atm").to("Pa").magnitude == pytest.approx(gas.ATMOSPHERE)


@pytest.mark.parametrize("case", load("gas", "altitude"), ids=str)
def test_how_much_less_it_is_higher_up(case: Case) -> None:
    """The docstring says about 12 % at 1000 m."""
    higher = fluids.ATMOSPHERE_1976(case.given["altitude"]).P / gas.ATMOSPHERE
    assert higher == case.printed["share"]
    assert 1 - higher == pytest.approx(0.12, abs=0.01)


@pytest.mark.parametrize("case", load("gas", "heated"), ids=str)
def test_gas_heated_in_its_room_has_the_pressure_of_the_example(case: Case) -> None:
    """No oil beside it, the shaft held where the cap was closed: Gay-Lussac's law."""
    at, warmer = case.given["at"], case.given["then"] - case.given["at"]
    shut = gas.TrappedGas(1e-6, 0.01, shaft=3e-3, pressure=case.given["pressure"])
    force = shut.force_warmer(0.01, warmer, at, gas.Oil(0.0, 0.0))
    assert shut.pressure + force / shut.area == case.printed["pressure"]


def test_heated_oil_beside_it_squeezes_it_as_a_balance_of_volumes_says() -> None:
    """Independent solution: pressure at which gas (molar gas law, R of `scipy`) and grown oil fill
    the room together, by a root finder."""
    shut = gas.TrappedGas(0.5e-6, 0.01, shaft=3e-3)
    moles = gas.ATMOSPHERE * shut.volume / (constants.R * 295.0)
    room = shut.volume + 3.3e-6 - shut.area * 0.004  # shaft 4 mm further in

    def over(pressure: float) -> float:
        return moles * constants.R * 325.0 / pressure + 3.3e-6 * (1 + 9.5e-4 * 30.0) - room

    pressure = optimize.brentq(over, 1e4, 1e7, xtol=1e-6)
    expected = (pressure - gas.ATMOSPHERE) * math.pi / 4 * 3e-3**2
    found = shut.force_warmer(0.014, 30.0, 295.0, gas.Oil(3.3e-6, 9.5e-4))
    assert found == pytest.approx(expected, rel=1e-9)


def test_oil_grows_as_a_measured_fluid_gets_lighter() -> None:
    """Density 1172.35 - 0.9025 T of a polydimethylsiloxane by Melinder 2010, with its expansion at
    25 C (oil.toml): over 30 K the even growth is 3 % behind that of the same mass."""
    (case,) = load("oil", "expansion")
    lighter = (1172.35 - 0.9025 * 298.15) / (1172.35 - 0.9025 * 328.15)
    grown = gas.Oil(3.3e-6, case.printed["expansion"].expected).grown(30.0)
    assert grown == pytest.approx(3.3e-6 * (lighter - 1), rel=0.035)
