"""What a line of the log tells of one damper: what was done with it, what was measured."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from calc.asking.typed import Measured
from calc.kept.build.build import NAME
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import KINDS
from calc.kept.deeds import damaged
from calc.language import later
from calc.model.origin import LATEST, is_number

BUILT, BLED, LEAK, SHELF, FITTED, RAN = "built", "bled", "leak", "shelf", "fitted", "ran"
STOPPED, MEASURED = "stopped", "measured"
DID: Mapping[str, str] = {
    BUILT: later("Built"),
    STOPPED: later("Build given up"),
    MEASURED: later("Measured"),
    BLED: later("Opened and bled"),
    LEAK: later("Leak seen"),
    SHELF: later("Put on the shelf"),
    FITTED: later("Put on the car"),
    RAN: later("Run on the track"),
}
_NAMES = frozenset({"did", "name", "kind", "read", "when"})
_KINDS = frozenset(kind for kind, _ in KINDS)


@dataclass(frozen=True)
class Seen:
    """`name` is the letter on the cap, empty where there is none; `kind` is that of the damper
    where it was built; `read` are values with their standard uncertainty (SI), by name of the
    reading; `when` has the time (s since 1970) of those that were measured before. A run is of all
    dampers on the car and has none of these."""

    did: str
    name: str = ""
    kind: str = ""
    read: Mapping[str, Measured] = field(default_factory=dict)
    when: Mapping[str, float] = field(default_factory=dict)


def to_json(seen: Seen) -> dict[str, Any]:
    """As JSON values; what is empty is left out."""
    told: dict[str, Any] = {
        "did": seen.did,
        "name": seen.name,
        "kind": seen.kind,
        "read": {name: [one.value, one.u] for name, one in seen.read.items()},
        "when": {**seen.when},
    }
    return {name: value for name, value in told.items() if value}


def from_json(stored: object, where: str) -> Seen:
    """From stored JSON values, every one of them checked. Raises Refused."""
    if not isinstance(stored, dict) or not set(stored) <= _NAMES:
        raise damaged(where)
    did, name, kind = (stored.get(key, "") for key in ("did", "name", "kind"))
    read, when = stored.get("read", {}), stored.get("when", {})
    if not isinstance(did, str) or not isinstance(kind, str) or not isinstance(read, dict):
        raise damaged(where)
    if did not in DID or (kind and kind not in _KINDS):
        raise damaged(where)
    if not isinstance(when, dict) or not set(when) <= set(read):
        raise damaged(where)
    if not all(is_number(time) and 0 <= time < LATEST for time in when.values()):
        raise damaged(where)
    if not isinstance(name, str) or NAME.read(name) != name:
        raise damaged(where)
    return Seen(
        did,
        name,
        kind,
        {key: _measured(key, one, where) for key, one in read.items()},
        {key: float(time) for key, time in when.items()},
    )


def _measured(name: str, stored: object, where: str) -> Measured:
    if name not in READINGS or not isinstance(stored, list) or len(stored) != 2:
        raise damaged(where)
    value, u = stored
    if not is_number(value) or not (u is None or (is_number(u) and 0 <= u < math.inf)):
        raise damaged(where)
    return Measured(READINGS[name].entry.check(float(value)), None if u is None else float(u))
