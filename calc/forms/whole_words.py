"""The list for the whole car: what to do at every corner, and what becomes of the rest."""

from collections.abc import Mapping

from calc.answer import Caution, Drawing, Quantity, Step, Working
from calc.form import Given
from calc.forms.damper_drawing import damper_drawing
from calc.forms.shared import CORNER_LABELS, CORNER_NAMES, eyes, spill, stand
from calc.forms.whole_change import change_step, changed_ends
from calc.forms.whole_damping import Damping
from calc.forms.whole_figures import Plan
from calc.forms.whole_state import ENDS
from calc.hand import turn_words, way_words
from calc.physics.chassis import shares
from calc.uncertainty import Doubted
from calc.units import METRIC, turns_text

_NOTHING = 0.005e-3  # m; less than this is not shown
_FAR = 6e-3  # m: a collar that moves further may run out of thread
_LABELS = (
    *((f"{key}_turns", f"{label}: turns that keep the height, exact", "turns")
      for key, label in CORNER_LABELS),
    *((f"{key}_{name}", f"{key.capitalize()}: {label}", kind)
      for key in ENDS
      for name, label, kind in (
          ("preload", "preload at full droop, height kept", "length"),
          ("frequency", "ride frequency then", "frequency"),
          ("ratio_before", "damping ratio before", "ratio"),
          ("damping_change", "damping ratio after the change alone, share of before", "share"),
      )),
    ("cross_weight", "Cross weight", "share"),
)  # fmt: skip


def steps(given: Given, made: Plan) -> tuple[Step, ...]:
    if not changed_ends(given) and given.choice("change") != "load":
        return (Step("Nothing changes: leave the car as it is."),)
    oils = [_oil_step(given, key, made.damping[key]) for key in ENDS]
    return (
        *change_step(given, made),
        *_collar_steps(given, made),
        *(step for step in oils if step is not None),
        Step("Bounce the car, measure and weigh it again.", _stands(given, made)),
    )


def _collar_steps(given: Given, made: Plan) -> list[Step]:
    found, hand = [], given.choice("thread_hand")
    for place, key in enumerate(ENDS):
        left, right = made.turns[2 * place : 2 * place + 2]
        if left == right:
            if left:
                text = f"Turn both {key} collars {turn_words(left)}."
                found.append(Step(text, way_words(left, hand)))
            continue
        for side, n in (("left", left), ("right", right)):
            if n:
                text = f"Turn the {key} {side} collar {turn_words(n)}."
                found.append(Step(text, way_words(n, hand)))
    return found or [Step("Leave all four collars as they are.")]


def _oil_step(given: Given, key: str, damping: Damping) -> Step | None:
    say = given.say
    was, changed, mended = (
        say(ratio, "ratio", 2) for ratio in (damping.before, damping.changed, damping.mended)
    )
    tells = f"It damped with {was}, with the change alone {changed}, then {mended}."
    if damping.named is not None:
        return Step(f"{key.capitalize()}: fill in {damping.named.words}.", tells)
    if damping.hole is not None:
        return Step(_hole_words(given, key, damping.hole), tells)
    if damping.lack:
        exact = say(damping.grade, "viscosity")
        return Step(f"The {key} would need {exact} to keep its damping.", tells)
    return None


def _hole_words(given: Given, key: str, hole: float) -> str:
    shown = given.say(hole, "length", 1 if given.system == METRIC else 3)
    if hole > given.numbers[f"{key}.hole"]:
        return f"{key.capitalize()}: drill the holes of the pistons out to {shown}."
    return f"{key.capitalize()}: it takes pistons with holes of {shown}."


def _stands(given: Given, made: Plan) -> str:
    parts = []
    for place, key in enumerate(ENDS):
        rise = sum(made.rises[2 * place : 2 * place + 2]) / 2
        stands = "as high as before"
        if abs(rise) >= _NOTHING:
            stands = f"{given.say(abs(rise), 'length')} {'higher' if rise > 0 else 'lower'}"
        parts.append(f"the {key} stands {stands}")
    cross = given.say(shares(made.readings).cross, "share")
    return f"Then {parts[0]} and {parts[1]}; cross weight {cross}."


def quantities(given: Given, made: Plan, doubted: Mapping[str, Doubted]) -> tuple[Quantity, ...]:
    found = [given.quantity(name, label, kind, doubted[name]) for name, label, kind in _LABELS]
    for (key, label), rise in zip(CORNER_LABELS, made.rises, strict=True):
        found.append(Quantity(f"{key}_rise", f"{label}: higher by", rise, "length"))
    for key in ENDS:
        damping = made.damping[key]
        name = key.capitalize()
        label = f"{name}: damping ratio once it is done"
        found.append(Quantity(f"{key}_ratio", label, damping.mended, "ratio"))
        label = f"{name}: oil, exact, at 25 °C"
        found.append(Quantity(f"{key}_oil_exact", label, damping.grade, "viscosity"))
    return tuple(found)


def cautions(given: Given, made: Plan) -> tuple[Caution, ...]:
    found = [Caution(text, stop=True) for text in _stops(given, made)]
    for place, name in enumerate(CORNER_NAMES.values()):
        seat, pitch = made.seats[place], made.becomes.end_of(place).pitch
        if seat.preload < 0:
            text = f"The {name} spring is then loose at full droop by "
            found.append(Caution(f"{text}{given.say(-seat.preload, 'length')}."))
        if abs(made.turns[place]) * pitch > _FAR:
            text = f"The {name} collar moves {turns_text(abs(made.turns[place]))}: see whether "
            found.append(Caution(f"{text}the thread reaches that far."))
    oil = any(damping.named for damping in made.damping.values())
    return (
        *found,
        eyes(),
        stand(),
        *((spill(),) if oil or given.choice("change") == "oil" else ()),
    )


def _stops(given: Given, made: Plan) -> list[str]:
    found = [damping.lack for damping in made.damping.values() if damping.lack]
    names = list(CORNER_NAMES.values())
    for place, (was, then) in enumerate(zip(made.was.seats(), made.seats, strict=True)):
        name = names[place]
        if was.on_stop:
            found.append(f"The {name} sits on its droop stop now: no turn keeps its height.")
        elif made.stance.on_stop[place] or then.on_stop:
            found.append(f"The {name} would then sit on its droop stop.")
        if was.bottomed or then.bottomed:
            found.append(f"The load alone closes the {name} damper fully.")
        if made.stance.lifted[place]:
            found.append(f"The {name} wheel would hang free of the ground.")
        if then.bind_margin < 0:
            short = given.say(-then.bind_margin, "length")
            found.append(f"The {name} spring goes solid {short} before full bump.")
    return found


def working(given: Given, made: Plan) -> tuple[Working, ...]:
    say = given.say
    lines = []
    for place, (_, label) in enumerate(CORNER_LABELS):
        now, then = made.was.seats()[place], made.becomes.seats()[place]
        apart, pitch = made.becomes.apart[place // 2], made.becomes.end_of(place).pitch
        held = now.held if now.on_stop or now.bottomed else then.force
        lines.append(
            Working(
                "turns down = (spring length now − then + mounts further apart) / pitch",
                f"{label}: ({say(now.stack.length(now.held), 'length')} − "
                f"{say(then.stack.length(held), 'length')} + {say(apart, 'length')}) / "
                f"{say(pitch, 'length')} = {turns_text(round(made.exact[place], 2))}",
                "same height: each spring at the force that the load asks of it",
            )
        )
    for key in ENDS:
        damping = made.damping[key]
        lines.append(
            Working(
                "damping ratio = damping × motion ratio² / (2 √(wheel rate × sprung mass))",
                f"{key}: {damping.before:.2f} before, {damping.changed:.2f} with the change alone",
                "damping by the piston model, see Piston and oil",
            )
        )
    return tuple(lines)


def drawings(given: Given, made: Plan) -> tuple[Drawing, ...]:
    """The damper of every end that the change touches, as it is once the list is done."""
    ends = changed_ends(given) or ("front",)
    return tuple(damper_drawing(given, made.seats[2 * ENDS.index(key)], key) for key in ends)
