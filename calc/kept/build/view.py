"""What the page of the build list shows, as finished texts.

What the thumb works with (`StepView`) depends on the car and on the list, not on what was ticked
or read: so the page can leave it where it is while somebody types. What comes of the readings is
`says`, by step.
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from calc import units
from calc.answering.answer import Caution
from calc.answering.hand import to_step
from calc.answering.uncertainty import COVERAGE
from calc.forms.catalogue import BY_SLUG
from calc.forms.names import corner_label, corner_word, end_label, rod_end_label
from calc.kept.build.cautions import caution
from calc.kept.build.evening import NAME, Evening
from calc.kept.build.facts import Fact, facts, rest_times
from calc.kept.build.readings import READINGS
from calc.kept.build.steps import BY_KEY, STEPS, TROUBLES, Step
from calc.kept.build.verdict import Compared, Verdict, compared, verdict
from calc.language import inside, tr
from calc.model.car import is_known
from calc.model.corners import Corner
from calc.physics.thread import least_engagement

FIRST, PAIR = "lay_out", "pair"
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
class Said:
    """A sentence about what was read; `step` is where it leads."""

    text: str
    judged: str
    step: str = ""


@dataclass(frozen=True)
class Progress:
    corner: Corner
    label: str
    done: int
    all: int
    next: str
    next_title: str


def damper_label(evening: Evening, corner: Corner) -> str:
    """ "Front left", with the letter of its cap: "A, front left"."""
    name = evening.name(corner)
    if not name:
        return corner_label(corner)
    return tr("{name}, {where}", name=name, where=corner_word(corner))


def step_views(evening: Evening) -> tuple[StepView, ...]:
    keys = (*evening.steps, "")
    return tuple(
        _step(evening, key, number, follows)
        for number, (key, follows) in enumerate(pairwise(keys), 1)
    )


def _step(evening: Evening, key: str, number: int, follows: str) -> StepView:
    step = BY_KEY.get(key, Step(key, "", ""))
    reads = tuple((READINGS[name].entry.said, READINGS[name].entry) for name in step.reads)
    measures = [(label, entry.said_measure) for label, entry in reads]
    if key == FIRST:
        measures = [(NAME.said, NAME.said_measure)]
    return StepView(
        key=key,
        number=number,
        title=evening.title(key),
        texts=tuple(_texts(evening, step)),
        practice=step.practice,
        facts=facts(evening, step.facts),
        measures=tuple(measures),
        lays=_laid_out(evening) if key == FIRST else tuple(map(tr, step.lays)),
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
    kinds = dict.fromkeys(evening.kind(end) for end in evening.ends)
    for kind in kinds:
        if kind not in step.by_kind:
            continue
        text = tr(step.by_kind[kind])
        ends = [end for end in evening.ends if evening.kind(end) == kind]
        # Only where the ends differ has it to be said whose it is.
        yield tr("{end}: {text}", end=end_label(ends[0]), text=text) if len(kinds) > 1 else text


def _laid_out(evening: Evening) -> tuple[str, ...]:
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
    return Cell(corner, damper_label(evening, corner), tuple(fields))


def _outs(evening: Evening, step: Step) -> Iterator[Out]:
    for key in step.troubles:
        trouble = TROUBLES[key]
        ways = tuple(
            Way(corner, damper_label(evening, corner), " ".join(redone))
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
        label = damper_label(evening, corner)
        return Progress(corner, label, done, len(steps), follows, title)

    return tuple(map(one, evening.corners))


def says(evening: Evening) -> Mapping[str, tuple[Said, ...]]:
    """What comes of the readings, by step."""
    return {key: tuple(_says(evening, key)) for key in evening.steps}


def _says(evening: Evening, key: str) -> Iterator[Said]:
    if key == PAIR:
        for end in evening.ends:
            yield from verdict_said(evening, verdict(evening, end))
        return
    for end in evening.ends:
        for one in compared(evening, key, end):
            yield _compared_said(evening, one)
    if key == "rod_end":
        yield from _too_little_thread(evening)
    for reading in BY_KEY[key].reads if key in BY_KEY else ():
        for corner in evening.at(key):
            if evening.is_old(reading, corner):
                text = tr(
                    "{damper}: {reading} dates from before it was opened. Measure it again, then "
                    "tick.",
                    damper=damper_label(evening, corner),
                    reading=inside(READINGS[reading].entry.said),
                )
                yield Said(text, "open")


def _too_little_thread(evening: Evening) -> Iterator[Said]:
    """Rod ends that are on by less than holds: two that are alike may both be wrong."""
    car = evening.car
    if not is_known(car, "rod_end.thread"):
        return
    least, _ = least_engagement(car.rod_end.thread, "plastic")
    for corner in evening.corners:
        read = evening.reading("engaged", corner)
        if read is not None and read.value < least:
            say = partial(units.show, kind="length", system=evening.system, decimals=1)
            text = tr(
                "{damper}: {thread} of thread does not hold, at least {least} are needed: screw "
                "the rod end further on before it carries a car.",
                damper=damper_label(evening, corner), thread=say(read.value), least=say(least),
            )  # fmt: skip
            yield Said(text, "apart")


def _compared_said(evening: Evening, one: Compared) -> Said:
    about = READINGS[one.reading]
    say = partial(_shown, kind=about.entry.kind, system=evening.system, u=one.u)
    told = {
        "end": end_label(one.end),
        "reading": inside(about.entry.said),
        "difference": say(abs(one.difference)),
        "width": say(COVERAGE * one.u),
        "limit": say(one.limit),
        "why": _why(evening, one),
    }
    if one.judged == "alike":
        text = tr(
            "{end}: alike. {difference} ± {width} between left and right; up to {limit} counts as "
            "alike ({why}).",
            **told,
        )
    elif one.judged == "apart":
        text = tr(
            "{end}: not alike. {difference} ± {width} between left and right, more than {limit} "
            "({why}).",
            **told,
        )
    else:
        text = tr(
            "{end}: {difference} ± {width} between left and right; up to {limit} counts as alike "
            "({why}), and so wide a ± cannot tell. Measure finer, or write your own ± after the "
            "numbers.",
            **told,
        )
    if len(BY_KEY[one.step].reads) > 1:
        text = tr("{reading}: {text}", reading=about.entry.said, text=text)
    return Said(" ".join(filter(None, (text, _mend(evening, one)))), one.judged)


def _why(evening: Evening, one: Compared) -> str:
    """The reason of a limit, and whether it rests on a pitch that nobody has measured."""
    about = READINGS[one.reading]
    needs = about.needs.format(end=one.end)
    why = tr(about.why)
    if not needs or is_known(evening.car, needs):
        return why
    return tr("{why}, of a usual pitch: its own is not known", why=why)


def _shown(value: float, *, kind: str, system: str, u: float) -> str:
    return units.show(value, kind, system, units.decimals_for(u, kind, system))


def _mend(evening: Evening, one: Compared) -> str:
    """What the hand does about a difference, where the thread tells it."""
    car = evening.car
    if one.reading != "length" or one.judged != "apart" or not is_known(car, "rod_end.pitch"):
        return ""
    turns = to_step(abs(one.difference) / car.rod_end.pitch, car.tools.turn_step)
    longer = one.end.corners[0 if one.difference > 0 else 1]
    return tr(
        "{rod_end}: {turns} in (shorter).",
        rod_end=rod_end_label(longer), turns=units.turns_text(turns),
    )  # fmt: skip


def verdict_said(evening: Evening, found: Verdict) -> Iterator[Said]:
    """The verdict on a pair in a sentence, and what it does not rest on."""
    end = end_label(found.end)
    if found.says is None:
        yield Said(tr("{end}: nothing measured on both yet.", end=end), "open")
        return
    caught = found.caught
    if caught is not None:
        text = tr(
            "{end}: not alike. It shows first at “{step}”: {reading}.",
            end=end, step=evening.title(caught.step),
            reading=inside(READINGS[caught.reading].entry.said),
        )  # fmt: skip
        yield Said(text, "apart", caught.step)
    elif found.open:
        named = "; ".join(inside(READINGS[one.reading].entry.said) for one in found.open)
        text = tr(
            "{end}: no difference is proved, but the ± is too wide to call them alike in: "
            "{readings}.",
            end=end, readings=named,
        )  # fmt: skip
        yield Said(text, "open", found.open[0].step)
    else:
        count = len(found.compared)
        yield Said(
            tr("{end}: alike in everything measured on both ({count}).", end=end, count=count),
            "alike",
        )
    if found.missing:
        named = "; ".join(inside(READINGS[name].entry.said) for name in found.missing)
        yield Said(tr("{end}, not measured on both: {readings}.", end=end, readings=named), "quiet")


def left_out(evening: Evening) -> tuple[tuple[str, str], ...]:
    """(key, title) of the steps that the user does without."""
    return tuple((key, evening.title(key)) for key in evening.order if key in evening.left_out)
