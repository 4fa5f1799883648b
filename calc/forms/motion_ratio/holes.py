"""A damper in the hole now used and in another, with the spring on it: figures, not words."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import isinf

from calc.answering.uncertainty import COVERAGE
from calc.forms.failures import problem
from calc.forms.findings import said_at, stack_at
from calc.forms.friction import BETWEEN_READINGS
from calc.forms.motion_ratio.inputs import Asked, Pair
from calc.language import tr
from calc.model.standing import CannotStand, Fault, Seat, SpringSize
from calc.physics.coverage import coverage_factor
from calc.physics.failure import PhysicsError
from calc.physics.linkage import RatioFit, fit_motion_ratio
from calc.physics.mounting import (
    Hole,
    measured_hole,
    rate_at_wheel,
    rest,
    scaled,
    spring_force,
)
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import Problem
from calc.units import spelt

_LEAST, _MOST = 0.1, 3.0  # motion ratio, as in the car record
_FOR_A_CURVE = 4  # different wheel travels; fewer give a straight line


@dataclass(frozen=True)
class Mounted:
    """A hole and the spring in it; `offset` is how much longer the damper is than its spring, m."""

    hole: Hole
    seat: Seat
    offset: float

    def down(self, shift: float) -> "Mounted":
        """The hole and its spring with the collar moved down by so many m."""
        return Mounted(self.hole, self.seat.down(shift), self.offset + shift)

    def rate(self, rise: float) -> float:
        """Rate at the wheel, N/m, at a wheel rise from ride height."""
        return rate_at_wheel(self.hole, self.seat.stack, seat=self.offset, rise=rise)

    def spring_rate(self, rise: float) -> float:
        """Rate of the spring, N/m, at a wheel rise from ride height; infinite where it is bound."""
        force = spring_force(self.hole.at(rise), self.seat.stack, seat=self.offset)
        return self.seat.stack.rate(force)

    @property
    def bound(self) -> bool:
        """Whether the coils touch at ride height. The seat knows the stops of the damper; the hole,
        whose height is kept, does not."""
        return self.seat.bound or isinf(self.spring_rate(0.0))

    @property
    def higher(self) -> float:
        """How much higher than in the drawing the car stands, m: the wheel goes down for it."""
        return -rest(self.hole, self.seat.stack, seat=self.offset, load=self.seat.load)


class HoleFigures(Figures):
    motion_ratio: float = figure("Motion ratio at ride height", kind="ratio")
    change: float = figure("Change of motion ratio per 10 mm of bump", kind="ratio")
    wheel_rate: float = figure("Wheel rate", kind="rate", least=0.0)
    ride_frequency: float = figure("Ride frequency", kind="frequency", least=0.0)


class BothFigures(Figures):
    turns: float = figure("Turns of each collar, exact (down is positive)", kind="turns")
    here: Mapping[str, HoleFigures] = by_key(lambda key, label: label)  # its key is nothing
    other_ratio: float = figure("Motion ratio in the other hole", kind="ratio")
    other_change: float = figure(
        "Change of motion ratio per 10 mm of bump, other mounting hole", kind="ratio"
    )
    other_wheel_rate: float = figure("Wheel rate in the other hole", kind="rate", least=0.0)
    other_frequency: float = figure("Ride frequency in the other hole", kind="frequency", least=0.0)
    damping: float = figure("Damping at the wheel, share of before", kind="share")
    oil: float = figure("Oil that keeps the damping at the wheel, at 25 °C", kind="viscosity")
    unturned: float = figure("Height change if the collars stay put", kind="length")
    bind_margin: float = figure("Room to coil bind at full bump", kind="length")
    height_off: float = figure("Height change with the rounded turns", kind="length")


def _last(asked: Asked, other: bool) -> str:
    """The field at which to say what is wrong with the pairs of a hole."""
    return asked.pairs[-1].at(Pair.other if other else Pair.damper)


def fit(asked: Asked, other: bool) -> RatioFit:
    """Motion ratio by the measured pairs of a hole. Raises Problem."""
    pairs, at = asked.pairs, _last(asked, other)
    wheel = [pair.wheel for pair in pairs]
    damper = [pair.other if other else pair.damper for pair in pairs]
    try:
        return fit_motion_ratio(wheel, damper, curved=len(set(wheel)) >= _FOR_A_CURVE)
    except PhysicsError as failure:
        raise problem(at, asked.labels[at], failure) from failure


def with_scatter(asked: Asked) -> Asked:
    """The inputs joined by how far the measured pairs scatter about their curves."""
    if asked.known == "pairs":
        asked = asked.assuming((Asked.damper_scatter, 0.0, _scatter(asked, other=False)))
        if asked.holes == "two":
            asked = asked.assuming((Asked.other_scatter, 0.0, _scatter(asked, other=True)))
    return asked


def _scatter(asked: Asked, other: bool) -> float:
    """Standard uncertainty of the ratio of a hole; twice this holds 95 of 100, however few the
    pairs."""
    made = fit(asked, other)
    spare = len(asked.pairs) - (3 if made.slope_error is not None else 2)
    if made.ratio_error is None or spare <= 0:
        return 0.0
    return made.ratio_error * coverage_factor(spare) / COVERAGE


def _measured(asked: Asked, other: bool) -> Hole:
    made = fit(asked, other)
    scatter = asked.other_scatter if other else asked.damper_scatter
    made = replace(made, ratio=made.ratio + scatter)
    wheel = [pair.wheel for pair in asked.pairs]
    if asked.holes == "one":
        length = asked.stroke + 1.0
    else:
        length = asked.other_apart if other else asked.apart
    low, high = min(*wheel, 0.0), max(*wheel, 0.0)
    if min(made.ratio_at(low), made.ratio_at(high)) <= 0:
        raise Problem(
            _last(asked, other),
            tr(
                "The pairs do not reach ride height, and the curve through them turns round before "
                "it; measure near ride height too."
            ),
        )
    return measured_hole(made, length=length, low=low, high=high)


def _hole(asked: Asked, other: bool, check: bool) -> Hole:
    if asked.known == "pairs":
        made, entry = _measured(asked, other), _last(asked, other)
    else:
        arm, stroke = asked.arm, asked.stroke
        made = (
            arm.checked_hole(stroke, asked.at(Asked.stroke), other=other)
            if check
            else arm.hole(stroke, other=other)
        )
        made, entry = scaled(made, asked.flat), arm.entry(other=other)
    if not _LEAST <= made.ride.ratio <= _MOST:
        raise Problem(
            entry,
            tr(
                "{entry}: that makes a motion ratio of {ratio}; possible is {least} to {most}.",
                entry=asked.labels[entry],
                ratio=spelt(f"{made.ride.ratio:.3f}"),
                least=spelt(f"{_LEAST}"),
                most=spelt(f"{_MOST}"),
            ),
        )
    return made


def now(asked: Asked, check: bool = True) -> Mounted:
    """The hole now used, at ride height. Raises Problem."""
    made = _hole(asked, False, check)
    size = SpringSize(asked.spring_rate, asked.spring_free, asked.spring_solid)
    seat = Seat(
        stack=stack_at([size], [Asked.spring_solid]),
        load=asked.loads.mean(),
        motion_ratio=made.ride.ratio,
        droop_length=asked.droop_length,
        stroke=asked.stroke,
        growth=made.ride.slope,
        tyre_rate=asked.tyre.tyre_rate,
    )
    return _sprung(asked, Mounted(made, seat, made.ride.length - seat.stack.length(seat.held)))


def other(asked: Asked, here: Mounted, check: bool = True) -> tuple[Mounted, float]:
    """The other hole with the collar where it stands, and how far down it has to go, m."""
    made = _hole(asked, True, check)
    apart = made.ride.length - here.hole.ride.length
    seat = replace(
        here.seat,
        motion_ratio=made.ride.ratio,
        growth=made.ride.slope,
        ratio_at=here.seat.reach - apart,
    )
    shift = here.seat.shift_to(seat, apart)
    return Mounted(made, seat, here.offset), shift


def turned(asked: Asked, there: Mounted, shift: float) -> Mounted:
    """The hole with its collar moved down by so many m. Raises Problem where that binds the
    spring."""
    return _sprung(asked, there.down(shift))


def _sprung(asked: Asked, mounted: Mounted) -> Mounted:
    """Raises Problem where the coils touch at ride height; a wheel that gives way is shown by its
    rate, and warned of."""
    if mounted.bound:
        with said_at(
            {Fault.BOUND: asked.at(Asked.spring_rate)}, lambda: asked.label_of(Asked.spring_rate)
        ):
            raise CannotStand(Fault.BOUND)
    return mounted


def figures_here(asked: Asked) -> HoleFigures:
    """Of the hole now used."""
    return _of_hole(now(asked, check=False))


def _of_hole(here: Mounted) -> HoleFigures:
    return HoleFigures(
        motion_ratio=here.hole.ride.ratio,
        change=_per_bump(here),
        wheel_rate=here.seat.wheel_rate,
        ride_frequency=here.seat.frequency,
    )


def _per_bump(mounted: Mounted) -> float:
    """Change of the motion ratio in 10 mm of bump."""
    return mounted.hole.ride.slope * 10e-3


def figures(asked: Asked, turns: float) -> BothFigures:
    """Of both holes; `turns` of the collars are those of the hand."""
    here = now(asked, check=False)
    there, shift = other(asked, here, check=False)
    moved = turned(asked, there, shift)
    gain = there.hole.ride.ratio / here.hole.ride.ratio
    off = BETWEEN_READINGS * asked.friction.rest
    return BothFigures(
        turns=shift / asked.pitch,
        here={"": _of_hole(here)},
        other_ratio=there.hole.ride.ratio,
        other_change=_per_bump(there),
        other_wheel_rate=moved.seat.wheel_rate,
        other_frequency=moved.seat.frequency,
        damping=gain**2,
        oil=asked.oil / gain**2,
        unturned=there.higher + off,
        bind_margin=moved.seat.bind_margin,
        height_off=moved.seat.lift(turns * asked.pitch - shift) + off,
    )
