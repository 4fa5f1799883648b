"""A spring on its damper at one corner: what carries what, where it stands in its travel."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import isinf

from calc.language import tr
from calc.physics.linkage import wheel_rate
from calc.physics.ride import natural_frequency
from calc.physics.spring import Spring
from calc.physics.stack import Stack, collar_shift
from calc.replying.form import Problem
from calc.units import STANDARD_GRAVITY


@dataclass(frozen=True)
class Seat:
    """SI: the spring (or pair), the load that it holds up at the wheel in N, the motion ratio,
    from collar to cup at full droop in m, the stroke of the shaft in m."""

    stack: Stack
    load: float
    motion_ratio: float
    droop_length: float
    stroke: float

    @property
    def preload(self) -> float:
        """How far the spring is pressed at full droop, m; below 0 it is loose."""
        return self.stack.free - self.droop_length

    @property
    def preload_force(self) -> float:
        return self.stack.force(self.preload)

    @property
    def force(self) -> float:
        """What the load asks of the spring, N."""
        return self.load / self.motion_ratio

    @cached_property  # asked for by nearly all that follows
    def reach(self) -> float:
        """Shaft travel from full droop to where the load would rest, stops or not, m."""
        return self.stack.compression(self.force) - self.preload

    @property
    def travel(self) -> float:
        """Shaft travel from full droop to ride height, m: 0 on the droop stop."""
        return min(max(self.reach, 0.0), self.stroke)

    @property
    def on_stop(self) -> bool:
        return self.reach <= 0

    @property
    def bottomed(self) -> bool:
        """Whether the load alone closes the damper."""
        return self.reach >= self.stroke

    @cached_property
    def held(self) -> float:
        """Force in the spring at ride height, N; a stop takes the rest of the load."""
        if self.on_stop:
            return self.preload_force
        return self.stack.force(self.preload + self.stroke) if self.bottomed else self.force

    @property
    def sag(self) -> float:
        """Wheel travel from full droop to ride height, m."""
        return self.travel / self.motion_ratio

    @property
    def bind_margin(self) -> float:
        """Room between the coils at full bump, m; below 0 they touch before it."""
        return self.droop_length - self.stroke - self.stack.solid

    @property
    def rate(self) -> float:
        """Rate of the spring where the car stands, N/m."""
        return self.stack.rate(self.held)

    @property
    def wheel_rate(self) -> float:
        return wheel_rate(rate=self.rate, motion_ratio=self.motion_ratio)

    @property
    def frequency(self) -> float:
        """Ride frequency, Hz."""
        return natural_frequency(rate=self.wheel_rate, mass=self.load / STANDARD_GRAVITY)

    def down(self, shift: float) -> "Seat":
        """The same with its collar moved down by so many m."""
        return replace(self, droop_length=self.droop_length - shift)

    def shift_to(self, after: "Seat", mount_shift: float = 0.0) -> float:
        """How far down, m, the collar goes from here for the other spring or load, so that the
        body keeps its height; against a stop the spring's force is kept."""
        force = self.held if self.on_stop or self.bottomed else after.force
        return collar_shift(
            before=self.stack,
            force_before=self.held,
            after=after.stack,
            force_after=force,
            mount_shift=mount_shift,
        )

    def rise(self, after: "Seat") -> float:
        """How much higher, m, this corner stands with the other seat, its load carried by it
        alone; droop and bump stops minded."""
        return self.sag - after.sag


def stack_of(parts: list[tuple[float, float, float]], names: list[str], label: str = "") -> Stack:
    """Springs as (rate, free length, solid length) in SI, one behind the other.

    `names` are the entries of the solid lengths. Raises Problem.
    """
    springs = []
    for (rate, free, solid), name in zip(parts, names, strict=True):
        if solid >= free:
            raise Problem(
                name,
                tr(
                    "{spring} solid length: the coils would touch before anything presses the "
                    "spring; measure it and the free length again.",
                    spring=label or tr("Spring"),
                ),
            )
        springs.append(Spring(rate, free - solid))
    return Stack(tuple(springs), sum(free for _, free, _ in parts))


def check_not_bound(seat: Seat, name: str, label: str) -> Seat:
    """The seat. Raises Problem where the car's weight alone presses the coils together."""
    if isinf(seat.rate):
        raise bound(name, label)
    return seat


def bound(name: str, label: str) -> Problem:
    """Coils that touch at ride height."""
    return Problem(
        name,
        tr(
            "{spring}: at ride height its coils touch already, so it is no spring there; it "
            "takes a stiffer or a longer one.",
            spring=label,
        ),
    )
