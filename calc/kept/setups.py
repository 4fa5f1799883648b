"""Set-ups: a car as it was on a day, and what leads from one to another.

A comparison names only what differs, as texts of the user's units; instructions are for the hand,
in the order of the work: springs, pistons, oil, strokes, holes, and the collars last.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from calc import units
from calc.answering.answer import Answer, AtCorner, Caution, Step
from calc.answering.hand import turn_words, way_of, way_words
from calc.asking import record
from calc.asking.entry import Refused
from calc.forms.cautions import opened, plastic, springs_off
from calc.forms.names import collar_label, end_word, rod_end_label
from calc.forms.turning import at_corner
from calc.kept.labels import entries, reads, said
from calc.kept.log import moved
from calc.language import later, tr
from calc.model.car import Car, forget, from_json, is_known, is_sure, put, to_json
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.model.origin import Origin
from calc.replying.form import Form
from calc.replying.inputs import Inputs, Problem, from_car

_SPRING = {
    "spring_rate": "{size}",
    "spring_free": later("{size} free"),
    "spring_solid": later("{size} solid"),
}
_HOLES = (
    ("holes", "hole", later("{count} × {size} open both ways")),
    ("inside.more_holes", "inside.more_hole", later("{count} × {size} open both ways too")),
    ("inside.compression_holes", "inside.compression_hole",
     later("{count} × {size} open in compression")),
    ("inside.rebound_holes", "inside.rebound_hole", later("{count} × {size} open in rebound")),
)  # fmt: skip
_PISTON = (
    *(path for count, size, _ in _HOLES for path in (count, size)), "piston_thickness",
    "inside.clearance",
)  # fmt: skip
_HEADS = {
    ("front", "springs"): later("Front springs: {what}."),
    ("rear", "springs"): later("Rear springs: {what}."),
    ("front", "pistons"): later("Front pistons: {what}."),
    ("rear", "pistons"): later("Rear pistons: {what}."),
    ("front", "oil"): later("Front dampers: {what}."),
    ("rear", "oil"): later("Rear dampers: {what}."),
    ("front", "holes"): later("Front dampers, holes used: {what}."),
    ("rear", "holes"): later("Rear dampers, holes used: {what}."),
}
_MOUNTS = ("lower_out", "lower_up", "upper_out", "upper_up")
NAME_LONGEST = 60


@dataclass(frozen=True)
class Setup:
    """The car with the words that tell this time from others. The temperature is the car's."""

    name: str = record.text(
        label="Name", longest=NAME_LONGEST, measure="A name you will recognise."
    )
    date: str = record.text(label="Day", longest=10, measure="Year, month, day: 2031-05-24.")
    surface: str = record.text(
        label="Surface", longest=60, measure="Dry clay, wet grass, carpet …", optional=True
    )
    note: str = record.text(label="Note", longest=400, measure="How it went.", optional=True)
    car: Car = record.part(Car)


@dataclass(frozen=True)
class Difference:
    path: str
    label: str
    now: str
    wanted: str


def setup_json(setup: Setup) -> dict[str, Any]:
    return {**record.plain(setup), "car": to_json(setup.car)}


def setup_from_json(stored: object, where: str = "set-up") -> Setup:
    """The set-up in stored JSON values, every one of them checked. Raises Refused."""
    if not isinstance(stored, dict) or "car" not in stored:
        raise Refused(tr("The set-up is damaged at {where}: its car is missing.", where=where))
    car = from_json(stored["car"])
    made: Setup = record.built(Setup, {**stored, "car": record.plain(car)}, where)
    _day(made.date)
    return replace(made, car=car)  # with where its values come from


def _day(text: str) -> None:
    try:
        date.fromisoformat(text)
    except ValueError:
        raise Refused(tr("Day: write it as year-month-day, such as 2031-05-24.")) from None


def _entry(name: str) -> Any:
    return record.entry_at(Setup, name)


class Asked(Inputs):
    name: str = _entry("name")
    date: str = _entry("date")
    surface: str = _entry("surface")
    temperature: float | None = from_car(
        "temperature", label="Temperature at which it works, air in the shade", optional=True
    )
    note: str = _entry("note")


def _solve(asked: Asked) -> Answer:
    try:
        _day(asked.date)
    except Refused as refused:
        raise Problem(Asked.date, str(refused)) from None
    return Answer(steps=(Step(tr("{name} can be saved.", name=asked.name)),))


SAVE = Form(
    slug="setups",
    title="Set-ups",
    moment="track",
    asks="The car as it is now, under a name: to find it again, compare it, go back to it.",
    inputs=Asked,
    solve=_solve,
)
"""What is asked when a set-up is saved."""


def made(asked: Asked) -> Setup:
    """The set-up of the car as it is now, from the entries of `SAVE`."""
    car, now = asked.car, asked.temperature
    if now is None:
        car = car if car.demo else forget(car, "temperature")
    elif now != car.temperature or not is_known(car, "temperature"):
        car = put(car, "temperature", now, Origin("measured"))
    return Setup(asked.name, asked.date, asked.surface, asked.note, car)


def temperature(setup: Setup) -> float | None:
    """The temperature at which it works; None where nobody has said it."""
    return setup.car.temperature if is_known(setup.car, "temperature") else None


def differences(now: Car, wanted: Car, system: str) -> tuple[Difference, ...]:
    """Every entry of the set-up that reads otherwise, in the order of the record."""
    return tuple(
        Difference(path, label, *(_told(car, path, entry, system) for car in (now, wanted)))
        for path, label, entry in entries()
        if _reads(now, path, entry) != _reads(wanted, path, entry)
    )


def _reads(car: Car, path: str, entry: record.Declared) -> str | None:
    """The value as it reads, None where nobody knows it, or it was only assumed."""
    return reads(record.get(car, path), entry) if is_sure(car, path) else None


def _told(car: Car, path: str, entry: record.Declared, system: str) -> str:
    """The value in words; of one that no gauge has shown it says so."""
    text, source = _said(car, path, entry, system), car.origins.get(path)
    predicted = source is not None and source.how == "predicted"
    return f"{text}, {tr('predicted, not measured since')}" if predicted else text


def _said(car: Car, path: str, entry: record.Declared, system: str) -> str:
    if is_sure(car, path) or path.endswith(".collar"):  # at its mark until somebody has turned it
        return said(record.get(car, path), entry, system, car.origins.get(path))
    return tr("only assumed") if is_known(car, path) else tr("not known yet")


@dataclass(frozen=True)
class _Way:
    """Two cars and how to speak about what they differ in. What was only assumed, or not known,
    when the one wanted was saved is no reason to work."""

    now: Car
    wanted: Car
    system: str

    def differs(self, end: str, *names: str) -> bool:
        return any(
            self.value("now", end, n) != wanted
            for n in names
            if (wanted := self.value("wanted", end, n)) is not None
        )

    def value(self, which: str, end: str, name: str) -> str | None:
        path = f"{end}.{name}"
        return _reads(getattr(self, which), path, record.entry_at(Car, path))

    def say(self, which: str, end: str, name: str) -> str:
        path, car = f"{end}.{name}", getattr(self, which)
        if not is_sure(car, path):
            return "?"
        return _said(car, path, record.entry_at(Car, path), self.system)


def instructions(now: Car, wanted: Car, system: str) -> tuple[Step, ...]:
    """What a hand has to do so that the car that is `now` becomes the one `wanted`."""
    way = _Way(now, wanted, system)
    steps = [
        step
        for end in ENDS
        for work in (_springs, _pistons, _oil, _mounts)
        for step in work(way, end)
    ]
    steps += [step for corner in CORNERS for step in _stroke(way, corner)]
    collars = [step for corner in CORNERS for step in _collar(way, corner)]
    heights = [
        _height(way, end) for end in ENDS if steps or collars or way.differs(end, "ride_height")
    ]
    return (*steps, *collars, *heights)


def _height(way: _Way, end: End) -> Step:
    """What the gauge has to show once the work is done."""
    now = way.value("now", end, "ride_height")
    before = tr("Before the work: {height}.", height=way.say("now", end, "ride_height"))
    if way.value("wanted", end, "ride_height") is None:
        text = tr("Measure the {end} ride height.", end=end_word(end))
        unknown = tr("It was not measured then.")
        return Step(text, f"{unknown} {before}" if now else unknown)
    wanted = way.say("wanted", end, "ride_height")
    text = tr("Check the {end} ride height: {height}.", end=end_word(end), height=wanted)
    return Step(text, before if now else "")


def _step(
    way: _Way, end: End, names: tuple[str, ...], head: str, told: Callable[[str], str]
) -> list[Step]:
    """One instruction, where any of the names differs; `told` says how a car is in that."""
    if not way.differs(end, *names):
        return []
    return [Step(tr(head, what=told("wanted")), tr("Now: {what}.", what=told("now")))]


def _springs(way: _Way, end: End) -> list[Step]:
    def told(which: str) -> str:
        known = [
            tr(text, size=way.say(which, end, name))
            for name, text in _SPRING.items()
            if way.value(which, end, name) is not None
        ]
        sizes = ", ".join(known) or tr("not known yet")
        name = _spring_name(getattr(way, which), end)
        return tr("“{name}”, {sizes}", name=name, sizes=sizes) if name else sizes

    return _step(way, end, tuple(_SPRING), _HEADS[end, "springs"], told)


def _spring_name(car: Car, end: End) -> str:
    """The owner's name for the spring fitted, if it is one of those owned."""
    fitted = [_reads(car, f"{end}.{n}", record.entry_at(Car, f"{end}.{n}")) for n in _SPRING]
    names = [
        spring.name
        for row, spring in enumerate(car.springs, start=1)
        if spring.name and _owned_spring(car, row) == fitted
    ]
    return names[0] if names else ""


def _owned_spring(car: Car, row: int) -> list[str]:
    paths = [f"springs.{row}.{name}" for name in ("rate", "free", "solid")]
    return [reads(record.get(car, path), record.entry_at(Car, path)) for path in paths]


def _pistons(way: _Way, end: End) -> list[Step]:
    def told(which: str) -> str:
        parts = [
            tr(holes, count=way.say(which, end, count), size=way.say(which, end, size))
            for count, size, holes in _HOLES
            if way.value(which, end, count) not in ("0", None)
        ]
        thick = way.say(which, end, "piston_thickness")
        play = way.say(which, end, "inside.clearance")
        return ", ".join([*parts, tr("{thick} thick, play {play}", thick=thick, play=play)])

    return _step(way, end, _PISTON, _HEADS[end, "pistons"], told)


def _oil(way: _Way, end: End) -> list[Step]:
    def told(which: str) -> str:
        return tr("oil {viscosity}", viscosity=way.say(which, end, "oil"))

    return _step(way, end, ("oil",), _HEADS[end, "oil"], told)


def _mounts(way: _Way, end: End) -> list[Step]:
    def told(which: str) -> str:
        low_out, low_up, up_out, up_up = (way.say(which, end, f"arm.{n}") for n in _MOUNTS)
        return tr(
            "lower mount {low_out} out and {low_up} up, upper mount {up_out} out and {up_up} up",
            low_out=low_out, low_up=low_up, up_out=up_out, up_up=up_up,
        )  # fmt: skip

    names = tuple(f"arm.{name}" for name in _MOUNTS)
    return _step(way, end, names, _HEADS[end, "holes"], told)


def _stroke(way: _Way, corner: Corner) -> list[Step]:
    place = f"corners.{corner}"
    if not way.differs(place, "stroke"):
        return []
    now, wanted = (way.say(which, place, "stroke") for which in ("now", "wanted"))
    text = tr("{part}: set the stroke to {stroke}.", part=rod_end_label(corner), stroke=wanted)
    return [Step(text, tr("Now: {what}.", what=now))]


def _collar(way: _Way, corner: Corner) -> list[Step]:
    turns = way.wanted.corner(corner).collar - way.now.corner(corner).collar
    if not moved(turns):
        return []
    text = f"{collar_label(corner)}: {turn_words(turns)}."
    return [Step(text, way_words(turns, way.now.thread_hand), way_of(turns))]


def turned(now: Car, wanted: Car) -> tuple[AtCorner, ...]:
    """The collars that are turned on the way, seen from above; nothing where none is."""
    turns = {corner: wanted.corner(corner).collar - now.corner(corner).collar for corner in CORNERS}
    if not any(map(moved, turns.values())):
        return ()
    return tuple(at_corner(corner, n if moved(n) else 0.0) for corner, n in turns.items())


def cautions(now: Car, wanted: Car) -> tuple[Caution, ...]:
    """Where turns of one set-up are not those of the other, and what the work asks for."""
    bodies: Mapping[End, tuple[float, float]] = {
        end: (now.axle(end).pitch, wanted.axle(end).pitch) for end in ENDS
    }
    found = [
        end
        for end, (one, other) in bodies.items()
        if one != other and all(is_sure(car, f"{end}.pitch") for car in (now, wanted))
    ]
    hands = all(is_sure(car, "thread_hand") for car in (now, wanted))
    if hands and now.thread_hand != wanted.thread_hand:
        found = list(ENDS)
    stops = tuple(
        Caution(tr("The {end} dampers have another thread there: turns do not carry over; set the "
                   "collars by the ride height.", end=end_word(end)), stop=True)
        for end in found
    )  # fmt: skip
    return (*stops, *_of_the_work(now, wanted))


def _of_the_work(now: Car, wanted: Car) -> Iterator[Caution]:
    if instructions(now, wanted, units.METRIC):
        yield springs_off()
    way = _Way(now, wanted, units.METRIC)
    if any(_mounts(way, end) for end in ENDS):
        yield plastic()
    if any(_pistons(way, end) or _oil(way, end) for end in ENDS):
        yield opened()
