"""Spring preload: how hard the spring is pressed at full droop, and what that does to the car."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Drawing, Write
from calc.answering.hand import to_step, turn_words
from calc.asking.entry import Choice, Number, only
from calc.forms.cautions import springs_off
from calc.forms.common.damper_drawing import damper_drawing
from calc.forms.common.seat import Seat, stack_of
from calc.forms.fields import AXLE, axle_load, chosen_end, corner_load_fields
from calc.forms.names import collar_word, end_word
from calc.forms.spring_preload import words
from calc.language import later, tr
from calc.physics.linkage import wheel_rate
from calc.physics.ride import natural_frequency
from calc.physics.spring import preload_from_lengths, preload_from_turns, spring_force
from calc.replying.form import Form, Given, from_car
from calc.units import STANDARD_GRAVITY

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
    ("preload", later("Preload at full droop"), "length"),
    ("preload_force", later("Preload force at full droop"), "force"),
    ("load_to_move", later("Load at the wheel before it moves"), "force"),
    ("sag", later("Sag at the wheel"), "length"),
    ("sag_share", later("Sag, share of wheel travel"), "share"),
    ("bump_force", later("Spring force at full bump"), "force"),
    ("bind_margin", later("Room left to coil bind at full bump"), "length"),
    ("wheel_rate", later("Wheel rate"), "rate"),
    ("ride_frequency", later("Ride frequency"), "frequency"),
)


def solve(given: Given) -> Answer:
    doubted = given.carry(figures)
    exact = {name: figure.value for name, figure in doubted.items()}
    turns = to_step(exact["turns"], given.turn_step) if "turns" in exact else 0.0
    quantities = tuple(
        given.quantity(name, tr(label), kind, doubted[name]) for name, label, kind in _LABELS
    )
    if "turns" in doubted:
        label = tr("Turns of each collar, exact (down is positive)")
        exact_turns = given.quantity("turns", label, "turns", doubted["turns"])
        quantities = (exact_turns, *quantities)
    return Answer(
        steps=words.steps(given, exact, turns),
        quantities=quantities,
        tables=(words.table(given, exact),),
        plots=(words.plot(given, exact),),
        cautions=(*words.cautions(given, exact, turns), springs_off()),
        working=words.working(given, exact),
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
    return damper_drawing(given, seat, chosen_end(given))


def _writes(given: Given, turns: float) -> tuple[Write, ...]:
    if turns == 0:
        return ()
    axle = chosen_end(given)
    length = given.spring_free - _preload(given) - turns * given.pitch
    says = tr(
        "{end} spring length at full droop: {length}",
        end=end_word(axle),
        length=given.say(length, "length"),
    )
    collars = [
        Write(
            f"corners.{corner}.collar",
            given.car.corner(corner).collar + turns,
            f"{collar_word(corner)}: {turn_words(turns)}",
        )
        for corner in axle.corners
    ]
    return (Write(f"{axle}.droop_length", length, says), *collars)


FORM = Form(
    "spring-preload",
    "Spring preload",
    "car",
    "How hard is the spring pressed, how far does the car sag, and does anything bind?",
    FIELDS,
    solve,
)
