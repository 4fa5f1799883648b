"""What a spring swap says: instructions, cautions, tables, plot and working."""

from collections.abc import Mapping
from functools import partial

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.forms import findings
from calc.forms.cautions import springs_off
from calc.forms.fields import table_row
from calc.forms.friction import hides
from calc.forms.names import end_word
from calc.forms.spring_swap.inputs import Asked
from calc.forms.spring_swap.table import owned_table
from calc.forms.turning import end_steps, stands_then
from calc.forms.workings import wheel_rate_terms, wheel_rate_working
from calc.language import tr
from calc.model.corners import Corner
from calc.model.standing import Seat
from calc.units import turns_text


def steps(asked: Asked, turns: Mapping[Corner, float], off: float) -> tuple[Step, ...]:
    end = asked.axle
    fit = Step(
        tr("Mark where the collars are, then fit the new {end} springs.", end=end_word(end)),
        tr("The turns count from there."),
    )
    turned = end_steps(asked, end, *turns.values(), of=("turns_left", "turns_right"))
    return (fit, *turned, stands_then(asked, off))


def cautions(
    asked: Asked, now: Seat, new: Seat, after: Seat, turns: Mapping[Corner, float]
) -> tuple[Caution, ...]:
    """`new` is with the collars untouched, `after` with them turned."""
    end = asked.axle
    far = (
        caution
        for corner, n in turns.items()
        for caution in findings.far_turned(corner, n, asked.pitch)
    )
    return (
        *findings.of_seat(asked, end, after, pitch=asked.pitch, step=asked.turn_step, now=now),
        *far,
        *hides(asked, [(end, now.rise(new), asked.friction.friction)]),
        springs_off(),
    )


def tables(asked: Asked, now: Seat, after: Seat) -> tuple[Table, ...]:
    row, both = partial(table_row, asked), (now, after)
    rows = (
        row(tr("Rate at ride height"), "rate", (s.rate for s in both)),
        row(tr("Preload at full droop"), "length", (s.preload for s in both)),
        row(tr("Preload force"), "force", (s.preload_force for s in both)),
        row(tr("Sag at the wheel"), "length", (s.sag for s in both)),
        row(tr("Sag, share of travel"), "share", (s.sag_share for s in both), 0),
        row(tr("Wheel rate"), "rate", (s.wheel_rate for s in both)),
        row(tr("Ride frequency"), "frequency", (s.frequency for s in both)),
        row(tr("Room to coil bind"), "length", (s.bind_margin for s in both)),
    )
    compared = Table(tr("Before and after"), ("", tr("Now"), tr("New spring")), rows)
    owned = owned_table(asked, now, asked.pitch)
    return (compared, owned) if owned.rows else (compared,)


def plot(asked: Asked, now: Seat, after: Seat) -> Plot:
    static = now.force
    curves = (
        Curve(tr("new spring"), _line(after)),
        Curve(tr("spring now"), _line(now), "second"),
        Curve(tr("static load"), ((0.0, static), (now.stroke, static)), "limit"),
    )
    marks = (Mark(after.travel, after.held, tr("ride height")),)
    full = [asked.say(seat.bump_force, "force") for seat in (now, after)]
    return Plot(
        tr("Spring force against shaft travel, before and after"),
        Axis(tr("Shaft travel from full droop"), "length"),
        Axis(tr("Spring force"), "force"),
        curves,
        marks,
        tr(
            "Both springs hold {static} at ride height; at full bump the old one gives {old} and "
            "the new one {new}.",
            static=asked.say(static, "force"),
            old=full[0],
            new=full[1],
        ),
    )


def _line(seat: Seat) -> tuple[tuple[float, float], ...]:
    """Force over the stroke, with a point wherever a spring begins to act or binds."""
    stack, preload = seat.stack, seat.preload
    knots = [stack.compression(spring.rate * spring.travel) for spring in stack.springs]
    turns = [knot - preload for knot in (0.0, *knots) if 0 < knot - preload < seat.stroke]
    end = min(seat.stroke, max(stack.travel - preload, 0.0))
    points = sorted({0.0, *(x for x in turns if x <= end), end})
    return ((0.0, 0.0), *((x, stack.force(preload + x)) for x in points))


def working(asked: Asked, now: Seat, new: Seat, shift: float) -> tuple[Working, ...]:
    say, pitch = asked.say, asked.pitch
    held = now.held
    old_length = now.stack.length(held)
    new_length = old_length - shift
    return (
        Working(
            tr("force in the spring = load at the wheel / motion ratio"),
            f"{say(now.load, 'force')} / {say(now.motion_ratio, 'ratio')} = "
            f"{say(now.force, 'force')}",
            tr("virtual work"),
        ),
        Working(
            tr("length of the spring now = free length − force / rate"),
            _length(asked, now, held),
            tr("Hooke's law"),
        ),
        Working(
            tr("length of the new one under the same force"),
            _length(asked, new, held),
            tr("Hooke's law"),
        ),
        Working(
            tr("turns down = (length now − length of the new one) / pitch"),
            f"({say(old_length, 'length')} − {say(new_length, 'length')}) / "
            f"{say(pitch, 'length')} = {turns_text(round(shift / pitch, 2))}",
            tr("the shaft stays where it is, so the collar makes up the difference"),
        ),
        wheel_rate_working(asked, now, _rates(asked, now, new.down(shift))),
    )


def _rates(asked: Asked, now: Seat, then: Seat) -> str:
    """The rate at the wheel with both springs."""
    return tr(
        "{terms} = {now} now, {new} with the new spring",
        terms=wheel_rate_terms(asked, now),
        now=asked.say(now.wheel_rate, "rate"),
        new=asked.say(then.wheel_rate, "rate"),
    )


def _length(asked: Asked, seat: Seat, force: float) -> str:
    say, stack = asked.say, seat.stack
    parts = " − ".join(
        f"{say(force, 'force')} / {say(spring.rate, 'rate')}"
        if force / spring.rate < spring.travel
        else tr("{length} (coil bound)", length=say(spring.travel, "length"))
        for spring in stack.springs
    )
    return f"{say(stack.free, 'length')} − {parts} = {say(stack.length(force), 'length')}"
