"""Small linear algebra on lists of floats: for three equations and a line fit."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.physics.failure import Cause, PhysicsError

Matrix = Sequence[Sequence[float]]

# A pivot this much smaller than its row is rounding noise, not a number.
_SINGULAR = 1e-12


@dataclass(frozen=True, slots=True)
class Fit:
    """Least-squares coefficients; errors is None where no point is left over to judge them."""

    coefficients: tuple[float, ...]
    errors: tuple[float, ...] | None
    scatter: float | None  # standard deviation of the residuals, in the unit of y


def solve(matrix: Matrix, right: Sequence[float]) -> list[float]:
    """Solution of a square system by Gaussian elimination with scaled partial pivoting.

    Raises ValueError where the equations do not fix the unknowns.
    """
    size = len(right)
    scale = [max((abs(v) for v in row), default=0.0) or 1.0 for row in matrix]
    # Every row is divided by its largest entry, so that metres and newtons compare.
    rows = [[v / s for v in row] + [r / s] for row, r, s in zip(matrix, right, scale, strict=True)]
    for column in range(size):
        best = max(range(column, size), key=lambda i: abs(rows[i][column]))
        if abs(rows[best][column]) < _SINGULAR:
            raise ValueError("the equations do not fix the unknowns")
        rows[column], rows[best] = rows[best], rows[column]
        pivot = rows[column]
        for row in rows[column + 1 :]:
            factor = row[column] / pivot[column]
            for j in range(column, size + 1):
                row[j] -= factor * pivot[j]
    return back_substitute([row[:size] for row in rows], [row[size] for row in rows])


def back_substitute(upper: Matrix, right: Sequence[float]) -> list[float]:
    """Solution of an upper triangular system."""
    size = len(right)
    answer = [0.0] * size
    for i in reversed(range(size)):
        known = sum(upper[i][j] * answer[j] for j in range(i + 1, size))
        answer[i] = (right[i] - known) / upper[i][i]
    return answer


def triangular(matrix: Matrix, right: Sequence[float]) -> tuple[list[list[float]], list[float]]:
    """R and Q'b of the QR factors of a tall matrix, by modified Gram-Schmidt.

    The right-hand side is orthogonalised along with the columns, which keeps the least-squares
    answer accurate (Björck, Numerical Methods for Least Squares Problems, 1996, section 2.4).
    Raises PhysicsError where the columns depend on each other.
    """
    width = len(matrix[0])
    columns = [[row[j] for row in matrix] for j in range(width)]
    norms = [math.hypot(*column) for column in columns]
    rest = list(right)
    upper = [[0.0] * width for _ in range(width)]
    rotated = [0.0] * width
    for j in range(width):
        length = math.hypot(*columns[j])
        if length <= _SINGULAR * norms[j]:
            raise PhysicsError(Cause.READINGS_TOO_ALIKE)
        unit = [v / length for v in columns[j]]
        upper[j][j] = length
        for k in range(j + 1, width):
            upper[j][k] = sum(u * v for u, v in zip(unit, columns[k], strict=True))
            columns[k] = [v - upper[j][k] * u for u, v in zip(unit, columns[k], strict=True)]
        rotated[j] = sum(u * v for u, v in zip(unit, rest, strict=True))
        rest = [v - rotated[j] * u for u, v in zip(unit, rest, strict=True)]
    return upper, rotated


def polynomial_fit(x: Sequence[float], y: Sequence[float], degree: int) -> Fit:
    """Least-squares polynomial y = c0 + c1 x + c2 x^2 ..., with standard errors.

    Every y has the same unknown scatter; x is taken as exact. Raises PhysicsError where there are
    fewer different x than coefficients, or where they differ too little to tell.
    """
    count = degree + 1
    if len(x) != len(y):
        raise ValueError("every reading needs both of its values")
    if len(set(x)) < count:
        raise PhysicsError(Cause.TOO_FEW_READINGS, needed=count)
    reach = max(abs(v) for v in x)
    # Powers of a number near 1 keep the columns comparable.
    rows = [[(v / reach) ** k for k in range(count)] for v in x]
    upper, rotated = triangular(rows, y)
    scaled = back_substitute(upper, rotated)
    coefficients = tuple(c / reach**k for k, c in enumerate(scaled))
    spare = len(x) - count
    if spare == 0:
        return Fit(coefficients, None, None)
    residuals = [
        v - sum(c * r for c, r in zip(scaled, row, strict=True))
        for row, v in zip(rows, y, strict=True)
    ]
    scatter = math.sqrt(math.fsum(r * r for r in residuals) / spare)
    errors = []
    for k in range(count):
        # Row k of inverse(R): its length is the error of coefficient k per unit of scatter.
        row = [
            back_substitute(upper, [float(i == j) for i in range(count)])[k] for j in range(count)
        ]
        errors.append(scatter * math.hypot(*row) / reach**k)
    return Fit(coefficients, tuple(errors), scatter)


_WITHIN = 4.0
"""A line fits as well as its points are known where the sum of squares of what they are off, each
over its standard uncertainty, is at most so much for each point to spare (1 is expected)."""


def odd_one(
    x: Sequence[float], y: Sequence[float], u_x: Sequence[float], u_y: Sequence[float]
) -> int | None:
    """The one point of four or more without which the others lie on a straight line, as far as they
    are known (u of each x and y); None where all do, or where it is not one point alone."""
    everyone = range(len(x))

    def fits(places: Sequence[int]) -> bool:
        try:
            line = polynomial_fit([x[i] for i in places], [y[i] for i in places], 1)
        except PhysicsError:
            return False
        base, slope = line.coefficients
        off = (
            (y[i] - base - slope * x[i]) / max(math.hypot(u_y[i], slope * u_x[i]), _SINGULAR)
            for i in places
        )
        return math.fsum(one**2 for one in off) <= _WITHIN * (len(places) - 2)

    if len(x) < 4 or fits(everyone):
        return None
    found = [place for place in everyone if fits([i for i in everyone if i != place])]
    return found[0] if len(found) == 1 else None
