"""What a spring swap says: instructions, cautions, tables, plot and working."""

from collections.abc import Mapping

from calc.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.form import Given
from calc.forms.seat import Seat
from calc.forms.shared import eyes, stand
from calc.forms.spring_table import owned_table
from calc.hand import turn_words, way_words
from calc.units import turns_text

_FAR = 6e-3  # m: a collar that moves further may run out of thread
_NOTHING = 0.005e-3  # m; less than this is not shown


def steps(given: Given, turns: Mapping[str, float], off: float) -> tuple[Step, ...]:
    end, hand = given.choice("axle"), given.choice("thread_hand")
    left, right = turns["left"], turns["right"]
    fit = Step(f"Fit the new {end} springs.", "Count the turns from where the collars stand now.")
    if left == right == 0:
        turn = [Step(f"Leave both {end} collars where they are.")]
    elif left == right:
        turn = [Step(f"Turn both {end} collars {turn_words(left)}.", way_words(left, hand))]
    else:
        turn = [
            Step(f"Turn the {end} {side} collar {turn_words(n)}.", way_words(n, hand))
            if n
            else Step(f"Leave the {end} {side} collar where it is.")
            for side, n in turns.items()
        ]
    return (fit, *turn, Step("Bounce the car and measure the height again.", _off(given, off)))


def _off(given: Given, off: float) -> str:
    if abs(off) < _NOTHING:
        return "It stands as high as before."
    way = "higher" if off > 0 else "lower"
    return f"The rounded turns leave this end {given.say(abs(off), 'length')} {way} than before."


def cautions(given: Given, now: Seat, after: Seat) -> tuple[Caution, ...]:
    end, say = given.choice("axle"), given.say
    found = []
    if now.on_stop:
        found.append(
            f"The {end} sits on its droop stops now, so no spring sets its height. These turns "
            "keep the force at full droop; take preload out until it sags before you compare "
            "springs."
        )
    elif after.on_stop:
        found.append(f"With the rounded turns the {end} sits on its droop stops.")
    if now.bottomed:
        found.append(
            "The load alone closes the damper now: the old spring is too soft, and no turn can "
            "keep a height that it does not hold."
        )
    if after.bind_margin < 0:
        found.append(
            f"The new spring goes solid {say(-after.bind_margin, 'length')} of shaft travel before "
            "full bump: it needs fewer coils or thinner wire, or a bump stop that much longer."
        )
    stops = [Caution(text, stop=True) for text in found]
    return (*stops, *_mild(given, now, after), eyes(), stand())


def _mild(given: Given, now: Seat, after: Seat) -> list[Caution]:
    say, found = given.say, []
    if after.preload < 0:
        found.append(
            Caution(
                f"The new spring is loose at full droop by {say(-after.preload, 'length')}: it can "
                "rattle and leave its seat over jumps. A spring longer by that, or a spacer under "
                "it, takes up the gap."
            )
        )
    shift = now.droop_length - after.droop_length
    if abs(shift) > _FAR:
        found.append(
            Caution(
                f"The collars move {say(abs(shift), 'length', 1)} "
                f"{'down' if shift > 0 else 'up'}: see whether the thread reaches that far."
            )
        )
    return found


def tables(given: Given, now: Seat, after: Seat) -> tuple[Table, ...]:
    say = given.say
    rows = [
        ("Rate where the car stands", *(say(s.rate, "rate") for s in (now, after))),
        ("Preload at full droop", *(say(s.preload, "length") for s in (now, after))),
        ("Preload force", *(say(s.preload_force, "force") for s in (now, after))),
        ("Sag at the wheel", *(say(s.sag, "length") for s in (now, after))),
        ("Sag, share of travel", *(say(s.travel / s.stroke, "share", 0) for s in (now, after))),
        ("Wheel rate", *(say(s.wheel_rate, "rate") for s in (now, after))),
        ("Ride frequency", *(say(s.frequency, "frequency") for s in (now, after))),
        ("Room to coil bind", *(say(s.bind_margin, "length") for s in (now, after))),
    ]
    compared = Table("Before and after", ("", "Now", "New spring"), tuple(rows))
    owned = owned_table(given, now, given.pitch)
    return (compared, owned) if owned.rows else (compared,)


def plot(given: Given, now: Seat, after: Seat) -> Plot:
    static = now.force
    curves = (
        Curve("new spring", _line(after)),
        Curve("spring now", _line(now), "second"),
        Curve("static load", ((0.0, static), (now.stroke, static)), "limit"),
    )
    marks = (Mark(after.travel, after.held, "ride height"),)
    full = [
        given.say(seat.stack.force(seat.preload + seat.stroke), "force") for seat in (now, after)
    ]
    return Plot(
        "Spring force against shaft travel, before and after",
        Axis("Shaft travel from full droop", "length"),
        Axis("Spring force", "force"),
        curves,
        marks,
        f"Both springs hold {given.say(static, 'force')} at ride height; at full bump the old one "
        f"gives {full[0]} and the new one {full[1]}.",
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
            "force in the spring = load at the wheel / motion ratio",
            f"{say(now.load, 'force')} / {say(now.motion_ratio, 'ratio')} = "
            f"{say(now.force, 'force')}",
            "virtual work",
        ),
        Working("length of the spring now = free length − force / rate", _length(given, now, held)),
        Working("length of the new one under the same force", _length(given, new, held)),
        Working(
            "turns down = (length now − length of the new one) / pitch",
            f"({say(old_length, 'length')} − {say(new_length, 'length')}) / "
            f"{say(pitch, 'length')} = {turns_text(round(shift / pitch, 2))}",
            "the shaft stays where it is, so the collar makes up the difference",
        ),
        Working(
            "wheel rate = rate × motion ratio²",
            f"{say(now.rate, 'rate')} × {say(now.motion_ratio, 'ratio')}² = "
            f"{say(now.wheel_rate, 'rate')} now, "
            f"{say(new.down(shift).wheel_rate, 'rate')} with the new spring",
        ),
    )


def _length(given: Given, seat: Seat, force: float) -> str:
    say, stack = given.say, seat.stack
    parts = " − ".join(
        f"{say(force, 'force')} / {say(spring.rate, 'rate')}"
        if force / spring.rate < spring.travel
        else f"{say(spring.travel, 'length')} (coil bound)"
        for spring in stack.springs
    )
    return f"{say(stack.free, 'length')} − {parts} = {say(stack.length(force), 'length')}"
