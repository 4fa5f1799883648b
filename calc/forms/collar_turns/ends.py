"""Collar turns by the quick model: both collars of an end turned alike, the other end at rest
or turned too. Loads are taken as unchanged; droop stops are minded."""

import math
from collections.abc import Mapping, Sequence

from calc.answering.answer import Answer
from calc.answering.hand import to_step
from calc.forms.cautions import springs_off
from calc.forms.collar_turns import ends_words as words
from calc.forms.collar_turns.end import QuickEnd, gain, quick_ends
from calc.forms.collar_turns.inputs import Asked, EndRow
from calc.forms.entered import with_growths
from calc.forms.findings import check_thread
from calc.forms.friction import BETWEEN_READINGS, hides, with_end_friction
from calc.forms.growth import with_growth
from calc.forms.names import end_label
from calc.language import inside, tr
from calc.model.corners import End
from calc.physics.chassis import axle_turns
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import Problem

_HARDLY = 0.05  # m of height for each metre at the axle; less tells nothing of its turns


def joined(asked: Asked) -> Asked:
    """The inputs joined by all that the answer for one end or both rests on."""
    if asked.scope == "axle":
        asked = with_growth(asked, asked.axle, asked.arm, asked.motion_ratio)
        return with_end_friction(asked, asked.axle, asked.friction)
    asked = with_growths(asked)
    for end, friction in asked.frictions.items():
        asked = with_end_friction(asked, end, friction)
    return asked


def _free_turns(asked: Asked, ends: Sequence[QuickEnd]) -> list[float]:
    """Exact turns of each end without minding droop stops: asked for, or as given."""
    rises = [0.0 if end.wanted is None else end.wanted - end.height + end.rest for end in ends]
    if any(end.turns is not None for end in ends):
        return [end.turns or 0.0 for end in ends]
    if len(ends) == 2:
        front, rear = ends
        if math.isclose(front.point, rear.point, abs_tol=1e-6):
            raise Problem(
                asked.end[0].at(EndRow.reach),
                tr(
                    "Measuring point: the front and the rear point lie at the same place, so one "
                    "height says nothing about the other; measure nearer to the axles."
                ),
            )
        return list(
            axle_turns(
                wheelbase=asked.wheelbase,
                lifts=(front.lift, rear.lift),
                points=(front.point, rear.point),
                rises=(rises[0], rises[1]),
            )
        )
    share = _share(asked, ends[0])
    return [rises[0] / (ends[0].lift * share)]


def _share(asked: Asked, end: QuickEnd) -> float:
    """What `gain` says, where it is enough to go by."""
    share = gain(asked, end)
    if abs(share) < _HARDLY:
        raise Problem(
            Asked.reach,
            tr(
                "Measuring point: it lies so near the other axle that this end's collars hardly "
                "move it; measure nearer to this axle."
            ),
        )
    return share


def turns_by_hand(asked: Asked, ends: Sequence[QuickEnd]) -> list[float]:
    """The turns of each end that a hand sets: asked for, or as given. Raises Problem."""
    if asked.ask != "turns":
        return [end.turns or 0.0 for end in ends]
    exact = [end.reachable(n) for end, n in zip(ends, _free_turns(asked, ends), strict=True)]
    return [_rounded(end, n, asked.turn_step) for end, n in zip(ends, exact, strict=True)]


def heights_after(asked: Asked, ends: Sequence[QuickEnd], turns: Sequence[float]) -> list[float]:
    """Height at each measuring point in m after the turns, droop stops minded."""
    rises = {end.key: end.rise(n) for end, n in zip(ends, turns, strict=True)}
    front, rear = rises.get(End.FRONT, 0.0), rises.get(End.REAR, 0.0)
    return [end.height + rear + (front - rear) * end.point / asked.wheelbase for end in ends]


def _labelled(end: str, label: str) -> str:
    return f"{end_label(End(end))}: {inside(label)}" if end else label


class EndFigures(Figures):
    turns: float | None = figure(
        "Turns of each collar, exact (down is positive)", kind="turns", default=None
    )
    height_after: float = figure("Height after the rounded turns", kind="length")
    lift_per_turn: float = figure("One turn lifts this end by", kind="length")
    turns_left: float | None = figure(
        "Turns down until it is topped out (on its droop stops)", kind="turns", default=None
    )


class EndsFigures(Figures):
    """By end; an end that is alone has no name."""

    ends: Mapping[str, EndFigures] = by_key(_labelled)


def _key(end: QuickEnd) -> str:
    return "" if end.alone else end.key


def _figures(asked: Asked, turns: Sequence[float]) -> EndsFigures:
    """`turns` are those of the hand."""
    ends = quick_ends(asked)
    exact: list[float | None] = [None] * len(ends)
    if asked.ask == "turns":
        free = zip(ends, _free_turns(asked, ends), strict=True)
        exact = [end.reachable(n) for end, n in free]
    heights = heights_after(asked, ends, turns)
    return EndsFigures(
        ends={
            _key(end): EndFigures(
                turns=n,
                height_after=height + BETWEEN_READINGS * end.rest,
                lift_per_turn=end.lift,
                turns_left=end.turns_left if end.stop_known else None,
            )
            for end, n, height in zip(ends, exact, heights, strict=True)
        }
    )


def solve(asked: Asked) -> Answer:
    asked = joined(asked)
    ends = quick_ends(asked)
    turns = turns_by_hand(asked, ends)
    for end, n in zip(ends, turns, strict=True):
        check_thread(end.at, end.key, n, end.pitch, end.seat.stack.free)
    found = asked.propagate(lambda at: _figures(at, turns))
    heights = [found.value.ends[_key(end)].height_after for end in ends]
    placed = list(zip(ends, turns, heights, strict=True))
    return Answer(
        steps=tuple(words.step(asked, *each) for each in placed),
        quantities=asked.quantities(found),
        tables=tuple(words.table(asked, end) for end in ends),
        plots=(words.plot(asked, ends, turns),),
        cautions=(
            *hides(asked, [(end.key, end.rise(n), end.band) for end, n, _ in placed]),
            *(caution for each in placed for caution in words.cautions(asked, *each)),
            springs_off(),
        ),
        working=tuple(line for end in ends for line in words.working(asked, end)),
        writes=tuple(write for each in placed for write in words.writes(asked, *each)),
    )


def _rounded(end: QuickEnd, turns: float, step: float) -> float:
    """To the step of the hand, but never past the droop stop for a rounding."""
    rounded = to_step(turns, step)
    return rounded - step if 0 < end.turns_left < rounded else rounded
