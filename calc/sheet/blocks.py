"""The cheat sheet of one car, in the order of a day: what is on the car, how many turns, which oil,
which spring, where to write it down.

What stands on it is one declared list, `BLOCKS`, asked from the forms, so that paper and screen
cannot differ; where it stands on paper is not decided here.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from calc import units
from calc.kept import link
from calc.kept.build.build import Build
from calc.language import later, tr
from calc.model.car import Car
from calc.replying.inputs import Problem
from calc.sheet import tables
from calc.sheet.base import base
from calc.sheet.card import card
from calc.sheet.grid import Carried, Content, Log, Made, Part, Points
from calc.sheet.height import height
from calc.sheet.oil import oil_for_the_day
from calc.sheet.preload import preload
from calc.sheet.springs import springs
from calc.sheet.value import MARKS

CAUTIONS = (
    later("Eye protection with springs under load. Spilt oil is slippery."),
    later("Let a hot damper cool, then open it slowly."),
    later("Car off and motor disconnected on the stand. Small parts and oils away from children."),
    later(
        "Thread-locking compound off the skin and away from plastic; do not overtighten screws in "
        "plastic."
    ),
    later("The car's manual, the event's rules and the data sheets come first."),
)
FLAT, FOLDED, CARD = "flat", "folded", "card"
"""Kinds of paper: pages as they come from the printer, a card folded from one, and the card of the
build list, whose blocks nobody chooses."""


@dataclass(frozen=True)
class Block:
    """Something that can stand on a sheet. `make` takes the car and the system of units and raises
    `Problem` where this car has no such thing; on the kinds of paper named `usual` it is there
    unless others are chosen. The title is declared in English, and translated where it is shown.
    """

    key: str
    title: str
    make: Callable[[Car, str], Content]
    usual: tuple[str, ...] = (FLAT, FOLDED)


@dataclass(frozen=True)
class Sheet:
    """What is printed, in order. `marks` explains what stands behind values nobody measured."""

    car: str
    demo: bool
    units: str
    marks: tuple[str, ...]
    blocks: tuple[Made, ...]


def sheet(
    car: Car,
    system: str = units.METRIC,
    keys: Iterable[str] | None = None,
    kind: str = FLAT,
    build: Mapping[str, str] = MappingProxyType({}),
) -> Sheet:
    """The sheet of a car with these blocks in this order, or those usual on that kind of paper; or
    the card of its build list, with what was entered there."""
    if kind == CARD:
        made = card(Build(car, build, system))
    else:
        named = usual(kind) if keys is None else dict.fromkeys(keys)
        made = tuple(_made(BY_KEY[key], car, system) for key in named)
    hows = {one.how for one in car.origins.values()}
    marks = tuple(tr(words) for how, (_, words) in MARKS.items() if how in hows)
    return Sheet(car.name, car.demo, _symbols(system), marks, made)


def _made(block: Block, car: Car, system: str) -> Made:
    try:
        content = block.make(car, system)
    except Problem as problem:
        content = Part(notes=(str(problem),))
    return Made(block.key, tr(block.title), content)


def _symbols(system: str) -> str:
    return ", ".join(units.unit_of(kind, system).symbol for kind in ("length", "rate", "mass"))


def _log(car: Car, system: str) -> Log:
    corners = tuple((tr(label), 1.0) for label in ("FL", "FR", "RL", "RR"))
    wide = (
        (tr("date, track, air"), 3.6), *corners, (tr("oil F"), 1.8), (tr("oil R"), 1.8),
        (tr("height F / R"), 2.8), (tr("lap, how it felt"), 4.2),
    )  # fmt: skip
    few = tuple((label, 1.05) for label, _ in corners)
    narrow = ((tr("date, air"), 2.0), *few, (tr("oil"), 1.8), (tr("height"), 2.0))
    return Log(wide, narrow, tr("corners: turns of the collar, ↑ ↓"))


def _carried(car: Car, system: str) -> Carried:
    return carried(car)


def carried(car: Car) -> Carried:
    """The whole car; failing that, without the names that make a code large."""
    small = link.pack(link.slim(car), link.FEW_DIGITS)
    lacks = tr("The names of bottles and springs are not in it.")
    return Carried(((link.pack(car), ""), (small, lacks)), tr("this car, to scan"))


def _cautions(car: Car, system: str) -> Points:
    return Points(tuple(tr(caution) for caution in CAUTIONS))


BLOCKS = (
    Block("base", later("Base"), base),
    Block("height", later("Height"), height),
    Block("oil", later("Oil for the day"), oil_for_the_day),
    Block("preload", later("Preload, sag"), preload),
    Block("springs", later("Springs"), springs),
    Block("fill", later("Fill and bleed"), tables.fill, (FOLDED,)),
    Block("cautions", later("Cautions"), _cautions),
    Block("log", later("Log"), _log),
    Block("code", later("Code"), _carried),
    Block("blends", later("Blends of your bottles"), tables.blends, ()),
    Block("stroke", later("Stroke of the four dampers"), tables.stroke, ()),
    Block("rod-end", later("Turns of a rod end"), tables.rod_end, ()),
    Block("bleed", later("Waiting for the bubbles"), tables.bleed, ()),
    Block("bottles", later("Bottles owned"), tables.bottles, ()),
    Block("owned", later("Springs owned"), tables.owned_springs, ()),
    Block("constants", later("The car"), tables.constants, ()),
)
BY_KEY = {block.key: block for block in BLOCKS}
FORMERLY: Mapping[str, str] = {
    "collar-front": "height", "collar-rear": "height", "preload-front": "preload",
    "preload-rear": "preload", "swap-front": "springs", "swap-rear": "springs",
    "temperature": "oil", "corners": "base", "pencil": "log",
}  # fmt: skip
"""Blocks of earlier versions, which choices that were kept still name."""


def usual(kind: str) -> tuple[str, ...]:
    """The blocks that are usual on a kind of paper, in order."""
    return tuple(block.key for block in BLOCKS if kind in block.usual)
