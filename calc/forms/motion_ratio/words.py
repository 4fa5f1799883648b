"""What the motion ratio form says: instructions, cautions, figures, and what the car notes."""

from collections.abc import Mapping

from calc.answering.answer import Answer, Caution, Quantity, Step, Write
from calc.answering.hand import to_step, turn_words, way_words
from calc.answering.uncertainty import Doubted
from calc.forms.cautions import opened, plastic, springs_off
from calc.forms.common.arm import OTHER_POINTS, point
from calc.forms.common.arm_drawing import arm_drawing
from calc.forms.common.damper_drawing import damper_drawing
from calc.forms.fields import chosen_end
from calc.forms.motion_ratio.holes import Mounted, figures, now, other, turned, with_scatter
from calc.forms.motion_ratio.pictures import plot, tables, working
from calc.forms.names import collar_word, end_word
from calc.language import later, tr
from calc.model.corners import Corner, End
from calc.replying.form import Given

_NOTHING = 0.005e-3  # m; less than this is not shown
_APART = 1e-3  # m by which spring and drawing may disagree about the droop travel
_LABELS = (
    ("turns", later("Turns of each collar, exact (down is positive)"), "turns"),
    ("motion_ratio", later("Motion ratio at ride height"), "ratio"),
    ("change", later("Its growth in 10 mm of bump"), "ratio"),
    ("wheel_rate", later("Wheel rate"), "rate"),
    ("ride_frequency", later("Ride frequency"), "frequency"),
    ("other_ratio", later("Motion ratio in the other hole"), "ratio"),
    ("other_change", later("Its growth in 10 mm of bump, other hole"), "ratio"),
    ("other_wheel_rate", later("Wheel rate in the other hole"), "rate"),
    ("other_frequency", later("Ride frequency in the other hole"), "frequency"),
    ("damping", later("Damping at the wheel, share of what it was"), "share"),
    ("oil", later("Oil that keeps the damping at the wheel, at 25 °C"), "viscosity"),
    ("unturned", later("Without the turns the car stands higher by"), "length"),
    ("bind_margin", later("Room left to coil bind at full bump"), "length"),
)
_MOUNTS = {
    "lower_out": later("lower mount out {length}"),
    "lower_up": later("lower mount up {length}"),
    "upper_out": later("upper mount out {length}"),
    "upper_up": later("upper mount up {length}"),
}


def solve(given: Given) -> Answer:
    here = now(given)
    given = with_scatter(given)
    if given.choice("holes") == "one":
        return _one(given, here)
    there, shift = other(given, here)
    doubted = given.carry(figures)
    turns = to_step(shift / given.pitch, given.turn_step)
    moved = turned(given, there, turns * given.pitch)
    exact = {name: figure.value for name, figure in doubted.items()}
    off = Quantity("height_off", tr("What the rounding adds to the height"), moved.higher, "length")
    drawn = (arm_drawing(given),) if given.choice("known") == "geometry" else ()
    return Answer(
        steps=_steps(given, exact, turns, moved.higher),
        quantities=(*_quantities(given, doubted), off),
        tables=tables(given, here, moved),
        plots=(plot(given, here, moved),),
        cautions=(*_cautions(given, here, moved), springs_off(), plastic(), opened()),
        working=working(given, here, moved, shift),
        writes=_writes(given, moved, turns),
        drawings=(*drawn, damper_drawing(given, moved.seat, chosen_end(given))),
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
            rate=given.say(here.rate(0.0), "rate"),
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
        writes=(_ratio_write(given, end, ratio),),
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
            "Left alone the {end} then stands {as_before}.",
            end=end,
            as_before=_as_before(given, exact["unturned"]),
        ),
    )
    measure = Step(
        tr("Bounce the car and measure the height again."),
        tr("It stands {as_before}.", as_before=_as_before(given, off)),
    )
    fill = Step(
        tr("For the same damping at the wheel fill in {oil}.", oil=say(exact["oil"], "viscosity")),
        tr(
            "With the oil that is in, the wheel feels {share} of the damping that it felt.",
            share=say(exact["damping"], "share", 0),
        ),
    )
    return fit, _turn(given, end, turns), measure, fill


def _turn(given: Given, end: str, turns: float) -> Step:
    if not turns:
        return Step(tr("Leave both {end} collars where they are.", end=end))
    return Step(
        tr("Turn both {end} collars {turns}.", end=end, turns=turn_words(turns)),
        way_words(turns, given.choice("thread_hand")),
    )


def _as_before(given: Given, off: float) -> str:
    if abs(off) < _NOTHING:
        return tr("as high as before")
    length = given.say(abs(off), "length")
    if off > 0:
        return tr("{length} higher than before", length=length)
    return tr("{length} lower than before", length=length)


def _cautions(given: Given, here: Mounted, moved: Mounted) -> list[Caution]:
    found = [Caution(text, stop=True) for text in _droop_stops(given, here, moved)]
    if here.seat.bottomed or moved.seat.bottomed:
        found.append(Caution(tr("The load alone closes the damper fully."), stop=True))
    if moved.seat.bind_margin < 0:
        text = tr(
            "The spring goes solid {length} of shaft travel before full bump.",
            length=given.say(-moved.seat.bind_margin, "length"),
        )
        found.append(Caution(text, stop=True))
    if moved.seat.preload < 0:
        text = tr(
            "The spring is loose at full droop by {length}.",
            length=given.say(-moved.seat.preload, "length"),
        )
        found.append(Caution(text))
    if moved.rate(0.0) <= 0:
        text = tr(
            "The ratio falls so fast in bump that the wheel gives way instead of carrying more."
        )
        found.append(Caution(text, stop=True))
    return found + _disagree(given, here)


def _droop_stops(given: Given, here: Mounted, moved: Mounted) -> list[str]:
    end = end_word(chosen_end(given))
    if here.seat.on_stop:
        text = tr(
            "The {end} sits on its droop stops now, so no spring sets its height and no turn "
            "keeps it.",
            end=end,
        )
        return [text]
    if moved.seat.on_stop:
        return [
            tr("With these turns the {end} sits on its droop stops in the other hole.", end=end)
        ]
    return []


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
    end, length = chosen_end(given), moved.seat.droop_length
    says = tr("from collar to cup at full droop {length}", length=given.say(length, "length"))
    made = [
        _ratio_write(given, end, moved.hole.ride.ratio),
        Write(f"{end}.droop_length", length, says),
    ]
    for side in ("left", "right") if turns else ():
        corner = Corner(f"{end}_{side}")
        now_at = given.car.corner(corner).collar
        says = f"{collar_word(corner)}: {turn_words(turns)}"
        made.append(Write(f"corners.{corner}.collar", now_at + turns, says))
    return (*made, *_swapped(given, end))


def _ratio_write(given: Given, end: End, ratio: float) -> Write:
    says = tr("{end} motion ratio {ratio}", end=end_word(end), ratio=given.say(ratio, "ratio"))
    return Write(f"{end}.motion_ratio", ratio, says)


def _swapped(given: Given, end: End) -> list[Write]:
    """The two holes change their places in the record."""
    if given.choice("known") == "pairs":
        return []
    made = []
    for there in OTHER_POINTS:
        here = there.removeprefix("other_")
        pairs = zip(("out", "up"), point(given, here), point(given, there), strict=True)
        for way, was, becomes in pairs:
            if was != becomes:
                says = tr(_MOUNTS[f"{here}_{way}"], length=given.say(becomes, "length"))
                made.append(Write(f"{end}.arm.{here}_{way}", becomes, says))
                says = tr("in the other hole {length}", length=given.say(was, "length"))
                made.append(Write(f"{end}.arm.{there}_{way}", was, says))
    return made
