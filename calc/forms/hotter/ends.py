"""Oil for today at one end: leave it in, or fill another from the bottles."""

import math
from dataclasses import dataclass

from calc.answering.answer import Pour, Step, Write
from calc.forms.bottles import (
    compared,
    leave_oil,
    needs_oil,
    pours,
    refill,
    refill_gives,
    refilled,
    sentence,
)
from calc.forms.filling import Fill, Wanted, filled_nearest, filled_together, in_stock
from calc.forms.hotter.inputs import Asked
from calc.forms.oil_choice import NEAR, Named, NoOil
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.oil import clamp
from calc.physics.warm import dynamic_at

_WORTH = 0.05
"""Share of a viscosity; a label is no surer (common practice, no source)."""


@dataclass(frozen=True)
class EndPart:
    """What the answer has for an end; `made` is the oil to fill, where there is one, and it is
    `lacking` where no bottle was entered to make it of."""

    steps: tuple[Step, ...]
    writes: tuple[Write, ...] = ()
    pours: tuple[Pour, ...] = ()
    made: Named | None = None
    lacking: bool = False


def feels(asked: Asked, end: End, grade: float) -> float:
    """How thick an oil is today against the one that was right when it was right: 1 alike."""
    right = dynamic_at(asked.grade(end), asked.then(end))
    return dynamic_at(grade, clamp(asked.now)) / right


def of_ends(asked: Asked) -> dict[End, EndPart]:
    """The one instruction for each end."""
    wanted = {
        end: Wanted(asked.wanted(end), asked.fills[end].to_make, asked.syringe)
        for end in ENDS
        if abs(asked.wanted(end) / asked.grade(end) - 1) > NEAR
    }
    stock = in_stock(asked.bottles)
    made = filled_together(stock, wanted, asked.say)
    lacks = {end: one for end, one in made.items() if isinstance(one, NoOil)}
    for end in lacks:
        near = filled_nearest(stock, made, wanted[end], asked.say)
        if near is not None and _is_nearer(asked, end, near.oil.viscosity):
            made[end] = near
    return {end: _part(asked, end, made.get(end), lacks.get(end)) for end in ENDS}


def _is_nearer(asked: Asked, end: End, grade: float) -> bool:
    """Whether an oil is so much nearer to the one wanted than that in it that a refill is worth the
    work."""
    wanted = asked.wanted(end)
    off, stays = (abs(math.log(one / wanted)) for one in (grade, asked.grade(end)))
    return off + _WORTH < stays


def _part(asked: Asked, end: End, made: Fill | NoOil | None, lack: NoOil | None) -> EndPart:
    """`made` is the oil to fill in, or why that in it stays; neither where that is right. `lack` is
    why the bottles do not give the oil wanted."""
    oil = asked.say(asked.grade(end), "viscosity")
    if made is None:
        why = tr("It feels as it did, to within the ± of its label.")
        return EndPart((Step(leave_oil(end, oil), why),))
    why_not = f"{sentence(lack)} " if lack and asked.bottles else ""
    if isinstance(made, Fill):
        notes = refilled(asked, end, made.oil.viscosity, asked.now)
        step = _fill(asked, end, made.oil, why_not)
        return EndPart((step,), notes, pours(made.poured, end), made.oil)
    if not asked.bottles:
        needed = asked.say(asked.wanted(end), "viscosity")
        return EndPart((Step(needs_oil(end, needed)),), lacking=True)
    stays = tr(
        "What is in them is as near as any bottle that holds enough: at {now} it is {compared} "
        "it was at {then}.",
        compared=compared(asked, feels(asked, end, asked.grade(end))),
        now=asked.typed(asked.now, "temperature"),
        then=asked.typed(asked.then(end), "temperature"),
    )
    return EndPart((Step(leave_oil(end, oil), why_not + stays),))


def _fill(asked: Asked, end: End, made: Named, why_not: str) -> Step:
    return Step(
        refill(end, made.words),
        why_not
        + refill_gives(
            asked,
            made.viscosity,
            asked.grade(end),
            feels=feels(asked, end, made.viscosity),
            now=asked.now,
            then=asked.then(end),
        ),
    )
