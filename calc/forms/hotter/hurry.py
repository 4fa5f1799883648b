"""Oil for today with too little time: both ends, one of them, or the car as it is."""

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import hypot, log

from calc.answering.answer import Step, Table
from calc.answering.hand import wait_words
from calc.forms import hurry
from calc.forms.bottles import compared
from calc.forms.hotter.ends import EndPart, feels
from calc.forms.hotter.inputs import Asked
from calc.forms.names import end_label, end_word
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.oil import clamp

_EACH = 2  # dampers of an end


def hurried(
    asked: Asked, parts: Mapping[End, EndPart]
) -> tuple[tuple[Step, ...], tuple[Table, ...], tuple[End, ...]]:
    """What to say first, the table of what fits, and the ends of which the rest is told. Without a
    hurry, and where nothing is to be filled, nothing is said and both ends are told."""
    fillable = [end for end in ENDS if parts[end].made]
    if asked.time == "enough" or not fillable:
        return (), (), ENDS
    left, u = asked.left, asked.u["refill"] / asked.refill
    options = {
        "+".join(some): _option(asked, parts, some)
        for count in range(len(fillable) + 1)
        for some in combinations(fillable, count)
    }
    chosen = hurry.best(tuple(options.values()), left)
    filled = tuple(end for end in fillable if end in chosen.key.split("+"))
    heads = tuple(end_label(end) for end in ENDS)
    table = hurry.table(tuple(options.values()), chosen, left, u, heads)
    rest = tuple(end for end in ENDS if end in filled or end not in fillable)
    return (_first(asked, parts, chosen, filled),), (table,), rest


def _option(asked: Asked, parts: Mapping[End, EndPart], filled: Sequence[End]) -> hurry.Option:
    ratios = [_then(asked, parts[end], end, end in filled) for end in ENDS]
    return hurry.Option(
        key="+".join(filled),
        says=_says(filled),
        work=_EACH * len(filled) * asked.refill,
        ends=tuple(_short(asked, ratio) for ratio in ratios),
        off=round(hypot(*map(log, ratios)), 9),
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


def _short(asked: Asked, ratio: float) -> str:
    """ "17% thinner", for a column."""
    share = asked.say(abs(ratio - 1), "share", 0)
    if share == asked.say(0.0, "share", 0):
        return tr("as it was")
    return tr("{share} thicker", share=share) if ratio > 1 else tr("{share} thinner", share=share)


def _first(
    asked: Asked, parts: Mapping[End, EndPart], chosen: hurry.Option, filled: Sequence[End]
) -> Step:
    says = tr("{time} to go: {what}.", time=wait_words(asked.left), what=_says(filled))
    undone = [_stays(asked, end) for end in ENDS if parts[end].made and end not in filled]
    if filled and undone:
        undone.append(
            tr("Until that end is done too, the balance of front to rear is not the one you had.")
        )
    tight = hurry.tight_words(chosen, asked.left, asked.u["refill"] / asked.refill)
    return Step(says, " ".join([*tight, *undone, *_bubbles(asked, parts, chosen, filled)]))


def _stays(asked: Asked, end: End) -> str:
    return tr(
        "Not done: the {end} oil stays {compared} it was at {then}.",
        end=end_word(end),
        compared=compared(asked, feels(asked, end, asked.grade(end))),
        then=asked.say(asked.then(end), "temperature"),
    )


def _bubbles(
    asked: Asked, parts: Mapping[End, EndPart], chosen: hurry.Option, filled: Sequence[End]
) -> list[str]:
    """What the rest that is left does for the bubbles of the dampers that were filled."""
    lengths = {end: asked.length(end) for end in ENDS}
    if not filled:
        return []
    rest, warm = asked.left - chosen.work, clamp(asked.now)
    if rest < hurry.SHORTEST:
        return [
            tr("There is no time for the bubbles to leave: fill slowly, and bleed again after.")
        ]
    known = [
        hurry.bubbles_left(rest, length, made.viscosity, warm)
        for end in filled
        if (made := parts[end].made) and (length := lengths[end]) is not None
    ]
    if len(known) < len(filled):
        return [
            tr(
                "Let them stand for the {rest} that remain: the smallest bubbles are then still "
                "in. Bleed again after the heat.",
                rest=_down(rest),
            )
        ]
    return [
        tr(
            "Let them stand for the {rest} that remain: bubbles smaller than {size} stay in. "
            "Bleed again after the run.",
            rest=_down(rest),
            size=asked.say(max(known), "length", 2),
        )
    ]


def _down(seconds: float) -> str:
    """A rest in whole minutes, rounded down."""
    return wait_words(seconds // 60 * 60)
