"""Stroke: how far to turn the rod end of each damper, so that all four have the stroke wanted."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from calc.answering.answer import Answer, AtCorner, Caution, Step, Write
from calc.answering.hand import to_step
from calc.forms.findings import check_rod_end, rod_end_holds
from calc.forms.names import (
    end_word,
    labelled_corner,
    labelled_end,
)
from calc.forms.stroke import pictures as stroke_show
from calc.forms.stroke.inputs import Asked, DamperRow
from calc.forms.stroke.pictures import Turned, apart
from calc.forms.turning import rod_end_turned, rod_end_way
from calc.forms.writes import after_turns, corner_write
from calc.language import later, tr
from calc.model.corners import ENDS, Corner, End
from calc.physics.thread import engagement_left, length_after, rod_end_turns
from calc.replying.figures import Figures, by_key, figure
from calc.replying.form import Form
from calc.units import turns_number, turns_text

_LENGTH = later(
    "The length fully out, eye to eye, decides the droop: match it in each pair first, then "
    "compare the strokes. Turning a rod end changes that length; droop and preload at full droop "
    "move with it."
)
_HOLDS = later(
    "Where the piston meets the cap before the rod end meets the body, the rod end changes the "
    "length of the damper and not its stroke. A rod end that has to face one way goes in half "
    "turns: set the smallest turn to 1/2."
)
_GRIP = later(
    "Hold the shaft where the seal never runs, in something soft: a scratched shaft leaks. "
    "Do not force a rod end on plastic threads. Keep thread-locking compound off the skin and away "
    "from plastic: follow its data sheet."
)
_APART = later("The {end} dampers then differ by {apart}.")
_CHANGED = later("Between the {end} dampers it changes by {apart}.")


class RodEndFigures(Figures):
    turns: float = figure("turns of the rod end, exact (out is positive)", kind="turns")
    stroke: float = figure("stroke after the rounded turns", kind="length")
    thread: float = figure("thread still in the rod end", kind="length")


class PairFigures(Figures):
    apart_before: float = figure("stroke, left minus right, before", kind="length")
    apart: float = figure("stroke, left minus right, after", kind="length")


class StrokeFigures(Figures):
    dampers: Mapping[Corner, RodEndFigures] = by_key(labelled_corner)
    pairs: Mapping[End, PairFigures] = by_key(labelled_end)


def _wanted(asked: Asked) -> dict[Corner, float]:
    """The stroke to reach at each corner: the one entered, or the shorter one of its pair."""
    rows = {row.key: row for row in asked.damper}
    if asked.aim == "wanted":
        return {key: row.wanted for key, row in rows.items()}
    return {key: min(row.stroke, rows[key.other].stroke) for key, row in rows.items()}


def _exact_turns(asked: Asked) -> dict[Corner, float]:
    wanted = _wanted(asked)
    return {
        row.key: rod_end_turns(row.stroke, wanted[row.key], asked.pitch) for row in asked.damper
    }


def turned(asked: Asked, turns: Mapping[Corner, float]) -> list[Turned]:
    """Every damper after these turns of its rod end."""
    wanted, exact = _wanted(asked), _exact_turns(asked)

    def one(row: DamperRow) -> Turned:
        key, n = row.key, turns[row.key]
        after = length_after(row.stroke, n, asked.pitch)
        thread = engagement_left(row.engaged, n, asked.pitch)
        length = None if row.length is None else length_after(row.length, n, asked.pitch)
        return Turned(key, row.stroke, wanted[key], exact[key], n, after, thread, length)

    return [one(row) for row in asked.damper]


def figures(asked: Asked, turns: Mapping[Corner, float]) -> StrokeFigures:
    dampers = {one.key: one for one in turned(asked, turns)}
    pairs = {}
    for end in ENDS:
        before, after = apart(dampers, end)
        pairs[end] = PairFigures(apart_before=before, apart=after)
    return StrokeFigures(
        dampers={
            key: RodEndFigures(turns=one.exact, stroke=one.after, thread=one.thread)
            for key, one in dampers.items()
        },
        pairs=pairs,
    )


def solve(asked: Asked) -> Answer:
    turns = {key: to_step(n, asked.turn_step) for key, n in _exact_turns(asked).items()}
    for row in asked.damper:
        field = DamperRow.wanted if asked.aim == "wanted" else DamperRow.stroke
        check_rod_end(row.at(field), row.label_of(field), turns[row.key], asked.pitch)
    dampers = turned(asked, turns)
    return Answer(
        steps=(*(_step(asked, one) for one in dampers), *_lengths(asked, dampers)),
        above=tuple(_above(asked, one) for one in dampers),
        quantities=asked.quantities(asked.propagate(lambda at: figures(at, turns))),
        tables=(stroke_show.table(asked, dampers), stroke_show.pairs(asked, dampers)),
        plots=(stroke_show.plot(asked, dampers),),
        cautions=(
            *(
                caution
                for one in dampers
                for caution in rod_end_holds(
                    asked, one.label, one.thread, asked.thread, asked.material
                )
            ),
            *(Caution(tr(text)) for text in (_LENGTH, _HOLDS, _GRIP)),
        ),
        working=stroke_show.working(asked, dampers),
        writes=tuple(
            write
            for row, one in zip(asked.damper, dampers, strict=True)
            for write in _writes(asked, row, one)
        ),
    )


def _lengths(asked: Asked, dampers: Sequence[Turned]) -> Iterator[Step]:
    """What rod ends that are turned differently make of the lengths of a pair."""
    by_corner = {one.key: one for one in dampers}
    unlike = []
    for end in ENDS:
        left, right = (by_corner[corner] for corner in end.corners)
        if left.turns == right.turns:
            continue
        if left.length is None or right.length is None:
            apart = abs(left.turns - right.turns) * asked.pitch
            text = _CHANGED
        else:
            apart = abs(left.length - right.length)
            text = _APART
        if apart > asked.turn_step * asked.pitch / 2:
            unlike.append(tr(text, end=end_word(end), apart=asked.say(apart, "length")))
    if unlike:
        yield Step(
            tr("Measure again how long the dampers are, fully out."),
            " ".join((*unlike, tr("“Length and travel” makes a pair alike."))),
        )


def _step(asked: Asked, one: Turned) -> Step:
    stands, says = asked.say(one.after, "length"), rod_end_turned(one.key, one.turns)
    if one.turns == 0:
        return Step(says, tr("Its stroke is {stroke}.", stroke=stands))
    gives = tr(
        "Stroke is then {stroke}; {thread} of thread stays engaged.",
        stroke=stands,
        thread=asked.say(one.thread, "length", 1),
    )
    way = rod_end_way(one.turns)
    return Step(says, f"{way} {gives}", of=f"{one.key}_turns", step=asked.turn_step)


def _above(asked: Asked, one: Turned) -> AtCorner:
    """A corner seen from above. Its rod end goes along the shaft, not up or down: no arrow."""
    shown, says = (
        _way(one.turns, spelt(abs(one.turns))) if one.turns else tr("leave it")
        for spelt in (turns_number, turns_text)
    )
    return AtCorner(one.key, (shown, asked.say(one.after, "length")), says=says)


def _way(out: float, turns: str) -> str:
    return tr("{turns} out", turns=turns) if out > 0 else tr("{turns} in", turns=turns)


def _writes(asked: Asked, row: DamperRow, one: Turned) -> list[Write]:
    if one.turns == 0:
        return []

    pitch = asked.at(Asked.pitch)
    values: tuple[tuple[str, float | None, Any], ...] = (
        ("stroke", one.after, DamperRow.stroke),
        ("engaged", one.thread, DamperRow.engaged),
        ("damper_length", one.length, DamperRow.length),
    )
    return [
        corner_write(asked, one.key, name, value, after_turns(asked, row.at(of), one.turns, pitch))
        for name, value, of in values
        if value is not None
    ]


FORM = Form(
    slug="stroke",
    title="Stroke",
    moment="bench",
    asks="How far does each rod end go in or out, so that the dampers are alike?",
    inputs=Asked,
    solve=solve,
    first=("damper.stroke", "damper.wanted"),
)
