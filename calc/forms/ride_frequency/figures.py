"""Both ends of the car as a mass on a spring with a damper: figures, not words."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.forms.entered import at_end
from calc.forms.findings import said_at
from calc.forms.names import end_label
from calc.forms.ride_frequency.inputs import Asked
from calc.model.corners import ENDS, End
from calc.model.damper import Damped
from calc.model.standing import Seat, carrying, spring_load
from calc.physics.ride import overshoot
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import memoised


@dataclass(frozen=True)
class Ride(Damped):
    """The mean corner of an end, with the oil in it and the damping ratio wanted."""

    end: End
    oil: float
    wanted: float


def ride(asked: Asked, end: End) -> Ride:
    """An end of the car: the mean of its two corners. Raises Problem."""
    row = asked.end_row(end)
    return Ride(
        seat=_seat(asked, end),
        piston=asked.dampers[end].made(),
        bench=asked.bench(),
        end=end,
        oil=row.oil,
        wanted=row.wanted,
    )


def _seat(asked: Asked, end: End) -> Seat:
    row, masses = asked.end_row(end), asked.masses(end)
    with said_at(at_end(row)):
        return carrying(
            rate=row.spring_rate,
            load=spring_load(sum(masses) / len(masses), row.unsprung),
            motion_ratio=row.motion_ratio,
            growth=asked.arms[end].growth,
            tyre_rate=asked.tyres[end].tyre_rate,
        ).check()


class EndFigures(Figures):
    frequency: float = figure("ride frequency", kind="frequency")
    wheel_rate: float = figure("wheel rate", kind="rate")
    ratio: float = figure("damping ratio now", kind="ratio")
    overshoot: float = figure("overshoot now", kind="share")


class RideFigures(Figures):
    ends: Mapping[End, EndFigures] = by_key(lambda end, label: f"{end_label(end)}: {label}")
    frequency_ratio: float = figure("Rear frequency over front frequency", kind="ratio")


def figures(asked: Asked) -> RideFigures:
    front, rear = (_of_end(asked, end) for end in ENDS)
    return RideFigures(
        ends={End.FRONT: front, End.REAR: rear},
        frequency_ratio=rear.frequency / front.frequency,
    )


@memoised
def _damping(asked: Asked, end: End) -> float:
    """Of the shaft, N s/m, with the oil that is in."""
    return asked.bench().damping(asked.dampers[end].made(), asked.end_row(end).oil)


@memoised
def _of_end(asked: Asked, end: End) -> EndFigures:
    seat = _seat(asked, end)
    ratio = seat.damping_ratio(_damping(asked, end))
    return EndFigures(
        frequency=seat.frequency,
        wheel_rate=seat.wheel_rate,
        ratio=ratio,
        overshoot=overshoot(ratio),
    )
