"""Oil for today with too little time: both ends, one of them, or the car as it is."""

from collections.abc import Mapping, Sequence

from calc.answering.answer import Step, Table
from calc.forms import hurry
from calc.forms.bottles import compared
from calc.forms.fields import against
from calc.forms.hotter.ends import EndPart, feels
from calc.forms.hotter.inputs import Asked
from calc.forms.hurry import Option
from calc.forms.names import end_label, end_word
from calc.language import later, tr
from calc.model.corners import ENDS, PER_END, End

_THICKER, _THINNER = later("{share} thicker"), later("{share} thinner")


def hurried(
    asked: Asked, parts: Mapping[End, EndPart]
) -> tuple[tuple[Step, ...], tuple[Table, ...], tuple[End, ...]]:
    """What to say first, the table of what fits, and the ends of which the rest is told. Without a
    hurry, and where nothing is to be filled, nothing is said and both ends are told."""
    fillable = [end for end in ENDS if parts[end].made]
    if asked.hurry.time == "enough" or not fillable:
        return (), (), ENDS
    options = [_option(asked, parts, some) for some in hurry.parts_of(fillable)]
    chosen = hurry.best(asked.hurry, options)
    rest = tuple(end for end in ENDS if end in chosen.filled or end not in fillable)
    table = hurry.table(asked.hurry, options, chosen, [end_label(end) for end in ENDS])
    return (hurry.first(asked.hurry, chosen, _because(asked, parts, chosen)),), (table,), rest


def _option(asked: Asked, parts: Mapping[End, EndPart], filled: tuple[End, ...]) -> Option:
    ratios = [_then(asked, parts[end], end, end in filled) for end in ENDS]
    dampers = PER_END * len(filled)
    return Option(
        says=_says(filled),
        filled=filled,
        work=dampers * asked.hurry.refill,
        longest=dampers * asked.hurry.refill_longest,
        leaves=tuple(
            against(asked, ratio, hurry.AS_IT_WAS, _THICKER, _THINNER) for ratio in ratios
        ),
        undone=(hurry.log_distance(ratios),),
    )


def _then(asked: Asked, part: EndPart, end: End, filled: bool) -> float:
    """How thick the oil of an end is against what was right."""
    made = part.made if filled else None
    return feels(asked, end, made.viscosity if made else asked.grade(end))


def _says(filled: Sequence[End]) -> str:
    if not filled:
        return tr("leave the oil in")
    if len(filled) == len(ENDS):
        return tr("refill both ends")
    return tr("refill the {end} only", end=end_word(filled[0]))


def _because(asked: Asked, parts: Mapping[End, EndPart], chosen: Option) -> list[str]:
    undone = [end for end in ENDS if parts[end].made and end not in chosen.filled]
    because = [_stays(asked, end) for end in undone]
    if chosen.filled and undone:
        because.append(
            tr("Until that end is done too, the balance of front to rear is not the one you had.")
        )
    lengths = {end: asked.length(end) for end in ENDS}  # both are asked for, whatever is filled
    oils = {end: made.viscosity for end in chosen.filled if (made := parts[end].made)}
    rest = asked.hurry.left - chosen.work
    return [*because, hurry.bubbles_left(asked, rest, oils, lengths, asked.now)]


def _stays(asked: Asked, end: End) -> str:
    return tr(
        "Not done: the {end} oil stays {compared} it was at {then}.",
        end=end_word(end),
        compared=compared(asked, feels(asked, end, asked.grade(end))),
        then=asked.typed(asked.then(end), "temperature"),
    )
