"""Creeping flow through a round hole between two wide rooms, on a grid: nothing but the balance of
viscous and pressure forces on every ring of liquid, and that no liquid is lost.

Radius, viscosity and pressure are 1; speeds stand on the faces of the cells and pressures in them.
Half of the hole is enough: in its middle the pressure is half, and nothing flows sideways there.
"""

import math

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import spsolve

ROOM = 6.0  # radii from the hole to where the room ends


class _Equations:
    """One equation for each unknown, put together term by term."""

    def __init__(self, count: int) -> None:
        self.rows: list[int] = []
        self.columns: list[int] = []
        self.factors: list[float] = []
        self.right = np.zeros(count)

    def add(self, row: int, column: int, factor: float) -> None:
        self.rows.append(row)
        self.columns.append(column)
        self.factors.append(factor)

    def solved(self) -> np.ndarray:
        at, shape = (self.rows, self.columns), (len(self.right), len(self.right))
        return np.asarray(spsolve(sparse.csc_matrix((self.factors, at), shape), self.right))


def resistance(length: float, cells: int) -> float:
    """Pressure over flow of a hole of a length in radii, in mu/a^3, with so many cells a radius."""
    step, inside, room = 1 / cells, round(length / 2 * cells), round(ROOM * cells)
    liquid = np.ones((inside + room, room), bool)
    liquid[:inside, cells:] = False
    along = np.vstack([liquid[:1], liquid[1:] & liquid[:-1], liquid[-1:]])
    closed = np.zeros((len(liquid), 1), bool)
    across = np.hstack([closed, liquid[:, 1:] & liquid[:, :-1], closed])
    # Unknowns by their place, -1 where there are none.
    places, count = [], 0
    for mask in (along, across, liquid):
        place = np.full(mask.shape, -1)
        place[mask] = count + np.arange(mask.sum())
        places.append(place)
        count += mask.sum()
    u, v, p = places
    made = _Equations(count)
    _balance_along(made, u, p, step)
    _balance_across(made, v, p, step)
    for (k, j), row in np.ndenumerate(p):
        if row >= 0:  # as much goes in as comes out
            radius = j + 0.5
            for column, factor in (
                (u[k + 1, j], 1.0), (u[k, j], -1.0), (v[k, j + 1], (j + 1) / radius),
                (v[k, j], -j / radius),
            ):  # fmt: skip
                if column >= 0:
                    made.add(row, column, factor / step)
    speeds = made.solved()[u[0, :cells]]
    flow = (speeds * math.tau * (np.arange(cells) + 0.5) * step**2).sum()
    return float(2 / -flow)  # the room beyond has a pressure of 1 more, twice that in all


def _balance_along(made: _Equations, u: np.ndarray, p: np.ndarray, step: float) -> None:
    last, room = len(u) - 1, u.shape[1]
    for (k, j), row in np.ndenumerate(u):
        if row < 0:
            continue
        own = 0.0
        for beside, edge in ((j + 1, j + 1.0), (j - 1, float(j))):
            share = edge / (j + 0.5) / step**2
            if beside < room and edge and u[k, beside] >= 0:
                made.add(row, u[k, beside], share)
                own -= share
            elif beside < room and edge:
                own -= 2 * share  # a wall half a cell away; at the end of the room it slips
        for next_to in (k + 1, abs(k - 1)):
            if next_to <= last:  # beyond the room the flow goes on as it is
                own -= 1 / step**2
                if u[next_to, j] >= 0:
                    made.add(row, u[next_to, j], 1 / step**2)
        made.add(row, row, own)
        if k == 0:
            made.add(row, p[0, j], -2 / step)
        elif k == last:
            made.add(row, p[-1, j], 2 / step)
            made.right[row] = 2 / step
        else:
            made.add(row, p[k, j], -1 / step)
            made.add(row, p[k - 1, j], 1 / step)


def _balance_across(made: _Equations, v: np.ndarray, p: np.ndarray, step: float) -> None:
    for (k, j), row in np.ndenumerate(v):
        if row < 0:
            continue
        own = -1 / (j * step) ** 2
        for beside in (j + 1, j - 1):
            share = (j + beside) / (2 * j) / step**2
            own -= share
            if v[k, beside] >= 0:
                made.add(row, v[k, beside], share)
        for next_to in (k + 1, k - 1):
            if next_to == len(v):
                continue
            if next_to >= 0 and v[next_to, j] >= 0:
                made.add(row, v[next_to, j], 1 / step**2)
                own -= 1 / step**2
            else:
                own -= 2 / step**2  # a wall, or the middle of the hole, half a cell away
        made.add(row, row, own)
        made.add(row, p[k, j], -1 / step)
        made.add(row, p[k, j - 1], 1 / step)
