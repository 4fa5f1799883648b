"""Spring preload: how hard the spring is pressed at full droop, and what that does to the car."""

from collections.abc import Mapping

from calc.answer import (
    Answer,
    Axis,
    Caution,
    Curve,
    Drawing,
    Mark,
    Plot,
    Step,
    Table,
    Working,
    Write,
)
from calc.entry import Choice, Number, only
from calc.form import Form, Given, from_car
from calc.forms.damper_drawing import damper_drawing
from calc.forms.seat import Seat, stack_of
from calc.forms.shared import AXLE, EYES, STAND, axle_load, corner_load_fields
from calc.hand import to_step, turn_words, way_words
from calc.physics.linkage import lift_per_turn, wheel_rate
from calc.physics.ride import natural_frequency
from calc.physics.spring import preload_from_lengths, preload_from_turns, spring_force
from calc.units import STANDARD_GRAVITY, turns_number, turns_text

_TURNS_SHOWN = (-2.0, -1.0, -0.5, -0.25, 0.0, 0.25, 0.5, 1.0, 2.0)

FIELDS = (
    AXLE,
    Choice(
        "Preload is known from",
        (("length", "spring length at full droop"), ("turns", "turns past first touch")),
        "First touch: the collar just meets the spring while the wheel hangs free.",
        name="known",
    ),
    from_car("{axle}.droop_length", when=only("known", "length")),
    Number(
        "Turns past first touch", "turns", (0, 10), (-60, 200),
        "From where the collar just touches the spring at full droop, counted downwards.",
        name="past_touch", start=2.0, when=only("known", "turns"),
    ),
    from_car("{axle}.spring_free"),
    from_car("{axle}.spring_rate"),
    from_car("{axle}.spring_solid"),
    from_car("{axle}.stroke"),
    from_car("{axle}.motion_ratio"),
    from_car("{axle}.pitch"),
    *corner_load_fields(),
    Number(
        "Sag wanted, share of wheel travel", "share", (0.15, 0.5), (0.001, 0.999),
        "Leave it empty to see what the spring does now.", name="wanted_sag", optional=True,
    ),
    from_car("tools.turn_step"),
    from_car("thread_hand"),
)  # fmt: skip


def _preload(given: Given) -> float:
    if given.choice("known") == "turns":
        return preload_from_turns(pitch=given.pitch, turns=given.past_touch)
    return preload_from_lengths(free_length=given.spring_free, droop_length=given.droop_length)


def figures(given: Given) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact."""
    preload, load = _preload(given), axle_load(given)
    force_static = load / given.motion_ratio
    travel = force_static / given.spring_rate - preload
    rate = wheel_rate(rate=given.spring_rate, motion_ratio=given.motion_ratio)
    full = spring_force(rate=given.spring_rate, compression=preload + given.stroke)
    sag_share = min(max(travel / given.stroke, 0.0), 1.0)
    wanted = given.maybe("wanted_sag")
    more = {} if wanted is None else {
        "turns": (travel - wanted * given.stroke) / given.pitch,
    }  # fmt: skip
    return {
        "preload": preload,
        "preload_force": spring_force(rate=given.spring_rate, compression=preload),
        "load_to_move": spring_force(rate=given.spring_rate, compression=preload)
        * given.motion_ratio,
        "static_force": force_static,
        "sag": sag_share * given.stroke / given.motion_ratio,
        "sag_share": sag_share,
        "bump_force": full,
        "bind_margin": given.spring_free - preload - given.stroke - given.spring_solid,
        "wheel_rate": rate,
        "ride_frequency": natural_frequency(rate=rate, mass=load / STANDARD_GRAVITY),
        "travel": travel,
        **more,
    }


_LABELS = (
    ("preload", "Preload at full droop", "length"),
    ("preload_force", "Preload force at full droop", "force"),
    ("load_to_move", "Load at the wheel before it moves", "force"),
    ("sag", "Sag at the wheel", "length"),
    ("sag_share", "Sag, share of wheel travel", "share"),
    ("bump_force", "Spring force at full bump", "force"),
    ("bind_margin", "Room left to coil bind at full bump", "length"),
    ("wheel_rate", "Wheel rate", "rate"),
    ("ride_frequency", "Ride frequency", "frequency"),
)


def solve(given: Given) -> Answer:
    doubted = given.carry(figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    turns = to_step(exact["turns"], given.turn_step) if "turns" in exact else 0.0
    quantities = tuple(
        given.quantity(name, label, kind, doubted[name]) for name, label, kind in _LABELS
    )
    if "turns" in doubted:
        exact_turns = given.quantity(
            "turns", "Turns of each collar, exact (down is positive)", "turns", doubted["turns"]
        )
        quantities = (exact_turns, *quantities)
    return Answer(
        steps=_steps(given, exact, turns),
        quantities=quantities,
        tables=(_table(given, exact),),
        plots=(_plot(given, exact),),
        cautions=(*_cautions(given, exact, turns), EYES, STAND),
        working=_working(given, exact),
        writes=_writes(given, turns),
        drawings=(_drawing(given, exact, turns),),
    )


def _drawing(given: Given, exact: Mapping[str, float], turns: float) -> Drawing:
    """The damper once the instruction has been carried out."""
    spring = (given.spring_rate, given.spring_free, given.spring_solid)
    seat = Seat(
        stack=stack_of([spring], ["spring_solid"]),
        load=axle_load(given),
        motion_ratio=given.motion_ratio,
        droop_length=given.spring_free - exact["preload"] - turns * given.pitch,
        stroke=given.stroke,
    )
    return damper_drawing(given, seat, given.choice("axle"))


def _steps(given: Given, exact: Mapping[str, float], turns: float) -> tuple[Step, ...]:
    end = given.choice("axle")
    if "turns" in exact:
        after = exact["travel"] - turns * given.pitch
        share = min(max(after / given.stroke, 0.0), 1.0)
        gives = (
            f"That gives {given.say(share, 'share')} of travel as sag, "
            f"{given.say(exact['preload'] + turns * given.pitch, 'length')} of preload, and moves "
            f"the {end} {_rise_words(given, turns)}."
        )
        if turns == 0:
            nearest = f"Leave both {end} collars: no {turns_text(given.turn_step)} comes nearer."
            return (Step(nearest, gives),)
        return (
            Step(
                f"Turn both {end} collars {turn_words(turns)}.",
                f"{way_words(turns, given.choice('thread_hand'))} {gives}",
            ),
        )
    if exact["preload"] < 0:
        gap = to_step(-exact["preload"] / given.pitch, given.turn_step)
        text = (
            f"The {end} spring is loose at full droop by {given.say(-exact['preload'], 'length')}: "
            f"{turns_text(gap)} down until it touches."
        )
        return (Step(text),)
    past = to_step(exact["preload"] / given.pitch, given.turn_step)
    return (
        Step(
            f"Set each {end} collar {turns_text(past)} past first touch.",
            f"That is {given.say(past * given.pitch, 'length')} of preload; the entries say "
            f"{given.say(exact['preload'], 'length')}, which holds "
            f"{given.say(exact['preload_force'], 'force')} at full droop.",
        ),
    )


def _rise_words(given: Given, turns: float) -> str:
    rise = turns * lift_per_turn(pitch=given.pitch, motion_ratio=given.motion_ratio)
    return f"{'up' if rise >= 0 else 'down'} by {given.say(abs(rise), 'length')}"


def _cautions(given: Given, exact: Mapping[str, float], turns: float) -> list[Caution]:
    preload = exact["preload"] + turns * given.pitch
    travel = exact["travel"] - turns * given.pitch
    margin = exact["bind_margin"] - turns * given.pitch
    found = []
    if margin < 0:
        found.append(
            Caution(
                "The coils touch before full bump: the spring goes solid "
                f"{given.say(-margin, 'length')} of shaft travel early. Use a shorter wire stack, "
                "less preload, or a longer spring.",
                stop=True,
            )
        )
    if travel <= 0:
        found.append(
            Caution(
                "The car sits on its droop stops at this end: the preload already holds it up, "
                "so it stands with no sag and the collar does not lift it. It would take "
                f"{turns_text(round(-travel / given.pitch, 2))} up until it begins to sag.",
                stop=True,
            )
        )
    if travel >= given.stroke:
        found.append(
            Caution("The load alone closes the damper fully: the spring is too soft.", stop=True)
        )
    if preload < 0:
        found.append(
            Caution(
                f"The spring is loose at full droop by {given.say(-preload, 'length')}: it can "
                "rattle and leave its seat over jumps."
            )
        )
    return found


def _table(given: Given, exact: Mapping[str, float]) -> Table:
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


def _plot(given: Given, exact: Mapping[str, float]) -> Plot:
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


def _working(given: Given, exact: Mapping[str, float]) -> tuple[Working, ...]:
    say = given.say
    if given.choice("known") == "turns":
        first = Working(
            "preload = turns × pitch",
            f"{turns_text(given.past_touch)} × {say(given.pitch, 'length')} = "
            f"{say(exact['preload'], 'length')}",
        )
    else:
        first = Working(
            "preload = free length − length at full droop",
            f"{say(given.spring_free, 'length')} − {say(given.droop_length, 'length')} = "
            f"{say(exact['preload'], 'length')}",
        )
    load = axle_load(given)
    return (
        first,
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


def _writes(given: Given, turns: float) -> tuple[Write, ...]:
    if turns == 0:
        return ()
    axle = given.choice("axle")
    length = given.spring_free - _preload(given) - turns * given.pitch
    says = f"{axle} spring length at full droop: {given.say(length, 'length')}"
    return (Write(f"{axle}.droop_length", length, says),)


FORM = Form(
    "spring-preload",
    "Spring preload",
    "car",
    "How hard is the spring pressed, how far does the car sag, and does anything bind?",
    FIELDS,
    solve,
)
