"""The questions that the page asks Python: a name, a record of what is said, one of the reply.

This is the only list of them. From it come the types that the scripts of the page are checked with
(site_src/build/declarations.py); the warm-up of the memory image has to ask every one, the stand-in
of the tests to answer every one.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Generic, Literal, TypeVar

from calc.kept import log
from calc.kept.log import Entry
from calc.kept.setups import Setup
from calc.model.car import Car
from site_src.both.garage import CarLine, LogHtml, SetupLine
from site_src.live.wire import Read, Unread, reader

A = TypeVar("A")
R = TypeVar("R")

System = Literal["metric", "imperial"]
Way = Literal["merge", "replace"]
"""What a backup does to the records on the device."""
Texts = Mapping[str, str]
"""Name of a field -> what was typed in it, or is to be said at it."""


@dataclass(frozen=True)
class Question(Generic[A, R]):
    name: str
    asked: type[A]
    reply: type[R]
    read: Read


QUESTIONS: dict[str, Question[Any, Any]] = {}


def _question(name: str, asked: type[A], reply: type[R]) -> Question[A, R]:
    """A line of the table. Types are resolved now, so that the memory image holds them."""
    made = QUESTIONS[name] = Question(name, asked, reply, reader(asked))
    return made


# What is said.


@dataclass(frozen=True, kw_only=True)
class OfCar:
    """About the car at work, which is the demo car until there is one."""

    car: Car | None

    @property
    def at_work(self) -> Car:
        return Car() if self.car is None else self.car


@dataclass(frozen=True, kw_only=True)
class OfForm(OfCar):
    form: str
    typed: Texts
    system: System


@dataclass(frozen=True)
class Moment(log.Moment):
    """When something is done to a car; `based` where its log has a base already."""

    based: bool


@dataclass(frozen=True, kw_only=True)
class Written(OfForm):
    """A form whose entries go to the car; nothing is logged where no moment is told."""

    at: Moment | None


@dataclass(frozen=True, kw_only=True)
class SheetAsked(OfCar):
    """The sheet on paper. Its blocks stand in this order, or all of them in the usual one; for the
    code the page tells its own address."""

    system: System
    made: str
    size: str
    blocks: tuple[str, ...] | None
    address: str
    today: str


@dataclass(frozen=True, kw_only=True)
class ConvertAsked:
    """What was typed in all forms while another system of units was chosen."""

    all: Mapping[str, Texts]
    before: System
    system: System


@dataclass(frozen=True, kw_only=True)
class UnitAsked(OfCar):
    """The text of a field, and what stood there before its units were gone through."""

    form: str
    name: str
    text: str
    first: str
    system: System


@dataclass(frozen=True, kw_only=True)
class LogAsked(OfCar):
    system: System
    entries: tuple[Entry, ...]
    now: float
    zone: float


@dataclass(frozen=True, kw_only=True)
class Act:
    """Something done at the collars, as it was typed; home goes back to `base`."""

    kind: Literal["turn", "check", "base", "note", "home"]
    corner: str = ""
    turns: str = ""
    way: str = ""
    note: str = ""
    base: Entry | None = None


@dataclass(frozen=True, kw_only=True)
class CollarAsked(OfCar):
    at: Moment
    act: Act


@dataclass(frozen=True, kw_only=True)
class UndoAsked(OfCar):
    entry: Entry


@dataclass(frozen=True, kw_only=True)
class CsvAsked:
    """Entries of the log, and the names of the cars by number."""

    entries: tuple[Entry, ...]
    names: Mapping[str, str]


@dataclass(frozen=True, kw_only=True)
class SetupsAsked:
    heads: tuple[SetupLine, ...]
    system: System


@dataclass(frozen=True, kw_only=True)
class SetupAsked(OfCar):
    typed: Texts
    system: System


@dataclass(frozen=True, kw_only=True)
class Compared:
    """A car to compare; `now` is the one at work, `id` the number of a set-up."""

    name: str
    car: Car
    now: bool = False
    id: str = ""


@dataclass(frozen=True, kw_only=True)
class CompareAsked:
    one: Compared
    other: Compared
    system: System


@dataclass(frozen=True, kw_only=True)
class TakeAsked(OfCar):
    """The car of a set-up is wanted, under the name of that set-up."""

    at: Moment
    wanted: Car
    name: str


@dataclass(frozen=True, kw_only=True)
class CarsAsked:
    cars: tuple[CarLine, ...]
    current: str


@dataclass(frozen=True, kw_only=True)
class AnotherAsked(OfCar):
    """A car to copy, or none for a new one; `names` are taken."""

    copies: bool
    names: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class CarInBackup:
    id: str
    changed: float
    car: Car


@dataclass(frozen=True, kw_only=True)
class SetupInBackup:
    id: str
    changed: float
    owner: str
    setup: Setup


Cars = Annotated[list[Any], Unread(tuple[CarInBackup, ...])]
Setups = Annotated[list[Any], Unread(tuple[SetupInBackup, ...])]
Entries = Annotated[list[Any], Unread(tuple[Entry, ...])]
"""JSON values that calc.kept.backup reads and writes: a whole season need not be read twice."""


@dataclass(frozen=True, kw_only=True)
class BackupAsked:
    now: float
    cars: Cars
    setups: Setups
    log: Entries


@dataclass(frozen=True, kw_only=True)
class RestoreAsked:
    """The text of a backup. Of the records on the device, by number: when each was changed and
    what it is called; of the log the numbers."""

    text: str
    way: Way
    zone: float
    cars: Mapping[str, tuple[float, str]]
    setups: Mapping[str, tuple[float, str]]
    log: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class ReceivedAsked:
    """The text of a link, and the names of the cars by number."""

    text: str
    names: Mapping[str, str]


# What comes back. What has a default may be missing.


@dataclass(frozen=True, kw_only=True)
class Html:
    html: str


@dataclass(frozen=True, kw_only=True)
class Answer(Html):
    """The panel's HTML but for the figures, problems by field, texts of the fields not typed, and
    the steps of numbers where the car's tools have their own."""

    problems: Texts
    filled: Texts
    steps: Mapping[str, tuple[str, ...]]
    demo: bool


@dataclass(frozen=True, kw_only=True)
class Made:
    """A car as it is to be kept, what stays typed in the form, the new entries of its log."""

    car: Car
    typed: Texts | None = None
    log: tuple[Entry, ...] | None = None


@dataclass(frozen=True, kw_only=True)
class Converted:
    typed: Mapping[str, Texts]


@dataclass(frozen=True, kw_only=True)
class PlainText:
    text: str


@dataclass(frozen=True, kw_only=True)
class OneCar:
    car: Car


@dataclass(frozen=True, kw_only=True)
class SetupMade:
    """A set-up, or what is wrong with its entries by field; what the entries begin with."""

    setup: Setup | None = None
    filled: Texts
    problems: Texts


@dataclass(frozen=True, kw_only=True)
class Restored:
    cars: Cars
    setups: Setups
    log: Entries


@dataclass(frozen=True, kw_only=True)
class Plan(Html):
    """What restoring has to store; with `clears` all else goes."""

    clears: bool
    write: Restored


@dataclass(frozen=True, kw_only=True)
class Received(Html):
    """A car by link: as it came, under a name that is free, the number of the car named alike."""

    car: Car
    beside: Car
    same: str


ANSWER = _question("answer", OfForm, Answer)
FIGURES = _question("figures", OfForm, Html)
KEEP = _question("keep", Written, Made)
DONE = _question("done", Written, Made)
SHEET = _question("sheet", SheetAsked, Html)
CONVERT = _question("convert", ConvertAsked, Converted)
UNIT = _question("unit", UnitAsked, PlainText)
LOG = _question("log", LogAsked, LogHtml)
COLLAR = _question("collar", CollarAsked, Made)
UNDO = _question("undo", UndoAsked, OneCar)
CSV = _question("csv", CsvAsked, PlainText)
SETUPS = _question("setups", SetupsAsked, Html)
SETUP = _question("setup", SetupAsked, SetupMade)
COMPARE = _question("compare", CompareAsked, Html)
TAKE = _question("take", TakeAsked, Made)
CARS = _question("cars", CarsAsked, Html)
ANOTHER = _question("another", AnotherAsked, OneCar)
BACKUP = _question("backup", BackupAsked, PlainText)
RESTORE = _question("restore", RestoreAsked, Plan)
RECEIVED = _question("received", ReceivedAsked, Received)
