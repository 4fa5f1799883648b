"""What was typed, in the next unit of its kind: for the unit that stands beside a number."""

from calc.asking.typed import NotANumber, parse
from calc.language import spoken
from calc.units import KINDS, Unit, spelt, tidy, unit_of

_MOST_DECIMALS = 12


def in_next_unit(
    text: str, kind: str, system: str, extra: tuple[Unit, ...] = (), first: str = ""
) -> str:
    """The text with its number in the unit that follows its own, and that unit behind it.

    The unit of the system needs no naming. `first` is what was typed before the units were gone
    through: it is what is converted, so that no digit is lost on the way, and it comes back as it
    was when its own unit has its turn. What cannot be read stays as it is.
    """
    units = KINDS[kind] + extra
    try:
        here = parse(text, kind, system, extra)
        meant = parse(first or text, kind, system, extra)
    except NotANumber:
        return text
    if here.unit is None or meant.unit is None or len(units) == 1:
        return text
    after = units[(units.index(here.unit) + 1) % len(units)]
    if after is meant.unit:
        return first or text
    number = _number(meant.value, meant.unit, after)
    width = "" if meant.u is None else f" ± {2 * meant.u / after.factor:.3g}"
    named = "" if after is unit_of(kind, system) else f" {after.symbol}"
    return _as_typed(number, width, named, first or text, (kind, system, extra))


def means(text: str, value: float, kind: str, system: str, extra: tuple[Unit, ...] = ()) -> bool:
    """Whether a text is how the value, known better, is written in the unit typed with it."""
    try:
        here = parse(text, kind, system, extra)
    except NotANumber:
        return False
    if here.unit is None or here.u is not None:
        return False
    return here.value == tidy(
        here.unit.to_si(float(_number(value, unit_of(kind, system), here.unit)))
    )


def _number(value: float, before: Unit, after: Unit) -> str:
    """The shortest decimals that still mean the same, to the digits an entry in `before` has."""
    places = before.decimals + 2
    wanted = round(before.from_si(value), places)
    for decimals in range(_MOST_DECIMALS):
        text = f"{after.from_si(value):.{decimals}f}"
        if round(before.from_si(after.to_si(float(text))), places) == wanted:
            break
    return text


def _as_typed(
    number: str, width: str, named: str, typed: str, how: tuple[str, str, tuple[Unit, ...]]
) -> str:
    """With the decimal sign that was typed, where the number can then be read one way only."""
    own = spelt(number) + named + spelt(width)
    other = "." if spoken().decimal == "," else ","
    if other not in typed or spoken().decimal in typed:
        return own
    as_typed = number.replace(".", other) + named + width.replace(".", other)
    try:
        parse(as_typed, *how)
    except NotANumber:
        return own
    return as_typed
