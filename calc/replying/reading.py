"""Reading what a user typed into a form, and its reply. What is not typed, the car fills in."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Any, TypeVar

from calc import units
from calc.answering.answer import Answer, Caution, Step, Write, barring
from calc.answering.hand import give_or_take
from calc.asking import record
from calc.asking.entry import Choice, Number, Refused, Rows, Text, path_of, shown
from calc.asking.next_unit import means
from calc.asking.typed import Measured, change_in
from calc.language import abridged, tr
from calc.model.car import (
    Bottle,
    Car,
    assumed_at,
    entry_at,
    entry_uncertainty,
    is_entered,
    is_known,
    number_at,
    source_at,
)
from calc.model.origin import Origin, assumed
from calc.replying.form import Form, Reply
from calc.replying.inputs import Assumed, Inputs, Problem
from calc.replying.odd import oils, slips, unusual, weights_meant

_Asked = TypeVar("_Asked", bound=Inputs)
_NAMED = 3  # assumed values that are named before the rest is counted


@dataclass
class _Reading:
    """What has been read so far; lives only inside `read`."""

    typed: Mapping[str, str]
    car: Car
    system: str
    numbers: dict[str, float] = field(default_factory=dict)
    u: dict[str, float] = field(default_factory=dict)
    choices: dict[str, str] = field(default_factory=dict)
    texts: dict[str, str] = field(default_factory=dict)
    labels: dict[str, str] = field(default_factory=dict)
    problems: dict[str, str] = field(default_factory=dict)
    filled: dict[str, str] = field(default_factory=dict)
    sources: dict[str, Origin] = field(default_factory=dict)
    open: list[str] = field(default_factory=list)
    stale: dict[str, str] = field(default_factory=dict)
    told: dict[str, float] = field(default_factory=dict)  # what was typed, by its path in the car
    doubts: dict[str, float] = field(default_factory=dict)  # what was typed behind a ±

    def from_car(self, name: str, path: str) -> Any:
        """The car's value, None where it has none or nobody knows it."""
        path = path.format(**self.choices)
        if not path or not is_known(self.car, path):
            return None
        value, source = record.get(self.car, path), source_at(self.car, path)
        if name not in self.typed and source is not None:
            if source.how == "assumed":
                value, source = assumed_at(self.car, path, self.told)
            self.sources[name] = source
        return value

    def take(self, name: str, cell: Choice | Number | Text) -> None:
        """Read one input: what was typed, else the car's value, else the start value."""
        self.labels[name] = cell.said
        try:
            if isinstance(cell, Number):
                self._take_number(name, cell)
            else:
                recorded = self.from_car(name, cell.car)
                text = cell.read(self.typed.get(name, cell.start if recorded is None else recorded))
                (self.choices if isinstance(cell, Choice) else self.texts)[name] = text
                self.filled[name] = text
                if self._is_open(name, cell):
                    self.sources[name] = Origin(
                        "assumed"
                    )  # the first choice is what nearly all are
        except Refused as refused:
            self.problems[name] = str(refused)
            if isinstance(cell, Choice):
                self.choices[name] = cell.start  # so that the other entries can be read

    def assume(self, given: Assumed) -> None:
        """Join an input that nobody types, where it has a value of its own."""
        if given.value is not None:
            self.numbers[given.name], self.u[given.name] = given.value, given.u
            self.labels[given.name] = tr(given.label)

    def _take_number(self, name: str, cell: Number) -> None:
        recorded = self.from_car(name, cell.car)
        if self._is_open(name, cell) and not cell.optional:
            if cell.typical is None:
                self.open.append(name)
                self.filled.setdefault(name, "")
                self._say_stale(name, cell)
                return
            recorded = cell.typical
            self.sources[name] = assumed(cell)
        value = self._start(cell) if recorded is None else recorded
        exact = "" if value is None else units.entry_text(value, cell.kind, self.system)
        typed = self.typed.get(name, exact)
        if name not in self.typed:
            leaves = self.sources[name].leaves if name in self.sources else None
            self.filled[name] = (
                units.entry_text(value, cell.kind, self.system, leaves)
                if leaves and value
                else exact
            )
        own = self.car.own_units(cell.kind)
        if value is not None and (
            typed.strip() == exact or means(typed, value, cell.kind, self.system, own)
        ):
            # What the form itself put there means the value behind it, to the last digit, in
            # whichever unit.
            known = self.sources.get(name) if typed.strip() == exact else None
            u = known.u if known else None
            measured: Measured | None = Measured(cell.check(value, self.system), u)
        else:
            self._refuse_change(cell, typed)
            measured = cell.read(typed, self.system, own)
        if measured is not None:
            self.numbers[name] = measured.value
            self.u[name] = self._uncertainty(cell, measured)
            if name in self.typed and measured.u is not None:
                self.doubts[name] = measured.u
            if name in self.typed and cell.car:
                self.told[path_of(cell, self.choices)] = measured.value

    def _refuse_change(self, cell: Number, text: str) -> None:
        """Say what to type where it was by how much a height is to change. Raises Refused."""
        if not cell.now:
            return
        place, _, _ = path_of(cell, self.choices).rpartition(".")
        path = f"{place}.{cell.now}"
        now = self.told.get(path, record.get(self.car, path) if is_known(self.car, path) else None)
        change = change_in(text, cell.kind, self.system)
        if now is None or change is None or not 0 < change < now / 2:
            return
        say = partial(units.as_typed, kind=cell.kind, system=self.system)
        raise Refused(
            tr(
                "{label}: type the height itself, not the change. It is {now} now; {change} lower "
                "is {lower}, {change} higher is {higher}.",
                label=cell.said, now=say(now), change=say(change), lower=say(now - change),
                higher=say(now + change),
            )
        )  # fmt: skip

    def _say_stale(self, name: str, cell: Number) -> None:
        """What a gauge showed there before work that has changed it."""
        path = path_of(cell, self.choices)
        source = self.car.origins.get(path)
        if source is not None and source.how == "stale":
            value = record.get(self.car, path)
            self.stale[name] = units.as_typed(value, cell.kind, self.system, source.u)

    def _start(self, cell: Number) -> float | None:
        """What stands in a field that the car does not fill; readings are invented for the demo
        car alone."""
        return cell.example if cell.start is None and self.car.demo else cell.start

    def _is_open(self, name: str, cell: Choice | Number | Text) -> bool:
        """Whether it is needed and known to nobody: not typed, not in the car."""
        if isinstance(cell, Text) or self.typed.get(name, "").strip():
            return False
        if cell.car:
            return not is_known(self.car, path_of(cell, self.choices))
        return isinstance(cell, Number) and cell.example is not None and not self.car.demo

    def _uncertainty(self, cell: Number, measured: Measured) -> float:
        if measured.u is not None:
            return measured.u
        return entry_uncertainty(self.car, cell, measured.value)


def read(
    form: Form[_Asked], typed: Mapping[str, str], car: Car, system: str = units.METRIC
) -> tuple[_Asked, Reply]:
    """Read every field that is shown. The reply has the problems; without, the inputs are whole."""
    reading = _Reading(typed, car, system)
    for entry in form.fields:
        if isinstance(entry, Choice) and shown(entry.when, reading.choices):
            reading.take(entry.name, entry)
    row_labels: dict[str, tuple[tuple[str, str], ...]] = {}
    for entry in form.fields:
        if isinstance(entry, Choice) or not shown(entry.when, reading.choices):
            continue
        if isinstance(entry, Rows):
            row_labels[entry.name] = _take_rows(reading, entry)
        else:
            reading.take(entry.name, entry)
    for one in form.inputs.assumptions:
        reading.assume(one)
    given = form.inputs(
        reading.numbers, reading.u, reading.choices, reading.texts, row_labels,
        reading.labels, car, system,
        frozenset(name for name, source in reading.sources.items() if source.how == "assumed"),
    )  # fmt: skip
    keepable = tuple(
        name
        for name, path in _homes(form, reading)
        if _is_news(given, name, path, reading.doubts.get(name))
        if not (record.in_list(path) and _is_wrong(reading, name))
    )
    # A field that may stay empty, and does, is no value that the answer rests on.
    lacking = {*reading.open, *reading.problems}
    asked = tuple(
        name
        for _, name, cell in form.cells()
        if (cell.car or (name in typed and isinstance(cell, Number)))
        and (
            name in lacking or (name in reading.labels and value_at(given, name) not in (None, ""))
        )
    )
    return given, Reply(
        None, reading.problems, reading.filled, keepable, sources=reading.sources,
        open=tuple(reading.open), asked=asked, demo=car.demo, stale=reading.stale,
    )  # fmt: skip


def _take_rows(reading: _Reading, rows: Rows) -> tuple[tuple[str, str], ...]:
    columns = [column for column in rows.columns if shown(column.when, reading.choices)]
    for _, name, cell in rows.cells():
        if shown(cell.when, reading.choices):
            reading.take(name, cell)
    filled = []
    for key, label in rows.said_rows:
        names = [f"{rows.name}.{key}.{c.name}" for c in columns if not c.optional]
        missing = [name for name in names if name not in reading.numbers]
        if any(f"{rows.name}.{key}.{c.name}" in reading.numbers for c in columns):
            filled.append((key, label))
            for name in missing:
                if name not in reading.open:
                    reading.problems.setdefault(
                        name,
                        tr("{label}: nothing was entered; this row needs it.",
                           label=reading.labels[name]),
                    )  # fmt: skip
    untouched = not any(name in reading.typed for _, name, _ in rows.cells())
    if len(filled) < rows.least and untouched and not reading.car.demo:
        reading.open += [
            f"{rows.name}.{key}.{column.name}"
            for key, _ in rows.rows[len(filled) : rows.least]
            for column in columns
            if not column.optional
        ]
    elif len(filled) < rows.least and not reading.problems:
        name = f"{rows.name}.{rows.rows[len(filled)][0]}.{rows.columns[0].name}"
        reading.problems[name] = tr(
            "{label}: at least {least} rows are needed.", label=rows.said, least=rows.least
        )
    return tuple(filled)


def _homes(form: Form, reading: _Reading) -> Iterator[tuple[str, str]]:
    """(name, path in the car) of what was typed and has a home of its own in the record."""
    for _, name, cell in form.cells():
        read = name in reading.labels and name not in reading.problems
        if name in reading.typed and read and cell.car and not cell.fills_only:
            yield name, path_of(cell, reading.choices)


def _is_wrong(reading: _Reading, name: str) -> bool:
    """Whether anything is wrong in the rows of a cell: a list is kept whole or not at all."""
    rows = f"{name.partition('.')[0]}."
    return any(problem.startswith(rows) for problem in reading.problems)


def _is_news(given: Inputs, name: str, path: str, doubt: float | None) -> bool:
    """Whether the record does not hold what was typed, or holds it and nobody has entered it: what
    stands at a path of which nothing is known may happen to be the very number; or holds it without
    the `doubt` that was typed behind it."""
    value, recorded = value_at(given, name), record.get(given.car, path)
    if value is None and not record.in_list(path):
        return False  # left empty
    if recorded == value:
        source = source_at(given.car, path)
        known = source.u if source else None
        surer = doubt is not None and (known is None or not math.isclose(known, doubt))
        return surer or not is_entered(given.car, path)
    return not {recorded, value} <= {None, ""}  # neither says anything


def value_at(given: Inputs, name: str) -> Any:
    """What a field holds: a number in SI, a text or a choice; None where it is empty."""
    for values in (given.numbers, given.texts, given.choices):
        if name in values:
            return values[name]
    return None


def row_at(given: Inputs, prefix: str) -> dict[str, Any]:
    """Everything in a row, by column."""
    return {
        name.removeprefix(prefix): value
        for name, value in (*given.texts.items(), *given.numbers.items())
        if name.startswith(prefix)
    }


def run(form: Form, typed: Mapping[str, str], car: Car, system: str = units.METRIC) -> Reply:
    """The form's whole reply to what was typed. Never raises for what a user can type."""
    given, reply = read(form, typed, car, system)
    weights = weights_meant(form, typed, given)
    paths = frozenset(path_of(form.by_name[name], given.choices) for name in reply.asked)
    reply = replace(reply, paths=paths, unusual=unusual(form, given, weights))
    if reply.problems:
        return reply
    if reply.open:
        return replace(reply, early=form.early(given))
    try:
        answer = form.solve(given)
    except Problem as problem:
        of_oil = problem.name in oils(form)
        return replace(reply, problems={problem.name: str(problem), **(weights if of_oil else {})})
    answer = _sure(_writable(answer, system), given)
    asked = {**slips(form, typed, given), **weights}
    questions = tuple(barring(question, at=name) for name, question in asked.items())
    said = (_if_usual(form, given, caution) for caution in answer.cautions)
    cautions = (*questions, *_enough(form, given, answer), *said)
    return replace(reply, answer=replace(answer, cautions=cautions))


def _enough(form: Form, given: Inputs, answer: Answer) -> Iterator[Caution]:
    """A word about the bottles that it pours out of where nobody has said how much is in them."""
    bottles = {row: _bottle(given, row) for row in sorted(answer.poured)}
    unknown = {row: one.viscosity for row, one in bottles.items() if one.left is None}
    if unknown:
        oils = [given.say(viscosity, "viscosity") for viscosity in unknown.values()]
        text = tr(
            "Amount in the bottle not known: {oils}. Check that there is enough.",
            oils=abridged(oils, _NAMED),
        )
        name = f"bottles.{next(iter(unknown))}.left"
        yield Caution(text, at=name if name in form.by_name else "")


def _bottle(given: Inputs, row: int) -> Bottle:
    """The bottle in a row of the form, else of the car record."""
    typed = row_at(given, f"bottles.{row}.")
    return Bottle(**typed) if "viscosity" in typed else given.car.bottles[row - 1]


def _writable(answer: Answer, system: str) -> Answer:
    """The answer; a warning in place of what it would write where no car can be like that."""
    try:
        for spring in answer.listed:
            for name in ("rate", "free", "solid"):
                number_at(f"springs.1.{name}").check(getattr(spring, name), system)
        return replace(answer, writes=tuple(_checked(write, system) for write in answer.writes))
    except Refused as refused:
        warning = barring(tr("This cannot be carried out. {why}", why=refused))
        return replace(answer, writes=(), listed=(), cautions=(warning, *answer.cautions))


_OF_SPRING = (
    "spring_rate", "spring_free", "spring_solid", "droop_length", "stroke", "motion_ratio",
    "unsprung",
)  # fmt: skip
"""What of an end decides how its springs stand."""


def _if_usual(form: Form, given: Inputs, caution: Caution) -> Caution:
    """A stop or a finding that rests on assumed values of a spring is no more than a caution that
    names them."""
    if caution.where is None or not (caution.stop or caution.finding):
        return caution
    end = getattr(caution.where, "end", caution.where)
    of_spring = {f"{end}.{name}" for name in _OF_SPRING}
    assumed_here = [
        given.labels[name]
        for name in form.by_name
        if name in given.guessed and path_of(form.by_name[name], given.choices) in of_spring
    ]
    if not assumed_here:
        return caution
    text = tr(
        "If the usual values hold here ({entries}): {finding}",
        entries=abridged(assumed_here, _NAMED),
        finding=caution.text,
    )
    return replace(caution, text=text, stop=False, finding="", bars=False)


def _sure(answer: Answer, given: Inputs) -> Answer:
    """The answer; where an assumed value could reverse a turn, and none that is known moves it
    further, the instruction is to measure that first, and nothing else is done yet."""
    if not given.guessed:
        return answer
    for step in answer.steps:
        said = give_or_take(step, answer.quantities)
        if said and said.turned_by and said.turned_by[0] in given.guessed:
            guessed = [name for name in said.turned_by if name in given.guessed]
            return _measured_first(answer, given, guessed)
    return answer


def _of_turns(caution: Caution) -> bool:
    """Whether it is a finding about what is turned, not about a spring as it stands."""
    return bool(caution.finding) and caution.where is None


def _measured_first(answer: Answer, given: Inputs, names: Sequence[str]) -> Answer:
    labels = [given.labels[name] for name in names]
    first = tr("Measure first: {entry}.", entry=abridged(labels, _NAMED))
    why = tr("With usual values alone not even the direction is certain.")
    lead = Caution(tr("No turns are given until that is measured."), at=names[0])
    cautions = (lead, *(one for one in answer.cautions if not _of_turns(one)))
    return replace(answer.without_work((Step(first, why),)), cautions=cautions)


def _checked(write: Write, system: str) -> Write:
    """A number as the record can hold it. Raises Refused."""
    entry = entry_at(write.path)
    return (
        replace(write, value=entry.check(write.value, system))
        if isinstance(entry, Number)
        else write
    )
