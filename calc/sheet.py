"""The cheat sheet of one car: tables taken from the forms, so paper and screen cannot differ."""

from dataclasses import dataclass
from itertools import pairwise

from calc import units
from calc.answer import Answer, Table
from calc.car import Bottle, Car, entry_at
from calc.catalogue import BY_SLUG
from calc.forms.shared import CORNER_LABELS, END_LABELS
from calc.physics import oil
from calc.reading import run

_RATIOS = ((4, 1), (3, 1), (2, 1), (1, 1), (1, 2), (1, 3), (1, 4))
_CONSTANTS = (
    "pitch", "motion_ratio", "spring_rate", "spring_free", "spring_solid", "droop_length",
    "stroke", "oil", "bore", "shaft", "holes", "hole", "piston_thickness", "unsprung",
    "ride_height", "wanted_height",
)  # fmt: skip
_PENCIL = (
    "Date, track", "Temp.", "FL", "FR", "RL", "RR", "Oil F / R", "Height F / R", "Notes",
)  # fmt: skip
_PENCIL_ROWS = 5
CAUTIONS = (
    "Eye protection with springs under load. Spilt oil is slippery and stays so.",
    "Car off and motor disconnected on the stand. Small parts and oils away from children.",
    "Thread-locking compound off the skin and away from plastic; do not overtighten into plastic.",
    "The car's manual, the event's rules and the data sheets come first.",
)


@dataclass(frozen=True)
class Sheet:
    """What is printed: tables in order, and a sentence for each that could not be made."""

    car: str
    demo: bool
    tables: tuple[Table, ...]
    missing: tuple[str, ...]
    cautions: tuple[str, ...]
    pencil: Table


def sheet(car: Car, system: str = units.METRIC) -> Sheet:
    """The sheet for a car, in the units of the system."""
    tables: list[Table] = []
    missing: list[str] = []
    for key, label in END_LABELS:
        for slug in ("collar-turns", "spring-preload"):
            answer, problem = _ask(slug, {"axle": key}, car, system)
            if answer is None:
                missing.append(f"{label}, {BY_SLUG[slug].title.lower()}: {problem}")
            else:
                tables.append(_titled(answer.tables[0], slug, label))
    tables += [_blends(car.bottles), _constants(car, system), _corners(car, system)]
    pencil = Table("Pencil", _PENCIL, (("",) * len(_PENCIL),) * _PENCIL_ROWS)
    return Sheet(car.name, car.demo, tuple(tables), tuple(missing), CAUTIONS, pencil)


def _ask(slug: str, typed: dict[str, str], car: Car, system: str) -> tuple[Answer | None, str]:
    reply = run(BY_SLUG[slug], typed, car, system)
    return reply.answer, next(iter(reply.problems.values()), "")


def _titled(table: Table, slug: str, label: str) -> Table:
    title = f"{label}: preload and sag" if slug == "spring-preload" else table.title
    return Table(title, table.heads, table.rows, table.mark)


def _blends(bottles: tuple[Bottle, ...]) -> Table:
    """What neighbouring bottles give in small whole parts, thin to thick, cSt at 25 °C."""
    grades = sorted({bottle.viscosity for bottle in bottles})
    rows = []
    for thin, thick in pairwise(grades):
        gives = (
            units.number_text(oil.blend([(parts_thin, thin), (parts_thick, thick)]), "viscosity")
            for parts_thin, parts_thick in _RATIOS
        )
        names = (units.number_text(viscosity, "viscosity") for viscosity in (thin, thick))
        rows.append((" + ".join(names), *gives))
    heads = ("Thin + thick cSt", *(f"{thin} : {thick}" for thin, thick in _RATIOS))
    return Table("Blends of the bottles owned, cSt at 25 °C (log law)", heads, tuple(rows))


def _constants(car: Car, system: str) -> Table:
    rows = []
    for name in _CONSTANTS:
        entry = entry_at(f"front.{name}")
        values = (
            units.show(getattr(axle, name), entry.kind, system)  # type: ignore[union-attr]
            for axle in (car.front, car.rear)
        )
        rows.append((entry.label.partition(" (")[0], *values))
    return Table("The car", ("", "Front", "Rear"), tuple(rows))


def _corners(car: Car, system: str) -> Table:
    rows = []
    for key, label in CORNER_LABELS:
        corner = getattr(car.corners, key)
        load, collar = units.show(corner.load, "mass", system), units.turns_text(corner.collar)
        rows.append((label, load, collar))
    return Table("Corners", ("", "Load", "Collar down from its mark"), tuple(rows))
