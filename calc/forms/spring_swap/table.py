"""The springs owned, each as if it went in at an end and the collar kept the height."""

from collections.abc import Iterator

from calc import units
from calc.answering.answer import Table
from calc.answering.hand import to_step
from calc.forms.names import end_label
from calc.forms.spring_swap.inputs import Asked
from calc.language import later, tr
from calc.model.car import Car, Spring
from calc.model.corners import ENDS, End
from calc.model.standing import CannotStand, Finding, Seat, suspension_of
from calc.physics.stack import single
from calc.units import turns_number

_FARTHEST = 12e-3  # m: a collar that would have to move further is on no such body


def swap_table(car: Car, system: str) -> Table:
    """For the cheat sheet: both ends, every spring owned that can go in there."""
    length, rate = (units.unit_of(kind, system).symbol for kind in ("length", "rate"))
    rows = []
    for end in ENDS:
        axle = car.axle(end)
        seat = car_seat(car, end)
        if seat is not None:
            made = _rows(car.springs, seat, axle.pitch, car.tools.turn_step, system)
            rows += [(end_label(end), *row) for row in made]
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
        new = now.refitted(stack)
        turns = to_step(now.shift_to(new) / pitch, step)
        after = new.down(turns * pitch)
        if abs(turns * pitch) > _FARTHEST or after.bound:
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


_MIND = {
    Finding.BINDS: later("coil bind"),
    Finding.ON_STOP: later("droop stop"),
    Finding.LOOSE: later("loose {gap}"),
    Finding.NEAR_BIND: later("close to bind"),
}


def _mind(after: Seat, system: str) -> str:
    """The gravest finding in a word or two."""
    found = after.findings
    for finding, words in _MIND.items():
        if finding in found:
            gap = units.number_text(max(-after.preload, 0.0), "length", system, 1)
            return tr(words, gap=gap)
    return tr("fits")
