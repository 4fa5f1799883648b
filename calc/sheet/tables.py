"""Blocks of the sheet that are lists: bottles, springs, blends, the car, filling, rod ends."""

from dataclasses import replace
from functools import partial
from itertools import pairwise

from calc import units
from calc.answering.answer import Table
from calc.forms.catalogue import BY_SLUG
from calc.forms.fill_bleed.bleed import BENCH, bleed_table
from calc.forms.fill_bleed.fill import fill_table
from calc.forms.names import END_LABELS
from calc.forms.stroke.pictures import stroke_table
from calc.kept.chapters import missing
from calc.kept.labels import label_of
from calc.language import tr
from calc.model.car import Bottle, Car, Spring, number_at
from calc.model.corners import ENDS, End
from calc.physics import oil
from calc.replying.inputs import Problem
from calc.sheet.asking import ask, lacking
from calc.sheet.grid import BLANK, Grid, Part, Role, answers, length, turned
from calc.sheet.value import mark, value
from calc.units import NBSP

_RATIOS = ((8, 2), (7, 3), (6, 4), (5, 5), (4, 6), (3, 7), (2, 8))
_CONSTANTS = (
    "pitch", "motion_ratio", "spring_rate", "spring_free", "spring_solid", "stroke", "bore",
    "shaft", "piston_thickness", "unsprung", "reach", "track",
)  # fmt: skip


def _of_table(table: Table) -> Grid:
    """A table of a form; its first column is looked up, the rest are answers."""
    roles: list[Role] = ["key", *answers(len(table.heads) - 1)]
    boxed = frozenset({table.mark}) if table.mark >= 0 else frozenset[int]()
    return Grid(table.heads, tuple(roles), table.rows, boxed=boxed)


def blends(car: Car, system: str) -> Part:
    """What neighbouring bottles give in tenths, thin to thick, in cSt at 25 °C."""
    grades = sorted({bottle.viscosity for bottle in car.bottles})
    if len(grades) < 2:
        raise Problem(
            "bottles", tr("Two bottles of different viscosity are needed in the car record.")
        )
    show = partial(units.number_text, kind="viscosity", system=system)
    rows = []
    for thin, thick in pairwise(grades):
        mixes = [[(parts[0], thin), (parts[1], thick)] for parts in _RATIOS]
        gives = (show(oil.blend(mix)) for mix in mixes)
        rows.append((f"{show(thin)}{NBSP}+{NBSP}{show(thick)}", *gives))
    parts = (f"{thin}{NBSP}:{NBSP}{thick}" for thin, thick in _RATIOS)
    heads = (tr("thin + thick"), *parts)
    roles: tuple[Role, ...] = ("key", *answers(len(_RATIOS)))
    keep = tuple(range(len(rows)))
    grid = Grid(heads, roles, tuple(rows), keep=keep, owned=True)
    return Part((grid,), tr("parts, cSt at 25 °C, log rule"))


def constants(car: Car, system: str) -> Part:
    """What seldom changes, each with its whole label."""
    rows = []
    for name in _CONSTANTS:
        entry = number_at(f"front.{name}")
        label, unit = entry.said.partition(" (")[0], units.unit_of(entry.kind, system).symbol
        shown = (value(car, f"{end}.{name}", system) for end in ENDS)
        rows.append((f"{label} ({unit})" if unit else label, *shown))
    heads = ("", *(tr(label) for _, label in END_LABELS))
    return Part((Grid(heads, ("label", "answer", "answer"), tuple(rows)),))


def bottles(car: Car, system: str) -> Part:
    """From thin to thick."""
    if not car.bottles:
        raise Problem("bottles", tr("The car record holds no bottle."))
    rows = tuple(
        (
            units.number_text(one.viscosity, "viscosity", system),
            one.name,
            BLANK if one.left is None else units.number_text(one.left, "volume", system, 0),
        )
        for one in sorted(car.bottles, key=_viscosity)
    )
    heads = (tr("cSt at 25 °C"), tr("name"), tr("left mL", sense="in the bottle"))
    return Part(
        (Grid(heads, ("key", "name", "answer"), rows, keep=tuple(range(len(rows))), owned=True),)
    )


def _viscosity(bottle: Bottle) -> float:
    return bottle.viscosity


def owned_springs(car: Car, system: str) -> Part:
    """As they stand in the record."""
    if not car.springs:
        raise Problem("springs", tr("The car record holds no spring."))
    rows = tuple(_spring(number, one, system) for number, one in enumerate(car.springs, 1))
    rate, mm = (units.unit_of(kind, system).symbol for kind in ("rate", "length"))
    heads = (
        tr("spring"), rate, tr("free {unit}", unit=mm), tr("solid {unit}", unit=mm)
    )  # fmt: skip
    roles: tuple[Role, ...] = ("name", "answer", "answer", "answer")
    return Part((Grid(heads, roles, rows, keep=tuple(range(len(rows))), owned=True),))


def _spring(number: int, spring: Spring, system: str) -> tuple[str, ...]:
    return (
        spring.name or tr("spring {number}", number=number),
        units.number_text(spring.rate, "rate", system),
        length(spring.free, system),
        length(spring.solid, system),
    )


def _known(slug: str, car: Car) -> None:
    """Raises Problem where the form that a table of the record belongs to could not answer."""
    if paths := missing(BY_SLUG[slug], car):
        raise lacking([label_of(path) for path in paths])


def fill(car: Car, system: str) -> Part:
    """Oil in each damper, where its cap is closed, and how long small bubbles need."""
    _known("fill-bleed", car)
    table = fill_table(car, system)
    rows = (
        (name, *(cell + mark(car, *paths) for cell, paths in zip(cells, _filled(end), strict=True)))
        for end, (name, *cells) in zip(ENDS, table.rows, strict=True)
    )
    grid = _of_table(replace(table, rows=tuple(rows)))
    return Part((grid,), tr("at {temperature}", temperature=_bench(system)), narrow=(turned(grid),))


def _filled(end: End) -> tuple[tuple[str, ...], ...]:
    """What each number of the filling rests on."""
    return (
        (f"{end}.inside.held",),
        (f"{end}.inside.closed_at",),
        (f"{end}.oil", f"{end}.inside.length"),
    )


def bleed(car: Car, system: str) -> Part:
    _known("fill-bleed", car)
    about = tr("at {temperature}, slow bound", temperature=_bench(system))
    return Part((_of_table(bleed_table(car, system)),), about)


def _bench(system: str) -> str:
    return units.show(BENCH, "temperature", system, 0)


def rod_end(car: Car, system: str) -> Part:
    _known("stroke", car)
    return Part((_of_table(stroke_table(car, system)),))


def stroke(car: Car, system: str) -> Part:
    """The four dampers against the shortest."""
    said = ask("stroke", {}, car, system)
    return Part((_of_table(said.answer.tables[0]),), notes=tuple(said.notes))
