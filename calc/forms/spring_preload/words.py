"""What spring preload says: instructions, cautions, table, plot and working."""

from collections.abc import Mapping

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working
from calc.answering.hand import to_step, turn_words, way_words
from calc.forms.fields import axle_load, chosen_end
from calc.forms.names import end_word
from calc.language import tr
from calc.physics.spring import spring_force
from calc.replying.form import Given
from calc.units import STANDARD_GRAVITY, turns_number, turns_text

_TURNS_SHOWN = (-2.0, -1.0, -0.5, -0.25, 0.0, 0.25, 0.5, 1.0, 2.0)


def steps(given: Given, exact: Mapping[str, float], turns: float) -> tuple[Step, ...]:
    end, say = end_word(chosen_end(given)), given.say
    if "turns" in exact:
        return (_turn_step(given, exact, turns),)
    hand = given.choice("thread_hand")
    past = to_step(exact["preload"] / given.pitch, given.turn_step)
    if past < 0:
        text = tr(
            "Turn each {end} collar {turns} until it touches: the spring is loose at full droop by "
            "{gap}.",
            end=end,
            gap=say(-exact["preload"], "length"),
            turns=turn_words(-past),
        )
        return (Step(text, way_words(-past, hand)),)
    gives = tr(
        "That is {preload} of preload; the entries say {exact}, which holds {force} at full droop.",
        preload=say(past * given.pitch, "length"),
        exact=say(exact["preload"], "length"),
        force=say(exact["preload_force"], "force"),
    )
    if past == 0:
        return (Step(tr("Set each {end} collar at first touch.", end=end), gives),)
    text = tr("Turn each {end} collar {turns} from first touch.", end=end, turns=turn_words(past))
    return (Step(text, f"{way_words(past, hand)} {gives}"),)


def _turn_step(given: Given, exact: Mapping[str, float], turns: float) -> Step:
    """The turns for the sag wanted, and what they give."""
    end = end_word(chosen_end(given))
    gives = _given_words(given, exact, turns, end)
    if turns == 0:
        nearest = tr(
            "Leave both {end} collars: no {turn} comes nearer.",
            end=end,
            turn=turns_text(given.turn_step),
        )
        return Step(nearest, gives)
    way = way_words(turns, given.choice("thread_hand"))
    text = tr("Turn both {end} collars {turns}.", end=end, turns=turn_words(turns))
    return Step(text, f"{way} {gives}")


def _given_words(given: Given, exact: Mapping[str, float], turns: float, end: str) -> str:
    """What the turns give, and how the body moves at the wheel, between the damper's stops."""
    say, travel = given.say, exact["travel"]
    after = travel - turns * given.pitch
    stood, stands = (min(max(place, 0.0), given.stroke) for place in (travel, after))
    rise = (stood - stands) / given.motion_ratio
    parts = {
        "share": say(stands / given.stroke, "share"),
        "preload": say(exact["preload"] + turns * given.pitch, "length"),
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


def cautions(given: Given, exact: Mapping[str, float], turns: float) -> list[Caution]:
    preload = exact["preload"] + turns * given.pitch
    found = [Caution(text, stop=True) for text in _stops(given, exact, turns)]
    if preload < 0:
        found.append(
            Caution(
                tr(
                    "The spring is loose at full droop by {gap}: it can rattle and leave its seat "
                    "over jumps.",
                    gap=given.say(-preload, "length"),
                )
            )
        )
    return found


def _stops(given: Given, exact: Mapping[str, float], turns: float) -> list[str]:
    travel = exact["travel"] - turns * given.pitch
    margin = exact["bind_margin"] - turns * given.pitch
    found = []
    if margin < 0:
        found.append(
            tr(
                "The coils touch before full bump: the spring goes solid {early} of shaft travel "
                "early. Use a shorter wire stack, less preload, or a longer spring.",
                early=given.say(-margin, "length"),
            )
        )
    if travel <= 0:
        found.append(
            tr(
                "The car sits on its droop stops at this end: the preload already holds it up, "
                "so it stands with no sag and the collar does not lift it. It would take "
                "{turns} up until it begins to sag.",
                turns=turns_text(round(-travel / given.pitch, 2)),
            )
        )
    if travel >= given.stroke:
        found.append(tr("The load alone closes the damper fully: the spring is too soft."))
    return found


def table(given: Given, exact: Mapping[str, float]) -> Table:
    rows = []
    for turns in _TURNS_SHOWN:
        preload = exact["preload"] + turns * given.pitch
        travel = exact["travel"] - turns * given.pitch
        share = min(max(travel / given.stroke, 0.0), 1.0)
        rows.append(
            (
                tr("now") if turns == 0 else f"{'+' if turns > 0 else ''}{turns_number(turns)}",
                given.bare(preload, "length"),
                given.bare(spring_force(rate=given.spring_rate, compression=preload), "force"),
                given.bare(share * given.stroke / given.motion_ratio, "length", 1),
                given.bare(share, "share", 0),
            )
        )
    length, force = given.symbol("length"), given.symbol("force")
    heads = (
        tr("Turns down"),
        tr("Preload {unit}", unit=length),
        tr("Preload {unit}", unit=force),
        tr("Sag {unit}", unit=length),
        tr("Sag %"),
    )
    return Table(tr("Turns from here"), heads, tuple(rows), mark=_TURNS_SHOWN.index(0.0))


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
        Curve(tr("spring"), ((0.0, 0.0), *line)),
        Curve(tr("static load"), ((0.0, static), (given.stroke, static)), "second"),
    ]
    if solid < given.stroke:
        top = max(force(max(solid, 0.0)), static)
        curves.append(Curve(tr("coil bind"), ((solid, 0.0), (solid, top * 1.1)), "limit"))
    marks: tuple[Mark, ...] = ()
    if 0 < exact["travel"] < given.stroke:
        marks = (Mark(exact["travel"], static, tr("ride height")),)
    return Plot(
        tr("Spring force against shaft travel"),
        Axis(tr("Shaft travel from full droop"), "length"),
        Axis(tr("Spring force"), "force"),
        tuple(curves),
        marks,
        tr(
            "Force rises from {droop} at full droop to {bump} at full bump; the static load is "
            "{static}.",
            droop=given.say(exact["preload_force"], "force"),
            bump=given.say(exact["bump_force"], "force"),
            static=given.say(static, "force"),
        ),
    )


def working(given: Given, exact: Mapping[str, float]) -> tuple[Working, ...]:
    say = given.say
    load = axle_load(given)
    return (
        _preload_working(given, exact),
        Working(
            tr("load on the spring at the wheel = (mean scale reading − unsprung mass) × g"),
            f"({say((given.load_left + given.load_right) / 2, 'mass')} − "
            f"{say(given.unsprung, 'mass')}) × g = {say(load, 'force')}",
            tr("balance of forces"),
        ),
        Working(
            tr("sag at the wheel = (load / motion ratio / rate − preload) / motion ratio"),
            f"({say(load, 'force')} / {say(given.motion_ratio, 'ratio')} / "
            f"{say(given.spring_rate, 'rate')} − {say(exact['preload'], 'length')}) / "
            f"{say(given.motion_ratio, 'ratio')} = "
            f"{say(exact['travel'] / given.motion_ratio, 'length')}",
            tr("Hooke's law and virtual work"),
        ),
        Working(
            tr("wheel rate = rate × motion ratio²"),
            f"{say(given.spring_rate, 'rate')} × {say(given.motion_ratio, 'ratio')}² = "
            f"{say(exact['wheel_rate'], 'rate')}",
            tr("Hooke's law and virtual work"),
        ),
        Working(
            tr("ride frequency = √(wheel rate / sprung mass) / 2π"),
            f"√({say(exact['wheel_rate'], 'rate')} / {say(load / STANDARD_GRAVITY, 'mass')}) / 2π"
            f" = {say(exact['ride_frequency'], 'frequency')}",
            tr("a mass on a spring: OpenStax College Physics, ch. 16"),
        ),
    )


def _preload_working(given: Given, exact: Mapping[str, float]) -> Working:
    say = given.say
    if given.choice("known") == "turns":
        return Working(
            tr("preload = turns × pitch"),
            f"{turns_text(given.past_touch)} × {say(given.pitch, 'length')} = "
            f"{say(exact['preload'], 'length')}",
            tr("geometry of the thread"),
        )
    return Working(
        tr("preload = free length − length at full droop"),
        f"{say(given.spring_free, 'length')} − {say(given.droop_length, 'length')} = "
        f"{say(exact['preload'], 'length')}",
        tr("definition"),
    )
