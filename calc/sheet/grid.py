"""What a block of the sheet is made of: finished texts, and how each of them is read."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil, floor, inf, log10
from typing import Literal

from calc import units
from calc.answering.uncertainty import COVERAGE
from calc.language import tr
from calc.model.corners import End
from calc.units import NBSP, turns_number

Role = Literal["key", "answer", "text", "small", "label", "name"]
"""How a column is set: what one looks for, a number that one finds, words that one finds, what
stands beside it, what a row is called, a name, which alone may be shortened."""
BLANK = ""


def answers(count: int) -> tuple[Role, ...]:
    """So many columns of numbers."""
    one: Role = "answer"
    return (one,) * count


_EIGHTHS = {"1/8": "⅛", "1/4": "¼", "3/8": "⅜", "1/2": "½", "5/8": "⅝", "3/4": "¾", "7/8": "⅞"}


@dataclass(frozen=True)
class Grid:
    """A table. `boxed` are the rows to find first, a line is ruled below the rows `ruled`; `keep`
    are all rows by importance, for a page that has no room for all. Of a list of things owned
    (`owned`) it is then said how many `more` there are."""

    heads: tuple[str, ...]
    roles: tuple[Role, ...]
    rows: tuple[tuple[str, ...], ...]
    title: str = ""
    boxed: frozenset[int] = frozenset()
    ruled: frozenset[int] = frozenset()
    keep: tuple[int, ...] = ()
    owned: bool = False
    more: int = 0

    def shorter(self, most: int) -> "Grid":
        """The grid with its `most` most important rows, and how many there are beside them."""
        if not self.keep or len(self.rows) <= most:
            return self
        kept = sorted(self.keep[:most])
        return replace(
            self,
            rows=tuple(self.rows[n] for n in kept),
            boxed=frozenset(place for place, n in enumerate(kept) if n in self.boxed),
            ruled=frozenset(
                place
                for place, (n, following) in enumerate(pairwise(kept))
                if any(n <= line < following for line in self.ruled)
            ),
            keep=(),
            more=len(self.rows) - most if self.owned else 0,
        )

    def only(self, columns: Sequence[int]) -> "Grid":
        """The grid with these of its columns."""
        return replace(
            self,
            heads=tuple(self.heads[n] for n in columns),
            roles=tuple(self.roles[n] for n in columns),
            rows=tuple(tuple(row[n] for n in columns) for row in self.rows),
        )

    @property
    def caption(self) -> str:
        """The title where it has no room at the head of the keys."""
        return self.title if self.heads[self.looked_up] else ""

    @property
    def shown_heads(self) -> tuple[str, ...]:
        """The heads, with the title where one is empty."""
        key = self.looked_up
        return tuple(
            self.title if n == key and not head else head for n, head in enumerate(self.heads)
        )

    @property
    def looked_up(self) -> int:
        """The column in which one looks: the first of keys, names or labels."""
        return next(n for n, role in enumerate(self.roles) if role in ("key", "name", "label"))

    @property
    def rest(self) -> str:
        """A line about the rows that were left out; empty without any."""
        return tr("and {count} more", count=self.more) if self.more else ""


@dataclass(frozen=True)
class Part:
    """The usual content of a block: the answer in a box, grids that stand side by side where there
    is room, sentences below. `about` stands in the bar; `narrow` are the grids for a page that is
    too narrow for the others."""

    grids: tuple[Grid, ...] = ()
    about: str = ""
    lead: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    narrow: tuple[Grid, ...] = ()


@dataclass(frozen=True)
class Spot:
    """A corner of the car seen from above: its name and its values."""

    name: str
    values: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Base:
    """The car in plan view: four spots in the order of the corners, and a grid of its ends, which
    is turned for a narrow page."""

    spots: tuple[Spot, ...]
    grid: Grid
    about: str
    narrow: Grid


@dataclass(frozen=True)
class Log:
    """Lines to write in: (head, share of the width), and those for a narrow page; `about` stands in
    the bar."""

    wide: tuple[tuple[str, float], ...]
    narrow: tuple[tuple[str, float], ...]
    about: str


@dataclass(frozen=True)
class Points:
    """Sentences in a list."""

    lines: tuple[str, ...]


@dataclass(frozen=True)
class Carried:
    """The car as texts for a code to scan: the first that fits is taken, with what it lacks;
    `about` stands in the bar."""

    texts: tuple[tuple[str, str], ...]
    about: str


@dataclass(frozen=True)
class Things:
    """Names of what has to lie ready, each with a box to tick."""

    names: tuple[str, ...]


@dataclass(frozen=True)
class Slot:
    """What one damper has at a line of a card: a `box` to tick, room to write (`writes`) or what
    was read already."""

    box: bool = False
    done: bool = False
    writes: bool = False
    value: str = ""


@dataclass(frozen=True)
class Line:
    """A step of a card, or one more reading of it. `read` is the reading with its unit; `facts`
    are known of each end, or none; `longer` stands before `says` where there is room. A damper
    without the step has None."""

    number: str
    title: str
    read: str
    facts: tuple[str, ...]
    says: tuple[str, ...]
    longer: tuple[str, ...]
    slots: tuple[Slot | None, ...]


@dataclass(frozen=True)
class Steps:
    """The steps of a card for dampers side by side, with the numbers of their ends."""

    ends: tuple[str, ...]
    dampers: tuple[str, ...]
    lines: tuple[Line, ...]
    about: str


Content = Part | Base | Log | Points | Carried | Things | Steps


@dataclass(frozen=True)
class Made:
    """A block of one car: its title is translated."""

    key: str
    title: str
    content: Content


def turned(grid: Grid) -> Grid:
    """The grid with its columns as rows."""
    lines = (grid.heads, *grid.rows)
    names, *values = (tuple(line[n] for line in lines) for n in range(len(grid.heads)))
    return Grid(names, ("label", *answers(len(grid.rows))), tuple(values))


def end_letter(end: End) -> str:
    """One letter for an end, where there is no room for its word."""
    return tr("F", sense="front") if end is End.FRONT else tr("R", sense="rear")


def hand_turns(turns: float) -> str:
    """Turns without a sign or a word, as short as they can be read: "1½"."""
    text = turns_number(abs(turns))
    whole, _, fraction = text.rpartition(NBSP)
    if fraction in _EIGHTHS:
        return whole + _EIGHTHS[fraction]
    return text


def up_or_down(turns: float) -> str:
    """ "↓ 1½", "↑ ¾" for a collar that goes down or up; nothing to turn is "0"."""
    if turns == 0:
        return hand_turns(turns)
    return f"{'↓' if turns > 0 else '↑'}{NBSP}{hand_turns(turns)}"


def length(value: float, system: str, decimals: int = 1) -> str:
    """A length to a tenth of a millimetre, or as finely in inches."""
    return units.number_text(value, "length", system, units.places(decimals, "length", system))


def doubt(u: float, kind: str, system: str) -> str:
    """ "± 0.3", expanded (k = 2) and rounded up to what can be read; nothing where there is none.

    The first digit is enough on paper, two where it is a 1 (JCGM 100:2008, 7.2.6).
    """
    width = COVERAGE * u / units.unit_of(kind, system).factor
    if not 0 < width < inf:
        return ""
    return f"±{NBSP}{units.spelt(_rounded_up(width))}"


def tells_nothing(u: float, change: float) -> bool:
    """Whether numbers are so doubtful that a table of changes up to `change` is no help: their ±
    (k = 2) is more than three times as large (our judgement, no source)."""
    return COVERAGE * u > 3 * abs(change)


def too_doubtful(sure: str) -> str:
    """Why they are left to the pencil; `sure` is their ± with its unit."""
    return tr("Worked out to {doubt} only: measure, then write it in.", doubt=sure)


def _rounded_up(width: float) -> str:
    step = 10.0 ** floor(log10(width))
    step = step / 10 if width < 2 * step else step
    places = max(-round(log10(step)), 0)
    return f"{ceil(width / step - 1e-9) * step:.{places}f}"


def nearest_first(values: Sequence[float], target: float) -> list[int]:
    """Places of the values, the nearest to the target first."""
    return sorted(range(len(values)), key=lambda n: abs(values[n] - target))
