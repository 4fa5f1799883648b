"""The car on four scales: what opposite turns do to loads and heights, and which are best."""

from collections.abc import Mapping, Sequence
from itertools import product

from calc.answering.hand import to_step
from calc.forms import entered
from calc.language import tr
from calc.model.standing import Standing
from calc.physics.chassis import still_turns
from calc.replying.form import Given, Problem

OPPOSITE = (1.0, -1.0, -1.0, 1.0)  # more cross weight: front left and rear right down
PAIRS = {
    "all": OPPOSITE,
    "front": (1.0, -1.0, 0.0, 0.0),
    "rear": (0.0, 0.0, -1.0, 1.0),
}
_LEAN, _OFF = 0.2e-3, 0.0025  # m of lean at a wheel that counts like so much cross weight missed
_AROUND = (-2, -1, 0, 1, 2)  # steps tried around the exact turns
_MOST = 60.0  # turns; no thread is longer


def stand(given: Given) -> Standing:
    """The car on the scales, taken to stand level. Raises Problem."""
    return Standing(entered.legs(given))


def exact(given: Given, car: Standing) -> tuple[float, ...]:
    """The turns, exact, that bring the cross weight to its target by the linear model."""
    where, target = given.choice("where"), given.cross_wanted
    if where == "all":
        return still_turns(car.corners, car.readings, target)
    number = (target - car.shares.cross) / cross_of_a_turn(car, where)
    return tuple(number * each for each in PAIRS[where])


def cross_of_a_turn(car: Standing, where: str) -> float:
    """Change of cross weight by one opposite turn of each collar concerned."""
    return car.change(PAIRS[where]).cross / car.shares.total


def best(given: Given, car: Standing) -> tuple[float, ...]:
    """Whole steps: the cross weight within the rounding, the least lean among those."""
    step = given.turn_step
    front, _, _, rear = exact(given, car)
    if max(abs(front), abs(rear)) > _MOST:
        raise Problem(
            "cross_wanted",
            tr(
                "Cross weight wanted: these collars would need over {most} turns; it is out of "
                "reach of the springs.",
                most=f"{_MOST:.0f}",
            ),
        )
    steps = [_near(front, step), _near(rear, step)]
    within = abs(cross_of_a_turn(car, given.choice("where"))) * step / 2
    return min(
        ((f, -f, -r, r) for f, r in product(*steps)),
        key=lambda turns: _miss(given.cross_wanted, within, car, turns),
    )


def _near(turns: float, step: float) -> list[float]:
    """Whole steps around the exact turns; a pair that stays is not touched."""
    if turns == 0:
        return [0.0]
    return [to_step(turns, step) + n * step for n in _AROUND]


def _miss(
    wanted: float, within: float, car: Standing, turns: Sequence[float]
) -> tuple[bool, float, float]:
    """Outside the rounding or not; miss and lean together; how many turns."""
    change = car.change(turns)
    cross = change.cross / car.shares.total
    off = abs(car.shares.cross + cross - wanted)
    lean = abs(change.roll) * max(corner.y for corner in car.corners)
    cost = (off / _OFF) ** 2 + (lean / _LEAN) ** 2
    return off > within * (1 + 1e-9), cost, sum(map(abs, turns))


def figures(given: Given, turns: Sequence[float]) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact."""
    car = stand(given)
    after = car.turned(turns)
    front, _, _, rear = exact(given, car)
    made = {
        "cross_weight": car.shares.cross,
        "front_share": car.shares.front,
        "left_share": car.shares.left,
        "cross_after": after.shares.cross,
        "mean_height": sum(after.rises) / len(after.rises),
    }
    for end, number in (("front", front), ("rear", rear)):
        if given.choice("where") in ("all", end):
            made[f"{end}_turns"] = number
    return made
