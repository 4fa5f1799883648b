"""Trapped gas: how far a closed damper comes back by itself, and with what force."""

from collections.abc import Iterator

from calc.answering.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Step,
    Table,
    Working,
    Write,
    barring,
)
from calc.answering.hand import to_step
from calc.answering.uncertainty import COVERAGE, Uncertain
from calc.forms.fill_bleed.inputs import Asked
from calc.forms.oil_warm import oil_cautions, with_law
from calc.forms.piston import oil_at
from calc.forms.writes import end_write
from calc.language import later, tr
from calc.physics.damper import speed_under
from calc.physics.gas import GAMMA, Oil, TrappedGas
from calc.physics.oil import EXPANSION, ROOM
from calc.physics.rebound import friction_from, time_out
from calc.replying.figures import Figures, Propagated, figure
from calc.replying.inputs import Problem
from calc.units import spelt

_STEPS = 10
_WARMER = 30.0  # K, from the bench to a hot run
_MOST = 0.9  # of the way back, that is timed: the last of it is slow without end
_NEAR_LOCK = 0.98  # share of the way to the lock that is still drawn
_BLADDER = later(
    "With no room for the bladder to move, or too much oil under the cap, the shaft locks or the "
    "bladder tears: push the shaft all the way in by hand once before the damper goes on the car."
)
_PRESSURE = later(
    "Wear eye protection, open the cap slowly under a rag, and keep your face out of the line of "
    "the shaft: the air inside can be under pressure."
)


def _gas(asked: Asked, closed_at: float | None = None) -> TrappedGas:
    at = asked.closed_at if closed_at is None else closed_at
    return TrappedGas(asked.gas, at, asked.piston.shaft, asked.room)


def _drag(asked: Asked) -> float:
    """Seal drag, N: from the rebound measured where there is one, else as entered."""
    if asked.came_back is None:
        return asked.friction
    moved = asked.rebound_wanted is not None
    gas = _gas(asked, asked.closed_then if moved else asked.closed_at)
    return friction_from(gas, max(asked.stroke - asked.came_back, gas.closed_at))


def _check_measured(asked: Asked) -> None:
    """Raise Problem where no friction explains how far the shaft came back."""
    gas = _gas(asked)
    most, least = asked.stroke - gas.closed_at, max(asked.stroke - gas.locked_at, 0.0)
    if asked.came_back is None or least < asked.came_back <= max(most, 0.0) + 2 * asked.ruler:
        return
    raise Problem(
        Asked.came_back,
        tr(
            "Rebound measured: with this air, and the cap closed there, the shaft comes back no "
            "further than {most}; measure the shaft at closing, or the air, again.",
            most=asked.say(max(most, 0.0), "length", 1),
        )
        if asked.came_back > most
        else tr(
            "Rebound measured: with this air the shaft locks {least} short of fully in, so it "
            "cannot come back by less; measure the rebound, or the air, again.",
            least=asked.say(least, "length", 1),
        ),
    )


def _closed_at(asked: Asked) -> float:
    """Where to close the cap: as entered, or for the rebound wanted, to the step of the ruler."""
    wanted = asked.rebound_wanted
    if wanted is None:
        return asked.closed_at
    exact = (1 - wanted) * asked.stroke - (_gas(asked, 0.0).rest_position(_drag(asked)))
    if exact < -asked.ruler / 2:
        raise Problem(
            Asked.rebound_wanted,
            tr(
                "Rebound wanted: with this friction and this much air the shaft does not come back "
                "that far, wherever the cap is closed; less air or less friction is needed."
            ),
        )
    return max(to_step(exact, asked.ruler), 0.0)


def _rest(gas: TrappedGas, asked: Asked) -> float:
    """How far in the shaft still stands when it has come back as far as it does."""
    return min(gas.rest_position(_drag(asked)), asked.stroke)


def _time(asked: Asked, gas: TrappedGas) -> float:
    """Time in which the shaft, let go fully in, comes back most of its way, s."""
    taken = time_out(
        gas, asked.made(), *oil_at(asked, asked.oil), asked.stroke, friction=_drag(asked),
        share=_MOST,
    )  # fmt: skip
    return taken * asked.piston_law


class GasFigures(Figures):
    rebound: float = figure("The shaft comes back by itself", kind="length")
    rebound_share: float = figure("Rebound, share of the stroke", kind="share")
    force_in: float | None = figure("Rebound force fully in, slow", kind="force")
    force_in_quick: float | None = figure("Rebound force fully in, in a fast stroke", kind="force")
    back_in: float | None = figure("Time for nine tenths of it", kind="time")
    drag: float | None = figure("Seal drag by the rebound measured", kind="force")
    force_out: float = figure("Force fully out (negative draws the shaft in)", kind="force")
    force_warm: float | None = figure(
        "Force where the cap was closed, once all is 30 °C warmer", kind="force", default=None
    )
    locks_at: float = figure("The shaft locks this far in", kind="length")


def _figures(asked: Asked, locks: bool, comes: bool) -> GasFigures:
    gas = _gas(asked)
    return GasFigures(
        rebound=asked.stroke - _rest(gas, asked),
        rebound_share=1 - _rest(gas, asked) / asked.stroke,
        force_in=None if locks else gas.force_at(asked.stroke),
        force_in_quick=None if locks else gas.force_at(asked.stroke, GAMMA),
        back_in=_time(asked, gas) if comes else None,
        drag=None if asked.came_back is None else _drag(asked),
        force_out=gas.force_at(0.0),
        force_warm=_warm(asked, gas),
        locks_at=gas.locked_at,
    )


def _warm(asked: Asked, gas: TrappedGas) -> float | None:
    """Force where the cap was closed once oil and air are warmer; None where the oil has grown
    until no air is left."""
    oil = Oil(asked.held, EXPANSION)
    if oil.grown(_WARMER) >= gas.volume:
        return None
    return gas.force_warmer(gas.closed_at, _WARMER, ROOM, oil)


def solve(asked: Asked) -> Answer:
    # The cap is closed to the step of the ruler; the uncertainty is how exactly that is done.
    _check_measured(asked)
    asked = with_law(asked).assuming((Asked.closed_then, asked.closed_at, asked.u["closed_at"]))
    asked = asked.changed(Asked.closed_at, _closed_at(asked))
    gas = _gas(asked)
    locks = gas.locked_at <= asked.stroke
    hot = () if locks else tuple(_locks_warm(asked, gas))
    comes = not locks and _rest(gas, asked) < asked.stroke
    found = asked.propagate(lambda at: _figures(at, locks, comes))
    return Answer(
        steps=(_step(asked, gas, locks), *_timed(asked, found)),
        quantities=asked.quantities(found),
        tables=(_table(asked, gas),),
        plots=(_plot(asked, gas),),
        cautions=(
            *oil_cautions(asked, [asked.oil], [asked.warm]),
            *_cautions(asked, gas, locks),
            *hot,
            Caution(tr(_BLADDER)),
            Caution(tr(_PRESSURE)),
        ),
        working=_working(asked, gas, locks, found.value.back_in),
        writes=_writes(asked),
        on_uncertainty=lambda: (
            () if locks or hot else tuple(_may_lock(asked, found.uncertain["locks_at"]))
        ),
    )


def _locks_warm(asked: Asked, gas: TrappedGas) -> Iterator[Caution]:
    """A word where the shaft locks only once the oil has grown."""
    grown = Oil(asked.held, EXPANSION).grown(_WARMER)
    locked_at = gas.locked_at - grown / gas.area
    if locked_at <= asked.stroke:
        yield Caution(
            tr(
                "The shaft locks once all is 30 °C warmer: the oil has then grown by {grown}, and "
                "the air is used up {shaft_in} in, before the stroke of {stroke} ends. It needs "
                "more air, or the cap closed with the shaft further in.",
                grown=asked.say(grown, "volume", 2),
                shaft_in=asked.say(max(locked_at, 0.0), "length", 1),
                stroke=asked.say(asked.stroke, "length", 1),
            )
        )


def _may_lock(asked: Asked, locks_at: Uncertain) -> Iterator[str]:
    """A word where the shaft may lock within the doubt of the air in it."""
    if locks_at.value - COVERAGE * locks_at.u < asked.stroke:
        yield tr(
            "With so little air the shaft may lock before it is fully in; the ± of the air leaves "
            "that open. Push it all the way in by hand, slowly; if it stops early, open the cap "
            "and close it with the shaft further in."
        )


def _step(asked: Asked, gas: TrappedGas, locks: bool) -> Step:
    if gas.closed_at >= asked.stroke:
        return Step(tr("The shaft does not come back by itself."))
    gives, at = _comes_back(asked, gas, locks), asked.say(gas.closed_at, "length", 1)
    if asked.rebound_wanted is None:
        pushes = tr(
            "Pushed in past {shaft_in}, where the cap was closed, the shaft is pushed back out by "
            "the air.",
            shaft_in=at,
        )
        return Step(pushes, gives)
    return Step(tr("Close the cap with the shaft {shaft_in} in.", shaft_in=at), gives)


def _timed(asked: Asked, found: Propagated[GasFigures]) -> Iterator[Step]:
    """How long to watch the shaft, and what another time tells."""
    back_in, u = found.value.back_in, found.u.back_in
    if back_in is None or u is None:
        return
    says = tr(
        "Push the shaft in, let go, and time it: nine tenths of its way back should take about "
        "{time}.",
        time=asked.rough(back_in, "time", u),
    )
    if _drag(asked) == 0:
        because = tr(
            "Worked out without seal drag: with it the shaft is slower and stops short. Left and "
            "right should need the same time; the slower one has more drag or thicker oil."
        )
    else:
        because = tr(
            "With a seal drag of {drag}. Left and right should need the same time; the slower one "
            "has more drag or thicker oil.",
            drag=asked.say(_drag(asked), "force"),
        )
    yield Step(says, because)


def _comes_back(asked: Asked, gas: TrappedGas, locks: bool) -> str:
    say, back = asked.say, asked.stroke - _rest(gas, asked)
    length, share = say(back, "length", 1), say(back / asked.stroke, "share", 0)
    if locks:
        return tr(
            "The shaft comes back {length} by itself, {share} of its stroke. It locks before it "
            "is fully in.",
            length=length,
            share=share,
        )
    return tr(
        "The shaft comes back {length} by itself, {share} of its stroke; fully in, the "
        "air pushes with {slow}, {quick} in a fast stroke.",
        length=length,
        share=share,
        slow=say(gas.force_at(asked.stroke), "force"),
        quick=say(gas.force_at(asked.stroke, GAMMA), "force"),
    )


def _cautions(asked: Asked, gas: TrappedGas, locks: bool) -> list[Caution]:
    found = []
    if locks:
        text = tr(
            "The shaft locks {shaft_in} in: the air is used up before the stroke of "
            "{stroke} ends. It needs more air, or the cap closed with the shaft further in.",
            shaft_in=asked.say(gas.locked_at, "length", 1),
            stroke=asked.say(asked.stroke, "length", 1),
        )
        found.append(barring(text))
    if gas.closed_at >= asked.stroke:
        text = tr(
            "The cap is closed with the shaft all the way in: there is no rebound, and the "
            "damper draws the shaft in wherever it stands."
        )
        finding = tr("The cap is closed with the shaft all the way in: there is no rebound.")
        found.append(Caution(text, finding=finding))
    return found


def _reach(asked: Asked, gas: TrappedGas) -> list[float]:
    """How far in the shaft is looked at: over the stroke, or up to where it locks."""
    end = min(asked.stroke, _NEAR_LOCK * gas.locked_at)
    return [end * n / _STEPS for n in range(_STEPS + 1)]


def _table(asked: Asked, gas: TrappedGas) -> Table:
    rows = tuple(
        (
            asked.bare(x, "length", 1),
            asked.bare(gas.force_at(x), "force"),
            asked.bare(gas.force_at(x, GAMMA), "force"),
            asked.bare(gas.pressure_at(x), "pressure"),
        )
        for x in _reach(asked, gas)
    )
    unit = asked.symbol("force")
    heads = (
        tr("Shaft in {unit}", unit=asked.symbol("length")),
        tr("Slow {unit}", unit=unit),
        tr("Fast {unit}", unit=unit),
        tr("Pressure {unit}", unit=asked.symbol("pressure")),
    )
    return Table(tr("Force of the trapped air on the shaft"), heads, rows)


def _plot(asked: Asked, gas: TrappedGas) -> Plot:
    reach = _reach(asked, gas)
    curves = tuple(
        Curve(name, tuple((x, gas.force_at(x, exponent)) for x in reach), style)
        for name, exponent, style in ((tr("slow"), 1.0, "main"), (tr("fast"), GAMMA, "second"))
    )
    marks = (Mark(gas.closed_at, 0.0, tr("begins")),) if gas.closed_at <= reach[-1] else ()
    return Plot(
        tr("Force of the trapped air against how far the shaft is in"),
        Axis(tr("Shaft pushed in by"), "length"),
        Axis(tr("Force, pushing out"), "force"),
        curves,
        marks,
        tr(
            "Nothing at {closed_at}, where the cap was closed; {force} at {shaft_in} in a slow "
            "stroke.",
            closed_at=asked.say(gas.closed_at, "length", 1),
            force=asked.say(gas.force_at(reach[-1]), "force"),
            shaft_in=asked.say(reach[-1], "length", 1),
        ),
    )


def _working(
    asked: Asked, gas: TrappedGas, locks: bool, back_in: float | None
) -> tuple[Working, ...]:
    say = asked.say
    lock = Working(
        tr("the shaft locks at: where the cap was closed + air / area of the shaft"),
        f"{say(gas.closed_at, 'length')} + {say(gas.volume, 'volume')} / "
        f"{spelt(f'{gas.area * 1e6:.2f}')} mm² = {say(gas.locked_at, 'length', 1)}",
        tr("volume of a cylinder"),
    )
    if locks:
        return (lock,)
    return (
        _force_working(asked, gas),
        *_time_working(asked, gas, back_in),
        *_drag_working(asked),
        lock,
    )


def _time_working(asked: Asked, gas: TrappedGas, back_in: float | None) -> Iterator[Working]:
    if back_in is None:
        return
    middle = (asked.stroke + _rest(gas, asked)) / 2
    push = gas.force_at(middle) - _drag(asked)
    speed = speed_under(asked.made(), push, *oil_at(asked, asked.oil), "rebound")
    yield Working(
        tr(
            "time = sum of distance / speed; at each point the push less the drag is the damping "
            "force"
        ),
        tr(
            "half way, {shaft_in} in: {push} move the shaft at {speed}; nine tenths in {time}",
            shaft_in=asked.say(middle, "length", 1),
            push=asked.say(push, "force", 3),
            speed=asked.say(speed, "speed"),
            time=asked.say(back_in, "time"),
        ),
        tr("balance of forces, the shaft without mass; the piston as in Piston and oil"),
    )


def _drag_working(asked: Asked) -> Iterator[Working]:
    if asked.came_back is not None:
        yield Working(
            tr("seal drag = push of the air where the shaft stopped"),
            tr(
                "stopped {shaft_in} in: {drag}",
                shaft_in=asked.say(asked.stroke - asked.came_back, "length", 1),
                drag=asked.say(_drag(asked), "force", 3),
            ),
            tr("balance of forces at rest"),
        )


def _force_working(asked: Asked, gas: TrappedGas) -> Working:
    say = asked.say
    return Working(
        tr("p = p0 V0/V (Boyle), in a fast stroke p0 (V0/V)^1.4; force = (p − p0) × shaft"),
        tr(
            "fully in: V = {volume} of {shut_in}, p = {pressure}, force {force}",
            volume=say(gas.volume_at(asked.stroke), "volume", 3),
            shut_in=say(gas.volume, "volume", 3),
            pressure=say(gas.pressure_at(asked.stroke), "pressure"),
            force=say(gas.force_at(asked.stroke), "force"),
        ),
        tr("Boyle's law; 1.4 for air that exchanges no heat"),
    )


def _writes(asked: Asked) -> tuple[Write, ...]:
    if asked.rebound_wanted is None:
        return ()
    return (end_write(asked, asked.axle, "inside.closed_at", asked.closed_at),)
