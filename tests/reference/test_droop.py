"""From the shaft to the wheel: see droop.toml, and an arm met with circles and a root finder."""

import math

import pytest
from scipy.optimize import brentq

from calc.physics.droop import shaft_travel, wheel_travel
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("droop", "shaft_travel"), ids=str)
def test_shaft_travel_is_as_printed(case: Case) -> None:
    assert shaft_travel(**case.given) == case.printed["travel"]
    law = {name: case.given[name] for name in ("motion_ratio", "slope")}
    back = wheel_travel(shaft=case.printed["travel"].expected, **law)
    assert back == pytest.approx(case.given["wheel"], abs=0.005)  # as it is printed


def test_an_arm_of_pins_and_circles_drops_so_far() -> None:
    """Arm pivot at (0, 0), lower mount at 46 mm, wheel at 66 mm along the arm, upper mount at
    (22, 62) mm: the length is the law of cosines, the angle at a length is found by scipy. An even
    growth of the ratio is good to 1 % over 12 mm of droop."""

    def length(wheel: float) -> float:
        angle = math.asin(wheel / 66e-3)
        return math.dist((46e-3 * math.cos(angle), 46e-3 * math.sin(angle)), (22e-3, 62e-3))

    step = 1e-5
    ratio = (length(-step) - length(step)) / (2 * step)
    slope = -(length(step) - 2 * length(0.0) + length(-step)) / step**2
    for droop in (4e-3, 8e-3, 12e-3):
        out = length(-droop) - length(0.0)
        exact = brentq(lambda z, to: length(-z) - to, 0.0, 30e-3, args=(length(-droop),))
        ours = -wheel_travel(shaft=-out, motion_ratio=ratio, slope=slope)
        assert ours == pytest.approx(exact, rel=0.01)
        assert -shaft_travel(wheel=-droop, motion_ratio=ratio, slope=slope) == pytest.approx(
            out, rel=0.01
        )
