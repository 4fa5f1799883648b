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
from calc.kept.build.cautions import caution
from calc.kept.build.evening import NAME, Evening
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


def step_views(evening: Evening) -> tuple[StepView, ...]:
    keys = (*evening.steps, "")
    return tuple(
        _step(evening, key, number, follows)
        for number, (key, follows) in enumerate(pairwise(keys), 1)
    )


def _step(evening: Evening, key: str, number: int, follows: str) -> StepView:
    step = step_at(key)
    entries = (
        (NAME,) if key == FIRST else tuple(READINGS[name].entry for name in evening.reads(key))
    )
    return StepView(
        key=key,
        number=number,
        title=evening.title(key),
        texts=tuple(texts(evening, step)),
        practice=step.practice,
        facts=facts(evening, step.facts),
        measures=tuple((entry.said, entry.said_measure) for entry in entries),
        lays=laid_out(evening) if key == FIRST else tuple(map(tr, step.lays)),
        cautions=tuple(map(caution, step.dangers)),
        links=tuple((slug, _title(slug)) for slug in step.links),
        cells=tuple(_cell(evening, step, corner) for corner in evening.at(key)),
        all=_all(len(evening.at(key))),
        outs=tuple(_outs(evening, key)),
        has_facts=bool(step.facts),
        timed=step.timed,
        own=key in evening.own,
        next=follows,
        next_title=evening.title(follows) if follows else "",
    )


def texts(evening: Evening, step: Step) -> Iterator[str]:
    """What is done at a step, and what it is for the kinds that are built."""
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
    return tr("Collar log") if slug == COLLAR_LOG else BY_SLUG[slug].said_title


def _all(count: int) -> str:
    match count:
        case 4:
            return tr("All four")
        case 2:
            return tr("Both")
    return ""


def _cell(evening: Evening, step: Step, corner: Corner) -> Cell:
    fields = [
        Field(
            f"read.{name}.{corner}", about.entry.said,
            units.symbol_text(about.entry.kind, evening.system),
        )
        for name in evening.reads(step.key, corner)
        for about in (READINGS[name],)
    ]  # fmt: skip
    if step.key == FIRST:
        fields = [Field(f"name.{corner}", NAME.said, "")]
    return Cell(corner, evening.label(corner), tuple(fields))


def _outs(evening: Evening, key: str) -> Iterator[Out]:
    for trouble in evening.troubles(key):
        ways = tuple(_ways(evening, key, trouble))
        if ways:
            title = evening.title(trouble.back)
            yield Out(trouble.key, tr(trouble.shows), tr(trouble.does), title, ways)


def _ways(evening: Evening, key: str, trouble: Trouble) -> Iterator[Way]:
    sets: list[tuple[tuple[Corner, ...], str]]
    if trouble.both:
        sets = [(end.corners, tr("{end}: both", end=end_label(end))) for end in evening.ends]
    else:
        sets = [((corner,), evening.label(corner)) for corner in evening.corners]
    for corners, label in sets:
        if redone := evening.redone(key, trouble, corners[0]):
            yield Way(" ".join(corners), label, " ".join(redone))


def minutes(evening: Evening, corner: Corner) -> int:
    """Minutes for the timer of a damper: what the smallest bubbles need where oil and height are
    known, and half an hour at least."""
    car, end = evening.car_of(corner, ["oil"]), corner.end
    if not all(is_known(car, f"{end}.{path}") for path in ("oil", "inside.length")):
        return _PRACTICE_REST
    return max(_PRACTICE_REST, math.ceil(rest_times(car, end)[0] / 60))


def progress(evening: Evening) -> tuple[Progress, ...]:
    def one(corner: Corner) -> Progress:
        done, steps = evening.progress(corner)
        follows = evening.next_step(corner)
        title = evening.title(follows) if follows else ""
        label = evening.label(corner)
        return Progress(corner, label, done, steps, follows, title)

    return tuple(map(one, evening.corners))


def left_out(evening: Evening) -> tuple[tuple[str, str], ...]:
    """(key, title) of the steps that the user does without."""
    return tuple((key, evening.title(key)) for key in evening.order if key in evening.left_out)
