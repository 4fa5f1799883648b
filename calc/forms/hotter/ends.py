"""Oil for today at one end: leave it in, or fill another from the bottles."""

from dataclasses import dataclass

from calc.answering.answer import Caution, Pour, Step, Write
from calc.forms.bottles import (
    compared,
    leave_oil,
    nearest_words,
    needs_oil,
    owned,
    pours,
    refill,
    refilled,
)
from calc.forms.filling import Fill, Wanted, filled_together, in_stock
from calc.forms.hotter.inputs import Asked
from calc.forms.names import dampers_label
from calc.forms.oil_choice import NEAR, Named, NoOil
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.oil import clamp
from calc.physics.warm import dynamic_at


@dataclass(frozen=True)
class EndPart:
    """What the answer has for an end; `made` is the oil to fill, where there is one, and it is
    `lacking` where no bottle was entered to make it of."""

    steps: tuple[Step, ...]
    cautions: tuple[Caution, ...] = ()
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
    made = filled_together(in_stock(asked.bottles), wanted, asked.say)
    return {end: _part(asked, end, made.get(end)) for end in ENDS}


def _part(asked: Asked, end: End, made: Fill | NoOil | None) -> EndPart:
    """`made` is the oil to fill in, or why there is none; neither where that in it is right."""
    if made is None:
        oil = asked.say(asked.grade(end), "viscosity")
        why = tr("It feels as it did, to within the ± of its label.")
        return EndPart((Step(leave_oil(end, oil), why),))
    if isinstance(made, Fill):
        notes = refilled(asked, end, made.oil.viscosity, asked.now)
        step = _fill(asked, end, made.oil)
        return EndPart((step,), writes=notes, pours=pours(made.poured, end), made=made.oil)
    wanted = asked.wanted(end)
    needs = needs_oil(end, asked.say(wanted, "viscosity"))
    if not asked.bottles:
        return EndPart((Step(needs),), lacking=True)
    stop = Caution(tr("{dampers}: {lack}.", dampers=dampers_label(end), lack=made), stop=True)
    near = nearest_words(asked, owned(asked.bottles), wanted).strip()
    return EndPart((Step(needs, near),), cautions=(stop,))


def _fill(asked: Asked, end: End, made: Named) -> Step:
    return Step(
        refill(end, made.words),
        tr(
            "That is {viscosity} by label (25 °C). At {now} it is {compared} the {old} oil "
            "was at {then}.",
            viscosity=asked.say(made.viscosity, "viscosity"),
            compared=compared(asked, feels(asked, end, made.viscosity)),
            old=asked.say(asked.grade(end), "viscosity"),
            now=asked.typed(asked.now, "temperature"),
            then=asked.typed(asked.then(end), "temperature"),
        ),
    )
