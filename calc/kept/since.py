"""What the log says of the work of a form: whether its last instruction was carried out, and what
has been measured since; which of the texts typed in it no longer tell of the car as it is."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from calc.asking.entry import Refused, path_of
from calc.kept import doing, log
from calc.kept.deeds import LISTS
from calc.kept.entry_words import done_words
from calc.kept.labels import label_of
from calc.kept.lesson_views import LessonView, lesson_views
from calc.kept.log import AT_HAND, ENTERED, Entry, Moment, is_work_of
from calc.kept.log_view import when_on
from calc.model.car import Car
from calc.model.corners import ENDS
from calc.model.following import is_gauged
from calc.replying.form import Form, Reply
from calc.replying.reading import read

_SETS = (".collar", ".spring_rate", ".spring_free")
"""How the paths end of what decides all that a gauge shows, known before or not."""


@dataclass(frozen=True)
class Past:
    """What the page knows beside the form: the newest lines of the car's log, oldest first; when
    something was typed or chosen in the form last, s since 1970 (UTC); the day, 2031-05-24; of each
    text in the form its field, when it was typed, and the paths of all work undone since."""

    entries: Sequence[Entry] = ()
    touched: float = 0.0
    today: str = ""
    typed_at: Sequence[tuple[str, float, Sequence[str]]] = ()


@dataclass(frozen=True)
class CarriedOut:
    """An instruction that was carried out, in words. `ids` are its lines of the log, the newest
    first, where these can be taken back, else empty; `poured` where it has emptied bottles;
    `heights` the ends of which the height is to be measured on the page of the car: (field there,
    label)."""

    when: str
    says: str
    ids: tuple[str, ...]
    poured: bool
    heights: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Since:
    """`done` is the form's own last work, until something that its answer rests on has changed;
    `lessons` are of heights and loads that were measured far from what had been predicted, or that
    offer a value of the record."""

    done: CarriedOut | None = None
    lessons: tuple[LessonView, ...] = ()


def since(
    form: Form, typed: Mapping[str, str], reply: Reply, car: Car, past: Past, system: str
) -> Since:
    """What a form has to say before anything else."""
    if not past.entries:
        return Since()
    return Since(
        _carried_out(form, reply.paths, car, past, system),
        tuple(_lessons(form, typed, reply, car, past.entries, system)),
    )


def outdated(
    form: Form, typed: Mapping[str, str], car: Car, past: Past, system: str
) -> frozenset[str]:
    """Fields whose texts tell of the car before work that has changed it there, or before that work
    was undone."""
    moved = {
        name: {*undone}.union(*(_moved(form, one) for one in past.entries if one.time > time))
        for name, time, undone in past.typed_at
    }
    if not any(moved.values()):
        return frozenset()
    given, _ = read(form, typed, car, system)
    return frozenset(
        name
        for name in moved.keys() & given.labels.keys()
        if _is_among(path_of(form.by_name[name], given.choices), moved[name])
    )


def _moved(form: Form, entry: Entry) -> Collection[str]:
    """Paths at which a text typed in a form before this line tells of another car. Of what was only
    entered these are lists saved elsewhere: their rows are others now."""
    if entry.kind not in AT_HAND:
        return entry.was
    return () if entry.does.of == form.slug else entry.was.keys() & {*LISTS}


def _is_among(path: str, moved: Collection[str]) -> bool:
    of_list = path.partition(".")[0] in moved
    gauged = is_gauged(path) and any(one.endswith(_SETS) for one in moved)
    return path in moved or of_list or gauged


def _carried_out(
    form: Form, paths: frozenset[str], car: Car, past: Past, system: str
) -> CarriedOut | None:
    rests_on = paths | ({path.partition(".")[0] for path in paths} & {*LISTS})
    for entry in reversed(past.entries):
        if is_work_of(form.slug, entry):
            if entry.time <= past.touched:
                return None
            # What was measured of several dampers at once has a line for each.
            lines = [
                one
                for one in past.entries
                if is_work_of(form.slug, one) and one.does.when == entry.does.when
            ]
            return CarriedOut(
                when_on(entry, past.today),
                " ".join(done_words(one, car, past.entries, system) for one in lines),
                tuple(one.id for one in lines[::-1]) if entry is past.entries[-1] else (),
                bool(entry.does.poured),
                tuple(_heights(entry, paths, car)),
            )
        if rests_on & entry.was.keys():
            return None
    return None


def _heights(entry: Entry, paths: frozenset[str], car: Car) -> Iterator[tuple[str, str]]:
    """Of the ends that were worked at, unless the form itself asks for that height or somebody has
    measured it since."""
    for end in ENDS:
        path, does = f"{end}.ride_height", entry.does
        turned = any(does.turns.get(corner) for corner in end.corners)
        fitted = any(one.startswith(f"{end}.spring_") for one in does.fitted)
        source = car.origins.get(path)
        seen = source is not None and source.how == "measured" and source.when > entry.time
        if (turned or fitted) and path not in paths and not seen:
            yield f"end.{path}", label_of(path)


def _lessons(
    form: Form,
    typed: Mapping[str, str],
    reply: Reply,
    car: Car,
    entries: Sequence[Entry],
    system: str,
) -> Iterator[LessonView]:
    """What is typed counts as measured, before it is saved."""
    if not any(map(is_gauged, reply.paths)):
        return
    if reply.keepable:
        at = Moment("typed", entries[-1].car, entries[-1].time, 0.0)
        saved = doing.saved(form, typed, car, at.time, system)
        try:
            car, entry = log.happened(car, at, ENTERED, saved)
        except Refused:
            return
        entries = [*entries, entry]
    yield from (
        one
        for one in lesson_views(car, entries, system)
        if (one.is_off or one.offers) and one.paths & reply.paths
    )
