"""The change itself, in words and in the car record."""

from calc.answer import Step, Write
from calc.form import Given
from calc.forms.shared import CORNER_NAMES
from calc.forms.whole_figures import Plan
from calc.forms.whole_state import ENDS, axle, hole_ends
from calc.units import turns_text

_TYPED = {
    "spring": ("rate", "free", "solid"),
    "piston": ("holes", "hole", "thickness"),
    "oil": ("oil",),
}
_HOMES = {
    "rate": ("spring_rate", "spring rate", "rate"),
    "free": ("spring_free", "spring free length", "length"),
    "solid": ("spring_solid", "spring solid length", "length"),
    "holes": ("holes", "holes in the piston", "count"),
    "hole": ("hole", "diameter of a hole", "length"),
    "thickness": ("piston_thickness", "piston thickness", "length"),
    "oil": ("oil", "oil", "viscosity"),
}
_DOES = {
    "spring": "Fit the new {end} springs.",
    "piston": "Fit the new {end} pistons.",
    "hole": "Put both {end} dampers into the other hole.",
    "oil": "Fill the {end} dampers with {oil}.",
}

_NOTHING = 1e-9  # m; a rise smaller than this is the rounding of a sum


def changed_ends(given: Given) -> tuple[str, ...]:
    """The ends at which something is changed."""
    change = given.choice("change")
    if change == "hole":
        return hole_ends(given)
    names = _TYPED.get(change, ())
    return tuple(
        key for key in ENDS if any(given.maybe(f"{key}_{name}") is not None for name in names)
    )


def change_step(given: Given, made: Plan) -> list[Step]:
    change, say = given.choice("change"), given.say
    if change == "load":
        return [_load_step(given, made)]
    found: list[Step] = []
    for key in changed_ends(given):
        oil = say(made.becomes.ends[ENDS.index(key)].oil, "viscosity")
        first = not found and change in ("spring", "hole")
        gives = "Count the turns from where the collars stand now." if first else ""
        found.append(Step(_DOES[change].format(end=key, oil=oil), gives))
    return found


def _load_step(given: Given, made: Plan) -> Step:
    say = given.say
    total = say(sum(made.becomes.masses), "mass")
    if given.choice("load_known") == "scales":
        return Step("Leave the new load where it is.", f"The car weighs {total} with it.")
    added = given.added
    where = f"{say(given.along, 'length', 0)} ahead of the rear axle"
    text = f"Put {say(added, 'mass')} in" if added >= 0 else f"Take {say(-added, 'mass')} out"
    return Step(f"{text}, {where}.", f"The car weighs {total} then.")


def writes(given: Given, made: Plan) -> tuple[Write, ...]:
    found = [*_change_writes(given), *_hole_writes(given, made)]
    for place, (key, name) in enumerate(CORNER_NAMES.items()):
        corner, n = getattr(given.car.corners, key), made.turns[place]
        if n:
            words = f"{turns_text(abs(n))} {'down' if n > 0 else 'up'}"
            found.append(Write(f"corners.{key}.collar", corner.collar + n, f"{name} {words}"))
        if given.choice("change") == "load":
            load = made.readings[place]
            says = f"{name} load {given.say(load, 'mass', 0)}"
            found.append(Write(f"corners.{key}.load", load, says))
    for key in ENDS:
        found += _end_writes(given, made, key)
    return tuple(found)


def _change_writes(given: Given) -> list[Write]:
    """What was typed about the change, at its home in the record."""
    found = []
    for key in ENDS:
        for name in _TYPED.get(given.choice("change"), ()):
            typed = given.maybe(f"{key}_{name}")
            if typed is not None:
                path, words, kind = _HOMES[name]
                says = f"{key} {words} {given.say(typed, kind)}"
                found.append(Write(f"{key}.{path}", typed, says))
    return found


def _hole_writes(given: Given, made: Plan) -> list[Write]:
    """The holes change places in the record."""
    found = []
    for key in hole_ends(given):
        ratio = made.becomes.ends[ENDS.index(key)].motion_ratio
        says = f"{key} motion ratio {given.say(ratio, 'ratio')}"
        found.append(Write(f"{key}.motion_ratio", ratio, says))
        arm = axle(given, key).arm
        for mount in ("lower", "upper"):
            for way in ("out", "up"):
                was, becomes = getattr(arm, f"{mount}_{way}"), getattr(arm, f"other_{mount}_{way}")
                if was != becomes:
                    says = f"{key} {mount} mount {way} {given.say(becomes, 'length')}"
                    found.append(Write(f"{key}.arm.{mount}_{way}", becomes, says))
                    says = f"in the other hole {given.say(was, 'length')}"
                    found.append(Write(f"{key}.arm.other_{mount}_{way}", was, says))
    return found


def _end_writes(given: Given, made: Plan, key: str) -> list[Write]:
    """Where the collars of an end stand then, its height, and its oil or holes."""
    place, car, say = 2 * ENDS.index(key), axle(given, key), given.say
    found = []
    turns = sum(made.turns[place : place + 2]) / 2
    if turns:
        length = car.droop_length - turns * car.pitch
        says = f"{key} from collar to cup at full droop {say(length, 'length')}"
        found.append(Write(f"{key}.droop_length", length, says))
    rise = sum(made.rises[place : place + 2]) / 2
    if given.choice("keep") == "preload" and abs(rise) > _NOTHING:
        height = car.ride_height + rise
        says = f"{key} ride height {say(height, 'length')}"
        found.append(Write(f"{key}.ride_height", height, says))
    damping = made.damping[key]
    if damping.named is not None:
        grade = damping.named.viscosity
        found.append(Write(f"{key}.oil", grade, f"{key} oil {say(grade, 'viscosity')}"))
    if damping.hole is not None:
        hole = damping.hole
        says = f"{key} diameter of a hole {say(hole, 'length')}"
        found.append(Write(f"{key}.hole", hole, says))
    return found
