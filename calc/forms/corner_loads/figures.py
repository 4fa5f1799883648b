"""The car on four scales: what opposite turns do to loads and heights, and which are best."""

from collections.abc import Sequence
from itertools import product

from calc.answering.hand import to_step
from calc.forms import entered
from calc.forms.corner_loads.inputs import Asked, Where
from calc.forms.findings import MOST_TURNS, no_thread_for, off_stop
from calc.forms.friction import BETWEEN_READINGS
from calc.language import tr
from calc.model.corners import CORNERS, Corner
from calc.model.standing import Predicted, Standing
from calc.physics.chassis import shares, still_turns
from calc.replying.figures import Figures, figure
from calc.replying.inputs import Problem, memoised
from calc.units import STANDARD_GRAVITY

OPPOSITE = (1.0, -1.0, -1.0, 1.0)  # more cross weight: front left and rear right down
PAIRS: dict[Where, tuple[float, ...]] = {
    "all": OPPOSITE,
    "front": (1.0, -1.0, 0.0, 0.0),
    "rear": (0.0, 0.0, -1.0, 1.0),
}
_LEAN, _OFF = 0.2e-3, 0.0025  # m of lean at a wheel that counts like so much cross weight missed
_AROUND = (-2, -1, 0, 1, 2)  # steps tried around the exact turns
_LEFT = (Corner.FRONT_LEFT, Corner.REAR_LEFT)


def stand(asked: Asked) -> Standing:
    """The car on the scales, taken to stand level. Raises Problem."""
    return Standing(entered.legs(asked))


def exact(asked: Asked, car: Standing) -> tuple[float, ...]:
    """The turns, exact, that bring the cross weight to its target by the linear model."""
    return _exact(asked, car, car.readings)


def _exact(asked: Asked, car: Standing, loads: Sequence[float]) -> tuple[float, ...]:
    where, target = asked.where, asked.cross_wanted
    if where == "all":
        return still_turns(car.corners, loads, target)
    number = (target - shares(loads).cross) / cross_of_a_turn(car, where)
    return tuple(number * each for each in PAIRS[where])


def cross_of_a_turn(car: Standing, where: Where) -> float:
    """Change of cross weight by one opposite turn of each collar concerned."""
    return car.change(PAIRS[where]).cross / car.shares.total


def best(asked: Asked, car: Standing) -> tuple[float, ...]:
    """Whole steps: the cross weight within the rounding, the least lean among those. A car that
    stands on a droop stop comes off it first: until then its collar shifts no load."""
    turns = (0.0,) * len(CORNERS) if any(car.stance.on_stop) else _opposite(asked, car)
    return _off_stops(asked, car, turns)


def _opposite(asked: Asked, car: Standing) -> tuple[float, ...]:
    step = asked.turn_step
    front, _, _, rear = exact(asked, car)
    if max(abs(front), abs(rear)) > MOST_TURNS:
        raise Problem(
            Asked.cross_wanted,
            tr(
                "Cross weight wanted: these collars would need over {most} turns; it is out of "
                "reach of the springs.",
                most=f"{MOST_TURNS:.0f}",
            ),
        )
    steps = [_near(front, step), _near(rear, step)]
    within = abs(cross_of_a_turn(car, asked.where)) * step / 2
    return min(
        ((f, -f, -r, r) for f, r in product(*steps)),
        key=lambda turns: _miss(asked.cross_wanted, within, car, turns),
    )


def _off_stops(asked: Asked, car: Standing, turns: tuple[float, ...]) -> tuple[float, ...]:
    """These turns with both collars of an end so much further up that none of its corners rests on
    its droop stop then; unchanged where that does not help or no thread goes so far."""
    found = turns
    while any((then := car.turned(found)).stance.on_stop):
        found = tuple(
            n - max(_steps_up(asked, then, each) for each in corner.end.corners)
            for corner, n in zip(CORNERS, found, strict=True)
        )
        too_far = (
            no_thread_for(leg.seat, n, leg.pitch) for leg, n in zip(car.legs, found, strict=True)
        )
        if any(then.stance.lifted) or any(too_far):
            return turns
    return found


def _steps_up(asked: Asked, then: Predicted, corner: Corner) -> float:
    """Turns up, in whole steps, that bring a corner off its droop stop; none where it is clear."""
    if not then.stance.on_stop[corner.place]:
        return 0.0
    return max(asked.turn_step, off_stop(-then.spares[corner.place], asked.turn_step))


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


@memoised
def _before_and_after(asked: Asked, turns: tuple[float, ...]) -> tuple[Standing, Predicted]:
    """The car now and once it is turned: whatever friction does, it is the same car."""
    car = stand(asked)
    return car, car.turned(turns)


class Weights(Figures):
    """What four scales show by themselves."""

    cross_weight: float = figure("Cross weight now (front left + rear right)", kind="share")
    front_share: float = figure("Front share", kind="share")
    left_share: float = figure("Left share", kind="share")


def weights(asked: Asked) -> Weights:
    now = shares([row.load for row in asked.corner])
    return Weights(cross_weight=now.cross, front_share=now.front, left_share=now.left)


class LoadFigures(Weights):
    """The exact turns are those of the pairs that are turned, the way that its label says."""

    front_turns: float | None = figure("Front turns, exact: {front}", kind="turns", default=None)
    rear_turns: float | None = figure("Rear turns, exact: {rear}", kind="turns", default=None)
    cross_after: float = figure("Cross weight after the rounded turns", kind="share")
    mean_height: float = figure("The mean height moves by", kind="length")
    lean: float = figure("Left and right then differ in height by", kind="length")
    mass: float = figure("Weight of the whole car", kind="mass")


def figures(asked: Asked, turns: Sequence[float], ways: tuple[float, float]) -> LoadFigures:
    """`turns` of the collars are those of the hand; `ways` are 1 where the exact turns of an end
    go the way that adds cross weight, else −1."""
    car, after = _before_and_after(asked, tuple(turns))
    rests, high = asked.rests(), (asked.level, 0.0, 0.0, 0.0)
    raised = [one + up for one, up in zip(rests, high, strict=True)]
    again = [BETWEEN_READINGS * one + up for one, up in zip(rests, high, strict=True)]
    loads = car.held(raised).on_scales(car.readings)
    now, then = shares(loads), shares(car.held(again).on_scales(after.readings))
    front, _, _, rear = _exact(asked, car, loads)
    lean = [after.rises[corner.place] - after.rises[corner.other.place] for corner in _LEFT]
    return LoadFigures(
        cross_weight=now.cross,
        front_share=now.front,
        left_share=now.left,
        front_turns=ways[0] * front if asked.where in ("all", "front") else None,
        rear_turns=ways[1] * rear if asked.where in ("all", "rear") else None,
        cross_after=then.cross,
        mean_height=sum(after.rises) / len(after.rises),
        lean=max(map(abs, lean)),
        mass=now.total / STANDARD_GRAVITY,
    )
