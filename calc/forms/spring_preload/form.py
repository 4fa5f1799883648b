"""Spring preload: how hard the spring is pressed at full droop, and what that does to the car."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Write
from calc.answering.hand import to_step
from calc.asking.entry import Choice, Number, only
from calc.forms import entered
from calc.forms.cautions import springs_off
from calc.forms.damper_drawing import damper_drawing
from calc.forms.fields import AXLE, chosen_end, corner_load_fields
from calc.forms.findings import stack_at
from calc.forms.inputs import growth_of
from calc.forms.recorded import DrawnBody, folded
from calc.forms.spring_preload import words
from calc.forms.turning import both, collar_writes, droop_write
from calc.language import later, tr
from calc.model.standing import Seat, SpringSize
from calc.physics.spring import preload_from_turns
from calc.replying.form import Form, Given, from_car

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
    *entered.arm_of_end(),
    *folded(DrawnBody),
)  # fmt: skip


def seat_of(given: Given) -> Seat:
    """The mean corner of the chosen end, as it was entered. Raises Problem."""
    size = SpringSize(given.spring_rate, given.spring_free, given.spring_solid)
    if given.choice("known") == "turns":
        preload = preload_from_turns(pitch=given.pitch, turns=given.past_touch)
        droop_length = given.spring_free - preload
    else:
        droop_length = given.droop_length
    return entered.checked(
        Seat(
            stack=stack_at([size], ["spring_solid"]),
            load=entered.axle_load(given),
            motion_ratio=given.motion_ratio,
            droop_length=droop_length,
            stroke=given.stroke,
            growth=growth_of(given, chosen_end(given)),
        ),
        "spring_solid",
        tr("Spring"),
    )


def figures(given: Given) -> Mapping[str, float]:
    """Every figure of the answer in SI, exact."""
    seat = seat_of(given)
    wanted = given.maybe("wanted_sag")
    more = {} if wanted is None else {
        "turns": (seat.reach - wanted * seat.stroke) / (seat.give * given.pitch),
    }  # fmt: skip
    return {
        "preload": seat.preload,
        "preload_force": seat.preload_force,
        "load_to_move": seat.preload_force * seat.motion_ratio,
        "sag": seat.sag,
        "sag_share": seat.sag_share,
        "bump_force": seat.bump_force,
        "bind_margin": seat.bind_margin,
        "wheel_rate": seat.wheel_rate,
        "ride_frequency": seat.frequency,
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
    given = entered.with_axle_growth(given)
    doubted = given.carry(figures)
    turns = to_step(doubted["turns"].value, given.turn_step) if "turns" in doubted else 0.0
    now = seat_of(given)
    after = now.down(turns * given.pitch)
    quantities = tuple(
        given.quantity(name, tr(label), kind, doubted[name]) for name, label, kind in _LABELS
    )
    if "turns" in doubted:
        label = tr("Turns of each collar, exact (down is positive)")
        exact_turns = given.quantity("turns", label, "turns", doubted["turns"])
        quantities = (exact_turns, *quantities)
    return Answer(
        steps=words.steps(given, now, after, turns),
        quantities=quantities,
        tables=(words.table(given, now),),
        plots=(words.plot(given, now),),
        cautions=(*words.cautions(given, now, after), springs_off()),
        working=words.working(given, now),
        writes=_writes(given, after, turns),
        drawings=damper_drawing(given, after, chosen_end(given), DrawnBody(given)),
    )


def _writes(given: Given, after: Seat, turns: float) -> tuple[Write, ...]:
    if turns == 0:
        return ()
    end = chosen_end(given)
    return (
        droop_write(given, end, after.droop_length),
        *collar_writes(given, both(end, turns)),
    )


FORM = Form(
    "spring-preload",
    "Spring preload",
    "car",
    "How hard is the spring pressed, how far does the car sag, and does anything bind?",
    FIELDS,
    solve,
)
