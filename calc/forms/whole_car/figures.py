"""What the collars, the oil and the pistons have to do once one thing has changed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import product
from math import ceil, floor

from calc.answering.answer import Pour
from calc.answering.hand import to_step
from calc.forms.bottles import pours
from calc.forms.findings import MOST_TURNS, check_thread
from calc.forms.friction import BETWEEN_READINGS
from calc.forms.names import labelled_corner, labelled_end
from calc.forms.whole_car.damping import Damping, damping_of
from calc.forms.whole_car.inputs import Asked
from calc.forms.whole_car.state import (
    State,
    after,
    damping_after,
    damping_before,
    end_after,
    end_before,
)
from calc.language import tr
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.standing import Predicted, Seat, Standing
from calc.physics.chassis import shares
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import Problem, memoised
from calc.units import STANDARD_GRAVITY

_HEIGHT, _CROSS = 0.2e-3, 0.005  # m and share that weigh alike when the turns are rounded

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
    def pours(self) -> tuple[Pour, ...]:
        """What the oils to fill in take out of which bottle of the car."""
        return tuple(one for end in ENDS for one in pours(self.damping[end].poured, end))

    def mean_turns(self, end: End) -> float:
        """Turns of a collar of an end, the mean of both."""
        return sum(self.turns[corner] for corner in end.corners) / 2

    def mean_exact(self, end: End) -> float:
        """Turns of a collar that keep the height, the mean of both of an end."""
        return sum(self.exact[corner] for corner in end.corners) / 2


def plan(asked: Asked, was: State, becomes: State) -> Plan:
    """The whole list for the car. Raises Problem."""
    each = [turns for end in ENDS for turns in was.end(end).turns_to(becomes.end(end))]
    exact = dict(zip(CORNERS, each, strict=True))
    if max(map(abs, each)) > MOST_TURNS:
        raise Problem(
            Asked.change,
            tr(
                "The collars would have to move by more turns than any thread has: check the new "
                "numbers and the car record."
            ),
        )
    still = becomes.standing(exact)
    turns = _turns(asked, was, becomes, still, exact)
    for corner, n in turns.items():
        state = was.end(corner.end)
        check_thread(Asked.change, corner, n, becomes.pitch(corner), state.suspension.stack.free)
    pairs = zip(CORNERS, becomes.seats, strict=True)
    return Plan(
        was=was,
        becomes=becomes,
        exact=exact,
        turns=turns,
        seats=tuple(seat.down(turns[corner] * becomes.pitch(corner)) for corner, seat in pairs),
        then=still.turned([turns[corner] - exact[corner] for corner in CORNERS]),
        damping=damping_of(asked, was, becomes),
    )


def _turns(asked: Asked, was: State, becomes: State, still: Standing, exact: Turns) -> Turns:
    step = asked.turn_step
    if asked.keep == "preload":
        longer = {
            end: was.end(end).suspension.stack.free - becomes.end(end).suspension.stack.free
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


class CornerTurns(Figures):
    turns: float = figure("turns that keep the height, exact (down is positive)", kind="turns")


class CornerRise(Figures):
    rise: float = figure("higher by", kind="length")


class EndFigures(Figures):
    preload: float = figure("preload at full droop, height kept", kind="length")
    frequency: float = figure("ride frequency then", kind="frequency")
    ratio_before: float = figure("damping ratio before", kind="ratio")
    damping_change: float = figure(
        "damping ratio after the change alone, share of before", kind="share"
    )


class DampingThen(Figures):
    ratio: float = figure("damping ratio once it is done", kind="ratio")
    oil_exact: float = figure("oil, exact, at 25 °C", kind="viscosity")


class CarFigures(Figures):
    turns: Mapping[Corner, CornerTurns] = by_key(labelled_corner)
    ends: Mapping[End, EndFigures] = by_key(labelled_end)
    cross_weight: float = figure("Cross weight after the rounded turns", kind="share")
    rises: Mapping[Corner, CornerRise] = by_key(labelled_corner)
    damping: Mapping[End, DampingThen] = by_key(labelled_end)


def figures(asked: Asked, made: Plan) -> CarFigures:
    """What comes of the turns of the plan by the linear model, and the oil by how the damping
    follows it where the plan is."""
    still = _still(asked)
    held = still.held([BETWEEN_READINGS * rest for rest in asked.rests()])
    turns = _exact_turns(asked)
    ends = {end: _of_end(asked, end) for end in ENDS}
    moved = still.change([made.turns[corner] - turns[corner] for corner in CORNERS])
    rises = {}
    for corner, wheel in zip(CORNERS, still.corners, strict=True):
        at = wheel.x, wheel.y
        rises[corner] = CornerRise(rise=moved.rise(at) + held.rise(at))
    return CarFigures(
        turns={corner: CornerTurns(turns=n) for corner, n in turns.items()},
        ends=ends,
        cross_weight=shares(moved.on_scales(held.on_scales(still.readings))).cross,
        rises=rises,
        damping={end: _damping_then(asked, end, ends[end], made) for end in ENDS},
    )


def _damping_then(asked: Asked, end: End, of: EndFigures, made: Plan) -> DampingThen:
    """As the plan has it, and moved by an input as much as what it was worked out from."""
    damping, was = made.damping[end], made.becomes.end(end).oil
    change = damping.changed / damping.before
    by_oil = change / of.damping_change if damping.named or damping.lack else 1.0
    return DampingThen(
        ratio=of.ratio_before * of.damping_change * damping.mended / damping.changed,
        oil_exact=end_after(asked, end).oil * by_oil * damping.grade / was,
    )


def shown(found: CarFigures, made: Plan) -> CarFigures:
    """The figures with those of the plan, which was worked out in full."""
    return replace(
        found,
        cross_weight=made.then.shares.cross,
        rises={
            corner: CornerRise(rise=rise)
            for corner, rise in zip(CORNERS, made.then.rises, strict=True)
        },
    )


@memoised
def _still(asked: Asked) -> Standing:
    """The car with its collars where they keep the body still, exactly."""
    return after(asked).standing(_exact_turns(asked))


def _exact_turns(asked: Asked) -> dict[Corner, float]:
    """The turns that keep the height."""
    each = [n for end in ENDS for n in _turns_of(asked, end)]
    return dict(zip(CORNERS, each, strict=True))


@memoised
def _turns_of(asked: Asked, end: End) -> list[float]:
    return end_before(asked, end).turns_to(end_after(asked, end))


@memoised
def _of_end(asked: Asked, end: End) -> EndFigures:
    was, becomes = end_before(asked, end), end_after(asked, end)
    seat, ratio = was.settled(becomes), was.mean_seat.damping_ratio(damping_before(asked, end))
    return EndFigures(
        preload=seat.preload,
        frequency=seat.frequency,
        ratio_before=ratio,
        damping_change=seat.damping_ratio(damping_after(asked, end)) / ratio,
    )
