"""Collar turns by the full model: a rigid body on four springs, all heights and loads."""

from collections.abc import Mapping, Sequence

from calc.answering.answer import Answer
from calc.forms.cautions import springs_off
from calc.forms.collar_turns import corners_words as words
from calc.forms.collar_turns.inputs import Asked, HeightRow
from calc.forms.collar_turns.measured import Measured, Outcome, measured
from calc.forms.entered import with_growths
from calc.forms.findings import MOST_TURNS, check_thread
from calc.forms.friction import BETWEEN_READINGS, with_corner_frictions
from calc.forms.names import corner_label
from calc.model.corners import CORNERS, Corner
from calc.physics.chassis import Shares, shares
from calc.physics.linear import back_substitute, triangular
from calc.physics.turns import Wish, best_turns, equations
from calc.replying.figures import Figures, by_key, figure
from calc.replying.inputs import memoised

_AROUND = 6  # steps tried either side of the exact turns
_TRIES = 6  # at turns that take no corner further down than to its droop stop


def solve(asked: Asked) -> Answer:
    asked = with_corner_frictions(with_growths(asked))
    now = measured(asked)
    made = outcome(asked, now)
    found = asked.propagate(lambda at: _linear(at, made)).showing(_shown(made))
    return Answer(
        steps=words.steps(asked, made),
        above=words.above(asked, made),
        quantities=asked.quantities(found),
        tables=(words.table(asked, made), words.effects(asked, now)),
        plots=(words.plot(now),),
        cautions=(*words.cautions(asked, now, made), springs_off()),
        working=words.working(asked, now, made),
        writes=words.writes(asked, made),
    )


def outcome(asked: Asked, now: Measured) -> Outcome:
    """The turns asked for or given, and how the body rests under them, droop stops minded."""
    exact: tuple[float, ...] = ()
    if asked.ask == "turns":
        exact, turns = _best(asked, now)
    else:
        turns = tuple(row.turns for row in asked.corner)
    field = HeightRow.wanted if exact else HeightRow.turns
    for row, leg, n in zip(asked.corner, now.legs, turns, strict=True):
        check_thread(row.at(field), row.key, n, leg.pitch, leg.seat.stack.free)
    then = now.car.turned(turns)
    rises = map(then.rise, now.points)
    heights = tuple(h + rise for h, rise in zip(now.heights, rises, strict=True))
    return Outcome(turns, exact, then, heights)


def _best(asked: Asked, now: Measured) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The turns that serve the wish best, exact and in whole steps of the hand."""
    car = now.car
    wish = _wish(asked, now)
    exact = _exact(asked, now)
    step, reach = asked.turn_step, _AROUND * asked.turn_step
    tops = [max(0.0, spare) for spare in car.spares]
    turns: tuple[float, ...] = ()
    for _ in range(_TRIES):
        limits = [
            (min(n, top) - reach, min(n + reach, top)) for n, top in zip(exact, tops, strict=True)
        ]
        turns = best_turns(car.corners, wish, loads=car.readings, step=step, limits=limits).turns
        stops = car.turned(turns).stance.on_stop
        useless = [stop and n > 0.0 for stop, n in zip(stops, turns, strict=True)]
        if not any(useless):
            break
        # Turning shifts load, and a corner that grows light comes to its stop sooner.
        tops = [n - step if it else top for n, it, top in zip(turns, useless, tops, strict=True)]
    return exact, turns


def _wish(asked: Asked, now: Measured) -> Wish:
    rises = tuple(
        row.wanted - height for row, height in zip(asked.corner, now.heights, strict=True)
    )
    return Wish(now.points, rises, cross_weight=asked.cross_wanted)


def _exact(asked: Asked, now: Measured) -> tuple[float, ...]:
    corners, loads = [leg.wheel for leg in now.legs], [leg.reading for leg in now.legs]
    one_turn = equations(corners, _wish(asked, now), loads=loads, step=1.0)
    return tuple(
        min(max(n, -MOST_TURNS), MOST_TURNS) for n in back_substitute(*triangular(*one_turn))
    )


_measured = memoised(measured)


def _labelled(corner: Corner, label: str) -> str:
    return f"{corner_label(corner)}: {label}"


class ExactTurns(Figures):
    turns: float = figure("turns, exact (down is positive)", kind="turns")


class HeightThen(Figures):
    height_after: float = figure("height after the turns", kind="length")


class CornersFigures(Figures):
    """Exact turns where heights are wanted."""

    turns: Mapping[Corner, ExactTurns] = by_key(_labelled)
    heights: Mapping[Corner, HeightThen] = by_key(_labelled)
    cross_weight_after: float = figure("Cross weight after (front left + rear right)", kind="share")
    front_share: float = figure("Front share", kind="share")
    left_share: float = figure("Left share", kind="share")
    total_load: float = figure("Load of the whole car", kind="force")


def _shown(made: Outcome) -> CornersFigures:
    """What comes of the turns, droop stops minded."""
    return _figures(made.exact, made.heights, made.then.shares)


def _linear(asked: Asked, made: Outcome) -> CornersFigures:
    """What comes of the turns by the linear model, where friction holds the corners as they come to
    rest."""
    now, held = _measured(asked), asked.rests()
    lifts = [n * leg.wheel.turn_lift for n, leg in zip(made.turns, now.legs, strict=True)]
    after = now.raised([up + BETWEEN_READINGS * one for up, one in zip(lifts, held, strict=True)])
    exact = _exact(asked, now.raised(held)) if made.exact else ()
    return _figures(exact, after.heights, shares([max(leg.reading, 0.0) for leg in after.legs]))


def _figures(exact: Sequence[float], heights: Sequence[float], then: Shares) -> CornersFigures:
    return CornersFigures(
        turns={corner: ExactTurns(turns=n) for corner, n in zip(CORNERS, exact, strict=False)},
        heights={
            corner: HeightThen(height_after=height)
            for corner, height in zip(CORNERS, heights, strict=True)
        },
        cross_weight_after=then.cross,
        front_share=then.front,
        left_share=then.left,
        total_load=then.total,
    )
