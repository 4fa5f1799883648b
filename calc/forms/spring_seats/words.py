"""What spring seats says: instructions, cautions, table, plot and working."""

from calc.answering.answer import Axis, Caution, Curve, Mark, Plot, Step, Table, Working, barring
from calc.answering.hand import turn_words
from calc.answering.places import between
from calc.forms import findings
from calc.forms.names import collar_label, corner_label, end_word, side_label
from calc.forms.spring_seats.figures import (
    Setting,
    after,
    cup_rise,
    exact_shift,
    gap_sign,
    places,
    places_after,
    rise,
    seats,
    turns_left,
)
from calc.forms.spring_seats.inputs import Asked
from calc.forms.turning import measured_again, turned_step
from calc.forms.workings import preload_working
from calc.language import tr
from calc.model.corners import Corner, Side
from calc.units import turns_text


def steps(asked: Asked, done: Setting) -> tuple[Step, ...]:
    made = []
    if asked.aim == "cup":
        made.append(Step(tr("Fit the other cups on both {end} dampers.", end=end_word(asked.axle))))
    thread = asked.held == "thread"
    made += [_turn(asked, done, side) if thread else _pile(asked, done, side) for side in Side]
    return (*made, measured_again(_height(asked, done)))


def _turn(asked: Asked, done: Setting, side: Side) -> Step:
    collar, turns = collar_label(asked.axle.corner(side)), done.turns[side]
    stands = {
        "gap": asked.say(places_after(asked, done)[side], "length"),
        "preload": asked.say(after(asked, done)[side].preload, "length"),
    }
    if turns == 0:
        text = tr("{collar}: leave it.", collar=collar)
        return Step(text, tr("Its gap is {gap}, which is {preload} of preload.", **stands))
    text = f"{collar}: {turn_words(turns)}."
    gives = tr("The calliper then shows {gap}, which is {preload} of preload.", **stands)
    return turned_step(asked, text, turns, gives, of=f"{side}_turns")


def _pile(asked: Asked, done: Setting, side: Side) -> Step:
    corner, sizes = corner_label(asked.axle.corner(side)), asked.clip
    picked = [asked.say(sizes[place].thickness, "length") for place in done.picked[side]]
    gives = tr(
        "That is {pile} of spacers in all, and {preload} of preload.",
        pile=asked.say(places_after(asked, done)[side], "length"),
        preload=asked.say(after(asked, done)[side].preload, "length"),
    )
    if not picked:
        return Step(tr("{corner}: no spacer.", corner=corner), gives)
    return Step(tr("{corner}: clip on {sizes}.", corner=corner, sizes=" + ".join(picked)), gives)


def _height(asked: Asked, done: Setting) -> str:
    by = rise(asked, done)
    height = asked.say(asked.ride_height + by, "length")
    return tr("It should sit at {height}.", height=height)


def cautions(asked: Asked, done: Setting) -> list[Caution]:
    found: list[Caution] = []
    now, then = seats(asked), after(asked, done)
    for side in Side:
        corner = asked.axle.corner(side)
        found += findings.of_seat(
            asked, corner, then[side], pitch=_pitch(asked), step=_step(asked), now=now[side]
        )
        if asked.held == "thread":
            found += _thread(asked, corner, places_after(asked, done)[side])
    if asked.held == "clips":
        found += _too_high(asked)
    apart = abs(places(asked)[Side.LEFT] - places(asked)[Side.RIGHT])
    if asked.aim != "gap" and apart > _APART:
        text = tr(
            "The left and the right collar are {apart} apart, and both turn by the same: "
            "set them alike first, unless you set them apart by the scales.",
            apart=asked.say(apart, "length"),
        )
        found.append(Caution(text, stop=True))
    return found


_APART = 0.2e-3
"""m between left and right that are worth a word (common practice, no source)."""
_PRESS = 0.5e-3  # m; how finely a pile of spacers is spoken of in turns


def _pitch(asked: Asked) -> float:
    return asked.pitch if asked.held == "thread" else _PRESS


def _step(asked: Asked) -> float:
    return asked.turn_step if asked.held == "thread" else 1.0


def _thread(asked: Asked, corner: Corner, gap: float) -> list[Caution]:
    up, down = turns_left(asked, gap)
    collar = collar_label(corner)
    if up is not None and up < -1e-9:
        text = tr("{collar}: the thread ends {turns} before that, at its upper end.", collar=collar,
                  turns=turns_text(-up))  # fmt: skip
        return [barring(text)]
    if down is not None and down < -1e-9:
        text = tr("{collar}: the thread ends {turns} before that, at its lower end.", collar=collar,
                  turns=turns_text(-down))  # fmt: skip
        return [barring(text)]
    return []


def _too_high(asked: Asked) -> list[Caution]:
    """Where less than no spacer would be needed."""
    lacking = min(places(asked)[side] + shift for side, shift in exact_shift(asked).items())
    if lacking >= -_PRESS:
        return []
    text = tr(
        "Without any spacer the spring still sits {lacking} too far down: you need a "
        "lower cup or a shorter spring.",
        lacking=asked.say(-lacking, "length"),
    )
    return [barring(text)]


def table(asked: Asked, done: Setting) -> Table:
    now, then = places(asked), places_after(asked, done)
    before, later = seats(asked), after(asked, done)
    rows = tuple(
        (
            side_label(side),
            asked.bare(now[side], "length"),
            asked.bare(then[side], "length"),
            asked.bare(before[side].preload, "length"),
            asked.bare(later[side].preload, "length"),
        )
        for side in Side
    )
    unit = asked.symbol("length")
    place = tr("Gap {unit}", unit=unit) if asked.held == "thread" else tr("Stack {unit}", unit=unit)
    heads = (
        tr("Damper", sense="head"),
        place,
        tr("Then {unit}", unit=unit),
        tr("Preload {unit}", unit=unit),
        tr("Then {unit}", unit=unit),
    )
    return Table(tr("By the calliper"), heads, rows)


def plot(asked: Asked, done: Setting) -> Plot:
    """Ride height against the place of the left collar, both moved alike."""
    now = places(asked)[Side.LEFT]
    then = places_after(asked, done)[Side.LEFT]
    low, high = min(now, then), max(now, then)
    spread = max(high - low, 2e-3)
    line = tuple(
        (place, _stands(asked, gap_sign(asked) * (place - now)))
        for place in between(max(0.0, low - spread), high + spread, "length", asked.system)
    )
    thread = asked.held == "thread"
    here = _stands(asked, done.shift[Side.LEFT])
    return Plot(
        tr("Ride height against gap") if thread else tr("Ride height against spacers"),
        Axis(tr("Gap left") if thread else tr("Spacers on the left damper"), "length"),
        Axis(tr("Ride height"), "length"),
        (Curve(end_word(asked.axle), line),),
        (Mark(then, here, tr("set here")),),
        tr(
            "From {low} to {high} the height goes from {first} to {last}.",
            low=asked.say(line[0][0], "length"),
            high=asked.say(line[-1][0], "length"),
            first=asked.say(line[0][1], "length"),
            last=asked.say(line[-1][1], "length"),
        ),
    )


def _stands(asked: Asked, shift: float) -> float:
    """Ride height with the left collar moved down by so many m, its droop stop minded."""
    seat = seats(asked)[Side.LEFT]
    return asked.ride_height + seat.rise(seat.down(shift + cup_rise(asked)))


def working(asked: Asked, done: Setting) -> tuple[Working, ...]:
    say, left = asked.say, Side.LEFT
    exact, then = exact_shift(asked)[left], after(asked, done)[left]
    made = []
    if asked.aim == "height":
        made.append(
            Working(
                tr(
                    "collar down = height gained × motion ratio, with the change along the arm's "
                    "travel"
                ),
                f"{say(asked.wanted_height - asked.ride_height, 'length')} × "
                f"{say(asked.motion_ratio, 'ratio')} → {say(exact, 'length')}",
                tr("virtual work at unchanged load"),
            )
        )
    elif asked.aim == "cup":
        made.append(
            Working(
                tr("collar up = other cup − cup now"),
                f"{say(asked.cup_new, 'length')} − {say(asked.cup_now, 'length')} = "
                f"{say(-exact, 'length')}",
                tr("geometry of the damper"),
            )
        )
    if asked.held == "thread":
        made.append(
            Working(
                tr("turns = travel of the collar / pitch"),
                f"{say(exact, 'length')} / {say(asked.pitch, 'length')} = "
                f"{say(exact / asked.pitch, 'turns', 2)}",
                tr("geometry of the thread"),
            )
        )
    return (*made, preload_working(asked, then))
