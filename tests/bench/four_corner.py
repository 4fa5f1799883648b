"""How long the best set of steps for four collars takes, and what rounding each collar would lose.

python tests/bench/four_corner.py [cars]
"""

import random
import statistics
import sys
import time
from math import inf
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from calc.physics.chassis import Wheel
from calc.physics.linear import back_substitute, triangular
from calc.physics.turns import NEAR, Wish, best_turns, equations


def car(dice: random.Random) -> tuple[list[Wheel], list[float]]:
    """A car of any usual size, its four loads in N."""
    wheelbase, half = dice.uniform(0.15, 0.5), dice.uniform(0.06, 0.2)
    corners = [
        Wheel(x, y, dice.uniform(300, 4000), dice.uniform(0.6e-3, 3e-3), dice.choice([inf, 2e4]))
        for x in (wheelbase, 0.0)
        for y in (half, -half)
    ]
    return corners, [dice.uniform(3.0, 12.0) for _ in corners]


def wish(dice: random.Random, corners: list[Wheel], *, cross: bool, tolerance: float) -> Wish:
    """Four rises near what a few turns bring, measured at the corners; a cross weight or none."""
    points = tuple((c.x, c.y) for c in corners)
    rises = tuple(dice.uniform(-3e-3, 3e-3) for _ in corners)
    return Wish(points, rises, tolerance, dice.uniform(0.47, 0.53) if cross else None)


def times(count: int, *, cross: bool, tolerance: float, step: float) -> list[float]:
    """Milliseconds of each of so many random cars."""
    dice = random.Random(7)
    spent = []
    for _ in range(count):
        corners, loads = car(dice)
        wanted = wish(dice, corners, cross=cross, tolerance=tolerance)
        start = time.perf_counter()
        best_turns(corners, wanted, loads=loads, step=step)
        spent.append(1e3 * (time.perf_counter() - start))
    return spent


def rounding_loses(count: int, *, tolerance: float, step: float) -> float:
    """Share of cars for which the exact turns, each rounded by itself, miss by more."""
    dice = random.Random(7)
    lost = 0
    for _ in range(count):
        corners, loads = car(dice)
        wanted = wish(dice, corners, cross=True, tolerance=tolerance)
        rows, right = equations(corners, wanted, loads=loads, step=step)
        rounded = [round(n) for n in back_substitute(*triangular(rows, right))]
        misses = [sum(r * n for r, n in zip(row, rounded, strict=True)) for row in rows]
        misfit = sum((m - v) ** 2 for m, v in zip(misses, right, strict=True))
        best = best_turns(corners, wanted, loads=loads, step=step, limits=((-30, 30),) * 4)
        lost += misfit > best.misfit + NEAR
    return lost / count


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 500
    print(f"{count} cars each, limits 8 turns either way; milliseconds: median, 99 %, worst")
    for cross in (True, False):
        for tolerance in (0.1e-3, 0.2e-3, 0.5e-3, 2e-3):
            for step in (0.25, 0.0625):
                spent = sorted(times(count, cross=cross, tolerance=tolerance, step=step))
                print(
                    f"cross weight {'wanted' if cross else 'free  '}  tolerance"
                    f" {1e3 * tolerance:3.1f} mm  step 1/{1 / step:<2.0f}"
                    f" {statistics.median(spent):7.2f} {spent[int(0.99 * count)]:7.2f}"
                    f" {spent[-1]:7.2f}"
                )
    lost = rounding_loses(count, tolerance=0.2e-3, step=0.25)
    print(f"rounding each collar by itself is worse for {lost:.0%} of the cars (0.2 mm, 1/4 turn)")


if __name__ == "__main__":
    main()
