"""The questions that the page asks Python: a name, a record of what is said, one of the reply.

This is the only list of them. From it come the types that the scripts of the page are checked with
(site_src/build/declarations.py); the warm-up of the memory image has to ask every one, the stand-in
of the tests to answer every one.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Generic, Literal, TypeVar, dataclass_transform

from calc.kept import log
from calc.kept.log import Entry
from calc.kept.setups import Setup
from calc.model.car import Car, demo
from site_src.both.garage import CarLine, LogHtml, SetupLine
from site_src.live.wire import Read, Unread, reader

A = TypeVar("A")
R = TypeVar("R")

System = Literal["metric", "imperial"]
Way = Literal["merge", "replace"]
"""What a backup does to the records on the device."""
Texts = Mapping[str, str]
"""Name of a field -> what was typed in it, or is to be said at it."""


@dataclass_transform(frozen_default=True, kw_only_default=True)
def record(kind: type[R]) -> type[R]:
    """A frozen dataclass without the methods that nothing here needs: the memory image holds those
    of every record, and a stock start compiles them."""
    return dataclass(frozen=True, kw_only=True, eq=False, repr=False)(kind)


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


@record
class OfCar:
    """About the car at work, which is the demo car until there is one."""

    car: Car | None

    @property
    def at_work(self) -> Car:
        return demo() if self.car is None else self.car


TypedAt = tuple[tuple[str, float, tuple[str, ...]], ...]
"""Of each text in a form: its field, when it was typed, the paths of all work undone since."""
Entries = Annotated[Sequence[Any], Unread(tuple[Entry, ...])]
"""Lines of the log as JSON values, which another module reads once and not at every question."""


@record
class OfForm(OfCar):
    """`lines` are the newest of the car's log, oldest first; `touched` is when something was typed
    or chosen in the form last, s since 1970 (UTC); `today` is the day, 2031-05-24."""

    form: str
    typed: Texts
    system: System
    lines: Entries = ()
    touched: float = 0.0
    today: str = ""
    typed_at: TypedAt = ()


@dataclass(frozen=True)
class Moment(log.Moment):
    """When something is done to a car; `based` where its log has a base already, `newest` is the
    last line of it."""

    based: bool
    newest: Entry | None


@record
class Written(OfForm):
    """A form whose entries go to the car, or whose answer was carried out: the one on screen, which
    was made when `shown` was the newest line of the log."""

    at: Moment
    shown: str | None = None


@record
class TypedIn:
    form: str
    typed: Texts
    typed_at: TypedAt


@record
class UnsavedAsked(OfCar):
    """What is typed in forms, where the car itself is shown; the newest lines of its log."""

    forms: tuple[TypedIn, ...]
    system: System
    lines: Entries


@record
class SheetAsked(OfCar):
    """The sheet on paper. Its blocks stand in this order, or all of them in the usual one; a card
    has what was entered in the build list. For the code the page tells its own address."""

    system: System
    made: str
    size: str
    blocks: tuple[str, ...] | None
    build: Texts
    address: str
    today: str


@record
class ShareAsked(OfCar):
    """The car for another device; for its link the page tells its own address."""

    address: str


@record
class ConvertAsked:
    """What was typed in all forms while another system of units was chosen."""

    all: Mapping[str, Texts]
    before: System
    system: System


@record
class UnitAsked(OfCar):
    """The text of a field, and what stood there before its units were gone through."""

    form: str
    name: str
    text: str
    first: str
    system: System


@record
class LogAsked(OfCar):
    system: System
    entries: tuple[Entry, ...]
    now: float
    zone: float


@record
class Act:
    """Something done at the collars, as it was typed; home goes back to `base`, learn takes over
    a value in SI units that the log has taught of an end."""

    kind: Literal["turn", "check", "base", "note", "home", "learn"]
    end: Literal["front", "rear"] = "front"
    what: Literal["motion_ratio", "spring_rate", "friction", "pitch"] = "motion_ratio"
    value: float = 0.0
    u: float = 0.0
    corner: str = ""
    turns: str = ""
    way: str = ""
    note: str = ""
    base: Entry | None = None


@record
class CollarAsked(OfCar):
    at: Moment
    act: Act


@record
class UndoAsked(OfCar):
    entry: Entry
    system: System


@record
class BuildAsked(OfCar):
    """The build list: what was ticked and typed in it, and the lines of the log about dampers."""

    texts: Texts
    system: System
    lines: tuple[Entry, ...]


@record
class BuildWritten(OfCar):
    """A build whose readings go to the records of the dampers, and to the car unless it is
    `given_up`."""

    typed: Texts
    system: System
    at: Moment
    given_up: bool


@record
class DamperAsked(OfCar):
    """Something done with one damper, by the letter on its cap, or with all that are on the car;
    the lines of the log about dampers."""

    at: Moment
    did: str
    name: str
    corner: str
    lines: tuple[Entry, ...]


@record
class CsvAsked:
    """Entries of the log, and the names of the cars by number."""

    entries: tuple[Entry, ...]
    names: Mapping[str, str]


@record
class SetupsAsked:
    heads: tuple[SetupLine, ...]
    system: System


@record
class SetupAsked(OfCar):
    typed: Texts
    system: System


@record
class Compared:
    """A car to compare; `now` is the one at work, `id` the number of a set-up."""

    name: str
    car: Car
    now: bool = False
    id: str = ""


@record
class CompareAsked:
    one: Compared
    other: Compared
    system: System


@record
class TakeAsked(OfCar):
    """The car of a set-up is wanted, under the name of that set-up."""

    at: Moment
    wanted: Car
    name: str


@record
class CarsAsked:
    cars: tuple[CarLine, ...]
    current: str


@record
class AnotherAsked(OfCar):
    """A car to copy, or none for a new one; `names` are taken."""

    copies: bool
    names: tuple[str, ...]


@record
class CarInBackup:
    id: str
    changed: float
    car: Car


@record
class SetupInBackup:
    id: str
    changed: float
    owner: str
    setup: Setup


@record
class TextInBackup:
    """What was entered, in the units of which system, and when (ms since 1970)."""

    text: str
    system: System
    time: float


@record
class BuildInBackup:
    """The build list of a car, by name of the entry."""

    car: str
    texts: Mapping[str, TextInBackup]


@record
class SetupToStore(SetupInBackup):
    """With the temperature of its day as the list shows it, null where nobody has said it."""

    temperature: float | None


Cars = Annotated[list[Any], Unread(tuple[CarInBackup, ...])]
Setups = Annotated[list[Any], Unread(tuple[SetupInBackup, ...])]
SetupsToStore = Annotated[list[Any], Unread(tuple[SetupToStore, ...])]
Builds = Annotated[list[Any], Unread(tuple[BuildInBackup, ...])]
"""JSON values that calc.kept.backup reads and writes: a whole season need not be read twice."""


@record
class BackupAsked:
    now: float
    cars: Cars
    setups: Setups
    log: Entries
    builds: Builds


@record
class RestoreAsked:
    """The text of a backup. Of the records on the device, by number: when each was changed and
    what it is called; of the log the numbers, of build lists all that is entered."""

    text: str
    way: Way
    zone: float
    cars: Mapping[str, tuple[float, str]]
    setups: Mapping[str, tuple[float, str]]
    log: tuple[str, ...]
    builds: Builds


@record
class ReceivedAsked:
    """The text of a link, and the names of the cars by number."""

    text: str
    names: Mapping[str, str]


# What comes back. What has a default may be missing.


@record
class Html:
    html: str


@record
class Answer(Html):
    """The panel's HTML but for what doubts and figures fill in. By field: problems, questions about
    unusual numbers, texts of those not typed, where the value in it comes from, the steps of
    numbers where the car's tools have their own; the names of those that are `assumed`, and those
    that are `open`: needed, and known to nobody; those whose texts are `outdated`: typed before
    work that has changed the car there, and not counted; those with a problem that more digits may
    mend, `unfinished`. By chapter of the car's page: what is
    known of it.
    `rests` says in a few words what the answer rests on."""

    problems: Texts
    unusual: Texts
    filled: Texts
    origins: Texts
    assumed: tuple[str, ...]
    open: tuple[str, ...]
    outdated: tuple[str, ...]
    unfinished: tuple[str, ...]
    chapters: Mapping[str, str]
    steps: Mapping[str, tuple[str, ...]]
    demo: bool
    rests: str


@record
class Unsaved(Html):
    """What of it the car does not have, empty where that is nothing. The forms that have some, with
    the fields whose texts are outdated."""

    outdated: Mapping[str, tuple[str, ...]]


@record
class BuildHtml(Html):
    """The steps, which change only with the car and the list; the parts of the page that change
    with ticks and readings, by the name of their place; by entry what is wrong. `order` has every
    step, those left out too; `ready` is set where there is something to write down."""

    top: str
    parts: Mapping[str, str]
    problems: Texts
    records: str
    order: tuple[str, ...]
    ready: bool


@record
class Shared(Html):
    """A code to scan, and the link that it stands for."""

    link: str


@record
class Made:
    """A car as it is to be kept, what stays typed in the form, the new entries of its log; `again`
    says what the work asks to be measured again."""

    car: Car
    typed: Texts | None = None
    log: tuple[Entry, ...] | None = None
    again: str | None = None


@record
class Converted:
    typed: Mapping[str, Texts]


@record
class PlainText:
    text: str


@record
class BackupMade(PlainText):
    """The text of the file, and a sentence about what could not be in it."""

    left: str


@record
class OneCar:
    car: Car


@record
class Undone(OneCar):
    """The car before a line of the log, and what was undone in words."""

    says: str


@record
class SetupMade:
    """A set-up with the temperature of its day, where somebody has said it; or what is wrong with
    its entries by field."""

    setup: Setup | None = None
    temperature: float | None = None
    problems: Texts


@record
class Restored:
    cars: Cars
    setups: SetupsToStore
    log: Entries
    builds: Builds


@record
class Plan(Html):
    """What restoring has to store; with `clears` all else goes."""

    clears: bool
    write: Restored


@record
class Received(Html):
    """A car by link: as it came, under a name that is free, the number of the car named alike."""

    car: Car
    beside: Car
    same: str


ANSWER = _question("answer", OfForm, Answer)
DOUBTS = _question("doubts", OfForm, Html)
FIGURES = _question("figures", OfForm, Html)
KEEP = _question("keep", Written, Made)
DONE = _question("done", Written, Made)
ASSUME = _question("assume", Written, Made)
UNSAVED = _question("unsaved", UnsavedAsked, Unsaved)
SHEET = _question("sheet", SheetAsked, Html)
CONVERT = _question("convert", ConvertAsked, Converted)
UNIT = _question("unit", UnitAsked, PlainText)
LOG = _question("log", LogAsked, LogHtml)
COLLAR = _question("collar", CollarAsked, Made)
UNDO = _question("undo", UndoAsked, Undone)
BUILD = _question("build", BuildAsked, BuildHtml)
BUILT = _question("built", BuildWritten, Made)
DAMPER = _question("damper", DamperAsked, Made)
CSV = _question("csv", CsvAsked, PlainText)
SETUPS = _question("setups", SetupsAsked, Html)
SETUP = _question("setup", SetupAsked, SetupMade)
COMPARE = _question("compare", CompareAsked, Html)
TAKE = _question("take", TakeAsked, Made)
CARS = _question("cars", CarsAsked, Html)
SHARE = _question("share", ShareAsked, Shared)
ANOTHER = _question("another", AnotherAsked, OneCar)
BACKUP = _question("backup", BackupAsked, BackupMade)
RESTORE = _question("restore", RestoreAsked, Plan)
RECEIVED = _question("received", ReceivedAsked, Received)
