"""Checks against the outside world, one TOML file a subject.

    [[case]]
    about   = "spring_rate"              # load("spring", "spring_rate") picks it
    source  = "who printed it, where"
    status  = "read"                     # one of STATUSES: how the figure came to us
    given   = { wire = "0.037 in", active_coils = 10.5 }
    printed = { rate = "4.13 lbf/in" }   # as printed: half its last digit is the tolerance
    within  = { rate = 0.05 }            # optional: relative, where the source doubts itself
    note    = "optional"

Strings of a number and a unit come out as floats in SI; plain numbers and other strings stay what
they are.
In a test: `assert spring_rate(**case.given) == case.printed["rate"]`.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

import pint
import pytest

HERE = Path(__file__).parent
STATUSES = {
    "read": "read in the source itself",
    "second-hand": "read in a mirror or a quotation",
    "memory": "from memory; the source has not been seen",
    "common practice": "a fact of the trade, no source",
    "computed": "worked out apart from this code, by the means that the source names",
}
UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


@dataclass(frozen=True)
class Case:
    """One printed figure (or several of one example) and what it was printed for."""

    about: str
    source: str
    status: str
    given: dict[str, Any]
    printed: dict[str, Any]
    note: str = ""

    def __str__(self) -> str:
        return f"{self.about}: {self.source[:60]} {self.given}"


def load(name: str, about: str | None = None) -> list[Case]:
    """Cases of tests/reference/NAME.toml, all or those about one thing; never an empty list."""
    with (HERE / f"{name}.toml").open("rb") as file:
        entries = tomllib.load(file, parse_float=Decimal)["case"]
    cases = [_case(entry) for entry in entries]
    picked = [case for case in cases if about in (None, case.about)]
    if not picked:
        raise LookupError(f"{name}.toml holds no case about {about}")
    return picked


def _case(entry: dict[str, Any]) -> Case:
    if entry["status"] not in STATUSES:
        raise ValueError(f"status {entry['status']!r} is none of {', '.join(STATUSES)}")
    within = entry.get("within", {})
    return Case(
        about=entry["about"],
        source=entry["source"],
        status=entry["status"],
        given={key: _si(value) for key, value in entry.get("given", {}).items()},
        printed={key: _approx(value, within.get(key)) for key, value in entry["printed"].items()},
        note=entry.get("note", ""),
    )


def _split(text: str) -> tuple[Decimal, str] | None:
    """Number and unit of "4.13 lbf/in"; None for a string that is no quantity."""
    number, _, unit = text.partition(" ")
    try:
        return Decimal(number), unit
    except InvalidOperation:
        return None


def _si(value: Any) -> Any:
    if isinstance(value, list):
        return [_si(item) for item in value]
    if isinstance(value, Decimal):
        return float(value)
    if isinstance(value, str) and (parts := _split(value)):
        return _base(float(parts[0]), parts[1])
    return value


def _base(number: float, unit: str) -> float:
    return float(UNITS.Quantity(number, unit).to_base_units().magnitude)


def _approx(value: Any, relative: Decimal | None) -> Any:
    if isinstance(value, bool):
        return value
    if isinstance(value, list):
        return [_approx(item, relative) for item in value]
    parts = _split(value) if isinstance(value, str) else (Decimal(value), "")
    if parts is None:
        return value
    number, unit = parts
    exact = _base(float(number), unit)
    if relative is not None:
        return pytest.approx(exact, rel=float(relative), abs=0)
    half = 0.5 * 10.0 ** int(number.as_tuple().exponent)
    # The whisker admits a value that lies on the edge itself, where floats cannot be trusted.
    reach = abs(_base(float(number) + half, unit) - exact) * (1 + 1e-9)
    return pytest.approx(exact, rel=0, abs=reach)
