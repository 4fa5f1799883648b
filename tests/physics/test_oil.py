"""Properties of the oil functions over the whole possible range."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from calc.physics import oil
from calc.physics.failure import Cause, PhysicsError

VISCOSITIES = st.floats(1e-6, 0.1)  # 1 to 100 000 cSt
SHARES = st.floats(0, 1)
PARTS = st.lists(st.tuples(st.floats(0.01, 100), VISCOSITIES), min_size=1, max_size=6)
LAWS = st.sampled_from(sorted(oil.LAWS))
TEMPERATURES = st.floats(oil.COLDEST, oil.HOTTEST)


def apart(thin: float, thick: float) -> None:
    assume(thick > thin * 1.001)


@given(PARTS, LAWS)
def test_a_blend_lies_between_its_oils(parts: list[tuple[float, float]], law: str) -> None:
    viscosities = [viscosity for _, viscosity in parts]
    assert min(viscosities) <= oil.blend(parts, law) <= max(viscosities)


@given(PARTS, LAWS, st.floats(0.001, 1000))
def test_only_the_ratio_of_shares_counts(
    parts: list[tuple[float, float]], law: str, factor: float
) -> None:
    scaled = [(share * factor, viscosity) for share, viscosity in parts]
    assert oil.blend(scaled, law) == pytest.approx(oil.blend(parts, law), rel=1e-9)


@given(PARTS, VISCOSITIES, LAWS)
def test_a_share_of_zero_changes_nothing(
    parts: list[tuple[float, float]], other: float, law: str
) -> None:
    assert oil.blend([*parts, (0.0, other)], law) == oil.blend(parts, law)


@given(PARTS)
def test_the_band_holds_the_default_law(parts: list[tuple[float, float]]) -> None:
    low, high = oil.band(parts)
    assert low <= oil.blend(parts) <= high


@given(PARTS)
def test_the_laws_keep_their_order(parts: list[tuple[float, float]]) -> None:
    double_log, log, cube_root = (oil.blend(parts, law) for law in oil.BAND)
    assert double_log <= log * (1 + 1e-9)
    assert log <= cube_root * (1 + 1e-9)


@given(SHARES, VISCOSITIES, VISCOSITIES, LAWS)
def test_share_of_thick_undoes_blend(share: float, thin: float, thick: float, law: str) -> None:
    apart(thin, thick)
    target = oil.blend([(1 - share, thin), (share, thick)], law)
    assert oil.share_of_thick(target, thin, thick, law) == pytest.approx(share, abs=1e-6)


@given(VISCOSITIES, VISCOSITIES, LAWS)
def test_the_bottles_themselves_need_no_blending(thin: float, thick: float, law: str) -> None:
    apart(thin, thick)
    assert oil.share_of_thick(thin, thin, thick, law) == 0
    assert oil.share_of_thick(thick, thin, thick, law) == 1


@pytest.mark.parametrize("target", [99e-6, 1001e-6, 0.0, -1.0, math.nan, math.inf])
def test_a_target_outside_the_bottles_gives_no_share(target: float) -> None:
    with pytest.raises(ValueError, match=r"between|above 0"):
        oil.share_of_thick(target, 100e-6, 1000e-6)
    with pytest.raises(ValueError, match=r"between|above 0"):
        oil.share_of_thick_measured(target, 100e-6, 1000e-6, 0.1)
    with pytest.raises(ValueError, match=r"between|above 0"):
        oil.exchange(100e-6, 1000e-6, target)


@pytest.mark.parametrize("thin", [1000e-6, 2000e-6])
def test_bottles_the_wrong_way_round_are_refused(thin: float) -> None:
    with pytest.raises(ValueError, match="thinner"):
        oil.share_of_thick(1000e-6, thin, 1000e-6)


@pytest.mark.parametrize(
    "parts",
    [
        [],
        [(0.0, 1e-4)],
        [(-1.0, 1e-4), (2.0, 1e-4)],
        [(math.nan, 1e-4)],
        [(math.inf, 1e-4)],
        [(1.0, 0.0)],
        [(1.0, -1e-4)],
        [(1.0, math.nan)],
    ],
)
def test_impossible_parts_give_no_blend(parts: list[tuple[float, float]]) -> None:
    with pytest.raises(ValueError, match=r"Shares|viscosity"):
        oil.blend(parts)


def test_the_double_log_law_ends_where_its_logarithm_does() -> None:
    with pytest.raises(ValueError, match=r"ends at 0\.3 mm2/s"):
        oil.blend([(1, 0.2e-6), (1, 1e-6)], "double-log")


@given(st.floats(0.01, 0.99), VISCOSITIES, VISCOSITIES, VISCOSITIES)
def test_a_measured_blend_fixes_the_law(
    share: float, thin: float, thick: float, measured: float
) -> None:
    term = oil.interaction(share, thin, thick, measured)
    assert oil.blend_measured(share, thin, thick, term) == pytest.approx(measured, rel=1e-9)


@given(SHARES, VISCOSITIES, VISCOSITIES)
def test_without_interaction_the_log_law_stands(share: float, thin: float, thick: float) -> None:
    plain = oil.blend([(1 - share, thin), (share, thick)])
    assert oil.blend_measured(share, thin, thick, 0.0) == plain


@given(SHARES, VISCOSITIES, VISCOSITIES, st.floats(-1, 1))
def test_share_of_thick_measured_undoes_blend_measured(
    share: float, thin: float, thick: float, strength: float
) -> None:
    apart(thin, thick)
    term = strength * math.log(thick / thin)
    target = min(max(oil.blend_measured(share, thin, thick, term), thin), thick)
    back = oil.share_of_thick_measured(target, thin, thick, term)
    # At full strength the curve is flat at one end, where only the viscosity can be compared.
    assert oil.blend_measured(back, thin, thick, term) == pytest.approx(target, rel=1e-9)
    if abs(strength) < 0.9:
        assert back == pytest.approx(share, abs=1e-6)


@pytest.mark.parametrize("measured", [5e-6, 5000e-6])
def test_a_measured_blend_beyond_both_oils_is_refused(measured: float) -> None:
    term = oil.interaction(0.5, 100e-6, 1000e-6, measured)
    with pytest.raises(PhysicsError, match=Cause.BLEND_NOT_MONOTONIC.name):
        oil.share_of_thick_measured(300e-6, 100e-6, 1000e-6, term)


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, 1.1, math.nan])
def test_one_oil_alone_says_nothing_about_the_law(share: float) -> None:
    with pytest.raises(ValueError, match="both oils"):
        oil.interaction(share, 100e-6, 1000e-6, 300e-6)


@given(VISCOSITIES, VISCOSITIES, SHARES, LAWS)
def test_the_exchanged_fraction_gives_the_target(
    now: float, added: float, share: float, law: str
) -> None:
    assume(abs(math.log(now / added)) > 0.001)
    target = oil.blend([(1 - share, now), (share, added)], law)
    fraction = oil.exchange(now, added, target, law)
    assert 0 <= fraction <= 1
    assert fraction == pytest.approx(share, abs=1e-6)


@given(SHARES, st.integers(1, 12))
def test_whole_parts_are_ordered_by_their_error(share: float, most: int) -> None:
    recipes = oil.whole_parts(share, most)
    errors = [abs(thick / (thin + thick) - share) for thin, thick in recipes]
    assert errors == pytest.approx(sorted(errors), abs=1e-11)
    assert errors[0] <= 0.5 / most + 1e-12
    assert all(math.gcd(thin, thick) == 1 and thin + thick <= most for thin, thick in recipes)


@given(st.integers(1, 9), st.integers(1, 9))
def test_a_share_made_of_whole_parts_is_found_exactly(thin: int, thick: int) -> None:
    assume(thin + thick <= 10)
    common = math.gcd(thin, thick)
    best = oil.whole_parts(thick / (thin + thick))[0]
    assert best == (thin // common, thick // common)


def test_one_oil_alone_is_offered_only_near_it() -> None:
    assert oil.whole_parts(0.04)[0] == (1, 0)
    assert (1, 0) not in oil.whole_parts(0.06)
    assert oil.whole_parts(0.96)[0] == (0, 1)
    assert (0, 1) not in oil.whole_parts(0.94)


def test_alone_is_within_half_a_part_of_the_most() -> None:
    for most in (4, 10):
        near, off = 0.98 * 0.5 / most, 1.02 * 0.5 / most
        assert (1, 0) in oil.whole_parts(near, most) and (0, 1) in oil.whole_parts(1 - near, most)
        assert (1, 0) not in oil.whole_parts(off, most)
        assert (0, 1) not in oil.whole_parts(1 - off, most)


@pytest.mark.parametrize("share", [-0.01, 1.01, math.nan])
def test_a_share_outside_nought_to_one_has_no_recipe(share: float) -> None:
    with pytest.raises(ValueError, match="0 to 1"):
        oil.whole_parts(share)


@given(VISCOSITIES, TEMPERATURES)
def test_grade_and_viscosity_undo_each_other(grade: float, temperature: float) -> None:
    there = oil.viscosity_at(grade, temperature)
    assert oil.viscosity_25_from(there, temperature) == pytest.approx(grade, rel=1e-12)


@given(VISCOSITIES, TEMPERATURES, TEMPERATURES)
def test_warmer_is_thinner_and_lighter(grade: float, one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    assert oil.viscosity_at(grade, warm) <= oil.viscosity_at(grade, cold)
    assert oil.density(grade, warm) <= oil.density(grade, cold)


@given(VISCOSITIES)
def test_a_grade_is_itself_at_25_degrees_without_doubt(grade: float) -> None:
    assert oil.viscosity_at(grade, oil.ROOM) == grade
    assert oil.temperature_uncertainty(oil.ROOM) == 0


@given(TEMPERATURES, TEMPERATURES)
def test_the_doubt_is_the_same_both_ways(here: float, there: float) -> None:
    assert oil.temperature_uncertainty(here, there) == oil.temperature_uncertainty(there, here) >= 0


@pytest.mark.parametrize("temperature", [248.0, 523.3, math.nan, 0.0])
def test_no_number_outside_the_temperature_law(temperature: float) -> None:
    for answer in (oil.viscosity_at, oil.viscosity_25_from, oil.density):
        with pytest.raises(ValueError, match="-25 to 250 C"):
            answer(350e-6, temperature)
    with pytest.raises(ValueError, match="-25 to 250 C"):
        oil.temperature_uncertainty(temperature)


@given(VISCOSITIES, VISCOSITIES)
def test_thicker_oil_is_no_lighter(one: float, other: float) -> None:
    thin, thick = sorted((one, other))
    assert 950 <= oil.density(thin) <= oil.density(thick) <= 976.0001


@given(VISCOSITIES, st.floats(800, 1000))
def test_dynamic_and_kinematic_undo_each_other(viscosity: float, density: float) -> None:
    dynamic = oil.dynamic_viscosity(viscosity, density)
    assert oil.kinematic_viscosity(dynamic, density) == pytest.approx(viscosity, rel=1e-12)
