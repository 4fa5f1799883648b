"""Collar turns by the full model: a rigid body on four springs, all heights and loads."""

from collections.abc import Mapping
from dataclasses import replace

from calc.answering.answer import Answer, Quantity
from calc.forms.cautions import springs_off
from calc.forms.collar_turns import corners_words as words
from calc.forms.collar_turns.corner_state import Outcome, State, legs, sprung, state
from calc.forms.names import CORNER_LABELS
from calc.language import tr
from calc.physics.chassis import shares, turn_collars
from calc.physics.linear import back_substitute, triangular
from calc.physics.settle import balance_point, settle, turned
from calc.physics.turns import Wish, best_turns, equations
from calc.replying.form import Given

_MOST = 60.0  # turns either way; no thread is longer
_AROUND = 6  # steps tried either side of the exact turns


def solve(given: Given) -> Answer:
    car = state(given)
    made = outcome(given, car)
    return Answer(
        steps=words.steps(given, made),
        quantities=_quantities(given, made),
        tables=(words.table(given, made), words.effects(given, car)),
        plots=(words.plot(car),),
        cautions=(*words.cautions(given, car, made), springs_off()),
        working=words.working(given, car, made),
        writes=words.writes(given, made),
    )


def outcome(given: Given, car: State) -> Outcome:
    """The turns asked for or given, and how the body rests under them, droop stops minded."""
    rows = given.rows("corner")
    exact: tuple[float, ...] = ()
    if given.choice("ask") == "turns":
        exact, turns = _best(given, car)
    else:
        turns = tuple(row.turns for row in rows)
    standing = legs(given, car)
    loads = [sprung(given, row) for row in rows]
    weight, centre = sum(loads), balance_point(car.corners, loads)
    before = settle(standing, weight=weight, centre=centre)
    moved = [turned(leg, n) for leg, n in zip(standing, turns, strict=True)]
    after = settle(moved, weight=weight, centre=centre)
    rises = (after.height(p) - before.height(p) for p in car.points)
    shifts = (a - b for a, b in zip(after.loads, before.loads, strict=True))
    return Outcome(
        turns,
        exact,
        tuple(h + rise for h, rise in zip(car.heights, rises, strict=True)),
        tuple(max(0.0, f + shift) for f, shift in zip(car.loads, shifts, strict=True)),
        before,
        after,
    )


def _best(given: Given, car: State) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The turns that serve the wish best, exact and in whole steps of the hand."""
    rises = tuple(
        row.wanted - height for row, height in zip(given.rows("corner"), car.heights, strict=True)
    )
    wish = Wish(car.points, rises, cross_weight=given.maybe("cross_wanted"))
    one_turn = equations(car.corners, wish, loads=car.loads, step=1.0)
    exact = [min(max(n, -_MOST), _MOST) for n in back_substitute(*triangular(*one_turn))]
    step, reach = given.turn_step, _AROUND * given.turn_step
    limits = [(n - reach, n + reach) for n in exact]
    rounded = best_turns(car.corners, wish, loads=car.loads, step=step, limits=limits).turns
    return tuple(exact), rounded


def _quantities(given: Given, made: Outcome) -> tuple[Quantity, ...]:
    turns, now = made.turns, shares(made.loads)

    def figures(shifted: Given) -> Mapping[str, float]:
        car = state(shifted)
        loads = [
            f + c for f, c in zip(car.loads, turn_collars(car.corners, turns).loads, strict=True)
        ]
        after = car.heights_after(turns)
        named = {f"{key}_height_after": h for (key, _), h in zip(CORNER_LABELS, after, strict=True)}
        return {**named, "cross_weight_after": shares([max(f, 0.0) for f in loads]).cross}

    doubted = given.carry(figures)
    result = [
        Quantity(f"{key}_turns", tr("{corner}: turns, exact", corner=tr(corner)), n, "turns")
        for (key, corner), n in zip(CORNER_LABELS, made.exact, strict=False)
    ]
    for (key, corner), height in zip(CORNER_LABELS, made.heights, strict=True):
        figure = replace(doubted[f"{key}_height_after"], value=height)
        label = tr("{corner}: height after the turns", corner=tr(corner))
        result.append(given.quantity(f"{key}_height_after", label, "length", figure))
    cross = replace(doubted["cross_weight_after"], value=now.cross)
    label = tr("Cross weight after (front left + rear right)")
    result.append(given.quantity("cross_weight_after", label, "share", cross))
    for name, label, share in (
        ("front_share", tr("Front share"), now.front),
        ("left_share", tr("Left share"), now.left),
    ):
        result.append(Quantity(name, label, share, "share"))
    result.append(Quantity("total_load", tr("Load of the whole car"), now.total, "force"))
    return tuple(result)
