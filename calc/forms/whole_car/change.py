"""The change itself, in words and in the car record."""

from calc.answering.answer import Step, Write
from calc.answering.hand import turn_words
from calc.forms.names import collar_word, corner_word, end_word
from calc.forms.whole_car.figures import Plan
from calc.forms.whole_car.state import axle, hole_ends
from calc.language import later, tr
from calc.model.corners import CORNERS, ENDS, End
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
_MOUNTS = {
    ("lower", "out"): later("{end} lower mount out {length}"),
    ("lower", "up"): later("{end} lower mount up {length}"),
    ("upper", "out"): later("{end} upper mount out {length}"),
    ("upper", "up"): later("{end} upper mount up {length}"),
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
                oil=say(made.becomes.pair(key).end.oil, "viscosity"),
            )
        )
        for key in changed_ends(given)
    ]


def _load_step(given: Given, made: Plan) -> Step:
    say = given.say
    total = say(sum(made.becomes.masses), "mass")
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
    found = [*_change_writes(given), *_hole_writes(given, made)]
    for place, key in enumerate(CORNERS):
        corner, n, name = given.car.corner(key), made.turns[place], corner_word(key)
        if n:
            says = f"{collar_word(key)}: {turn_words(n)}"
            found.append(Write(f"corners.{key}.collar", corner.collar + n, says))
        if given.choice("change") == "load":
            load = made.readings[place]
            says = tr("{corner} load {load}", corner=name, load=given.say(load, "mass", 0))
            found.append(Write(f"corners.{key}.load", load, says))
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


def _hole_writes(given: Given, made: Plan) -> list[Write]:
    """The holes change places in the record."""
    found = []
    for key in hole_ends(given):
        ratio = made.becomes.pair(key).end.motion_ratio
        end = end_word(key)
        says = tr("{end} motion ratio {ratio}", end=end, ratio=given.say(ratio, "ratio"))
        found.append(Write(f"{key}.motion_ratio", ratio, says))
        arm = axle(given, key).arm
        for (mount, way), words in _MOUNTS.items():
            was, becomes = getattr(arm, f"{mount}_{way}"), getattr(arm, f"other_{mount}_{way}")
            if was != becomes:
                says = tr(words, end=end, length=given.say(becomes, "length"))
                found.append(Write(f"{key}.arm.{mount}_{way}", becomes, says))
                says = tr("in the other hole {length}", length=given.say(was, "length"))
                found.append(Write(f"{key}.arm.other_{mount}_{way}", was, says))
    return found


def _end_writes(given: Given, made: Plan, key: End) -> list[Write]:
    """Where the collars of an end stand then, its height, and its oil or holes."""
    place, car, say = 2 * ENDS.index(key), axle(given, key), given.say
    found, end = [], end_word(key)
    turns = sum(made.turns[place : place + 2]) / 2
    if turns:
        length = car.droop_length - turns * car.pitch
        says = tr(
            "{end} from collar to cup at full droop {length}",
            end=end,
            length=say(length, "length"),
        )
        found.append(Write(f"{key}.droop_length", length, says))
    rise = sum(made.rises[place : place + 2]) / 2
    if given.choice("keep") == "preload" and abs(rise) > _NOTHING:
        height = car.ride_height + rise
        says = tr("{end} ride height {height}", end=end, height=say(height, "length"))
        found.append(Write(f"{key}.ride_height", height, says))
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
