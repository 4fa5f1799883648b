"""The cheat sheet of one car: blocks taken from the forms, so paper and screen cannot differ.

What stands on it is one declared list, `BLOCKS`; where it stands on paper is not decided here.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from calc import link, units
from calc.answer import Table
from calc.car import Car, entry_at
from calc.catalogue import BY_SLUG
from calc.form import Problem
from calc.forms.bleed import bleed_table
from calc.forms.fill import fill_table
from calc.forms.oil_warm import temperature_table
from calc.forms.shared import CORNER_LABELS, END_LABELS
from calc.forms.spring_table import swap_table
from calc.forms.stroke_show import stroke_table
from calc.physics import oil
from calc.reading import run
from calc.units import NBSP

_RATIOS = ((8, 2), (7, 3), (6, 4), (5, 5), (4, 6), (3, 7), (2, 8))
_CONSTANTS = (
    "pitch", "motion_ratio", "spring_rate", "spring_free", "spring_solid", "droop_length",
    "stroke", "oil", "bore", "shaft", "holes", "hole", "piston_thickness", "unsprung",
    "ride_height", "wanted_height",
)  # fmt: skip
_PENCIL = ("When", "FL", "FR", "RL", "RR", "Oil", "Height")
_PENCIL_ROWS = 5
PENCIL_HEAD = "Tried"
"""Head of a column that is left blank for the pencil."""
CAUTIONS = (
    "Eye protection with springs under load. Spilt oil is slippery and stays so.",
    "Car off and motor disconnected on the stand. Small parts and oils away from children.",
    "Thread-locking compound off the skin and away from plastic; do not overtighten into plastic.",
    "The car's manual, the event's rules and the data sheets come first.",
)


@dataclass(frozen=True)
class Points:
    """Sentences in a list."""

    lines: tuple[str, ...]


@dataclass(frozen=True)
class Carried:
    """The car as texts for a code to scan: the first that fits is taken, with what it lacks."""

    texts: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Noted:
    """A table, and sentences that have to stand beside it."""

    table: Table
    notes: tuple[str, ...]


Content = Table | Noted | Points | Carried


@dataclass(frozen=True)
class Block:
    """Something that can stand on a sheet. `make` takes the car and the system of units and raises
    `Problem` where this car has no such thing; `usual` blocks are there unless others are chosen.
    """

    key: str
    title: str
    make: Callable[[Car, str], Content]
    usual: bool = True


@dataclass(frozen=True)
class Made:
    """A block of one car."""

    key: str
    title: str
    content: Content


@dataclass(frozen=True)
class Sheet:
    """What is printed, in order, and a sentence for each block that could not be made."""

    car: str
    demo: bool
    blocks: tuple[Made, ...]
    missing: tuple[str, ...]


def sheet(car: Car, system: str = units.METRIC, keys: Iterable[str] | None = None) -> Sheet:
    """The sheet of a car with these blocks in this order, or the usual ones."""
    chosen = USUAL if keys is None else tuple(dict.fromkeys(keys))
    made, missing = [], []
    for key in chosen:
        block = BY_KEY[key]
        try:
            made.append(Made(key, block.title, block.make(car, system)))
        except Problem as problem:
            missing.append(f"{block.title}: not printed. {problem}")
    return Sheet(car.name, car.demo, tuple(made), tuple(missing))


def _of_form(slug: str, typed: Mapping[str, str], car: Car, system: str) -> Noted:
    """The first table of a form for the car, and what would make it useless."""
    reply = run(BY_SLUG[slug], typed, car, system)
    if reply.answer is None:
        raise Problem(*next(iter(reply.problems.items())))
    stops = tuple(caution.text for caution in reply.answer.cautions if caution.stop)
    return Noted(with_pencil(reply.answer.tables[0]), stops)


def with_pencil(table: Table) -> Table:
    """The table with a blank column for the pencil."""
    rows = tuple((*row, "") for row in table.rows)
    return replace(table, heads=(*table.heads, PENCIL_HEAD), rows=rows)


def _swaps(end: str, car: Car, system: str) -> Table:
    """What the swap of springs says of one end of the car."""
    table = swap_table(car, system)
    rows = tuple(row[1:] for row in table.rows if row[0] == end)
    if not rows:
        raise Problem("springs", "No spring in the car record fits this end.")
    return with_pencil(Table(table.title, table.heads[1:], rows))


def _blends(car: Car, system: str) -> Table:
    """What neighbouring bottles give in tenths, thin to thick, in cSt at 25 °C."""
    grades = sorted({bottle.viscosity for bottle in car.bottles})
    if len(grades) < 2:
        raise Problem("bottles", "It takes two bottles of different viscosity in the car record.")
    show = partial(units.number_text, kind="viscosity", system=system)
    rows = []
    for thin, thick in pairwise(grades):
        mixes = [[(parts[0], thin), (parts[1], thick)] for parts in _RATIOS]
        low, high = oil.band([(1, thin), (1, thick)])
        gives = (show(oil.blend(mix)) for mix in mixes)
        rows.append(
            (f"{show(thin)}{NBSP}+{NBSP}{show(thick)}", *gives, f"{show(low)} to {show(high)}")
        )
    parts = (f"{thin}{NBSP}:{NBSP}{thick}" for thin, thick in _RATIOS)
    return Table("", ("Thin + thick", *parts, f"Laws at 5{NBSP}:{NBSP}5"), tuple(rows))


def _constants(car: Car, system: str) -> Table:
    rows = []
    for name in _CONSTANTS:
        entry = entry_at(f"front.{name}")
        values = (
            units.show(getattr(axle, name), entry.kind, system)  # type: ignore[union-attr]
            for axle in (car.front, car.rear)
        )
        rows.append((entry.label.partition(" (")[0].partition(",")[0], *values))
    return Table("", ("", "Front", "Rear"), tuple(rows))


def _corners(car: Car, system: str) -> Table:
    rows = []
    for key, label in CORNER_LABELS:
        corner = getattr(car.corners, key)
        load, collar = units.show(corner.load, "mass", system), units.turns_text(corner.collar)
        rows.append((label, load, collar))
    return with_pencil(Table("", ("", "Load", "Collar down"), tuple(rows)))


def _bottles(car: Car, system: str) -> Table:
    if not car.bottles:
        raise Problem("bottles", "The car record holds no bottle.")
    rows = (
        (units.show(b.viscosity, "viscosity", system), b.name, units.show(b.left, "volume", system))
        for b in sorted(car.bottles, key=lambda bottle: bottle.viscosity)
    )
    return with_pencil(Table("", ("Oil", "Name", "Left"), tuple(rows)))


def _springs(car: Car, system: str) -> Table:
    if not car.springs:
        raise Problem("springs", "The car record holds no spring.")
    rows = (
        (s.name or f"spring {n}", *(units.show(value, kind, system) for value, kind in (
            (s.rate, "rate"), (s.free, "length"), (s.solid, "length"),
        )))
        for n, s in enumerate(car.springs, 1)
    )  # fmt: skip
    return Table("", ("Spring", "Rate", "Free", "Solid"), tuple(rows))


def _pencil(car: Car, system: str) -> Table:
    return Table("", _PENCIL, (("",) * len(_PENCIL),) * _PENCIL_ROWS)


def _carried(car: Car, system: str) -> Carried:
    """The whole car; failing that, without the names that make a code large."""
    small = link.pack(link.slim(car), link.FEW_DIGITS)
    return Carried(
        ((link.pack(car), ""), (small, "The names of bottles and springs are not in it."))
    )


def _cautions(car: Car, system: str) -> Points:
    return Points(CAUTIONS)


def _each_end(key: str, title: str, slug: str) -> tuple[Block, ...]:
    return tuple(
        Block(f"{key}-{axle}", f"{label}: {title}", partial(_of_form, slug, {"axle": axle}))
        for axle, label in END_LABELS
    )


BLOCKS = (
    *_each_end("collar", "collar turns and ride height", "collar-turns"),
    *_each_end("preload", "preload and sag", "spring-preload"),
    *(
        Block(f"swap-{axle}", f"{label}: springs at the same ride height", partial(_swaps, label))
        for axle, label in END_LABELS
    ),
    Block("blends", "Blends in parts, cSt at 25 °C (log law)", _blends),
    Block("temperature", "Oil for another temperature", temperature_table),
    Block("stroke", "Stroke of the four dampers", partial(_of_form, "stroke", {})),
    Block("rod-end", "Turns of a rod end", stroke_table, usual=False),
    Block("fill", "Fill and bleed, 20 °C", fill_table),
    Block("bleed", "Waiting for the bubbles", bleed_table, usual=False),
    Block("bottles", "Bottles owned", _bottles, usual=False),
    Block("springs", "Springs owned", _springs, usual=False),
    Block("constants", "The car", _constants),
    Block("corners", "Corners", _corners),
    Block("pencil", "Pencil", _pencil),
    Block("code", "Code to scan", _carried),
    Block("cautions", "Mind", _cautions),
)
BY_KEY = {block.key: block for block in BLOCKS}
USUAL = tuple(block.key for block in BLOCKS if block.usual)
