"""Tables, plot and working of the motion ratio form: the ratio over the whole travel."""

from math import isinf

from calc.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.form import Given
from calc.forms.motion_ratio_holes import Mounted
from calc.units import turns_text

_ROWS, _POINTS = 8, 24
_HAIR = 1e-9  # m


def _rises(low: float, high: float, count: int) -> list[float]:
    """Wheel rises over the travel, ride height in place of whichever comes near it."""
    step = (high - low) / count
    made = [low + n * step for n in range(count + 1)]
    return sorted({0.0, *(rise for rise in made if abs(rise) > step / 4)})


def table(given: Given, here: Mounted, moved: Mounted | None) -> Table:
    """Both holes side by side over all that either lets the wheel travel."""
    holes = [here] if moved is None else [here, moved]
    low, high = min(m.hole.low for m in holes), max(m.hole.high for m in holes)
    rises = _rises(low, high, _ROWS)
    rows = []
    for rise in rises:
        cells = zip(*(_cells(given, each, rise) for each in holes), strict=True)
        rows.append((given.bare(rise, "length", 1), *(cell for pair in cells for cell in pair)))
    heads = []
    for name in ("Ratio", f"Damper {given.symbol('length')}", f"At wheel {given.symbol('rate')}"):
        heads += [name] if moved is None else [name, "other"]
    title = "Over the travel of the wheel, full droop to full bump"
    head = f"Wheel up {given.symbol('length')}"
    return Table(title, (head, *heads), tuple(rows), mark=rises.index(0.0))


def _cells(given: Given, each: Mounted, rise: float) -> tuple[str, ...]:
    """Ratio, damper travel and wheel rate; blank where this hole does not let the wheel go."""
    hole = each.hole
    if not hole.low - _HAIR <= rise <= hole.high + _HAIR:
        return "", "", ""
    spot = hole.at(rise)
    bound = isinf(_spring_rate(each, rise))
    return (
        given.bare(spot.ratio, "ratio"),
        given.bare(hole.ride.length - spot.length, "length", 1),
        "bound" if bound else given.bare(each.rate(rise), "rate"),
    )


def _spring_rate(each: Mounted, rise: float) -> float:
    stack = each.seat.stack
    force = stack.force(stack.free - (each.hole.at(rise).length - each.offset))
    return stack.rate(force)


def plot(given: Given, here: Mounted, moved: Mounted | None) -> Plot:
    curves = [Curve("this hole", _line(here))]
    marks = [Mark(0.0, here.hole.ride.ratio, "ride height")]
    if moved is not None:
        curves.append(Curve("other hole", _line(moved), "second"))
        marks.append(Mark(0.0, moved.hole.ride.ratio, ""))
    ends = [given.say(here.hole.at(x).ratio, "ratio") for x in (here.hole.low, here.hole.high)]
    return Plot(
        "Motion ratio over the travel of the wheel",
        Axis("Wheel up from ride height", "length"),
        Axis("Damper travel / wheel travel", "ratio"),
        tuple(curves),
        tuple(marks),
        f"In this hole the ratio goes from {ends[0]} at one end of the travel to {ends[1]} at the "
        "other.",
    )


def _line(each: Mounted) -> tuple[tuple[float, float], ...]:
    hole = each.hole
    return tuple((rise, hole.at(rise).ratio) for rise in _rises(hole.low, hole.high, _POINTS))


def working(
    given: Given, here: Mounted, moved: Mounted | None, shift: float
) -> tuple[Working, ...]:
    say, ride = given.say, here.hole.ride
    drawn = given.choice("known") == "geometry"
    lines = [
        Working(
            "motion ratio = lever arm of the damper at the pivot / how far out the wheel is"
            if drawn
            else "motion ratio = slope of the curve through the pairs at ride height",
            say(ride.ratio, "ratio"),
            "virtual work, the linkage solved exactly" if drawn else "ordinary least squares",
        ),
        Working(
            "wheel rate = rate × ratio² + spring force × growth of the ratio",
            f"{say(here.seat.rate, 'rate')} × {say(ride.ratio, 'ratio')}² + "
            f"{say(here.seat.held, 'force')} × {ride.slope / 1e3:.4f}/mm = "
            f"{say(here.rate(0.0), 'rate')}",
            "derivative of spring force × ratio",
        ),
    ]
    if moved is not None:
        lines += _other_working(given, here, moved, shift)
    return tuple(lines)


def _other_working(given: Given, here: Mounted, moved: Mounted, shift: float) -> list[Working]:
    say, seat = given.say, here.seat
    was, becomes = here.hole.ride, moved.hole.ride
    force = seat.load / becomes.ratio
    return [
        Working(
            "turns down = (mounts further apart + spring pressed more) / pitch",
            f"({say(becomes.length, 'length')} − {say(was.length, 'length')} + "
            f"({say(force, 'force')} − {say(seat.held, 'force')}) / {say(seat.rate, 'rate')}) / "
            f"{say(given.pitch, 'length')} = {turns_text(round(shift / given.pitch, 2))}",
            "same height, same load at the wheel",
        ),
        Working(
            "damping at the wheel goes with ratio²",
            f"({say(becomes.ratio, 'ratio')} / {say(was.ratio, 'ratio')})² = "
            f"{say((becomes.ratio / was.ratio) ** 2, 'share', 0)}",
            "virtual work; slow shaft speed, where force goes with viscosity",
        ),
    ]
