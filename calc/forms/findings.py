"""How a spring and a corner stand, in sentences: loose, on its stop, bottomed, coil bound.

What counts as such is decided in `calc.model.standing`, with one set of thresholds; the words for
it are here and nowhere else.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from math import ceil
from typing import Any

from calc.answering.answer import Caution, barring
from calc.asking.said import Said
from calc.forms.names import corner_word, end_word, place_word
from calc.language import inside, later, tr
from calc.model.corners import CORNERS, Corner, End
from calc.model.standing import (
    FAR,
    CannotStand,
    Fault,
    Finding,
    Predicted,
    Seat,
    SpringSize,
    stack_of,
)
from calc.physics.stack import Stack
from calc.physics.thread import least_engagement
from calc.replying.inputs import Inputs, Problem
from calc.units import turns_text

_CANNOT = {
    Fault.SOLID_AS_FREE: later(
        "{spring} solid length: the coils would touch before anything presses the spring; measure "
        "it and the free length again."
    ),
    Fault.ALL_UNSPRUNG: later(
        "Unsprung mass: the wheel and arm cannot weigh as much as the whole corner does on the "
        "scale; weigh them again."
    ),
    Fault.BOUND: later(
        "{spring}: at ride height its coils touch already, so it cannot work as a spring there; "
        "you need a stiffer or a longer one."
    ),
    Fault.GIVES_WAY: later(
        "The ratio falls so fast in bump that the wheel gives way instead of carrying more."
    ),
}


@contextmanager
def said_at(fields: Mapping[Fault, Any], spring: Callable[[], str] = str) -> Iterator[None]:
    """Say what cannot stand as a Problem at the field for that fault; `spring` says what the spring
    is called at the head of a sentence."""
    try:
        yield
    except CannotStand as cannot:
        sentence = tr(_CANNOT[cannot.fault], spring=spring())
        raise Problem(fields[cannot.fault], sentence) from cannot


def stack_at(sizes: Sequence[SpringSize], names: Sequence[Any], spring: str = "") -> Stack:
    """Springs one behind the other; `names` are the entries of their solid lengths. Raises
    Problem."""
    try:
        return stack_of(sizes)
    except CannotStand as cannot:
        says = tr(_CANNOT[cannot.fault], spring=spring or tr("Spring"))
        raise Problem(names[cannot.place], says) from cannot


def gives_way() -> Caution:
    return barring(tr(_CANNOT[Fault.GIVES_WAY]))


def of_seat(
    asked: Inputs,
    where: End | Corner,
    then: Seat,
    *,
    pitch: float,
    step: float,
    now: Seat | None = None,
    rests: bool = False,
) -> Iterator[Caution]:
    """What is wrong with a spring once the instruction is carried out, and what was wrong `now`;
    `step` is the smallest turn of the hand.

    `rests` says that the body as a whole comes to rest on that droop stop, whatever the spring
    would do alone.
    """
    place = place_word(where)
    found = then.findings
    if now is not None and now.on_stop:
        stays = rests or Finding.ON_STOP in found
        yield on_stop(where, -now.spare / pitch, step, pitch=pitch, seat=now, stays=stays)
    elif rests or Finding.ON_STOP in found:
        yield on_stop_then(where)
    if Finding.BOTTOMED in found or (now is not None and now.bottomed):
        yield bottomed(where, stays=Finding.BOTTOMED in found)
    if Finding.BINDS in found:
        text = tr(
            "The {place} spring goes solid {early} of shaft travel before full bump: it needs less "
            "preload, a bump stop that much longer, or a spring with a shorter solid length: fewer "
            "coils make it stiffer, thinner wire softer.",
            place=place,
            early=asked.say(-then.bind_margin, "length"),
        )
        did = now is not None and now.stack == then.stack and Finding.BINDS in now.findings
        yield Caution(text, stop=True, where=where, bars=not did)
    yield from loose(asked, where, then)


def loose(asked: Inputs, where: End | Corner, then: Seat) -> Iterator[Caution]:
    """A spring that is loose at full droop."""
    if Finding.LOOSE not in then.findings:
        return
    says = {"place": place_word(where), "gap": asked.say(-then.preload, "length")}
    text = tr(
        "The {place} spring is loose at full droop by {gap}: it can rattle and leave its seat "
        "over jumps. At the same ride height a softer spring or less droop takes up the gap; "
        "a longer spring, or a spacer under it, does so only by raising the car.",
        **says,
    )
    finding = tr("The {place} spring is loose at full droop by {gap}.", **says)
    yield Caution(text, finding=finding, where=where)


def on_stop(
    where: End | Corner, turns_up: float, step: float, *, pitch: float, seat: Seat, stays: bool
) -> Caution:
    """On the droop stop now; `turns_up` take the collar up to where the spring carries the car.
    Where it `stays` there after the work, that was for nothing."""
    if no_thread_for(seat, turns_up, pitch):
        text = tr(
            "By these numbers the {place} is topped out (on its droop stop), with so much "
            "preload that its collar would have to go up by more than half the length of "
            "the spring before the car leaves the stop: no thread goes that far. Measure "
            "the spring, free and at full droop, and the load again.",
            place=place_word(where),
        )
        return Caution(text, stop=True, where=where, bars=stays)
    text = tr(
        "The {place} is topped out (on its droop stop): the preload holds more than "
        "the car weighs there, so the spring does not set its height and turning the "
        "collar down will not lift it. The collar has to go {turns} up before the "
        "spring begins to carry the car.",
        place=place_word(where),
        turns=turns_text(off_stop(turns_up, step)),
    )
    return Caution(text, stop=True, where=where, bars=stays)


def off_stop(turns_up: float, step: float) -> float:
    """Turns up, in whole steps of the hand, after which a spring carries the car again."""
    return ceil(turns_up / step - 1e-9) * step


def stop_left_out(end: End, lacks: Sequence[Said]) -> Caution:
    """Where an end `lacks` these to say where its droop stop is."""
    text = tr(
        "Not known at the {end}: {entries}. So its droop stop is left out: lift the chassis a "
        "little afterwards and see that the wheels still follow.",
        end=end_word(end),
        entries="; ".join(inside(one.said) for one in lacks),
    )
    return Caution(text)


def on_stop_then(where: End | Corner) -> Caution:
    text = tr("The {place} would then be topped out (on its droop stop).", place=place_word(where))
    return barring(text, where)


def bottomed(where: End | Corner, *, stays: bool) -> Caution:
    """A damper that is fully in where the car stands; `stays` says that it is so after the work."""
    text = tr(
        "The load alone closes the {place} damper fully: its collar has to stay further down, or "
        "its spring has to be stiffer.",
        place=place_word(where),
    )
    return Caution(text, stop=True, where=where, bars=stays)


def on_ground(where: End | Corner, now: float, then: float) -> Iterator[Caution]:
    """A chassis that goes down from one height above the ground, m, to another."""
    if then <= 0.0 < now:
        text = tr("The {place} would then lie on the ground.", place=place_word(where))
        yield barring(text, where)


def of_corners(then: Predicted, step: float) -> Iterator[Caution]:
    """What stops and hanging wheels make of a car whose collars are turned."""
    was = then.before
    for corner in CORNERS:
        at = corner.place
        if then.stance.lifted[at]:
            yield from hanging(corner, then)
        elif was.stance.on_stop[at]:
            leg = was.legs[at]
            stays = then.stance.on_stop[at]
            yield on_stop(
                corner, -was.spares[at], step, pitch=leg.pitch, seat=leg.seat, stays=stays
            )
        elif then.stance.on_stop[at]:
            yield on_stop_then(corner)
        elif then.bottomed[at]:
            yield bottomed(corner, stays=True)


def hanging(corner: Corner, then: Predicted) -> Iterator[Caution]:
    if then.stance.lifted[corner.place]:
        text = tr("The {corner} wheel would hang free of the ground.", corner=corner_word(corner))
        yield barring(text, corner)


MOST_TURNS = 60.0
"""Turns either way; no thread of a body is longer (common practice, no source)."""
_THREAD = 0.5
"""Of the free length of its spring: no thread of a body is longer (common practice, no source)."""


def beyond_thread(turns: float, pitch: float, free: float) -> bool:
    """Whether a collar would move further than the thread under a spring so long can go."""
    return abs(turns) * pitch > _THREAD * free


def no_thread_for(seat: Seat, turns: float, pitch: float) -> bool:
    """Whether a collar that goes up to where its spring carries the car runs out of thread."""
    room = min(seat.stack.free, seat.droop_length / _THREAD)  # the body is no longer than both
    return beyond_thread(turns, pitch, room)


def check_thread(at: Any, where: End | Corner, turns: float, pitch: float, free: float) -> None:
    """Raises Problem at the entry where a collar would have to move further than a thread goes."""
    if beyond_thread(turns, pitch, free):
        raise Problem(
            at,
            tr(
                "The {place} collar would have to move by {turns}, further than half the length of "
                "its spring: no thread goes that far. Check the numbers entered.",
                place=place_word(where),
                turns=turns_text(round(abs(turns))),
            ),
        )


_ROD_THREAD = 20e-3
"""m; no rod end is screwed further (common practice, no source)."""


def check_rod_end(at: Any, label: str, turns: float, pitch: float) -> None:
    """Raises Problem at the entry where a rod end would be screwed further than it has thread."""
    if abs(turns) * pitch > _ROD_THREAD:
        raise Problem(
            at,
            tr(
                "{entry}: a rod end would have to be screwed by {turns}, and no rod end has so "
                "much thread. Measure again.",
                entry=label,
                turns=turns_text(round(abs(turns))),
            ),
        )


def rod_end_holds(
    asked: Inputs, damper: str, thread: float, diameter: float, material: str
) -> Iterator[Caution]:
    """Where so much thread, m, is less than usual in a rod end of this material (a rule of thumb,
    see `calc.physics.thread.ENGAGEMENT`)."""
    if thread <= 0:
        text = tr(
            "{damper}: the rod end comes off before that; the shaft is too short.", damper=damper
        )
        yield barring(text)
        return
    least, safe = least_engagement(diameter, material)
    says = {
        "damper": damper,
        "material": tr(material),
        "holds": asked.say(thread, "length", 1),
        "least": asked.say(least, "length", 1),
        "better": asked.say(safe, "length", 1),
    }
    if thread < least * (1 - 1e-9):
        text = tr(
            "{damper}: only {holds} of thread would hold; for {material} the usual minimum is "
            "{least}, better {better} (a rule of thumb).",
            **says,
        )
        yield barring(text)
    elif thread < safe * (1 - 1e-9):
        text = tr(
            "{damper}: {holds} of thread holds; for {material} the usual minimum is {least}, "
            "better {better} (a rule of thumb).",
            **says,
        )
        finding = tr("{damper}: only {holds} of thread holds; {better} is better.", **says)
        yield Caution(text, finding=finding)


def far_turned(where: End | Corner, turns: float, pitch: float) -> Iterator[Caution]:
    """Where a collar moves so far that its thread may run out."""
    if abs(turns) * pitch > FAR:
        text = tr(
            "The {place} collar moves {turns}: see whether the thread reaches that far.",
            place=place_word(where),
            turns=turns_text(abs(turns)),
        )
        yield Caution(text, finding=text)
