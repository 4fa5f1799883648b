"""What the pages of the cars, the collar log, the set-ups and the backup ask Python."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from calc.asking.entry import Number
from calc.asking.record import entry_at
from calc.kept import backup, link, log, setups
from calc.kept.backup import Backup, Mine
from calc.kept.log import Entry, Moment
from calc.kept.log_view import to_csv
from calc.language import later, tr
from calc.model.car import Car, from_json, to_json
from calc.replying.reading import read, run
from site_src.both import garage

if TYPE_CHECKING:
    from site_src.live.questions import Question


def _at(question: Question) -> Moment:
    told = question.more["at"]
    return Moment(told["id"], told["car"], told["time"], told["zone"])


def logged(question: Question, before: Car, entries: tuple[Entry, ...]) -> list[dict[str, Any]]:
    """The entries as they are stored, with the base before the first of them."""
    told = question.more.get("at")
    if not told or not entries:
        return []
    at = _at(question)
    first = () if told["based"] else (log.set_base(before, replace(at, id=f"{at.id}-0")),)
    return [
        log.to_json(replace(entry, time=entry.time + 1e-3 * n))
        for n, entry in enumerate((*first, *entries))
    ]


def turned(question: Question, car: Car, note: str) -> list[dict[str, Any]]:
    """What the log says of collars that a form or a set-up has moved."""
    if not question.more.get("at"):
        return []
    return logged(question, question.car, log.changes(question.car, car, _at(question), note))


def _log(question: Question) -> dict[str, Any]:
    more = question.more
    entries = [log.from_json(entry) for entry in more["entries"]]
    return {**garage.log_html(question.car, entries, more["now"], more["zone"], question.system)}


def _collar(question: Question) -> dict[str, Any]:
    """Something done at the collars, said with `act`."""
    act, at, car = question.more["act"], _at(question), question.car
    kind, corner, note = act["kind"], act.get("corner", ""), act.get("note", "")
    if kind == log.TURN:
        car, entry = log.turn(car, at, corner, float(act["turns"]), note)
        made: tuple[Entry, ...] = (entry,)
    elif kind == log.CHECK:
        car, entry = log.check(car, at, corner, _found(act), note)
        made = (entry,)
    elif kind == log.BASE:
        made = (log.set_base(car, at, note),)
        return {"car": to_json(car), "log": [log.to_json(one) for one in made]}
    elif kind == log.NOTE:
        made = (log.noted(car, at, note),)
    else:
        base = log.from_json(act["base"])
        car = log.home(car, base.stands)
        made = log.changes(question.car, car, at, tr("Back to base"))
    return {"car": to_json(car), "log": logged(question, question.car, made)}


def _found(act: Mapping[str, Any]) -> float:
    """How far off its mark a collar was found: typed, and which way chosen."""
    if act["way"] == "still":
        return 0.0
    entry = entry_at(Entry, "turns")
    assert isinstance(entry, Number)
    label = later("Turns off the mark")
    measured = replace(entry, label=label, possible=(0, 20), usual=(0, 5)).read(act["turns"])
    value = measured.value if measured else 0.0
    return value if act["way"] == "down" else -value


def _undo(question: Question) -> dict[str, Any]:
    return {"car": to_json(log.undone(question.car, log.from_json(question.more["entry"])))}


def _csv(question: Question) -> dict[str, Any]:
    entries = [log.from_json(entry) for entry in question.more["entries"]]
    return {"text": to_csv(entries, question.more["names"])}


def _setups(question: Question) -> dict[str, Any]:
    return {"html": garage.setups_html(question.more["heads"], question.system)}


def _setup(question: Question) -> dict[str, Any]:
    """A set-up of the car as it is, from what was typed; or what is wrong with that, by field."""
    reply = run(setups.SAVE, question.typed, question.car, question.system)
    if reply.problems:
        return {"problems": dict(reply.problems), "filled": dict(reply.filled)}
    given, _ = read(setups.SAVE, question.typed, question.car, question.system)
    return {
        "setup": setups.setup_json(setups.made(given)),
        "filled": dict(reply.filled),
        "problems": {},
    }


def _compare(question: Question) -> dict[str, Any]:
    one, other = question.more["one"], question.more["other"]
    cars = [from_json(told["car"]) for told in (one, other)]
    names = (one["name"], other["name"])
    takes = other.get("id", "") if one.get("now") else ""
    return {"html": garage.compared_html(cars[0], cars[1], names, question.system, takes=takes)}


def _take(question: Question) -> dict[str, Any]:
    """The car once it has been set as a set-up says."""
    car = setups.taken_over(question.car, from_json(question.more["wanted"]))
    note = tr("Set-up “{name}”", name=question.more["name"])[: log.NOTE_LONGEST]
    return {"car": to_json(car), "log": turned(question, car, note)}


def _cars(question: Question) -> dict[str, Any]:
    return {"html": garage.cars_html(question.more["cars"], question.more["current"])}


def _another(question: Question) -> dict[str, Any]:
    """Another car, under a name of its own: a copy of this one, or the demo car to begin with."""
    old = question.car if question.more["copies"] else Car()
    taken = set(question.more["names"])
    name = old.name if question.more["copies"] else tr("New car")
    return {"car": to_json(replace(old, name=_free(name, taken)))}


def _free(name: str, taken: set[str]) -> str:
    """The name, with a number behind it where there is such a car already."""
    entry = entry_at(Car, "name")
    longest = getattr(entry, "longest", 40)
    made, number = name, 1
    while made in taken:
        number += 1
        made = f"{name[: longest - 4]} {number}"
    return made


def _backup(question: Question) -> dict[str, Any]:
    told = question.more
    content = {name: told[name] for name in ("cars", "setups", "log")}
    made, left = backup.readable({**content, "made": told["now"]})
    said = tr(
        "Not in it, because they cannot be read or have no car: cars {cars}, set-ups {setups}, "
        "lines of the log {log}.",
        cars=left["cars"],
        setups=left["setups"],
        log=left["log"],
    )
    return {"text": backup.to_text(made), "left": said if any(left.values()) else ""}


def _restore(question: Question) -> dict[str, Any]:
    """What restoring would change, and what then has to be stored."""
    more = question.more
    theirs = backup.from_text(more["text"])
    mine = Mine(_index(more["cars"]), _index(more["setups"]), frozenset(more["log"]))
    plan = (backup.replaced if more["way"] == "replace" else backup.merged)(mine, theirs)
    return {
        "html": garage.plan_html(plan, more["way"], more["zone"]),
        "clears": plan.clears,
        "write": _stored(plan.write),
    }


def _index(told: Mapping[str, list[Any]]) -> dict[str, tuple[float, str]]:
    return {number: (float(changed), str(name)) for number, (changed, name) in told.items()}


def _stored(content: Backup) -> dict[str, Any]:
    made = backup.plain(content)
    return {name: made[name] for name in ("cars", "setups", "log")}


def _received(question: Question) -> dict[str, Any]:
    """The car in a link, shown before anything is done with it."""
    car = link.unpack(question.more["text"])
    names: Mapping[str, str] = question.more["names"]
    same = next((number for number, name in names.items() if name == car.name), "")
    taken = set(names.values())
    own = replace(car, name=_free(car.name, taken))
    return {
        "html": garage.received_html(car, same),
        "car": to_json(car),
        "beside": to_json(own),
        "same": same,
    }


QUESTIONS: Mapping[str, Callable[[Question], dict[str, Any]]] = {
    "log": _log,
    "collar": _collar,
    "undo": _undo,
    "csv": _csv,
    "setups": _setups,
    "setup": _setup,
    "compare": _compare,
    "take": _take,
    "cars": _cars,
    "another": _another,
    "backup": _backup,
    "restore": _restore,
    "received": _received,
}
