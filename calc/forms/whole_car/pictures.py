"""Tables and plot for the whole car: what becomes of the rest, corner by corner, how it settles."""

from functools import partial

from calc.answering.answer import Plot, Table
from calc.forms.fields import table_row
from calc.forms.names import corner_first, end_word
from calc.forms.settling import Released, settling
from calc.forms.whole_car.figures import Plan
from calc.forms.whole_car.inputs import Asked
from calc.language import tr
from calc.model.corners import CORNERS, ENDS
from calc.units import turns_number


def tables(asked: Asked, made: Plan) -> tuple[Table, ...]:
    columns = []
    for end in ENDS:
        now, becomes = made.was.end(end).mean_seat, made.becomes.end(end)
        then = becomes.mean_seat.down(made.mean_turns(end) * becomes.suspension.pitch)
        columns += [(now, made.damping[end].before), (then, made.damping[end].mended)]
    seats, ratios = zip(*columns, strict=True)
    rates, frequencies = zip(*_seats(made), strict=True)
    row = partial(table_row, asked)
    rows = (
        row(tr("Preload"), "length", (seat.preload for seat in seats)),
        row(tr("Preload force"), "force", (seat.preload_force for seat in seats)),
        row(tr("Sag at the wheel"), "length", (seat.sag for seat in seats), 1),
        row(tr("Wheel rate"), "rate", rates),
        row(tr("Ride frequency"), "frequency", frequencies),
        row(tr("Damping ratio"), "ratio", ratios, 2),
        row(tr("Room to coil bind"), "length", (seat.bind_margin for seat in seats), 1),
    )
    heads = ("", tr("Front now"), tr("then"), tr("Rear now"), tr("then"))
    return Table(tr("Other values, before and after"), heads, rows), _corners(asked, made)


def _seats(made: Plan) -> list[tuple[float, float]]:
    """(wheel rate, ride frequency) front and rear, now and then, as the height is kept."""
    found = []
    for end in ENDS:
        was = made.was.end(end)
        for seat in (was.mean_seat, was.settled(made.becomes.end(end))):
            found.append((seat.wheel_rate, seat.frequency))
    return found


def _corners(asked: Asked, made: Plan) -> Table:
    rows = tuple(
        (
            corner_first(key),
            turns_number(n),
            asked.bare(rise, "length"),
            asked.bare(was, "mass"),
            asked.bare(then, "mass"),
        )
        for key, n, rise, was, then in zip(
            CORNERS, made.turns.values(), made.then.rises, made.was.masses, made.masses, strict=True
        )
    )
    mass = asked.symbol("mass")
    heads = (
        tr("Corner"),
        tr("Turns down"),
        tr("Higher {unit}", unit=asked.symbol("length")),
        tr("Load now {unit}", unit=mass),
        tr("then {unit}", unit=mass),
    )
    return Table(tr("The four corners"), heads, rows)


def plot(asked: Asked, made: Plan) -> Plot:
    """How the end that changed most settles, before and after."""
    key = max(ENDS, key=lambda end: abs(made.damping[end].changed / made.damping[end].before - 1))
    damping, place = made.damping[key], 2 * key.place
    (_, was), (_, then) = _seats(made)[place : place + 2]
    released = [
        Released(tr("before"), damping.before, was, "second"),
        Released(tr("as listed"), damping.mended, then),
    ]
    if not damping.stays:
        released.append(Released(tr("change alone"), damping.changed, then, "limit"))
    return settling(
        asked,
        tr("How the {end} settles when it is let go", end=end_word(key)),
        released,
        tr(
            "Damping ratio at the {end}: {before} before, {mended} once the list is done.",
            end=end_word(key),
            before=asked.say(damping.before, "ratio", 2),
            mended=asked.say(damping.mended, "ratio", 2),
        ),
    )
