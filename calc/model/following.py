"""What follows for the rest of the record from something done to the car.

A turned collar shortens the space of its spring, lifts the body and shifts load; another spring
lets the body come to rest elsewhere. The ride heights and loads that result are predicted by
standing the car up, and marked as predicted, with an uncertainty, until somebody measures again.
"""

import math
from collections.abc import Callable, Mapping, Sequence

from calc.asking import record
from calc.asking.entry import Refused
from calc.model.car import (
    Car,
    entry_uncertainty,
    forget,
    is_known,
    is_sure,
    number_at,
    put,
    singles,
)
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.origin import Origin
from calc.model.standing import (
    Predicted,
    SpringSize,
    Standing,
    points_of,
    stack_of,
    stand_up,
)
from calc.physics.stack import Stack
from calc.units import STANDARD_GRAVITY

GAUGED = (".ride_height", ".load")
"""How the paths end of what work at springs and collars changes, and a gauge or a scale shows."""
FOLLOWS = (*GAUGED, ".droop_length")
"""How the paths end of what is worked out after such work: no hand sets any of these by itself."""
_LEAST_MASS = 1e-4
"""What is added to a car or taken from it, kg, where it weighs otherwise than before."""
_SPRING = ("spring_rate", "spring_free", "spring_solid")
_LIFTS = ("pitch", "motion_ratio")
_STANDS = (*_SPRING, *_LIFTS, "droop_length", "unsprung", "track", "stroke", "reach", "gauge_width")


def is_gauged(path: str) -> bool:
    """Whether the value at a path is one of `GAUGED`."""
    return path.endswith(GAUGED)


def follows(path: str) -> bool:
    """Whether the value at a path is one of `FOLLOWS`."""
    return path.endswith(FOLLOWS)


def followed(
    before: Car,
    after: Car,
    turns: Mapping[Corner, float],
    *,
    said: frozenset[str],
    when: float,
    of: str,
) -> Car:
    """The car `after` something was done to it, with all that follows from that. It has the parts
    that were fitted and the collars that were turned; what the deed `said` itself stays."""
    after = _lengthened(before, after, said, when, of)
    refitted = [end for end in ENDS if _differ(before, after, end, _SPRING)]
    car = after
    loads = {path: record.get(after, path) for path in said if path.endswith(".load")}
    if stands_up(before) and (more := added(before, loads)):
        car = _told(car, _at_rest(before, lambda was: _loaded(was, more)), said, when, of)
    if refitted:
        made = _at_rest(before, lambda was: was.refitted(_stacks(after, refitted)))
        car = _told(car, made, said, when, of)
    if any(turns.values()):
        car = _turned(car, turns, said, when, of)
    return car


def _lengthened(before: Car, after: Car, said: frozenset[str], when: float, of: str) -> Car:
    """A damper is as much shorter, fully out, as its rod end is further on the shaft; its spring,
    whose seat goes with the rod end, has as much less room at full droop."""
    car = after
    for end in ENDS:
        total = 0.0
        for corner in end.corners:
            length, thread = (f"corners.{corner}.{name}" for name in ("damper_length", "engaged"))
            longer = _moved(before, after, length, said) or -_moved(before, after, thread, said)
            total += longer
            car = _shifted(car, length, longer, said, when, of)
        for name in ("damper_length", "droop_length"):
            car = _shifted(car, f"{end}.{name}", total / len(end.corners), said, when, of)
    return car


def _moved(before: Car, after: Car, path: str, said: frozenset[str]) -> float:
    """How much more there is now of what was known before and the deed says, m."""
    if path not in said or not is_known(before, path):
        return 0.0
    more: float = record.get(after, path) - record.get(before, path)
    return more


def _shifted(car: Car, path: str, by: float, said: frozenset[str], when: float, of: str) -> Car:
    """The car with so much more there, in doubt as turns of a rod end are, unless the deed says
    what there is."""
    if not by or path in said:
        return car
    u = abs(by) * share_of(car, "rod_end.pitch")
    return _predicted(car, path, record.get(car, path) + by, u, when, of)


def _differ(before: Car, after: Car, end: End, names: tuple[str, ...]) -> bool:
    return any(getattr(before.axle(end), n) != getattr(after.axle(end), n) for n in names)


def stands_up(car: Car) -> bool:
    """Whether enough is known of the car to stand it up."""
    paths = [f"{end}.{name}" for end in ENDS for name in (*_STANDS, "ride_height")]
    paths += [f"corners.{corner}.load" for corner in CORNERS]
    return all(is_known(car, path) for path in (*paths, "body.wheelbase"))


def _at_rest(car: Car, does: Callable[[Standing], Predicted]) -> Predicted | None:
    """Where the car comes to rest once something is done to it; None where nobody can say."""
    if not stands_up(car):
        return None
    try:
        made = does(stand_up(car))
        made.stance  # noqa: B018  # whether it comes to rest at all
    except ValueError:
        return None
    return made


def _stacks(car: Car, ends: list[End]) -> dict[End, Stack]:
    """The springs of these ends. Raises CannotStand."""
    return {
        end: stack_of([SpringSize(*(getattr(car.axle(end), name) for name in _SPRING))])
        for end in ends
    }


def added(car: Car, said: Mapping[str, float]) -> tuple[float, ...]:
    """How much more the scales will show at the corners, kg, by what work says of paths of the
    record, where the car then weighs otherwise: load that collars shift is none in all. Else
    empty."""
    loads = [f"corners.{corner}.load" for corner in CORNERS]
    if not said.keys() >= {*loads}:
        return ()
    more = tuple(said[path] - record.get(car, path) for path in loads)
    return more if abs(math.fsum(more)) > _LEAST_MASS else ()


def _loaded(was: Standing, more: Sequence[float]) -> Predicted:
    """With a mass put in where the scales under the wheels feel it. Raises ValueError."""
    mass = math.fsum(more)
    x = math.fsum(kg * leg.x for kg, leg in zip(more, was.legs, strict=True)) / mass
    y = math.fsum(kg * leg.y for kg, leg in zip(more, was.legs, strict=True)) / mass
    return was.loaded(mass, (x, y))


def _turned(
    car: Car, turns: Mapping[Corner, float], said: frozenset[str], when: float, of: str
) -> Car:
    by = [turns.get(corner, 0.0) for corner in CORNERS]
    made = _at_rest(car, lambda was: was.turned(by))
    after = _told(car, made, said, when, of) if made else _lifted(car, turns, said, when, of)
    for end in ENDS:
        path, mean, pitch = f"{end}.droop_length", _mean(turns, end), f"{end}.pitch"
        if mean and path not in said:
            length = record.get(car, path) - mean * car.axle(end).pitch
            u = abs(mean) * uncertainty_of(car, pitch)
            after = _predicted(after, path, length, u, when, of, known=pitch)
    return after


def _mean(turns: Mapping[Corner, float], end: End) -> float:
    return sum(turns.get(corner, 0.0) for corner in end.corners) / 2


def _told(car: Car, made: Predicted | None, said: frozenset[str], when: float, of: str) -> Car:
    """The car with the heights and loads predicted; with none known where nothing is."""
    if made is None:
        for path in singles():
            if is_gauged(path) and path not in said and is_known(car, path) and not car.demo:
                car = _stale(car, path, when, of)
        return car
    points, readings = points_of(car), made.readings
    after = car
    for place, end in enumerate(ENDS):
        rise = sum(made.rise(points[2 * place + side]) for side in (0, 1)) / 2
        path = f"{end}.ride_height"
        if path not in said and rise:
            at = record.get(car, path) + rise
            after = _predicted(after, path, at, _spread(car, end, rise), when, of)
    for corner, reading in zip(CORNERS, readings, strict=True):
        path = f"corners.{corner}.load"
        mass = reading / STANDARD_GRAVITY
        moved = mass - record.get(car, path)
        if path not in said and moved:
            after = _predicted(after, path, mass, _spread(car, corner.end, moved), when, of)
    return after


def _lifted(
    car: Car, turns: Mapping[Corner, float], said: frozenset[str], when: float, of: str
) -> Car:
    """Where too little is known to stand the car up: each end lifted by itself, loads unknown once
    its sides are turned differently."""
    after = car
    for end in ENDS:
        mean, path = _mean(turns, end), f"{end}.ride_height"
        if not any(turns.get(corner) for corner in end.corners):
            continue
        if path not in said and is_known(car, path):
            axle = car.axle(end)
            rise = mean * axle.pitch / axle.motion_ratio
            if all(is_known(car, f"{end}.{name}") for name in _LIFTS):
                u = _spread(car, end, rise)
                after = _predicted(after, path, axle.ride_height + rise, u, when, of)
            else:
                after = _stale(after, path, when, of)
        left, right = (turns.get(corner, 0.0) for corner in end.corners)
        if left != right and not car.demo:
            for corner in CORNERS:
                load = f"corners.{corner}.load"
                if load not in said and is_known(after, load):
                    after = _stale(after, load, when, of)
    return after


def _stale(car: Car, path: str, when: float, of: str) -> Car:
    """The car with what a gauge showed before as nothing but that."""
    source = Origin("stale", when, of, uncertainty_of(car, path))
    return put(car, path, record.get(car, path), source)


def _unknown(car: Car, path: str, when: float, of: str) -> Car:
    return _stale(car, path, when, of) if is_gauged(path) else forget(car, path)


def _spread(car: Car, end: End, change: float) -> float:
    """Standard uncertainty of a change that goes with pitch over motion ratio."""
    return abs(change) * math.hypot(*(share_of(car, f"{end}.{name}") for name in _LIFTS))


def share_of(car: Car, path: str) -> float:
    """Standard uncertainty of a number of the record as a share of it."""
    share: float = uncertainty_of(car, path) / abs(record.get(car, path))
    return share


def uncertainty_of(car: Car, path: str) -> float:
    """Standard uncertainty (SI) of a number of the record: its own, else that of its tool."""
    return uncertainty_with(car, path, car.origins.get(path))


def uncertainty_with(car: Car, path: str, source: Origin | None) -> float:
    """Standard uncertainty (SI) of a number of the record if it came from `source`."""
    if source is not None and source.u is not None:
        return source.u
    entry = number_at(path)
    return entry_uncertainty(car, entry, record.get(car, path))


def _predicted(
    car: Car, path: str, value: float, u: float, when: float, of: str, *, known: str = ""
) -> Car:
    """The car with a predicted value; not known any more where no car can be like that. What was
    only assumed stays so: work makes nothing known."""
    if not is_known(car, path):
        return car
    if known and not is_known(car, known):
        return _unknown(car, path, when, of)
    entry = number_at(path)
    try:
        checked = entry.check(value)
    except Refused:
        return car if car.demo else _unknown(car, path, when, of)
    if not is_sure(car, path):
        return put(car, path, checked)
    total = math.hypot(uncertainty_of(car, path), u)
    return put(car, path, checked, Origin("predicted", when, of, total))
