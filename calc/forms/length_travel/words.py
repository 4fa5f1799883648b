"""What length and travel says: instructions, cautions, table, plot and working."""

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working, barring
from calc.answering.places import between
from calc.answering.uncertainty import COVERAGE
from calc.forms.findings import rod_end_holds
from calc.forms.length_travel.figures import (
    NOTHING,
    Work,
    bump,
    droop_after,
    droop_of,
    droops,
    exact_above,
    exact_under,
    first,
    lengths,
    mean_out,
    out_of,
    threads,
)
from calc.forms.length_travel.inputs import Asked, Stop
from calc.forms.names import corner_label, end_word, side_label, side_word
from calc.forms.turning import rod_end_turned, rod_end_way
from calc.language import tr
from calc.model.corners import Side
from calc.physics.failure import PhysicsError
from calc.units import turns_text


def steps(asked: Asked, done: Work) -> tuple[Step, ...]:
    made = [] if done.turns_out else [_alike(asked, done)]
    if asked.wanted_droop is not None:
        made += _droop(asked, done)
    if asked.wanted_bump is not None:
        made.append(_above(asked, done))
    made.append(_stop(asked, done))
    return tuple(made)


def _alike(asked: Asked, done: Work) -> Step:
    longer = next((side for side in Side if done.turns_in[side]), None)
    if longer is None:
        apart = abs(asked.length_left - asked.length_right)
        return Step(
            tr(
                "Leave both {end} rod ends as they are: the pair is alike.",
                end=end_word(asked.axle),
            ),
            tr("Their lengths are {apart} apart.", apart=asked.say(apart, "length")),
        )
    corner = asked.axle.corner(longer)
    turns = done.turns_in[longer]
    rest = abs(asked.length_left - asked.length_right) - turns * asked.rod_pitch
    gives = tr("The pair is then alike to within {apart}.", apart=asked.say(abs(rest), "length"))
    return Step(
        rod_end_turned(corner, -turns),
        f"{rod_end_way(-turns)} {gives}",
        of="alike",
        step=asked.turn_step,
    )


def _droop(asked: Asked, done: Work) -> list[Step]:
    left, right = (asked.say(droop_after(asked, side, done), "length") for side in Side)
    gives = tr("Droop is then {left} left and {right} right.", left=left, right=right)
    end, size = end_word(asked.axle), asked.say(abs(done.under), "length")
    if done.under > 0:
        text = tr("Both {end} dampers: add {size} of spacer under the piston.", end=end, size=size)
    elif done.under < 0:
        text = tr(
            "Both {end} dampers: take {size} of spacer out from under the piston.",
            end=end,
            size=size,
        )
    else:
        text = tr("Both {end} dampers: leave the spacers under the piston.", end=end)
    if not done.turns_out:
        return [Step(text, gives)]
    why = f"{tr('No spacer remains to take out.')} {gives}"
    first_of_all = [Step(text)] if done.under else []
    if done.each:
        return [*first_of_all, *_each(asked, done, why)]
    turns = turns_text(done.turns_out)
    more = tr("Both {end} rod ends: {turns} out (longer).", end=end, turns=turns)
    why = f"{rod_end_way(done.turns_out)} {why}"
    return [*first_of_all, Step(more, why, of="out", step=asked.turn_step)]


def _each(asked: Asked, done: Work, why: str) -> list[Step]:
    """One move of each rod end; the last says what it gives."""
    return [
        Step(
            rod_end_turned(corner, turns),
            " ".join(filter(None, (rod_end_way(turns), why if side is Side.RIGHT else ""))),
            of=f"{side}_out" if turns else "",
            step=asked.turn_step,
        )
        for corner in asked.axle.corners
        for side, turns in ((corner.side, done.turns(corner.side)),)
    ]


def _above(asked: Asked, done: Work) -> Step:
    end, size = end_word(asked.axle), asked.say(abs(done.above), "length")
    rises, exact = asked.say(bump(asked, done)["damper"], "length"), exact_above(asked, done)
    gives = tr("The damper then stops the wheel after {bump} of bump.", bump=rises)
    if exact is not None and exact < done.above - asked.spacer_step / 2:
        gives = f"{tr('No spacer remains to take out.')} {gives}"
    if done.above > 0:
        text = tr("Both {end} dampers: add {size} of spacer above the piston.", end=end, size=size)
    elif done.above < 0:
        text = tr(
            "Both {end} dampers: take {size} of spacer out from above the piston.",
            end=end,
            size=size,
        )
    else:
        text = tr("Both {end} dampers: leave the spacers above the piston.", end=end)
    return Step(text, gives)


def _stop(asked: Asked, done: Work) -> Step:
    """Which of the three ends the way up."""
    stops = bump(asked, done)
    at = {name: asked.say(value, "length") for name, value in stops.items()}
    others = tr(
        "Damper fully in after {damper}, chassis on the ground after {ground}, coils solid after "
        "{coils}.",
        **at,
    )
    texts: dict[Stop, str] = {
        "damper": tr("In bump the damper stops the wheel first, after {way}.", way=at["damper"]),
        "ground": tr("In bump the chassis meets the ground first, after {way}.", way=at["ground"]),
        "coils": tr("In bump the coils touch first, after {way}.", way=at["coils"]),
    }
    return Step(texts[first(stops)], others)


def cautions(asked: Asked, done: Work) -> list[Caution]:
    found = []
    for side in Side:
        if droop_after(asked, side, done) <= 0:
            text = tr(
                "The {side} damper would then be fully out before the car is up at its ride "
                "height: the car would be topped out (on its droop stop), and the collar would not "
                "set its height.",
                side=side_word(side),
            )
            found.append(barring(text))
    stops = bump(asked, done)
    if stops["damper"] <= 0:
        text = tr(
            "The damper would then be fully in before the car is down at its ride height: the car "
            "would sit on the damper, not on its spring. Take spacer out, or check lengths and "
            "strokes."
        )
        found.append(barring(text))
    elif first(stops) == "coils":
        found.append(
            Caution(
                tr(
                    "The coils touch before anything else stops the wheel: that bends springs "
                    "and cups. Put spacer above the piston, or fit a spring with a shorter solid "
                    "length."
                ),
                stop=True,
            )
        )
    left = threads(asked, done)
    if asked.rod_thread is not None:
        for corner, side in zip(asked.axle.corners, Side, strict=True):
            if side in left:
                label = corner_label(corner)
                held, size = left[side], asked.rod_thread
                found += rod_end_holds(asked, label, held, size, asked.material)
    if done.turns_out and (len(left) < len(Side) or asked.rod_thread is None):
        found.append(
            Caution(
                tr(
                    "Turning the rod ends out leaves less thread in them: count it, and ask the "
                    "stroke page whether what remains is enough."
                ),
                stop=True,
            )
        )
    return found


def odd_droop(asked: Asked, off: float, u: float) -> list[Caution]:
    """Where droops differ by more than the lengths and the gauge can explain."""
    if abs(off) <= COVERAGE * u:
        return []
    return [
        Caution(
            tr(
                "The droops differ by {off} more than the lengths explain: look for unlike "
                "mounting holes, a bent or stiff arm, or an arm that meets its own stop first.",
                off=asked.say(abs(off), "length"),
            ),
            stop=True,
        )
    ]


def table(asked: Asked, done: Work) -> Table:
    rows = [
        (
            side_label(side),
            asked.bare(length, "length"),
            asked.bare(length - done.shorter(side, asked.rod_pitch), "length"),
            asked.bare(droops(asked)[side], "length"),
            asked.bare(droop_after(asked, side, done), "length"),
        )
        for side, length in lengths(asked).items()
    ]
    unit = asked.symbol("length")
    heads = (
        tr("Damper", sense="head"),
        tr("Length {unit}", unit=unit),
        tr("Then {unit}", unit=unit),
        tr("Droop {unit}", unit=unit),
        tr("Then {unit}", unit=unit),
    )
    return Table(tr("Left against right, fully out"), heads, tuple(rows))


def plot(asked: Asked, done: Work) -> Plot:
    """Mean droop against spacer under the pistons, the rod ends already alike."""
    out = mean_out(asked, done.turns_in)
    most = max(min(out * 0.9, 10 * asked.spacer_step), asked.spacer_step, done.under)
    least = max(-asked.spacers, -6 * asked.spacer_step)
    places = between(min(least, done.under), most, "length", asked.system)
    line = tuple((x, droop) for x in places if (droop := _reached(asked, out - x)) is not None)
    at = droop_of(asked, out - done.under)
    return Plot(
        tr("Droop at the wheel against spacer under the piston"),
        Axis(tr("Spacer added (taken out is negative)"), "length"),
        Axis(tr("Droop"), "length"),
        (Curve(end_word(asked.axle), line),),
        (Mark(done.under, at, tr("set here")),),
        tr(
            "Droop falls from {most} to {least} over the spacers shown.",
            most=asked.say(line[0][1], "length"),
            least=asked.say(line[-1][1], "length"),
        ),
    )


def _reached(asked: Asked, shaft: float) -> float | None:
    """The droop there; None beyond the dead centre of the arm."""
    try:
        return droop_of(asked, shaft)
    except PhysicsError:
        return None


def working(asked: Asked, done: Work) -> tuple[Working, ...]:
    say, arm = asked.say, asked.arm
    droop = sum(droops(asked).values()) / 2
    made = [
        Working(
            tr("shaft travel = motion ratio × wheel travel − growth × wheel travel² / 2"),
            f"{say(asked.motion_ratio, 'ratio')} × {say(droop, 'length')} − "
            f"{say(arm.growth * droop**2 / 2, 'length')} = {say(out_of(asked, droop), 'length')}",
            tr("definition of the motion ratio, its growth even"),
        ),
        Working(
            tr("bump of the damper = (stroke − shaft travel to full droop) at the wheel"),
            f"{say(min(asked.stroke_left, asked.stroke_right), 'length')} → "
            f"{say(bump(asked, NOTHING)['damper'], 'length')}",
            tr("geometry of the damper"),
        ),
    ]
    exact = exact_under(asked, done.turns_in)
    if exact is not None and asked.wanted_droop is not None:
        made.append(
            Working(
                tr("spacer = mean shaft travel to droop now − the same to the droop wanted"),
                f"{say(mean_out(asked, done.turns_in), 'length')} − "
                f"{say(out_of(asked, asked.wanted_droop), 'length')} = {say(exact, 'length')}",
                tr("geometry of the damper"),
            )
        )
    return tuple(made)
