"""What the corner loads say: instructions, cautions, tables, plot and working."""

from collections.abc import Iterator, Sequence

from calc.answering.answer import (
    AtCorner,
    Axis,
    Caution,
    Curve,
    Mark,
    Plot,
    Step,
    Table,
    Working,
    Write,
)
from calc.answering.uncertainty import COVERAGE, Uncertain
from calc.forms import findings
from calc.forms.cautions import stand
from calc.forms.corner_loads.figures import PAIRS, cross_of_a_turn, exact
from calc.forms.corner_loads.inputs import Asked
from calc.forms.entered import left_loose, stops_left_out
from calc.forms.names import CORNER_LABELS, corner_word, side_word
from calc.forms.turning import at_corner, corner_step, none_turned
from calc.forms.workings import cross_working
from calc.forms.writes import collar_writes
from calc.language import later, tr
from calc.model.corners import CORNERS, Corner, Side
from calc.model.standing import Predicted, Standing
from calc.physics.chassis import Shares, shares
from calc.units import STANDARD_GRAVITY, turns_number, turns_text

_MEAN = 0.05e-3  # m that the mean height may move
_STEPS_SHOWN = (-4, -3, -2, -1, 0, 1, 2, 3, 4)
_APART = 0.03  # share of its end by which left and right may differ unremarked


def now(asked: Asked, found: Shares) -> Step:
    """The shares as the car stands on the scales."""
    front, left = asked.say(found.front, "share"), asked.say(found.left, "share")
    return Step(
        tr("Cross weight now {share}.", share=asked.say(found.cross, "share")),
        tr("On the front {front}, on the left {left}.", front=front, left=left),
    )


def by_scales_alone() -> str:
    return tr(
        "This ± is that of the scales alone; friction adds to it, once the springs are known."
    )


def steps(asked: Asked, turns: Sequence[float], after: Predicted) -> tuple[Step, ...]:
    cross = asked.say(after.shares.cross, "share")
    first = _lopsided(asked, after.before.shares)
    on_stop = [corner for corner in CORNERS if after.before.stance.on_stop[corner.place]]
    made = [
        corner_step(
            asked, corner, n, of=f"{corner.end}_turns" if n == -turns[corner.other.place] else ""
        )
        for corner, n in zip(CORNERS, turns, strict=True)
        if n
    ]  # fmt: skip
    if not made:
        near = tr("The cross weight is {share}, as near as a step comes.", share=cross)
        return (*first, Step(none_turned(), near))
    again = tr("Bounce the car and weigh it again.")
    if on_stop:
        then = tr(
            "The car then stands {drop} lower; the cross weight is set after that.",
            drop=_drop(asked, after),
        )
        return (*first, _first_off(on_stop), *made, Step(again, then))
    then = tr("Cross weight then {share}.", share=cross)
    if -_rise(after) > _MEAN:
        why = tr(
            "The car then stands {drop} lower, so that no damper comes to its droop stop.",
            drop=_drop(asked, after),
        )
        then = f"{then} {why}"
    return (*first, now(asked, after.before.shares), *made, Step(again, then))


def _lopsided(asked: Asked, found: Shares) -> list[Step]:
    """Weight that no collar can move."""
    left = found.left
    if abs(left - 0.5) <= _APART / 2:
        return []
    return [
        Step(
            tr("Move the battery or the ballast first."),
            tr(
                "{share} of the weight is on the {side}: no collar changes that.",
                share=asked.say(max(left, 1 - left), "share"),
                side=side_word(Side.LEFT if left > 0.5 else Side.RIGHT),
            ),
        )
    ]


def _first_off(on_stop: Sequence[Corner]) -> Step:
    return Step(
        tr("Topped out (on the droop stop): turn the collars up there first, then weigh."),
        tr(
            "At: {corners}. To see it, lift the chassis a little: such a wheel leaves its scale at "
            "once.",
            corners=", ".join(map(corner_word, on_stop)),
        ),
    )


def _rise(after: Predicted) -> float:
    """Of the mean height, m."""
    return sum(after.rises) / len(after.rises)


def _drop(asked: Asked, after: Predicted) -> str:
    return asked.say(-_rise(after), "length")


def above(asked: Asked, turns: Sequence[float], after: Predicted) -> tuple[AtCorner, ...]:
    return tuple(
        at_corner(corner, n, asked.say(load / STANDARD_GRAVITY, "mass", 0))
        for corner, n, load in zip(CORNERS, turns, after.readings, strict=True)
    )


def tables(
    asked: Asked, now: Standing, turns: Sequence[float], after: Predicted
) -> tuple[Table, ...]:
    rows = []
    for place, (_, label) in enumerate(CORNER_LABELS):
        before, then = now.readings[place], after.readings[place]
        rows.append(
            (
                tr(label),
                asked.bare(before / STANDARD_GRAVITY, "mass"),
                asked.bare(before / now.shares.total, "share"),
                turns_number(turns[place]),
                asked.bare(then / STANDARD_GRAVITY, "mass"),
                asked.bare(after.rises[place], "length"),
            )
        )
    mass = asked.symbol("mass")
    heads = (
        tr("Corner"), tr("Now {unit}", unit=mass), tr("Share %"), tr("Turns down"),
        tr("Then {unit}", unit=mass), tr("Higher by {unit}", unit=asked.symbol("length")),
    )  # fmt: skip
    return Table(tr("Corners before and after"), heads, tuple(rows)), _opposite(asked, now)


def opposite(ways: tuple[float, float]) -> dict[str, str]:
    """Which way the collars of each end go; `ways` are 1 for the way that adds cross weight."""
    left, right = tr("left down, right up"), tr("right down, left up")
    front, rear = ways
    return {"front": left if front > 0 else right, "rear": right if rear > 0 else left}


_TITLES = {
    "all": later("Opposite turns at all four: front left and rear right down"),
    "front": later("Opposite turns at the front: left down, right up"),
    "rear": later("Opposite turns at the rear: right down, left up"),
}


def _opposite(asked: Asked, now: Standing) -> Table:
    """What so many opposite steps do, for any target."""
    where, step = asked.where, asked.turn_step
    rows = []
    for count in _STEPS_SHOWN:
        turns = [count * step * each for each in PAIRS[where]]
        change = now.change(turns)
        shown = shares(change.on_scales(now.readings)).cross
        higher = 2 * change.roll * now.corners[0].y
        rows.append((turns_number(count * step), asked.bare(shown, "share"),
                     asked.bare(higher, "length")))  # fmt: skip
    lean = tr("Front: left higher by {unit}", unit=asked.symbol("length"))
    heads = (tr("Turns (−: the other way)"), tr("Cross weight %"), lean)
    return Table(tr(_TITLES[where]), heads, tuple(rows), mark=_STEPS_SHOWN.index(0))


def plot(asked: Asked, now: Standing, turns: Sequence[float]) -> Plot:
    slope = cross_of_a_turn(now, asked.where)
    mine = max(abs(n) for n in turns)
    reach = max(2.0, mine + 1)
    line = [(n, now.shares.cross + slope * n) for n in (-reach, reach)]
    target = asked.cross_wanted
    return Plot(
        tr(_TITLES[asked.where]),
        Axis(tr("Turns of each collar (−: the other way)"), "turns"),
        Axis(tr("Cross weight"), "share"),
        (
            Curve(tr("cross weight"), tuple(line)),
            Curve(tr("wanted"), ((-reach, target), (reach, target)), "limit"),
        ),
        (Mark(0.0, now.shares.cross, tr("now")),),
        tr(
            "One turn of each collar moves the cross weight by {moves}; it is {cross} now.",
            moves=asked.say(abs(slope), "share"),
            cross=asked.say(now.shares.cross, "share"),
        ),
    )


def cautions(
    asked: Asked, now: Standing, turns: Sequence[float], after: Predicted
) -> tuple[Caution, ...]:
    found = [
        *(one for one in findings.of_corners(after, asked.turn_step) if one.bars),
        *stops_left_out(asked),
    ]
    for corner, leg, n in zip(CORNERS, now.legs, turns, strict=True):
        found += findings.far_turned(corner, n, leg.pitch)
    found += left_loose(asked, after)
    return (*found, stand())


def hidden(asked: Asked, after: Predicted, cross: Uncertain) -> Iterator[str]:
    """Where less is to be gained than the readings are doubted by."""
    gain, doubt = abs(asked.cross_wanted - cross.value), COVERAGE * cross.u
    if gain < doubt and any(after.rises):
        yield tr(
            "The cross weight is {gain} off, and by friction and scales it is known to ± {within}: "
            "press the car down and weigh, lift it and weigh, and go by the means.",
            gain=asked.say(gain, "share", 2),
            within=asked.say(doubt, "share", 2),
        )


def working(asked: Asked, now: Standing) -> tuple[Working, ...]:
    say = asked.say
    fl, fr, rl, rr = (asked.typed(f / STANDARD_GRAVITY, "mass") for f in now.readings)
    total = asked.typed(now.shares.total / STANDARD_GRAVITY, "mass")
    return (
        Working(tr("front share = (front left + front right) / total"),
                f"({fl} + {fr}) / {total} = {say(now.shares.front, 'share')}", tr("definition")),
        Working(tr("left share = (front left + rear left) / total"),
                f"({fl} + {rl}) / {total} = {say(now.shares.left, 'share')}", tr("definition")),
        cross_working(f"({fl} + {rr}) / {total} = {say(now.shares.cross, 'share')}"),
        *_turns_working(asked, now),
    )  # fmt: skip


def _turns_working(asked: Asked, now: Standing) -> tuple[Working, ...]:
    where = asked.where
    still = where == "all"  # the body stays where it is, so each spring stands alone
    return (
        Working(
            tr("one turn of all four, opposite, moves the cross weight by")
            if still
            else tr("one turn of the two, opposite, moves the cross weight by"),
            asked.say(cross_of_a_turn(now, where), "share", 2),
            tr("statics of a rigid body on four springs"),
        ),
        Working(
            tr("exact turns down: load to shift at a corner / (wheel rate × lift of a turn)")
            if still
            else tr("exact turns down: cross weight to go / what one turn moves it by"),
            "; ".join(
                f"{corner_word(key)} {turns_text(round(n, 2))}"
                for key, n in zip(CORNERS, exact(asked, now), strict=True)
            ),
            tr("Hooke's law") if still else tr("statics of a rigid body on four springs"),
        ),
    )


def writes(asked: Asked, turns: Sequence[float]) -> tuple[Write, ...]:
    return tuple(collar_writes(asked, dict(zip(CORNERS, turns, strict=True))))
