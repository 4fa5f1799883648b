"""The cheat sheet of one car: blocks taken from the forms, so paper and screen cannot differ.

What stands on it is one declared list, `BLOCKS`; where it stands on paper is not decided here.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from calc import units
from calc.answering.answer import Table
from calc.forms.catalogue import BY_SLUG
from calc.forms.fill_bleed.bleed import bleed_table
from calc.forms.fill_bleed.fill import fill_table
from calc.forms.names import end_label
from calc.forms.oil_warm import temperature_table
from calc.forms.spring_swap.table import swap_table
from calc.forms.stroke.pictures import stroke_table
from calc.kept import link
from calc.kept.chapters import missing
from calc.kept.labels import label_of
from calc.language import abridged, later, tr
from calc.model.car import Car
from calc.model.corners import End
from calc.replying.inputs import Problem
from calc.replying.reading import run
from calc.replying.resting import not_known
from calc.sheet import tables as sheet_tables

_NAMED = 3  # values that are named before the rest is counted
PENCIL_HEAD = later("Tried")
"""Head of a column that is left blank for the pencil."""
CAUTIONS = (
    later("Eye protection with springs under load. Spilt oil is slippery and stays so."),
    later("Car off and motor disconnected on the stand. Small parts and oils away from children."),
    later(
        "Thread-locking compound off the skin and away from plastic; do not overtighten into "
        "plastic."
    ),
    later("The car's manual, the event's rules and the data sheets come first."),
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
    The title is declared in English, and translated where it is shown.
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
    made, left_out = [], []
    for key in chosen:
        block = BY_KEY[key]
        title = tr(block.title)
        try:
            made.append(Made(key, title, block.make(car, system)))
        except Problem as problem:
            left_out.append(tr("{block}: not printed. {why}", block=title, why=problem))
    return Sheet(car.name, car.demo, tuple(made), tuple(left_out))


def _of_form(slug: str, typed: Mapping[str, str], car: Car, system: str) -> Noted:
    """The first table of a form for the car, and what would make it useless."""
    form = BY_SLUG[slug]
    reply = run(form, typed, car, system)
    if reply.open and not reply.problems:
        raise _unknown([one.label for one in not_known(form, reply, system)])
    if reply.answer is None:
        raise Problem(*next(iter(reply.problems.items())))
    stops = tuple(caution.text for caution in reply.answer.cautions if caution.stop)
    return Noted(with_pencil(reply.answer.tables[0]), stops)


def _unknown(labels: Sequence[str]) -> Problem:
    """Why a block cannot be made of a car of which something is not known."""
    return Problem("car", tr("Not known yet: {entries}.", entries=abridged(labels, _NAMED)))


def _where_known(slug: str, make: Callable[[Car, str], Table], car: Car, system: str) -> Table:
    """A table of the record alone, where the form that it belongs to could answer."""
    if paths := missing(BY_SLUG[slug], car):
        raise _unknown([label_of(path) for path in paths])
    return make(car, system)


def with_pencil(table: Table) -> Table:
    """The table with a blank column for the pencil."""
    rows = tuple((*row, "") for row in table.rows)
    return replace(table, heads=(*table.heads, tr(PENCIL_HEAD)), rows=rows)


def _pencilled(make: Callable[[Car, str], Table], car: Car, system: str) -> Table:
    return with_pencil(make(car, system))


def _swaps(axle: End, car: Car, system: str) -> Table:
    """What the swap of springs says of one end of the car."""
    table, end = swap_table(car, system), end_label(axle)
    rows = tuple(row[1:] for row in table.rows if row[0] == end)
    if not rows:
        raise Problem("springs", tr("No spring in the car record fits this end."))
    return with_pencil(Table(table.title, table.heads[1:], rows))


def _carried(car: Car, system: str) -> Carried:
    return carried(car)


def carried(car: Car) -> Carried:
    """The whole car; failing that, without the names that make a code large."""
    small = link.pack(link.slim(car), link.FEW_DIGITS)
    lacks = tr("The names of bottles and springs are not in it.")
    return Carried(((link.pack(car), ""), (small, lacks)))


def _cautions(car: Car, system: str) -> Points:
    return Points(tuple(tr(caution) for caution in CAUTIONS))


def _of_end(axle: End, key: str, title: str, slug: str) -> Block:
    return Block(f"{key}-{axle}", title, partial(_of_form, slug, {"axle": axle}))


BLOCKS = (
    _of_end(End.FRONT, "collar", later("Front: collar turns and ride height"), "collar-turns"),
    _of_end(End.REAR, "collar", later("Rear: collar turns and ride height"), "collar-turns"),
    _of_end(End.FRONT, "preload", later("Front: preload and sag"), "spring-preload"),
    _of_end(End.REAR, "preload", later("Rear: preload and sag"), "spring-preload"),
    Block(
        "swap-front", later("Front: springs at the same ride height"), partial(_swaps, End.FRONT)
    ),
    Block("swap-rear", later("Rear: springs at the same ride height"), partial(_swaps, End.REAR)),
    Block("blends", later("Blends in parts, cSt at 25 °C (log rule)"), sheet_tables.blends),
    Block(
        "temperature",
        later("Oil for another temperature"),
        partial(_where_known, "oil-temperature", temperature_table),
    ),
    Block("stroke", later("Stroke of the four dampers"), partial(_of_form, "stroke", {})),
    Block(
        "rod-end",
        later("Turns of a rod end"),
        partial(_where_known, "stroke", stroke_table),
        usual=False,
    ),
    Block("fill", later("Fill and bleed, 20 °C"), partial(_where_known, "fill-bleed", fill_table)),
    Block(
        "bleed",
        later("Waiting for the bubbles"),
        partial(_where_known, "fill-bleed", bleed_table),
        usual=False,
    ),
    Block(
        "bottles", later("Bottles owned"), partial(_pencilled, sheet_tables.bottles), usual=False
    ),
    Block("springs", later("Springs owned"), sheet_tables.springs, usual=False),
    Block("constants", later("The car"), sheet_tables.constants),
    Block("corners", later("Corners"), partial(_pencilled, sheet_tables.corners)),
    Block("pencil", later("Pencil"), sheet_tables.pencil),
    Block("code", later("Code to scan"), _carried),
    Block("cautions", later("Cautions"), _cautions),
)
BY_KEY = {block.key: block for block in BLOCKS}
USUAL = tuple(block.key for block in BLOCKS if block.usual)
