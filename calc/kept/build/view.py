"""What the thumb works with on the page of the build list, as finished texts.

It depends on the car and on the list, not on what was ticked or read: so the page can leave it
where it is while somebody types. Only facts, `minutes` and `progress` do depend on that, which the
page puts into places of their own; what comes of the readings is in said.py.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from calc import units
from calc.answering.answer import Caution
from calc.forms.catalogue import BY_SLUG
from calc.forms.names import end_label
from calc.kept.build.build import NAME, Build
from calc.kept.build.cautions import caution
from calc.kept.build.facts import Fact, facts, rest_times
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import COLLAR_LOG, STEPS, Step, Trouble, step_at
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
    """Back for one damper or for a pair: the corners and the steps that they go through once more,
    each parted by spaces."""

    corners: str
    label: str
    steps: str


@dataclass(frozen=True)
class Out:
    """What to do when a damper falls out at a step."""

    key: str
    shows: str
    does: str
    back: str
    ways: tuple[Way, ...]


@dataclass(frozen=True)
class StepView:
    """`facts` are the one part that depends on what was read; `has_facts` does not. `all` is how
    the dampers of the step are called together, empty where there is one."""

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
    all: str
    outs: tuple[Out, ...]
    has_facts: bool
    timed: bool
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


def step_views(build: Build) -> tuple[StepView, ...]:
    keys = (*build.steps, "")
    return tuple(
        _step(build, key, number, follows)
        for number, (key, follows) in enumerate(pairwise(keys), 1)
    )


def _step(build: Build, key: str, number: int, follows: str) -> StepView:
    step = step_at(key)
    entries = (NAME,) if key == FIRST else tuple(READINGS[name].entry for name in build.reads(key))
    return StepView(
        key=key,
        number=number,
        title=build.title(key),
        texts=tuple(texts(build, step)),
        practice=step.practice,
        facts=facts(build, step.facts),
        measures=tuple((entry.said, entry.said_measure) for entry in entries),
        lays=laid_out(build) if key == FIRST else tuple(map(tr, step.lays)),
        cautions=tuple(map(caution, step.dangers)),
        links=tuple((slug, _title(slug)) for slug in step.links),
        cells=tuple(_cell(build, step, corner) for corner in build.at(key)),
        all=_all(len(build.at(key))),
        outs=tuple(_outs(build, key)),
        has_facts=bool(step.facts),
        timed=step.timed,
        own=key in build.own,
        next=follows,
        next_title=build.title(follows) if follows else "",
    )


def texts(build: Build, step: Step) -> Iterator[str]:
    """What is done at a step, and what it is for the kinds that are built."""
    if step.does:
        yield tr(step.does)
    yield from of_kinds(build, step)


def of_kinds(build: Build, step: Step) -> Iterator[str]:
    """What is done at a step with the kinds of damper that are built."""
    kinds = dict.fromkeys(build.kind(end) for end in build.ends)
    for kind in kinds:
        if kind not in step.by_kind:
            continue
        text = tr(step.by_kind[kind])
        ends = [end for end in build.ends if build.kind(end) == kind]
        # Only where the ends differ has it to be said whose it is.
        yield tr("{end}: {text}", end=end_label(ends[0]), text=text) if len(kinds) > 1 else text


def laid_out(build: Build) -> tuple[str, ...]:
    """Everything that the steps need."""
    lays = [thing for step in STEPS if step.key in build.steps for thing in step.lays]
    return tuple(map(tr, dict.fromkeys(lays)))


def _title(slug: str) -> str:
    return tr("Collar log") if slug == COLLAR_LOG else BY_SLUG[slug].said_title


def _all(count: int) -> str:
    match count:
        case 4:
            return tr("All four")
        case 2:
            return tr("Both")
    return ""


def _cell(build: Build, step: Step, corner: Corner) -> Cell:
    fields = [
        Field(
            f"read.{name}.{corner}", about.entry.said,
            units.symbol_text(about.entry.kind, build.system),
        )
        for name in build.reads(step.key, corner)
        for about in (READINGS[name],)
    ]  # fmt: skip
    if step.key == FIRST:
        fields = [Field(f"name.{corner}", NAME.said, "")]
    return Cell(corner, build.label(corner), tuple(fields))


def _outs(build: Build, key: str) -> Iterator[Out]:
    for trouble in build.troubles(key):
        ways = tuple(_ways(build, key, trouble))
        if ways:
            title = build.title(trouble.back)
            yield Out(trouble.key, tr(trouble.shows), tr(trouble.does), title, ways)


def _ways(build: Build, key: str, trouble: Trouble) -> Iterator[Way]:
    sets: list[tuple[tuple[Corner, ...], str]]
    if trouble.both:
        sets = [(end.corners, tr("{end}: both", end=end_label(end))) for end in build.ends]
    else:
        sets = [((corner,), build.label(corner)) for corner in build.corners]
    for corners, label in sets:
        if redone := build.redone(key, trouble, corners[0]):
            yield Way(" ".join(corners), label, " ".join(redone))


def minutes(build: Build, corner: Corner) -> int:
    """Minutes for the timer of a damper: what the smallest bubbles need where oil and height are
    known, and half an hour at least."""
    car, end = build.car_of(corner, ["oil"]), corner.end
    if not all(is_known(car, f"{end}.{path}") for path in ("oil", "inside.length")):
        return _PRACTICE_REST
    return max(_PRACTICE_REST, math.ceil(rest_times(car, end)[0] / 60))


def progress(build: Build) -> tuple[Progress, ...]:
    def one(corner: Corner) -> Progress:
        done, steps = build.progress(corner)
        follows = build.next_step(corner)
        title = build.title(follows) if follows else ""
        label = build.label(corner)
        return Progress(corner, label, done, steps, follows, title)

    return tuple(map(one, build.corners))


def left_out(build: Build) -> tuple[tuple[str, str], ...]:
    """(key, title) of the steps that the user does without."""
    return tuple((key, build.title(key)) for key in build.order if key in build.left_out)
