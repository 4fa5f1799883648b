"""Too little time: which part of the work fits, and what each part leaves undone."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

from calc.answering.answer import Table
from calc.answering.hand import wait_words
from calc.asking.declare import choice, number
from calc.asking.entry import only
from calc.language import tr
from calc.physics import bubbles, oil

SHORTEST = 60.0  # s; a shorter rest lets next to nothing out
Time = Literal["enough", "short"]
IN_A_HURRY = only("time", "short")


def time_there_is() -> Any:
    """Whether there is a hurry, for a field named `time`."""
    return choice(
        label="Time there is",
        options={"enough": "enough", "short": "too little"},
        measure="If it is too little, the answer says what can be done, and what that leaves "
        "undone.",
    )


def time_left() -> Any:
    """How long there is until the car has to drive."""
    return number(
        label="Time until you drive", kind="wait", usual="5 to 90 min",
        possible="1 to 100000 s", example="30 min", when=IN_A_HURRY,
        measure="From now until the car has to be on the track.",
    )  # fmt: skip


def refill_time() -> Any:
    """How long a person works at one damper."""
    return number(
        label="Time to refill one damper", kind="wait", usual="5 to 30 min",
        possible="30 to 20000 s", start="12 min", typical="12 min", relative=0.2, when=IN_A_HURRY,
        measure="Off the car, emptied, filled, shaft worked and back on, without the rest for the "
        "bubbles. The number given is a guess (common practice, no source): time yourself once.",
    )  # fmt: skip


@dataclass(frozen=True)
class Option:
    """Part of the work: in words, how long it is (s), how each end is with it (short, for columns
    of a table), and how far off both are together (0: nothing)."""

    key: str
    says: str
    work: float
    ends: tuple[str, ...]
    off: float


def best(options: Sequence[Option], left: float) -> Option:
    """Of those that fit, the one that leaves the least undone; the shortest where several do. One
    of them has to be to leave everything as it is, which always fits."""
    fitting = [option for option in options if option.work <= left]
    return min(fitting, key=lambda option: (option.off, option.work))


def fits(option: Option, left: float, u: float) -> str:
    """In a word; `u` is the relative standard uncertainty of how long the work is."""
    if option.work * (1 + 2 * u) <= left:
        return tr("yes")
    return tr("just") if option.work <= left else tr("no")


def tight_words(option: Option, left: float, u: float) -> list[str]:
    """A sentence where it may be too much after all."""
    if not option.work or option.work * (1 + 2 * u) <= left:
        return []
    return [tr("It is tight: {work} of work.", work=wait_words(option.work))]


def table(
    options: Sequence[Option], chosen: Option, left: float, u: float, heads: tuple[str, ...]
) -> Table:
    """All of them, the longest first; `heads` are those of the ends."""
    ordered = sorted(options, key=lambda option: -option.work)
    rows = tuple(
        (
            option.says,
            wait_words(option.work) if option.work else tr("at once"),
            fits(option, left, u),
            *option.ends,
        )
        for option in ordered
    )
    title = tr("What fits into {time}", time=wait_words(left))
    columns = (tr("What you do"), tr("Time"), tr("Fits"), *heads)
    return Table(title, columns, rows, mark=ordered.index(chosen))


def bubbles_left(rest: float, length: float, grade: float, warm: float) -> float:
    """Diameter, m, of the largest bubble that a rest (s, above 0) leaves in a damper: its inside
    length m, its oil m2/s at 25 C, warm K."""
    liquid = oil.viscosity_at(grade, warm), oil.density(grade, warm)
    return bubbles.cleared_diameter(length, rest, *liquid)
