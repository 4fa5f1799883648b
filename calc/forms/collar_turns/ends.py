"""Collar turns by the quick model: both collars of an end turned alike, the other end at rest
or turned too. Loads are taken as unchanged; droop stops are minded."""

import math
from collections.abc import Callable, Mapping, Sequence

from calc.answering.answer import Answer, Quantity
from calc.answering.hand import to_step
from calc.answering.uncertainty import Doubted
from calc.forms.cautions import springs_off
from calc.forms.collar_turns import ends_words as words
from calc.forms.collar_turns.end import QuickEnd, both, gain, one
from calc.forms.entered import with_axle_growth, with_growth
from calc.forms.fields import chosen_end
from calc.forms.findings import check_thread
from calc.forms.friction import AGAIN, with_end_friction, with_end_frictions
from calc.forms.names import end_label
from calc.language import inside, later, tr
from calc.model.corners import End
from calc.physics.chassis import axle_turns
from calc.replying.form import Given, Problem

Read = Callable[[Given], tuple[QuickEnd, ...]]


def solve_one(given: Given) -> Answer:
    return _solve(joined_one(given), one)


def solve_both(given: Given) -> Answer:
    return _solve(joined_both(given), both)


def joined_one(given: Given) -> Given:
    """The entries of the chosen end, joined by all that its answer rests on."""
    return with_end_friction(with_axle_growth(given), chosen_end(given))


def joined_both(given: Given) -> Given:
    """The same for both ends."""
    return with_end_frictions(with_growth(given))


def _free_turns(given: Given, ends: Sequence[QuickEnd]) -> list[float]:
    """Exact turns of each end without minding droop stops: asked for, or as given."""
    rises = [0.0 if end.wanted is None else end.wanted - end.height + end.rest for end in ends]
    if any(end.turns is not None for end in ends):
        return [end.turns or 0.0 for end in ends]
    if len(ends) == 2:
        front, rear = ends
        if math.isclose(front.point, rear.point, abs_tol=1e-6):
            raise Problem(
                "end.front.reach",
                tr(
                    "Measuring point: the front and the rear point lie at the same place, so one "
                    "height says nothing about the other; measure nearer to the axles."
                ),
            )
        return list(
            axle_turns(
                wheelbase=given.wheelbase,
                lifts=(front.lift, rear.lift),
                points=(front.point, rear.point),
                rises=(rises[0], rises[1]),
            )
        )
    share = _share(given, ends[0])
    return [rises[0] / (ends[0].lift * share)]


def _share(given: Given, end: QuickEnd) -> float:
    """What `gain` says, where it is enough to go by."""
    share = gain(given, end)
    if abs(share) < 0.05:
        raise Problem(
            "reach",
            tr(
                "Measuring point: it lies so near the other axle that this end's collars hardly "
                "move it; measure nearer to this axle."
            ),
        )
    return share


def turns_by_hand(given: Given, ends: Sequence[QuickEnd]) -> list[float]:
    """The turns of each end that a hand sets: asked for, or as given. Raises Problem."""
    if given.choice("ask") != "turns":
        return [end.turns or 0.0 for end in ends]
    exact = [end.reachable(n) for end, n in zip(ends, _free_turns(given, ends), strict=True)]
    return [_rounded(end, n, given.turn_step) for end, n in zip(ends, exact, strict=True)]


def heights_after(given: Given, ends: Sequence[QuickEnd], turns: Sequence[float]) -> list[float]:
    """Height at each measuring point in m after the turns, droop stops minded."""
    rises = {end.key: end.rise(n) for end, n in zip(ends, turns, strict=True)}
    front, rear = rises.get(End.FRONT, 0.0), rises.get(End.REAR, 0.0)
    return [end.height + rear + (front - rear) * end.point / given.wheelbase for end in ends]


def _solve(given: Given, read: Read) -> Answer:
    ends = read(given)
    turns = turns_by_hand(given, ends)
    what = "wanted_height" if given.choice("ask") == "turns" else "turns"
    for end, n in zip(ends, turns, strict=True):
        at = f"end.{end.key}.{what}" if end.prefix else what
        check_thread(at, end.key, n, end.pitch, end.seat.stack.free)
    doubted = given.carry(lambda shifted: _figures(shifted, read, turns))
    heights = [doubted[f"{end.prefix}height_after"].value for end in ends]
    placed = list(zip(ends, turns, heights, strict=True))
    return Answer(
        steps=tuple(words.step(given, *each) for each in placed),
        quantities=_quantities(given, ends, doubted),
        tables=tuple(words.table(given, end) for end in ends),
        plots=(words.plot(given, ends, turns),),
        cautions=(
            *(caution for each in placed for caution in words.cautions(given, *each)),
            springs_off(),
        ),
        working=tuple(line for end in ends for line in words.working(given, end)),
        writes=tuple(write for each in placed for write in words.writes(given, *each)),
    )


def _figures(given: Given, read: Read, turns: Sequence[float]) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact; `turns` are those of the hand."""
    ends = read(given)
    values = {}
    if given.choice("ask") == "turns":
        for end, n in zip(ends, _free_turns(given, ends), strict=True):
            values[f"{end.prefix}turns"] = end.reachable(n)
    for end, height in zip(ends, heights_after(given, ends, turns), strict=True):
        values[f"{end.prefix}height_after"] = height + AGAIN * end.rest
        values[f"{end.prefix}lift_per_turn"] = end.lift
        values[f"{end.prefix}turns_left"] = end.turns_left
    return values


_LABELS = (
    ("turns", later("Turns of each collar, exact (down is positive)"), "turns"),
    ("height_after", later("Height after the rounded turns"), "length"),
    ("lift_per_turn", later("One turn lifts this end by"), "length"),
    ("turns_left", later("Turns down until it is topped out (on its droop stops)"), "turns"),
)


def _label(end: QuickEnd, label: str) -> str:
    if not end.prefix:
        return tr(label)
    return f"{end_label(end.key)}: {inside(tr(label))}"


def _quantities(
    given: Given, ends: Sequence[QuickEnd], doubted: Mapping[str, Doubted]
) -> tuple[Quantity, ...]:
    named = (
        (f"{end.prefix}{name}", _label(end, label), kind)
        for end in ends
        for name, label, kind in _LABELS
    )
    return tuple(
        given.quantity(name, label, kind, doubted[name])
        for name, label, kind in named
        if name in doubted
    )


def _rounded(end: QuickEnd, turns: float, step: float) -> float:
    """To the step of the hand, but never past the droop stop for a rounding."""
    rounded = to_step(turns, step)
    return rounded - step if 0 < end.turns_left < rounded else rounded
