"""The dampers of an end as the car record has them, as inputs that nobody types."""

from collections.abc import Mapping
from dataclasses import replace

from calc.asking.entry import Number
from calc.forms.inputs import Inputs, record_inputs
from calc.forms.names import end_label, end_word
from calc.forms.piston import DOUBTS, DamperInputs, piston_from
from calc.language import tr
from calc.model.car import Car
from calc.model.corners import End
from calc.model.damper import Bench
from calc.physics.damper import Piston
from calc.replying.form import Given, Problem

_PISTON = [entry for entry in DamperInputs.fields if isinstance(entry, Number)]
_OFF_CENTRE = "off_centre"


def piston_inputs(car: Car, end: End) -> Inputs:
    """The pistons of an end as inputs of `with_inputs`, named "front.hole" and so on."""
    paths = {f"{end}.{entry.name}": entry.car.format(axle=end) for entry in _PISTON}
    made = record_inputs(car, paths, end_label(end))
    return {**made, f"{end}.{_OFF_CENTRE}": DOUBTS[_OFF_CENTRE]}


def piston_of(given: Given, end: End, at: str, other: Mapping[str, float] | None = None) -> Piston:
    """The piston of an end from `piston_inputs`, some of it with `other` values.

    Raises Problem, at the entry `at`, where the record holds no piston that can be.
    """
    names = [entry.name for entry in _PISTON] + [_OFF_CENTRE]
    own = {name: given.numbers[f"{end}.{name}"] for name in names}
    labels = {entry.name: entry.said for entry in _PISTON}
    flat = replace(given, numbers={**own, **(other or {})}, labels=labels)
    try:
        damper_of_end = DamperInputs(flat)
        return piston_from(damper_of_end, damper_of_end, flat.numbers[_OFF_CENTRE])
    except Problem as problem:
        sentence = tr(
            "The {end} damper in the car record: {problem}", end=end_word(end), problem=problem
        )
        raise Problem(at, sentence) from problem


def bench(given: Given) -> Bench:
    """The oil at its temperature and shaft speed, as entered, with the factors of both laws."""
    return Bench(given.warm, given.speed, given.law_now, given.piston_law)
