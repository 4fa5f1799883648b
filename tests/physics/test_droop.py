"""From the shaft to the wheel: there and back, and the dead centre."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.physics.droop import shaft_travel, wheel_travel
from calc.physics.failure import PhysicsError


@given(st.floats(-0.03, 0.03), st.floats(0.4, 1.0), st.floats(-5.0, 5.0))
def test_there_and_back_is_where_it_was(wheel: float, ratio: float, slope: float) -> None:
    shaft = shaft_travel(wheel=wheel, motion_ratio=ratio, slope=slope)
    back = wheel_travel(shaft=shaft, motion_ratio=ratio, slope=slope)
    assert back == pytest.approx(wheel, abs=1e-12)


def test_nothing_lies_beyond_the_dead_centre() -> None:
    """The ratio 0.5 falls by 20 a metre: it is 0 at 25 mm, where the shaft has done 6.25 mm."""
    with pytest.raises(PhysicsError, match="DEAD_CENTRE"):
        shaft_travel(wheel=26e-3, motion_ratio=0.5, slope=-20.0)
    with pytest.raises(PhysicsError, match="DEAD_CENTRE"):
        wheel_travel(shaft=6.3e-3, motion_ratio=0.5, slope=-20.0)
