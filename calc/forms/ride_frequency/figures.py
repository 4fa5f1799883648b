"""Both ends of the car as a mass on a spring with a damper: figures, not words."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.forms.entered import at_end
from calc.forms.findings import said_at
from calc.forms.names import labelled_end
from calc.forms.ride_frequency.inputs import Asked
from calc.model.corners import ENDS, End
from calc.model.damper import DIRECTIONS, Damped, mean_of
from calc.model.standing import Seat, carrying, spring_load
from calc.physics.damper import Direction
from calc.physics.ride import overshoot
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import memoised


@dataclass(frozen=True)
class Ride(Damped):
    """The mean corner of an end, with the oil in it and the damping ratio wanted."""

    end: End
    oil: float
    wanted: float

    @property
    def differs(self) -> bool:
        """Whether it damps more in one direction with that oil."""
        return len(self.bench.ways(self.piston, self.oil)) > 1


def ride(asked: Asked, end: End) -> Ride:
    """An end of the car: the mean of its two corners. Raises Problem."""
    row = asked.end[end.place]
    return Ride(
        seat=_seat(asked, end),
        piston=asked.dampers[end].made(),
        bench=asked.bench(end),
        end=end,
        oil=row.oil,
        wanted=row.wanted,
    )


def _seat(asked: Asked, end: End) -> Seat:
    row, masses = asked.end[end.place], asked.masses(end)
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
    ratio_bump: float | None = figure("damping ratio now, in bump", kind="ratio", default=None)
    ratio_rebound: float | None = figure(
        "damping ratio now, in rebound", kind="ratio", default=None
    )
    overshoot: float = figure("overshoot now", kind="share")
    parts: float = figure("speed at which the oil cavitates in compression", kind="speed")


class RideFigures(Figures):
    ends: Mapping[End, EndFigures] = by_key(labelled_end)
    frequency_ratio: float = figure("Rear frequency over front frequency", kind="ratio")


def figures(asked: Asked, ends: Mapping[End, Ride]) -> RideFigures:
    """`ends` are those of the inputs as they are."""
    front, rear = (_of_end(asked, end, ends[end].differs) for end in ENDS)
    return RideFigures(
        ends={End.FRONT: front, End.REAR: rear},
        frequency_ratio=rear.frequency / front.frequency,
    )


@memoised
def _damping(asked: Asked, end: End) -> tuple[float, dict[Direction, float], float]:
    """Of the shaft, N s/m, with the oil that is in: in the mean and each way; and the speed, m/s,
    from which that parts."""
    bench, piston = asked.bench(end), asked.dampers[end].made()
    oil = asked.end[end.place].oil
    each = bench.damping_each(piston, oil)
    mean = mean_of(each)
    return mean, {way: each.get(way, mean) for way in DIRECTIONS}, bench.parts_from(piston, oil)


@memoised
def _of_end(asked: Asked, end: End, differs: bool) -> EndFigures:
    seat = _seat(asked, end)
    damping, ways, parts = _damping(asked, end)
    ratio = seat.damping_ratio(damping)
    bump, rebound = (seat.damping_ratio(ways[way]) if differs else None for way in DIRECTIONS)
    return EndFigures(
        frequency=seat.frequency,
        wheel_rate=seat.wheel_rate,
        ratio=ratio,
        ratio_bump=bump,
        ratio_rebound=rebound,
        overshoot=overshoot(ratio),
        parts=parts,
    )
