"""Units: SI inside, the user's units at the edge. One table, one reader, one writer.

A *kind* is what a number measures (length, rate, viscosity ...). The first unit of a kind is the
one shown in the metric system, the one marked `imperial` is shown in the imperial system; the
others are understood when they are typed behind the number.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

METRIC, IMPERIAL = "metric", "imperial"
NBSP = "\u00a0"
SYSTEMS = (METRIC, IMPERIAL)
STANDARD_GRAVITY = 9.80665  # m/s2, exact: ISO 80000-3
_INCH = 0.0254  # m, exact: NIST SP 811, appendix B.8
_POUND = 0.45359237  # kg, exact: NIST SP 811, appendix B.8
_POUND_FORCE = _POUND * STANDARD_GRAVITY


@dataclass(frozen=True)
class Unit:
    """SI value = number * factor + offset. `decimals` are shown where no doubt decides."""

    symbol: str
    factor: float
    decimals: int
    offset: float = 0.0
    also: tuple[str, ...] = ()
    imperial: bool = False

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
        Unit("oz", _POUND / 16, 2, imperial=True),
        Unit("kg", 1.0, 4),
        Unit("lb", _POUND, 4),
    ),
    "force": (
        Unit("N", 1.0, 2),
        Unit("lbf", _POUND_FORCE, 3, imperial=True),
        Unit("gf", STANDARD_GRAVITY * 1e-3, 0),
        Unit("kgf", STANDARD_GRAVITY, 3),
    ),
    "rate": (
        Unit("N/mm", 1e3, 3),
        Unit("lbf/in", _POUND_FORCE / _INCH, 2, also=("lb/in",), imperial=True),
        Unit("gf/mm", STANDARD_GRAVITY, 1, also=("g/mm",)),
        Unit("kgf/cm", STANDARD_GRAVITY * 1e2, 3, also=("kg/cm",)),
        Unit("N/m", 1.0, 0),
    ),
    "viscosity": (Unit("cSt", 1e-6, 0, also=("mm2/s", "mm²/s")),),
    "dynamic": (Unit("mPa s", 1e-3, 0, also=("mPa·s", "cP")), Unit("Pa s", 1.0, 4, also=("Pa·s",))),
    "temperature": (
        Unit("°C", 1.0, 1, offset=273.15, also=("C", "degC")),
        Unit("°F", 5 / 9, 1, offset=459.67 * 5 / 9, also=("F", "degF"), imperial=True),
        Unit("K", 1.0, 2),
    ),
    "volume": (Unit("mL", 1e-6, 2, also=("ml", "cc", "cm3", "cm³")), Unit("L", 1e-3, 4)),
    "turns": (Unit("turns", 1.0, 2, also=("turn",)),),
    "share": (Unit("%", 1e-2, 1),),
    "ratio": (Unit("", 1.0, 3),),
    "count": (Unit("", 1.0, 0),),
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


def weight_unit(slope: float, offset: float) -> Unit:
    """The unit "wt" of hobby oil: viscosity in cSt = slope * wt + offset.

    Weight numbers are no standard, so the line belongs to the user (common practice, no source).
    """
    return Unit("wt", slope * 1e-6, 0, offset=offset * 1e-6, also=("weight", "W"))


def unit_of(kind: str, system: str) -> Unit:
    """The unit in which a kind is shown."""
    units = KINDS[kind]
    if system == IMPERIAL:
        return next((unit for unit in units if unit.imperial), units[0])
    return units[0]


class NotANumber(ValueError):
    """What was typed cannot be read; the message says why, in a clause without a full stop."""


@dataclass(frozen=True)
class Measured:
    """An SI value and its standard uncertainty, None where the user gave none."""

    value: float
    u: float | None = None


_GLYPHS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "−": "-", "–": "-", NBSP: " ", "\u202f": " "}
_NUMBER = re.compile(
    r"""\s*(?P<sign>[+-]?)\s*
    (?: (?:(?P<whole>\d+)\s+)?(?P<over>\d+)\s*/\s*(?P<under>\d+)
      | (?P<decimal>(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?) )
    \s*(?P<unit>[^\d\s±+.,-][^±+-]*)?""",
    re.VERBOSE,
)
_DOUBT = re.compile(r"\s*(?:±|\+\s*/?\s*-)(?P<doubt>.+)")
_GROUPED = re.compile(r"[1-9]\d{0,2},\d{3}")
_BARE = re.compile(r"[\d\s.,/½¼¾±+−–eE-]*")  # a number without a unit
_TOO_LARGE = "that number is too large to be one of these"
_SIGNIFICANT, _MOST_DECIMALS = 4, 12  # of a small number in an input field
_LONGEST = 60  # characters; no number of this trade needs more


def _number(match: re.Match[str], text: str) -> float:
    if match["decimal"] is None:
        if int(match["under"]) == 0:
            raise NotANumber("a fraction over zero is not a number")
        value = float(Fraction(int(match["over"]), int(match["under"])) + int(match["whole"] or 0))
    else:
        if _GROUPED.fullmatch(match["decimal"]):
            plain = match["decimal"].replace(",", "")
            point = match["decimal"].replace(",", ".")
            raise NotANumber(
                f"“{text}” can be read two ways; write {plain}, or {point} with a point"
            )
        value = float(match["decimal"].replace(",", "."))
    if not math.isfinite(value):
        raise NotANumber(_TOO_LARGE)
    return -value if match["sign"] == "-" else value


def _find_unit(symbol: str, units: tuple[Unit, ...], default: Unit) -> Unit:
    symbol = symbol.strip()
    if not symbol:
        return default
    for unit in units:
        names = (unit.symbol, *unit.also)
        if symbol in names or symbol.lower() in (name.lower() for name in names):
            return unit
    known = ", ".join(unit.symbol for unit in units if unit.symbol) or "no unit"
    raise NotANumber(f"“{symbol}” is not a unit known here; known: {known}")


def parse(text: str, kind: str, system: str = METRIC, extra: tuple[Unit, ...] = ()) -> Measured:
    """Read what a user typed: "12,5", "1 1/4", "4.2 lbf/in", "12 ± 0.1", "350 cSt +- 5 %".

    The unit may be left out: that of the system is meant then; `extra` units are the user's own
    (a weight scale). A doubt behind
    "±" is the half-width that holds about 95 of 100 values (coverage factor 2, as answers are
    shown), so u is half of it. Returns SI. Raises NotANumber.
    """
    shown = text.strip()
    if not shown:
        raise NotANumber("nothing was entered")
    if len(shown) > _LONGEST:
        raise NotANumber("that is too long to be a number")
    cleaned = shown
    for glyph, plain in _GLYPHS.items():
        cleaned = cleaned.replace(glyph, plain)
    match = _NUMBER.match(cleaned)
    if match is None or not cleaned.isprintable():
        raise NotANumber(f"“{shown}” is not a number")
    measured = _measured(match, cleaned[match.end() :], shown, KINDS[kind] + extra, kind, system)
    if not (math.isfinite(measured.value) and math.isfinite(measured.u or 0.0)):
        raise NotANumber(_TOO_LARGE)
    return Measured(tidy(measured.value), measured.u)


def tidy(value: float) -> float:
    """The float of the same 14 digits that a person would write: 50 times 1e-6 is 5e-05 and not
    4.9999999999999996e-05, so that what was typed twice, or typed and declared, is equal."""
    return float(f"{value:.14g}")


def _measured(
    match: re.Match[str],
    rest: str,
    shown: str,
    units: tuple[Unit, ...],
    kind: str,
    system: str,
) -> Measured:
    """The number matched, and the doubt that the rest of the text adds to it."""
    usual = unit_of(kind, system)
    number = _number(match, shown)
    if not rest.strip():
        return Measured(_find_unit(match["unit"] or "", units, usual).to_si(number))
    doubt = _DOUBT.fullmatch(rest)
    width_match = _NUMBER.fullmatch(doubt["doubt"]) if doubt else None
    if width_match is None or width_match["sign"]:
        raise NotANumber(f"“{shown}” is not a number")
    width = _number(width_match, shown)
    width_symbol = (width_match["unit"] or "").strip()
    if width_symbol == "%" and kind != "share":
        unit = _find_unit(match["unit"] or "", units, usual)
        return Measured(unit.to_si(number), abs(number * unit.factor) * width / 100 / 2)
    # "12 ± 0.2 in": a unit behind the doubt alone is meant for both.
    unit = _find_unit(match["unit"] or width_symbol, units, usual)
    width_unit = _find_unit(width_symbol, units, unit)
    return Measured(unit.to_si(number), abs(width * width_unit.factor) / 2)


def _plain(number: float, decimals: int) -> str:
    text = f"{number:.{max(decimals, 0)}f}"
    return text[1:] if text.startswith("-") and not text.strip("-0.") else text


def entry_text(value: float, kind: str, system: str = METRIC) -> str:
    """The number alone, as it stands in an input field: enough digits, no idle zeros."""
    unit = unit_of(kind, system)
    number = unit.from_si(value)
    places = unit.decimals + 2
    if 0 < abs(number) < 1:
        small = _SIGNIFICANT - 1 - math.floor(math.log10(abs(number)))
        places = max(places, min(small, _MOST_DECIMALS))
    text = _plain(number, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def number_text(value: float, kind: str, system: str = METRIC, decimals: int | None = None) -> str:
    """The number alone as it stands in an answer, with a true minus sign."""
    unit = unit_of(kind, system)
    places = unit.decimals if decimals is None else decimals
    return _plain(unit.from_si(value), places).replace("-", "−")


def show(value: float, kind: str, system: str = METRIC, decimals: int | None = None) -> str:
    """Number and unit, held together by a no-break space: "12.50 mm"."""
    if kind == "turns" and decimals is None:
        return turns_text(value)
    unit = unit_of(kind, system)
    return number_text(value, kind, system, decimals) + gap(unit) + unit.symbol


def gap(unit: Unit) -> str:
    """What stands between a number and the symbol of its unit."""
    return "" if unit.symbol in ("", "%", "°") else NBSP


def decimals_for(u: float, kind: str, system: str = METRIC) -> int:
    """Decimals that show a standard uncertainty with two digits (JCGM 100:2008, 7.2.6)."""
    unit = unit_of(kind, system)
    width = abs(2 * u / unit.factor)
    if not math.isfinite(width) or width <= 0:
        return unit.decimals
    return min(max(1 - math.floor(math.log10(width)), 0), unit.decimals + 2)


def turns_number(turns: float) -> str:
    """The same without the word, for a table column: "1 1/4"."""
    return turns_text(turns).rpartition(NBSP)[0]


def turns_text(turns: float) -> str:
    """Turns as a hand counts them: "1 1/4 turns"; decimals where no eighth fits."""
    eighths = turns * 8
    if abs(eighths - round(eighths)) > 1e-9:
        text = _plain(turns, 2)
        return f"{text.replace('-', '−')}{NBSP}turns"
    whole, part = divmod(abs(round(eighths)), 8)
    sign = "−" if eighths < 0 else ""
    fraction = str(Fraction(part, 8)) if part else ""
    words = NBSP.join(
        piece for piece in (str(whole) if whole or not part else "", fraction) if piece
    )
    single = whole + part / 8 <= 1 and (whole or part)
    return f"{sign}{words}{NBSP}{'turn' if single else 'turns'}"


def convert_text(text: str, kind: str, before: str, after: str) -> str:
    """What was typed in the units of one system, for the other; left as it is where a unit was
    typed too, where nothing can be read, or where the kind has one unit in both."""
    if unit_of(kind, before) is unit_of(kind, after) or not _BARE.fullmatch(text):
        return text
    try:
        measured = parse(text, kind, before)
    except NotANumber:
        return text
    shown = entry_text(measured.value, kind, after)
    if measured.u is None:
        return shown
    width = 2 * measured.u / unit_of(kind, after).factor
    return f"{shown} ± {width:.3g}"
