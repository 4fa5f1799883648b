"""Length and travel: both dampers of an end alike, and the wheel stopped where it should be."""

import math

from calc.answering.answer import Answer, Write
from calc.forms.cautions import opened, springs_off
from calc.forms.failures import problem
from calc.forms.findings import check_rod_end
from calc.forms.growth import with_growth
from calc.forms.length_travel import words
from calc.forms.length_travel.figures import Work, figures, lengths, threads, work
from calc.forms.length_travel.inputs import Asked
from calc.forms.writes import after_turns, corner_write, end_write
from calc.model.corners import Side
from calc.physics.failure import PhysicsError
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    asked = with_growth(asked, asked.axle, asked.arm, asked.motion_ratio)
    try:
        done = work(asked)
        found = asked.propagate(lambda at: figures(at, done))
    except PhysicsError as failure:
        raise problem(Asked.droop_left, asked.label_of(Asked.droop_left), failure) from failure
    _check_rod_ends(asked, done)
    odd = found.uncertain["unexplained"]
    return Answer(
        steps=words.steps(asked, done),
        quantities=asked.quantities(found),
        tables=(words.table(asked, done),),
        plots=(words.plot(asked, done),),
        cautions=(
            *words.cautions(asked, done),
            *words.odd_droop(asked, odd.value, odd.u),
            springs_off(),
            opened(),
        ),
        working=words.working(asked, done),
        writes=_writes(asked, done),
    )


def _check_rod_ends(asked: Asked, done: Work) -> None:
    """Raises Problem where they would be screwed further than they have thread."""
    lengths = {Side.LEFT: Asked.length_left, Side.RIGHT: Asked.length_right}
    for side, field in lengths.items():
        check_rod_end(field, asked.label_of(field), done.turns_in[side], asked.rod_pitch)
    droop = Asked.wanted_droop
    check_rod_end(droop, asked.label_of(droop), done.turns_out, asked.rod_pitch)


def _writes(asked: Asked, done: Work) -> tuple[Write, ...]:
    """Spacers and rod ends change how long the dampers are, what they travel, and the space of
    their springs at full droop. A spring's seat on the rod end goes with it."""
    end = asked.axle
    made: list[Write] = []
    then = {
        side: length - done.shorter(side, asked.rod_pitch)
        for side, length in lengths(asked).items()
    }
    pitch = asked.at(Asked.rod_pitch)
    for corner in end.corners:
        side = corner.side
        if then[side] != lengths(asked)[side]:
            u = after_turns(asked, f"length_{side}", done.turns(side), pitch)
            made.append(corner_write(asked, corner, "damper_length", then[side], u))
    length = sum(then.values()) / 2
    shorter = sum(lengths(asked).values()) / 2 - length
    if shorter:
        turns = sum(map(done.turns, Side)) / 2
        read = math.hypot(asked.u["length_left"], asked.u["length_right"]) / 2
        u = math.hypot(read, turns * asked.u[pitch])
        made.append(end_write(asked, end, "damper_length", length, u=u))
    for side, thread in threads(asked, done).items():
        u = after_turns(asked, f"engaged_{side}", done.turns(side), pitch)
        made.append(corner_write(asked, end.corner(side), "engaged", thread, u))
    if shorter:
        made.append(end_write(asked, end, "droop_length", asked.droop_length - shorter))
    spacers = done.under + done.above
    if spacers:
        strokes = asked.stroke_left - spacers, asked.stroke_right - spacers
        for corner, stroke in zip(end.corners, strokes, strict=True):
            u = asked.u[f"stroke_{corner.side}"]
            made.append(corner_write(asked, corner, "stroke", stroke, u))
    return tuple(made)


FORM = Form(
    slug="length-travel",
    title="Length and travel",
    moment="bench",
    asks="Are both dampers equally long, and which spacer stops the wheel where I want it?",
    inputs=Asked,
    solve=solve,
    first=("length_left", "length_right"),
    finer=("wanted_bump", "spacers", "spacers_above", "spacer_step", "material"),
    drawings={
        "length_left": "stroke",
        "length_right": "stroke",
        "droop_left": "droop",
        "droop_right": "droop",
        "wanted_droop": "droop",
        "wanted_bump": "limiters",
        "spacers": "limiters",
        "spacers_above": "limiters",
        "spacer_step": "limiters",
        "stroke_left": "stroke",
        "stroke_right": "stroke",
        "rod_pitch": "thread-pitch",
        "rod_thread": "shaft-thread",
        "engaged_left": "rod-end-thread",
        "engaged_right": "rod-end-thread",
    },
)
