"""What must hold of springs whatever the user types."""

from math import inf, isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics import spring
from calc.physics.failure import Cause
from calc.physics.spring import Spring

RATES = st.floats(10.0, 1e5)  # 0.01 to 100 N/mm


def test_a_loose_spring_gives_no_force() -> None:
    assert spring.spring_force(rate=500.0, compression=-0.002) == 0.0


@given(rate=RATES, coils=st.floats(2.0, 15.0), share=st.floats(0.01, 0.9))
def test_the_clipped_piece_and_the_rest_make_the_old_spring(
    rate: float, coils: float, share: float
) -> None:
    rest = spring.clipped_rate(rate=rate, active_coils=coils, clipped=share * coils)
    piece = spring.clipped_rate(rate=rate, active_coils=coils, clipped=(1.0 - share) * coils)
    assert isclose(spring.series_rate(rest, piece), rate, rel_tol=1e-9)


@given(
    rate=RATES,
    free_length=st.floats(0.03, 0.12),
    shares=st.lists(st.floats(0.0, 0.5), min_size=2, max_size=8, unique=True),
)
@settings(max_examples=150)
def test_exact_readings_give_the_spring_back(
    rate: float, free_length: float, shares: list[float]
) -> None:
    if max(shares) - min(shares) < 0.01:
        return
    lengths = [free_length * (1.0 - share) for share in shares]
    forces = [rate * (free_length - length) for length in lengths]
    fit = spring.rate_from_readings(lengths, forces)
    assert isclose(fit.rate, rate, rel_tol=1e-8)
    assert isclose(fit.free_length, free_length, rel_tol=1e-8)
    if len(set(shares)) > 2:
        assert fit.rate_error is not None
        assert fit.rate_error <= 1e-6 * rate


def test_two_readings_give_a_rate_and_admit_no_error_is_known() -> None:
    fit = spring.rate_from_readings([0.08, 0.07], [0.0, 5.0])
    assert isclose(fit.rate, 500.0, rel_tol=1e-12)
    assert fit.rate_error is None and fit.scatter is None


@pytest.mark.parametrize(
    ("lengths", "forces", "complaint"),
    [
        ([0.08], [1.0], Cause.TOO_FEW_READINGS.name),
        ([0.08, 0.08, 0.08], [1.0, 2.0, 3.0], Cause.TOO_FEW_READINGS.name),
        ([0.07, 0.08], [1.0, 2.0], Cause.FORCE_NOT_RISING.name),
        ([0.07, 0.08], [1.0, 1.0], Cause.FORCE_NOT_RISING.name),
        ([0.0, 0.08], [1.0, 0.5], "above 0"),
    ],
)
def test_readings_that_are_no_spring_are_refused(
    lengths: list[float], forces: list[float], complaint: str
) -> None:
    with pytest.raises(ValueError, match=complaint):
        spring.rate_from_readings(lengths, forces)


def test_what_cannot_exist_gives_no_number() -> None:
    wire = {"wire": 0.012, "mean_diameter": 0.012, "active_coils": 6.0, "shear_modulus": 8e10}
    with pytest.raises(ValueError, match="larger than the wire"):
        spring.spring_rate(**wire)
    with pytest.raises(ValueError, match="active coils must be above 0, not nan"):
        spring.spring_rate(**{**wire, "active_coils": float("nan")})
    with pytest.raises(ValueError, match="no active coil"):
        spring.clipped_rate(rate=500.0, active_coils=5.0, clipped=5.0)
    with pytest.raises(ValueError, match="rate must be above 0, not inf"):
        Spring(inf)
    with pytest.raises(ValueError, match="travel"):
        Spring(500.0, 0.0)
