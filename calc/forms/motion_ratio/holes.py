"""A damper in the hole now used and in another, with the spring on it: figures, not words."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import isinf

from calc.answering.uncertainty import COVERAGE
from calc.forms.arm import checked_hole, hole
from calc.forms.entered import axle_load
from calc.forms.failures import problem
from calc.forms.fields import chosen_end
from calc.forms.findings import said_at, stack_at
from calc.forms.friction import AGAIN
from calc.forms.friction import rest as friction_rest
from calc.forms.inputs import with_inputs
from calc.language import later, tr
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
from calc.replying.form import Given, Problem
from calc.units import spelt

_LEAST, _MOST = 0.1, 3.0  # motion ratio, as in the car record
_FOR_A_CURVE = 4  # different wheel travels; fewer give a straight line
_FLAT, _FLAT_SAYS = "flat", later("how well the flat drawing tells of the arm")
_FLAT_DOUBT = 0.01
"""Relative, standard uncertainty of a ratio by the drawing: dampers lean along the car by up to ten
degrees, of which the cosine is 0.985, and pins have play."""
_SCATTER = later("how the measured pairs scatter about their curve")


@dataclass(frozen=True)
class Mounted:
    """A hole and the spring in it; `offset` is how much longer the damper is than its spring, m."""

    hole: Hole
    seat: Seat
    offset: float

    def down(self, shift: float) -> "Mounted":
        """The same with its collar moved down by so many m."""
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


def fit(given: Given, column: str) -> RatioFit:
    """Motion ratio by the measured pairs of a column. Raises Problem."""
    rows = given.rows("pairs")
    wheel = [row.wheel for row in rows]
    damper = [getattr(row, column) for row in rows]
    try:
        return fit_motion_ratio(wheel, damper, curved=len(set(wheel)) >= _FOR_A_CURVE)
    except PhysicsError as failure:
        name = f"pairs.{rows[-1].key}.{column}"
        raise problem(name, given.labels[name], failure) from failure


def with_scatter(given: Given) -> Given:
    """The entries joined by what either way of knowing is doubted by: how far the measured pairs
    scatter about their curves, or how well a flat drawing tells of an arm."""
    if given.choice("known") != "pairs":
        return with_inputs(given, {_FLAT: (1.0, _FLAT_DOUBT, _FLAT_SAYS)})
    extra = {}
    for column in columns(given):
        made = fit(given, column)
        spare = len(given.rows("pairs")) - (3 if made.slope_error is not None else 2)
        u = 0.0
        if made.ratio_error is not None and spare > 0:
            # So that twice this doubt holds 95 of 100, however few the pairs.
            u = made.ratio_error * coverage_factor(spare) / COVERAGE
        extra[f"{column}_scatter"] = (0.0, u, _SCATTER)
    return with_inputs(given, extra)


def columns(given: Given) -> tuple[str, ...]:
    return ("damper", "other") if given.choice("holes") == "two" else ("damper",)


def _measured(given: Given, other: bool) -> Hole:
    column = "other" if other else "damper"
    made = fit(given, column)
    made = replace(made, ratio=made.ratio + given.numbers.get(f"{column}_scatter", 0.0))
    wheel = [row.wheel for row in given.rows("pairs")]
    name = "other_apart" if other else "apart"
    two = given.choice("holes") == "two"
    length = given.numbers[name] if two else given.stroke + 1.0
    low, high = min(*wheel, 0.0), max(*wheel, 0.0)
    if min(made.ratio_at(low), made.ratio_at(high)) <= 0:
        raise Problem(
            f"pairs.{given.rows('pairs')[-1].key}.{column}",
            tr(
                "The pairs do not reach ride height, and the curve through them turns round before "
                "it; measure near ride height too."
            ),
        )
    return measured_hole(made, length=length, low=low, high=high)


def _hole(given: Given, other: bool, check: bool) -> Hole:
    pairs = given.choice("known") == "pairs"
    if pairs:
        made = _measured(given, other)
        entry = f"pairs.{given.rows('pairs')[-1].key}.{'other' if other else 'damper'}"
    else:
        made = checked_hole(given, other) if check else hole(given, other)
        made = scaled(made, given.numbers.get(_FLAT, 1.0))
        entry = "other_upper_out" if other else "upper_out"
    if not _LEAST <= made.ride.ratio <= _MOST:
        raise Problem(
            entry,
            tr(
                "{entry}: that makes a motion ratio of {ratio}; possible is {least} to {most}.",
                entry=given.labels[entry],
                ratio=spelt(f"{made.ride.ratio:.3f}"),
                least=spelt(f"{_LEAST}"),
                most=spelt(f"{_MOST}"),
            ),
        )
    return made


def now(given: Given, check: bool = True) -> Mounted:
    """The hole now used, at ride height. Raises Problem."""
    made = _hole(given, False, check)
    size = SpringSize(given.spring_rate, given.spring_free, given.spring_solid)
    seat = Seat(
        stack=stack_at([size], ["spring_solid"]),
        load=axle_load(given),
        motion_ratio=made.ride.ratio,
        droop_length=given.droop_length,
        stroke=given.stroke,
        growth=made.ride.slope,
        tyre_rate=given.tyre_rate,
    )
    return _sprung(given, Mounted(made, seat, made.ride.length - seat.stack.length(seat.held)))


def other(given: Given, here: Mounted, check: bool = True) -> tuple[Mounted, float]:
    """The other hole with the collar where it stands, and how far down it has to go, m."""
    made = _hole(given, True, check)
    apart = made.ride.length - here.hole.ride.length
    seat = replace(
        here.seat,
        motion_ratio=made.ride.ratio,
        growth=made.ride.slope,
        ratio_at=here.seat.reach - apart,
    )
    shift = here.seat.shift_to(seat, apart)
    return Mounted(made, seat, here.offset), shift


def turned(given: Given, there: Mounted, shift: float) -> Mounted:
    """The hole with its collar moved down by so many m. Raises Problem where that binds the
    spring."""
    return _sprung(given, there.down(shift))


def _sprung(given: Given, mounted: Mounted) -> Mounted:
    """Raises Problem where the coils touch at ride height; a wheel that gives way is shown by its
    rate, and warned of."""
    if mounted.bound:
        with said_at({Fault.BOUND: "spring_rate"}, lambda: given.labels["spring_rate"]):
            raise CannotStand(Fault.BOUND)
    return mounted


def figures(given: Given, turns: float = 0.0) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact; `turns` of the collars are those of the hand."""
    here = now(given, check=False)
    ride = here.hole.ride
    made = {
        "motion_ratio": ride.ratio,
        "change": ride.slope * 10e-3,
        "wheel_rate": here.seat.wheel_rate,
        "ride_frequency": here.seat.frequency,
    }
    if given.choice("holes") == "one":
        return made
    there, shift = other(given, here, check=False)
    moved = turned(given, there, shift)
    gain = there.hole.ride.ratio / ride.ratio
    off = AGAIN * friction_rest(given, chosen_end(given))
    return {
        **made,
        "turns": shift / given.pitch,
        "other_ratio": there.hole.ride.ratio,
        "other_change": there.hole.ride.slope * 10e-3,
        "other_wheel_rate": moved.seat.wheel_rate,
        "other_frequency": moved.seat.frequency,
        "damping": gain**2,
        "oil": given.oil / gain**2,
        "unturned": there.higher + off,
        "height_off": moved.seat.lift(turns * given.pitch - shift) + off,
        "bind_margin": moved.seat.bind_margin,
    }
