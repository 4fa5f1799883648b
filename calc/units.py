"""Units: SI inside, the user's units at the edge. One table, one writer; `typed` is the reader.

A *kind* is what a number measures (length, rate, viscosity ...). The first unit of a kind is the
one shown in the metric system, the one marked `imperial` is shown in the imperial system; the
others are understood when they are typed behind the number.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from calc.language import ENGLISH, later, spoken, tr

METRIC, IMPERIAL = "metric", "imperial"
NBSP = "\u00a0"
SYSTEMS = (METRIC, IMPERIAL)
STANDARD_GRAVITY = 9.80665  # m/s2, exact: ISO 80000-3
_INCH = 0.0254  # m, exact: NIST SP 811, appendix B.8
_POUND = 0.45359237  # kg, exact: NIST SP 811, appendix B.8
_POUND_FORCE = _POUND * STANDARD_GRAVITY
_SILICONE = 0.97  # g/mL at 25 °C: makers' data sheets of damper oils of 100 cSt and more


@dataclass(frozen=True)
class Unit:
    """SI value = number * factor + offset. `decimals` are shown where no doubt decides; the symbol
    of a `word` (only turns have one) is said in the language spoken."""

    symbol: str
    factor: float
    decimals: int
    offset: float = 0.0
    also: tuple[str, ...] = ()
    imperial: bool = False
    word: bool = False

    def to_si(self, number: float) -> float:
        return number * self.factor + self.offset

    def from_si(self, value: float) -> float:
        return (value - self.offset) / self.factor


KINDS: Mapping[str, tuple[Unit, ...]] = {
    "length": (
        Unit("mm", 1e-3, 2),
        Unit("in", _INCH, 3, also=("inch", '"'), imperial=True),
        Unit("cm", 1e-2, 3),
        Unit("m", 1.0, 5),
    ),
    "mass": (
        Unit("g", 1e-3, 1),
        Unit("kg", 1.0, 4),
        Unit("oz", _POUND / 16, 2),  # not shown: oil and corners are weighed in grams everywhere
        Unit("lb", _POUND, 4, also=("lbs",)),
    ),
    "force": (
        Unit("N", 1.0, 2),
        Unit("lbf", _POUND_FORCE, 3, also=("lb", "lbs"), imperial=True),
        Unit("gf", STANDARD_GRAVITY * 1e-3, 0),
        Unit("kgf", STANDARD_GRAVITY, 3),
    ),
    "rate": (
        Unit("N/mm", 1e3, 3),
        Unit("lbf/in", _POUND_FORCE / _INCH, 2, also=("lb/in", "lbs/in"), imperial=True),
        Unit("gf/mm", STANDARD_GRAVITY, 1, also=("g/mm",)),
        Unit("kgf/cm", STANDARD_GRAVITY * 1e2, 3, also=("kg/cm",)),
        Unit("N/m", 1.0, 0),
    ),
    "viscosity": (Unit("cSt", 1e-6, 0, also=("mm2/s", "mm²/s", "cs")),),
    "dynamic": (Unit("mPa s", 1e-3, 0, also=("mPa·s", "cP")), Unit("Pa s", 1.0, 4, also=("Pa·s",))),
    "temperature": (
        Unit("°C", 1.0, 1, offset=273.15, also=("C", "degC")),
        Unit("°F", 5 / 9, 1, offset=459.67 * 5 / 9, also=("F", "degF"), imperial=True),
        Unit("K", 1.0, 2),
    ),
    "volume": (
        Unit("mL", 1e-6, 2, also=("ml", "cc", "cm3", "cm³")),
        Unit("L", 1e-3, 4),
        Unit("fl oz", 231 * _INCH**3 / 128, 3, also=("floz", "fl. oz", "fl.oz")),
    ),
    "turns": (Unit(later("turns"), 1.0, 2, also=(later("turn"),), word=True),),
    "share": (Unit("%", 1e-2, 1),),
    "ratio": (Unit("", 1.0, 3),),
    "count": (Unit("", 1.0, 0),),
    "clock": (Unit("h", 3600.0, 2),),  # a time of day
    "time": (Unit("s", 1.0, 1), Unit("min", 60.0, 1), Unit("h", 3600.0, 2)),
    "wait": (Unit("min", 60.0, 0), Unit("s", 1.0, 0), Unit("h", 3600.0, 2)),
    "frequency": (Unit("Hz", 1.0, 2),),
    "pressure": (
        Unit("kPa", 1e3, 1),
        Unit("psi", _POUND_FORCE / _INCH**2, 2, imperial=True),
        Unit("bar", 1e5, 3),
        Unit("mbar", 1e2, 0, also=("hPa",)),
    ),
    "speed": (
        Unit("mm/s", 1e-3, 0),
        Unit("in/s", _INCH, 2, imperial=True),
        Unit("m/s", 1.0, 3),
    ),
    "damping": (
        Unit("N s/m", 1.0, 2, also=("Ns/m", "N·s/m")),
        Unit("lbf s/in", _POUND_FORCE / _INCH, 4, imperial=True),
    ),
    "angle": (Unit("°", math.pi / 180, 1, also=("deg",)),),
    "density": (Unit("g/mL", 1e3, 3, also=("g/cm3", "g/cm³")),),
    "modulus": (Unit("GPa", 1e9, 1), Unit("Mpsi", 1e6 * _POUND_FORCE / _INCH**2, 2, imperial=True)),
}


READ_ONLY: Mapping[str, Mapping[str, Callable[[float], float]]] = {
    "length": {"tpi": lambda turns: _INCH / turns},
    "viscosity": {"cps": lambda number: number * 1e-6 / _SILICONE},
}
"""What is understood behind a number and never shown: symbol -> SI value of a number. Threads in an
inch stand for a pitch; centipoise on a bottle of silicone oil is divided by its density."""


WEIGHT, _WEIGHT_ALSO = "wt", ("weight", "W")
WEIGHT_UNCERTAINTY = 0.075
"""Relative, standard, of a viscosity read through a weight number: a judgement, more than twice
that of a cSt label, since the numbers are rounded and the line between them is straight."""


def weight_unit(slope: float, offset: float) -> Unit:
    """The unit "wt" of hobby oil: viscosity in cSt = slope * wt + offset.

    Weight numbers are no standard, so the line belongs to the user (common practice, no source).
    """
    return Unit(WEIGHT, slope * 1e-6, 0, offset=offset * 1e-6, also=_WEIGHT_ALSO)


def is_weight(symbol: str) -> bool:
    """Whether a symbol behind a number makes it a weight number."""
    return symbol.lower() in (name.lower() for name in (WEIGHT, *_WEIGHT_ALSO))


def unit_of(kind: str, system: str) -> Unit:
    """The unit in which a kind is shown."""
    units = KINDS[kind]
    if system == IMPERIAL:
        return next((unit for unit in units if unit.imperial), units[0])
    return units[0]


def symbol_text(kind: str, system: str = METRIC) -> str:
    """The symbol of the unit in which a kind is shown: "mm"; a word in the language spoken."""
    return spoken_symbol(unit_of(kind, system))


def spoken_symbol(unit: Unit) -> str:
    """The symbol of a unit; a word in the language spoken."""
    return tr("turns", sense="unit") if unit.word else unit.symbol.replace(" ", NBSP)


def names(unit: Unit) -> tuple[str, ...]:
    """All by which a unit is understood; first what it is called where it is shown."""
    known = (unit.symbol, *unit.also)
    shown = spoken_symbol(unit)  # with or without the stop of an abbreviation
    return (shown, shown.rstrip("."), *map(tr, known), *known) if unit.word else known


def spelt(number: str) -> str:
    """The text of a number with the decimal sign of the language spoken: "12.5" or "12,5"."""
    return number.replace(".", spoken().decimal)


def tidy(value: float) -> float:
    """The float of the same 14 digits that a person would write: 50 times 1e-6 is 5e-05 and not
    4.9999999999999996e-05, so that what was typed twice, or typed and declared, is equal."""
    return float(f"{value:.14g}")


def _plain(number: float, decimals: int) -> str:
    text = f"{number:.{max(decimals, 0)}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


_COARSER = 0.3  # log10: a last digit may be worth twice what it was
_SIGNIFICANT, _MOST_DECIMALS = 4, 12  # of a small number in an input field


def last_digit(number: float, u: float) -> int:
    """Which power of ten the last digit is worth that a standard uncertainty leaves of a number: at
    most a third of it, so that rounding moves the number by no more than a sixth; the first digit
    always stays."""
    finest = math.log10(u / 3)
    return math.floor(min(finest, math.log10(abs(number))) if number else finest)


def _left(number: float, decimals: int, u: float) -> tuple[float, int]:
    """The number with the digits that a standard uncertainty leaves, and its decimals, no more than
    these."""
    left = last_digit(number, u)
    return round(number, -left), min(decimals, -left)


def entry_text(value: float, kind: str, system: str = METRIC, u: float | None = None) -> str:
    """The number alone, as it stands in an input field: enough digits, no idle zeros; with `u` no
    more digits than that standard uncertainty (SI) leaves."""
    unit = unit_of(kind, system)
    number = unit.from_si(value)
    places = unit.decimals + 2
    if u:
        number, places = _left(number, places, u / unit.factor)
    elif 0 < abs(number) < 1:
        small = _SIGNIFICANT - 1 - math.floor(math.log10(abs(number)))
        places = max(places, min(small, _MOST_DECIMALS))
    text = _plain(number, places)
    return spelt(text.rstrip("0").rstrip(".") if "." in text else text)


def number_text(
    value: float,
    kind: str,
    system: str = METRIC,
    decimals: int | None = None,
    u: float | None = None,
) -> str:
    """The number alone as it stands in an answer, with a true minus sign; with `u` no more digits
    than that standard uncertainty (SI) leaves."""
    unit = unit_of(kind, system)
    places = unit.decimals if decimals is None else decimals
    number = unit.from_si(value)
    if u:
        number, places = _left(number, places, u / unit.factor)
    return spelt(_plain(number, places)).replace("-", "−")


def places(decimals: int, kind: str, system: str) -> int:
    """Decimals in the unit shown that lose nothing of so many decimals of the metric unit."""
    ratio = unit_of(kind, system).factor / KINDS[kind][0].factor
    return max(decimals + math.ceil(math.log10(ratio) - _COARSER), 0)


def show(value: float, kind: str, system: str = METRIC, decimals: int | None = None) -> str:
    """Number and unit, held together by a no-break space: "12.50 mm"."""
    if kind == "turns" and decimals is None:
        return turns_text(value)
    unit = unit_of(kind, system)
    return number_text(value, kind, system, decimals) + gap(unit) + spoken_symbol(unit)


def as_typed(value: float, kind: str, system: str = METRIC, u: float | None = None) -> str:
    """Number and unit with the digits that an input field has, no idle zeros: "355 g"."""
    if kind == "turns":
        return turns_text(value)
    unit = unit_of(kind, system)
    number = entry_text(value, kind, system, u).replace("-", "−")
    return number + gap(unit) + spoken_symbol(unit)


def show_to(value: float, kind: str, system: str, decimals: int | None = None) -> str:
    """Number and unit to so many decimals of the metric unit: another shows as many as lose nothing
    of them."""
    kept = None if decimals is None else places(decimals, kind, system)
    return show(value, kind, system, kept)


def gap(unit: Unit) -> str:
    """What stands between a number and its unit; before "%" English alone has nothing."""
    if unit.symbol == "%":
        return "" if spoken().code == ENGLISH else NBSP
    return "" if unit.symbol in ("", "°") else NBSP


def decimals_for(u: float, kind: str, system: str = METRIC) -> int:
    """Decimals that show a standard uncertainty with two digits (JCGM 100:2008, 7.2.6)."""
    unit = unit_of(kind, system)
    width = abs(2 * u / unit.factor)
    if not math.isfinite(width) or width <= 0:
        return unit.decimals
    return min(max(1 - math.floor(math.log10(width)), 0), unit.decimals + 2)


def turns_number(turns: float) -> str:
    """Turns as a hand counts them, without the word: "1 1/4"; decimals where no eighth fits."""
    if not _in_eighths(turns):
        return spelt(_plain(turns, 2)).replace("-", "−")
    eighths = round(turns * 8)
    whole, part = divmod(abs(eighths), 8)
    fraction = str(Fraction(part, 8)) if part else ""
    pieces = (str(whole) if whole or not part else "", fraction)
    return ("−" if eighths < 0 else "") + NBSP.join(piece for piece in pieces if piece)


def turns_text(turns: float) -> str:
    """Turns as a hand counts them: "1 1/4 turns"."""
    return f"{turns_number(turns)}{NBSP}{_turn_word(turns)}"


def _in_eighths(turns: float) -> bool:
    return abs(turns * 8 - round(turns * 8)) <= 1e-9


def _turn_word(turns: float) -> str:
    eighths = abs(round(turns * 8))
    if not _in_eighths(turns) or eighths == 0 or eighths > 8:
        return tr("turns")
    return tr("turn") if eighths in (4, 8) else tr("turn", sense="part of one")
