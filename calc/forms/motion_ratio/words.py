"""What the motion ratio form says: instructions, cautions, figures, and what the car notes."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Caution, Quantity, Step, Write
from calc.answering.hand import to_step
from calc.answering.uncertainty import Doubted
from calc.forms import findings
from calc.forms.cautions import opened, plastic, springs_off
from calc.forms.damper_drawing import damper_drawing
from calc.forms.fields import chosen_end
from calc.forms.friction import with_end_friction
from calc.forms.motion_ratio.arm_drawing import arm_drawing
from calc.forms.motion_ratio.holes import Mounted, figures, now, other, turned, with_scatter
from calc.forms.motion_ratio.pictures import plot, tables, working
from calc.forms.names import end_word
from calc.forms.recorded import DrawnBody
from calc.forms.turning import both, collar_writes, droop_write, end_steps, hole_writes, ratio_write
from calc.language import later, tr
from calc.replying.form import Given

_NOTHING = 0.005e-3  # m; less than this is not shown
_APART = 1e-3  # m by which spring and drawing may disagree about the droop travel
_LABELS = (
    ("turns", later("Turns of each collar, exact (down is positive)"), "turns"),
    ("motion_ratio", later("Motion ratio at ride height"), "ratio"),
    ("change", later("Change of motion ratio per 10 mm of bump"), "ratio"),
    ("wheel_rate", later("Wheel rate"), "rate"),
    ("ride_frequency", later("Ride frequency"), "frequency"),
    ("other_ratio", later("Motion ratio in the other hole"), "ratio"),
    (
        "other_change",
        later("Change of motion ratio per 10 mm of bump, other mounting hole"),
        "ratio",
    ),
    ("other_wheel_rate", later("Wheel rate in the other hole"), "rate"),
    ("other_frequency", later("Ride frequency in the other hole"), "frequency"),
    ("damping", later("Damping at the wheel, share of what it was"), "share"),
    ("oil", later("Oil that keeps the damping at the wheel, at 25 °C"), "viscosity"),
    ("unturned", later("Height change if the collars stay put"), "length"),
    ("bind_margin", later("Room to coil bind at full bump"), "length"),
)


def solve(given: Given) -> Answer:
    here = now(given)
    given = with_scatter(given)
    if given.choice("holes") == "one":
        return _one(given, here)
    there, shift = other(given, here)
    given = with_end_friction(given, chosen_end(given))
    turns = to_step(shift / given.pitch, given.turn_step)
    moved = turned(given, there, turns * given.pitch)
    findings.check_thread("pitch", chosen_end(given), turns, given.pitch, here.seat.stack.free)
    doubted = given.carry(lambda shifted: figures(shifted, turns))
    exact = {name: figure.value for name, figure in doubted.items()}
    off = given.quantity(
        "height_off",
        tr("With the rounded turns the car stands higher by"),
        "length",
        doubted["height_off"].at(moved.higher),
    )
    drawn = (arm_drawing(given),) if given.choice("known") == "geometry" else ()
    return Answer(
        steps=_steps(given, exact, turns, moved.higher),
        quantities=(*_quantities(given, doubted), off),
        tables=tables(given, here, moved),
        plots=(plot(given, here, moved),),
        cautions=(*_cautions(given, here, moved), springs_off(), plastic(), opened()),
        working=working(given, here, moved, shift),
        writes=_writes(given, moved, turns),
        drawings=(*drawn, *damper_drawing(given, moved.seat, chosen_end(given), DrawnBody(given))),
    )


def _one(given: Given, here: Mounted) -> Answer:
    doubted = given.carry(figures)
    ratio, end = here.hole.ride.ratio, chosen_end(given)
    step = Step(
        tr(
            "Note a motion ratio of {ratio} at the {end}.",
            ratio=given.say(ratio, "ratio"),
            end=end_word(end),
        ),
        tr(
            "The wheel feels {rate}; the inverse, which some write, is {inverse}.",
            rate=given.say(here.seat.wheel_rate, "rate"),
            inverse=given.say(1 / ratio, "ratio"),
        ),
    )
    return Answer(
        steps=(step,),
        quantities=_quantities(given, doubted),
        tables=tables(given, here, None),
        plots=(plot(given, here, None),),
        cautions=(*_cautions(given, here, here), springs_off()),
        working=working(given, here, None, 0.0),
        writes=(ratio_write(given, end, ratio),),
        drawings=(arm_drawing(given),) if given.choice("known") == "geometry" else (),
    )


def _quantities(given: Given, doubted: Mapping[str, Doubted]) -> tuple[Quantity, ...]:
    return tuple(
        given.quantity(name, tr(label), kind, doubted[name])
        for name, label, kind in _LABELS
        if name in doubted
    )


def _steps(given: Given, exact: Mapping[str, float], turns: float, off: float) -> tuple[Step, ...]:
    say, end = given.say, end_word(chosen_end(given))
    fit = Step(
        tr("Put both {end} dampers into the other hole.", end=end),
        tr(
            "With the collars untouched the {end} sits {as_before}.",
            end=end,
            as_before=_as_before(given, exact["unturned"]),
        ),
    )
    measure = Step(
        tr("Bounce the car and measure the height again."),
        tr("It sits {as_before}.", as_before=_as_before(given, off)),
    )
    fill = Step(
        tr(
            "For the same damping at the wheel refill with {oil}.",
            oil=say(exact["oil"], "viscosity"),
        ),
        tr(
            "With the oil that is in, the wheel feels {share} of the damping that it felt.",
            share=say(exact["damping"], "share", 0),
        ),
    )
    return (
        fit,
        *end_steps(given.choice("thread_hand"), chosen_end(given), turns, turns),
        measure,
        fill,
    )


def _as_before(given: Given, off: float) -> str:
    if abs(off) < _NOTHING:
        return tr("as high as before")
    length = given.say(abs(off), "length")
    if off > 0:
        return tr("{length} higher than before", length=length)
    return tr("{length} lower than before", length=length)


def _cautions(given: Given, here: Mounted, moved: Mounted) -> list[Caution]:
    end, seat = chosen_end(given), moved.seat
    found = [
        *findings.of_seat(given, end, seat, pitch=given.pitch, step=given.turn_step, now=here.seat)
    ]
    if seat.wheel_rate <= 0:
        found.append(findings.gives_way())
    return found + _disagree(given, here)


def _disagree(given: Given, here: Mounted) -> list[Caution]:
    """Whether the drawing and the spring tell two tales of the droop travel."""
    if given.choice("known") == "pairs":
        return []
    drawn, sprung = given.damper_length - here.hole.ride.length, here.seat.reach
    if abs(drawn - sprung) <= _APART:
        return []
    text = tr(
        "By the drawing the shaft moves {drawn} from full droop to ride height, by the spring "
        "{sprung}: one of the measurements is off.",
        drawn=given.say(drawn, "length", 1),
        sprung=given.say(sprung, "length", 1),
    )
    return [Caution(text)]


def _writes(given: Given, moved: Mounted, turns: float) -> tuple[Write, ...]:
    end = chosen_end(given)
    made = [
        ratio_write(given, end, moved.hole.ride.ratio),
        droop_write(given, end, moved.seat.droop_length),
        *collar_writes(given, both(end, turns)),
    ]
    if given.choice("known") == "geometry":
        made += hole_writes(given, end, given.numbers)
    return tuple(made)
