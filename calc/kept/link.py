"""A car as a short text for an address or a code to scan, and back with every check of a record.

The text is the sign of the format, then the deflated JSON of the car in base 32 (RFC 4648): upper
case letters and digits only, which a QR code holds more densely than any other text, and which no
address has to escape. A card on paper outlives many versions of the site: what a format means
never changes; another meaning is another format, beside this one.
"""

import base64
import binascii
import json
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from calc.asking import record
from calc.asking.entry import Number, Refused
from calc.kept.link_words import PATHS_2, PATHS_3, PATHS_4, WORDS_1
from calc.kept.nesting import too_deep
from calc.language import later, tr
from calc.model.car import Car, added_since, from_json, singles, to_json, with_new
from calc.model.origin import How, assumed, one_plain

FRAGMENT = "car="
"""What stands before the text in the fragment of an address: "#car=1ABC..."."""
DIGITS, FEW_DIGITS = 10, 6
"""Significant digits of the numbers in a link, and in that of a `slim` car."""
LONGEST = 8000  # characters; twice what the largest QR code holds
_LARGEST = 50_000  # bytes of JSON; a car with every list full has less than half of it
_FORMAT = "4"
_FIRST = "1"  # told nothing of origins
_PATHS = {"2": PATHS_2.split(), "3": PATHS_3.split(), _FORMAT: PATHS_4.split()}
_LEFT_OUT = added_since(3)
"""What a link does not carry where nobody knows it, nor where it is as in the demo car."""
_WORDS = WORDS_1.encode()
_DAMAGED = later("This link to a car is damaged or not whole: scan it again.")


def pack(car: Car, digits: int = DIGITS) -> str:
    """The car as a text of letters and digits; its numbers to so many significant digits."""
    told = _rounded(_with_letters(to_json(car)), digits)
    stored = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
    squeezer = zlib.compressobj(level=9, zdict=_WORDS)
    squeezed = squeezer.compress(stored.encode()) + squeezer.flush()
    return _FORMAT + base64.b32encode(squeezed).decode().rstrip("=")


def slim(car: Car) -> Car:
    """The car without the names of its bottles and springs, for a code that has to be smaller."""
    return replace(
        car,
        bottles=tuple(replace(bottle, name="") for bottle in car.bottles),
        springs=tuple(replace(spring, name="") for spring in car.springs),
    )


def unpack(text: str) -> Car:
    """The car in a packed text, or in an address that ends in one. Raises Refused."""
    packed = text.strip().rpartition(FRAGMENT)[2].upper()
    if len(packed) > LONGEST:
        raise Refused(tr("This link is too long to be one to a car."))
    if packed[:1] not in (_FIRST, *_PATHS):
        newer = packed[:1].isdigit()
        raise Refused(
            tr("This link to a car is of a newer version: update the site, then try again.")
            if newer
            else tr(_DAMAGED)
        )
    try:
        stored = _inflated(packed[1:])
        if too_deep(stored):
            raise ValueError("nested too deep")
        told = json.loads(stored)
        paths = _PATHS.get(packed[:1])
        return from_json(_with_origins(told, paths) if paths else told)
    except Refused:
        raise
    except ValueError:
        raise Refused(tr(_DAMAGED)) from None


_LETTERS: Mapping[How, str] = {
    "measured": "m", "label": "l", "assumed": "a", "predicted": "p", "noted": "n",
}  # fmt: skip
_UNKNOWN = "-"


def _with_letters(stored: dict[str, Any]) -> dict[str, Any]:
    """The stored car with a letter for the origin of each value: a code has no room for more than
    the word, and the uncertainty of what was predicted; what is stale is not known."""
    origins = {path: one for path, one in stored["origins"].items() if one["how"] in _LETTERS}
    letters = (
        _LETTERS[origins[path]["how"]] if path in origins else _UNKNOWN for path in _PATHS[_FORMAT]
    )
    known = {name: value for name, value in stored.items() if name != "origins"}
    known["corners"] = {
        corner: _without_new(corner, values, stored) for corner, values in stored["corners"].items()
    }
    u = {
        path: one["u"] for path, one in origins.items() if one["how"] == "predicted" and "u" in one
    }
    told = "".join(letters).rstrip(_UNKNOWN)
    return {**known, "known": told, **({"u": u} if u else {})}


def _without_new(corner: str, values: Mapping[str, Any], stored: dict[str, Any]) -> dict[str, Any]:
    """The values of a corner without those that `_LEFT_OUT` tells of."""
    kept = dict(values)
    for path in _LEFT_OUT:
        _, of, name = path.split(".")
        demo = stored["demo"] and values[name] == record.get(Car(), path)
        if of == corner and path not in stored["origins"] and (demo or not stored["demo"]):
            del kept[name]
    return kept


def _with_origins(stored: Any, paths: Sequence[str]) -> Any:
    """The stored car with its origins spelt again. Raises ValueError."""
    if not isinstance(stored, dict) or not isinstance(stored.get("u", {}), dict):
        raise ValueError("no car")
    letters, u = stored.get("known"), stored.get("u", {})
    if not isinstance(letters, str) or len(letters) > len(paths):
        raise ValueError("other origins than there are values")
    words = {letter: how for how, letter in _LETTERS.items()}
    origins: dict[str, Any] = {}
    for path, letter in zip(paths, letters, strict=False):
        if letter == _UNKNOWN:
            continue
        if letter not in words:
            raise ValueError(f"no origin is {letter}")
        source = {"how": words[letter], **({"u": u[path]} if path in u else {})}
        entry = singles().get(path)
        if letter == "a" and isinstance(entry, Number):
            source |= one_plain(assumed(entry))
        origins[path] = source
    values = {name: value for name, value in stored.items() if name not in ("known", "u")}
    return with_new({**values, "origins": origins}, _LEFT_OUT)


def _inflated(packed: str) -> str:
    """The JSON in base 32. Raises ValueError for what is none, is cut off, or is too much."""
    filler = "=" * (-len(packed) % 8)
    opener = zlib.decompressobj(zdict=_WORDS)
    try:
        stored = opener.decompress(base64.b32decode(packed + filler), _LARGEST)
    except (binascii.Error, zlib.error) as error:
        raise ValueError(str(error)) from error
    if not opener.eof:
        raise ValueError("cut off, or too much")
    return stored.decode()


def _rounded(stored: Any, digits: int) -> Any:
    """JSON values with their numbers to so many significant digits, whole ones without a point."""
    if isinstance(stored, dict):
        return {name: _rounded(value, digits) for name, value in stored.items()}
    if isinstance(stored, list):
        return [_rounded(value, digits) for value in stored]
    if isinstance(stored, float):
        short = float(f"{stored:.{digits}g}")
        return int(short) if short.is_integer() else short
    return stored
