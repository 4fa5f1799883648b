"""One change with too little time: all of it, the change with the damping it then has, or none."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from calc.answering.answer import Step, Table
from calc.answering.hand import wait_words
from calc.forms import hurry
from calc.forms.fields import against
from calc.forms.hurry import Option
from calc.forms.names import end_label, end_word
from calc.forms.whole_car.change import IN_THE_DAMPER, changed_ends
from calc.forms.whole_car.figures import Plan
from calc.forms.whole_car.inputs import Asked
from calc.language import later, tr
from calc.model.corners import ENDS, PER_END, End

_MORE, _LESS = later("{share} more"), later("{share} less")
_WHOLE, _NOTHING, _HALF = 0.0, 1.0, 2.0
"""What is undone of a change; half of one leaves front and rear as nobody meant them."""


@dataclass(frozen=True)
class Fitted:
    """The plan as far as there is time for it, or `nothing`; what is said of that first."""

    plan: Plan
    nothing: bool = False
    first: tuple[Step, ...] = ()
    tables: tuple[Table, ...] = ()


def fitted(asked: Asked, made: Plan) -> Fitted:
    """What fits in the time left; all of it without a hurry, and where nothing is to be done."""
    # With a load only collars are turned, and that is soon done.
    if asked.change == "load" or asked.hurry.time == "enough" or not changed_ends(asked):
        return Fitted(made)
    options = _inside(asked, made) if asked.change in IN_THE_DAMPER else _outside(asked, made)
    chosen = hurry.best(asked.hurry, options)
    heads = [tr("{end} damping", end=end_label(end)) for end in ENDS]
    return Fitted(
        _without(made, chosen) if asked.change not in IN_THE_DAMPER else made,
        nothing=chosen.is_nothing,
        first=(hurry.first(asked.hurry, chosen, _because(asked, made, options, chosen)),),
        tables=(hurry.table(asked.hurry, options, chosen, heads),),
    )


def _without(made: Plan, chosen: Option) -> Plan:
    """The plan with the damping of an end that is not filled as the change leaves it."""
    left = {
        end: one if end in chosen.filled or not one.named else replace(
            one, mended=one.changed, oil=made.becomes.end(end).oil, named=None, poured=()
        )
        for end, one in made.damping.items()
    }  # fmt: skip
    return replace(made, damping=left)


def _outside(asked: Asked, made: Plan) -> list[Option]:
    """The change is made at springs, mounts and collars; for its damping dampers are opened."""
    fillable = [end for end in ENDS if made.damping[end].named]
    corners = PER_END * len(changed_ends(asked))
    options = []
    for some in hurry.parts_of(fillable):
        ratios = {end: _damps(made, end, mended=end in some) for end in ENDS}
        undone = _WHOLE, hurry.log_distance(ratios.values())
        options.append(_option(asked, _says(some, fillable), some, corners, ratios, undone))
    return [*options, _as_it_is(asked)]


def _inside(asked: Asked, made: Plan) -> list[Option]:
    """The change is made in the dampers, and what keeps their damping with it."""
    changed = changed_ends(asked)
    options = []
    for some in (changed, *((end,) for end in changed if len(changed) > 1)):
        ratios = {end: _damps(made, end, mended=True) if end in some else 1.0 for end in ENDS}
        says = tr("all of it")
        if len(some) < len(changed):
            says = tr("the {end} only", end=end_word(some[0]))
        undone = _WHOLE if len(some) == len(changed) else _HALF
        options.append(_option(asked, says, some, 0, ratios, (undone,)))
    return [*options, _as_it_is(asked)]


def _as_it_is(asked: Asked) -> Option:
    ratios = dict.fromkeys(ENDS, 1.0)
    return _option(asked, tr("leave the car as it is"), (), 0, ratios, (_NOTHING,))


def _option(
    asked: Asked,
    says: str,
    filled: tuple[End, ...],
    corners: int,
    ratios: Mapping[End, float],
    undone: tuple[float, ...],
) -> Option:
    time, dampers = asked.hurry, PER_END * len(filled)
    work, longest = dampers * time.refill, dampers * time.refill_longest
    if corners:
        work += corners * time.at_corner
        longest += corners * time.at_corner_longest
    return Option(
        says=says,
        filled=filled,
        work=work,
        longest=longest,
        leaves=tuple(
            against(asked, ratio, hurry.AS_IT_WAS, _MORE, _LESS) for ratio in ratios.values()
        ),
        undone=undone,
    )


def _damps(made: Plan, end: End, *, mended: bool) -> float:
    """The damping ratio of an end against before; 1: alike."""
    damping = made.damping[end]
    return (damping.mended if mended else damping.changed) / damping.before


def _says(filled: Sequence[End], fillable: Sequence[End]) -> str:
    if len(filled) == len(fillable):
        return tr("all of it")
    if not filled:
        return tr("the change, with the oil left in")
    return tr("the change, refill the {end} only", end=end_word(filled[0]))


def _because(
    asked: Asked, made: Plan, options: Sequence[Option], chosen: Option
) -> tuple[str, ...]:
    lengths = {end: asked.ends[end].length for end in ENDS}  # asked for, whatever is filled
    if chosen.is_nothing:
        least = min(one.work for one in options if one.undone[0] == _WHOLE)
        return (tr("The change alone takes {work}: leave it for later.", work=wait_words(least)),)
    unfilled = [
        end for end in ENDS
        if asked.change not in IN_THE_DAMPER
        and made.damping[end].named and end not in chosen.filled
    ]  # fmt: skip
    oils = {end: made.damping[end].oil for end in chosen.filled}
    rest = asked.hurry.left - chosen.work
    bubbles = hurry.bubbles_left(asked, rest, oils, lengths, asked.warm)
    return (*(_stays(asked, made, end) for end in unfilled), bubbles)


def _stays(asked: Asked, made: Plan, end: End) -> str:
    ratio = _damps(made, end, mended=False)
    share = asked.say(abs(ratio - 1), "share", 0)
    told = {"end": end_word(end), "share": share}
    if ratio > 1:
        return tr("Not done: the {end} damps {share} more than before the change.", **told)
    return tr("Not done: the {end} damps {share} less than before the change.", **told)
