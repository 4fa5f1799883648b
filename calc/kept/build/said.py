"""What comes of the readings of a build, in sentences, by step."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from calc import units
from calc.answering.hand import to_step
from calc.answering.uncertainty import COVERAGE
from calc.forms.names import end_label, rod_end_label
from calc.kept.build.build import Build, step_of
from calc.kept.build.odd import odd
from calc.kept.build.readings import READINGS
from calc.kept.build.verdict import Compared, Verdict, compared, verdict
from calc.language import inside, tr
from calc.model.car import is_known
from calc.physics.thread import least_engagement

PAIR = "pair"
"""The step that says what all of them come to."""


@dataclass(frozen=True)
class Said:
    """A sentence about what was read; `step` is where it leads."""

    text: str
    judged: str
    step: str = ""


def says(build: Build) -> Mapping[str, tuple[Said, ...]]:
    """What comes of the readings, by step."""
    return {key: tuple(_says(build, key)) for key in build.steps}


def _says(build: Build, key: str) -> Iterator[Said]:
    if key == PAIR:
        for end in build.ends:
            yield from _verdict_said(build, verdict(build, end))
        return
    for end in build.ends:
        for one in compared(build, key, end):
            yield _compared_said(build, one)
    if key == "rod_end":
        yield from _too_little_thread(build)
    for reading in build.reads(key):
        for corner in build.at(key):
            for text in odd(build, reading, corner):
                yield Said(text, "open")
            if build.is_old(reading, corner):
                text = tr(
                    "{damper}: {reading} dates from before it was opened. Measure it again, then "
                    "tick.",
                    damper=build.label(corner),
                    reading=inside(READINGS[reading].entry.said),
                )
                yield Said(text, "open")


def _too_little_thread(build: Build) -> Iterator[Said]:
    """Rod ends that are on by less than holds: two that are alike may both be wrong."""
    car = build.car
    if not is_known(car, "rod_end.thread"):
        return
    least, _ = least_engagement(car.rod_end.thread, "plastic")
    for corner in build.corners:
        read = build.reading("engaged", corner)
        if read is not None and read.value < least:
            say = partial(units.show_to, kind="length", system=build.system, decimals=1)
            text = tr(
                "{damper}: {thread} of thread is too little to hold, at least {least} is needed: "
                "screw the rod end further on before it carries a car.",
                damper=build.label(corner), thread=say(read.value), least=say(least),
            )  # fmt: skip
            yield Said(text, "apart")


def _compared_said(build: Build, one: Compared) -> Said:
    about = READINGS[one.reading]
    say = partial(_shown, kind=about.entry.kind, system=build.system, u=one.u)
    told = {
        "end": end_label(one.end),
        "reading": inside(about.entry.said),
        "difference": say(abs(one.difference)),
        "width": say(COVERAGE * one.u),
        "limit": say(one.limit),
        "why": _why(build, one),
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
    elif one.beyond:
        text = tr("{end}: {text}", end=end_label(one.end), text=tr(about.coarse))
    else:
        text = tr(
            "{end}: {difference} ± {width} between left and right; up to {limit} counts as alike "
            "({why}), and so wide a ± cannot tell. Measure finer, or write your own ± after the "
            "numbers.",
            **told,
        )
    if len(build.reads(one.step)) > 1:
        text = tr("{reading}: {text}", reading=about.entry.said, text=text)
    return Said(" ".join(filter(None, (text, _mend(build, one)))), one.judged)


def _why(build: Build, one: Compared) -> str:
    """The reason of a limit, and whether it rests on a pitch that nobody has measured."""
    about = READINGS[one.reading]
    needs = about.needs.format(end=one.end)
    why = tr(about.why)
    if not needs or is_known(build.car, needs):
        return why
    return tr("{why}, of a usual pitch: its own is not known", why=why)


def _shown(value: float, *, kind: str, system: str, u: float) -> str:
    return units.show(value, kind, system, units.decimals_for(u, kind, system))


def _mend(build: Build, one: Compared) -> str:
    """What the hand does about a difference, where the thread tells it."""
    car = build.car
    if one.reading != "length" or one.judged != "apart" or not is_known(car, "rod_end.pitch"):
        return ""
    turns = to_step(abs(one.difference) / car.rod_end.pitch, car.tools.turn_step)
    longer = one.end.corners[0 if one.difference > 0 else 1]
    return tr(
        "{rod_end}: {turns} in (shorter).",
        rod_end=rod_end_label(longer), turns=units.turns_text(turns),
    )  # fmt: skip


def _verdict_said(build: Build, found: Verdict) -> Iterator[Said]:
    """The verdict on a pair in a sentence, and what it does not rest on."""
    end = end_label(found.end)
    if found.says is None:
        yield Said(tr("{end}: nothing measured on both yet.", end=end), "open")
        return
    caught = found.caught
    if caught is not None:
        text = tr(
            "{end}: not alike. It shows first at “{step}”: {reading}.",
            end=end, step=build.title(caught.step),
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
        count = found.telling
        yield Said(
            tr("{end}: alike in everything measured on both ({count}).", end=end, count=count),
            "alike",
        )
    before = build.steps[: build.steps.index(PAIR)]
    missing = [name for name in found.missing if step_of(name).key in before]
    if missing:
        named = "; ".join(inside(READINGS[name].entry.said) for name in missing)
        yield Said(tr("{end}, not measured on both: {readings}.", end=end, readings=named), "quiet")
