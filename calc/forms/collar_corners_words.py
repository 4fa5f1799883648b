"""Collar turns by the full model: instructions, warnings, tables, plot and working."""

from collections.abc import Iterator
from math import ceil

from calc.answer import Axis, Caution, Curve, Plot, Step, Table, Working, Write
from calc.form import Given
from calc.forms.collar_end import hand_step
from calc.forms.corner_state import Outcome, State, legs, plane
from calc.forms.shared import CORNER_NAMES
from calc.hand import turn_words, way_words
from calc.physics.chassis import shares, turn_collars
from calc.units import STANDARD_GRAVITY, turns_number, turns_text

_CLEAR = 0.3e-3  # m; four heights this far from one plane are a reading to doubt


def steps(given: Given, made: Outcome) -> tuple[Step, ...]:
    hand = given.choice("thread_hand")
    cross = shares(made.loads).cross
    found = [
        Step(
            f"{row.label}: {turn_words(n)}.",
            f"{way_words(n, hand)} Height then {given.say(h, 'length')}.",
        )
        for row, n, h in zip(given.rows("corner"), made.turns, made.heights, strict=True)
        if n
    ]
    if not found:
        found = [Step("Leave all four collars as they are.")]
    return (
        *found,
        Step(
            "Bounce the car and measure again.", f"Cross weight then {given.say(cross, 'share')}."
        ),
    )


def table(given: Given, made: Outcome) -> Table:
    rows = given.rows("corner")
    lines = tuple(
        (
            row.label,
            turns_number(n),
            given.bare(row.height, "length"),
            given.bare(h, "length"),
            given.bare(row.load, "mass", 0),
            given.bare(f / STANDARD_GRAVITY, "mass", 0),
        )
        for row, n, h, f in zip(rows, made.turns, made.heights, made.loads, strict=True)
    )
    length, mass = given.symbol("length"), given.symbol("mass")
    heads = (
        "Corner", "Turns down", f"Height now {length}", f"then {length}",
        f"Load now {mass}", f"then {mass}",
    )  # fmt: skip
    return Table("Corners before and after", heads, lines)


def effects(given: Given, car: State) -> Table:
    lines = []
    for place, name in enumerate(CORNER_NAMES.values()):
        change = turn_collars(car.corners, [float(i == place) for i in range(4)])
        loads = [f + c for f, c in zip(car.loads, change.loads, strict=True)]
        cross = shares([max(f, 0.0) for f in loads]).cross - shares(car.loads).cross
        rises = (given.bare(change.rise(p), "length") for p in car.points)
        lines.append((name.capitalize(), *rises, given.bare(cross, "share")))
    unit = given.symbol("length")
    heads = ("One turn down at", f"FL {unit}", f"FR {unit}", f"RL {unit}", f"RR {unit}", "Cross %")
    return Table("What one turn of one collar does", heads, tuple(lines))


def plot(car: State) -> Plot:
    curves = []
    for place, name in enumerate(CORNER_NAMES.values()):
        ends = [
            (n, car.heights_after([n * float(i == place) for i in range(4)])[place])
            for n in (-3.0, 3.0)
        ]
        curves.append(Curve(name, tuple(ends), "main" if place < 2 else "second"))
    return Plot(
        "Height at a corner against turns of its own collar alone",
        Axis("Turns down (up is negative)", "turns"),
        Axis("Height at that corner", "length"),
        tuple(curves),
        says="Turning one collar alone moves its own corner less than turning both of an end: "
        "the body leans, and the load shifts across.",
    )


def cautions(given: Given, car: State, made: Outcome) -> list[Caution]:
    found = [*_stops(given, car, made), *_missed(given, car, made)]
    heave, pitch, roll = plane(car.points, car.heights)
    off = max(
        abs(h - heave - pitch * x - roll * y)
        for h, (x, y) in zip(car.heights, car.points, strict=True)
    )
    if off > _CLEAR:
        text = (
            f"The four heights are off one plane by {given.say(off, 'length')} each: the chassis "
            "is twisted, or a reading is wrong. No collar can mend that."
        )
        found.append(Caution(text))
    return found


def _stops(given: Given, car: State, made: Outcome) -> Iterator[Caution]:
    """What droop stops and lifted wheels make of it."""
    step = hand_step(given)
    standing = zip(
        CORNER_NAMES.values(), legs(given, car), made.before.loads, made.before.on_stop,
        made.after.on_stop, made.after.lifted, strict=True,
    )  # fmt: skip
    for name, leg, load, was, then, lifted in standing:
        if lifted:
            yield Caution(f"The {name} wheel would hang free of the ground.", stop=True)
        elif was:
            back = (leg.preload - load) / (leg.corner.wheel_rate * leg.corner.turn_lift)
            text = (
                f"The {name} sits on its droop stop: its preload holds more than its share, so "
                "turning that collar down will not lift it. "
                f"It takes {turns_text(ceil(back / step - 1e-9) * step)} up before the spring "
                "begins to carry the car."
            )
            yield Caution(text, stop=True)
        elif then:
            yield Caution(f"After these turns the {name} sits on its droop stop.", stop=True)


def _missed(given: Given, car: State, made: Outcome) -> Iterator[Caution]:
    """Heights that no turn brings: further off than one step of that collar moves its corner."""
    if given.choice("ask") == "height":
        return
    far = []
    for row, corner, height in zip(given.rows("corner"), car.corners, made.heights, strict=True):
        off = height - row.wanted
        if abs(off) > given.turn_step * corner.turn_lift + _CLEAR:
            way = "too high" if off > 0 else "too low"
            far.append(f"the {CORNER_NAMES[row.key]} {given.say(abs(off), 'length')} {way}")
    if far:
        also = "" if given.maybe("cross_wanted") is None else " with this cross weight"
        text = f"These heights cannot all be had{also}: {', '.join(far)}."
        yield Caution(text, stop=True)


def working(given: Given, car: State, made: Outcome) -> tuple[Working, ...]:
    say, scale, now = given.say, made.loads, shares(made.loads)
    change = turn_collars(car.corners, made.turns)
    per_corner = "; ".join(
        f"{name}: {say(corner.rate, 'rate')}, {say(corner.turn_lift, 'length')} a turn"
        for name, corner in zip(CORNER_NAMES.values(), car.corners, strict=True)
    )
    return (
        Working(
            "wheel rate = rate × motion ratio² (tyre in series); lift = pitch / motion ratio",
            per_corner,
        ),
        Working(
            "load change = wheel rate × (lift × turns − heave − pitch × x − roll × y); the four "
            "changes and their two moments add up to zero",
            f"heave at the rear axle {say(change.heave, 'length')}, along the wheelbase "
            f"{say(change.pitch * given.wheelbase, 'length')}, across a metre "
            f"{say(change.roll, 'length')}; loads add up to {say(now.total, 'force')}",
            "statics of a rigid body on four springs",
        ),
        Working(
            "cross weight = (front left + rear right) / total",
            f"({say(scale[0], 'force')} + {say(scale[3], 'force')}) / {say(now.total, 'force')} = "
            f"{say(now.cross, 'share')}",
        ),
    )


def writes(given: Given, made: Outcome) -> tuple[Write, ...]:
    """Collars and loads of each corner; heights and spring lengths as the mean of an end."""
    turns, heights = made.turns, made.heights
    if not any(turns):
        return ()
    found = []
    for (key, name), n, load in zip(CORNER_NAMES.items(), turns, made.loads, strict=True):
        mass = load / STANDARD_GRAVITY
        if n:
            now = getattr(given.car.corners, key).collar
            words = turns_text(abs(n)) + (" down" if n > 0 else " up")
            found.append(Write(f"corners.{key}.collar", now + n, f"{name} collar {words}"))
        found.append(Write(f"corners.{key}.load", mass, f"{name} {given.say(mass, 'mass', 0)}"))
    for end, left in zip(given.rows("end"), (0, 2), strict=True):
        height = sum(heights[left : left + 2]) / 2
        length = end.droop_length - sum(turns[left : left + 2]) / 2 * end.pitch
        stand, spring = given.say(height, "length"), given.say(length, "length")
        found += [
            Write(f"{end.key}.ride_height", height, f"{end.key} ride height {stand}"),
            Write(f"{end.key}.droop_length", length, f"{end.key} spring at full droop {spring}"),
        ]
    return tuple(found)
