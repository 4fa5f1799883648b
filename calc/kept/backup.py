"""The backup file: all cars, set-ups and the log as JSON, and what restoring one would change.

Schema 7, UTF-8: an object with
  format  "damper bench backup"
  schema  7; all before are read too: 6, in which no bottle and no spring has an uncertainty
          of its own and no line of the log lists a spring; 5, in which every bottle has an amount
          and no line of the log says for which end oil was poured; 4, which has neither the length
          of each damper nor the day of what one took along; 3, whose dampers were neither measured
          by a form nor given up, nor took values of a corner along; 2, which has no builds and no
          lines of dampers; and 1, whose cars do not say where their values come from
  made    time it was made, s since 1970 (UTC)
  cars    [{"id", "changed", "car"}]             the car record as calc.model.car stores it
  setups  [{"id", "changed", "owner", "setup"}]  `owner` is the id of its car; calc.kept.setups
  log     [entry]                                calc.kept.log
  builds  [{"car", "texts"}]                     build lists under way, calc.kept.build.unfinished
  sum     SHA-256, in hexadecimal, of the JSON text of all the above: keys sorted, no spaces,
          characters outside ASCII escaped
`changed` is in s since 1970 as well. Whatever was altered or cut off is refused in one sentence.
"""

import hashlib
import json
from collections.abc import Callable, Collection, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from calc.asking.entry import Refused
from calc.kept import log, setups
from calc.kept.build import unfinished
from calc.kept.build.unfinished import Unfinished
from calc.kept.log import Entry
from calc.kept.nesting import too_deep
from calc.kept.setups import Setup
from calc.language import later, tr
from calc.model import car
from calc.model.car import Car
from calc.model.origin import LATEST, is_number

FORMAT, SCHEMA = "damper bench backup", 7
_READ = (1, 2, 3, 4, 5, 6, SCHEMA)
LARGEST = 32_000_000  # characters; 20,000 entries of the log and 500 set-ups take some 20 million
_DAMAGED = later("This backup file is damaged or not whole: use another copy of it.")
_NO_BACKUP = later("This is not a backup file of this site: choose another.")
_NEWER = later("This backup file is of a newer version: update the site, then try again.")
_PARTS = ("cars", "setups", "log", "builds")
T = TypeVar("T")


@dataclass(frozen=True)
class Kept(Generic[T]):
    """A record with its number and when it was last changed (s since 1970); `owner` is a car."""

    id: str
    changed: float
    value: T
    owner: str = ""


@dataclass(frozen=True)
class Backup:
    made: float
    cars: tuple[Kept[Car], ...]
    setups: tuple[Kept[Setup], ...]
    log: tuple[Entry, ...]
    builds: tuple[Unfinished, ...] = ()


def to_text(backup: Backup) -> str:
    """The backup file's text."""
    content = plain(backup)
    return json.dumps({**content, "sum": _sum(content)}, ensure_ascii=False, indent=0)


def plain(backup: Backup) -> dict[str, Any]:
    """The backup as JSON values, without its sum."""
    return {
        "format": FORMAT,
        "schema": SCHEMA,
        "made": backup.made,
        "cars": [
            {"id": one.id, "changed": one.changed, "car": car.to_json(one.value)}
            for one in backup.cars
        ],
        "setups": [
            {
                "id": one.id, "changed": one.changed, "owner": one.owner,
                "setup": setups.setup_json(one.value),
            }
            for one in backup.setups
        ],
        "log": [log.to_json(entry) for entry in backup.log],
        "builds": [unfinished.to_json(one) for one in backup.builds],
    }  # fmt: skip


def _sum(content: Mapping[str, Any]) -> str:
    canonical = json.dumps(content, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(canonical.encode()).hexdigest()


def from_text(text: str) -> Backup:
    """The backup in a file's text, every value of it checked. Raises Refused."""
    if len(text) > LARGEST:
        raise Refused(tr("This file is too large to be a backup of this site: choose another."))
    try:
        if too_deep(text):
            raise ValueError("nested too deep")
        told = json.loads(text.removeprefix("\ufeff"), parse_constant=_no_constant)
    except ValueError:
        raise Refused(tr(_DAMAGED if FORMAT in text[:200] else _NO_BACKUP)) from None
    if not isinstance(told, dict) or told.get("format") != FORMAT:
        raise Refused(tr(_NO_BACKUP))
    schema = told.get("schema")
    if isinstance(schema, int) and schema > SCHEMA:
        raise Refused(tr(_NEWER))
    content = {name: value for name, value in told.items() if name != "sum"}
    if told.get("sum") != _sum(content) or schema not in _READ:
        raise Refused(tr(_DAMAGED))
    if schema < 3:
        content = {"builds": [], **content}
    return checked(content)


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is no number of JSON")


def checked(content: Mapping[str, Any]) -> Backup:
    """The backup in JSON values, every one of them checked. Raises Refused."""
    if not all(isinstance(content.get(part), list) for part in _PARTS):
        raise Refused(tr(_DAMAGED))
    backup = Backup(
        _time(content.get("made")),
        _each(content["cars"], _car, lambda one: one.id),
        _each(content["setups"], _setup, lambda one: one.id),
        _each(content["log"], log.from_json, lambda entry: entry.id),
        _each(content["builds"], unfinished.from_json, lambda one: one.car),
    )
    owners = {one.id for one in backup.cars}
    lost = {one.owner for one in backup.setups} | {entry.car for entry in backup.log}
    lost |= {one.car for one in backup.builds}
    if lost - owners:
        raise Refused(tr("This backup is damaged: the car of a record in it is missing."))
    return backup


def readable(content: Mapping[str, Any]) -> tuple[Backup, Mapping[str, int]]:
    """The backup of those records in JSON values that can be read and have their car, and how many
    of each sort are left out: one damaged record must not keep all others from being saved."""
    cars = _readable(content["cars"], _car)
    owners = {one.id for one in cars}
    kept = (one for one in _readable(content["setups"], _setup) if one.owner in owners)
    lines = (entry for entry in _readable(content["log"], log.from_json) if entry.car in owners)
    told = _readable(content["builds"], unfinished.from_json)
    builds = tuple(one for one in told if one.car in owners)
    backup = Backup(_time(content.get("made")), cars, tuple(kept), tuple(lines), builds)
    left = {part: len(content[part]) - len(getattr(backup, part)) for part in _PARTS}
    return backup, left


def _readable(told: list[Any], read: Callable[[Any], T]) -> tuple[T, ...]:
    made: list[T] = []
    for one in told:
        with suppress(Refused):
            made.append(read(one))
    return tuple(made)


def _each(told: list[Any], read: Callable[[Any], T], number: Callable[[T], str]) -> tuple[T, ...]:
    made = tuple(map(read, told))
    if len({number(one) for one in made}) < len(made):
        raise Refused(tr("This backup is damaged: it holds the same record twice."))
    return made


def _car(told: Any) -> Kept[Car]:
    number, changed = _head(told, {"id", "changed", "car"})
    return Kept(number, changed, car.from_json(told["car"]))


def _setup(told: Any) -> Kept[Setup]:
    number, changed = _head(told, {"id", "changed", "owner", "setup"})
    return Kept(number, changed, setups.setup_from_json(told["setup"]), _id(told["owner"]))


def _head(told: Any, names: Collection[str]) -> tuple[str, float]:
    if not isinstance(told, dict) or set(told) != names:
        raise Refused(tr(_DAMAGED))
    return _id(told["id"]), _time(told["changed"])


def _id(told: Any) -> str:
    if not isinstance(told, str) or not 0 < len(told) <= 60 or not told.isalnum():
        raise Refused(tr(_DAMAGED))
    return told


def _time(told: Any) -> float:
    if not is_number(told) or not 0 <= told < LATEST:
        raise Refused(tr(_DAMAGED))
    return float(told)


@dataclass(frozen=True)
class Mine:
    """What is on the device: when each record was changed, and what it is called, by number; builds
    by car."""

    cars: Mapping[str, tuple[float, str]]
    setups: Mapping[str, tuple[float, str]]
    log: Collection[str]
    builds: Mapping[str, Unfinished] = field(default_factory=dict)


@dataclass(frozen=True)
class Change:
    """What restoring does to a record. `what`: new, newer or older (the backup's takes its place),
    gone."""

    sort: str
    what: str
    name: str


@dataclass(frozen=True)
class Plan:
    """`write` is what has to be stored; with `clears` all else goes."""

    clears: bool
    changes: tuple[Change, ...]
    entries: int
    entries_gone: int
    write: Backup


def merged(mine: Mine, theirs: Backup) -> Plan:
    """Everything of both; of a record that both have, the one changed last."""
    cars = tuple(_wanted(mine.cars, theirs.cars))
    kept = tuple(_wanted(mine.setups, theirs.setups))
    new = tuple(entry for entry in theirs.log if entry.id not in mine.log)
    changes = (
        *(_change("car", mine.cars, one.id, one.value.name) for one in cars),
        *(_change("set-up", mine.setups, one.id, one.value.name) for one in kept),
    )
    builds = tuple(
        joined
        for one in theirs.builds
        for mine_too in (mine.builds.get(one.car, Unfinished(one.car, {})),)
        if (joined := unfinished.joined(mine_too, one)) != mine_too
    )
    changes += _of_builds(mine, theirs, builds)
    return Plan(False, changes, len(new), 0, Backup(theirs.made, cars, kept, new, builds))


def _of_builds(mine: Mine, theirs: Backup, builds: Iterable[Unfinished]) -> tuple[Change, ...]:
    """What happens to build lists, which are called like their cars."""
    names = {one.id: one.value.name for one in theirs.cars}
    return tuple(_change("build", mine.builds, one.car, names[one.car]) for one in builds)


def _wanted(mine: Mapping[str, tuple[float, str]], theirs: Iterable[Kept[T]]) -> Iterable[Kept[T]]:
    return (one for one in theirs if one.id not in mine or one.changed > mine[one.id][0])


def _change(sort: str, mine: Collection[str], number: str, name: str) -> Change:
    return Change(sort, "newer" if number in mine else "new", name)


def replaced(mine: Mine, theirs: Backup) -> Plan:
    """The backup as it is, and nothing else."""
    changes: list[Change] = []
    for sort, here, there in (
        ("car", mine.cars, {one.id: (one.changed, one.value.name) for one in theirs.cars}),
        ("set-up", mine.setups, {one.id: (one.changed, one.value.name) for one in theirs.setups}),
    ):
        changes += [Change(sort, "gone", name) for n, (_, name) in here.items() if n not in there]
        changes += [Change(sort, "new", name) for n, (_, name) in there.items() if n not in here]
        changes += [
            Change(sort, "newer" if there[n][0] > here[n][0] else "older", name)
            for n, (_, name) in there.items()
            if n in here and there[n][0] != here[n][0]
        ]
    numbers = {entry.id for entry in theirs.log}
    gone = sum(number not in numbers for number in mine.log)
    fresh = sum(number not in mine.log for number in numbers)
    differ = (one for one in theirs.builds if mine.builds.get(one.car) != one)
    changes += _of_builds(mine, theirs, differ)
    return Plan(True, tuple(changes), fresh, gone, theirs)
