"""Spring preload: how hard the spring is pressed at full droop, and what that does to the car."""

from typing import Any

from calc.answering.answer import Answer, Write
from calc.answering.hand import to_step
from calc.forms.cautions import springs_off
from calc.forms.damper_drawing import damper_drawing
from calc.forms.entered import end_seat
from calc.forms.findings import check_thread
from calc.forms.growth import with_growth
from calc.forms.spring_preload import words
from calc.forms.spring_preload.inputs import Asked
from calc.forms.turning import both
from calc.forms.writes import collar_writes, end_write
from calc.model.standing import Seat
from calc.physics.spring import preload_from_turns
from calc.replying.figures import Figures, figure
from calc.replying.form import Form


def seat_of(asked: Asked) -> Seat:
    """The mean corner of the chosen end, as it was entered. Raises Problem."""
    if asked.known == "turns":
        preload = preload_from_turns(pitch=asked.pitch, turns=asked.past_touch)
        droop_length = asked.spring_free - preload
    else:
        droop_length = asked.droop_length
    return end_seat(
        asked,
        load=asked.loads.mean(),
        droop_length=droop_length,
        tyre_rate=asked.tyre.tyre_rate,
    )


class PreloadFigures(Figures):
    turns: float | None = figure(
        "Turns of each collar, exact (down is positive)", kind="turns", default=None
    )
    from_touch: float | None = figure(
        "Turns of each collar from first touch, exact", kind="turns", default=None
    )
    preload: float = figure("Preload at full droop", kind="length")
    preload_force: float = figure("Preload force at full droop", kind="force")
    load_to_move: float = figure("Load at the hanging wheel before it moves", kind="force")
    sag: float = figure("Sag at the wheel", kind="length")
    sag_share: float = figure("Sag, share of wheel travel", kind="share")
    bump_force: float = figure("Spring force at full bump", kind="force")
    bind_margin: float = figure("Room to coil bind at full bump", kind="length")
    wheel_rate: float = figure("Wheel rate", kind="rate")
    ride_frequency: float = figure("Ride frequency", kind="frequency")


def figures(asked: Asked) -> PreloadFigures:
    seat, wanted = seat_of(asked), asked.wanted_sag
    rests = seat.pushed(asked.air_push)
    turns = None
    if wanted is not None:
        turns = (rests.reach - wanted * seat.stroke) / (seat.give * asked.pitch)
    return PreloadFigures(
        turns=turns,
        from_touch=seat.preload / asked.pitch if turns is None else None,
        preload=seat.preload,
        preload_force=seat.preload_force,
        load_to_move=seat.preload_force * seat.motion_ratio,
        sag=rests.sag,
        sag_share=rests.sag_share,
        bump_force=seat.bump_force,
        bind_margin=seat.bind_margin,
        wheel_rate=seat.wheel_rate,
        ride_frequency=seat.frequency,
    )


def solve(asked: Asked) -> Answer:
    asked = with_growth(asked, asked.axle, asked.arm, asked.motion_ratio)
    found = asked.propagate(figures)
    exact = found.value.turns
    turns = 0.0 if exact is None else to_step(exact, asked.turn_step)
    now = seat_of(asked)
    stands: Any = Asked.past_touch if asked.known == "turns" else Asked.droop_length
    for field, n in ((stands, now.preload / asked.pitch), (Asked.wanted_sag, turns)):
        check_thread(field, asked.axle, n, asked.pitch, now.stack.free)
    after = now.down(turns * asked.pitch)
    return Answer(
        steps=words.steps(asked, now, after, turns),
        quantities=asked.quantities(found),
        tables=(words.table(asked, now),),
        plots=(words.plot(asked, now),),
        cautions=(*words.cautions(asked, now, after, turns), springs_off()),
        working=words.working(asked, now),
        writes=_writes(asked, after, turns),
        drawings=damper_drawing(asked, after, asked.axle, asked.body),
    )


def _writes(asked: Asked, after: Seat, turns: float) -> tuple[Write, ...]:
    if turns == 0:
        return ()
    end = asked.axle
    return (
        end_write(asked, end, "droop_length", after.droop_length),
        *collar_writes(asked, both(end, turns)),
    )


FORM = Form(
    slug="spring-preload",
    title="Spring preload",
    moment="car",
    asks="How hard is the spring pressed, how far does the car sag, and does anything bind?",
    inputs=Asked,
    solve=solve,
    first=("droop_length", "spring_rate", "spring_free"),
)
