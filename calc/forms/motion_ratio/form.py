"""Motion ratio: of the hole now used, and what another hole does to rate, damping and height."""

from dataclasses import replace

from calc.answering.answer import Answer, Write
from calc.answering.hand import to_step
from calc.forms.cautions import plastic, springs_off
from calc.forms.damper_drawing import damper_drawing
from calc.forms.findings import check_thread
from calc.forms.friction import with_end_friction
from calc.forms.motion_ratio import words
from calc.forms.motion_ratio.arm_drawing import arm_drawing
from calc.forms.motion_ratio.holes import (
    Mounted,
    figures,
    figures_here,
    now,
    other,
    turned,
    with_scatter,
)
from calc.forms.motion_ratio.inputs import Asked
from calc.forms.motion_ratio.pictures import plot, tables, working
from calc.forms.turning import both
from calc.forms.writes import collar_writes, end_write, hole_writes
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    here = now(asked)
    asked = with_scatter(asked)
    if asked.holes == "one":
        return _one(asked, here)
    there, shift = other(asked, here)
    asked = with_end_friction(asked, asked.axle, asked.friction)
    turns = to_step(shift / asked.pitch, asked.turn_step)
    moved = turned(asked, there, turns * asked.pitch)
    check_thread(Asked.pitch, asked.axle, turns, asked.pitch, here.seat.stack.free)
    found = asked.propagate(lambda at: figures(at, turns))
    found = found.showing(replace(found.value, height_off=moved.higher))
    drawn = (arm_drawing(asked),) if asked.known == "geometry" else ()
    return Answer(
        steps=words.steps(asked, found.value, turns, moved.higher),
        quantities=asked.quantities(found),
        tables=tables(asked, here, moved),
        plots=(plot(asked, here, moved),),
        cautions=(*words.cautions(asked, here, moved, turns), springs_off(), plastic()),
        working=working(asked, here, moved, shift),
        writes=_writes(asked, moved, turns),
        drawings=(*drawn, *damper_drawing(asked, moved.seat, asked.axle, asked.body)),
    )


def _one(asked: Asked, here: Mounted) -> Answer:
    ratio = here.hole.ride.ratio
    return Answer(
        steps=(words.note(asked, here),),
        quantities=asked.quantities(asked.propagate(figures_here)),
        tables=tables(asked, here, None),
        plots=(plot(asked, here, None),),
        cautions=(*words.cautions(asked, here, here, 0.0), springs_off()),
        working=working(asked, here, None, 0.0),
        writes=(end_write(asked, asked.axle, "motion_ratio", ratio),),
        drawings=(arm_drawing(asked),) if asked.known == "geometry" else (),
    )


def _writes(asked: Asked, moved: Mounted, turns: float) -> tuple[Write, ...]:
    end = asked.axle
    made = [
        end_write(asked, end, "motion_ratio", moved.hole.ride.ratio),
        end_write(asked, end, "droop_length", moved.seat.droop_length),
        *collar_writes(asked, both(end, turns)),
    ]
    if asked.known == "geometry":
        made += hole_writes(end, asked.arm)
    return tuple(made)


FORM = Form(
    slug="motion-ratio",
    title="Motion ratio and mounting holes",
    moment="car",
    asks="How far does the damper move with the wheel, and what would the other hole do?",
    inputs=Asked,
    solve=solve,
    first=("other_lower_out", "other_lower_up", "other_upper_out", "other_upper_up"),
)
