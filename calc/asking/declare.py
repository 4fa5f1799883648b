"""How entries are declared: by keyword, quantities as text with their unit ("0.5 to 1.5 mm").

Each returns an entry and says Any, so that it can stand where its annotation tells what will be
read there: a float, a text, one of a few words.
"""

import re
from collections.abc import Mapping
from typing import Any

from calc.asking.entry import Choice, Number, Text, When
from calc.units import KINDS, tidy

_QUANTITY = re.compile(r"(?P<number>[−-]?\d+(?:\.\d+)?)(?: (?P<unit>\D.*))?")
_RANGE = " to "


def si(text: str, kind: str) -> float:
    """ "0.75 mm" in SI. Raises ValueError for anything but a number and a unit of its kind."""
    match = _QUANTITY.fullmatch(text)
    symbol = (match["unit"] or "") if match else None
    for unit in KINDS[kind]:
        if match and symbol in (unit.symbol, *unit.also):
            return tidy(unit.to_si(float(match["number"].replace("−", "-"))))
    raise ValueError(f"“{text}” is no quantity of the kind {kind}")


def si_range(text: str, kind: str) -> tuple[float, float]:
    """ "0.5 to 1.5 mm" in SI; a unit behind the second number serves both."""
    low, _, high = text.partition(_RANGE)
    _, _, unit = high.partition(" ")
    return si(low if " " in low else f"{low} {unit}".strip(), kind), si(high, kind)


def number(
    *,
    label: str,
    kind: str,
    usual: str,
    possible: str,
    measure: str,
    start: str = "",
    example: str = "",
    typical: str = "",
    typical_within: str = "",
    step: str = "",
    tool: str = "",
    reads: str = "",
    relative: float = 0.0,
    readings: int = 1,
    optional: bool = False,
    whole: bool = False,
    asked_for: bool = False,
    now: str = "",
    when: When = (),
) -> Any:
    """A `Number`."""
    return Number(
        label, kind, si_range(usual, kind), si_range(possible, kind), measure,
        start=si(start, kind) if start else None, step=si(step, kind) if step else 0.0,
        example=si(example, kind) if example else None,
        typical=si(typical, kind) if typical else None,
        typical_u=si(typical_within, kind) / 2 if typical_within else None,
        reads=si(reads, kind) if reads else 0.0,
        tool=tool, relative=relative, readings=readings, optional=optional, whole=whole,
        asked_for=asked_for, now=now, when=when,
    )  # fmt: skip


def choice(*, label: str, options: Mapping[str, str], measure: str = "", when: When = ()) -> Any:
    """A `Choice`: value -> text, the first is the start."""
    return Choice(label, tuple(options.items()), measure, when=when)


def text(
    *, label: str, longest: int = 40, measure: str = "", optional: bool = False, when: When = ()
) -> Any:
    """A `Text`."""
    return Text(label, longest, measure, optional=optional, when=when)
