"""Properties of trapped gas and of the oil that fills a body."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate

from calc.physics.failure import Cause
from calc.physics.gas import ATMOSPHERE, GAMMA, Oil, TrappedGas, oil_volume

GASES = st.builds(
    TrappedGas,
    volume=st.floats(1e-8, 3e-6),
    closed_at=st.floats(0, 0.05),
    shaft=st.floats(2e-3, 6e-3),
    pressure=st.floats(5e4, 1.1e5),
)


@given(GASES, st.floats(0, 0.999))
def test_pressure_times_volume_stays(gas: TrappedGas, way: float) -> None:
    shaft_in = way * gas.locked_at
    product = gas.pressure_at(shaft_in) * gas.volume_at(shaft_in)
    assert product == pytest.approx(gas.pressure * gas.volume)


@given(GASES)
def test_rebound_begins_where_the_cap_was_closed(gas: TrappedGas) -> None:
    assert gas.force_at(gas.closed_at) == 0
    beyond = (gas.closed_at + gas.locked_at) / 2
    assert gas.force_at(beyond) > 0
    if gas.closed_at > 1e-6:
        assert gas.force_at(gas.closed_at / 2) < 0


@given(GASES, st.floats(0, 0.98))
def test_a_quick_stroke_is_the_stiffer(gas: TrappedGas, way: float) -> None:
    shaft_in = gas.closed_at + way * (gas.locked_at - gas.closed_at)
    assert gas.force_at(shaft_in, GAMMA) >= gas.force_at(shaft_in) >= 0


@given(GASES, st.floats(0, 50))
def test_friction_holds_the_shaft_where_the_gas_pushes_as_hard(
    gas: TrappedGas, friction: float
) -> None:
    rest = gas.rest_position(friction)
    assert gas.closed_at <= rest < gas.locked_at
    assert gas.force_at(rest) == pytest.approx(friction, rel=1e-6, abs=1e-9)


@given(GASES, st.floats(0.01, 0.9))
def test_the_work_of_the_stroke_is_that_of_an_isothermal(gas: TrappedGas, way: float) -> None:
    """Integral of p A dx against p0 V0 ln(V0/V), the textbook work of slow compression."""
    end = gas.closed_at + way * (gas.locked_at - gas.closed_at)
    work, _ = integrate.quad(lambda x: gas.pressure_at(x) * gas.area, gas.closed_at, end)
    textbook = gas.pressure * gas.volume * math.log(gas.volume / gas.volume_at(end))
    assert work == pytest.approx(textbook, rel=1e-6)


def test_without_room_for_the_shaft_it_locks() -> None:
    gas = TrappedGas(volume=0.1e-6, closed_at=0.01, shaft=3e-3)
    assert gas.locked_at == pytest.approx(0.01 + 0.1e-6 / (math.pi / 4 * 3e-3**2))
    for shaft_in in (gas.locked_at + 1e-9, 1.0):
        with pytest.raises(ValueError, match="locks"):
            gas.force_at(shaft_in)


@pytest.mark.parametrize("bad", [0.0, -1e-6, math.nan, math.inf])
def test_gas_that_cannot_be_is_refused(bad: float) -> None:
    for change in ({"volume": bad}, {"shaft": bad}, {"pressure": bad}):
        usual = {"volume": 1e-6, "closed_at": 0.0, "shaft": 3e-3, "pressure": ATMOSPHERE}
        with pytest.raises(ValueError, match="must be above 0"):
            TrappedGas(**(usual | change))


@pytest.mark.parametrize(("at", "warmer"), [(-1.0, 300.0), (295.0, -300.0)])
def test_nothing_is_colder_than_absolute_zero(at: float, warmer: float) -> None:
    shut = TrappedGas(0.5e-6, closed_at=0.01, shaft=3e-3)
    with pytest.raises(ValueError):
        shut.force_warmer(0.01, warmer, at, Oil(0.0, 0.0))


@given(st.floats(8e-3, 20e-3), st.floats(0.02, 0.1), st.floats(0, 1))
def test_the_shaft_pushes_its_own_volume_out(bore: float, length: float, way: float) -> None:
    full = oil_volume(bore, length, 3e-3, 0.0)
    assert full == pytest.approx(math.pi * bore**2 / 4 * length)
    pushed = math.pi * 3e-3**2 / 4 * way * length
    assert oil_volume(bore, length, 3e-3, way * length) == pytest.approx(full - pushed)
    assert oil_volume(bore, length, 3e-3, 0.0, solid=full / 4) == pytest.approx(0.75 * full)


@pytest.mark.parametrize(
    ("shaft", "shaft_in", "solid", "complaint"),
    [
        (12e-3, 0.01, 0.0, Cause.SHAFT_FILLS_BORE.name),
        (3e-3, 0.05, 0.0, Cause.SHAFT_THROUGH_BODY.name),
        (3e-3, 0.01, 1e-5, Cause.NO_ROOM_FOR_OIL.name),
        (3e-3, -0.01, 0.0, "must not be below 0"),
    ],
)
def test_a_body_without_room_for_oil_is_refused(
    shaft: float, shaft_in: float, solid: float, complaint: str
) -> None:
    with pytest.raises(ValueError, match=complaint):
        oil_volume(12e-3, 0.03, shaft, shaft_in, solid)
