"""Replies to what the pages of the cars, the collar log, the set-ups and the backup ask."""

from collections.abc import Mapping
from dataclasses import replace

from calc.asking.entry import Number, Refused
from calc.asking.record import entry_at
from calc.kept import backup as backups
from calc.kept import doing, link, setups
from calc.kept import log as logs
from calc.kept.build import unfinished
from calc.kept.deeds import Deed
from calc.kept.entry_words import undone_words
from calc.kept.log import Entry
from calc.kept.log_view import to_csv
from calc.language import later, tr
from calc.model.car import Car, empty, text_at
from calc.model.origin import Origin
from calc.replying.reading import read, run
from calc.replying.resting import not_known
from site_src.both import garage
from site_src.both.garage import LogHtml
from site_src.live.questions import (
    Act,
    AnotherAsked,
    BackupAsked,
    BackupMade,
    CarsAsked,
    CollarAsked,
    CompareAsked,
    CsvAsked,
    Html,
    LogAsked,
    Made,
    Moment,
    OneCar,
    PlainText,
    Plan,
    Received,
    ReceivedAsked,
    RestoreAsked,
    Restored,
    SetupAsked,
    SetupMade,
    SetupsAsked,
    ShareAsked,
    Shared,
    TakeAsked,
    UndoAsked,
    Undone,
)


def happened(
    car: Car, at: Moment, kind: str, deed: Deed, note: str
) -> tuple[Car, tuple[Entry, ...]]:
    """The car after a deed, and what the log gains by it. Entries that follow one another become
    one line, in place of the newest."""
    if kind == logs.ENTERED and at.newest is not None:
        car, deed, at = logs.together(car, at.newest, deed, at)
    after, entry = logs.happened(car, at, kind, deed, note)
    return after, logged(car, entry, at)


def logged(before: Car, entry: Entry, at: Moment) -> tuple[Entry, ...]:
    """The entry as it is stored, with the base before the first one."""
    if at.based:
        return (entry,)
    return logs.set_base(before, logs.part_of(at, "0")), replace(entry, time=logs.after(at, 1).time)


def log(asked: LogAsked) -> LogHtml:
    return garage.log_html(asked.at_work, asked.entries, asked.now, asked.zone, asked.system)


def collar(asked: CollarAsked) -> Made:
    """Something done at the collars."""
    act, at, before = asked.act, asked.at, asked.at_work
    if act.kind == logs.TURN:
        car, entry = logs.turn(before, at, act.corner, float(act.turns), act.note)
    elif act.kind == logs.CHECK:
        car, entry = logs.check(before, at, act.corner, _found(act), act.note)
    elif act.kind == logs.BASE:
        return Made(car=before, log=(logs.set_base(before, at, act.note),))
    elif act.kind == logs.NOTE:
        car, entry = before, logs.noted(before, at, act.note)
    elif act.kind == "learn":
        source = Origin("measured", at.time, u=act.u)
        deed = Deed(learned={f"{act.end}.{act.what}": (act.value, source)}, when=at.time)
        car, entry = logs.happened(before, at, logs.ENTERED, deed, tr("From the collar log"))
    elif act.base is None:
        raise Refused(logs.no_base())
    else:
        car, entry = logs.home(before, act.base.stands, at)
    return Made(car=car, log=logged(before, entry, at))


def _found(act: Act) -> float:
    """How far off its mark a collar was found: typed, and which way chosen."""
    if act.way == "still":
        return 0.0
    entry = entry_at(Entry, "turns")
    assert isinstance(entry, Number)
    label = later("Turns off the mark")
    measured = replace(entry, label=label, possible=(0, 20), usual=(0, 5)).read(act.turns)
    value = measured.value if measured else 0.0
    return value if act.way == "down" else -value


def undo(asked: UndoAsked) -> Undone:
    car = asked.at_work
    says = undone_words(asked.entry, car, asked.system)
    return Undone(car=logs.undone(car, asked.entry), says=says)


def csv(asked: CsvAsked) -> PlainText:
    return PlainText(text=to_csv(asked.entries, dict(asked.names)))


def setup_list(asked: SetupsAsked) -> Html:
    return Html(html=garage.setups_html(asked.heads, asked.system))


def setup(asked: SetupAsked) -> SetupMade:
    """A set-up of the car as it is, from what was typed; or what is wrong with that, by field."""
    car = asked.at_work
    reply = run(setups.SAVE, asked.typed, car, asked.system)
    missing = {
        one.name: tr("Not known yet: {entries}.", entries=one.label)
        for one in not_known(setups.SAVE, reply, asked.system)
    }
    if reply.problems or missing:
        return SetupMade(problems={**reply.problems, **missing})
    given, _ = read(setups.SAVE, asked.typed, car, asked.system)
    made = setups.made(given)
    return SetupMade(setup=made, temperature=setups.temperature(made), problems={})


def compare(asked: CompareAsked) -> Html:
    one, other = asked.one, asked.other
    takes = other.id if one.now else ""
    names = (one.name, other.name)
    return Html(html=garage.compared_html(one.car, other.car, names, asked.system, takes=takes))


def take(asked: TakeAsked) -> Made:
    """The car once it has been set as in a set-up."""
    at, before = asked.at, asked.at_work
    deed = doing.back_to(before, asked.wanted, at.time, "setups")
    note = tr("Set-up “{name}”", name=asked.name)[: logs.NOTE_LONGEST]
    car, entries = happened(before, at, logs.SETUP, deed, note)
    return Made(car=car, log=entries, again=doing.measure_again(before, car))


def cars(asked: CarsAsked) -> Html:
    return Html(html=garage.cars_html(asked.cars, asked.current))


def share(asked: ShareAsked) -> Shared:
    """The car as a link and as a code to scan. Without an address of the page there is no link."""
    car = asked.at_work
    link_to = f"{asked.address}#{link.FRAGMENT}{link.pack(car)}" if asked.address else ""
    return Shared(html=garage.shared_html(car, asked.address), link=link_to)


def another(asked: AnotherAsked) -> OneCar:
    """Another car, under a name of its own: a copy, or one of which nothing is known."""
    old = asked.at_work
    made = old if asked.copies else empty(tr("My car"))
    return OneCar(car=replace(made, name=_free(made.name, set(asked.names))))


def _free(name: str, taken: set[str]) -> str:
    """The name, with a number behind it where there is such a car already."""
    short = name[: text_at("name").longest - 4]
    made, number = name, 1
    while made in taken:
        number += 1
        made = f"{short} {number}"
    return made


def backup(asked: BackupAsked) -> BackupMade:
    content = {
        "cars": asked.cars, "setups": asked.setups, "log": asked.log, "builds": asked.builds,
        "made": asked.now,
    }  # fmt: skip
    made, left = backups.readable(content)
    said = tr(
        "Not in the backup, because they cannot be read or have no car: cars {cars}, set-ups "
        "{setups}, lines of the log {log}, build lists {builds}.",
        cars=left["cars"],
        setups=left["setups"],
        log=left["log"],
        builds=left["builds"],
    )
    return BackupMade(text=backups.to_text(made), left=said if any(left.values()) else "")


def restore(asked: RestoreAsked) -> Plan:
    """What restoring would change, and what then has to be stored."""
    theirs = backups.from_text(asked.text)
    builds = {one.car: one for one in map(unfinished.from_json, asked.builds)}
    mine = backups.Mine(asked.cars, asked.setups, frozenset(asked.log), builds)
    plan = (backups.replaced if asked.way == "replace" else backups.merged)(mine, theirs)
    stored = backups.plain(plan.write)
    return Plan(
        html=garage.plan_html(plan, asked.way, asked.zone),
        clears=plan.clears,
        write=Restored(
            cars=stored["cars"],
            setups=[
                {**told, "temperature": setups.temperature(one.value)}
                for told, one in zip(stored["setups"], plan.write.setups, strict=True)
            ],
            log=stored["log"],
            builds=stored["builds"],
        ),
    )


def received(asked: ReceivedAsked) -> Received:
    """The car in a link, shown before anything is done with it."""
    car = link.unpack(asked.text)
    names: Mapping[str, str] = asked.names
    same = next((number for number, name in names.items() if name == car.name), "")
    own = replace(car, name=_free(car.name, set(names.values())))
    return Received(html=garage.received_html(car, same), car=car, beside=own, same=same)
