"""The block of the oil: which one feels today as it did where the set-up was found right, and what
to make it of."""

import math
from collections.abc import Mapping, Sequence

from calc import units
from calc.answering.uncertainty import COVERAGE
from calc.forms.filling import TYPICAL, Fill, Wanted, filled_together, to_make
from calc.forms.names import end_label
from calc.forms.oil_choice import Named
from calc.forms.oil_warm import law_uncertainty
from calc.language import tr
from calc.model.car import Car, is_known
from calc.model.corners import ENDS, End
from calc.model.oil import clamp
from calc.physics.warm import same_feel
from calc.sheet.asking import of_ends
from calc.sheet.grid import BLANK, Grid, Part, Role, nearest_first
from calc.sheet.value import mark, value
from calc.units import NBSP

_COLD, _HOT = 278.15, 313.15  # K: 5 to 40 degrees Celsius, the days one races on
_NEAR = 0.5  # K: a round temperature so near the base is the base


def oil_for_the_day(car: Car, system: str) -> Part:
    """Both ends at round temperatures, with the one that the oil was right at in a box."""
    bases = {end: car.axle(end).oil_at for end in ENDS if _knows(car, end)}
    days = _days(list(bases.values()), system)
    oils = [_oils(car, bases, day) for day in days]
    doubts = [
        _doubt(made, day, bases[end])
        for of_day, day in zip(oils, days, strict=True)
        for end, (made, _) in of_day.items()
    ]
    about = [tr("parts of your bottles")]
    if doubts:
        share = units.show(max(doubts), "share", decimals=0)
        about.append(f"±{NBSP}{share}")
    grid = _grid(car, oils, bases, days, system)
    why = tr("The oil, or the temperature it was right at, is not known yet.")
    lacking = of_ends({end: why for end in ENDS if end not in bases})
    narrow = (grid.only((0, 1, 2)), grid.only((0, 3, 4)))
    notes = (*lacking, *_enough(oils))
    return Part((grid,), ", ".join(about), notes=notes, narrow=narrow)


def _enough(oils: Sequence[Mapping[End, tuple[Named | None, float]]]) -> tuple[str, ...]:
    """A word where an oil is made of a bottle of which nobody has said how much is in it."""
    made = [one for of_day in oils for one, _ in of_day.values() if one is not None]
    if all(bottle.left is not None for one in made for bottle, _ in one.portions):
        return ()
    return (tr("Where the amount in a bottle is not known, check that there is enough."),)


def _knows(car: Car, end: End) -> bool:
    return is_known(car, f"{end}.oil") and is_known(car, f"{end}.oil_at")


def _days(bases: Sequence[float], system: str) -> list[float]:
    """Temperatures in K: every 5 °C or 10 °F, and the bases."""
    unit = units.unit_of("temperature", system)
    step = 5.0 if system == units.METRIC else 10.0
    first, last = (round(unit.from_si(end) / step) for end in (_COLD, _HOT))
    found = [unit.to_si(step * n) for n in range(first, last + 1)]
    apart = [one for one in found if all(abs(one - base) > _NEAR for base in bases)]
    return sorted({*apart, *bases})


def _oils(
    car: Car, bases: Mapping[End, float], day: float
) -> dict[End, tuple[Named | None, float]]:
    """What the bottles give for a day, where they do, and the viscosity wanted in m²/s: for both
    ends together where both are refilled."""
    wanted = {}
    for end, base in bases.items():
        grade = same_feel(car.axle(end).oil, clamp(base), clamp(day))
        known = is_known(car, f"{end}.inside.held")
        held = car.axle(end).inside.held if known else TYPICAL
        wanted[end] = Wanted(grade, to_make(held), car.tools.syringe)
    changed = {end: one for end, one in wanted.items() if day != bases[end]}
    made = filled_together(dict(enumerate(car.bottles, 1)), changed, units.show)
    fills = {end: one.oil for end, one in made.items() if isinstance(one, Fill)}
    return {end: (fills.get(end), one.grade) for end, one in wanted.items()}


def _doubt(made: Named | None, day: float, base: float) -> float:
    """How far the oil may be from the one that feels alike, as a share (k = 2): by the temperature
    law and by the laws of blending, were the labels right."""
    law = COVERAGE * law_uncertainty(day, base)
    return math.hypot(law, (made.high - made.low) / (2 * made.viscosity) if made else 0.0)


def _grid(
    car: Car,
    oils: Sequence[Mapping[End, tuple[Named | None, float]]],
    bases: Mapping[End, float],
    days: Sequence[float],
    system: str,
) -> Grid:
    roles: list[Role] = ["key"]
    heads = [tr("air {unit}", unit=units.unit_of("temperature", system).symbol)]
    for end in ENDS:
        recipe = tr("parts × bottle").replace(" ×", f"{NBSP}×")
        heads += [tr("{end} cSt", end=end_label(end)), recipe]
        roles += ["answer", "text"]
    rows = []
    for of_day, day in zip(oils, days, strict=True):
        cells = [units.number_text(day, "temperature", system, 0)]
        for end in ENDS:
            if end not in bases:
                cells += [BLANK, BLANK]
            elif day == bases[end]:
                cells += [value(car, f"{end}.oil", system), tr("as filled")]
            else:
                one, wanted = of_day[end]
                grade = units.number_text(wanted, "viscosity", system)
                grade += mark(car, f"{end}.oil", f"{end}.oil_at")
                cells += [grade, _recipe(one, system) if car.bottles else BLANK]
        rows.append(tuple(cells))
    boxed = frozenset(n for n, day in enumerate(days) if day in bases.values())
    return Grid(tuple(heads), tuple(roles), tuple(rows), boxed=boxed, keep=_keep(days, boxed))


def _keep(days: Sequence[float], boxed: frozenset[int]) -> tuple[int, ...]:
    """The bases first, then what is nearest to the middle of them: so the rows that are left
    follow one another without a leap."""
    middle = sum(days[n] for n in boxed) / len(boxed) if boxed else (_COLD + _HOT) / 2
    rest = [n for n in nearest_first(days, middle) if n not in boxed]
    return (*sorted(boxed), *rest)


def _recipe(made: Named | None, system: str) -> str:
    """ "7 × 250 + 3 × 400", thin oil first."""
    if made is None:
        return tr("no bottles for it")
    thin, thick = (
        units.number_text(bottle.viscosity, "viscosity", system)
        for bottle in (made.mix.thin, made.mix.thick)
    )
    few, many = made.parts
    if not many or not few:
        return tr("straight {oil}", oil=thick if many else thin)
    return f"{few}{NBSP}×{NBSP}{thin} + {many}{NBSP}×{NBSP}{thick}"
