"""The list for the whole car: what to do at every corner, and what becomes of the rest."""

from collections.abc import Iterator, Sequence

from calc.answering.answer import AtCorner, Caution, Drawing, Step, Working
from calc.forms import findings
from calc.forms.bottles import needs_oil, refill
from calc.forms.cautions import opened, plastic, springs_off
from calc.forms.damper_drawing import damper_drawing
from calc.forms.friction import hides
from calc.forms.gas import parting_ride
from calc.forms.names import corner_first, end_label, end_word
from calc.forms.settling import on_tyres
from calc.forms.turning import as_before, at_corner, end_steps, none_turned
from calc.forms.whole_car.change import IN_THE_DAMPER, change_steps, changed_ends
from calc.forms.whole_car.damping import Damping
from calc.forms.whole_car.figures import Plan
from calc.forms.whole_car.inputs import Asked
from calc.forms.workings import damping_working
from calc.language import later, tr
from calc.model.corners import CORNERS, ENDS, End, mean_at
from calc.units import turns_text

_DRILL = later(
    "Clamp a piston before you drill it, keep your fingers clear of the bit, and wear eye "
    "protection."
)


def steps(asked: Asked, made: Plan) -> tuple[Step, ...]:
    if not changed_ends(asked) and asked.change != "load":
        return (Step(tr("Nothing changes: leave the car as it is.")),)
    change = change_steps(asked, made)
    inside = _damper_steps(asked, made, change)
    outside = change if asked.change not in IN_THE_DAMPER else ()
    return (
        *_mark_steps(asked, made, inside),
        *inside,
        *outside,
        *_collar_steps(asked, made),
        Step(tr("Bounce the car, measure and weigh it again."), _stands(asked, made)),
    )


def above(asked: Asked, made: Plan) -> tuple[AtCorner, ...]:
    return tuple(
        at_corner(corner, made.turns[corner], asked.say(mass, "mass", 0))
        for corner, mass in zip(CORNERS, made.masses, strict=True)
    )


def _mark_steps(asked: Asked, made: Plan, inside: Sequence[Step]) -> list[Step]:
    """Where springs come off a collar may be touched before its turns are counted."""
    taken_off = inside or asked.change != "load"
    if not (taken_off and any(made.turns.values())):
        return []
    return [Step(tr("Mark where the collars are: the turns count from there."))]


def _damper_steps(asked: Asked, made: Plan, change: Sequence[Step]) -> list[Step]:
    """What is done inside the dampers, in the order of the work: pistons and their holes, then oil.
    It comes before springs and collars, because a damper is opened with its spring off."""
    holes, oils = (
        [step for key in ENDS if (step := made_by(asked, key, made.damping[key]))]
        for made_by in (_hole_step, _oil_step)
    )
    pistons, fill = (change if asked.change == it else () for it in IN_THE_DAMPER)
    return [*pistons, *holes, *fill, *oils]


def _collar_steps(asked: Asked, made: Plan) -> list[Step]:
    by_end = {end: [made.turns[corner] for corner in end.corners] for end in ENDS}
    each = {
        end: end_steps(asked, end, *turns, of=(f"{end}_left_turns", f"{end}_right_turns"))
        for end, turns in by_end.items()
    }
    turned = [step for end in ENDS if any(by_end[end]) for step in each[end]]
    return turned or [Step(none_turned())]


def _hole_step(asked: Asked, key: End, damping: Damping) -> Step | None:
    if damping.hole is None:
        return None
    return Step(_hole_words(asked, key, damping.hole), _ratio_words(asked, damping))


def _oil_step(asked: Asked, key: End, damping: Damping) -> Step | None:
    if damping.named is not None:
        return Step(refill(key, damping.named.words), _ratio_words(asked, damping))
    if damping.wants_oil:
        exact = asked.say(damping.grade, "viscosity")
        return Step(needs_oil(key, exact), _unmended_words(asked, damping))
    return None


def _ratio_words(asked: Asked, damping: Damping) -> str:
    return tr(
        "Damping ratio: {was} before, {changed} with the change alone, {mended} with this.",
        was=asked.say(damping.before, "ratio", 2),
        changed=asked.say(damping.changed, "ratio", 2),
        mended=asked.say(damping.mended, "ratio", 2),
    )


def _unmended_words(asked: Asked, damping: Damping) -> str:
    return tr(
        "Damping ratio: {was} before, {changed} with the change alone.",
        was=asked.say(damping.before, "ratio", 2),
        changed=asked.say(damping.changed, "ratio", 2),
    )


def _hole_words(asked: Asked, key: End, hole: float) -> str:
    shown = asked.say(hole, "length", 1)
    end = end_label(key)
    if hole > asked.dampers[key].hole:
        return tr(
            "{end}: drill the piston holes out to {hole}, by hand with the bit in a pin vice; "
            "take off the burr and wash the pistons.",
            end=end,
            hole=shown,
        )
    return tr("{end}: fit pistons with holes of {hole}.", end=end, hole=shown)


def _stands(asked: Asked, made: Plan) -> str:
    front, rear = (_height_words(asked, end, mean_at(end, made.then.rises)) for end in ENDS)
    cross = asked.say(made.then.shares.cross, "share")
    return tr("Then {front} and {rear}; cross weight {cross}.", front=front, rear=rear, cross=cross)


def _height_words(asked: Asked, key: End, rise: float) -> str:
    """How high an end stands, as a part of a sentence."""
    return tr("the {end} sits {as_before}", end=end_word(key), as_before=as_before(asked, rise))


def _moved(asked: Asked, made: Plan, end: End) -> float:
    """How far an end rises, m: as it is left, or would be if no collar kept it where it is."""
    if asked.keep == "preload":
        return mean_at(end, made.then.rises)
    return -made.becomes.end(end).mean_seat.lift(
        made.mean_exact(end) * made.becomes.end(end).suspension.pitch
    )


def cautions(asked: Asked, made: Plan) -> tuple[Caution, ...]:
    found = [
        Caution(damping.lack, stop=not damping.wants_oil)
        for damping in made.damping.values()
        if damping.lack
    ]
    for corner, was, then in zip(CORNERS, made.was.seats, made.seats, strict=True):
        pitch = made.becomes.pitch(corner)
        rests = made.then.stance.on_stop[corner.place]
        found += findings.of_seat(
            asked, corner, then, pitch=pitch, step=asked.turn_step, now=was, rests=rests
        )
        found += findings.far_turned(corner, made.turns[corner], pitch)
        found += findings.hanging(corner, made.then)
    dampers = [(end, one.then, one.oil) for end, one in made.damping.items()]
    found += parting_ride(asked, dampers)
    found += on_tyres(asked, dampers)
    found += hides(
        asked, [(end, _moved(asked, made, end), asked.frictions[end].friction) for end in ENDS]
    )
    return (*found, *_of_the_work(asked, made))


def _of_the_work(asked: Asked, made: Plan) -> Iterator[Caution]:
    change, damping = asked.change, made.damping.values()
    yield springs_off()
    if change == "hole":
        yield plastic()
    if change in ("oil", "piston") or any(one.named for one in damping):
        yield opened()
    if any(one.hole for one in damping):
        yield Caution(tr(_DRILL))


def working(asked: Asked, made: Plan) -> tuple[Working, ...]:
    say = asked.say
    lines = []
    for corner, now, then in zip(CORNERS, made.was.seats, made.becomes.seats, strict=True):
        label = corner_first(corner)
        apart = made.becomes.end(corner.end).apart + now.sunk(then)
        pitch = made.becomes.pitch(corner)
        held = now.held if now.on_stop or now.bottomed else then.force
        lines.append(
            Working(
                tr("turns down = (spring length now − then + mounts further apart) / pitch"),
                f"{label}: ({say(now.stack.length(now.held), 'length')} − "
                f"{say(then.stack.length(held), 'length')} + {say(apart, 'length')}) / "
                f"{say(pitch, 'length')} = {turns_text(round(made.exact[corner], 2))}",
                tr("same height: each spring and each tyre at the force that the load asks of it"),
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


def drawings(asked: Asked, made: Plan) -> tuple[Drawing, ...]:
    """The damper of every end that the change touches, as it is once the list is done."""
    ends = changed_ends(asked) or (End.FRONT,)
    return tuple(
        drawing
        for end in ends
        for drawing in damper_drawing(
            asked, made.seats[end.corners[0].place], end, asked.dampers[end]
        )
    )
