"""Too little time: which parts of the right answer fit into the minutes left, what each leaves
undone, and which of them is best."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot, log
from typing import Any, Literal

from calc.answering.answer import Step, Table
from calc.answering.hand import wait_words
from calc.answering.uncertainty import COVERAGE
from calc.asking.declare import choice, number
from calc.asking.entry import only
from calc.language import later, tr
from calc.model.corners import End
from calc.model.oil import at_temperature
from calc.physics import bubbles
from calc.replying.inputs import Group, Inputs

IN_A_HURRY = only("time", "short")
_SHORTEST = 60.0  # s; a shorter rest lets next to nothing out


class Hurry(Group):
    """The time there is, and what a refill takes of it."""

    time: Literal["enough", "short"] = choice(
        label="Time available",
        options={"enough": "enough", "short": "too little"},
        measure="If it is too little, the answer says what can be done, and what that leaves "
        "undone.",
    )
    left: float = number(
        label="Time until you drive", kind="wait", usual="5 to 90 min",
        possible="1 to 100000 s", example="30 min", when=IN_A_HURRY,
        measure="From now until the car has to be on the track.",
    )  # fmt: skip
    refill: float = number(
        label="Time to refill one damper", kind="wait", usual="5 to 30 min",
        possible="30 to 20000 s", start="12 min", typical="12 min", relative=0.2, when=IN_A_HURRY,
        measure="Off the car, emptied, filled, shaft worked and back on, without the rest for the "
        "bubbles. The number given is a guess (common practice, no source): time yourself once.",
    )  # fmt: skip

    @property
    def refill_longest(self) -> float:
        """As long as it may take (k = 2), s."""
        return self.longest(Hurry.refill)

    def longest(self, declared: Any) -> float:
        """As long as a time that is asked may be (k = 2), s."""
        name = self.at(declared)
        return self.of.numbers[name] + COVERAGE * self.of.u[name]


@dataclass(frozen=True)
class Option:
    """Part of the work: what it is in words, the ends at which dampers are refilled, how long it
    takes and may take (s), and `leaves`, a text for each column of the table. Of those that fit the
    one with the least `undone`, number by number, is the best; the shortest where several have as
    little."""

    says: str
    filled: tuple[End, ...]
    work: float
    longest: float
    leaves: tuple[str, ...]
    undone: tuple[float, ...]

    @property
    def is_nothing(self) -> bool:
        """Whether the car is left as it is."""
        return not self.work


def parts_of(ends: Sequence[End]) -> Iterator[tuple[End, ...]]:
    """Some of these ends: none, each, all."""
    for count in range(len(ends) + 1):
        yield from combinations(ends, count)


def log_distance(ratios: Iterable[float]) -> float:
    """How far these ratios are from 1 together: the root of the sum of their squared logarithms."""
    return round(hypot(*map(log, ratios)), 9)


AS_IT_WAS = later("as it was")


def best(hurry: Hurry, options: Sequence[Option]) -> Option:
    """The best of those that fit; to leave everything as it is, without work, always fits."""
    fitting = [option for option in options if option.work <= hurry.left]
    return min(fitting, key=lambda option: (option.undone, option.work))


def table(hurry: Hurry, options: Sequence[Option], chosen: Option, heads: Sequence[str]) -> Table:
    """All of them, the longest first; `heads` are those of what they leave."""
    ordered = sorted(options, key=lambda option: -option.work)
    rows = tuple(
        (
            option.says,
            tr("at once") if option.is_nothing else wait_words(option.work),
            _fits(hurry, option),
            *option.leaves,
        )
        for option in ordered
    )
    title = tr("Work that fits into {time}", time=wait_words(hurry.left))
    above = (tr("What you do"), tr("Time"), tr("Fits"), *heads)
    return Table(title, above, rows, mark=ordered.index(chosen))


def _fits(hurry: Hurry, option: Option) -> str:
    if option.longest <= hurry.left:
        return tr("yes")
    return tr("just") if option.work <= hurry.left else tr("no")


def first(hurry: Hurry, chosen: Option, because: Sequence[str]) -> Step:
    """What is done in the time there is, and what that leaves undone."""
    says = tr("{time} to go: {what}.", time=wait_words(hurry.left), what=chosen.says)
    tight = ""
    if chosen.longest > hurry.left:
        tight = tr("Time is tight: {work} of work.", work=wait_words(chosen.work))
    return Step(says, " ".join(filter(None, (tight, *because))))


def bubbles_left(
    asked: Inputs,
    rest: float,
    oils: Mapping[End, float],
    lengths: Mapping[End, float | None],
    warm: float,
) -> str:
    """What the rest that is left (s) does for the bubbles in dampers that were filled with these
    oils (m2/s at 25 C), at a temperature (K); their inside lengths in m, None where nobody knows
    one. Empty where none was filled."""
    if not oils:
        return ""
    if rest < _SHORTEST:
        return tr("There is no time for the bubbles to leave: fill slowly, and bleed again after.")
    sizes = [
        bubbles.cleared_diameter(length, rest, *at_temperature(grade, warm))
        for end, grade in oils.items()
        if (length := lengths[end]) is not None
    ]
    stands = wait_words(rest // 60 * 60)
    if len(sizes) < len(oils):
        return tr(
            "Let them stand for the {rest} that remain: the smallest bubbles are then still in. "
            "Bleed again after the run.",
            rest=stands,
        )
    return tr(
        "Let them stand for the {rest} that remain: bubbles smaller than {size} stay in. "
        "Bleed again after the run.",
        rest=stands,
        size=asked.say(max(sizes), "length", 2),
    )
