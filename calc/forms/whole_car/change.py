"""The change itself, in words and in the car record."""

import math
from collections.abc import Mapping

from calc.answering.answer import Step, Write
from calc.forms.arm import TO_OTHER_HOLE
from calc.forms.names import dampers_label, end_word
from calc.forms.whole_car.figures import Plan
from calc.forms.whole_car.inputs import Asked
from calc.forms.whole_car.state import hole_ends
from calc.forms.writes import collar_writes, corner_write, end_write, hole_writes
from calc.language import later, tr
from calc.model.corners import CORNERS, ENDS, End, mean_at
from calc.replying.inputs import Group

_HOMES = {
    "spring": ("spring_rate", "spring_free", "spring_solid"),
    "piston": ("holes", "hole", "piston_thickness"),
    "oil": ("oil",),
}
"""Where in an end of the record what is new there is kept, in the order of its fields."""
_DOES = {
    "spring": later("Fit the new {end} springs."),
    "piston": later("Fit the new {end} pistons."),
    "hole": TO_OTHER_HOLE,
    "oil": later("{dampers}: refill with {oil}."),
}
IN_THE_DAMPER = ("piston", "oil")
"""Changes made with the damper open, in the order of the work."""
_NOTHING = 1e-9  # m; a rise smaller than this is the rounding of a sum


def _typed(asked: Asked, end: End) -> list[tuple[float | None, str]]:
    """What was typed about the change of an end and at which field."""
    news: Mapping[str, Mapping[End, Group]] = {
        "spring": asked.new_springs,
        "piston": asked.new_pistons,
        "oil": asked.new_oils,
    }
    if asked.change not in news:
        return []
    new = news[asked.change][end]
    return [(getattr(new, field.name), new.at(field)) for field in new.fields]


def changed_ends(asked: Asked) -> tuple[End, ...]:
    """The ends at which something is changed."""
    if asked.change == "hole":
        return hole_ends(asked)
    return tuple(end for end in ENDS if any(one is not None for one, _ in _typed(asked, end)))


def change_steps(asked: Asked, made: Plan) -> list[Step]:
    """The change itself, at each end that it touches."""
    change, say = asked.change, asked.say
    if change == "load":
        return [_load_step(asked, made)]
    return [
        Step(
            tr(
                _DOES[change],
                end=end_word(key),
                dampers=dampers_label(key),
                oil=say(made.becomes.end(key).oil, "viscosity"),
            )
        )
        for key in changed_ends(asked)
    ]


def _load_step(asked: Asked, made: Plan) -> Step:
    say = asked.say
    total = say(math.fsum(made.becomes.masses), "mass")
    if asked.load_known == "scales":
        return Step(
            tr("Leave the new load where it is."),
            tr("The car weighs {total} with it.", total=total),
        )
    mass, along, across = asked.typed(abs(asked.added), "mass"), _along(asked), _across(asked)
    if asked.added >= 0:
        text = tr("Put {mass} in, {along}, {across}.", mass=mass, along=along, across=across)
    else:
        text = tr("Take {mass} out, {along}, {across}.", mass=mass, along=along, across=across)
    return Step(text, tr("The car weighs {total} then.", total=total))


def _along(asked: Asked) -> str:
    far = asked.say(abs(asked.along), "length", 0)
    if asked.along < 0:
        return tr("{far} behind the rear axle", far=far)
    return tr("{far} ahead of the rear axle", far=far)


def _across(asked: Asked) -> str:
    far = asked.say(abs(asked.across), "length", 0)
    if asked.across < 0:
        return tr("{far} right of the middle line", far=far)
    if asked.across > 0:
        return tr("{far} left of the middle line", far=far)
    return tr("on the middle line")


def writes(asked: Asked, made: Plan) -> tuple[Write, ...]:
    found = [*_change_writes(asked), *_moved_writes(asked, made)]
    found += collar_writes(asked, made.turns)
    if asked.change == "load":
        found += (
            corner_write(asked, corner, "load", mass)
            for corner, mass in zip(CORNERS, made.masses, strict=True)
        )
    for end in ENDS:
        found += _end_writes(asked, made, end)
    return tuple(found)


def _change_writes(asked: Asked) -> list[Write]:
    """What was typed about the change, at its home in the record."""
    found = []
    for end in ENDS:
        homes = zip(_typed(asked, end), _HOMES.get(asked.change, ()), strict=True)
        for (value, at), name in homes:
            if value is not None:
                found.append(end_write(asked, end, name, value, "entered", asked.u[at]))
    return found


def _moved_writes(asked: Asked, made: Plan) -> list[Write]:
    """The holes change places in the record."""
    found = []
    for end in hole_ends(asked):
        ratio = made.becomes.end(end).suspension.motion_ratio
        found.append(end_write(asked, end, "motion_ratio", ratio))
        found += hole_writes(end, asked.ends[end].arm)
    return found


def _end_writes(asked: Asked, made: Plan, key: End) -> list[Write]:
    """Where the collars of an end stand then, its height, and its oil or holes."""
    suspension, turns, found = made.was.end(key).suspension, made.mean_turns(key), []
    if turns:
        droop_length = suspension.droop_length - turns * suspension.pitch
        found.append(end_write(asked, key, "droop_length", droop_length))
    rise = mean_at(key, made.then.rises)
    height = asked.ends[key].ride_height if asked.keep == "preload" else None
    if height is not None and abs(rise) > _NOTHING:
        found.append(end_write(asked, key, "ride_height", height + rise))
    damping = made.damping[key]
    if damping.named is not None:
        found.append(end_write(asked, key, "oil", damping.named.viscosity))
    if damping.hole is not None:
        found.append(end_write(asked, key, "hole", damping.hole))
    return found
