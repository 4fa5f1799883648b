"""Collar turns by the full model: instructions, warnings, tables, plot and working."""

from collections.abc import Iterator
from math import ceil

from calc.answering.answer import Axis, Caution, Curve, Plot, Step, Table, Working, Write
from calc.answering.hand import turn_words, way_words
from calc.forms.collar_turns.corner_state import Outcome, State, legs, plane
from calc.forms.collar_turns.end import end_writes, hand_step
from calc.forms.names import CORNER_LABELS, collar_label, collar_word, corner_word
from calc.language import tr
from calc.model.corners import CORNERS, Corner, End
from calc.physics.chassis import shares, turn_collars
from calc.replying.form import Given
from calc.units import STANDARD_GRAVITY, turns_number, turns_text

_CLEAR = 0.3e-3  # m; four heights this far from one plane are a reading to doubt


def steps(given: Given, made: Outcome) -> tuple[Step, ...]:
    hand = given.choice("thread_hand")
    cross = shares(made.loads).cross
    found = [
        Step(
            f"{collar_label(Corner(row.key))}: {turn_words(n)}.",
            tr(
                "{way} Height then {height}.",
                way=way_words(n, hand),
                height=given.say(h, "length"),
            ),
        )
        for row, n, h in zip(given.rows("corner"), made.turns, made.heights, strict=True)
        if n
    ]
    if not found:
        found = [Step(tr("Leave all four collars as they are."))]
    then = tr("Cross weight then {share}.", share=given.say(cross, "share"))
    return (*found, Step(tr("Bounce the car and measure again."), then))


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
        tr("Corner"), tr("Turns down"), tr("Height now {unit}", unit=length),
        tr("then {unit}", unit=length), tr("Load now {unit}", unit=mass),
        tr("then {unit}", unit=mass),
    )  # fmt: skip
    return Table(tr("Corners before and after"), heads, lines)


def effects(given: Given, car: State) -> Table:
    lines = []
    for place, (_, corner) in enumerate(CORNER_LABELS):
        change = turn_collars(car.corners, [float(i == place) for i in range(4)])
        loads = [f + c for f, c in zip(car.loads, change.loads, strict=True)]
        cross = shares([max(f, 0.0) for f in loads]).cross - shares(car.loads).cross
        rises = (given.bare(change.rise(p), "length") for p in car.points)
        lines.append((tr(corner), *rises, given.bare(cross, "share")))
    unit = given.symbol("length")
    heads = (
        tr("One turn down at"), tr("FL {unit}", unit=unit), tr("FR {unit}", unit=unit),
        tr("RL {unit}", unit=unit), tr("RR {unit}", unit=unit), tr("Cross %"),
    )  # fmt: skip
    return Table(tr("What one turn of one collar does"), heads, tuple(lines))


def plot(car: State) -> Plot:
    curves = []
    for place, corner in enumerate(CORNERS):
        ends = [
            (n, car.heights_after([n * float(i == place) for i in range(4)])[place])
            for n in (-3.0, 3.0)
        ]
        curves.append(Curve(corner_word(corner), tuple(ends), "main" if place < 2 else "second"))
    return Plot(
        tr("Height at a corner against turns of its own collar alone"),
        Axis(tr("Turns down (up is negative)"), "turns"),
        Axis(tr("Height at that corner"), "length"),
        tuple(curves),
        says=tr(
            "Turning one collar alone moves its own corner less than turning both of an end: the "
            "chassis tilts, and load moves onto or off that wheel and the one diagonally opposite."
        ),
    )


def cautions(given: Given, car: State, made: Outcome) -> list[Caution]:
    found = [*_stops(given, car, made), *_missed(given, car, made)]
    heave, pitch, roll = plane(car.points, car.heights)
    off = max(
        abs(h - heave - pitch * x - roll * y)
        for h, (x, y) in zip(car.heights, car.points, strict=True)
    )
    if off > _CLEAR:
        text = tr(
            "The four heights are off one plane by {off} each: the chassis is twisted, or a "
            "reading is wrong. No collar can mend that.",
            off=given.say(off, "length"),
        )
        found.append(Caution(text))
    return found


def _stops(given: Given, car: State, made: Outcome) -> Iterator[Caution]:
    """What droop stops and lifted wheels make of it."""
    step = hand_step(given)
    standing = zip(
        map(corner_word, CORNERS), legs(given, car), made.before.loads, made.before.on_stop,
        made.after.on_stop, made.after.lifted, strict=True,
    )  # fmt: skip
    for name, leg, load, was, then, lifted in standing:
        if lifted:
            says = tr("The {corner} wheel would hang free of the ground.", corner=name)
            yield Caution(says, stop=True)
        elif was:
            back = (leg.preload - load) / (leg.corner.wheel_rate * leg.corner.turn_lift)
            says = tr(
                "The {corner} sits on its droop stop: its preload holds more than its share, so "
                "turning that collar down will not lift it. It takes {turns} up before the spring "
                "begins to carry the car.",
                corner=name,
                turns=turns_text(ceil(back / step - 1e-9) * step),
            )
            yield Caution(says, stop=True)
        elif then:
            says = tr("After these turns the {corner} sits on its droop stop.", corner=name)
            yield Caution(says, stop=True)


def _missed(given: Given, car: State, made: Outcome) -> Iterator[Caution]:
    """Heights that no turn brings: further off than one step of that collar moves its corner."""
    if given.choice("ask") == "height":
        return
    far = []
    for row, corner, height in zip(given.rows("corner"), car.corners, made.heights, strict=True):
        off = height - row.wanted
        if abs(off) > given.turn_step * corner.turn_lift + _CLEAR:
            parts = {"corner": corner_word(Corner(row.key)), "off": given.say(abs(off), "length")}
            high = tr("the {corner} {off} too high", **parts)
            far.append(high if off > 0 else tr("the {corner} {off} too low", **parts))
    if far and given.maybe("cross_wanted") is None:
        says = tr("These heights cannot all be had: {corners}.", corners=", ".join(far))
        yield Caution(says, stop=True)
    elif far:
        says = tr(
            "These heights cannot all be had with this cross weight: {corners}.",
            corners=", ".join(far),
        )
        yield Caution(says, stop=True)


def working(given: Given, car: State, made: Outcome) -> tuple[Working, ...]:
    say, scale, now = given.say, made.loads, shares(made.loads)
    change = turn_collars(car.corners, made.turns)
    per_corner = "; ".join(
        tr(
            "{corner}: {rate}, {lift} a turn",
            corner=corner_word(key),
            rate=say(corner.rate, "rate"),
            lift=say(corner.turn_lift, "length"),
        )
        for key, corner in zip(CORNERS, car.corners, strict=True)
    )
    return (
        Working(
            tr("wheel rate = rate × motion ratio² (tyre in series); lift = pitch / motion ratio"),
            per_corner,
            tr("Hooke's law and virtual work"),
        ),
        Working(
            tr(
                "load change = wheel rate × (lift × turns − heave − pitch × x − roll × y); the "
                "four changes and their two moments add up to zero"
            ),
            tr(
                "heave at the rear axle {heave}, along the wheelbase {pitch}, across a metre "
                "{roll}; loads add up to {total}",
                heave=say(change.heave, "length"),
                pitch=say(change.pitch * given.wheelbase, "length"),
                roll=say(change.roll, "length"),
                total=say(now.total, "force"),
            ),
            tr("statics of a rigid body on four springs"),
        ),
        Working(
            tr("cross weight = (front left + rear right) / total"),
            f"({say(scale[0], 'force')} + {say(scale[3], 'force')}) / {say(now.total, 'force')} = "
            f"{say(now.cross, 'share')}",
            tr("definition"),
        ),
    )


def writes(given: Given, made: Outcome) -> tuple[Write, ...]:
    """Collars and loads of each corner; heights and spring lengths as the mean of an end."""
    turns, heights = made.turns, made.heights
    if not any(turns):
        return ()
    found = []
    for key, n, load in zip(CORNERS, turns, made.loads, strict=True):
        mass, corner = load / STANDARD_GRAVITY, corner_word(key)
        if n:
            now = given.car.corner(key).collar
            says = f"{collar_word(key)}: {turn_words(n)}"
            found.append(Write(f"corners.{key}.collar", now + n, says))
        shows = f"{corner} {given.say(mass, 'mass', 0)}"
        found.append(Write(f"corners.{key}.load", mass, shows))
    for end, left in zip(given.rows("end"), (0, 2), strict=True):
        height = sum(heights[left : left + 2]) / 2
        length = end.droop_length - sum(turns[left : left + 2]) / 2 * end.pitch
        found += end_writes(given, End(end.key), height, length)
    return tuple(found)
