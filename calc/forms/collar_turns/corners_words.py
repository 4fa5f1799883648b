"""Collar turns by the full model: instructions, warnings, tables, plot and working."""

from collections.abc import Iterator

from calc.answering.answer import AtCorner, Axis, Caution, Curve, Plot, Step, Table, Working, Write
from calc.forms import findings
from calc.forms.collar_turns.inputs import Asked
from calc.forms.collar_turns.measured import Measured, Outcome
from calc.forms.entered import left_loose, stops_left_out
from calc.forms.friction import hides
from calc.forms.names import corner_label, corner_word
from calc.forms.turning import at_corner, corner_step, none_turned
from calc.forms.workings import cross_working
from calc.forms.writes import collar_writes, corner_write, end_write
from calc.language import tr
from calc.model.corners import CORNERS, ENDS, Corner, End, mean_at
from calc.model.standing import plane
from calc.physics.chassis import shares
from calc.units import STANDARD_GRAVITY, turns_number

_CLEAR = 0.3e-3  # m; four heights this far from one plane are a reading to doubt


def steps(asked: Asked, made: Outcome) -> tuple[Step, ...]:
    found = [
        corner_step(
            asked,
            corner,
            n,
            tr("Height then {height}.", height=asked.say(h, "length")),
            of=f"{corner}_turns",
        )
        for corner, n, h in zip(CORNERS, made.turns, made.heights, strict=True)
        if n
    ]
    if not found:
        found = [Step(none_turned())]
    cross = asked.say(made.then.shares.cross, "share")
    then = tr("Cross weight then {share}.", share=cross)
    return (*found, Step(tr("Bounce the car and measure again."), then))


def above(asked: Asked, made: Outcome) -> tuple[AtCorner, ...]:
    return tuple(
        at_corner(
            corner,
            n,
            asked.say(height, "length"),
            asked.say(load / STANDARD_GRAVITY, "mass", 0),
        )
        for corner, n, height, load in zip(
            CORNERS, made.turns, made.heights, made.then.readings, strict=True
        )
    )


def table(asked: Asked, made: Outcome) -> Table:
    rows = asked.corner
    lines = tuple(
        (
            row.label,
            turns_number(n),
            asked.bare(row.height, "length"),
            asked.bare(h, "length"),
            asked.bare(row.load, "mass", 0),
            asked.bare(f / STANDARD_GRAVITY, "mass", 0),
        )
        for row, n, h, f in zip(rows, made.turns, made.heights, made.then.readings, strict=True)
    )
    length, mass = asked.symbol("length"), asked.symbol("mass")
    heads = (
        tr("Corner"), tr("Turns down"), tr("Height now {unit}", unit=length),
        tr("then {unit}", unit=length), tr("Load now {unit}", unit=mass),
        tr("then {unit}", unit=mass),
    )  # fmt: skip
    return Table(tr("Corners before and after"), heads, lines)


def effects(asked: Asked, now: Measured) -> Table:
    lines, car = [], now.car
    for corner in CORNERS:
        change = car.change(_alone(corner, 1.0))
        cross = shares(change.on_scales(car.readings)).cross - car.shares.cross
        rises = (asked.bare(change.rise(p), "length") for p in now.points)
        lines.append((corner_label(corner), *rises, asked.bare(cross, "share")))
    unit = asked.symbol("length")
    heads = (
        tr("One turn down at"), tr("FL {unit}", unit=unit), tr("FR {unit}", unit=unit),
        tr("RL {unit}", unit=unit), tr("RR {unit}", unit=unit), tr("Cross %"),
    )  # fmt: skip
    return Table(tr("What one turn of one collar does"), heads, tuple(lines))


def plot(now: Measured) -> Plot:
    curves = []
    for corner in CORNERS:
        changes = {n: now.car.change(_alone(corner, n)) for n in (-3.0, 3.0)}
        ends = [(n, now.heights_after(one)[corner.place]) for n, one in changes.items()]
        style = "main" if corner.end is End.FRONT else "second"
        curves.append(Curve(corner_word(corner), tuple(ends), style))
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


def _alone(corner: Corner, turns: float) -> list[float]:
    """Turns of all four collars where this one alone is turned."""
    return [turns if one is corner else 0.0 for one in CORNERS]


def cautions(asked: Asked, now: Measured, made: Outcome) -> list[Caution]:
    frictions, corners = asked.frictions, zip(CORNERS, now.car.corners, made.turns, strict=True)
    found = [
        *findings.of_corners(made.then, asked.turn_step),
        *stops_left_out(asked),
        *_missed(asked, now, made),
        *hides(
            asked,
            [
                (key, n * corner.turn_lift, frictions[key.end].friction)
                for key, corner, n in corners
            ],
        ),
    ]
    for corner, leg, n in zip(CORNERS, now.legs, made.turns, strict=True):
        found += findings.far_turned(corner, n, leg.pitch)
    for corner, height, then in zip(CORNERS, now.heights, made.heights, strict=True):
        found += findings.on_ground(corner, height, then)
    found += left_loose(asked, made.then)
    heave, pitch, roll = plane(now.points, now.heights)
    off = max(
        abs(h - heave - pitch * x - roll * y)
        for h, (x, y) in zip(now.heights, now.points, strict=True)
    )
    if off > _CLEAR:
        shown = asked.say(off, "length")
        text = tr(
            "The four heights are off one plane by {off} each: the chassis is twisted, or a "
            "reading is wrong. No collar can mend that.",
            off=shown,
        )
        finding = tr("The four heights are off one plane by {off} each.", off=shown)
        found.append(Caution(text, finding=finding))
    return found


def _missed(asked: Asked, now: Measured, made: Outcome) -> Iterator[Caution]:
    """Heights that no turn brings: further off than one step of that collar moves its corner."""
    if asked.ask == "height":
        return
    far = []
    for row, corner, height in zip(asked.corner, now.car.corners, made.heights, strict=True):
        off = height - row.wanted
        if abs(off) > asked.turn_step * corner.turn_lift + _CLEAR:
            parts = {"corner": corner_word(row.key), "off": asked.say(abs(off), "length")}
            high = tr("the {corner} {off} too high", **parts)
            far.append(high if off > 0 else tr("the {corner} {off} too low", **parts))
    if far and asked.cross_wanted is None:
        says = tr("These heights cannot all be reached: {corners}.", corners=", ".join(far))
        yield Caution(says, stop=True)
    elif far:
        says = tr(
            "These heights cannot all be reached with this cross weight: {corners}.",
            corners=", ".join(far),
        )
        yield Caution(says, stop=True)


def working(asked: Asked, now: Measured, made: Outcome) -> tuple[Working, ...]:
    say, scale, then = asked.say, made.then.readings, made.then.shares
    change = now.car.change(made.turns)
    per_corner = "; ".join(
        tr(
            "{corner}: {rate}, {lift} a turn",
            corner=corner_word(key),
            rate=say(corner.rate, "rate"),
            lift=say(corner.turn_lift, "length"),
        )
        for key, corner in zip(CORNERS, now.car.corners, strict=True)
    )
    return (
        Working(
            tr(
                "wheel rate = rate × ratio² + spring force × change of the ratio (tyre in "
                "series); lift = pitch × rate × ratio / wheel rate"
            )
            if any(seat.growth for seat in now.car.seats)
            else tr(
                "wheel rate = rate × motion ratio² (tyre in series); lift = pitch / motion ratio"
            ),
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
                pitch=say(change.pitch * asked.wheelbase, "length"),
                roll=say(change.roll, "length"),
                total=say(then.total, "force"),
            ),
            tr("statics of a rigid body on four springs"),
        ),
        cross_working(
            f"({say(scale[0], 'force')} + {say(scale[3], 'force')}) / {say(then.total, 'force')} = "
            f"{say(then.cross, 'share')}"
        ),
    )


def writes(asked: Asked, made: Outcome) -> tuple[Write, ...]:
    """Collars and loads of each corner; heights and spring lengths as the mean of an end."""
    if not any(made.turns):
        return ()
    found: list[Write] = []
    for corner, n, load in zip(CORNERS, made.turns, made.then.readings, strict=True):
        found += collar_writes(asked, {corner: n})
        found.append(corner_write(asked, corner, "load", load / STANDARD_GRAVITY))
    for end in ENDS:
        found.append(end_write(asked, end, "ride_height", mean_at(end, made.heights)))
        length = mean_at(end, made.then.droop_lengths)
        found.append(end_write(asked, end, "droop_length", length))
    return tuple(found)
