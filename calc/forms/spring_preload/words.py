"""What spring preload says: instructions, cautions, table, plot and working."""

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.answering.hand import to_step, turn_words
from calc.forms import findings
from calc.forms.names import end_word
from calc.forms.spring_preload.inputs import Asked
from calc.forms.turning import both_turned, turned_step
from calc.forms.workings import frequency_working, preload_working, wheel_rate_working
from calc.language import tr
from calc.model.standing import Seat
from calc.units import turns_number, turns_text

TURNS_SHOWN = (-2.0, -1.0, -0.5, -0.25, 0.0, 0.25, 0.5, 1.0, 2.0)


def steps(asked: Asked, now: Seat, after: Seat, turns: float) -> tuple[Step, ...]:
    end, say = end_word(asked.axle), asked.say
    if asked.wanted_sag is not None:
        return (_turn_step(asked, now, after, turns),)
    past = to_step(now.preload / asked.pitch, asked.turn_step)
    if past < 0:
        text = tr(
            "Each {end} collar: {turns} until it touches; the spring is loose at full "
            "droop by {gap}.",
            end=end,
            gap=say(-now.preload, "length"),
            turns=turn_words(-past),
        )
        return (turned_step(asked, text, -past, of="from_touch"),)
    gives = tr(
        "That is {preload} of preload ({exact} by your entries), {force} with the wheel hanging.",
        preload=say(past * asked.pitch, "length"),
        exact=say(now.preload, "length"),
        force=say(now.preload_force, "force"),
    )
    if past == 0:
        return (Step(tr("Set each {end} collar at first touch.", end=end), gives),)
    text = tr("Each {end} collar: find first touch, then {turns}.", end=end, turns=turn_words(past))
    return (turned_step(asked, text, past, gives, of="from_touch"),)


def _turn_step(asked: Asked, now: Seat, after: Seat, turns: float) -> Step:
    """The turns for the sag wanted, and what they give."""
    end = end_word(asked.axle)
    gives = _given_words(asked, now, after, end)
    if turns == 0:
        nearest = tr(
            "Leave both {end} collars as they are: no {turn} comes nearer.",
            end=end,
            turn=turns_text(asked.turn_step),
        )
        return Step(nearest, gives)
    return turned_step(asked, both_turned(asked.axle, turns), turns, gives, of="turns")


def _given_words(asked: Asked, now: Seat, after: Seat, end: str) -> str:
    """What the turns give, and how the body moves at the wheel, between the damper's stops."""
    say, rise = asked.say, now.rise(after)
    parts = {
        "share": say(after.sag_share, "share"),
        "preload": say(after.preload, "length"),
        "end": end,
        "height": say(abs(rise), "length"),
    }
    if rise >= 0:
        return tr(
            "That gives {share} of travel as sag, {preload} of preload, and moves the {end} up by "
            "{height}.",
            **parts,
        )
    return tr(
        "That gives {share} of travel as sag, {preload} of preload, and moves the {end} down by "
        "{height}.",
        **parts,
    )


def cautions(asked: Asked, now: Seat, after: Seat, turns: float) -> list[Caution]:
    end, stays = asked.axle, None if turns else now
    return [
        *findings.of_seat(asked, end, after, pitch=asked.pitch, step=asked.turn_step, now=stays),
        *findings.far_turned(end, turns, asked.pitch),
    ]


def table(asked: Asked, now: Seat) -> Table:
    rows = []
    for turns in TURNS_SHOWN:
        then = now.down(turns * asked.pitch)
        rows.append(
            (
                tr("now") if turns == 0 else f"{'+' if turns > 0 else ''}{turns_number(turns)}",
                asked.bare(then.preload, "length"),
                asked.bare(then.preload_force, "force"),
                asked.bare(then.sag, "length", 1),
                asked.bare(then.sag_share, "share", 0),
            )
        )
    length, force = asked.symbol("length"), asked.symbol("force")
    heads = (
        tr("Turns down"),
        tr("Preload {unit}", unit=length),
        tr("Preload {unit}", unit=force),
        tr("Sag {unit}", unit=length),
        tr("Sag %"),
    )
    return Table(tr("Turns from here"), heads, tuple(rows), mark=TURNS_SHOWN.index(0.0))


def plot(asked: Asked, now: Seat) -> Plot:
    touch = max(0.0, -now.preload)
    solid = now.stroke + min(now.bind_margin, 0.0)

    def force(travel: float) -> float:
        return now.stack.force(now.preload + travel)

    ends = sorted({0.0, min(touch, now.stroke), max(solid, 0.0)})
    line = tuple((travel, force(travel)) for travel in ends)
    static = now.force
    curves = [
        Curve(tr("spring"), ((0.0, 0.0), *line)),
        Curve(tr("static load"), ((0.0, static), (now.stroke, static)), "second"),
    ]
    if solid < now.stroke:
        top = max(force(max(solid, 0.0)), static)
        curves.append(Curve(tr("coil bind"), ((solid, 0.0), (solid, top * 1.1)), "limit"))
    marks: tuple[Mark, ...] = ()
    if 0 < now.reach < now.stroke:
        marks = (Mark(now.reach, static, tr("ride height")),)
    return Plot(
        tr("Spring force against shaft travel"),
        Axis(tr("Shaft travel from full droop"), "length"),
        Axis(tr("Spring force"), "force"),
        tuple(curves),
        marks,
        tr(
            "Force rises from {droop} at full droop to {bump} at full bump; the static load is "
            "{static}.",
            droop=asked.say(now.preload_force, "force"),
            bump=asked.say(now.bump_force, "force"),
            static=asked.say(static, "force"),
        ),
    )


def working(asked: Asked, now: Seat) -> tuple[Working, ...]:
    say, loads = asked.say, asked.loads
    return (
        _preload_working(asked, now),
        Working(
            tr("load on the spring at the wheel = (mean scale reading − unsprung mass) × g"),
            f"({say((loads.load_left + loads.load_right) / 2, 'mass')} − "
            f"{say(loads.unsprung, 'mass')}) × g = {say(now.load, 'force')}",
            tr("balance of forces"),
        ),
        Working(
            tr("sag at the wheel = (load / motion ratio / rate − preload) / motion ratio"),
            f"({say(now.load, 'force')} / {say(now.motion_ratio, 'ratio')} / "
            f"{say(asked.spring_rate, 'rate')} − {say(now.preload, 'length')}) / "
            f"{say(now.motion_ratio, 'ratio')} = "
            f"{say(now.reach / now.motion_ratio, 'length')}",
            tr("Hooke's law and virtual work"),
        ),
        wheel_rate_working(asked, now),
        frequency_working(asked, now),
    )


def _preload_working(asked: Asked, now: Seat) -> Working:
    say = asked.say
    if asked.known == "turns":
        return Working(
            tr("preload = turns × pitch"),
            f"{turns_text(asked.past_touch)} × {say(asked.pitch, 'length')} = "
            f"{say(now.preload, 'length')}",
            tr("geometry of the thread"),
        )
    return preload_working(asked, now)
