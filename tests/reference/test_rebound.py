"""The shaft pushed out by gas: time constants of a textbook, and the motion itself by `scipy`."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate

from calc.physics import damper, rebound
from calc.physics.damper import Holes, Piston
from calc.physics.gas import ATMOSPHERE, TrappedGas
from tests.reference.cases import Case, load

PISTON = Piston((Holes(3, 1.2e-3),), 2.5e-3, 11.9e-3, 12e-3, 3e-3)
OIL = (400e-6, 970.0)
AREA = math.pi / 4 * 3e-3**2


@pytest.mark.parametrize("case", load("rebound", "first order"), ids=str)
def test_a_small_push_fades_with_the_time_constant_of_damper_and_gas(case: Case) -> None:
    """Over a hundredth of a millimetre the gas is a straight spring, p A^2/V, and slow oil a
    straight damper."""
    gas = TrappedGas(0.5e-6, 10e-3, 3e-3)
    constant = damper.viscous_force(PISTON, 1.0, *OIL) / (ATMOSPHERE * AREA**2 / 0.5e-6)
    for share in (case.printed["share"].expected - 5e-4, case.printed["share"].expected + 5e-4):
        ends = rebound.time_out(gas, PISTON, *OIL, 10e-3 + 1e-5, share=share) / constant
        assert ends == pytest.approx(case.given["constants"], rel=0.03)


@settings(max_examples=25, deadline=None)
@given(st.floats(100e-6, 2000e-6), st.floats(0.3e-6, 2e-6), st.floats(0, 0.9), st.floats(0.3, 0.95))
def test_the_motion_with_its_mass_takes_as_long(
    viscosity: float, volume: float, held: float, share: float
) -> None:
    """Newton's law for a shaft of 3 g under Boyle's gas, friction and the piston, stepped by
    `scipy.integrate.solve_ivp` (LSODA), from rest 22 mm in."""
    gas = TrappedGas(volume, 10e-3, 3e-3)
    friction = held * gas.force_at(22e-3)
    rest = gas.rest_position(friction)
    goal = rest + (1 - share) * (22e-3 - rest)

    def moves(_: float, state: list[float]) -> list[float]:
        at, speed = state
        push = ATMOSPHERE * (volume / (volume - AREA * (at - 10e-3)) - 1) * AREA
        drag = damper.force(PISTON, max(speed, 0.0), viscosity, 970.0, "rebound")
        return [-speed, (push - friction - drag) / 3e-3]

    def there(_: float, state: list[float]) -> float:
        return float(state[0] - goal)

    there.terminal = True  # type: ignore[attr-defined]
    said = rebound.time_out(gas, PISTON, viscosity, 970.0, 22e-3, friction=friction, share=share)
    run = integrate.solve_ivp(
        moves, (0, 2 * said + 1), [22e-3, 0.0], "LSODA", events=there, rtol=1e-8, atol=1e-12
    )
    assert said == pytest.approx(float(run.t_events[0][0]), rel=2e-3)


def test_with_a_straight_damper_it_is_the_integral_by_hand() -> None:
    """dV/dt = p0 A^2 (V0 - V)/(c V) from Va to Vb: c/(p0 A^2) (V0 ln((V0 - Va)/(V0 - Vb)) + Va -
    Vb), the gas of 0.5 mL squeezed by 12 mm of a 3 mm shaft; oil so thick that the jet is
    nothing."""
    gas, thick = TrappedGas(0.5e-6, 10e-3, 3e-3), (10000e-6, 970.0)
    squeezed = AREA * 12e-3
    coefficient = damper.viscous_force(PISTON, 1.0, *thick)
    by_hand = coefficient / (ATMOSPHERE * AREA**2) * (0.5e-6 * math.log(10) - 0.9 * squeezed)
    assert rebound.time_out(gas, PISTON, *thick, 22e-3) == pytest.approx(by_hand, rel=1e-3)


def test_friction_is_read_where_it_left_the_shaft() -> None:
    gas = TrappedGas(0.5e-6, 10e-3, 3e-3)
    for friction in (0.0, 0.05, 0.2):
        rest = gas.rest_position(friction)
        assert rebound.friction_from(gas, rest) == pytest.approx(friction, abs=1e-12)
    with pytest.raises(ValueError, match="further out"):
        rebound.friction_from(gas, 9e-3)


@pytest.mark.parametrize("case", load("gas", "boyle"), ids=str)
def test_friction_holds_what_the_printed_gas_pushes(case: Case) -> None:
    """Squeezed as in the example, the gas pushes with the pressure that it has more than before."""
    given = case.given
    gas = TrappedGas(given["volume"], 0.0, 3e-3, given["pressure"])
    rest = (given["volume"] - given["squeezed"]) / AREA
    more = case.printed["pressure"].expected - given["pressure"]
    assert rebound.friction_from(gas, rest) == pytest.approx(more * AREA, rel=1e-9)


def test_a_shaft_that_friction_holds_does_not_move() -> None:
    gas = TrappedGas(0.5e-6, 10e-3, 3e-3)
    assert rebound.time_out(gas, PISTON, *OIL, 22e-3, friction=10.0) == 0
    assert rebound.time_out(gas, PISTON, *OIL, 10e-3) == 0
    with pytest.raises(ValueError, match="below 1"):
        rebound.time_out(gas, PISTON, *OIL, 22e-3, share=1.0)
