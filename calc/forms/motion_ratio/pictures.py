"""Tables, plot and working of the motion ratio form: the ratio over the whole travel."""

from math import ceil, isinf

from calc.answering.answer import Axis, Curve, Mark, Plot, Table, Working
from calc.answering.places import between
from calc.forms.motion_ratio.holes import Mounted
from calc.forms.motion_ratio.inputs import Asked
from calc.forms.workings import wheel_rate_working
from calc.language import tr
from calc.physics.mounting import Hole
from calc.units import turns_text

_ROWS = 8
_HAIR = 1e-9  # m


def _rises(hole: Hole, step: float) -> list[float]:
    """Wheel rises so far apart from ride height on, and both ends of the travel in place of what
    comes near them."""
    count = ceil(max(hole.high, -hole.low) / step)
    made = [n * step for n in range(-count, count + 1)]
    inside = [rise for rise in made if hole.low + step / 4 < rise < hole.high - step / 4]
    ends = [end for end in (hole.low, hole.high) if abs(end) > _HAIR]
    return sorted({0.0, *inside, *ends})


def tables(asked: Asked, here: Mounted, moved: Mounted | None) -> tuple[Table, ...]:
    """One for each hole, at the same wheel rises as far as each lets the wheel travel."""
    holes = [here] if moved is None else [here, moved]
    step = (max(m.hole.high for m in holes) - min(m.hole.low for m in holes)) / _ROWS
    titles = (
        tr("Over the travel of the wheel, full droop to full bump"),
        tr("The same in the other hole"),
    )
    return tuple(
        _table(asked, each, step, title) for each, title in zip(holes, titles, strict=False)
    )


def _table(asked: Asked, each: Mounted, step: float, title: str) -> Table:
    rises = _rises(each.hole, step)
    length, rate = asked.symbol("length"), asked.symbol("rate")
    heads = (
        tr("Wheel up {unit}", unit=length),
        tr("Ratio"),
        tr("Damper {unit}", unit=length),
        tr("At wheel {unit}", unit=rate),
    )
    rows = tuple((asked.bare(rise, "length", 1), *_cells(asked, each, rise)) for rise in rises)
    return Table(title, heads, rows, mark=rises.index(0.0))


def _cells(asked: Asked, each: Mounted, rise: float) -> tuple[str, ...]:
    """Ratio, damper travel and wheel rate."""
    hole = each.hole
    spot = hole.at(rise)
    bound = isinf(each.spring_rate(rise))
    return (
        asked.bare(spot.ratio, "ratio"),
        asked.bare(hole.ride.length - spot.length, "length", 1),
        tr("bound") if bound else asked.bare(each.rate(rise), "rate"),
    )


def plot(asked: Asked, here: Mounted, moved: Mounted | None) -> Plot:
    curves = [Curve(tr("this hole"), _line(asked, here))]
    marks = [Mark(0.0, here.hole.ride.ratio, tr("ride height"))]
    if moved is not None:
        curves.append(Curve(tr("other hole"), _line(asked, moved), "second"))
        marks.append(Mark(0.0, moved.hole.ride.ratio, ""))
    ends = [asked.say(here.hole.at(x).ratio, "ratio") for x in (here.hole.low, here.hole.high)]
    return Plot(
        tr("Motion ratio over the travel of the wheel"),
        Axis(tr("Wheel up from ride height"), "length"),
        Axis(tr("Damper travel / wheel travel"), "ratio"),
        tuple(curves),
        tuple(marks),
        tr(
            "In this hole the ratio goes from {first} at one end of the travel to {last} at the "
            "other.",
            first=ends[0],
            last=ends[1],
        ),
    )


def _line(asked: Asked, each: Mounted) -> tuple[tuple[float, float], ...]:
    hole = each.hole
    rises = between(hole.low, hole.high, "length", asked.system)
    return tuple((rise, hole.at(rise).ratio) for rise in rises)


def working(
    asked: Asked, here: Mounted, moved: Mounted | None, shift: float
) -> tuple[Working, ...]:
    say, ride = asked.say, here.hole.ride
    lines = [
        _ratio_working(asked, say(ride.ratio, "ratio")),
        wheel_rate_working(asked, here.seat),
    ]
    if moved is not None:
        lines += _other_working(asked, here, moved, shift)
    return tuple(lines)


def _ratio_working(asked: Asked, ratio: str) -> Working:
    if asked.known == "geometry":
        return Working(
            tr("motion ratio = lever arm of the damper at the pivot / how far out the wheel is"),
            ratio,
            tr("virtual work, the linkage solved exactly"),
        )
    return Working(
        tr("motion ratio = slope of the curve through the pairs at ride height"),
        ratio,
        tr("ordinary least squares"),
    )


def _other_working(asked: Asked, here: Mounted, moved: Mounted, shift: float) -> list[Working]:
    say, seat = asked.say, here.seat
    was, becomes = here.hole.ride, moved.hole.ride
    force = seat.load / becomes.ratio
    return [
        Working(
            tr("turns down = (mounts further apart + spring pressed more) / pitch"),
            f"({say(becomes.length, 'length')} − {say(was.length, 'length')} + "
            f"({say(force, 'force')} − {say(seat.held, 'force')}) / {say(seat.rate, 'rate')}) / "
            f"{say(asked.pitch, 'length')} = {turns_text(round(shift / asked.pitch, 2))}",
            tr("same height, same load at the wheel"),
        ),
        Working(
            tr("damping at the wheel goes with ratio²"),
            f"({say(becomes.ratio, 'ratio')} / {say(was.ratio, 'ratio')})² = "
            f"{say((becomes.ratio / was.ratio) ** 2, 'share', 0)}",
            tr("virtual work; slow shaft speed, where force goes with viscosity"),
        ),
    ]
