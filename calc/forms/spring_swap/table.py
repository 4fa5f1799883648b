"""The springs owned, each as if it went in at an end and the collar kept the height."""

from collections.abc import Iterator
from dataclasses import dataclass

from calc import units
from calc.answering.answer import Table
from calc.answering.hand import to_step
from calc.forms.spring_swap.inputs import Asked
from calc.language import later, tr
from calc.model.car import Car, Spring
from calc.model.corners import End
from calc.model.standing import CannotStand, Finding, Seat, suspension_of
from calc.physics.stack import single
from calc.units import turns_number

_FARTHEST = 12e-3  # m: a collar that would have to move further is on no such body


def _heads(length: str, rate: str) -> tuple[str, ...]:
    """Of the rows below, in these units."""
    return (
        tr("Spring"),
        tr("Turns down"),
        tr("Preload {unit}", unit=length),
        tr("Wheel rate {unit}", unit=rate),
        "Hz",
        tr("Note", sense="on a spring"),
    )


def car_seat(car: Car, end: End) -> Seat | None:
    """The spring of an end as the record has it; None where its entries do not fit together."""
    loads = [car.corner(corner).load for corner in end.corners]
    try:
        seat = suspension_of(car, end).seat(sum(loads) / 2)
        return seat.check() if seat.held < seat.stack.bind_force else None
    except CannotStand:
        return None


def owned_table(asked: Asked, now: Seat, pitch: float) -> Table:
    """For the form: the springs owned at the chosen end, whatever spring is there now."""
    made = _rows(asked.car.springs, now, pitch, asked.turn_step, asked.system)
    heads = _heads(asked.symbol("length"), asked.symbol("rate"))
    return Table(tr("My springs at this end, same height"), heads, tuple(made))


@dataclass(frozen=True)
class Swapped:
    """A spring owned, its number in the list, the turns of the hand, and how it stands then."""

    number: int
    spring: Spring
    turns: float
    after: Seat


def swapped(springs: tuple[Spring, ...], now: Seat, pitch: float, step: float) -> Iterator[Swapped]:
    """Every spring that can go in: the turns rounded to the hand's step."""
    for number, spring in enumerate(springs, 1):
        if spring.solid >= spring.free:
            continue
        stack = single(rate=spring.rate, free=spring.free, solid=spring.solid)
        if now.held >= stack.bind_force:
            continue
        new = now.refitted(stack)
        turns = to_step(now.shift_to(new) / pitch, step)
        after = new.down(turns * pitch)
        if abs(turns * pitch) <= _FARTHEST and not after.bound:
            yield Swapped(number, spring, turns, after)


def _rows(
    springs: tuple[Spring, ...], now: Seat, pitch: float, step: float, system: str
) -> Iterator[tuple[str, ...]]:
    """One row for each spring that can go in."""
    tenths = units.places(1, "length", system)
    for one in swapped(springs, now, pitch, step):
        name = one.spring.name or units.show(one.spring.rate, "rate", system)
        yield (
            f"{one.number} {name}",
            turns_number(one.turns),
            units.number_text(one.after.preload, "length", system, tenths),
            units.number_text(one.after.wheel_rate, "rate", system),
            units.number_text(one.after.frequency, "frequency", system, 1),
            mind(one.after, system) or tr("fits"),
        )


_MIND = {
    Finding.BINDS: later("coil bind"),
    Finding.ON_STOP: later("droop stop"),
    Finding.LOOSE: later("loose {gap}"),
    Finding.NEAR_BIND: later("close to bind"),
}


def gravest(after: Seat) -> Finding | None:
    """The finding to tell; None where the spring fits."""
    return next((finding for finding in _MIND if finding in after.findings), None)


def mind(after: Seat, system: str) -> str:
    """The gravest finding in a word or two; nothing where the spring fits."""
    found = gravest(after)
    if found is None:
        return ""
    tenths = units.places(1, "length", system)
    gap = units.number_text(max(-after.preload, 0.0), "length", system, tenths)
    return tr(_MIND[found], gap=gap)
