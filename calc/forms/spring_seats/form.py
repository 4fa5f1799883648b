"""Spring seats: the collar by the calliper, other cups, and spacers where there is no thread."""

from calc.answering.answer import Answer, Write
from calc.forms.cautions import springs_off
from calc.forms.findings import check_thread
from calc.forms.friction import hides, with_end_friction
from calc.forms.growth import with_growth
from calc.forms.spring_seats import words
from calc.forms.spring_seats.figures import Setting, after, figures, rise, setting
from calc.forms.spring_seats.inputs import Asked
from calc.forms.writes import collar_writes, end_write
from calc.model.corners import Side
from calc.replying.form import Form

_AIMED = {"gap": Asked.wanted_gap, "height": Asked.wanted_height, "cup": Asked.cup_new}
"""The field that a collar is turned for."""


def solve(asked: Asked) -> Answer:
    asked = with_growth(asked, asked.axle, asked.arm, asked.motion_ratio)
    asked = with_end_friction(asked, asked.axle, asked.friction)
    done = setting(asked)
    for side, n in done.turns.items():
        corner = asked.axle.corner(side)
        check_thread(_AIMED[asked.aim], corner, n, asked.pitch, asked.spring_free)
    found = asked.propagate(lambda at: figures(at, done))
    return Answer(
        steps=words.steps(asked, done),
        quantities=asked.quantities(found),
        tables=(words.table(asked, done),),
        plots=(words.plot(asked, done),),
        cautions=(
            *words.cautions(asked, done),
            *hides(asked, [(asked.axle, rise(asked, done), asked.friction.friction)]),
            springs_off(),
        ),
        working=words.working(asked, done),
        writes=_writes(asked, done),
    )


def _writes(asked: Asked, done: Setting) -> tuple[Write, ...]:
    if asked.aim != "cup" and not any(done.shift.values()):
        return ()
    turns = {asked.axle.corner(side): n for side, n in done.turns.items()}
    then = after(asked, done)
    mean = sum(then[side].droop_length for side in Side) / 2
    return (
        end_write(asked, asked.axle, "droop_length", mean),
        end_write(asked, asked.axle, "ride_height", asked.ride_height + rise(asked, done)),
        *collar_writes(asked, turns),
    )


FORM = Form(
    slug="spring-seats",
    title="Spring seats",
    moment="car",
    asks="Where does the calliper say the collar is, and what do other cups or spacers do?",
    inputs=Asked,
    solve=solve,
    first=("ride_height", "wanted_height"),
    finer=("gap_top", "gap_foot"),
    drawings={
        **dict.fromkeys(
            ("gap_left", "gap_right", "wanted_gap", "gap_top", "gap_foot"), "collar-gap"
        ),
        **dict.fromkeys(("clips_left", "clips_right", "wanted_clips", "thickness"), "clip-on"),
        **dict.fromkeys(("cup_now", "cup_new"), "cup-height"),
    },
)
