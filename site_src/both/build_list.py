"""The build list and the records of the dampers as HTML, at build time and in the browser alike."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.asking import record
from calc.asking.typed import Measured
from calc.forms.names import corner_label
from calc.kept.build import view
from calc.kept.build.build import DUE_AFTER, KIND, NAME, OWN, SCOPE, Build
from calc.kept.build.readings import READINGS
from calc.kept.build.said import says
from calc.kept.build.steps import KINDS
from calc.kept.dampers import Record, due, records, since_then
from calc.kept.labels import reading_text, readings_of
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


@dataclass(frozen=True)
class ListHtml:
    """`steps` are the same as long as the car and the list are. `parts` depend on what was ticked
    and read: each has its place by name in the steps or in `top`, how far each damper is."""

    steps: str
    top: str
    parts: dict[str, str]


def list_html(build: Build) -> ListHtml:
    steps, progress = view.step_views(build), view.progress(build)
    return ListHtml(
        steps=_rendered(
            "build.html",
            steps=steps,
            left_out=view.left_out(build),
            name_longest=NAME.longest,
            own_longest=OWN.longest,
        ),
        top=_rendered("build_top.html", progress=progress),
        parts=dict(_parts(build, steps, progress)),
    )


def _rendered(template: str, **told: Any) -> str:
    return ENVIRONMENT.get_template(template).render(**told)


def _parts(
    build: Build, steps: Sequence[view.StepView], progress: Sequence[view.Progress]
) -> Iterator[tuple[str, str]]:
    for one in progress:
        yield f"top.{one.corner}", _rendered("build_top_cell.html", one=one)
    for step in steps:
        if step.has_facts:
            yield f"facts.{step.key}", _rendered("build_facts.html", facts=step.facts)
        if step.timed:
            times = {str(c.corner): view.minutes(build, c.corner) for c in step.cells}
            labels = {str(c.corner): c.label for c in step.cells}
            if step.all:
                everybody = " ".join(times)
                labels[everybody], times[everybody] = step.all, max(times.values())
            told = [(slot, labels[slot], minutes) for slot, minutes in times.items()]
            yield f"times.{step.key}", _rendered("build_times.html", times=told)
    for key, said in says(build).items():
        yield f"says.{key}", _rendered("build_said.html", said=said)
    yield "again", begin_again(build)


def begin_again(build: Build) -> str:
    """What becomes of the build if it is given up now."""
    ticks, read = build.counts
    if not ticks and not read:
        return tr("Nothing is ticked or read yet.")
    return tr(
        "Ticked so far: {ticks}; read: {readings}. The readings go into the records of the dampers "
        "and into the log, with how far each was built; the car keeps its values. Then all ticks "
        "are off.",
        ticks=ticks, readings=read,
    )  # fmt: skip


def records_html(car: Car, lines: Sequence[Entry], system: str, runs: float | None) -> str:
    """The records of all dampers, each with its values and its history."""
    return ENVIRONMENT.get_template("dampers.html").render(
        records=tuple(_record(car, one, system, runs) for one in records(lines)),
        corners=tuple((corner, corner_label(corner)) for corner in CORNERS),
    )


def at_build() -> dict[str, Any]:
    """The content of the page before anything is entered: that of the demo car."""
    build = Build(demo(), {}, units.METRIC)
    return {
        "top": _rendered("build_top.html", progress=view.progress(build)),
        "order": " ".join(build.order),
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
    for name, about in READINGS.items():
        read, entry = one.read.get(name, (None, None))
        source = since_then(car, one, name)
        if source is not None:
            path = about.path.format(corner=one.corner)
            value = Measured(record.get(car, path), source.u)
            how = origin_words(source, about.entry, system)
            yield about.entry.said, reading_text(name, value, system), how
        elif read is not None and entry is not None:
            yield about.entry.said, reading_text(name, read, system), _day(entry)


def _opened(one: Record) -> str:
    if one.opened is None:
        return tr("No note of when it was opened; runs since its record began: {runs}.",
                  runs=one.runs)  # fmt: skip
    return tr("Opened {day}; runs since then: {runs}.", day=_day(one.opened), runs=one.runs)


def _due(one: Record, runs: float | None) -> str:
    if not due(one, runs):
        return ""
    return tr("It leaks: open it.") if one.leaks else tr("Due: open it and look at its oil.")


def _day(entry: Entry) -> str:
    return local(entry.time, entry.zone).strftime("%Y-%m-%d")


def _line(entry: Entry, system: str) -> str:
    seen = entry.damper
    assert seen is not None and seen.did != RAN
    parts = [f"{_day(entry)} {tr(DID[seen.did])}"]
    if entry.corner:
        parts.append(corner_label(Corner(entry.corner)))
    read = "; ".join(readings_of(seen, system))
    return ". ".join(filter(None, (", ".join(parts), read, entry.note)))
