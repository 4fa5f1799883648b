"""The springs owned, each as if it went in at an end and the collar kept the height."""

from collections.abc import Iterator
from dataclasses import replace
from math import isinf

from calc import units
from calc.answering.answer import Table
from calc.answering.hand import to_step
from calc.forms.common.seat import Seat
from calc.forms.names import end_word
from calc.language import tr
from calc.model.car import Axle, Car, Spring
from calc.model.corners import ENDS, End
from calc.physics.stack import single
from calc.replying.form import Given
from calc.units import STANDARD_GRAVITY, turns_number

_FARTHEST = 12e-3  # m: a collar that would have to move further is on no such body
_FEW = 0.5e-3  # m of room to coil bind that is worth a word


def swap_table(car: Car, system: str) -> Table:
    """For the cheat sheet: both ends, every spring owned that can go in there."""
    length, rate = (units.unit_of(kind, system).symbol for kind in ("length", "rate"))
    rows = []
    for end in ENDS:
        axle = car.axle(end)
        seat = car_seat(car, axle, end)
        if seat is not None:
            made = _rows(car.springs, seat, axle.pitch, car.tools.turn_step, system)
            rows += [(end_word(end).capitalize(), *row) for row in made]
    heads = (tr("End"), *_heads(length, rate))
    return Table(tr("Spring swaps at the same ride height"), heads, tuple(rows))


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


def car_seat(car: Car, axle: Axle, key: End) -> Seat | None:
    """The spring of an end as the record has it; None where its entries do not fit together."""
    sides = (car.corner(corner).load for corner in key.corners)
    mass = sum(sides) / 2 - axle.unsprung
    if mass <= 0 or axle.spring_solid >= axle.spring_free:
        return None
    seat = Seat(
        stack=single(rate=axle.spring_rate, free=axle.spring_free, solid=axle.spring_solid),
        load=mass * STANDARD_GRAVITY,
        motion_ratio=axle.motion_ratio,
        droop_length=axle.droop_length,
        stroke=axle.stroke,
    )
    return seat if seat.held < seat.stack.bind_force else None


def owned_table(given: Given, now: Seat, pitch: float) -> Table:
    """For the form: the springs owned at the chosen end, whatever spring is there now."""
    made = _rows(given.car.springs, now, pitch, given.turn_step, given.system)
    heads = _heads(given.symbol("length"), given.symbol("rate"))
    return Table(tr("My springs at this end, same height"), heads, tuple(made))


def _rows(
    springs: tuple[Spring, ...], now: Seat, pitch: float, step: float, system: str
) -> Iterator[tuple[str, ...]]:
    """One row for each spring that can go in: the turns rounded to the hand's step."""
    for number, spring in enumerate(springs, 1):
        if spring.solid >= spring.free:
            continue
        stack = single(rate=spring.rate, free=spring.free, solid=spring.solid)
        if now.held >= stack.bind_force:
            continue
        new = replace(now, stack=stack)
        turns = to_step(now.shift_to(new) / pitch, step)
        after = new.down(turns * pitch)
        if abs(turns * pitch) > _FARTHEST or isinf(after.rate):
            continue
        name = spring.name or units.show(spring.rate, "rate", system)
        yield (
            f"{number} {name}",
            turns_number(turns),
            units.number_text(after.preload, "length", system, 1),
            units.number_text(after.wheel_rate, "rate", system),
            units.number_text(after.frequency, "frequency", system, 1),
            _mind(after, system),
        )


def _mind(after: Seat, system: str) -> str:
    if after.bind_margin < 0:
        return tr("coil bind")
    if after.on_stop:
        return tr("droop stop")
    if after.preload < 0:
        return tr("loose {gap}", gap=units.number_text(-after.preload, "length", system, 1))
    return tr("close to bind") if after.bind_margin < _FEW else tr("fits")
