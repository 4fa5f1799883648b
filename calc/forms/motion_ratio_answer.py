"""What the motion ratio form says: instructions, cautions, figures, and what the car notes."""

from collections.abc import Mapping

from calc.answer import Answer, Caution, Quantity, Step, Write
from calc.form import Given
from calc.forms.arm import OTHER_POINTS, point
from calc.forms.arm_drawing import arm_drawing
from calc.forms.damper_drawing import damper_drawing
from calc.forms.motion_ratio_holes import Mounted, figures, now, other, with_scatter
from calc.forms.motion_ratio_show import plot, table, working
from calc.forms.shared import eyes, stand
from calc.hand import to_step, turn_words, way_words
from calc.uncertainty import Doubted
from calc.units import turns_text

_NOTHING = 0.005e-3  # m; less than this is not shown
_APART = 1e-3  # m by which spring and drawing may disagree about the droop travel
_LABELS = (
    ("turns", "Turns of each collar, exact (down is positive)", "turns"),
    ("motion_ratio", "Motion ratio at ride height", "ratio"),
    ("change", "It grows in 10 mm of bump by", "ratio"),
    ("wheel_rate", "Wheel rate", "rate"),
    ("ride_frequency", "Ride frequency", "frequency"),
    ("other_ratio", "Motion ratio in the other hole", "ratio"),
    ("other_change", "There it grows in 10 mm of bump by", "ratio"),
    ("other_wheel_rate", "Wheel rate in the other hole", "rate"),
    ("other_frequency", "Ride frequency in the other hole", "frequency"),
    ("damping", "Damping at the wheel, share of what it was", "share"),
    ("oil", "Oil that keeps the damping at the wheel, at 25 °C", "viscosity"),
    ("unturned", "Without the turns the car stands higher by", "length"),
    ("bind_margin", "Room left to coil bind at full bump", "length"),
)


def solve(given: Given) -> Answer:
    here = now(given)
    given = with_scatter(given)
    if given.choice("holes") == "one":
        return _one(given, here)
    there, shift = other(given, here)
    doubted = given.carry(figures)
    turns = to_step(shift / given.pitch, given.turn_step)
    moved = there.down(turns * given.pitch)
    exact = {name: figure.value for name, figure in doubted.items()}
    off = Quantity("height_off", "What the rounding adds to the height", moved.higher, "length")
    drawn = (arm_drawing(given),) if given.choice("known") == "geometry" else ()
    return Answer(
        steps=_steps(given, exact, turns, moved.higher),
        quantities=(*_quantities(given, doubted), off),
        tables=(table(given, here, moved),),
        plots=(plot(given, here, moved),),
        cautions=(*_cautions(given, here, moved), eyes(), stand()),
        working=working(given, here, moved, shift),
        writes=_writes(given, moved, turns),
        drawings=(*drawn, damper_drawing(given, moved.seat, given.choice("axle"))),
    )


def _one(given: Given, here: Mounted) -> Answer:
    doubted = given.carry(figures)
    ratio, end = here.hole.ride.ratio, given.choice("axle")
    shown = given.say(ratio, "ratio")
    rate = given.say(here.rate(0.0), "rate")
    step = Step(
        f"Note a motion ratio of {shown} at the {end}.",
        f"The wheel feels {rate}; the inverse, which some write, is {1 / ratio:.3f}.",
    )
    return Answer(
        steps=(step,),
        quantities=_quantities(given, doubted),
        tables=(table(given, here, None),),
        plots=(plot(given, here, None),),
        cautions=(*_cautions(given, here, here), stand()),
        working=working(given, here, None, 0.0),
        writes=(Write(f"{end}.motion_ratio", ratio, f"{end} motion ratio {shown}"),),
        drawings=(arm_drawing(given),) if given.choice("known") == "geometry" else (),
    )


def _quantities(given: Given, doubted: Mapping[str, Doubted]) -> tuple[Quantity, ...]:
    return tuple(
        given.quantity(name, label, kind, doubted[name])
        for name, label, kind in _LABELS
        if name in doubted
    )


def _steps(given: Given, exact: Mapping[str, float], turns: float, off: float) -> tuple[Step, ...]:
    say, end = given.say, given.choice("axle")
    fit = Step(
        f"Put both {end} dampers into the other hole.",
        f"Left alone the {end} then stands {_stands(given, exact['unturned'])}.",
    )
    if turns:
        hand = given.choice("thread_hand")
        turn = Step(f"Turn both {end} collars {turn_words(turns)}.", way_words(turns, hand))
    else:
        turn = Step(f"Leave both {end} collars where they are.")
    return (
        fit,
        turn,
        Step("Bounce the car and measure the height again.", f"It stands {_stands(given, off)}."),
        Step(
            f"For the same damping at the wheel fill in {say(exact['oil'], 'viscosity')}.",
            f"With the oil that is in, the wheel feels {say(exact['damping'], 'share', 0)} of the "
            "damping that it felt.",
        ),
    )


def _stands(given: Given, off: float) -> str:
    if abs(off) < _NOTHING:
        return "as high as before"
    return f"{given.say(abs(off), 'length')} {'higher' if off > 0 else 'lower'} than before"


def _cautions(given: Given, here: Mounted, moved: Mounted) -> list[Caution]:
    found = []
    end, say = given.choice("axle"), given.say
    if here.seat.on_stop:
        found.append(
            Caution(
                f"The {end} sits on its droop stops now, so no spring sets its height and no turn "
                "keeps it.",
                stop=True,
            )
        )
    elif moved.seat.on_stop:
        text = f"With these turns the {end} sits on its droop stops in the other hole."
        found.append(Caution(text, stop=True))
    if here.seat.bottomed or moved.seat.bottomed:
        found.append(Caution("The load alone closes the damper fully.", stop=True))
    if moved.seat.bind_margin < 0:
        text = (
            f"The spring goes solid {say(-moved.seat.bind_margin, 'length')} of shaft travel "
            "before full bump."
        )
        found.append(Caution(text, stop=True))
    if moved.seat.preload < 0:
        text = f"The spring is loose at full droop by {say(-moved.seat.preload, 'length')}."
        found.append(Caution(text))
    if moved.rate(0.0) <= 0:
        text = "The ratio falls so fast in bump that the wheel gives way instead of carrying more."
        found.append(Caution(text, stop=True))
    return found + _disagree(given, here)


def _disagree(given: Given, here: Mounted) -> list[Caution]:
    """Whether the drawing and the spring tell two tales of the droop travel."""
    if given.choice("known") == "pairs":
        return []
    drawn, sprung = given.damper_length - here.hole.ride.length, here.seat.reach
    if abs(drawn - sprung) <= _APART:
        return []
    say = given.say
    return [
        Caution(
            f"By the drawing the shaft moves {say(drawn, 'length', 1)} from full droop to ride "
            f"height, by the spring {say(sprung, 'length', 1)}: one of the measurements is off."
        )
    ]


def _writes(given: Given, moved: Mounted, turns: float) -> tuple[Write, ...]:
    end, ratio = given.choice("axle"), moved.hole.ride.ratio
    length = moved.seat.droop_length
    made = [
        Write(f"{end}.motion_ratio", ratio, f"{end} motion ratio {given.say(ratio, 'ratio')}"),
        Write(
            f"{end}.droop_length", length,
            f"from collar to cup at full droop {given.say(length, 'length')}",
        ),
    ]  # fmt: skip
    for side in ("left", "right") if turns else ():
        now_at = getattr(given.car.corners, f"{end}_{side}").collar
        words = f"{turns_text(abs(turns))} {'down' if turns > 0 else 'up'}"
        made.append(Write(f"corners.{end}_{side}.collar", now_at + turns, f"{side} collar {words}"))
    return (*made, *_swapped(given, end))


def _swapped(given: Given, end: str) -> list[Write]:
    """The two holes change their places in the record."""
    if given.choice("known") == "pairs":
        return []
    made = []
    for there in OTHER_POINTS:
        here = there.removeprefix("other_")
        pairs = zip(("out", "up"), point(given, here), point(given, there), strict=True)
        for way, was, becomes in pairs:
            if was != becomes:
                says = f"{here} mount {way} {given.say(becomes, 'length')}"
                made.append(Write(f"{end}.arm.{here}_{way}", becomes, says))
                says = f"in the other hole {given.say(was, 'length')}"
                made.append(Write(f"{end}.arm.{there}_{way}", was, says))
    return made
