"""Choices of 0 and 1 by `scipy.optimize.milp`, to compare searches of our own with."""

import numpy as np
from scipy import optimize

Rows = list[list[float]]


def chosen(
    cost: list[float], rows: Rows, least: list[float], most: list[float], whole: list[int]
) -> tuple[float, np.ndarray] | None:
    """Least cost and its variables, or None where nothing fits: each row of them between its two
    bounds; a variable is 0 or 1 where `whole` is 1, else any number not below 0."""
    found = optimize.milp(
        cost,
        integrality=whole,
        bounds=optimize.Bounds(0, [1 if n else np.inf for n in whole]),
        constraints=optimize.LinearConstraint(np.array(rows), least, most),
        options={"mip_rel_gap": 0},
    )
    return (float(found.fun), found.x) if found.success else None
