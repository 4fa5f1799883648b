"""The dampers of both ends of the car, for forms that are about the whole of it."""

from collections.abc import Mapping
from dataclasses import replace

from calc.asking.entry import Number
from calc.forms.inputs import Inputs
from calc.forms.names import end_word
from calc.forms.piston import DOUBTS, DamperInputs, piston_from
from calc.forms.recorded import folded_at
from calc.language import tr
from calc.model.corners import ENDS, End
from calc.model.damper import Bench
from calc.physics.damper import Piston
from calc.replying.form import Given, Problem

_OFF_CENTRE = "off_centre"


def dampers() -> tuple[Number, ...]:
    """Fields of the pistons, bores and shafts of both ends."""
    return tuple(entry for end in ENDS for entry in folded_at(end, DamperInputs))


def damper_doubts() -> Inputs:
    """The uncertainty of the model of both pistons."""
    off_centre = {f"{end}.{_OFF_CENTRE}": DOUBTS[_OFF_CENTRE] for end in ENDS}
    return {**off_centre, "piston_law": DOUBTS["piston_law"]}


def piston_of(given: Given, end: End) -> Piston:
    """The piston of an end. Raises Problem."""
    damper = DamperInputs(given, f"{end}.")
    return piston_from(damper, damper, given.numbers[f"{end}.{_OFF_CENTRE}"])


def other_piston_of(given: Given, end: End, other: Mapping[str, float], at: str) -> Piston:
    """The piston of an end with some `other` values, by name. Raises Problem at the entry `at`
    that they come from."""
    # Only the numbers of this piston are looked up: the others cannot move it.
    names = (*(entry.name for entry in DamperInputs.fields), _OFF_CENTRE)
    own = {name: given.numbers[f"{end}.{name}"] for name in names if name not in other}
    flat = {f"{end}.{name}": value for name, value in {**own, **other}.items()}
    try:
        return piston_of(replace(given, numbers=flat), end)
    except Problem as problem:
        sentence = tr("The {end} damper: {problem}", end=end_word(end), problem=problem)
        raise Problem(at, sentence) from problem


def bench(given: Given) -> Bench:
    """The oil at its temperature and shaft speed, as entered, with the factors of both laws."""
    return Bench(given.warm, given.speed, given.law_now, given.piston_law)
