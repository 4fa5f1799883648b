"""What must hold of springs whatever the user types."""

from math import inf, isclose

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics import spring
from calc.physics.failure import Cause
from calc.physics.spring import Spring

RATES = st.floats(10.0, 1e5)  # 0.01 to 100 N/mm
TRAVELS = st.floats(0.001, 0.2)
SHARES = st.floats(0.0, 1.0)


@given(rate=RATES, force=st.floats(0.0, 500.0))
def test_force_and_compression_are_inverse(rate: float, force: float) -> None:
    compression = spring.compression_for(rate=rate, force=force)
    assert isclose(spring.spring_force(rate=rate, compression=compression), force, abs_tol=1e-12)


def test_a_loose_spring_gives_no_force() -> None:
    assert spring.spring_force(rate=500.0, compression=-0.002) == 0.0


def test_preload_is_the_same_from_lengths_and_from_turns() -> None:
    by_length = spring.preload_from_lengths(free_length=0.080, droop_length=0.0765)
    assert isclose(by_length, spring.preload_from_turns(pitch=0.001, turns=3.5), rel_tol=1e-12)


def test_a_spring_shorter_than_its_room_is_loose_by_the_gap() -> None:
    gap = spring.preload_from_lengths(free_length=0.070, droop_length=0.072)
    assert isclose(gap, -0.002, rel_tol=1e-12)


@given(
    rates=st.tuples(RATES, RATES),
    travels=st.tuples(TRAVELS, TRAVELS),
    share=SHARES,
)
def test_a_pair_in_series_gives_back_its_compression(
    rates: tuple[float, float], travels: tuple[float, float], share: float
) -> None:
    first, second = (Spring(k, t) for k, t in zip(rates, travels, strict=True))
    compression = share * sum(travels)
    force = spring.pair_force(first, second, compression=compression)
    back = spring.pair_compression(first, second, force=force)
    assert isclose(back, compression, rel_tol=1e-9, abs_tol=1e-15)


@given(rates=st.tuples(RATES, RATES), travel=TRAVELS, share=st.floats(0.01, 0.99))
def test_a_pair_is_softer_than_either_spring_until_one_binds(
    rates: tuple[float, float], travel: float, share: float
) -> None:
    first, second = Spring(rates[0], travel), Spring(rates[1])
    binding = first.rate * first.travel
    at_binding = spring.pair_compression(first, second, force=binding)
    before = spring.pair_force(first, second, compression=share * at_binding)
    assert before <= min(rates) * share * at_binding
    beyond = at_binding + share * travel
    after = spring.pair_force(first, second, compression=beyond)
    assert isclose(after - binding, second.rate * share * travel, rel_tol=1e-6)


def test_a_solid_pair_has_no_force_of_its_own() -> None:
    with pytest.raises(ValueError, match="coil bound"):
        spring.pair_force(Spring(500.0, 0.02), Spring(900.0, 0.02), compression=0.041)


def test_the_pair_does_not_care_which_spring_is_on_top() -> None:
    one, other = Spring(400.0, 0.01), Spring(900.0, 0.03)
    for compression in (0.0, 0.005, 0.0145, 0.02, 0.039):
        assert spring.pair_force(one, other, compression=compression) == spring.pair_force(
            other, one, compression=compression
        )


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
