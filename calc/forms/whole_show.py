"""Tables and plot for the whole car: what becomes of the rest, corner by corner, how it settles."""

from calc.answer import Axis, Curve, Plot, Table
from calc.form import Given
from calc.forms.ride_frequency_figures import settled
from calc.forms.shared import CORNER_LABELS
from calc.forms.whole_figures import Plan
from calc.forms.whole_state import ENDS
from calc.units import turns_number

_BUMP, _SWINGS, _POINTS = 10e-3, 1.5, 50


def tables(given: Given, made: Plan) -> tuple[Table, ...]:
    say = given.say
    columns = []
    for key in ENDS:
        was = made.was.mean_seat(key)
        place = 2 * ENDS.index(key)
        pitch = made.becomes.end_of(place).pitch
        then = made.becomes.mean_seat(key).down(sum(made.turns[place : place + 2]) / 2 * pitch)
        columns += [(was, made.damping[key].before), (then, made.damping[key].mended)]
    rows = (
        ("Preload", *(say(seat.preload, "length") for seat, _ in columns)),
        ("Preload force", *(say(seat.preload_force, "force") for seat, _ in columns)),
        ("Sag at the wheel", *(say(seat.sag, "length", 1) for seat, _ in columns)),
        ("Wheel rate", *(_rate(given, made, n) for n in range(4))),
        ("Ride frequency", *(_frequency(given, made, n) for n in range(4))),
        ("Damping ratio", *(say(ratio, "ratio", 2) for _, ratio in columns)),
        ("Room to coil bind", *(say(seat.bind_margin, "length", 1) for seat, _ in columns)),
    )
    heads = ("", "Front now", "then", "Rear now", "then")
    return Table("What becomes of the rest", heads, rows), _corners(given, made)


def _seats(made: Plan) -> list[tuple[float, float]]:
    """(wheel rate, ride frequency) front and rear, now and then, as the height is kept."""
    found = []
    for key in ENDS:
        was = made.was.mean_seat(key)
        place = 2 * ENDS.index(key)
        pitch = made.becomes.end_of(place).pitch
        exact = sum(made.exact[place : place + 2]) / 2
        then = made.becomes.mean_seat(key).down(exact * pitch)
        found += [(was.wheel_rate, was.frequency), (then.wheel_rate, then.frequency)]
    return found


def _rate(given: Given, made: Plan, place: int) -> str:
    return given.say(_seats(made)[place][0], "rate")


def _frequency(given: Given, made: Plan, place: int) -> str:
    return given.say(_seats(made)[place][1], "frequency")


def _corners(given: Given, made: Plan) -> Table:
    rows = tuple(
        (
            label,
            turns_number(n),
            given.bare(rise, "length"),
            given.bare(was, "mass"),
            given.bare(then, "mass"),
        )
        for (_, label), n, rise, was, then in zip(
            CORNER_LABELS, made.turns, made.rises, made.was.masses, made.readings, strict=True
        )
    )
    mass = given.symbol("mass")
    heads = ("Corner", "Turns down", f"Higher {given.symbol('length')}", f"Load now {mass}",
             f"then {mass}")  # fmt: skip
    return Table("The four corners", heads, rows)


def plot(given: Given, made: Plan) -> Plot:
    """How the end that changed most settles, before and after."""
    key = max(ENDS, key=lambda end: abs(made.damping[end].changed / made.damping[end].before - 1))
    damping, place = made.damping[key], 2 * ENDS.index(key)
    (_, was), (_, then) = _seats(made)[place : place + 2]
    long = _SWINGS / min(was, then)
    times = [long * n / _POINTS for n in range(_POINTS + 1)]

    def line(ratio: float, frequency: float) -> tuple[tuple[float, float], ...]:
        return tuple((t, _BUMP * settled(ratio, frequency, t)) for t in times)

    curves = [
        Curve("before", line(damping.before, was), "second"),
        Curve("as listed", line(damping.mended, then)),
    ]
    if not damping.stays:
        curves.append(Curve("change alone", line(damping.changed, then), "limit"))
    return Plot(
        f"How the {key} settles when it is let go",
        Axis("Time", "time"),
        Axis("Off its height", "length"),
        tuple(curves),
        says=f"The {key} damped with {damping.before:.2f} before and {damping.mended:.2f} once "
        "the list is done.",
    )
