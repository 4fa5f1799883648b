"""Oil with air in it against measured bubbly liquids and textbook laws: see emulsion.toml."""

import math

import fluids
import numpy as np
import pytest
from scipy import optimize, signal

from calc.physics import emulsion
from calc.physics.gas import ATMOSPHERE
from tests.reference.cases import Case, load


@pytest.mark.parametrize("case", load("emulsion", "viscosity"), ids=str)
def test_a_little_air_does_what_was_measured(case: Case) -> None:
    thinner, thicker = emulsion.viscosity_bounds(**case.given)
    assert (thinner, thicker) == (case.printed["thinner"], case.printed["thicker"])


@pytest.mark.parametrize("case", load("emulsion", "spread"), ids=str)
def test_much_air_changes_it_by_less_than_was_computed(case: Case) -> None:
    """Each bound is within about the factor of 3 of the oil without air (0.31 and 2)."""
    thinner, thicker = emulsion.viscosity_bounds(**case.given)
    most = case.printed["factor"].expected
    assert 1 / most == pytest.approx(thinner, rel=0.06) and 1 < thicker < most


@pytest.mark.parametrize("case", load("emulsion", "modulus of oil"), ids=str)
def test_without_air_it_is_the_oil(case: Case) -> None:
    assert emulsion.bulk_modulus(**case.given) == case.printed["modulus"]


@pytest.mark.parametrize("case", load("emulsion", "sound"), ids=str)
def test_sound_in_water_full_of_air_is_as_slow_as_the_book_says(case: Case) -> None:
    share, pressure = case.given["share"], case.given["pressure"]
    modulus = emulsion.bulk_modulus(share, pressure, exponent=1.4)
    speed = math.sqrt(modulus / emulsion.density(share, case.given["density"]))
    assert speed == case.printed["speed"]


def test_a_squeezed_mix_takes_the_room_that_its_parts_take() -> None:
    """Boyle for the air and Hooke for the oil, apart, under a pressure a thousandth higher."""
    share, rise = 0.13, ATMOSPHERE / 1000
    left = share * ATMOSPHERE / (ATMOSPHERE + rise) + (1 - share) * (1 - rise / 1e9)
    assert emulsion.bulk_modulus(share, ATMOSPHERE) == pytest.approx(rise / (1 - left), rel=2e-3)
    way = emulsion.given_way(share, ATMOSPHERE, rise, 12e-3)
    assert way == pytest.approx((1 - left) * 12e-3, rel=1e-3)
    assert emulsion.given_way(share, ATMOSPHERE, 1e12, 12e-3) == pytest.approx(share * 12e-3)


@pytest.mark.parametrize("case", load("gas", "boyle"), ids=str)
def test_a_column_of_nothing_but_air_gives_way_as_the_printed_gas(case: Case) -> None:
    """Half air, half oil that does not give: squeezed as in the example, the air is half as
    long."""
    rise = case.printed["pressure"].expected - case.given["pressure"]
    way = emulsion.given_way(0.5, case.given["pressure"], rise, column=2.0)
    left = case.given["squeezed"] / case.given["volume"]
    assert way == pytest.approx(1.0 - left, rel=1e-9)


@pytest.mark.parametrize("share", [0.02, 0.1, 0.4])
def test_a_column_gives_way_as_a_root_finder_says(share: float) -> None:
    """The pressure at which air (Boyle) and oil (Hooke) fill the room that is left, by `brentq`."""
    area, column = 1.06e-4, 12e-3

    def squeezed(way: float) -> float:
        def over(pressure: float) -> float:
            air = share * ATMOSPHERE / pressure
            oil = (1 - share) * (1 - (pressure - ATMOSPHERE) / 1e9)
            return (air + oil) * column - (column - way)

        return optimize.brentq(over, 0.5 * ATMOSPHERE, 1e7, xtol=1e-9)

    step = 1e-7
    rate = area * (squeezed(step) - squeezed(-step)) / (2 * step)
    modulus = emulsion.bulk_modulus(share, ATMOSPHERE)
    assert emulsion.stiffness(modulus, area, column) == pytest.approx(rate, rel=1e-4)
    far = 0.5 * share * column
    way = emulsion.given_way(share, ATMOSPHERE, squeezed(far) - ATMOSPHERE, column)
    assert way == pytest.approx(far, rel=0.01)  # the oil's own give is left out


def test_at_the_even_frequency_spring_and_damper_share_the_motion() -> None:
    """A Maxwell element, force over motion k c s/(k + c s), as `scipy.signal` has it: the force is
    half a right angle ahead of the motion."""
    rate, damping = 2000.0, 30.0
    where = 2 * math.pi * emulsion.even_frequency(rate, damping)
    response = signal.freqresp(
        signal.TransferFunction([rate * damping, 0], [damping, rate]), [where]
    )[1][0]
    assert math.degrees(np.angle(response)) == pytest.approx(45.0)


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5])
def test_the_density_of_the_mix_is_that_of_the_library(share: float) -> None:
    theirs = fluids.density_two_phase(alpha=share, rhol=970.0, rhog=0.0)
    assert emulsion.density(share, 970.0) == pytest.approx(theirs)


def test_foam_is_refused() -> None:
    for call in (emulsion.viscosity_bounds, lambda share: emulsion.density(share, 970.0)):
        with pytest.raises(ValueError, match=r"above 0\.5"):
            call(0.51)
