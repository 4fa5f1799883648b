"""What a line of the log tells of one damper: what was done with it, what was measured."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from calc.asking.typed import Measured
from calc.kept.build.evening import NAME
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import KINDS
from calc.kept.deeds import damaged
from calc.language import later
from calc.model.origin import is_number

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
_KINDS = frozenset(kind for kind, _ in KINDS)


@dataclass(frozen=True)
class Seen:
    """`name` is the letter on the cap, empty where there is none; `kind` is that of the damper
    where it was built; `read` are values with their standard uncertainty (SI), by name of the
    reading. A run is of all dampers on the car and has neither."""

    did: str
    name: str = ""
    kind: str = ""
    read: Mapping[str, Measured] = field(default_factory=dict)


def to_json(seen: Seen) -> dict[str, Any]:
    """As JSON values; what is empty is left out."""
    told: dict[str, Any] = {
        "did": seen.did,
        "name": seen.name,
        "kind": seen.kind,
        "read": {name: [one.value, one.u] for name, one in seen.read.items()},
    }
    return {name: value for name, value in told.items() if value}


def from_json(stored: object, where: str) -> Seen:
    """From stored JSON values, every one of them checked. Raises Refused."""
    if not isinstance(stored, dict) or not set(stored) <= {"did", "name", "kind", "read"}:
        raise damaged(where)
    did, name, kind = (stored.get(key, "") for key in ("did", "name", "kind"))
    read = stored.get("read", {})
    if did not in DID or (kind and kind not in _KINDS) or not isinstance(read, dict):
        raise damaged(where)
    if not isinstance(name, str) or NAME.read(name) != name:
        raise damaged(where)
    return Seen(did, name, kind, {key: _measured(key, one, where) for key, one in read.items()})


def _measured(name: str, stored: object, where: str) -> Measured:
    if name not in READINGS or not isinstance(stored, list) or len(stored) != 2:
        raise damaged(where)
    value, u = stored
    if not is_number(value) or not (u is None or (is_number(u) and 0 <= u < math.inf)):
        raise damaged(where)
    return Measured(READINGS[name].entry.check(float(value)), None if u is None else float(u))
