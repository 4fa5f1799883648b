"""Where the wheels of an end stop, down and up, and what rod ends and spacers make of it."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from calc.answering.hand import to_step
from calc.forms.length_travel.inputs import Asked, Stop
from calc.forms.names import labelled_side
from calc.model.corners import Side
from calc.physics.droop import shaft_travel, wheel_travel
from calc.physics.thread import engagement_left
from calc.replying.figures import Figures, by_key, figure

STOPS: tuple[Stop, ...] = ("damper", "ground", "coils")


@dataclass(frozen=True)
class Work:
    """What the hand does: turns in of each rod end, m of spacer put in under and above both
    pistons (negative: taken out), turns out of both rod ends where there is none to take out."""

    turns_in: Mapping[Side, float]
    under: float = 0.0
    above: float = 0.0
    turns_out: float = 0.0

    @property
    def each(self) -> bool:
        """Whether each rod end has turns of its own: alike and further out in one move."""
        return bool(self.turns_out) and any(self.turns_in.values())

    def turns(self, side: Side) -> float:
        """Of the rod end of a side, out is positive."""
        return self.turns_out - self.turns_in[side]

    def shorter(self, side: Side, pitch: float) -> float:
        """By how much, m, the damper of a side is then shorter fully out."""
        return self.under - self.turns(side) * pitch


NOTHING = Work({Side.LEFT: 0.0, Side.RIGHT: 0.0})


def lengths(asked: Asked) -> dict[Side, float]:
    """Of the dampers fully out, m."""
    return {Side.LEFT: asked.length_left, Side.RIGHT: asked.length_right}


def droops(asked: Asked) -> dict[Side, float]:
    """Of the wheels from ride height, m."""
    return {Side.LEFT: asked.droop_left, Side.RIGHT: asked.droop_right}


def strokes(asked: Asked) -> dict[Side, float]:
    """Of the shafts, m."""
    return {Side.LEFT: asked.stroke_left, Side.RIGHT: asked.stroke_right}


def out_of(asked: Asked, droop: float) -> float:
    """Shaft travel, m, from ride height out to a droop at the wheel."""
    return -shaft_travel(wheel=-droop, motion_ratio=asked.motion_ratio, slope=asked.arm.growth)


def droop_of(asked: Asked, shaft: float) -> float:
    """Droop at the wheel, m, where the shaft goes so far out from ride height; below 0 the damper
    ends above it."""
    return -wheel_travel(shaft=-shaft, motion_ratio=asked.motion_ratio, slope=asked.arm.growth)


def too_long(asked: Asked) -> dict[Side, float]:
    """By how much, m, the damper of a side is longer than the other, fully out."""
    longer = asked.length_left - asked.length_right
    return {Side.LEFT: max(longer, 0.0), Side.RIGHT: max(-longer, 0.0)}


def alike(asked: Asked) -> dict[Side, float]:
    """Turns in that bring the longer damper to the length of the other, to the step of the hand."""
    return {
        side: to_step(more / asked.rod_pitch, asked.turn_step)
        for side, more in too_long(asked).items()
    }


def mean_out(asked: Asked, turns_in: Mapping[Side, float]) -> float:
    """Shaft travel, m, from ride height to full droop, once the rod ends are turned in: the mean of
    both sides."""
    outs = [out_of(asked, d) - turns_in[s] * asked.rod_pitch for s, d in droops(asked).items()]
    return sum(outs) / len(outs)


def exact_under(asked: Asked, turns_in: Mapping[Side, float]) -> float | None:
    """Spacer to add under both pistons, m, so that their mean droop is the one wanted."""
    if asked.wanted_droop is None:
        return None
    return mean_out(asked, turns_in) - out_of(asked, asked.wanted_droop)


def threads(asked: Asked, done: Work) -> dict[Side, float]:
    """Thread that then holds each rod end that is turned, m; 0 where it comes off, none where
    nobody knows how much holds now."""
    engaged = {Side.LEFT: asked.engaged_left, Side.RIGHT: asked.engaged_right}
    return {
        side: engagement_left(now, done.turns(side), asked.rod_pitch)
        for side, now in engaged.items()
        if now is not None and done.turns(side)
    }


def left_in(asked: Asked, done: Work) -> float:
    """Shaft travel, m, from ride height to fully in at the side that has less, once the rod ends
    are turned: one turned in lets the piston stand further out at ride height, a spacer under it
    does not."""
    return min(
        strokes(asked)[side] - out_of(asked, droop) - done.turns(side) * asked.rod_pitch
        for side, droop in droops(asked).items()
    )


def exact_above(asked: Asked, done: Work) -> float | None:
    """Spacer to add above both pistons, m, for the bump travel wanted at the side that has less."""
    if asked.wanted_bump is None:
        return None
    wanted = shaft_travel(
        wheel=asked.wanted_bump, motion_ratio=asked.motion_ratio, slope=asked.arm.growth
    )
    return left_in(asked, done) - wanted


def work(asked: Asked) -> Work:
    """What comes nearest in whole steps. Raises PhysicsError beyond the dead centre."""
    turns = alike(asked)
    exact = exact_under(asked, turns)
    under = max(to_step(exact or 0.0, asked.spacer_step), -asked.spacers)
    lacking = under - (exact or 0.0)  # what no spacer can be taken out for
    out = to_step(lacking / asked.rod_pitch, asked.turn_step) if under == -asked.spacers else 0.0
    below = Work(turns, under, turns_out=max(out, 0.0))
    above = to_step(exact_above(asked, below) or 0.0, asked.spacer_step)
    return replace(below, above=max(above, -asked.spacers_above))


def droop_after(asked: Asked, side: Side, done: Work) -> float:
    """Droop of a wheel once that is done, m."""
    out = out_of(asked, droops(asked)[side]) - done.shorter(side, asked.rod_pitch)
    return droop_of(asked, out)


def bump(asked: Asked, done: Work) -> dict[Stop, float]:
    """Rise of the wheel from ride height, m, at which each of them ends it, once that is done."""
    coils = asked.droop_length - mean_out(asked, NOTHING.turns_in) - asked.spring_solid
    return {
        "damper": _rise(asked, left_in(asked, done) - done.above),
        "ground": asked.ride_height,
        "coils": _rise(asked, coils),
    }


def _rise(asked: Asked, shaft: float) -> float:
    return wheel_travel(shaft=shaft, motion_ratio=asked.motion_ratio, slope=asked.arm.growth)


def first(stops: Mapping[Stop, float]) -> Stop:
    """The one that ends the way up."""
    return min(STOPS, key=lambda stop: stops[stop])


class SideFigures(Figures):
    droop: float = figure("droop after that", kind="length")
    out: float | None = figure("turns of the rod end out, exact", kind="turns", default=None)
    thread: float | None = figure("thread then in the rod end", kind="length", default=None)


class TravelFigures(Figures):
    apart: float = figure("Length, left minus right, now", kind="length")
    unexplained: float = figure(
        "Droop, left minus right, that the lengths do not explain", kind="length"
    )
    alike: float | None = figure(
        "Turns of the longer damper's rod end, exact", kind="turns", default=None
    )
    out: float | None = figure("Turns of both rod ends out, exact", kind="turns", default=None)
    under: float | None = figure(
        "Spacer to add under both pistons, exact", kind="length", default=None
    )
    above: float | None = figure(
        "Spacer to add above both pistons, exact", kind="length", default=None
    )
    sides: Mapping[Side, SideFigures] = by_key(labelled_side)
    damper: float = figure("Bump until the damper is fully in", kind="length")
    ground: float = figure("Bump until the chassis is on the ground", kind="length")
    coils: float = figure("Bump until the coils touch", kind="length")


def unexplained(asked: Asked) -> float:
    """Left droop less right droop, m, beyond that of dampers of these lengths on like arms."""
    left = out_of(asked, asked.droop_left) - (asked.length_left - asked.length_right)
    return droop_of(asked, left) - asked.droop_right


def figures(asked: Asked, done: Work) -> TravelFigures:
    stops, thread = bump(asked, done), threads(asked, done)
    longer, under = asked.length_left - asked.length_right, exact_under(asked, done.turns_in)
    out = -(asked.spacers + (under or 0.0)) / asked.rod_pitch
    return TravelFigures(
        alike=abs(longer) / asked.rod_pitch
        if any(done.turns_in.values()) and not done.each
        else None,
        out=out if done.turns_out and not done.each else None,
        apart=longer,
        unexplained=unexplained(asked),
        under=under,
        above=exact_above(asked, done),
        sides={
            side: SideFigures(
                droop=droop_after(asked, side, done),
                out=out - more / asked.rod_pitch if done.each else None,
                thread=thread.get(side),
            )
            for side, more in too_long(asked).items()
        },
        damper=stops["damper"],
        ground=stops["ground"],
        coils=stops["coils"],
    )
