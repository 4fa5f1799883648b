"""What a spring swap says: instructions, cautions, tables, plot and working."""

from collections.abc import Mapping
from functools import partial

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.answering.hand import turn_words, way_words
from calc.forms.cautions import springs_off
from calc.forms.common.seat import Seat
from calc.forms.fields import chosen_end, table_row
from calc.forms.names import collar_label, end_word
from calc.forms.spring_swap.table import owned_table
from calc.language import tr
from calc.model.corners import Corner
from calc.replying.form import Given
from calc.units import turns_text

_FAR = 6e-3  # m: a collar that moves further may run out of thread
_NOTHING = 0.005e-3  # m; less than this is not shown


def steps(given: Given, turns: Mapping[str, float], off: float) -> tuple[Step, ...]:
    end = end_word(chosen_end(given))
    fit = Step(
        tr("Fit the new {end} springs.", end=end),
        tr("Mark first where the collars are: the turns count from there."),
    )
    bounce = Step(tr("Bounce the car and measure the height again."), _off(given, off))
    return (fit, *_turn_steps(given, turns), bounce)


def _turn_steps(given: Given, turns: Mapping[str, float]) -> list[Step]:
    """The collars of the chosen end."""
    key, hand = chosen_end(given), given.choice("thread_hand")
    end, left, right = end_word(key), turns["left"], turns["right"]
    if left == right == 0:
        return [Step(tr("Leave both {end} collars where they are.", end=end))]
    if left == right:
        text = tr("Turn both {end} collars {turns}.", end=end, turns=turn_words(left))
        return [Step(text, way_words(left, hand))]
    found = []
    for side, n in turns.items():
        collar = collar_label(Corner(f"{key}_{side}"))
        text = f"{collar}: {turn_words(n)}." if n else tr("{collar}: leave it.", collar=collar)
        found.append(Step(text, way_words(n, hand)))
    return found


def _off(given: Given, off: float) -> str:
    if abs(off) < _NOTHING:
        return tr("It stands as high as before.")
    height = given.say(abs(off), "length")
    if off > 0:
        return tr("The rounded turns leave this end {height} higher than before.", height=height)
    return tr("The rounded turns leave this end {height} lower than before.", height=height)


def cautions(given: Given, now: Seat, after: Seat) -> tuple[Caution, ...]:
    end, found = end_word(chosen_end(given)), []
    if now.on_stop:
        found.append(
            tr(
                "The {end} sits on its droop stops now, so no spring sets its height. These turns "
                "keep the force at full droop; take preload out until it sags before you compare "
                "springs.",
                end=end,
            )
        )
    elif after.on_stop:
        found.append(tr("With the rounded turns the {end} sits on its droop stops.", end=end))
    if now.bottomed:
        found.append(
            tr(
                "The load alone closes the damper now: the old spring is too soft, and no turn can "
                "keep a height that it does not hold."
            )
        )
    if after.bind_margin < 0:
        found.append(
            tr(
                "The new spring goes solid {early} of shaft travel before full bump: it needs "
                "fewer coils or thinner wire, or a bump stop that much longer.",
                early=given.say(-after.bind_margin, "length"),
            )
        )
    stops = [Caution(text, stop=True) for text in found]
    return (*stops, *_mild(given, now, after), springs_off())


def _mild(given: Given, now: Seat, after: Seat) -> list[Caution]:
    say, found = given.say, []
    if after.preload < 0:
        found.append(
            Caution(
                tr(
                    "The new spring is loose at full droop by {gap}: it can rattle and leave its "
                    "seat over jumps. A spring longer by that, or a spacer under it, takes up the "
                    "gap.",
                    gap=say(-after.preload, "length"),
                )
            )
        )
    shift = now.droop_length - after.droop_length
    if abs(shift) > _FAR:
        found.append(Caution(_far(say(abs(shift), "length", 1), shift > 0)))
    return found


def _far(length: str, down: bool) -> str:
    if down:
        return tr(
            "The collars move {length} down: see whether the thread reaches that far.",
            length=length,
        )
    return tr(
        "The collars move {length} up: see whether the thread reaches that far.", length=length
    )


def tables(given: Given, now: Seat, after: Seat) -> tuple[Table, ...]:
    row, both = partial(table_row, given), (now, after)
    rows = (
        row(tr("Rate where the car stands"), "rate", (s.rate for s in both)),
        row(tr("Preload at full droop"), "length", (s.preload for s in both)),
        row(tr("Preload force"), "force", (s.preload_force for s in both)),
        row(tr("Sag at the wheel"), "length", (s.sag for s in both)),
        row(tr("Sag, share of travel"), "share", (s.travel / s.stroke for s in both), 0),
        row(tr("Wheel rate"), "rate", (s.wheel_rate for s in both)),
        row(tr("Ride frequency"), "frequency", (s.frequency for s in both)),
        row(tr("Room to coil bind"), "length", (s.bind_margin for s in both)),
    )
    compared = Table(tr("Before and after"), ("", tr("Now"), tr("New spring")), rows)
    owned = owned_table(given, now, given.pitch)
    return (compared, owned) if owned.rows else (compared,)


def plot(given: Given, now: Seat, after: Seat) -> Plot:
    static = now.force
    curves = (
        Curve(tr("new spring"), _line(after)),
        Curve(tr("spring now"), _line(now), "second"),
        Curve(tr("static load"), ((0.0, static), (now.stroke, static)), "limit"),
    )
    marks = (Mark(after.travel, after.held, tr("ride height")),)
    full = [
        given.say(seat.stack.force(seat.preload + seat.stroke), "force") for seat in (now, after)
    ]
    return Plot(
        tr("Spring force against shaft travel, before and after"),
        Axis(tr("Shaft travel from full droop"), "length"),
        Axis(tr("Spring force"), "force"),
        curves,
        marks,
        tr(
            "Both springs hold {static} at ride height; at full bump the old one gives {old} and "
            "the new one {new}.",
            static=given.say(static, "force"),
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


def working(given: Given, now: Seat, new: Seat, shift: float) -> tuple[Working, ...]:
    say, pitch = given.say, given.pitch
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
            _length(given, now, held),
            tr("Hooke's law"),
        ),
        Working(
            tr("length of the new one under the same force"),
            _length(given, new, held),
            tr("Hooke's law"),
        ),
        Working(
            tr("turns down = (length now − length of the new one) / pitch"),
            f"({say(old_length, 'length')} − {say(new_length, 'length')}) / "
            f"{say(pitch, 'length')} = {turns_text(round(shift / pitch, 2))}",
            tr("the shaft stays where it is, so the collar makes up the difference"),
        ),
        Working(
            tr("wheel rate = rate × motion ratio²"),
            tr(
                "{rate} × {ratio}² = {now} now, {new} with the new spring",
                rate=say(now.rate, "rate"),
                ratio=say(now.motion_ratio, "ratio"),
                now=say(now.wheel_rate, "rate"),
                new=say(new.down(shift).wheel_rate, "rate"),
            ),
            tr("Hooke's law and virtual work"),
        ),
    )


def _length(given: Given, seat: Seat, force: float) -> str:
    say, stack = given.say, seat.stack
    parts = " − ".join(
        f"{say(force, 'force')} / {say(spring.rate, 'rate')}"
        if force / spring.rate < spring.travel
        else tr("{length} (coil bound)", length=say(spring.travel, "length"))
        for spring in stack.springs
    )
    return f"{say(stack.free, 'length')} − {parts} = {say(stack.length(force), 'length')}"
