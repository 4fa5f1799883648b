"""How far one press of plus or minus goes at a number: a step of the tool that is used for it."""

import math

from calc import units
from calc.asking.entry import Number
from calc.model.car import Tools
from calc.replying.form import Form

_NICE = (1, 2, 5)
_STEPS_IN_USUAL = 50  # where no tool says it, about so many steps go through the usual range
_WEIGHT = units.weight_unit(1.0, 0.0)  # its names count here, not its line
_DIGITS = 3  # a step with no more digits than these stays as it is


def steps(number: Number, tools: Tools) -> tuple[str, ...]:
    """The step in every unit of the number's kind, in their order, as plain decimal text.

    It is the number's own step, the smallest turn that is set, what its tool reads to, or about a
    fiftieth of the usual range.
    """
    exact = _step(number, tools)
    wide = (number.usual[1] - number.usual[0]) / _STEPS_IN_USUAL
    return tuple(
        "1" if unit is _WEIGHT else _text((exact or wide) / unit.factor, nice=not exact)
        for unit in units_of(number.kind)
    )


def units_of(kind: str) -> tuple[units.Unit, ...]:
    """All units that an entry of a kind may understand; weight numbers where the car has a line."""
    return units.KINDS[kind] + ((_WEIGHT,) if kind == "viscosity" else ())


def _step(number: Number, tools: Tools) -> float:
    if number.whole:
        return 1.0
    if number.step:
        return number.step
    if number.kind == "turns":
        return tools.turn_step
    return getattr(tools, number.tool) if number.tool else 0.0


def _text(step: float, *, nice: bool) -> str:
    """The step, or the nearest of 1, 2 and 5 with its power of ten, without an exponent."""
    short = float(f"{step:.{_DIGITS}g}")
    if nice or abs(short - step) > 1e-9 * step:
        power = 10.0 ** math.floor(math.log10(step))
        short = min((n * power for n in (*_NICE, 10)), key=lambda n: abs(math.log(n / step)))
    decimals = max(0, -math.floor(math.log10(short)) + _DIGITS)
    return f"{short:.{decimals}f}".rstrip("0").rstrip(".")


def own_steps(form: Form, tools: Tools) -> dict[str, tuple[str, ...]]:
    """Steps of the form's fields that are not those of the demo car's tools, by field."""
    usual = Tools()
    if tools == usual:
        return {}
    numbers = [(name, cell) for _, name, cell in form.cells() if isinstance(cell, Number)]
    own = {name: steps(cell, tools) for name, cell in numbers}
    return {name: own[name] for name, cell in numbers if own[name] != steps(cell, usual)}
