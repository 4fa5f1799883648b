"""Springs one behind the other between collar and cup, and where the collar has to go for them.

A stack of one is a plain spring; two of unequal rate make a progressive pair. SI floats.
"""

from dataclasses import dataclass
from math import inf, isinf

from calc.physics.require import finite, not_negative, positive
from calc.physics.spring import Spring


@dataclass(frozen=True, slots=True)
class Stack:
    """Springs in series and their free length in m, spacers between them included.

    A spring of no limited travel is one whose solid length is not known: it binds nowhere.
    """

    springs: tuple[Spring, ...]
    free: float

    def __post_init__(self) -> None:
        positive(free=self.free)
        if not self.springs:
            raise ValueError("a stack needs a spring")
        if not (self.travel < self.free or isinf(self.travel)):
            raise ValueError("the springs must be shorter with their coils touching than free")

    @property
    def travel(self) -> float:
        """From free to every coil touching, m."""
        return sum(spring.travel for spring in self.springs)

    @property
    def solid(self) -> float:
        """Length with every coil touching, m."""
        return self.free - self.travel

    @property
    def bind_force(self) -> float:
        """Least force that presses every coil together, N."""
        return max(spring.rate * spring.travel for spring in self.springs)

    def compression(self, force: float) -> float:
        """How far a force in N presses them together, m: each by force/rate until it binds."""
        not_negative(force=force)
        return sum(min(force / spring.rate, spring.travel) for spring in self.springs)

    def length(self, force: float) -> float:
        """Length under a force in N, m."""
        return self.free - self.compression(force)

    def rate(self, force: float) -> float:
        """Rate in N/m under a force in N, without the springs that it has bound.

        Infinite where every spring is bound.
        """
        not_negative(force=force)
        give = sum(1 / spring.rate for spring in self.springs if force < _binds(spring))
        return 1 / give if give else inf

    def force(self, compression: float) -> float:
        """Force in N at a compression in m; 0 while loose.

        From full travel on it is the least force that binds them all: a solid stack bears any.
        """
        finite(compression=compression)
        if compression <= 0:
            return 0.0
        low, at_low = 0.0, 0.0
        for high in sorted(_binds(spring) for spring in self.springs):
            if isinf(high):
                return low + self.rate(low) * (compression - at_low)
            at_high = self.compression(high)
            if compression <= at_high:
                # The broken line is straight between two forces at which a spring binds.
                return low + (high - low) * (compression - at_low) / (at_high - at_low)
            low, at_low = high, at_high
        return low


def _binds(spring: Spring) -> float:
    return spring.rate * spring.travel


def single(*, rate: float, free: float, solid: float) -> Stack:
    """One spring: rate in N/m, free and solid length in m."""
    positive(free=free, solid=solid)
    return Stack((Spring(rate, free - solid),), free)


def collar_shift(
    *,
    before: Stack,
    force_before: float,
    after: Stack,
    force_after: float,
    mount_shift: float = 0.0,
) -> float:
    """How far down, m, the collar has to go so that the body keeps its height.

    Forces in N in the spring at ride height, before and after; mount_shift: how much further
    apart the two mounts of the damper are at that height, m. The collar makes up for the shorter
    spring and for the mounts moved apart.
    """
    finite(mount_shift=mount_shift)
    return mount_shift + before.length(force_before) - after.length(force_after)
