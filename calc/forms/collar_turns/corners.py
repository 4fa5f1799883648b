"""Collar turns by the full model: a rigid body on four springs, all heights and loads."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Quantity
from calc.forms import entered, findings
from calc.forms.cautions import springs_off
from calc.forms.collar_turns import corners_words as words
from calc.forms.collar_turns.measured import Measured, Outcome, measured
from calc.forms.friction import AGAIN, rests, with_corner_frictions
from calc.forms.names import corner_label
from calc.language import tr
from calc.model.corners import CORNERS
from calc.physics.chassis import shares
from calc.physics.linear import back_substitute, triangular
from calc.physics.turns import Wish, best_turns, equations
from calc.replying.form import Given, part

_MOST = 60.0  # turns either way; no thread is longer
_AROUND = 6  # steps tried either side of the exact turns


def solve(given: Given) -> Answer:
    given = with_corner_frictions(entered.with_growth(given))
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
    what = "wanted" if exact else "turns"
    for corner, leg, n in zip(CORNERS, now.legs, turns, strict=True):
        at = f"corner.{corner}.{what}"
        findings.check_thread(at, corner, n, leg.pitch, leg.seat.stack.free)
    then = now.car.turned(turns)
    rises = map(then.rise, now.points)
    heights = tuple(h + rise for h, rise in zip(now.heights, rises, strict=True))
    return Outcome(turns, exact, then, heights)


def _best(given: Given, now: Measured) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The turns that serve the wish best, exact and in whole steps of the hand."""
    car = now.car
    wish = _wish(given, now)
    exact = _exact(given, now)
    step, reach = given.turn_step, _AROUND * given.turn_step
    tops = [max(0.0, spare) for spare in car.spares]
    turns: tuple[float, ...] = ()
    for _ in range(_AROUND):
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


def _wish(given: Given, now: Measured) -> Wish:
    rises = tuple(
        row.wanted - height for row, height in zip(given.rows("corner"), now.heights, strict=True)
    )
    return Wish(now.points, rises, cross_weight=given.maybe("cross_wanted"))


def _exact(given: Given, now: Measured) -> tuple[float, ...]:
    corners, loads = [leg.corner for leg in now.legs], [leg.reading for leg in now.legs]
    one_turn = equations(corners, _wish(given, now), loads=loads, step=1.0)
    return tuple(min(max(n, -_MOST), _MOST) for n in back_substitute(*triangular(*one_turn)))


_measured = part(measured)


def _quantities(given: Given, made: Outcome) -> tuple[Quantity, ...]:
    turns, then = made.turns, made.then.shares

    def figures(shifted: Given) -> Mapping[str, float]:
        now = _measured(shifted)
        held = rests(shifted)
        lifts = [n * leg.corner.turn_lift for n, leg in zip(turns, now.legs, strict=True)]
        after = now.raised([up + AGAIN * one for up, one in zip(lifts, held, strict=True)])
        named = {
            f"{corner}_height_after": h for corner, h in zip(CORNERS, after.heights, strict=True)
        }
        shown = shares([max(leg.reading, 0.0) for leg in after.legs])
        if made.exact:
            exact = zip(CORNERS, _exact(shifted, now.raised(held)), strict=True)
            named |= {f"{corner}_turns": n for corner, n in exact}
        return {
            **named,
            "cross_weight_after": shown.cross,
            "front_share": shown.front,
            "left_share": shown.left,
            "total_load": shown.total,
        }

    doubted = given.carry(figures)
    result = []
    for corner, n in zip(CORNERS, made.exact, strict=False):
        figure = doubted[f"{corner}_turns"].at(n)
        label = tr("{corner}: turns, exact", corner=corner_label(corner))
        result.append(given.quantity(f"{corner}_turns", label, "turns", figure))
    for corner, height in zip(CORNERS, made.heights, strict=True):
        figure = doubted[f"{corner}_height_after"].at(height)
        label = tr("{corner}: height after the turns", corner=corner_label(corner))
        result.append(given.quantity(f"{corner}_height_after", label, "length", figure))
    cross = doubted["cross_weight_after"].at(then.cross)
    label = tr("Cross weight after (front left + rear right)")
    result.append(given.quantity("cross_weight_after", label, "share", cross))
    for name, label, share in (
        ("front_share", tr("Front share"), then.front),
        ("left_share", tr("Left share"), then.left),
    ):
        figure = doubted[name].at(share)
        result.append(given.quantity(name, label, "share", figure))
    total = doubted["total_load"].at(then.total)
    result.append(given.quantity("total_load", tr("Load of the whole car"), "force", total))
    return tuple(result)
