"""How uncertainty reaches answers, against the `uncertainties` package and examples of a guide."""

import math
from collections.abc import Callable, Mapping
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from calc.answering.answer import Quantity
from calc.answering.uncertainty import (
    Part,
    Uncertain,
    Uncertainty,
    Watched,
    combine,
    propagate,
    resolution,
    smaller,
)
from calc.physics.spring import spring_rate
from calc.replying.inputs import Problem


def test_a_reading_has_the_doubt_of_its_last_step() -> None:
    # JCGM 100:2008, F.2.2.1, prints u = 0.29 times the step.
    assert resolution(1.0) == pytest.approx(0.29, abs=0.005)


def test_the_end_gauge_of_the_guide() -> None:
    # JCGM 100:2008, H.1 (figures from memory): l = 50.000838 mm, u = 32 nm, its largest part the
    # 25 nm of the standard, then 16.6 nm of the difference in temperature.
    inputs = {
        "standard": 50.000623e-3, "difference": 215e-9, "expansion_apart": 0.0, "mean": -0.1,
        "expansion": 11.5e-6, "apart": 0.0,
    }  # fmt: skip
    u = {
        "standard": 25e-9, "difference": 9.7e-9, "expansion_apart": 0.58e-6, "mean": 0.41,
        "expansion": 1.2e-6, "apart": 0.029,
    }  # fmt: skip

    def figures(given: Mapping[str, float]) -> dict[str, float]:
        warmth = given["expansion_apart"] * given["mean"] + given["expansion"] * given["apart"]
        length = given["standard"] * (1 - warmth) + given["difference"]
        return {"length": length}

    length = propagate(figures, inputs, u)["length"]
    assert length.value == pytest.approx(50.000838e-3, abs=0.5e-9)
    assert length.u == pytest.approx(32e-9, abs=0.5e-9)
    assert length.main == "standard"
    assert length.main_share == pytest.approx((25 / 31.7) ** 2, abs=0.01)
    apart = propagate(figures, inputs, {"apart": 0.029})["length"]
    assert apart.u == pytest.approx(16.6e-9, abs=0.1e-9)


def test_a_spring_of_measured_wire() -> None:
    # Worked by hand from JCGM 100:2008, 5.1.6: the relative doubts 4 x 0.417 %, 3 x 0.25 %,
    # 0.833 % and 1 % add up by squares to 2.24 %.
    inputs = {"wire": 1.2e-3, "mean_diameter": 12e-3, "active_coils": 6.0, "shear_modulus": 81.5e9}
    u = {"wire": 5e-6, "mean_diameter": 30e-6, "active_coils": 0.05, "shear_modulus": 0.815e9}
    rate = propagate(lambda given: {"rate": spring_rate(**given)}, inputs, u)["rate"]
    assert 100 * rate.u / rate.value == pytest.approx(2.24, abs=0.005)
    assert rate.main == "wire"


def ours(numbers: Mapping[str, float]) -> dict[str, float]:
    a, b, c = numbers["a"], numbers["b"], numbers["c"]
    return {
        "ratio": a / b - c,
        "powers": a**2 * math.sqrt(b) / c,
        "logs": math.log(a * b) * math.exp(c / 10),
        "sum": a + b - 2 * c,
    }


PLACES = st.floats(0.5, 20.0)
DOUBTS = st.floats(1e-6, 0.01)  # of the value; the package warns at none


@given(at=st.tuples(PLACES, PLACES, PLACES), doubts=st.tuples(DOUBTS, DOUBTS, DOUBTS))
def test_small_doubts_agree_with_the_package(
    at: tuple[float, float, float], doubts: tuple[float, float, float]
) -> None:
    inputs = dict(zip("abc", at, strict=True))
    u = {name: inputs[name] * doubt for name, doubt in zip("abc", doubts, strict=True)}
    a, b, c = (ufloat(inputs[name], u[name]) for name in "abc")
    theirs = {
        "ratio": a / b - c,
        "powers": a**2 * umath.sqrt(b) / c,
        "logs": umath.log(a * b) * umath.exp(c / 10),
        "sum": a + b - 2 * c,
    }
    for name, figure in propagate(ours, inputs, u).items():
        assert figure.value == pytest.approx(theirs[name].n, rel=1e-12, abs=1e-12)
        assert figure.u == pytest.approx(theirs[name].s, rel=1e-3, abs=1e-9)
        assert 0 <= figure.main_share <= 1 + 1e-12
        assert (figure.main == "") == (figure.u == 0)


def test_a_part_is_made_anew_only_where_it_asks_for_what_moves() -> None:
    made: list[str] = []

    def figures(numbers: Mapping[str, float]) -> dict[str, float]:
        assert isinstance(numbers, Watched)

        def inner() -> float:
            made.append("inner")
            return numbers["a"]

        def outer() -> float:
            made.append("outer")
            return 2 * numbers.memoised("inner", inner) + numbers["b"]

        return {
            "y": numbers.memoised("outer", outer) + numbers.memoised("inner", inner) + numbers["c"]
        }

    inputs = dict.fromkeys("abcd", 1.0)
    y = propagate(figures, inputs, dict.fromkeys("abcd", 0.5))["y"]
    assert (y.value, y.u) == (5.0, pytest.approx(0.5 * math.sqrt(9 + 1 + 1)))
    # Once at the centre; a moves both, b the outer one alone, c and d none; each by two sides.
    assert (made.count("outer"), made.count("inner")) == (1 + 2 + 2, 1 + 2)


def test_an_input_that_a_failed_part_asked_for_is_tried() -> None:
    def figures(numbers: Mapping[str, float]) -> dict[str, float]:
        def part() -> float:
            return math.log(numbers["x"])

        assert isinstance(numbers, Watched)
        try:
            return {"y": numbers.memoised("part", part)}
        except ValueError:
            return {"y": -10.0}

    # At x = -0.5 it has no logarithm, at -0.5 + 2 x 1.5 it is log 2.5; below nothing changes.
    rise = math.log(2.5) + 10.0
    assert propagate(figures, {"x": -0.5}, {"x": 1.5})["y"].u == pytest.approx(rise / 4)


def test_at_a_bound_the_possible_side_speaks_alone() -> None:
    def root(numbers: Mapping[str, float]) -> dict[str, float]:
        return {"root": math.sqrt(numbers["x"])}  # ValueError below 0

    # x is half of a normal distribution, 95 of 100 below 0.08.
    found = propagate(root, {"x": 0.0}, {"x": 0.04})["root"]
    assert found.u == pytest.approx(math.sqrt(0.08) / 2)
    assert found.ends == (0.0, pytest.approx(math.sqrt(0.08)))


def test_near_a_bound_it_moves_as_far_as_it_can() -> None:
    """A bound at 1.3 within the reach of 1 +- 2 x 0.25, found to a sixty-fourth of that reach."""

    def figures(numbers: Mapping[str, float]) -> dict[str, float]:
        return {"y": 3 * numbers["x"] if numbers["x"] <= 1.3 else fail()}

    found = propagate(figures, {"x": 1.0}, {"x": 0.25})["y"]
    assert found.ends == (pytest.approx(1.5), pytest.approx(0.9, abs=3 * 0.5 / 64))
    assert found.u == pytest.approx((1.5 + 0.9) / 4, abs=0.01)


def test_where_all_inputs_cannot_move_together_the_drawn_ones_tell() -> None:
    """Each alone can move by 1, both together not by root a half each: what is left is a normal
    distribution cut off, whose quantiles are those of `statistics`."""

    def figures(numbers: Mapping[str, float]) -> dict[str, float]:
        both = numbers["a"] + numbers["b"]
        return {"y": 0.1 * math.exp(both) if both <= 1.01 else fail()}

    found = propagate(figures, {"a": 0.0, "b": 0.0}, {"a": 0.5, "b": 0.5})["y"]
    both = NormalDist(0.0, math.hypot(0.5, 0.5))
    low, high = (both.inv_cdf(share * both.cdf(1.01)) for share in (0.02275, 0.97725))
    assert found.ends is not None
    assert found.value + found.ends[1] == pytest.approx(0.1 * math.exp(high), rel=0.05)
    assert found.value - found.ends[0] == pytest.approx(0.1 * math.exp(low), rel=0.1)


@pytest.mark.parametrize(
    "wrong",
    [lambda: 1 / 0, lambda: math.exp(1e4), lambda: math.inf, lambda: math.nan, lambda: fail()],
    ids=["division", "overflow", "infinite", "not a number", "entries do not fit"],
)
def test_an_impossible_side_is_left_out_whatever_it_does(wrong: object) -> None:
    def figures(numbers: Mapping[str, float]) -> dict[str, float]:
        return {"y": 3 * numbers["x"] if numbers["x"] <= 1 else wrong()}  # type: ignore[operator]

    assert propagate(figures, {"x": 1.0}, {"x": 0.5})["y"].u == pytest.approx(1.5)


def fail() -> float:
    raise Problem("x", "X: it does not fit.")


def test_an_entry_without_room_on_either_side_adds_nothing() -> None:
    def figures(numbers: Mapping[str, float]) -> dict[str, float]:
        if numbers["x"] != 1.0:
            raise ValueError
        return {"y": 2.0 + numbers["z"]}

    y = propagate(figures, {"x": 1.0, "z": 0.0}, {"x": 0.5, "z": 0.25})["y"]
    assert (y.value, y.u, y.main) == (2.0, 0.25, "z")


def test_doubts_are_worked_out_when_the_first_is_asked_for_and_then_for_all() -> None:
    asked: list[float] = []

    def figures(numbers: Mapping[str, float]) -> dict[str, float]:
        asked.append(numbers["x"])
        return {"y": 2 * numbers["x"], "z": numbers["x"] ** 2}

    found = propagate(figures, {"x": 3.0}, {"x": 0.5})
    assert (found["y"].value, found["z"].value, asked) == (6.0, 9.0, [3.0])
    elsewhere = found["y"].at(60.0, by=10.0)
    assert asked == [3.0]
    assert (found["z"].u, found["y"].u, elsewhere.u) == (3.0, 1.0, 10.0)  # by hand
    assert (elsewhere.value, elsewhere.main, asked) == (60.0, "x", [3.0, 4.0, 2.0])


def test_no_doubt_gives_no_doubt_and_names_nobody() -> None:
    certain = propagate(lambda n: {"y": n["x"]}, {"x": 2.0}, {"x": 0.0, "unread": 1.0})["y"]
    assert (certain.value, certain.u, certain.main, certain.main_share) == (2.0, 0.0, "", 0.0)


def test_parts_add_by_squares_and_the_largest_is_named() -> None:
    both = combine({"first": Part(6.0, -6.0), "second": Part(-8.0, 8.0)})
    assert (both.u, both.main, both.ends) == (5.0, "second", None)
    assert both.main_share == pytest.approx(0.64)


def test_an_answer_that_wrong_entries_make_impossible_is_not_hidden() -> None:
    with pytest.raises(ValueError, match="math domain"):
        propagate(lambda n: {"y": math.log(n["x"])}, {"x": -1.0}, {"x": 0.1})


EVEN = NormalDist()
LEAST, MOST = 0.93, 0.98


def share(found: Uncertain, quantile: Callable[[float], float]) -> float:
    """How much of a distribution lies within the stated interval of a figure."""
    below, above = found.ends or (2 * found.u, 2 * found.u)
    draws = [quantile((n + 0.5) / 4000) for n in range(4000)]
    return sum(found.value - below <= y <= found.value + above for y in draws) / len(draws)


@pytest.mark.parametrize(
    "bent",
    [math.exp, lambda x: 1 / (3 - x), lambda x: math.exp(-2 * x), lambda x: 2 * x + x * x / 2],
    ids=["exponential", "pole", "falling", "square"],
)
def test_a_bent_figure_of_one_input_has_the_interval_of_its_quantiles(
    bent: Callable[[float], float],
) -> None:
    """The quantiles of a rising function are the function of the quantiles (JCGM 101:2008, 7.7 asks
    for the ends of such an interval; the normal ones are of the standard library)."""
    found = propagate(lambda n: {"y": bent(n["x"])}, {"x": 0.0}, {"x": 0.5})["y"]
    low, high = sorted((bent(-1.0), bent(1.0)))
    assert found.ends == (pytest.approx(found.value - low), pytest.approx(high - found.value))
    assert share(found, lambda p: bent(0.5 * EVEN.inv_cdf(p))) == pytest.approx(0.954, abs=0.002)


@pytest.mark.parametrize("off", [-0.5, 0.0, 0.5, 1.0])
def test_a_figure_that_stops_has_an_end_there(off: float) -> None:
    """Two equal doubts on a length that cannot fall below nothing: their sum is normal, so all of
    it is known in closed form."""
    found = propagate(
        lambda n: {"y": max(0.0, n["a"] + n["b"])}, {"a": off, "b": 0.0}, {"a": 0.6, "b": 0.8}
    )["y"]
    held = share(found, lambda p: max(0.0, off + EVEN.inv_cdf(p)))
    assert held >= LEAST
    assert found.value + (found.ends or (0.0, 2 * found.u))[1] >= 0.9 * (off + 2)


@pytest.mark.parametrize("off", [-0.5, 0.0, 0.7, 1.5])
def test_the_larger_of_two_inputs_has_its_quantiles(off: float) -> None:
    """As the force on a stop and on a spring: the larger of two normal distributions lies below a
    value where both do."""
    one, other = NormalDist(0.0, 0.6), NormalDist(off, 0.8)
    found = propagate(
        lambda n: {"y": max(n["a"], n["b"])}, {"a": 0.0, "b": off}, {"a": 0.6, "b": 0.8}
    )["y"]
    below, above = found.ends or (2 * found.u, 2 * found.u)
    low, high = found.value - below, found.value + above
    held = one.cdf(high) * other.cdf(high) - one.cdf(low) * other.cdf(low)
    assert found.ends is None or LEAST <= held <= MOST


def test_how_far_two_are_apart_is_never_less_than_nothing() -> None:
    """The difference of two normal distributions without its sign: half of one is left out by the
    sign, so that 95 of 100 lie below two of its standard deviations."""
    found = propagate(
        lambda n: {"y": abs(n["a"] - n["b"])}, {"a": 0.1, "b": 0.0}, {"a": 0.6, "b": 0.8}
    )["y"]
    below, above = found.ends or (0.0, 0.0)
    apart = NormalDist(0.1, 1.0)
    high = found.value + above
    assert 0.0 < below <= found.value
    low = found.value - below
    held = apart.cdf(high) - apart.cdf(low) + apart.cdf(-low) - apart.cdf(-high)
    assert LEAST <= held <= MOST


def test_a_figure_that_is_not_there_beyond_a_point_is_as_wide_as_it_is_there() -> None:
    """A shaft that locks has no force: below it is doubted by 2 u, above by what is left."""
    made = propagate(
        lambda n: {"y": n["x"], "z": n["x"]} if n["x"] < 0.5 else {"z": n["x"]},
        {"x": 0.0},
        {"x": 1.0},
    )
    assert made["z"].ends is None and made["z"].u == pytest.approx(1.0)
    below, above = made["y"].ends or (0.0, 0.0)
    assert below == pytest.approx(2.0)
    assert above == pytest.approx(0.5, abs=2 / 2**6)


@given(at=st.tuples(PLACES, PLACES, PLACES), wide=st.floats(0.05, 0.25))
def test_a_product_of_doubted_factors_holds_what_it_states(
    at: tuple[float, float, float], wide: float
) -> None:
    """The logarithm of a product of log-normal factors is normal: known in closed form."""

    def product(n: Mapping[str, float]) -> dict[str, float]:
        return {"y": math.exp(n["a"]) * math.exp(n["b"]) / math.exp(n["c"])}

    logs = dict(zip("abc", map(math.log, at), strict=True))
    found = propagate(product, logs, dict.fromkeys("abc", wide))["y"]
    sigma = wide * math.sqrt(3)
    held = share(found, lambda p: found.value * math.exp(sigma * EVEN.inv_cdf(p)))
    assert LEAST <= held <= MOST


@given(
    value=st.floats(0.1, 1e3), of=st.floats(0.05, 3.0),
    share=st.just(0.0) | st.floats(1e-6, 0.4),  # of less than that only the last bits differ
    power=st.sampled_from([-2.0, -1.25, -1.0, 0.5, 1.0]),
)  # fmt: skip
def test_a_figure_that_goes_with_a_power_has_the_ends_of_that_power(
    value: float, of: float, share: float, power: float
) -> None:
    """Its interval is that of the ends themselves: a growing or falling function of one quantity
    takes quantiles along (JCGM 101:2008, 5.3.2)."""
    doubted = Uncertain(of, lambda: Uncertainty(share * of / 2, "it", 1.0))
    made = doubted.to_power(value, power)
    ends = sorted(value * ((1 + way * share) ** power) for way in (-1, 1))
    below, above = value - ends[0], ends[1] - value
    if made.ends:
        assert made.ends == pytest.approx((below, above), rel=1e-9, abs=1e-9)
        assert max(below, above) > 1.4 * min(below, above) * (1 - 1e-9)
    else:
        assert max(below, above) <= 1.4 * min(below, above) * (1 + 1e-9) or share == 0.0
    assert made.u == pytest.approx(abs(power) * value * share / 2)


@pytest.mark.parametrize("apart", [-1.0, 0.0, 0.05, 0.4, 3.0])
def test_the_smaller_of_two_has_the_quantiles_that_numpy_draws(apart: float) -> None:
    """Two normal distributions drawn a million times (`numpy.random`), seed fixed."""
    one = Uncertain(10.0, lambda: Uncertainty(1.0, "a", 1.0))
    other = Uncertain(10.0 + apart, lambda: Uncertainty(0.5, "b", 1.0))
    dice = np.random.default_rng(5)
    least = np.minimum(dice.normal(10.0, 1.0, 10**6), dice.normal(10.0 + apart, 0.5, 10**6))
    low, high = np.quantile(least, [0.02275, 0.97725])
    found = smaller(one, other)
    below, above = found.ends or (2 * found.u, 2 * found.u)
    assert found.value == min(one.value, other.value)
    if found.ends:
        assert found.value - below == pytest.approx(low, abs=0.01)
        assert found.value + above == pytest.approx(high, abs=0.01)
    assert below + above == pytest.approx(high - low, abs=0.02)


def test_the_smaller_of_two_far_apart_has_its_own_interval() -> None:
    one = Uncertain(10.0, lambda: Uncertainty(1.0, "a", 1.0, (1.0, 3.0)))
    found = smaller(Uncertain(90.0, lambda: Uncertainty(1.0)), one)
    assert found.ends == pytest.approx((1.0, 3.0), rel=1e-3)
    assert found.main == "a"
    assert smaller(Uncertain(1.0, Uncertainty), Uncertain(2.0, Uncertainty)).u == pytest.approx(
        0.0, abs=1e-9
    )


@given(value=PLACES, by=st.floats(0.1, 10.0))
def test_a_figure_that_moves_so_many_times_as_far_has_so_many_times_the_doubt(
    value: float, by: float
) -> None:
    """As the package has it for a product with a number that is exact, and both ends with it."""
    doubted = Uncertain(value, lambda: Uncertainty(1.0, "it", 0.8, (1.0, 3.0)))
    theirs = by * ufloat(value, 1.0)
    made = doubted.at(by * value, by)
    assert (made.value, made.u) == pytest.approx((theirs.nominal_value, theirs.std_dev))
    assert made.ends == pytest.approx((by, 3 * by))
    assert (made.main, made.main_share) == ("it", 0.8)
    shown = Quantity("y", "Y", made.value, "length", made, {"it": "what moves it"})
    assert (shown.ends, shown.main_label) == (made.ends, "what moves it")
