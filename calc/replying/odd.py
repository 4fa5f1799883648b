"""What is odd about what was typed, as questions at its field: a number far from the usual, a
height far from the one before, an oil that may be a weight number."""

from collections.abc import Container, Mapping

from calc import units
from calc.asking import record
from calc.asking.entry import Number, path_of
from calc.asking.typed import is_bare
from calc.language import tr
from calc.model.car import is_known
from calc.replying.form import Form
from calc.replying.inputs import Inputs

_THINNEST = 100e-6
"""m²/s; two digits on a bottle of damper oil are hardly ever cSt but a weight (common practice, no
source)."""


def weights_meant(form: Form, typed: Mapping[str, str], given: Inputs) -> dict[str, str]:
    """Entries of an oil that may be weight numbers typed without their unit, each with the question
    to be answered before anything is mixed or filled. One typed with its unit is taken as it is,
    and so is the value of the car record."""
    return {
        name: _which_oil(given, cell, given.numbers[name])
        for name, cell in oils(form).items()
        if name in given.numbers
        and given.numbers[name] < _THINNEST
        and _is_doubted(typed, given, name, cell)
    }


def slips(form: Form, typed: Mapping[str, str], given: Inputs) -> dict[str, str]:
    """Entries far outside the usual range that may be typed wrong or in another unit, each with the
    question to be answered before anything is done."""
    return {
        name: cell.slip(cell.said, given.numbers[name], given.system)
        for name, cell in form.by_name.items()
        if isinstance(cell, Number)
        and name in given.numbers
        and cell.is_far(given.numbers[name])
        and units.unit_of(cell.kind, given.system).symbol
        and _is_doubted(typed, given, name, cell)
    }


def _is_doubted(typed: Mapping[str, str], given: Inputs, name: str, cell: Number) -> bool:
    """Whether a number may be asked about: it was typed without its unit, which would confirm it,
    and is none of the car record."""
    return is_bare(typed.get(name, "")) and not _is_recorded(given, name, cell)


def _which_oil(given: Inputs, cell: Number, value: float) -> str:
    said = {
        "label": cell.said,
        "value": given.say(value, "viscosity"),
        "number": units.entry_text(value, "viscosity", given.system),
    }
    if given.car.own_units("viscosity"):
        return tr(
            "{label}: {value} is far thinner than damper oil. Did you mean {number} wt? Type "
            "“{number} wt” if you did, “{value}” if not.",
            **said,
        )
    return tr(
        "{label}: {value} is far thinner than damper oil. Did you mean {number} wt? Makers differ, "
        "so type the cSt of that oil, or first note two lines of its table under “Oil for the "
        "evening”. Type “{value}” if you meant that.",
        **said,
    )


def oils(form: Form) -> dict[str, Number]:
    """The fields of a form that ask for the viscosity of an oil."""
    return {
        name: cell
        for name, cell in form.by_name.items()
        if isinstance(cell, Number) and cell.kind == "viscosity"
    }


def _is_recorded(given: Inputs, name: str, cell: Number) -> bool:
    """Whether the number is that of the car record."""
    recorded = record.get(given.car, path_of(cell, given.choices)) if cell.car else cell.start
    return bool(recorded == given.numbers[name])


def unusual(form: Form, given: Inputs, asked: Container[str]) -> dict[str, str]:
    """A question for each number outside the usual range, where it was not `asked` about, and for
    a height that is far from the one before."""
    return _leaps(form, given) | {
        name: cell.unusual(cell.said, given.numbers[name], given.system)
        for _, name, cell in form.cells()
        if isinstance(cell, Number)
        and name in given.numbers
        and name not in asked
        and cell.is_unusual(given.numbers[name])
    }


_LEAP = 10e-3
"""m; collars move a chassis by less (common practice, no source)."""


def _leaps(form: Form, given: Inputs) -> dict[str, str]:
    """A question for each height of one's own car that is half as much again as the one in its
    record, or half of it."""
    found = {}
    for _, name, cell in form.cells():
        if given.car.demo or not cell.car.endswith("ride_height") or name not in given.numbers:
            continue
        path = path_of(cell, given.choices)
        before, now = record.get(given.car, path), given.numbers[name]
        if is_known(given.car, path) and abs(now - before) > max(_LEAP, abs(before) / 2):
            found[name] = tr(
                "{label}: {value} is far from the {before} of the record. Is it the ride height?",
                label=cell.said,
                value=given.typed(now, "length"),
                before=given.typed(before, "length"),
            )
    return found
