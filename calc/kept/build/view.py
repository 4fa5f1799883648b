"""What the thumb works with on the page of the build list, as finished texts.

It depends on the car and on the list, not on what was ticked or read: so the page can leave it
where it is while somebody types. What comes of the readings is in said.py; only `progress` counts
ticks.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from calc import units
from calc.answering.answer import Caution
from calc.forms.catalogue import BY_SLUG
from calc.forms.names import end_label
from calc.kept.build.cautions import caution
from calc.kept.build.evening import NAME, Evening
from calc.kept.build.facts import Fact, facts, rest_times
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import BY_KEY, STEPS, TROUBLES, Step
from calc.language import tr
from calc.model.car import is_known
from calc.model.corners import Corner

FIRST = "lay_out"
_PRACTICE_REST = 30  # min; half an hour at least (common practice, no source)


@dataclass(frozen=True)
class Field:
    """An entry of one damper; `unit` is empty where it is a text."""

    name: str
    label: str
    unit: str


@dataclass(frozen=True)
class Cell:
    """What one damper has at a step."""

    corner: Corner
    label: str
    fields: tuple[Field, ...]


@dataclass(frozen=True)
class Way:
    """Back for one damper: the steps that it goes through once more."""

    corner: Corner
    label: str
    steps: str


@dataclass(frozen=True)
class Out:
    """What to do when a damper falls out at a step."""

    shows: str
    does: str
    back: str
    ways: tuple[Way, ...]


@dataclass(frozen=True)
class StepView:
    key: str
    number: int
    title: str
    texts: tuple[str, ...]
    practice: bool
    facts: tuple[Fact, ...]
    measures: tuple[tuple[str, str], ...]
    lays: tuple[str, ...]
    cautions: tuple[Caution, ...]
    links: tuple[tuple[str, str], ...]
    cells: tuple[Cell, ...]
    outs: tuple[Out, ...]
    minutes: int
    own: bool
    next: str
    next_title: str


@dataclass(frozen=True)
class Progress:
    corner: Corner
    label: str
    done: int
    all: int
    next: str
    next_title: str


def step_views(evening: Evening) -> tuple[StepView, ...]:
    keys = (*evening.steps, "")
    return tuple(
        _step(evening, key, number, follows)
        for number, (key, follows) in enumerate(pairwise(keys), 1)
    )


def _step(evening: Evening, key: str, number: int, follows: str) -> StepView:
    step = BY_KEY.get(key, Step(key, "", ""))
    entries = (NAME,) if key == FIRST else tuple(READINGS[name].entry for name in step.reads)
    return StepView(
        key=key,
        number=number,
        title=evening.title(key),
        texts=tuple(_texts(evening, step)),
        practice=step.practice,
        facts=facts(evening, step.facts),
        measures=tuple((entry.said, entry.said_measure) for entry in entries),
        lays=laid_out(evening) if key == FIRST else tuple(map(tr, step.lays)),
        cautions=tuple(map(caution, step.dangers)),
        links=tuple((slug, _title(slug)) for slug in step.links),
        cells=tuple(_cell(evening, step, corner) for corner in evening.at(key)),
        outs=tuple(_outs(evening, step)),
        minutes=_minutes(evening) if step.timed else 0,
        own=key in evening.own,
        next=follows,
        next_title=evening.title(follows) if follows else "",
    )


def _texts(evening: Evening, step: Step) -> Iterator[str]:
    if step.does:
        yield tr(step.does)
    yield from of_kinds(evening, step)


def of_kinds(evening: Evening, step: Step) -> Iterator[str]:
    """What is done at a step with the kinds of damper that are built."""
    kinds = dict.fromkeys(evening.kind(end) for end in evening.ends)
    for kind in kinds:
        if kind not in step.by_kind:
            continue
        text = tr(step.by_kind[kind])
        ends = [end for end in evening.ends if evening.kind(end) == kind]
        # Only where the ends differ has it to be said whose it is.
        yield tr("{end}: {text}", end=end_label(ends[0]), text=text) if len(kinds) > 1 else text


def laid_out(evening: Evening) -> tuple[str, ...]:
    """Everything that the steps need."""
    lays = [thing for step in STEPS if step.key in evening.steps for thing in step.lays]
    return tuple(map(tr, dict.fromkeys(lays)))


def _title(slug: str) -> str:
    return BY_SLUG[slug].said_title if slug in BY_SLUG else tr("Collar log")


def _cell(evening: Evening, step: Step, corner: Corner) -> Cell:
    fields = [
        Field(
            f"read.{name}.{corner}", about.entry.said,
            units.symbol_text(about.entry.kind, evening.system),
        )
        for name in step.reads
        for about in (READINGS[name],)
    ]  # fmt: skip
    if step.key == FIRST:
        fields = [Field(f"name.{corner}", NAME.said, "")]
    return Cell(corner, evening.label(corner), tuple(fields))


def _outs(evening: Evening, step: Step) -> Iterator[Out]:
    for key in step.troubles:
        trouble = TROUBLES[key]
        ways = tuple(
            Way(corner, evening.label(corner), " ".join(redone))
            for corner in evening.at(step.key)
            if (redone := evening.redone(step.key, trouble, corner))
        )
        if ways:
            title = evening.title(trouble.back)
            yield Out(tr(trouble.shows), tr(trouble.does), title, ways)


def _minutes(evening: Evening) -> int:
    """Minutes for the timer: what the largest bubbles need where oil and height are known, and half
    an hour at least."""
    found = [_PRACTICE_REST]
    for end in evening.ends:
        if all(is_known(evening.car, f"{end}.{path}") for path in ("oil", "inside.length")):
            found.append(math.ceil(rest_times(evening.car, end)[0] / 60))
    return max(found)


def progress(evening: Evening) -> tuple[Progress, ...]:
    def one(corner: Corner) -> Progress:
        steps = [key for key in evening.steps if corner in evening.at(key)]
        done = sum(evening.is_done(key, corner) for key in steps)
        follows = evening.next_step(corner)
        title = evening.title(follows) if follows else ""
        label = evening.label(corner)
        return Progress(corner, label, done, len(steps), follows, title)

    return tuple(map(one, evening.corners))


def left_out(evening: Evening) -> tuple[tuple[str, str], ...]:
    """(key, title) of the steps that the user does without."""
    return tuple((key, evening.title(key)) for key in evening.order if key in evening.left_out)
