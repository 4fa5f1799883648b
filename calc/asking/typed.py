"""Reading what somebody typed: numbers with fractions, commas, units and uncertainties, into SI."""

import math
import re
import unicodedata
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from fractions import Fraction

from calc.language import later, spoken, tr
from calc.units import (
    KINDS,
    METRIC,
    NBSP,
    READ_ONLY,
    WEIGHT,
    Unit,
    entry_text,
    is_weight,
    names,
    spelt,
    spoken_symbol,
    tidy,
    unit_of,
)


class NotANumber(ValueError):
    """What was typed cannot be read; the message says why, in a clause without a full stop."""


@dataclass(frozen=True)
class Measured:
    """An SI value and its standard uncertainty, None where the user gave none; the unit typed."""

    value: float
    u: float | None = None
    unit: Unit | None = field(default=None, compare=False)


# A fraction stands apart on both sides, so that a digit behind it does not join it.
_GLYPHS = {"½": " 1/2 ", "¼": " 1/4 ", "¾": " 3/4 ", "−": "-", "–": "-", NBSP: " ", "\u202f": " "}
# The commas of scripts that have digits of their own.
_GLYPHS |= {"，": ",", "．": ".", "٫": ",", "٬": ","}
_MEGA = "M"  # the one capital that is no careless way to write a small letter
_NUMBER = re.compile(
    r"""\s*(?P<sign>[+-]?)\s*
    (?: (?:(?P<whole>\d+)\s+)?(?P<over>\d+)\s*/\s*(?P<under>\d+)
      | (?P<decimal>(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?) )
    \s*(?P<unit>[^\d\s±+.,-][^±+-]*)?""",
    re.VERBOSE,
)
_WIDTH = re.compile(r"\s*(?:±|\+\s*/?\s*-)(?P<width>.+)")
_GROUPED = {".": re.compile(r"[1-9]\d{0,2},\d{3}"), ",": re.compile(r"[1-9]\d{0,2}\.\d{3}")}
# Two groups or more, or decimals behind another sign: this can be read one way only.
_THOUSANDS = re.compile(
    r"(?P<whole>[1-9]\d{0,2}(?P<sign>[.,])\d{3}(?P<more>(?:(?P=sign)\d{3})*))"
    r"(?:(?!(?P=sign))[.,](?P<decimals>\d+))?(?![\d.,])"
)
_DIGITS = re.compile(r"[.,]?\d|[½¼¾]")
_BARE = re.compile(r"[\d\s.,，．٫٬/½¼¾±+−–eE-]*")  # a number without a unit
_TOO_LARGE = later("that number is too large to be one of these")
_NO_LINE = later(
    "a weight number is no viscosity by itself, since makers differ; type the cSt, or first note "
    "two lines of your bottle's table under “Oil for the evening”"
)
_LONGEST = 60  # characters; no number of this trade needs more


def _number(match: re.Match[str], text: str) -> float:
    if match["decimal"] is None:
        if int(match["under"]) == 0:
            raise NotANumber(tr("a fraction over zero is not a number"))
        value = float(Fraction(int(match["over"]), int(match["under"])) + int(match["whole"] or 0))
    else:
        thousands = _THOUSANDS.match(match.string, match.start("decimal"))
        if thousands and (thousands["more"] or thousands["decimals"]):
            raise NotANumber(_thousands(thousands, text))
        if _GROUPED[spoken().decimal].fullmatch(match["decimal"]):
            raise NotANumber(_two_ways(match["decimal"], text))
        value = float(match["decimal"].replace(",", "."))
    if not math.isfinite(value):
        raise NotANumber(tr(_TOO_LARGE))
    return -value if match["sign"] == "-" else value


def _thousands(number: re.Match[str], text: str) -> str:
    """Why a number with grouped thousands is refused, and how it is written here."""
    plain = number["whole"].replace(number["sign"], "")
    if number["decimals"]:
        plain = f"{plain}{spoken().decimal}{number['decimals']}"
    return tr("“{text}”: write thousands without a sign, {plain}", text=text, plain=plain)


def _two_ways(number: str, text: str) -> str:
    """Why a number is refused whose sign stands where thousands are grouped elsewhere."""
    before, after = re.split("[.,]", number)
    plain = before + after
    if spoken().decimal == ",":
        comma = f"{before},{after}"
        return tr(
            "“{text}” can be read two ways; write {plain}, or {comma} with a comma",
            text=text, plain=plain, comma=comma,
        )  # fmt: skip
    point = f"{before}.{after}"
    return tr(
        "“{text}” can be read two ways; write {plain}, or {point} with a point",
        text=text, plain=plain, point=point,
    )  # fmt: skip


def _find_unit(
    symbol: str, units: tuple[Unit, ...], default: Unit, also: Iterable[str] = ()
) -> Unit:
    symbol = symbol.strip()
    if not symbol:
        return default
    for unit in units:
        known = names(unit)
        any_case = symbol != _MEGA and symbol.lower() in (name.lower() for name in known)
        if symbol in known or any_case:
            return unit
    symbols = [spoken_symbol(unit) for unit in units if unit.symbol]
    if default is KINDS["viscosity"][0] and is_weight(symbol):
        raise NotANumber(tr(_NO_LINE))
    listed = ", ".join([*symbols, *also]) or tr("no unit")
    raise NotANumber(
        tr("“{symbol}” is not a unit known here; known: {known}", symbol=symbol, known=listed)
    )


def parse(text: str, kind: str, system: str = METRIC, extra: tuple[Unit, ...] = ()) -> Measured:
    """Read what a user typed: "12,5", "1 1/4", "4.2 lbf/in", "12 ± 0.1", "350 cSt +- 5 %".

    The unit may be left out: that of the system is meant then; `extra` units are the user's own
    (a weight scale). The width behind "±" is the half-width that holds about 95 of 100 values
    (coverage factor 2, as answers are shown), so u is half of it. Returns SI. Raises NotANumber.
    """
    shown = text.strip()
    if not shown:
        raise NotANumber(tr("nothing was entered"))
    if len(shown) > _LONGEST:
        raise NotANumber(tr("that is too long to be a number"))
    cleaned = _in_ascii_digits(shown)
    for glyph, plain in _GLYPHS.items():
        cleaned = cleaned.replace(glyph, plain)
    match = _NUMBER.match(cleaned)
    if match is None or not cleaned.isprintable():
        raise NotANumber(_no_number(shown))
    measured = _measured(match, cleaned[match.end() :], shown, KINDS[kind] + extra, kind, system)
    if not (math.isfinite(measured.value) and math.isfinite(measured.u or 0.0)):
        raise NotANumber(tr(_TOO_LARGE))
    return replace(measured, value=tidy(measured.value))


def _in_ascii_digits(text: str) -> str:
    """Digits of every script as 0 to 9, which the rules for separators know."""
    return "".join(str(unicodedata.decimal(letter, letter)) for letter in text)


def _no_number(shown: str) -> str:
    return tr("“{text}” is not a number", text=shown)


def _measured(
    match: re.Match[str],
    rest: str,
    shown: str,
    units: tuple[Unit, ...],
    kind: str,
    system: str,
) -> Measured:
    """The number matched, and the uncertainty that the rest of the text adds to it."""
    usual = unit_of(kind, system)
    number = _number(match, shown)
    read = READ_ONLY.get(kind, {}).get((match["unit"] or "").strip().lower())
    if read is not None:
        return _read_only(number, rest, shown, read)
    if not rest.strip():
        unit = _find_unit(match["unit"] or "", units, usual, READ_ONLY.get(kind, ()))
        return Measured(_in_si(number, unit, shown), unit=unit)
    behind = _WIDTH.fullmatch(rest)
    width_match = _NUMBER.fullmatch(behind["width"]) if behind else None
    if width_match is None or width_match["sign"]:
        raise NotANumber(_no_number(shown))
    width = _number(width_match, shown)
    width_symbol = (width_match["unit"] or "").strip()
    if width_symbol == "%" and kind != "share":
        unit = _find_unit(match["unit"] or "", units, usual)
        value = _in_si(number, unit, shown)
        whole = value if unit.symbol == WEIGHT else number * unit.factor
        return Measured(value, abs(whole) * width / 100 / 2, unit)
    # "12 ± 0.2 in": a unit behind the width alone is meant for both.
    unit = _find_unit(match["unit"] or width_symbol, units, usual)
    width_unit = _find_unit(width_symbol, units, unit)
    return Measured(_in_si(number, unit, shown), abs(width * width_unit.factor) / 2, unit)


def _in_si(number: float, unit: Unit, shown: str) -> float:
    """In SI. Raises NotANumber for a weight number that the owner's line has no oil for."""
    value = unit.to_si(number)
    if unit.symbol == WEIGHT and value <= 0:
        raise NotANumber(tr("“{text}” lies outside your two lines of weight numbers", text=shown))
    return value


def _read_only(number: float, rest: str, shown: str, read: Callable[[float], float]) -> Measured:
    """A number in a unit that is no multiple of SI; its uncertainty only in per cent."""
    if number <= 0:
        raise NotANumber(_no_number(shown))
    if not rest.strip():
        return Measured(read(number))
    behind = _WIDTH.fullmatch(rest)
    width = _NUMBER.fullmatch(behind["width"]) if behind else None
    if width is None or width["sign"] or (width["unit"] or "").strip() != "%":
        raise NotANumber(_no_number(shown))
    return Measured(read(number), read(number) * _number(width, shown) / 100 / 2)


def change_in(text: str, kind: str, system: str = METRIC) -> float | None:
    """How much is meant by a text that tells a change in place of a value, as "-2", "+ 2 mm" and
    "2 mm lower" do; None for any other."""
    number = _DIGITS.search(text)
    if number is None:
        return None
    before, words = text[: number.start()].strip(), text[number.start() :].split()
    for count in range(len(words), 0, -1):
        with suppress(NotANumber):
            size = parse(" ".join(words[:count]), kind, system).value
            return size if before or count < len(words) else None
    return None


def is_bare(text: str) -> bool:
    """Whether a number was typed without a unit."""
    return bool(_BARE.fullmatch(text))


def convert_text(text: str, kind: str, before: str, after: str) -> str:
    """What was typed in the units of one system, for the other; left as it is where a unit was
    typed too, where nothing can be read, or where the kind has one unit in both. It can be read
    one way only, in whatever language the page is looked at next."""
    if unit_of(kind, before) is unit_of(kind, after) or not is_bare(text):
        return text
    try:
        measured = parse(text, kind, before)
    except NotANumber:
        return text
    shown = entry_text(measured.value, kind, after)
    if any(one.fullmatch(shown.lstrip("-")) for one in _GROUPED.values()):
        shown += "0"
    if measured.u is None:
        return shown
    width = 2 * measured.u / unit_of(kind, after).factor
    return f"{shown} ± {spelt(f'{width:.3g}')}"
