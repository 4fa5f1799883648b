"""Collar turns by the full model: a rigid body on four springs, all heights and loads."""

from collections.abc import Mapping
from dataclasses import replace

from calc.answering.answer import Answer, Quantity
from calc.forms import entered
from calc.forms.cautions import springs_off
from calc.forms.collar_turns import corners_words as words
from calc.forms.collar_turns.measured import Measured, Outcome, measured
from calc.forms.names import corner_label
from calc.language import tr
from calc.model.corners import CORNERS
from calc.physics.chassis import shares
from calc.physics.linear import back_substitute, triangular
from calc.physics.turns import Wish, best_turns, equations
from calc.replying.form import Given

_MOST = 60.0  # turns either way; no thread is longer
_AROUND = 6  # steps tried either side of the exact turns


def solve(given: Given) -> Answer:
    given = entered.with_growth(given)
    now = measured(given)
    made = outcome(given, now)
    return Answer(
        steps=words.steps(given, made),
        above=words.above(given, made),
        quantities=_quantities(given, made),
        tables=(words.table(given, made), words.effects(given, now)),
        plots=(words.plot(now),),
        cautions=(*words.cautions(given, now, made), springs_off()),
        working=words.working(given, now, made),
        writes=words.writes(given, made),
    )


def outcome(given: Given, now: Measured) -> Outcome:
    """The turns asked for or given, and how the body rests under them, droop stops minded."""
    exact: tuple[float, ...] = ()
    if given.choice("ask") == "turns":
        exact, turns = _best(given, now)
    else:
        turns = tuple(row.turns for row in given.rows("corner"))
    then = now.car.turned(turns)
    rises = map(then.rise, now.points)
    heights = tuple(h + rise for h, rise in zip(now.heights, rises, strict=True))
    return Outcome(turns, exact, then, heights)


def _best(given: Given, now: Measured) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The turns that serve the wish best, exact and in whole steps of the hand."""
    car = now.car
    rises = tuple(
        row.wanted - height for row, height in zip(given.rows("corner"), now.heights, strict=True)
    )
    wish = Wish(now.points, rises, cross_weight=given.maybe("cross_wanted"))
    one_turn = equations(car.corners, wish, loads=car.readings, step=1.0)
    exact = [min(max(n, -_MOST), _MOST) for n in back_substitute(*triangular(*one_turn))]
    step, reach = given.turn_step, _AROUND * given.turn_step
    limits = [(n - reach, n + reach) for n in exact]
    rounded = best_turns(car.corners, wish, loads=car.readings, step=step, limits=limits).turns
    return tuple(exact), rounded


def _quantities(given: Given, made: Outcome) -> tuple[Quantity, ...]:
    turns, then = made.turns, made.then.shares

    def figures(shifted: Given) -> Mapping[str, float]:
        now = measured(shifted)
        change = now.change(turns)
        moved = zip((leg.reading for leg in now.legs), change.loads, strict=True)
        after = now.heights_after(change)
        named = {f"{corner}_height_after": h for corner, h in zip(CORNERS, after, strict=True)}
        cross = shares([max(load + more, 0.0) for load, more in moved]).cross
        return {**named, "cross_weight_after": cross}

    doubted = given.carry(figures)
    result = [
        Quantity(
            f"{corner}_turns", tr("{corner}: turns, exact", corner=corner_label(corner)), n, "turns"
        )
        for corner, n in zip(CORNERS, made.exact, strict=False)
    ]
    for corner, height in zip(CORNERS, made.heights, strict=True):
        figure = replace(doubted[f"{corner}_height_after"], value=height)
        label = tr("{corner}: height after the turns", corner=corner_label(corner))
        result.append(given.quantity(f"{corner}_height_after", label, "length", figure))
    cross = replace(doubted["cross_weight_after"], value=then.cross)
    label = tr("Cross weight after (front left + rear right)")
    result.append(given.quantity("cross_weight_after", label, "share", cross))
    for name, label, share in (
        ("front_share", tr("Front share"), then.front),
        ("left_share", tr("Left share"), then.left),
    ):
        result.append(Quantity(name, label, share, "share"))
    result.append(Quantity("total_load", tr("Load of the whole car"), then.total, "force"))
    return tuple(result)
