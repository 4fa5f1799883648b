"""The build list and the records of the dampers as HTML, at build time and in the browser alike."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.asking import record
from calc.asking.typed import Measured
from calc.forms.names import corner_label
from calc.kept.build import view
from calc.kept.build.evening import DUE_AFTER, KIND, SCOPE, Evening
from calc.kept.build.finish import OF_CORNER
from calc.kept.build.readings import READINGS
from calc.kept.build.said import says
from calc.kept.build.steps import KINDS
from calc.kept.dampers import Record, due, records
from calc.kept.log import Entry
from calc.kept.log_view import local
from calc.kept.seen import DID, RAN
from calc.language import tr
from calc.model.car import Car, demo
from calc.model.corners import CORNERS, ENDS, Corner
from calc.replying.resting import origin_words
from site_src.both.fragment import ENVIRONMENT

_LINES = 20
"""Lines of a record that are shown; the log holds them all."""


@dataclass(frozen=True)
class RecordView:
    """A damper's record as finished texts."""

    name: str
    corner: str
    label: str
    kind: str
    opened: str
    due: str
    values: tuple[tuple[str, str, str], ...]
    lines: tuple[str, ...]


def list_html(evening: Evening) -> str:
    """The steps; the same as long as the car and the list are."""
    return ENVIRONMENT.get_template("build.html").render(
        steps=view.step_views(evening), left_out=view.left_out(evening)
    )


def top_html(evening: Evening) -> str:
    """How far each damper is."""
    return ENVIRONMENT.get_template("build_top.html").render(progress=view.progress(evening))


def says_html(evening: Evening) -> dict[str, str]:
    """How the readings are judged, by step."""
    template = ENVIRONMENT.get_template("build_said.html")
    return {key: template.render(said=said) for key, said in says(evening).items()}


def records_html(car: Car, lines: Sequence[Entry], system: str, runs: float | None) -> str:
    """The records of all dampers, each with its values and its history."""
    return ENVIRONMENT.get_template("dampers.html").render(
        records=tuple(_record(car, one, system, runs) for one in records(lines)),
        corners=tuple((corner, corner_label(corner)) for corner in CORNERS),
    )


def at_build() -> dict[str, Any]:
    """The content of the page before anything is entered: that of the demo car."""
    evening = Evening(demo(), {}, units.METRIC)
    return {
        "top": top_html(evening),
        "order": " ".join(evening.order),
        "choices": (("scope", SCOPE), *((f"kind.{end}", KIND[end]) for end in ENDS)),
        "due": DUE_AFTER,
        "records": records_html(demo(), (), units.METRIC, None),
    }


def _record(car: Car, one: Record, system: str, runs: float | None) -> RecordView:
    return RecordView(
        name=one.name,
        corner=one.corner,
        label=one.label,
        kind=next((tr(label) for kind, label in KINDS if kind == one.kind), ""),
        opened=_opened(one),
        due=_due(one, runs),
        values=tuple(_values(car, one, system)),
        lines=tuple(_line(entry, system) for entry in one.lines[::-1][:_LINES]),
    )


def _values(car: Car, one: Record, system: str) -> Iterator[tuple[str, str, str]]:
    """The last value of each reading, with its day. Where a form has changed the record of the car
    since, that one is the last, unless another damper was at the corner then."""
    now = OF_CORNER if one.corner else {}
    for name in READINGS:
        read, entry = one.read.get(name, (None, None))
        path = now.get(name, "").format(corner=one.corner)
        source = car.origins.get(path)
        if source is not None and source.when >= max(one.since, entry.time if entry else 0.0):
            value = Measured(record.get(car, path), source.u)
            how = origin_words(source, READINGS[name].entry, system)
            yield READINGS[name].entry.said, _value(name, value, system), how
        elif read is not None and entry is not None:
            yield READINGS[name].entry.said, _value(name, read, system), _day(entry)


def _opened(one: Record) -> str:
    if one.opened is None:
        return tr("No note of when it was opened; runs since its record began: {runs}.",
                  runs=one.runs)  # fmt: skip
    return tr("Opened {day}; runs since then: {runs}.", day=_day(one.opened), runs=one.runs)


def _due(one: Record, runs: float | None) -> str:
    if not due(one, runs):
        return ""
    return tr("It leaks: open it.") if one.leaks else tr("Due: open it and look at its oil.")


def _value(name: str, read: Measured, system: str) -> str:
    return units.show(read.value, READINGS[name].entry.kind, system)


def _day(entry: Entry) -> str:
    return local(entry.time, entry.zone).strftime("%Y-%m-%d")


def _line(entry: Entry, system: str) -> str:
    seen = entry.damper
    assert seen is not None and seen.did != RAN
    parts = [f"{_day(entry)} {tr(DID[seen.did])}"]
    if entry.corner:
        parts.append(corner_label(Corner(entry.corner)))
    read = "; ".join(
        f"{READINGS[name].entry.said} {_value(name, one, system)}"
        for name, one in seen.read.items()
    )
    return ". ".join(filter(None, (", ".join(parts), read, entry.note)))
