"""Where collars or spacers stand now and then, and what the spring and the body make of it."""

from collections.abc import Mapping
from dataclasses import dataclass

from calc.answering.hand import to_step
from calc.forms.entered import end_seat
from calc.forms.friction import BETWEEN_READINGS
from calc.forms.names import labelled_side
from calc.forms.spring_seats.inputs import Asked
from calc.model.corners import Side
from calc.model.standing import Seat
from calc.physics.pile import nearest_pile
from calc.replying.figures import Figures, by_key, figure


def gap_sign(asked: Asked) -> float:
    """1 where the gap grows as the collar goes down, -1 where it shrinks."""
    return 1.0 if asked.held == "clips" or asked.reference == "cap" else -1.0


def places(asked: Asked) -> dict[Side, float]:
    """The gap, or the pile of spacers, of each side now, m."""
    if asked.held == "thread":
        return {Side.LEFT: asked.gap_left, Side.RIGHT: asked.gap_right}
    return {Side.LEFT: asked.clips_left, Side.RIGHT: asked.clips_right}


def cup_rise(asked: Asked) -> float:
    """By how much the other cup holds the spring higher, m."""
    return asked.cup_new - asked.cup_now if asked.aim == "cup" else 0.0


def seats(asked: Asked) -> dict[Side, Seat]:
    """Both corners as they are. The entry for the end is the mean of both. Raises Problem."""
    stand = places(asked)
    mean = sum(stand.values()) / 2
    loads = {Side.LEFT: asked.loads.load_left, Side.RIGHT: asked.loads.load_right}
    return {
        side: _seat(asked, loads[side], gap_sign(asked) * (stand[side] - mean)) for side in Side
    }


def _seat(asked: Asked, load: float, lower: float) -> Seat:
    on_spring = asked.loads.on_spring(load)
    return end_seat(asked, load=on_spring, droop_length=asked.droop_length - lower)


def exact_shift(asked: Asked) -> dict[Side, float]:
    """How far down, m, each collar goes, or by how much its pile grows."""
    if asked.aim == "gap":
        wanted = asked.wanted_gap if asked.held == "thread" else asked.wanted_clips
        return {side: gap_sign(asked) * (wanted - now) for side, now in places(asked).items()}
    if asked.aim == "cup":
        return dict.fromkeys(Side, -cup_rise(asked))
    rise = asked.wanted_height - asked.ride_height
    return {side: rise * seat.motion_ratio / seat.give for side, seat in seats(asked).items()}


@dataclass(frozen=True)
class Setting:
    """What the hand sets: m down of each collar, in turns where it is threaded, else the spacers
    picked for each side by their place in the list."""

    shift: Mapping[Side, float]
    turns: Mapping[Side, float]
    picked: Mapping[Side, tuple[int, ...]]


def setting(asked: Asked) -> Setting:
    exact = exact_shift(asked)
    if asked.held == "thread":
        turns = {side: to_step(x / asked.pitch, asked.turn_step) for side, x in exact.items()}
        return Setting({side: n * asked.pitch for side, n in turns.items()}, turns, {})
    sizes = [row.thickness for row in asked.clip]
    now = places(asked)
    picked = {side: nearest_pile(sizes, now[side] + exact[side]) for side in Side}
    piles = {side: sum(sizes[place] for place in picked[side]) for side in Side}
    return Setting({side: piles[side] - now[side] for side in Side}, {}, picked)


def after(asked: Asked, done: Setting) -> dict[Side, Seat]:
    rise = cup_rise(asked)
    return {side: seat.down(done.shift[side] + rise) for side, seat in seats(asked).items()}


def places_after(asked: Asked, done: Setting) -> dict[Side, float]:
    """The gap, or the pile, of each side once it is set, m."""
    return {side: now + gap_sign(asked) * done.shift[side] for side, now in places(asked).items()}


def rise(asked: Asked, done: Setting) -> float:
    """By how much the end then stands higher, m, both sides together."""
    then = after(asked, done)
    return sum(seat.rise(then[side]) for side, seat in seats(asked).items()) / 2


def turns_left(asked: Asked, gap: float) -> tuple[float | None, float | None]:
    """Turns up and down that the thread still has from a gap; None where its end is not known."""
    if asked.held == "clips":
        return None, None
    ends = asked.gap_top, asked.gap_foot
    up, down = (
        None if end is None else gap_sign(asked) * (end - gap) / asked.pitch for end in ends
    )
    return None if up is None else -up, down


class SideFigures(Figures):
    turns: float | None = figure(
        "turns of the collar, exact (down is positive)", kind="turns", default=None
    )
    pile: float | None = figure("spacers, exact", kind="length", default=None)
    gap: float | None = figure("gap after that", kind="length", default=None)
    preload: float = figure("preload after that", kind="length")
    force: float = figure("preload force after that", kind="force")
    up: float | None = figure("turns remaining, up", kind="turns", default=None)
    down: float | None = figure("turns remaining, down", kind="turns", default=None)


class SeatFigures(Figures):
    sides: Mapping[Side, SideFigures] = by_key(labelled_side)
    rise: float = figure("Height gained at this end", kind="length")


def figures(asked: Asked, done: Setting) -> SeatFigures:
    exact, then, now = exact_shift(asked), after(asked, done), places(asked)
    thread = asked.held == "thread"
    made = {}
    for side in Side:
        gap = now[side] + gap_sign(asked) * done.turns[side] * asked.pitch if thread else None
        up, down = turns_left(asked, gap) if gap is not None else (None, None)
        made[side] = SideFigures(
            turns=exact[side] / asked.pitch if thread else None,
            pile=None if thread else now[side] + exact[side],
            gap=gap,
            preload=then[side].preload,
            force=then[side].preload_force,
            up=up,
            down=down,
        )
    return SeatFigures(sides=made, rise=rise(asked, done) + BETWEEN_READINGS * asked.friction.rest)
