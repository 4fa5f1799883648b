"""What spring preload says: instructions, cautions, table, plot and working."""

from collections.abc import Mapping

from calc.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.form import Given
from calc.forms.shared import axle_load
from calc.hand import to_step, turn_words, way_words
from calc.physics.spring import spring_force
from calc.units import STANDARD_GRAVITY, turns_number, turns_text

_TURNS_SHOWN = (-2.0, -1.0, -0.5, -0.25, 0.0, 0.25, 0.5, 1.0, 2.0)


def steps(given: Given, exact: Mapping[str, float], turns: float) -> tuple[Step, ...]:
    end, say = given.choice("axle"), given.say
    if "turns" in exact:
        return (_turn_step(given, exact, turns),)
    if exact["preload"] < 0:
        gap = to_step(-exact["preload"] / given.pitch, given.turn_step)
        text = (
            f"The {end} spring is loose at full droop by {say(-exact['preload'], 'length')}: "
            f"{turns_text(gap)} down until it touches."
        )
        return (Step(text),)
    past = to_step(exact["preload"] / given.pitch, given.turn_step)
    return (
        Step(
            f"Set each {end} collar {turns_text(past)} past first touch.",
            f"That is {say(past * given.pitch, 'length')} of preload; the entries say "
            f"{say(exact['preload'], 'length')}, which holds "
            f"{say(exact['preload_force'], 'force')} at full droop.",
        ),
    )


def _turn_step(given: Given, exact: Mapping[str, float], turns: float) -> Step:
    """The turns for the sag wanted, and what they give."""
    end, say = given.choice("axle"), given.say
    after = exact["travel"] - turns * given.pitch
    share = min(max(after / given.stroke, 0.0), 1.0)
    gives = (
        f"That gives {say(share, 'share')} of travel as sag, "
        f"{say(exact['preload'] + turns * given.pitch, 'length')} of preload, and moves "
        f"the {end} {_rise_words(given, exact['travel'], after)}."
    )
    if turns == 0:
        nearest = f"Leave both {end} collars: no {turns_text(given.turn_step)} comes nearer."
        return Step(nearest, gives)
    way = way_words(turns, given.choice("thread_hand"))
    return Step(f"Turn both {end} collars {turn_words(turns)}.", f"{way} {gives}")


def _rise_words(given: Given, travel: float, after: float) -> str:
    """How the body moves at the wheel, between the stops of the damper."""
    stood, stands = (min(max(place, 0.0), given.stroke) for place in (travel, after))
    rise = (stood - stands) / given.motion_ratio
    return f"{'up' if rise >= 0 else 'down'} by {given.say(abs(rise), 'length')}"


def cautions(given: Given, exact: Mapping[str, float], turns: float) -> list[Caution]:
    preload = exact["preload"] + turns * given.pitch
    found = [Caution(text, stop=True) for text in _stops(given, exact, turns)]
    if preload < 0:
        found.append(
            Caution(
                f"The spring is loose at full droop by {given.say(-preload, 'length')}: it can "
                "rattle and leave its seat over jumps."
            )
        )
    return found


def _stops(given: Given, exact: Mapping[str, float], turns: float) -> list[str]:
    travel = exact["travel"] - turns * given.pitch
    margin = exact["bind_margin"] - turns * given.pitch
    found = []
    if margin < 0:
        found.append(
            "The coils touch before full bump: the spring goes solid "
            f"{given.say(-margin, 'length')} of shaft travel early. Use a shorter wire stack, "
            "less preload, or a longer spring."
        )
    if travel <= 0:
        found.append(
            "The car sits on its droop stops at this end: the preload already holds it up, "
            "so it stands with no sag and the collar does not lift it. It would take "
            f"{turns_text(round(-travel / given.pitch, 2))} up until it begins to sag."
        )
    if travel >= given.stroke:
        found.append("The load alone closes the damper fully: the spring is too soft.")
    return found


def table(given: Given, exact: Mapping[str, float]) -> Table:
    rows = []
    for turns in _TURNS_SHOWN:
        preload = exact["preload"] + turns * given.pitch
        travel = exact["travel"] - turns * given.pitch
        share = min(max(travel / given.stroke, 0.0), 1.0)
        rows.append(
            (
                "now" if turns == 0 else f"{'+' if turns > 0 else ''}{turns_number(turns)}",
                given.bare(preload, "length"),
                given.bare(spring_force(rate=given.spring_rate, compression=preload), "force"),
                given.bare(share * given.stroke / given.motion_ratio, "length", 1),
                given.bare(share, "share", 0),
            )
        )
    length, force = given.symbol("length"), given.symbol("force")
    heads = ("Turns down", f"Preload {length}", f"Preload {force}", f"Sag {length}", "Sag %")
    return Table("Turns from here", heads, tuple(rows), mark=_TURNS_SHOWN.index(0.0))


def plot(given: Given, exact: Mapping[str, float]) -> Plot:
    rate, preload = given.spring_rate, exact["preload"]
    touch = max(0.0, -preload)
    solid = given.stroke + min(exact["bind_margin"], 0.0)

    def force(travel: float) -> float:
        return spring_force(rate=rate, compression=preload + travel)

    ends = sorted({0.0, min(touch, given.stroke), max(solid, 0.0)})
    line = tuple((travel, force(travel)) for travel in ends)
    static = exact["static_force"]
    curves = [
        Curve("spring", ((0.0, 0.0), *line)),
        Curve("static load", ((0.0, static), (given.stroke, static)), "second"),
    ]
    if solid < given.stroke:
        top = max(force(max(solid, 0.0)), static)
        curves.append(Curve("coil bind", ((solid, 0.0), (solid, top * 1.1)), "limit"))
    marks: tuple[Mark, ...] = ()
    if 0 < exact["travel"] < given.stroke:
        marks = (Mark(exact["travel"], static, "ride height"),)
    return Plot(
        "Spring force against shaft travel",
        Axis("Shaft travel from full droop", "length"),
        Axis("Spring force", "force"),
        tuple(curves),
        marks,
        f"Force rises from {given.say(exact['preload_force'], 'force')} at full droop to "
        f"{given.say(exact['bump_force'], 'force')} at full bump; the static load is "
        f"{given.say(static, 'force')}.",
    )


def working(given: Given, exact: Mapping[str, float]) -> tuple[Working, ...]:
    say = given.say
    load = axle_load(given)
    return (
        _preload_working(given, exact),
        Working(
            "load on the spring at the wheel = (mean scale reading − unsprung mass) × g",
            f"({say((given.load_left + given.load_right) / 2, 'mass')} − "
            f"{say(given.unsprung, 'mass')}) × g = {say(load, 'force')}",
        ),
        Working(
            "sag at the wheel = (load / motion ratio / rate − preload) / motion ratio",
            f"({say(load, 'force')} / {say(given.motion_ratio, 'ratio')} / "
            f"{say(given.spring_rate, 'rate')} − {say(exact['preload'], 'length')}) / "
            f"{say(given.motion_ratio, 'ratio')} = "
            f"{say(exact['travel'] / given.motion_ratio, 'length')}",
            "Hooke's law and virtual work",
        ),
        Working(
            "wheel rate = rate × motion ratio²",
            f"{say(given.spring_rate, 'rate')} × {say(given.motion_ratio, 'ratio')}² = "
            f"{say(exact['wheel_rate'], 'rate')}",
        ),
        Working(
            "ride frequency = √(wheel rate / sprung mass) / 2π",
            f"√({say(exact['wheel_rate'], 'rate')} / {say(load / STANDARD_GRAVITY, 'mass')}) / 2π"
            f" = {say(exact['ride_frequency'], 'frequency')}",
        ),
    )


def _preload_working(given: Given, exact: Mapping[str, float]) -> Working:
    say = given.say
    if given.choice("known") == "turns":
        return Working(
            "preload = turns × pitch",
            f"{turns_text(given.past_touch)} × {say(given.pitch, 'length')} = "
            f"{say(exact['preload'], 'length')}",
        )
    return Working(
        "preload = free length − length at full droop",
        f"{say(given.spring_free, 'length')} − {say(given.droop_length, 'length')} = "
        f"{say(exact['preload'], 'length')}",
    )
