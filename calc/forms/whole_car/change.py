"""The change itself, in words and in the car record."""

import math

from calc.answering.answer import Step, Write
from calc.forms.names import corner_word, end_word
from calc.forms.turning import collar_writes, droop_write, height_write, hole_writes, ratio_write
from calc.forms.whole_car.figures import Plan
from calc.forms.whole_car.inputs import DRAWN
from calc.forms.whole_car.state import hole_ends
from calc.language import later, tr
from calc.model.corners import CORNERS, ENDS, End, mean_at
from calc.replying.form import Given

_TYPED = {
    "spring": ("rate", "free", "solid"),
    "piston": ("holes", "hole", "thickness"),
    "oil": ("oil",),
}
_HOMES = {
    "rate": ("spring_rate", later("{end} spring rate {value}"), "rate"),
    "free": ("spring_free", later("{end} spring free length {value}"), "length"),
    "solid": ("spring_solid", later("{end} spring solid length {value}"), "length"),
    "holes": ("holes", later("{end} holes in the piston {value}"), "count"),
    "hole": ("hole", later("{end} diameter of a hole {value}"), "length"),
    "thickness": ("piston_thickness", later("{end} piston thickness {value}"), "length"),
    "oil": ("oil", later("{end} oil {value}"), "viscosity"),
}
_DOES = {
    "spring": later("Fit the new {end} springs."),
    "piston": later("Fit the new {end} pistons."),
    "hole": later("Put both {end} dampers into the other hole."),
    "oil": later("Fill the {end} dampers with {oil}."),
}
_NOTHING = 1e-9  # m; a rise smaller than this is the rounding of a sum


def changed_ends(given: Given) -> tuple[End, ...]:
    """The ends at which something is changed."""
    change = given.choice("change")
    if change == "hole":
        return hole_ends(given)
    names = _TYPED.get(change, ())
    return tuple(
        key for key in ENDS if any(given.maybe(f"{key}_{name}") is not None for name in names)
    )


def change_steps(given: Given, made: Plan) -> list[Step]:
    """The change itself, at each end that it touches."""
    change, say = given.choice("change"), given.say
    if change == "load":
        return [_load_step(given, made)]
    return [
        Step(
            tr(
                _DOES[change],
                end=end_word(key),
                oil=say(made.becomes.pair(key).oil, "viscosity"),
            )
        )
        for key in changed_ends(given)
    ]


def _load_step(given: Given, made: Plan) -> Step:
    say = given.say
    total = say(math.fsum(made.becomes.masses), "mass")
    if given.choice("load_known") == "scales":
        return Step(
            tr("Leave the new load where it is."),
            tr("The car weighs {total} with it.", total=total),
        )
    mass, place = say(abs(given.added), "mass"), say(given.along, "length", 0)
    if given.added >= 0:
        text = tr("Put {mass} in, {place} ahead of the rear axle.", mass=mass, place=place)
    else:
        text = tr("Take {mass} out, {place} ahead of the rear axle.", mass=mass, place=place)
    return Step(text, tr("The car weighs {total} then.", total=total))


def writes(given: Given, made: Plan) -> tuple[Write, ...]:
    found = [*_change_writes(given), *_moved_writes(given, made)]
    found += collar_writes(given, made.turns)
    if given.choice("change") == "load":
        for corner, mass in zip(CORNERS, made.masses, strict=True):
            load = given.say(mass, "mass", 0)
            says = tr("{corner} load {load}", corner=corner_word(corner), load=load)
            found.append(Write(f"corners.{corner}.load", mass, says))
    for end in ENDS:
        found += _end_writes(given, made, end)
    return tuple(found)


def _change_writes(given: Given) -> list[Write]:
    """What was typed about the change, at its home in the record."""
    found = []
    for key in ENDS:
        for name in _TYPED.get(given.choice("change"), ()):
            typed = given.maybe(f"{key}_{name}")
            if typed is not None:
                path, words, kind = _HOMES[name]
                says = tr(words, end=end_word(key), value=given.say(typed, kind))
                found.append(Write(f"{key}.{path}", typed, says))
    return found


def _moved_writes(given: Given, made: Plan) -> list[Write]:
    """The holes change places in the record."""
    found = []
    for end in hole_ends(given):
        found.append(ratio_write(given, end, made.becomes.pair(end).suspension.motion_ratio))
        points = {name: given.numbers[f"{end}.{name}"] for name in DRAWN}
        found += hole_writes(given, end, points)
    return found


def _end_writes(given: Given, made: Plan, key: End) -> list[Write]:
    """Where the collars of an end stand then, its height, and its oil or holes."""
    say, end = given.say, end_word(key)
    suspension, turns, found = made.was.pair(key).suspension, made.mean_turns(key), []
    if turns:
        droop_length = suspension.droop_length - turns * suspension.pitch
        found.append(droop_write(given, key, droop_length))
    rise, height = mean_at(key, made.then.rises), given.maybe(f"{key}.ride_height")
    if height is not None and abs(rise) > _NOTHING:
        found.append(height_write(given, key, height + rise))
    damping = made.damping[key]
    if damping.named is not None:
        grade = damping.named.viscosity
        says = tr("{end} oil {value}", end=end, value=say(grade, "viscosity"))
        found.append(Write(f"{key}.oil", grade, says))
    if damping.hole is not None:
        hole = damping.hole
        says = tr("{end} diameter of a hole {value}", end=end, value=say(hole, "length"))
        found.append(Write(f"{key}.hole", hole, says))
    return found
