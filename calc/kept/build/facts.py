"""The numbers of this car that belong to a step, or where one finds what is not known."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, partial

from calc import units
from calc.answering.hand import to_step, wait_range
from calc.forms.catalogue import BY_SLUG
from calc.forms.fill_bleed.bleed import BENCH, SEEN, rise_on_the_bench
from calc.forms.findings import beyond_thread
from calc.forms.names import end_label
from calc.kept.build.build import Build, step_of
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import STEPS, Step
from calc.kept.chapters import RECORD
from calc.language import inside, tr
from calc.model.car import Car, entry_at, is_known
from calc.model.corners import Corner, End
from calc.physics.thread import least_engagement

_FULL = 0.75
"""To which part a damper is filled first (common practice, no source)."""


@dataclass(frozen=True)
class Lack:
    """A value that nobody knows: its label, and its field on the page of the car."""

    label: str
    address: str


@dataclass(frozen=True)
class Fact:
    """A number for an end or for one of its dampers, or what it lacks; `paths` are the values of
    the car that it rests on."""

    end: str
    text: str
    lacks: tuple[Lack, ...] = ()
    paths: tuple[str, ...] = ()


def facts(build: Build, names: tuple[str, ...]) -> tuple[Fact, ...]:
    """For each end that is built, in the order of the names."""
    return tuple(
        fact
        for name in names
        for end in build.ends
        if end.corners[0] in build.at(_STEP_OF[name].key)
        if name not in _OF_KIND or (build.kind(end) == "emulsion") == (name == "amount")
        for fact in _facts(build, name, end)
    )


def _facts(build: Build, name: str, end: End) -> Iterator[Fact]:
    """What was read in this list comes before the car's record; at the step where it is read the
    record comes first, because there it is what the reading is held against."""
    told = {one: _fact(build, name, one) for one in end.corners}
    left, right = told.values()
    if left is None or right is None:
        return  # the record has no number to be held against, and the reading stands there itself
    if replace(left, end="") == replace(right, end=""):
        yield replace(left, end=end_label(end))
    else:
        yield from (left, right)


def _fact(build: Build, name: str, corner: Corner) -> Fact | None:
    needs, says = _FACTS[name]
    own = _STEP_OF[name]
    read = []
    for path in needs:
        reading = _READ.get(path, "")
        if not reading or build.reading_of_pair(reading, corner) is None:
            continue
        is_target = reading in own.reads and is_known(build.car, path.format(end=corner.end))
        if not is_target:
            read.append(reading)
    if needs and all(_READ.get(path) in own.reads for path in needs) and read:
        return None
    car = build.car_of(corner, read)
    filled = {READINGS[reading].path for reading in read}
    paths = tuple(path.format(end=corner.end) for path in needs if path not in filled)
    label = build.label(corner)
    if lacks := tuple(_lack(path) for path in paths if not is_known(car, path)):
        return Fact(label, tr("not known yet"), lacks, paths)
    text = says(car, corner.end, partial(units.show_to, system=build.system))
    if read:
        steps = dict.fromkeys(build.title(step_of(reading).key) for reading in read)
        text = tr("{fact}, as read at “{steps}”", fact=text, steps=", ".join(steps))
    if guessed := [entry_at(path).said for path in paths if _is_assumed(car, path)]:
        what = ", ".join(map(inside, guessed)) if len(paths) > 1 else ""
        text = (
            tr("{fact} (only assumed: {what})", fact=text, what=what)
            if what
            else tr("{fact} (only assumed)", fact=text)
        )
    return Fact(label, text, (), paths)


def _is_assumed(car: Car, path: str) -> bool:
    source = car.origins.get(path)
    return source is not None and source.how == "assumed"


def _lack(path: str) -> Lack:
    return Lack(entry_at(path).said, f"#{RECORD}-{_fields()[path]}")


@cache
def _fields() -> Mapping[str, str]:
    """The fields of the car's page by the value of the record that they fill."""
    return {cell.car: name for _, name, cell in BY_SLUG[RECORD].cells()}


_Say = Callable[..., str]
_Says = Callable[[Car, End, _Say], str]


def _piston(car: Car, end: End, say: _Say) -> str:
    axle = car.axle(end)
    return tr("{count} holes of {size}", count=f"{axle.holes:.0f}", size=say(axle.hole, "length"))


def _thread(car: Car, end: End, say: _Say) -> str:
    least, safe = least_engagement(car.rod_end.thread, "plastic")
    return tr(
        "at least {least} of thread in a plastic rod end, better {safe} (a rule of thumb)",
        least=say(least, "length", decimals=1), safe=say(safe, "length", decimals=1),
    )  # fmt: skip


def _length(car: Car, end: End, say: _Say) -> str:
    return tr("{length} in the car's record", length=say(car.axle(end).damper_length, "length"))


def _stroke(car: Car, end: End, say: _Say) -> str:
    return tr("{length} wanted", length=say(car.axle(end).stroke, "length"))


def _oil(car: Car, end: End, say: _Say) -> str:
    axle = car.axle(end)
    return tr(
        "{oil}, {one} in each, {both} for the pair",
        oil=say(axle.oil, "viscosity"), one=say(axle.inside.held, "volume", decimals=1),
        both=say(2 * axle.inside.held, "volume", decimals=1),
    )  # fmt: skip


def first_fill(car: Car, end: End) -> float:
    """Oil that a damper gets before its shaft is worked, m³, by the step of the syringe."""
    return to_step(_FULL * car.axle(end).inside.held, car.tools.syringe)


def _fill(car: Car, end: End, say: _Say) -> str:
    held = car.axle(end).inside.held
    return tr(
        "about {first} of {all}",
        first=say(first_fill(car, end), "volume", decimals=1),
        all=say(held, "volume", decimals=1),
    )  # fmt: skip


def _amount(car: Car, end: End, say: _Say) -> str:
    return tr("{oil} in each", oil=say(car.axle(end).inside.held, "volume", decimals=1))


def rest_times(car: Car, end: End) -> tuple[float, float]:
    """Longest and shortest time, s, in which the smallest bubble that is seen rises through the
    whole body, on the bench."""
    return rise_on_the_bench(car.axle(end), SEEN)


def _rest(car: Car, end: End, say: _Say) -> str:
    longest, shortest = rest_times(car, end)
    first, last = wait_range(shortest, longest)
    return tr(
        "a bubble of {size} rises through {oil} in {shortest} to {longest} at {warm}",
        size=say(SEEN, "length", decimals=1), oil=say(car.axle(end).oil, "viscosity"),
        shortest=first, longest=last,
        warm=say(BENCH, "temperature", decimals=0),
    )  # fmt: skip


def _closed(car: Car, end: End, say: _Say) -> str:
    inside = car.axle(end).inside
    return tr("shaft {depth} in", depth=say(inside.closed_at, "length", decimals=1))


def _spring(car: Car, end: End, say: _Say) -> str:
    axle = car.axle(end)
    return tr(
        "{rate}, {free} free",
        rate=say(axle.spring_rate, "rate"), free=say(axle.spring_free, "length", decimals=1),
    )  # fmt: skip


def preload_turns(car: Car, end: End) -> float | None:
    """Turns from first touch to the preload of the record, by the step of the owner; 0 where the
    spring is loose at full droop, None where no thread goes that far."""
    axle = car.axle(end)
    squeezed = max(axle.spring_free - axle.droop_length, 0.0)
    turns = to_step(squeezed / axle.pitch, car.tools.turn_step)
    return None if beyond_thread(turns, axle.pitch, axle.spring_free) else turns


def _preload(car: Car, end: End, say: _Say) -> str:
    turns = preload_turns(car, end)
    if turns is None:
        return tr("further than a thread goes: check these lengths")
    if not turns:
        return tr("stays at first touch")
    return tr("{turns} down from first touch", turns=units.turns_text(turns))


_FACTS: Mapping[str, tuple[tuple[str, ...], _Says]] = {
    "piston": (("{end}.holes", "{end}.hole"), _piston),
    "thread": (("rod_end.thread",), _thread),
    "length": (("{end}.damper_length",), _length),
    "stroke": (("{end}.stroke",), _stroke),
    "oil": (("{end}.oil", "{end}.inside.held"), _oil),
    "fill": (("{end}.inside.held",), _fill),
    "amount": (("{end}.inside.held",), _amount),
    "rest": (("{end}.oil", "{end}.inside.length"), _rest),
    "closed": (("{end}.inside.closed_at",), _closed),
    "rebound": (("{end}.inside.closed_at",), _closed),
    "spring": (("{end}.spring_rate", "{end}.spring_free"), _spring),
    "preload": (("{end}.spring_free", "{end}.droop_length", "{end}.pitch"), _preload),
}
_OF_KIND = ("fill", "amount")
"""Of an emulsion all the oil is told, of the others how much goes in first."""
_READ: Mapping[str, str] = {path: name for name, about in READINGS.items() for path in about.homes}
"""Readings by the value of the record that they stand for."""
_STEP_OF: Mapping[str, Step] = {name: step for step in STEPS for name in step.facts}
