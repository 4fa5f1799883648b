"""Trapped gas: how far a closed damper comes back by itself, and with what force."""

from collections.abc import Mapping
from dataclasses import replace

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
)
from calc.answering.hand import to_step
from calc.asking.entry import Entry, Number, When
from calc.forms.fields import chosen_end
from calc.forms.names import end_word
from calc.language import later, tr
from calc.physics.gas import GAMMA, TrappedGas
from calc.replying.form import Given, Problem, from_car
from calc.units import spelt

_STEPS = 10
_NEAR_LOCK = 0.98  # share of the way to the lock that is still drawn
_BLADDER = later(
    "A bladder that has no room to move, or a cap closed over too much oil, locks the shaft or "
    "tears: push the shaft all the way in by hand once before the damper goes on the car."
)
_PRESSURE = later(
    "Wear eye protection, open the cap slowly under a rag, and keep your face out of the line of "
    "the shaft: the air inside can be under pressure."
)


def gas_fields(when: When) -> tuple[Entry, ...]:
    return (
        from_car("{axle}.shaft", when=when),
        from_car("{axle}.stroke", when=when),
        from_car("{axle}.inside.gas", when=when),
        from_car("{axle}.inside.closed_at", when=when),
        Number(
            "Rebound wanted, share of the stroke", "share", (0.1, 1), (0.01, 1),
            "How far the shaft shall come back by itself; leave it empty to see what it does now.",
            name="rebound_wanted", optional=True, when=when,
        ),
        Number(
            "Friction of the seal", "force", (0, 1), (0, 50),
            "From a drop test with two masses; 0 where you do not know it.",
            name="friction", start=0.0, when=when,
        ),
        from_car("tools.ruler", when=when),
    )  # fmt: skip


def _gas(given: Given, closed_at: float | None = None) -> TrappedGas:
    at = given.closed_at if closed_at is None else closed_at
    return TrappedGas(given.gas, at, given.shaft, given.room)


def _closed_at(given: Given) -> float:
    """Where to close the cap: as entered, or for the rebound wanted, to the step of the ruler."""
    wanted = given.maybe("rebound_wanted")
    if wanted is None:
        return given.closed_at
    exact = (1 - wanted) * given.stroke - (_gas(given, 0.0).comes_to_rest_at(given.friction))
    if exact < -given.ruler / 2:
        raise Problem(
            "rebound_wanted",
            tr(
                "Rebound wanted: with this friction and this much air the shaft does not come back "
                "so far, wherever the cap is closed; less air or less friction is needed."
            ),
        )
    return max(to_step(exact, given.ruler), 0.0)


def _rest(gas: TrappedGas, given: Given) -> float:
    """How far in the shaft still stands when it has come back as far as it does."""
    return min(gas.comes_to_rest_at(given.friction), given.stroke)


def _figures(given: Given, locks: bool) -> Mapping[str, float]:
    gas = _gas(given)
    values = {
        "rebound": given.stroke - _rest(gas, given),
        "rebound_share": 1 - _rest(gas, given) / given.stroke,
        "locks_at": gas.locked_at,
        "force_out": gas.force_at(0.0),
    }
    if not locks:
        values["force_in"] = gas.force_at(given.stroke)
        values["force_in_quick"] = gas.force_at(given.stroke, GAMMA)
    return values


def solve(given: Given) -> Answer:
    # Where to close the cap is set to the step of the ruler; what is carried is how exactly.
    given = replace(given, numbers={**given.numbers, "closed_at": _closed_at(given)})
    gas = _gas(given)
    locks = gas.locked_at <= given.stroke
    doubted = given.carry(lambda shifted: _figures(shifted, locks))
    return Answer(
        steps=(_step(given, gas, locks),),
        quantities=tuple(
            given.quantity(name, tr(says), kind, doubted[name])
            for name, says, kind in _LABELS
            if name in doubted
        ),
        tables=(_table(given, gas),),
        plots=(_plot(given, gas),),
        cautions=(
            *_cautions(given, gas, locks),
            Caution(tr(_BLADDER)),
            Caution(tr(_PRESSURE)),
        ),
        working=_working(given, gas, locks),
        writes=_writes(given),
    )


_LABELS = (
    ("rebound", later("The shaft comes back by itself"), "length"),
    ("rebound_share", later("Rebound, share of the stroke"), "share"),
    ("force_in", later("Rebound force fully in, slow"), "force"),
    ("force_in_quick", later("Rebound force fully in, in a quick stroke"), "force"),
    ("force_out", later("Force fully out (negative draws the shaft in)"), "force"),
    ("locks_at", later("The shaft locks when it is so far in"), "length"),
)


def _step(given: Given, gas: TrappedGas, locks: bool) -> Step:
    gives, at = _comes_back(given, gas, locks), given.say(gas.closed_at, "length", 1)
    if given.maybe("rebound_wanted") is None:
        begins = tr("The rebound begins {shaft_in} in, where the cap was closed.", shaft_in=at)
        return Step(begins, gives)
    return Step(tr("Close the cap with the shaft {shaft_in} in.", shaft_in=at), gives)


def _comes_back(given: Given, gas: TrappedGas, locks: bool) -> str:
    say, back = given.say, given.stroke - _rest(gas, given)
    length, share = say(back, "length", 1), say(back / given.stroke, "share", 0)
    if locks:
        return tr(
            "The shaft comes back {length} by itself, {share} of its stroke. It locks before it "
            "is fully in.",
            length=length,
            share=share,
        )
    return tr(
        "The shaft comes back {length} by itself, {share} of its stroke; fully in the air pushes "
        "with {slow}, {quick} in a quick stroke.",
        length=length,
        share=share,
        slow=say(gas.force_at(given.stroke), "force"),
        quick=say(gas.force_at(given.stroke, GAMMA), "force"),
    )


def _cautions(given: Given, gas: TrappedGas, locks: bool) -> list[Caution]:
    found = []
    if locks:
        text = tr(
            "The shaft locks {shaft_in} in: the air is used up before the stroke of {stroke} ends. "
            "It takes more air, or the cap closed with the shaft further in.",
            shaft_in=given.say(gas.locked_at, "length", 1),
            stroke=given.say(given.stroke, "length", 1),
        )
        found.append(Caution(text, stop=True))
    if gas.closed_at >= given.stroke:
        text = tr(
            "The cap is closed with the shaft all the way in: there is no rebound, and the "
            "damper draws the shaft in wherever it stands."
        )
        found.append(Caution(text))
    return found


def _reach(given: Given, gas: TrappedGas) -> list[float]:
    """How far in the shaft is looked at: over the stroke, or up to where it locks."""
    end = min(given.stroke, _NEAR_LOCK * gas.locked_at)
    return [end * n / _STEPS for n in range(_STEPS + 1)]


def _table(given: Given, gas: TrappedGas) -> Table:
    rows = tuple(
        (
            given.bare(x, "length", 1),
            given.bare(gas.force_at(x), "force"),
            given.bare(gas.force_at(x, GAMMA), "force"),
            given.bare(gas.pressure_at(x), "pressure"),
        )
        for x in _reach(given, gas)
    )
    unit = given.symbol("force")
    heads = (
        tr("Shaft in {unit}", unit=given.symbol("length")),
        tr("Slow {unit}", unit=unit),
        tr("Quick {unit}", unit=unit),
        tr("Pressure {unit}", unit=given.symbol("pressure")),
    )
    return Table(tr("Force of the trapped air on the shaft"), heads, rows)


def _plot(given: Given, gas: TrappedGas) -> Plot:
    reach = _reach(given, gas)
    curves = tuple(
        Curve(name, tuple((x, gas.force_at(x, exponent)) for x in reach), style)
        for name, exponent, style in ((tr("slow"), 1.0, "main"), (tr("quick"), GAMMA, "second"))
    )
    marks = (Mark(gas.closed_at, 0.0, tr("begins")),) if gas.closed_at <= reach[-1] else ()
    return Plot(
        tr("Force of the trapped air against how far the shaft is in"),
        Axis(tr("Shaft in the body"), "length"),
        Axis(tr("Force, pushing out"), "force"),
        curves,
        marks,
        tr(
            "Nothing at {closed_at}, where the cap was closed; {force} at {shaft_in} in a slow "
            "stroke.",
            closed_at=given.say(gas.closed_at, "length", 1),
            force=given.say(gas.force_at(reach[-1]), "force"),
            shaft_in=given.say(reach[-1], "length", 1),
        ),
    )


def _working(given: Given, gas: TrappedGas, locks: bool) -> tuple[Working, ...]:
    say = given.say
    lock = Working(
        tr("the shaft locks at: where the cap was closed + air / area of the shaft"),
        f"{say(gas.closed_at, 'length')} + {say(gas.volume, 'volume')} / "
        f"{spelt(f'{gas.area * 1e6:.2f}')} mm² = {say(gas.locked_at, 'length', 1)}",
        tr("volume of a cylinder"),
    )
    return (lock,) if locks else (_force_working(given, gas), lock)


def _force_working(given: Given, gas: TrappedGas) -> Working:
    say = given.say
    return Working(
        tr("p = p0 V0/V (Boyle), in a quick stroke p0 (V0/V)^1.4; force = (p − p0) × shaft"),
        tr(
            "fully in: V = {volume} of {shut_in}, p = {pressure}, force {force}",
            volume=say(gas.volume_at(given.stroke), "volume", 3),
            shut_in=say(gas.volume, "volume", 3),
            pressure=say(gas.pressure_at(given.stroke), "pressure"),
            force=say(gas.force_at(given.stroke), "force"),
        ),
        tr("Boyle's law; 1.4 for air that exchanges no heat"),
    )


def _writes(given: Given) -> tuple[Write, ...]:
    if given.maybe("rebound_wanted") is None:
        return ()
    end, at = chosen_end(given), given.say(given.closed_at, "length", 1)
    says = tr("{end} caps closed {shaft_in} in", end=end_word(end), shaft_in=at)
    return (Write(f"{end}.inside.closed_at", given.closed_at, says),)
