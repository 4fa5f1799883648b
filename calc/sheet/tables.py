"""Tables of the cheat sheet that are of the car record alone."""

from collections.abc import Callable, Mapping
from functools import partial
from itertools import pairwise

from calc import units
from calc.answering.answer import Table
from calc.asking import record
from calc.asking.entry import Number
from calc.forms.names import CORNER_LABELS, END_LABELS
from calc.language import later, tr
from calc.model.car import Car, entry_at, is_known
from calc.model.corners import ENDS
from calc.model.origin import How
from calc.physics import oil
from calc.replying.inputs import Problem
from calc.units import NBSP

_RATIOS = ((8, 2), (7, 3), (6, 4), (5, 5), (4, 6), (3, 7), (2, 8))
_CONSTANTS = (
    "pitch", "motion_ratio", "spring_rate", "spring_free", "spring_solid", "droop_length",
    "stroke", "oil", "bore", "shaft", "holes", "hole", "piston_thickness", "unsprung",
    "ride_height", "wanted_height",
)  # fmt: skip
_PENCIL_ROWS = 5
_BLANK = "____"
_MARKS: Mapping[How, str] = {"assumed": later("assumed"), "predicted": later("predicted")}


def blends(car: Car, system: str) -> Table:
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
        low, high = oil.band([(1, thin), (1, thick)])
        gives = (show(oil.blend(mix)) for mix in mixes)
        span = tr("{low} to {high}", low=show(low), high=show(high))
        rows.append((f"{show(thin)}{NBSP}+{NBSP}{show(thick)}", *gives, span))
    parts = (_ratio(thin, thick) for thin, thick in _RATIOS)
    laws = tr("Mixing rules at {parts}", parts=_ratio(5, 5))
    return Table("", (tr("Thin + thick"), *parts, laws), tuple(rows))


def _ratio(thin: int, thick: int) -> str:
    return f"{thin}{NBSP}:{NBSP}{thick}"


def constants(car: Car, system: str) -> Table:
    rows = []
    for name in _CONSTANTS:
        entry = entry_at(f"front.{name}")
        assert isinstance(entry, Number)
        values = (_value(car, f"{end}.{name}", units.number_text, system) for end in ENDS)
        label, unit = entry.said.partition(" (")[0], units.unit_of(entry.kind, system).symbol
        rows.append((f"{label}, {unit}" if unit else label, *values))
    return Table("", ("", *(tr(label) for _, label in END_LABELS)), tuple(rows))


def _value(car: Car, path: str, show: Callable[[float, str, str], str], system: str) -> str:
    """A number of the record, with the word for where it comes from unless somebody has measured
    it; left to the pencil where nobody knows it."""
    entry = entry_at(path)
    assert isinstance(entry, Number)
    if not is_known(car, path):
        return _BLANK
    shown = show(record.get(car, path), entry.kind, system)
    source = car.origins.get(path)
    word = _MARKS.get(source.how) if source else None
    return tr("{value}, {origin}", value=shown, origin=tr(word)) if word else shown


def corners(car: Car, system: str) -> Table:
    rows = []
    for key, label in CORNER_LABELS:
        load = _value(car, f"corners.{key}.load", units.show, system)
        collar = units.turns_text(car.corner(key).collar)
        rows.append((tr(label), load, collar))
    return Table("", ("", tr("Load"), tr("Collar down")), tuple(rows))


def bottles(car: Car, system: str) -> Table:
    if not car.bottles:
        raise Problem("bottles", tr("The car record holds no bottle."))
    rows = (
        (units.show(b.viscosity, "viscosity", system), b.name, units.show(b.left, "volume", system))
        for b in sorted(car.bottles, key=lambda bottle: bottle.viscosity)
    )
    heads = (tr("Oil"), tr("Name"), tr("In bottle"))
    return Table("", heads, tuple(rows))


def springs(car: Car, system: str) -> Table:
    if not car.springs:
        raise Problem("springs", tr("The car record holds no spring."))
    rows = tuple(
        (
            spring.name or tr("spring {number}", number=number),
            units.show(spring.rate, "rate", system),
            units.show(spring.free, "length", system),
            units.show(spring.solid, "length", system),
        )
        for number, spring in enumerate(car.springs, 1)
    )
    heads = (tr("Spring"), tr("Rate"), tr("Free"), tr("Solid"))
    return Table("", heads, rows)


def pencil(car: Car, system: str) -> Table:
    """An empty table: one line for each run."""
    heads = (
        tr("When"), tr("FL"), tr("FR"), tr("RL"), tr("RR"), tr("Oil"), tr("Height"),
    )  # fmt: skip
    return Table("", heads, (("",) * len(heads),) * _PENCIL_ROWS)
