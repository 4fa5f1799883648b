"""Where a value of the car comes from, and how sure it is: the word that stands beside it.

A value of the record that has no origin is not known: nobody has entered, measured or worked it
out. Rows of the lists (bottles, springs) are always their owner's, so they have none; what is known
of how sure their numbers are they keep themselves.
"""

import math
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal, get_args

from calc.asking.entry import Choice, Number, Refused, Text
from calc.language import tr
from calc.units import METRIC, last_digit, tidy, unit_of

How = Literal["measured", "label", "assumed", "predicted", "noted", "stale"]
HOWS: tuple[How, ...] = get_args(How)
OF_LONGEST = 60
LATEST = 1e11
"""s since 1970: no value was measured later."""


@dataclass(frozen=True)
class Origin:
    """How a value came into the record.

    measured   by its owner, with a tool
    label      read off a bottle, a bag, a drawing
    assumed    the middle of what is usual, because nobody knows better
    predicted  worked out from something done to the car, not looked at since
    noted      kept by a version that did not ask where a value comes from
    stale      measured before work that has changed it, nobody can tell to what: not known now

    `when` is in s since 1970 (UTC), 0 where it is not known. `of` names the form or the deed a
    prediction comes from. `u` is the standard uncertainty that goes with the value (SI), None
    where the tool of the entry decides.
    """

    how: How
    when: float = 0.0
    of: str = ""
    u: float | None = None

    @property
    def leaves(self) -> float | None:
        """The standard uncertainty (SI) that says how many digits the value has where nobody has
        read any; None where somebody has."""
        return self.u if self.how in ("assumed", "predicted") else None


Origins = Mapping[str, Origin]


def entered(entry: Number | Choice | Text, when: float, u: float | None = None) -> Origin:
    """The origin of a value that its owner types. Viscosities stand on a bottle, and rates on a
    bag; whoever measures a rate says so with a ±."""
    kind = entry.kind if isinstance(entry, Number) else ""
    read_off = kind == "viscosity" or (kind == "rate" and u is None)
    return Origin("label" if read_off else "measured", when, u=u)


def usual_value(entry: Number) -> float:
    """What stands in for a number nobody knows (SI): the `typical` value where the entry has one,
    else the middle of what is usual, that of the logarithms where the range spans a factor of five;
    to the digits that the range leaves."""
    if entry.typical is not None:
        return entry.typical
    low, high = entry.usual
    wide = low > 0 and high / low >= 5
    unit = unit_of(entry.kind, METRIC)
    middle = unit.from_si(math.sqrt(low * high) if wide else (low + high) / 2)
    left = last_digit(middle, usual_uncertainty(entry) / unit.factor)
    return tidy(unit.to_si(round(middle, 0 if entry.whole else -left)))


def usual_uncertainty(entry: Number) -> float:
    """Standard uncertainty of such a value: anything usual is equally likely (JCGM 100:2008,
    4.3.7: half the width divided by the root of 3), unless the entry says how near the typical
    value is."""
    if entry.typical_u is not None:
        return entry.typical_u
    low, high = entry.usual
    return (high - low) / (2 * math.sqrt(3))


def assumed(entry: Number) -> Origin:
    """The origin of what stands in for a number. A step of a tool is no measured quantity: it has
    no uncertainty of its own, known or not."""
    is_measured = entry.is_measured or entry.typical is None
    return Origin("assumed", u=usual_uncertainty(entry) if is_measured else None)


def plain(origins: Origins) -> dict[str, Any]:
    """As JSON values; what is empty is left out."""
    return {path: one_plain(one) for path, one in sorted(origins.items())}


def one_plain(one: Origin) -> dict[str, Any]:
    made: dict[str, Any] = {"how": one.how}
    if one.when:
        made["when"] = one.when
    if one.of:
        made["of"] = one.of
    if one.u is not None:
        made["u"] = one.u
    return made


def built(stored: object, paths: Mapping[str, Number | Choice | Text]) -> dict[str, Origin]:
    """The origins in stored JSON values, every one of them checked. Raises Refused."""
    if not isinstance(stored, dict):
        raise _damaged()
    return {path: one_built(stored[path], paths.get(path), path) for path in stored}


def one_built(stored: object, entry: Number | Choice | Text | None, path: str) -> Origin:
    """One origin in stored JSON values. Raises Refused."""
    if entry is None:
        raise _damaged()  # a path of somebody else's may hold anything
    if not isinstance(stored, dict) or not set(stored) <= _NAMES:
        raise _damaged(path)
    how, u = stored.get("how"), stored.get("u")
    when, of = stored.get("when", 0.0), stored.get("of", "")
    if how not in HOWS or not isinstance(of, str) or len(of) > OF_LONGEST:
        raise _damaged(path)
    if not is_number(when) or not 0 <= when < LATEST:
        raise _damaged(path)
    if u is not None and not (isinstance(entry, Number) and is_number(u) and 0 <= u < math.inf):
        raise _damaged(path)
    return Origin(how, float(when), of, None if u is None else float(u))


_NAMES = frozenset({"how", "when", "of", "u"})


def is_number(stored: object) -> bool:
    """Whether a stored JSON value is a number that a float can hold."""
    # math.isfinite would raise for an int that is larger than any float.
    return (
        isinstance(stored, int | float)
        and not isinstance(stored, bool)
        and abs(stored) <= sys.float_info.max
    )


def _damaged(path: str = "") -> Refused:
    where = ".".join(filter(None, ("car.origins", path)))
    return Refused(tr("The car record is damaged at {where}.", where=where))
