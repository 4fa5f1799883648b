"""Cars, collar log, set-ups and backup as HTML, at build time and in the browser alike."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.answering.answer import Table
from calc.answering.hand import turn_words
from calc.forms.names import corner_label, corner_word
from calc.kept.backup import Plan
from calc.kept.log import AT_HAND, CHECK, NOTE_LONGEST, TURN, Entry, kind_label
from calc.kept.log_view import local, view, when
from calc.kept.setups import NAME_LONGEST, SAVE, cautions, differences, instructions, turned
from calc.language import inside, later, tr
from calc.model.car import Car, demo, is_known
from calc.model.corners import CORNERS, ENDS, Corner, End
from calc.sheet.blocks import carried
from site_src.both.fragment import ENVIRONMENT, figure, from_above
from site_src.both.paper.code import code

_MOST_LINES = 300
"""Lines of the log that a page shows; the file of the log holds them all."""


_CODE = 90.0  # mm; the widest code to scan that a phone shows whole


@dataclass(frozen=True, kw_only=True)
class SetupLine:
    """A line in the list of set-ups."""

    id: str
    name: str
    date: str
    surface: str
    temperature: float | None
    note: str


@dataclass(frozen=True, kw_only=True)
class CarLine:
    """A line in the list of cars; `demo` if it still has the values of the demo car."""

    id: str
    name: str
    demo: bool
    gone: bool = False


@dataclass(frozen=True, kw_only=True)
class LogHtml:
    """The two parts of the page of the log: the controls, and the lines."""

    top: str
    lines: str


def log_html(car: Car, entries: Sequence[Entry], now: float, zone: float, system: str) -> LogHtml:
    shown = view(car, entries[-_MOST_LINES:], now, zone, system)
    step = car.tools.turn_step
    top = ENVIRONMENT.get_template("log.html").render(
        view=shown,
        step=step,
        step_text=units.turns_number(step),
        newest=_newest(entries, now, zone),
        name=car.name,
        above=from_above([corner.above for corner in shown.corners], "log-above"),
    )
    lines = ENVIRONMENT.get_template("lines.html").render(
        view=shown,
        figure=figure(shown.plot, system, "log-plot") if shown.plot else None,
        most=_MOST_LINES if len(entries) >= _MOST_LINES else 0,
    )
    return LogHtml(top=top, lines=lines)


def _newest(entries: Sequence[Entry], now: float, zone: float) -> dict[str, str] | None:
    """The entry that the undo button takes back; the very first base stays."""
    if len(entries) < 2:
        return None
    entry = entries[-1]
    what = inside(kind_label(entry.kind))
    if entry.kind in (TURN, CHECK):
        turned = tr("mark") if entry.kind == CHECK else turn_words(entry.turns)
        what = f"{corner_word(Corner(entry.corner))}, {turned}"
    return {"id": entry.id, "text": f"{what}, {when(entry, now, zone)}"}


def setups_html(heads: Sequence[SetupLine], system: str) -> str:
    lines = tuple((head, ", ".join(filter(None, _about(head, system)))) for head in heads)
    return ENVIRONMENT.get_template("setups.html").render(lines=lines)


def _about(head: SetupLine, system: str) -> tuple[str, str, str]:
    warm = head.temperature
    said = "" if warm is None else units.show(warm, "temperature", system)
    return head.date, head.surface, said


def compared_html(
    one: Car, other: Car, names: tuple[str, str], system: str, *, takes: str = ""
) -> str:
    """The differences, and the steps from the first to the other; `takes` is the set-up to go back
    to if the first is the car itself."""
    found = differences(one, other, system)
    rows = tuple((d.label, d.now, d.wanted) for d in found)
    return ENVIRONMENT.get_template("compared.html").render(
        names=names,
        table=Table(tr("What differs"), ("", *names), rows) if rows else None,
        steps=instructions(one, other, system),
        cautions=cautions(one, other),
        above=from_above(turned(one, other), "setups-above"),
        takes=takes,
    )


def cars_html(cars: Sequence[CarLine], current: str) -> str:
    return ENVIRONMENT.get_template("cars.html").render(cars=cars, current=current)


def shared_html(car: Car, address: str) -> str:
    """The code to scan that carries the car; a sentence where there can be none."""
    made = code(carried(car), address, _CODE)
    return ENVIRONMENT.get_template("shared.html").render(car=car, code=made, address=address)


def plan_html(plan: Plan, way: str, zone: float) -> str:
    """The changes that restoring will make, before it makes them."""
    words = {
        "new": tr("comes from the backup"),
        "newer": tr("is newer in the backup and takes its place"),
        "older": tr("is older in the backup and takes its place"),
        "gone": tr("is not in the backup and goes"),
    }
    sorts = {"car": tr("car"), "set-up": tr("set-up"), "build": tr("build list")}
    heads = ("", tr("Name"), tr("It", sense="car or set-up"))
    rows = tuple((sorts[c.sort], c.name, words[c.what]) for c in plan.changes)
    return ENVIRONMENT.get_template("plan.html").render(
        made=local(plan.write.made, zone).strftime("%Y-%m-%d %H:%M"),
        table=Table(tr("What will change"), heads, rows) if rows else None,
        plan=plan,
        way=way,
    )


def _weight(car: Car) -> str:
    """What the scales under the car showed, as far as anybody has read them."""
    ends = {end: [f"corners.{corner}.load" for corner in end.corners] for end in ENDS}
    weighed = [end for end, loads in ends.items() if all(is_known(car, path) for path in loads)]
    loads = [car.corner(corner).load for end in weighed for corner in end.corners]
    mass = units.show(sum(loads), "mass", units.METRIC, 0)
    if weighed == [*ENDS]:
        return tr("{mass} ready to run.", mass=mass)
    if weighed == [End.FRONT]:
        return tr("Front {mass}, rear not weighed.", mass=mass)
    if weighed == [End.REAR]:
        return tr("Rear {mass}, front not weighed.", mass=mass)
    return tr("Weight not known.")


def _oil(car: Car, end: End) -> str:
    if not is_known(car, f"{end}.oil"):
        return tr("not known yet")
    return units.show(car.axle(end).oil, "viscosity", units.METRIC)


def received_html(car: Car, same: str) -> str:
    """A car received by a link, before it is added; `same` is the car of that name here."""
    front, rear = (_oil(car, end) for end in ENDS)
    return ENVIRONMENT.get_template("received.html").render(
        car=car,
        weight=_weight(car),
        oil=tr("Oil: front {front}, rear {rear}.", front=front, rear=rear),
        same=same,
    )


@dataclass(frozen=True)
class Place:
    """A page that is no form."""

    slug: str
    title: str
    moment: str
    asks: str


PLACES = (
    Place(
        "build",
        later("Build list"),
        "bench",
        later("From parts to the car, for a pair or all four dampers: what comes next?"),
    ),
    Place(
        "log",
        later("Collar log"),
        "track",
        later("Which turns have been made since the base, and what is the way back?"),
    ),
    Place(
        "setups",
        later("Set-ups"),
        "track",
        later("How was the car set up that day, and what leads back to it?"),
    ),
    Place(
        "cars",
        later("Cars and backup"),
        "cars",
        later("Which car is in use, and is all of it safe?"),
    ),
)


def at_build() -> dict[str, Any]:
    """The content of the pages before anything is stored: that of the demo car."""
    return {
        "places": PLACES,
        "log": log_html(demo(), (), 0.0, 0.0, units.METRIC),
        "at_hand": " ".join(AT_HAND),
        "most_lines": _MOST_LINES,
        "note_longest": NOTE_LONGEST,
        "log_corners": [{"key": key, "label": corner_label(key)} for key in CORNERS],
        "setups": setups_html((), units.METRIC),
        "save": SAVE.fields,
        "setup_name_longest": NAME_LONGEST,
        "cars": cars_html((), ""),
    }
