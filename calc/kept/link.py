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
from dataclasses import replace
from typing import Any

from calc.asking.entry import Refused
from calc.kept.link_words import WORDS_1
from calc.kept.nesting import too_deep
from calc.language import later, tr
from calc.model.car import Car, from_json, to_json

FRAGMENT = "car="
"""What stands before the text in the fragment of an address: "#car=1ABC..."."""
DIGITS, FEW_DIGITS = 10, 6
"""Significant digits of the numbers in a link, and in that of a `slim` car."""
LONGEST = 8000  # characters; twice what the largest QR code holds
_LARGEST = 50_000  # bytes of JSON; a car with every list full has less than half of it
_FORMAT = "1"
_WORDS = WORDS_1.encode()
_DAMAGED = later("This link to a car is damaged or not whole: scan it again.")


def pack(car: Car, digits: int = DIGITS) -> str:
    """The car as a text of letters and digits; its numbers to so many significant digits."""
    stored = json.dumps(_rounded(to_json(car), digits), ensure_ascii=False, separators=(",", ":"))
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
    if packed[:1] != _FORMAT:
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
        return from_json(json.loads(stored))
    except Refused:
        raise
    except ValueError:
        raise Refused(tr(_DAMAGED)) from None


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
