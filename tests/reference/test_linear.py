"""Small linear algebra against the oldest printed example, an exact inverse, numpy and scipy."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import linalg, stats

from calc.physics import linear
from tests.reference.cases import Case, load

NUMBERS = st.floats(-1e3, 1e3)


@pytest.mark.parametrize("case", load("linear", "solve"), ids=str)
def test_three_unknowns_are_as_printed(case: Case) -> None:
    assert linear.solve(case.given["matrix"], case.given["right"]) == case.printed["answer"]


@pytest.mark.parametrize("case", load("spring", "line"), ids=str)
def test_the_factors_of_certified_data_lead_to_their_coefficients(case: Case) -> None:
    """x in its largest value, so that the columns compare."""
    reach = max(case.given["x"])
    rows = [[(x / reach) ** n for n in range(case.given["degree"] + 1)] for x in case.given["x"]]
    upper, rotated = linear.triangular(rows, case.given["y"])
    found = [c / reach**n for n, c in enumerate(linear.back_substitute(upper, rotated))]
    assert found == case.printed["coefficients"]


@pytest.mark.parametrize("size", [2, 3, 4, 5])
def test_the_inverse_of_a_hilbert_matrix_is_whole_numbers(size: int) -> None:
    """Columns of the inverse, of which `scipy.linalg.invhilbert` knows every digit."""
    exact = linalg.invhilbert(size, exact=True)
    for place in range(size):
        unit = [float(i == place) for i in range(size)]
        found = linear.solve(linalg.hilbert(size).tolist(), unit)
        assert found == pytest.approx([float(n) for n in exact[:, place]], rel=1e-9)


@given(st.lists(NUMBERS, min_size=9, max_size=9), st.lists(NUMBERS, min_size=3, max_size=3))
def test_the_same_equations_in_numpy(entries: list[float], right: list[float]) -> None:
    matrix = np.array(entries).reshape(3, 3) + np.diag([3e3, -3e3, 3e3])
    found = linear.solve(matrix.tolist(), right)
    assert found == pytest.approx(np.linalg.solve(matrix, right).tolist(), rel=1e-9, abs=1e-12)
    upper = np.triu(matrix)
    back = linear.back_substitute(upper.tolist(), right)
    assert back == pytest.approx(linalg.solve_triangular(upper, right).tolist(), abs=1e-9)


@given(st.lists(NUMBERS, min_size=12, max_size=12), st.lists(NUMBERS, min_size=6, max_size=6))
def test_the_same_factors_in_numpy(entries: list[float], right: list[float]) -> None:
    """R of QR is the one of `numpy.linalg.qr` with its diagonal made positive."""
    matrix = np.array(entries).reshape(6, 2) + np.eye(6, 2) * 3e3
    theirs, upper = np.linalg.qr(matrix)
    signs = np.sign(np.diag(upper))
    ours, rotated = linear.triangular(matrix.tolist(), right)
    assert np.array(ours) == pytest.approx(signs[:, None] * upper, rel=1e-9, abs=1e-8)
    assert rotated == pytest.approx((signs * (theirs.T @ right)).tolist(), rel=1e-9, abs=1e-8)


@given(
    st.lists(st.floats(-1, 1), min_size=6, max_size=6), st.integers(0, 5), st.sampled_from([-1, 1])
)
def test_one_point_far_off_is_found_where_scipy_calls_the_others_a_line(
    noise: list[float], place: int, way: int
) -> None:
    """Points on y = 3 - 2 x, known to u = 1 with noise that uses no more of it: the sum of the
    squares from scipy's line through the other five is below 4 for each point to spare."""
    x = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0]
    y = [3 - 2 * one + off for one, off in zip(x, noise, strict=True)]
    exact, u = [0.0] * 6, [1.0] * 6
    assert linear.odd_one(x, y, exact, u) is None
    y[place] += 40 * way
    others = [i for i in range(6) if i != place]
    line = stats.linregress([x[i] for i in others], [y[i] for i in others])
    squares = sum((y[i] - line.intercept - line.slope * x[i]) ** 2 for i in others)
    assert squares < 4 * 3
    assert linear.odd_one(x, y, exact, u) == place
    assert linear.odd_one(x, y, [30.0] * 6, u) is None  # nobody knows where it lies
