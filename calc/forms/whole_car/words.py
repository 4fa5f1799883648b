"""The list for the whole car: what to do at every corner, and what becomes of the rest."""

from collections.abc import Iterator, Mapping, Sequence

from calc.answering.answer import AtCorner, Caution, Drawing, Quantity, Step, Working
from calc.answering.uncertainty import Doubted
from calc.forms import findings
from calc.forms.cautions import opened, plastic, springs_off
from calc.forms.damper_drawing import damper_drawing
from calc.forms.names import corner_word, end_label, end_word
from calc.forms.piston import DamperInputs
from calc.forms.turning import at_corner, end_steps
from calc.forms.whole_car.change import change_steps, changed_ends
from calc.forms.whole_car.damping import Damping
from calc.forms.whole_car.figures import Plan
from calc.forms.workings import damping_working
from calc.language import later, tr
from calc.model.corners import CORNERS, ENDS, End, mean_at
from calc.replying.form import Given
from calc.units import turns_text

_NOTHING = 0.005e-3  # m; less than this is not shown
_DRILL = later(
    "Clamp a piston before you drill it, wear eye protection, and follow the drill's manual."
)
_IN_THE_DAMPER = ("piston", "oil")  # changes made with the damper open, in the order of the work
_OF_END = (
    ("preload", later("preload at full droop, height kept"), "length"),
    ("frequency", later("ride frequency then"), "frequency"),
    ("ratio_before", later("damping ratio before"), "ratio"),
    ("damping_change", later("damping ratio after the change alone, share of before"), "share"),
)


def steps(given: Given, made: Plan) -> tuple[Step, ...]:
    if not changed_ends(given) and given.choice("change") != "load":
        return (Step(tr("Nothing changes: leave the car as it is.")),)
    change = change_steps(given, made)
    inside = _damper_steps(given, made, change)
    outside = change if given.choice("change") not in _IN_THE_DAMPER else ()
    return (
        *_mark_steps(given, made, inside),
        *inside,
        *outside,
        *_collar_steps(given, made),
        Step(tr("Bounce the car, measure and weigh it again."), _stands(given, made)),
    )


def above(given: Given, made: Plan) -> tuple[AtCorner, ...]:
    return tuple(
        at_corner(corner, made.turns[corner], given.say(mass, "mass", 0))
        for corner, mass in zip(CORNERS, made.masses, strict=True)
    )


def _mark_steps(given: Given, made: Plan, inside: Sequence[Step]) -> list[Step]:
    """Where springs come off a collar may be touched before its turns are counted."""
    taken_off = inside or given.choice("change") != "load"
    if not (taken_off and any(made.turns.values())):
        return []
    return [Step(tr("Mark where the collars are: the turns count from there."))]


def _damper_steps(given: Given, made: Plan, change: Sequence[Step]) -> list[Step]:
    """What is done inside the dampers, in the order of the work: pistons and their holes, then oil.
    It comes before springs and collars, because a damper is opened with its spring off."""
    holes, oils = (
        [step for key in ENDS if (step := made_by(given, key, made.damping[key]))]
        for made_by in (_hole_step, _oil_step)
    )
    pistons, fill = (change if given.choice("change") == it else () for it in _IN_THE_DAMPER)
    return [*pistons, *holes, *fill, *oils]


def _collar_steps(given: Given, made: Plan) -> list[Step]:
    by_end = {end: [made.turns[corner] for corner in end.corners] for end in ENDS}
    each = {
        end: end_steps(given.choice("thread_hand"), end, *turns) for end, turns in by_end.items()
    }
    turned = [step for end in ENDS if any(by_end[end]) for step in each[end]]
    return turned or [Step(tr("Leave all four collars as they are."))]


def _hole_step(given: Given, key: End, damping: Damping) -> Step | None:
    if damping.hole is None:
        return None
    return Step(_hole_words(given, key, damping.hole), _ratio_words(given, damping))


def _oil_step(given: Given, key: End, damping: Damping) -> Step | None:
    end, tells = end_word(key), _ratio_words(given, damping)
    if damping.named is not None:
        oil = damping.named.words
        return Step(tr("{end}: refill with {oil}.", end=end_label(key), oil=oil), tells)
    if damping.lack:
        exact = given.say(damping.grade, "viscosity")
        text = tr("The {end} would need {oil} to keep its damping.", end=end, oil=exact)
        return Step(text, tells)
    return None


def _ratio_words(given: Given, damping: Damping) -> str:
    return tr(
        "Damping ratio: {was} before, {changed} with the change alone, {mended} with this.",
        was=given.say(damping.before, "ratio", 2),
        changed=given.say(damping.changed, "ratio", 2),
        mended=given.say(damping.mended, "ratio", 2),
    )


def _hole_words(given: Given, key: End, hole: float) -> str:
    shown = given.say(hole, "length", 1)
    end = end_label(key)
    if hole > given.numbers[f"{key}.hole"]:
        return tr(
            "{end}: drill the piston holes out to {hole}, by hand with the bit in a pin vise; take "
            "off the burr and wash the pistons.",
            end=end,
            hole=shown,
        )
    return tr("{end}: fit pistons with holes of {hole}.", end=end, hole=shown)


def _stands(given: Given, made: Plan) -> str:
    front, rear = (_height_words(given, end, mean_at(end, made.then.rises)) for end in ENDS)
    cross = given.say(made.then.shares.cross, "share")
    return tr("Then {front} and {rear}; cross weight {cross}.", front=front, rear=rear, cross=cross)


def _height_words(given: Given, key: End, rise: float) -> str:
    """How high an end stands, as a part of a sentence."""
    end, height = end_word(key), given.say(abs(rise), "length")
    if abs(rise) < _NOTHING:
        return tr("the {end} sits as high as before", end=end)
    if rise > 0:
        return tr("the {end} sits {height} higher", end=end, height=height)
    return tr("the {end} sits {height} lower", end=end, height=height)


def quantities(given: Given, made: Plan, doubted: Mapping[str, Doubted]) -> tuple[Quantity, ...]:
    found = [given.quantity(name, label, kind, doubted[name]) for name, label, kind in _labels()]
    for key, rise in zip(CORNERS, made.then.rises, strict=True):
        label = tr("{corner}: higher by", corner=corner_word(key).capitalize())
        found.append(_around(given, f"{key}_rise", label, "length", rise, doubted))
    for end in ENDS:
        damping = made.damping[end]
        name = end_label(end)
        label = tr("{end}: damping ratio once it is done", end=name)
        found.append(_around(given, f"{end}_ratio", label, "ratio", damping.mended, doubted))
        label = tr("{end}: oil, exact, at 25 °C", end=name)
        name = f"{end}_oil_exact"
        found.append(_around(given, name, label, "viscosity", damping.grade, doubted))
    return tuple(found)


def _around(
    given: Given, name: str, label: str, kind: str, value: float, doubted: Mapping[str, Doubted]
) -> Quantity:
    """A figure that was worked out in full, with the doubt of the same by a shorter way."""
    return given.quantity(name, label, kind, doubted[name].at(value))


def _labels() -> list[tuple[str, str, str]]:
    """(name, label, kind) of the figures with a doubt."""
    found = []
    for key in CORNERS:
        name = corner_word(key).capitalize()
        label = tr("{corner}: turns that keep the height, exact", corner=name)
        found.append((f"{key}_turns", label, "turns"))
    for end in ENDS:
        name = end_label(end)
        found += [(f"{end}_{what}", f"{name}: {tr(says)}", kind) for what, says, kind in _OF_END]
    return [*found, ("cross_weight", tr("Cross weight"), "share")]


def cautions(given: Given, made: Plan) -> tuple[Caution, ...]:
    found = [Caution(damping.lack, stop=True) for damping in made.damping.values() if damping.lack]
    for corner, was, then in zip(CORNERS, made.was.seats, made.seats, strict=True):
        pitch = made.becomes.pitch(corner)
        rests = made.then.stance.on_stop[corner.place]
        found += findings.of_seat(
            given, corner, then, pitch=pitch, step=given.turn_step, now=was, rests=rests
        )
        found += findings.far_turned(corner, made.turns[corner], pitch)
        found += findings.hanging(corner, made.then)
    return (*found, *_of_the_work(given, made))


def _of_the_work(given: Given, made: Plan) -> Iterator[Caution]:
    change, damping = given.choice("change"), made.damping.values()
    yield springs_off()
    if change == "hole":
        yield plastic()
    if change in ("oil", "piston") or any(one.named for one in damping):
        yield opened()
    if any(one.hole for one in damping):
        yield Caution(tr(_DRILL))


def working(given: Given, made: Plan) -> tuple[Working, ...]:
    say = given.say
    lines = []
    for corner, now, then in zip(CORNERS, made.was.seats, made.becomes.seats, strict=True):
        label = corner_word(corner).capitalize()
        apart, pitch = made.becomes.pair(corner.end).apart, made.becomes.pitch(corner)
        held = now.held if now.on_stop or now.bottomed else then.force
        lines.append(
            Working(
                tr("turns down = (spring length now − then + mounts further apart) / pitch"),
                f"{label}: ({say(now.stack.length(now.held), 'length')} − "
                f"{say(then.stack.length(held), 'length')} + {say(apart, 'length')}) / "
                f"{say(pitch, 'length')} = {turns_text(round(made.exact[corner], 2))}",
                tr("same height: each spring at the force that the load asks of it"),
            )
        )
    for end in ENDS:
        damping = made.damping[end]
        lines.append(
            damping_working(
                tr(
                    "{end}: {before} before, {changed} with the change alone",
                    end=end_word(end),
                    before=say(damping.before, "ratio", 2),
                    changed=say(damping.changed, "ratio", 2),
                )
            )
        )
    return tuple(lines)


def drawings(given: Given, made: Plan) -> tuple[Drawing, ...]:
    """The damper of every end that the change touches, as it is once the list is done."""
    ends = changed_ends(given) or (End.FRONT,)
    return tuple(
        drawing
        for end in ends
        for drawing in damper_drawing(
            given, made.seats[end.corners[0].place], end, DamperInputs(given, f"{end}.")
        )
    )
