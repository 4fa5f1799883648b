"""Oil for today with too little time: both ends, one of them, or the car as it is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot, log

from calc.answering.answer import Step, Table
from calc.answering.hand import wait_words
from calc.forms.bottles import compared
from calc.forms.hotter.ends import EndPart, feels
from calc.forms.hotter.inputs import Asked
from calc.forms.names import end_label, end_word
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.oil import clamp
from calc.physics import bubbles, oil

_EACH = 2  # dampers of an end
_SHORTEST = 60.0  # s; a shorter rest lets next to nothing out


@dataclass(frozen=True)
class Option:
    """Part of the work: the ends that are filled, how long that takes (s), and how thick the oil
    of each end then is against what was right (1: alike)."""

    filled: tuple[End, ...]
    work: float
    ratios: tuple[float, ...]

    @property
    def off(self) -> float:
        """How far off both ends are together; 0: nothing."""
        return round(hypot(*map(log, self.ratios)), 9)


def hurried(
    asked: Asked, parts: Mapping[End, EndPart]
) -> tuple[tuple[Step, ...], tuple[Table, ...], tuple[End, ...]]:
    """What to say first, the table of what fits, and the ends of which the rest is told. Without a
    hurry, and where nothing is to be filled, nothing is said and both ends are told."""
    fillable = [end for end in ENDS if parts[end].made]
    if asked.time == "enough" or not fillable:
        return (), (), ENDS
    options = [
        _option(asked, parts, some)
        for count in range(len(fillable) + 1)
        for some in combinations(fillable, count)
    ]
    chosen = _best(options, asked.left)
    rest = tuple(end for end in ENDS if end in chosen.filled or end not in fillable)
    return (_first(asked, parts, chosen),), (_table(asked, options, chosen),), rest


def _option(asked: Asked, parts: Mapping[End, EndPart], filled: tuple[End, ...]) -> Option:
    ratios = [_then(asked, parts[end], end, end in filled) for end in ENDS]
    return Option(filled, _EACH * len(filled) * asked.refill, tuple(ratios))


def _then(asked: Asked, part: EndPart, end: End, filled: bool) -> float:
    """How thick the oil of an end is against what was right."""
    made = part.made if filled else None
    return feels(asked, end, made.viscosity if made else asked.grade(end))


def _best(options: Sequence[Option], left: float) -> Option:
    """Of those that fit, the one that leaves the least undone; the shortest where several do. To
    leave everything as it is always fits."""
    fitting = [option for option in options if option.work <= left]
    return min(fitting, key=lambda option: (option.off, option.work))


def _surely_fits(asked: Asked, option: Option) -> bool:
    """Whether it fits even where the work takes as long as it may."""
    u = asked.u["refill"] / asked.refill
    return option.work * (1 + 2 * u) <= asked.left


def _table(asked: Asked, options: Sequence[Option], chosen: Option) -> Table:
    """All of them, the longest first."""
    ordered = sorted(options, key=lambda option: -option.work)
    rows = tuple(
        (
            _says(option),
            wait_words(option.work) if option.work else tr("at once"),
            _fits(asked, option),
            *(_short(asked, ratio) for ratio in option.ratios),
        )
        for option in ordered
    )
    title = tr("Work that fits into {time}", time=wait_words(asked.left))
    heads = (tr("What you do"), tr("Time"), tr("Fits"), *map(end_label, ENDS))
    return Table(title, heads, rows, mark=ordered.index(chosen))


def _fits(asked: Asked, option: Option) -> str:
    if _surely_fits(asked, option):
        return tr("yes")
    return tr("just") if option.work <= asked.left else tr("no")


def _says(option: Option) -> str:
    if not option.filled:
        return tr("leave the oil in")
    if len(option.filled) == len(ENDS):
        return tr("refill both ends")
    return tr("refill the {end} only", end=end_word(option.filled[0]))


def _short(asked: Asked, ratio: float) -> str:
    """ "17% thinner", for a column."""
    share = asked.say(abs(ratio - 1), "share", 0)
    if share == asked.say(0.0, "share", 0):
        return tr("as it was")
    return tr("{share} thicker", share=share) if ratio > 1 else tr("{share} thinner", share=share)


def _first(asked: Asked, parts: Mapping[End, EndPart], chosen: Option) -> Step:
    says = tr("{time} to go: {what}.", time=wait_words(asked.left), what=_says(chosen))
    because = []
    if not _surely_fits(asked, chosen):
        because.append(tr("It is tight: {work} of work.", work=wait_words(chosen.work)))
    undone = [end for end in ENDS if parts[end].made and end not in chosen.filled]
    because += [_stays(asked, end) for end in undone]
    if chosen.filled and undone:
        because.append(
            tr("Until that end is done too, the balance of front to rear is not the one you had.")
        )
    return Step(says, " ".join([*because, *_bubbles(asked, parts, chosen)]))


def _stays(asked: Asked, end: End) -> str:
    return tr(
        "Not done: the {end} oil stays {compared} it was at {then}.",
        end=end_word(end),
        compared=compared(asked, feels(asked, end, asked.grade(end))),
        then=asked.say(asked.then(end), "temperature"),
    )


def _bubbles(asked: Asked, parts: Mapping[End, EndPart], chosen: Option) -> list[str]:
    """What the rest that is left does for the bubbles of the dampers that were filled."""
    lengths = {end: asked.length(end) for end in ENDS}  # both are asked for, whatever is filled
    if not chosen.filled:
        return []
    rest = asked.left - chosen.work
    if rest < _SHORTEST:
        return [
            tr("There is no time for the bubbles to leave: fill slowly, and bleed again after.")
        ]
    known = [
        _bubbles_left(rest, length, made.viscosity, clamp(asked.now))
        for end in chosen.filled
        if (made := parts[end].made) and (length := lengths[end]) is not None
    ]
    if len(known) < len(chosen.filled):
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


def _bubbles_left(rest: float, length: float, grade: float, warm: float) -> float:
    """Diameter, m, of the largest bubble that a rest (s, above 0) leaves in a damper: its inside
    length m, its oil m2/s at 25 C, warm K."""
    liquid = oil.viscosity_at(grade, warm), oil.density(grade, warm)
    return bubbles.cleared_diameter(length, rest, *liquid)


def _down(seconds: float) -> str:
    """A rest in whole minutes, rounded down."""
    return wait_words(seconds // 60 * 60)
