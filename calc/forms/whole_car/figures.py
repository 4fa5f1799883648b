"""What the collars, the oil and the pistons have to do once one thing has changed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import ceil, floor

from calc.answering.hand import to_step
from calc.forms.common.seat import Seat, check_not_bound
from calc.forms.names import corner_word
from calc.forms.whole_car.damping import Damping, damping_of
from calc.forms.whole_car.state import State, bench, pair_after, pair_before, places
from calc.language import tr
from calc.model.corners import CORNERS, ENDS, End
from calc.physics.chassis import Corner, shares, turn_collars
from calc.physics.linkage import lift_per_turn
from calc.physics.settle import Stance, balance_point, measured_leg, settle, turned
from calc.replying.form import Given, Problem, part
from calc.units import STANDARD_GRAVITY

_HEIGHT, _CROSS = 0.2e-3, 0.005  # m and share that weigh alike when the turns are rounded
_MOST = 100.0  # turns; no thread is longer


@dataclass(frozen=True)
class Plan:
    """The car before, after the change alone, and what to do: turns of each collar (exact ones
    keep the height), seats then, the stance that the rounding leaves, damping of each end."""

    was: State
    becomes: State
    exact: tuple[float, ...]
    turns: tuple[float, ...]
    seats: tuple[Seat, ...]
    stance: Stance
    readings: tuple[float, ...]
    rises: tuple[float, ...]
    damping: dict[str, Damping]


def plan(given: Given, was: State, becomes: State) -> Plan:
    """The whole list for the car. Raises Problem."""
    exact = (*was.front.turns_to(becomes.front), *was.rear.turns_to(becomes.rear))
    if max(map(abs, exact)) > _MOST:
        raise Problem(
            "change",
            tr(
                "The collars would have to move by more turns than any thread has: check the new "
                "numbers and the car record."
            ),
        )
    still = _still(becomes, exact)
    corners = _corners(becomes, still)
    turns = _turns(given, was, becomes, corners, exact)
    stance = _stance(becomes, still, corners, [c - n for c, n in zip(turns, exact, strict=True)])
    moved = zip(becomes.masses, stance.loads, still, strict=True)
    readings = tuple(
        max(0.0, mass + (load - seat.load) / STANDARD_GRAVITY) for mass, load, seat in moved
    )
    return Plan(
        was=was,
        becomes=becomes,
        exact=exact,
        turns=turns,
        seats=tuple(
            seat.down(n * becomes.end_of(place).pitch)
            for place, (seat, n) in enumerate(zip(becomes.seats(), turns, strict=True))
        ),
        stance=stance,
        readings=readings,
        rises=tuple(stance.height((corner.x, corner.y)) for corner in corners),
        damping={key: damping_of(given, was.pair(key), becomes.pair(key)) for key in ENDS},
    )


def _still(becomes: State, exact: Sequence[float]) -> list[Seat]:
    """The corners with the collars where nothing moves. Raises Problem where a spring binds."""
    made = []
    for place, (seat, key) in enumerate(zip(becomes.seats(), CORNERS, strict=True)):
        still = seat.down(exact[place] * becomes.end_of(place).pitch)
        label = tr("{corner} spring then", corner=corner_word(key).capitalize())
        made.append(check_not_bound(still, "change", label))
    return made


def _corners(becomes: State, seats: Sequence[Seat]) -> tuple[Corner, ...]:
    made = []
    for place, ((x, y), seat) in enumerate(zip(places(becomes), seats, strict=True)):
        pitch = becomes.end_of(place).pitch
        lift = lift_per_turn(pitch=pitch, motion_ratio=seat.motion_ratio)
        made.append(Corner(x, y, seat.wheel_rate, lift))
    return tuple(made)


def _turns(
    given: Given,
    was: State,
    becomes: State,
    corners: Sequence[Corner],
    exact: Sequence[float],
) -> tuple[float, ...]:
    step = given.turn_step
    if given.choice("keep") == "preload":
        made = []
        for place in range(4):
            now, then = was.end_of(place), becomes.end_of(place)
            made.append(to_step((now.stack.free - then.stack.free) / then.pitch, step))
        return tuple(made)
    choices = [sorted({floor(n / step + 1e-9) * step, ceil(n / step - 1e-9) * step}) for n in exact]
    total = sum(becomes.masses) * STANDARD_GRAVITY

    def miss(turns: Sequence[float]) -> tuple[bool, float]:
        left = [n - exactly for n, exactly in zip(turns, exact, strict=True)]
        change = turn_collars(corners, left)
        rises = [change.rise((corner.x, corner.y)) for corner in corners]
        beyond = any(
            abs(rise) > corner.turn_lift * step / 2 * (1 + 1e-9)
            for rise, corner in zip(rises, corners, strict=True)
        )
        cross = (change.loads[0] + change.loads[3]) / total
        cost = sum((rise / _HEIGHT) ** 2 for rise in rises) + (cross / _CROSS) ** 2
        return beyond, cost

    return min(product(*choices), key=miss)


def _stance(
    becomes: State, still: Sequence[Seat], corners: Sequence[Corner], left: Sequence[float]
) -> Stance:
    """Where the body rests, `left` turns away from those that keep it at height 0."""
    loads = [seat.load for seat in still]
    legs = [
        turned(
            measured_leg(
                corner,
                load=seat.load,
                preload=_preload(seat),
                height=0.0,
            ),
            n,
        )
        for corner, seat, n in zip(corners, still, left, strict=True)
    ]
    return settle(legs, weight=sum(loads), centre=balance_point(corners, loads))


def _preload(seat: Seat) -> float:
    """Wheel load at which the corner leaves its droop stop, N; below 0 where it is loose."""
    force = seat.preload_force if seat.preload > 0 else seat.preload * seat.rate
    return force * seat.motion_ratio


def figures(given: Given) -> Mapping[str, float]:
    """Figures with a doubt worth carrying, SI, exact."""
    masses = [mass for key in ENDS for mass in pair_after(given, key).masses]
    ends = {**_of_end(given, End.FRONT), **_of_end(given, End.REAR)}
    return {**ends, "cross_weight": shares(masses).cross}


@part
def _of_end(given: Given, key: End) -> Mapping[str, float]:
    was, becomes, table = pair_before(given, key), pair_after(given, key), bench(given)
    seat, ratio = was.settled(becomes), was.end.ratio(was.mean_seat, table, was.end.oil)
    left, right = was.turns_to(becomes)
    return {
        f"{key}_left_turns": left,
        f"{key}_right_turns": right,
        f"{key}_preload": seat.preload,
        f"{key}_frequency": seat.frequency,
        f"{key}_ratio_before": ratio,
        f"{key}_damping_change": becomes.end.ratio(seat, table, becomes.end.oil) / ratio,
    }
