"""What the page of the collar log shows: corners, the way back to base, the day's lines, CSV."""

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from itertools import groupby
from typing import Any

from calc import units
from calc.answering.answer import AtCorner, Axis, Caution, Curve, Plot, Step
from calc.answering.hand import turn_words, way_of, way_words
from calc.asking import record
from calc.asking.entry import Refused
from calc.forms.cautions import stand
from calc.forms.names import collar_label, corner_label, corner_word, end_label, end_word
from calc.kept.deeds import Deed, carried_out
from calc.kept.entry_words import bottles_then, what_words
from calc.kept.lesson_views import LessonView, lesson_views
from calc.kept.log import (  # fmt: skip
    CHECK,
    TURN,
    Entry,
    Stands,
    drift,
    kind_label,
    last_base,
    lines,
    moved,
    net,
    no_base,
    stands,
    turns_back,
)
from calc.language import inside, tr
from calc.model.car import Car, is_known
from calc.model.corners import CORNERS, ENDS, Corner, End, Side
from calc.model.origin import Origin

_HOUR = 3600.0  # s
_GATHER = 120.0  # s; touches of a button closer together than this are one turn of the hand
_NOT_ALONE = ("=", "+", "-", "@", "\t")  # a spreadsheet would take such a text for a formula


@dataclass(frozen=True)
class CornerView:
    """A corner in words; `above` is the same for the drawing of the car."""

    key: str
    label: str
    net: str
    way: str
    stands: str
    looked: str
    above: AtCorner


@dataclass(frozen=True)
class LogView:
    """Finished texts; `home` leads back to the base and is empty where every collar is there, or
    where the base is one of other parts: `not_home` says so. `days` have their lines, the newest
    of both first."""

    corners: tuple[CornerView, ...]
    base: str
    home: tuple[Step, ...]
    not_home: tuple[str, ...]
    days: tuple[tuple[str, tuple["LogLine", ...]], ...]
    plot: Plot | None
    cautions: tuple[Caution, ...]
    lessons: tuple[LessonView, ...]


@dataclass(frozen=True)
class LogLine:
    """What was done at a time of the day, at which corner and how far that one then stood from its
    base; these two are empty where no collar was touched."""

    time: str
    where: str
    what: str
    net: str
    note: str


def view(car: Car, entries: Sequence[Entry], now: float, zone: float, system: str) -> LogView:
    """The log of a car; `entries` are those since its base, the base included, oldest first."""
    by_collar = [line for entry in entries for line in lines(entry)]
    base = last_base(by_collar)
    origin = base.stands if base else stands(car)
    turned = net(car, origin)
    since = by_collar[by_collar.index(base) :] if base else by_collar
    not_home = tuple(_not_home(car, entries, origin, base, system))
    today = [e for e in since if _day(e.time, e.zone) == _day(now, zone)]
    return LogView(
        corners=tuple(_corner(car, since, key, turned[key]) for key in CORNERS),
        base=_base_text(base, now, zone),
        home=() if not_home else home_steps(car, origin, system),
        not_home=not_home,
        days=_days(car, by_collar, origin, now, zone, system),
        plot=_plot(today, origin) if any(e.turns for e in today) else None,
        cautions=_cautions(since),
        lessons=lesson_views(car, entries, system),
    )


def _corner(car: Car, since: Sequence[Entry], key: Corner, turned: float) -> CornerView:
    looked = [e for e in since if e.kind == CHECK and e.corner == key]
    shown = units.turns_number(abs(turned)) if moved(turned) else "0"
    seen = _seen(looked[-1]) if looked else ""
    way = _way(turned)
    collar = car.corner(key).collar
    where, stands_at = "0", tr("Is at its mark.")
    if moved(collar):
        where = f"{units.turns_number(abs(collar))} {_way(collar)}"
        stands_at = tr("Is {place} from its mark.", place=where)
    drawn = AtCorner(
        key,
        (shown, tr("mark {place}", place=where)),
        way_of(turned) if moved(turned) else "",
        says=f"{shown} {way}. {stands_at}",
    )
    return CornerView(key, corner_label(key), shown, way, stands_at, seen, drawn)


def _way(turned: float) -> str:
    if not moved(turned):
        return tr("at base")
    return tr("down", sense="collar") if turned > 0 else tr("up", sense="collar")


def _seen(look: Entry) -> str:
    time, turns = clock(look), turn_words(look.turns)
    if moved(look.turns):
        return tr("Mark seen {time}, found {turns}.", time=time, turns=turns)
    return tr("Mark seen {time}, still there.", time=time)


def _base_text(base: Entry | None, now: float, zone: float) -> str:
    if base is None:
        return no_base()
    time = when(base, now, zone)
    if base.note:
        return tr("Base set {time}, {note}.", time=time, note=base.note)
    return tr("Base set {time}.", time=time)


def home_steps(car: Car, base: Stands, system: str) -> tuple[Step, ...]:
    """One instruction for each collar that is not at the base."""
    steps = []
    for corner, turned in net(car, base).items():
        if not moved(turned):
            continue
        pitch = car.axle(corner.end).pitch
        way = way_words(-turned, car.thread_hand)
        thread = units.show(abs(turned) * pitch, "length", system)
        steps.append(
            Step(
                f"{collar_label(corner)}: {turn_words(-turned)}.",
                tr("{way} {thread} of thread.", way=way, thread=thread),
                way_of(-turned),
            )
        )
    return tuple(steps)


_PARTS = ("spring_rate", "spring_free", "spring_solid", "pitch", "arm.")
"""How values of an end begin that say what a turn of its collars is worth."""


def _not_home(
    car: Car, entries: Sequence[Entry], origin: Stands, base: Entry | None, system: str
) -> Iterator[str]:
    """Why the turns of the base do not lead back to it: by end, where other parts are in."""
    if not any(map(moved, net(car, origin).values())):
        return
    back = _turned_back(car, origin)
    for end in ENDS:
        if not _has_other_parts(car, end, entries[entries.index(base) + 1 :] if base else entries):
            continue
        says = tr(
            "{end}: springs, thread or holes are not those of the base, so its turns do not "
            "lead back to the car as it was then.",
            end=end_label(end),
        )
        yield " ".join([says, *_would_be(car, back, end, system)])


def _has_other_parts(car: Car, end: End, since: Sequence[Entry]) -> bool:
    """Whether parts have been replaced, and not put back; that others are entered than had been
    assumed replaces none."""
    then: dict[str, tuple[Any, Origin | None]] = {}
    fitted: set[str] = set()
    for entry in since:
        fitted.update(entry.does.fitted)
        for path, was in entry.was.items():
            if path.startswith(tuple(f"{end}.{part}" for part in _PARTS)):
                then.setdefault(path, was)
    return any(
        (path in fitted or (source is not None and source.how != "assumed"))
        and value != record.get(car, path)
        for path, (value, source) in then.items()
    )


def _turned_back(car: Car, origin: Stands) -> Car | None:
    """The car with its collars at the base; None where no car can be like that."""
    try:
        return carried_out(car, Deed(turns=turns_back(car, origin)))
    except Refused:
        return None


def _would_be(car: Car, back: Car | None, end: End, system: str) -> Iterator[str]:
    """What an end would come to, as far as it is known."""
    if back is None:
        return
    axle = back.axle(end)
    gap = axle.droop_length - axle.spring_free
    if gap > 0 and all(is_known(back, f"{end}.{n}") for n in ("droop_length", "spring_free")):
        yield tr(
            "Turned back, the {end} springs would be loose at full droop by {gap}.",
            end=end_word(end),
            gap=units.show(gap, "length", system, 1),
        )
    off = axle.ride_height - car.axle(end).ride_height
    if off and is_known(back, f"{end}.ride_height"):
        height = units.show(abs(off), "length", system, 1)
        if off > 0:
            yield tr("The {end} would sit {height} higher.", end=end_word(end), height=height)
        else:
            yield tr("The {end} would sit {height} lower.", end=end_word(end), height=height)


def _cautions(since: Sequence[Entry]) -> tuple[Caution, ...]:
    crept = [corner_word(c) for c in CORNERS if moved(drift(since, c))]
    if not crept:
        return (stand(),)
    return (
        stand(),
        Caution(
            tr(
                "A collar that creeps will creep again ({corners}): it has to be stiff to "
                "turn. See the car's manual on how to hold it. Ride height and loads from "
                "before it crept no longer hold: measure them again.",
                corners=", ".join(crept),
            )
        ),
    )


def local(time: float, zone: float) -> datetime:
    return datetime.fromtimestamp(time, timezone(timedelta(seconds=round(zone))))


def _day(time: float, zone: float) -> str:
    return local(time, zone).strftime("%Y-%m-%d")


def clock(entry: Entry) -> str:
    return local(entry.time, entry.zone).strftime("%H:%M")


def when(entry: Entry, now: float, zone: float) -> str:
    """The time of day, with the day before it unless that is today."""
    return when_on(entry, _day(now, zone))


def when_on(entry: Entry, today: str) -> str:
    """The time of day, with the day before it unless the entry is looked at on that day,
    2031-05-24."""
    day = _day(entry.time, entry.zone)
    return clock(entry) if day == today else f"{day} {clock(entry)}"


def gathered(entries: Sequence[Entry]) -> list[tuple[Entry, float]]:
    """Newest first: (last entry, turns in all) with touches of one button taken together."""
    rows: list[tuple[Entry, float]] = []
    for entry in entries:
        last, turns = rows[-1] if rows else (None, 0.0)
        together = (
            last is not None
            and last.kind == entry.kind == TURN
            and last.corner == entry.corner
            and last.note == entry.note == ""
            and entry.time - last.time < _GATHER
        )
        if together:
            rows[-1] = (entry, turns + entry.turns)
        else:
            rows.append((entry, entry.turns))
    return rows[::-1]


def _days(
    car: Car, entries: Sequence[Entry], origin: Stands, now: float, zone: float, system: str
) -> tuple[tuple[str, tuple[LogLine, ...]], ...]:
    """The lines of each day under its name, newest first."""
    bottles = bottles_then(car, entries)
    today, days = _day(now, zone), dict[str, list[LogLine]]()
    for entry, turns in gathered(entries):
        day = _day(entry.time, entry.zone)
        shown = tr("Today, {day}", day=day) if day == today else day
        what = what_words(entry, turns, bottles[entry.id], system)
        days.setdefault(shown, []).append(_log_line(entry, what, origin))
    return tuple((day, tuple(lines)) for day, lines in days.items())


def _log_line(entry: Entry, what: str, origin: Stands) -> LogLine:
    where, net = "", ""
    if entry.kind in (TURN, CHECK):
        corner = Corner(entry.corner)
        after = _net(entry, origin, corner)
        where = corner_label(corner)
        net = (
            tr("then {turns} from base", turns=turn_words(after))
            if moved(after)
            else tr("then at base")
        )
    return LogLine(clock(entry), where, what, net, entry.note)


def _plot(today: Sequence[Entry], origin: Stands) -> Plot:
    """Net turns of every corner over the hours of the day, a step at each entry."""
    styles = {End.FRONT: "main", End.REAR: "second"}
    alike: dict[tuple[tuple[float, float], ...], list[Corner]] = {}
    for corner in CORNERS:
        alike.setdefault(_steps(today, origin, corner), []).append(corner)
    curves = [Curve(_together(of), line, styles[of[0].end]) for line, of in alike.items()]
    last = today[-1]
    says = "; ".join(f"{corner_word(c)} {turn_words(_net(last, origin, c))}" for c in CORNERS)
    return Plot(
        tr("Collars over the day"),
        Axis(tr("Time of day"), "clock"),
        Axis(tr("Turns down from base"), "ratio"),
        tuple(curves),
        says=tr("Net turns from base, last at {time}: {corners}.", time=clock(last), corners=says),
    )


def _together(corners: Sequence[Corner]) -> str:
    """The name of a line that several collars share: "Front, rear left"."""
    names: list[str] = []
    for end in ENDS:
        mine = [corner for corner in corners if corner.end == end]
        names += [end_label(end)] if len(mine) == len(Side) else map(corner_label, mine)
    return ", ".join([*names[:1], *map(inside, names[1:])])


def _net(entry: Entry, origin: Stands, corner: Corner) -> float:
    """Turns down from the base once that was done."""
    return entry.stands.at(corner) - origin.at(corner)


def _steps(
    today: Sequence[Entry], origin: Stands, corner: Corner
) -> tuple[tuple[float, float], ...]:
    points: list[tuple[float, float]] = []
    times = [_time_of_day(entry) for entry in today]
    for entry, time in zip(today, times, strict=True):
        after = _net(entry, origin, corner)
        before = after - (entry.turns if entry.corner == corner else 0.0)
        points += [(time, before), (time, after)]
    points = [point for point, _ in groupby(points)]
    # From one whole hour to another, so that the hours stand below.
    first, last = times[0] // _HOUR * _HOUR, (times[-1] // _HOUR + 1) * _HOUR
    return ((first, points[0][1]), *points, (last, points[-1][1]))


def _time_of_day(entry: Entry) -> float:
    """In s since midnight."""
    at = local(entry.time, entry.zone)
    return at.hour * _HOUR + at.minute * 60 + at.second


def to_csv(entries: Sequence[Entry], names: dict[str, str]) -> str:
    """The log for a spreadsheet; `names` are those of the cars by number. Commas and points."""
    out = io.StringIO()
    sheet = csv.writer(out, lineterminator="\r\n")
    heads = [tr("{corner} position", corner=corner_label(c)) for c in CORNERS]
    about = (
        tr("Day"),
        tr("Time", sense="of day"),
        tr("Car"),
        tr("Done"),
        tr("Corner"),
        tr("Turns down"),
    )
    sheet.writerow([*about, *heads, tr("Note")])
    for entry in (line for one in entries for line in lines(one)):
        where = [f"{entry.stands.at(c):.10g}" for c in CORNERS]
        sheet.writerow(
            [
                _day(entry.time, entry.zone),
                local(entry.time, entry.zone).strftime("%H:%M:%S"),
                _harmless(names.get(entry.car, "")),
                kind_label(entry.kind),
                corner_label(Corner(entry.corner)) if entry.corner else "",
                f"{entry.turns:.10g}" if entry.kind in (TURN, CHECK) else "",
                *where,
                _harmless(entry.note),
            ]
        )
    return out.getvalue()


def _harmless(text: str) -> str:
    return f"'{text}" if text.startswith(_NOT_ALONE) else text
