"""What the collars, the oil and the pistons have to do once one thing has changed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from math import ceil, floor

from calc.answering.hand import to_step
from calc.forms.findings import check_thread
from calc.forms.friction import AGAIN, rests
from calc.forms.whole_car.damping import Damping, damping_of
from calc.forms.whole_car.state import (
    State,
    after,
    before,
    damping_after,
    damping_before,
    pair_after,
    pair_before,
)
from calc.language import tr
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.standing import Predicted, Seat, Standing
from calc.physics.chassis import shares
from calc.replying.form import Given, Problem, part
from calc.units import STANDARD_GRAVITY

_HEIGHT, _CROSS = 0.2e-3, 0.005  # m and share that weigh alike when the turns are rounded
_MOST = 100.0  # turns; no thread is longer

Turns = Mapping[Corner, float]


@dataclass(frozen=True)
class Plan:
    """The car before, after the change alone, and what to do: turns of each collar (exact ones
    keep the height), seats then, where the rounding leaves the body, damping of each end."""

    was: State
    becomes: State
    exact: Turns
    turns: Turns
    seats: tuple[Seat, ...]
    then: Predicted
    damping: dict[End, Damping]

    @property
    def masses(self) -> tuple[float, ...]:
        """What the scales show then, kg."""
        return tuple(reading / STANDARD_GRAVITY for reading in self.then.readings)

    @property
    def poured(self) -> tuple[tuple[int, float], ...]:
        """What the oils to fill in take out of which bottle of the car."""
        return tuple(portion for end in ENDS for portion in self.damping[end].poured)

    def mean_turns(self, end: End) -> float:
        """Of both collars of an end."""
        return sum(self.turns[corner] for corner in end.corners) / 2

    def mean_exact(self, end: End) -> float:
        return sum(self.exact[corner] for corner in end.corners) / 2


def plan(given: Given, was: State, becomes: State) -> Plan:
    """The whole list for the car. Raises Problem."""
    each = [turns for end in ENDS for turns in was.pair(end).turns_to(becomes.pair(end))]
    exact = dict(zip(CORNERS, each, strict=True))
    if max(map(abs, each)) > _MOST:
        raise Problem(
            "change",
            tr(
                "The collars would have to move by more turns than any thread has: check the new "
                "numbers and the car record."
            ),
        )
    still = becomes.standing(exact)
    turns = _turns(given, was, becomes, still, exact)
    for corner, n in turns.items():
        pair = was.pair(corner.end)
        check_thread("change", corner, n, becomes.pitch(corner), pair.suspension.stack.free)
    pairs = zip(CORNERS, becomes.seats, strict=True)
    return Plan(
        was=was,
        becomes=becomes,
        exact=exact,
        turns=turns,
        seats=tuple(seat.down(turns[corner] * becomes.pitch(corner)) for corner, seat in pairs),
        then=still.turned([turns[corner] - exact[corner] for corner in CORNERS]),
        damping={end: damping_of(given, was.pair(end), becomes.pair(end)) for end in ENDS},
    )


def _turns(given: Given, was: State, becomes: State, still: Standing, exact: Turns) -> Turns:
    step = given.turn_step
    if given.choice("keep") == "preload":
        longer = {
            end: was.pair(end).suspension.stack.free - becomes.pair(end).suspension.stack.free
            for end in ENDS
        }
        return {
            corner: to_step(longer[corner.end] / becomes.pitch(corner), step) for corner in CORNERS
        }
    choices = [
        sorted({floor(n / step + 1e-9) * step, ceil(n / step - 1e-9) * step})
        for n in exact.values()
    ]

    def miss(turns: Iterable[float]) -> tuple[bool, float]:
        away = [n - exactly for n, exactly in zip(turns, exact.values(), strict=True)]
        change = still.change(away)
        rises = [change.rise((corner.x, corner.y)) for corner in still.corners]
        beyond = any(
            abs(rise) > corner.turn_lift * step / 2 * (1 + 1e-9)
            for rise, corner in zip(rises, still.corners, strict=True)
        )
        cross = change.cross / still.shares.total
        cost = sum((rise / _HEIGHT) ** 2 for rise in rises) + (cross / _CROSS) ** 2
        return beyond, cost

    return dict(zip(CORNERS, min(product(*choices), key=miss), strict=True))


def figures(given: Given, made: Plan) -> Mapping[str, float]:
    """Figures with a doubt worth carrying, SI; what comes of the turns of the plan by the linear
    model, and the oil by how the damping follows it where the plan is."""
    ends = {**_of_end(given, End.FRONT), **_of_end(given, End.REAR)}
    still = _still(given)
    held = still.held(rests(given))
    away = [made.turns[corner] - ends[f"{corner}_turns"] for corner in CORNERS]
    moved = still.change(away)
    for corner, wheel in zip(CORNERS, still.corners, strict=True):
        at = wheel.x, wheel.y
        ends[f"{corner}_rise"] = moved.rise(at) + AGAIN * held.rise(at)
    for end in ENDS:
        damping, oil = made.damping[end], pair_after(given, end).oil
        change = ends[f"{end}_damping_change"]
        mend = damping.mended / damping.changed
        ends[f"{end}_ratio"] = ends[f"{end}_ratio_before"] * change * mend
        other = damping.grade / made.becomes.pair(end).oil
        by_oil = damping.changed / damping.before / change if damping.named or damping.lack else 1.0
        ends[f"{end}_oil_exact"] = oil * by_oil * other
    loads = [max(0.0, load + more) for load, more in zip(still.readings, held.loads, strict=True)]
    return {**ends, "cross_weight": shares(loads).cross}


@part
def _still(given: Given) -> Standing:
    """The car with its collars where they keep the body still, exactly."""
    was, becomes = before(given), after(given)
    each = [turns for end in ENDS for turns in was.pair(end).turns_to(becomes.pair(end))]
    return becomes.standing(dict(zip(CORNERS, each, strict=True)))


@part
def _of_end(given: Given, key: End) -> dict[str, float]:
    was, becomes = pair_before(given, key), pair_after(given, key)
    seat, ratio = was.settled(becomes), was.mean_seat.damping_ratio(damping_before(given, key))
    made = zip(key.corners, was.turns_to(becomes), strict=True)
    return {
        **{f"{corner}_turns": turns for corner, turns in made},
        f"{key}_preload": seat.preload,
        f"{key}_frequency": seat.frequency,
        f"{key}_ratio_before": ratio,
        f"{key}_damping_change": seat.damping_ratio(damping_after(given, key)) / ratio,
    }
