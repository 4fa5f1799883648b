"""What the motion ratio form says: instructions and cautions."""

from calc.answering.answer import Caution, Step
from calc.forms import findings
from calc.forms.arm import TO_OTHER_HOLE
from calc.forms.bottles import leave_oil
from calc.forms.motion_ratio.holes import BothFigures, Mounted
from calc.forms.motion_ratio.inputs import Asked
from calc.forms.names import end_word
from calc.forms.turning import as_before, end_steps, stands_then
from calc.language import tr

_APART = 1e-3  # m by which spring and drawing may disagree about the droop travel


def note(asked: Asked, here: Mounted) -> Step:
    """The ratio of the hole now used."""
    ratio = here.hole.ride.ratio
    return Step(
        tr(
            "Note a motion ratio of {ratio} at the {end}.",
            ratio=asked.say(ratio, "ratio"),
            end=end_word(asked.axle),
        ),
        tr(
            "The wheel feels {rate}; the inverse, as some write it, is {inverse}.",
            rate=asked.say(here.seat.wheel_rate, "rate"),
            inverse=asked.say(1 / ratio, "ratio"),
        ),
    )


def steps(asked: Asked, exact: BothFigures, turns: float, off: float) -> tuple[Step, ...]:
    """`off` is how much higher, m, the car stands after the turns."""
    say, end = asked.say, end_word(asked.axle)
    fit = Step(
        tr(TO_OTHER_HOLE, end=end),
        tr(
            "With the collars untouched the {end} sits {as_before}.",
            end=end,
            as_before=as_before(asked, exact.unturned),
        ),
    )
    keep = Step(
        leave_oil(asked.axle, say(asked.oil, "viscosity")),
        tr(
            "The wheel then feels {share} of the damping it felt before. For the same as before "
            "the oil would have to be {oil}: “Change one thing” looks for it in your bottles.",
            share=say(exact.damping, "share", 0),
            oil=say(exact.oil, "viscosity"),
        ),
    )
    return (
        fit,
        keep,
        *end_steps(asked, asked.axle, turns, turns, of=("turns", "turns")),
        stands_then(asked, off),
    )


def cautions(asked: Asked, here: Mounted, moved: Mounted, turns: float) -> list[Caution]:
    end, seat = asked.axle, moved.seat
    found = [
        *findings.of_seat(asked, end, seat, pitch=asked.pitch, step=asked.turn_step, now=here.seat),
        *findings.far_turned(end, turns, asked.pitch),
    ]
    if seat.wheel_rate <= 0:
        found.append(findings.gives_way())
    return found + _disagree(asked, here)


def _disagree(asked: Asked, here: Mounted) -> list[Caution]:
    """Whether the drawing and the spring tell two tales of the droop travel."""
    if asked.known == "pairs":
        return []
    drawn, sprung = asked.arm.damper_length - here.hole.ride.length, here.seat.reach
    if abs(drawn - sprung) <= _APART:
        return []
    text = tr(
        "By the drawing the shaft moves {drawn} from full droop to ride height, by the spring "
        "{sprung}: one of the measurements is off.",
        drawn=asked.say(drawn, "length", 1),
        sprung=asked.say(sprung, "length", 1),
    )
    return [Caution(text)]
