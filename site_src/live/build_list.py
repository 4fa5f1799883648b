"""Replies to what the page of the build list asks."""

from calc.asking.entry import Refused
from calc.kept import dampers
from calc.kept.build.evening import Evening
from calc.kept.build.finish import can_finish, finished, given_up, kept_for_next
from site_src.both import build_list as html
from site_src.live.questions import BuildAsked, BuildHtml, BuildWritten, DamperAsked, Made


def build(asked: BuildAsked) -> BuildHtml:
    """The list as it is now."""
    evening = Evening(asked.at_work, asked.texts, asked.system)
    made = html.list_html(evening)
    return BuildHtml(
        html=made.steps,
        top=made.top,
        parts=made.parts,
        problems=evening.problems,
        records=html.records_html(asked.at_work, asked.lines, asked.system, evening.due),
        order=evening.order,
        ready=can_finish(evening),
    )


def built(asked: BuildWritten) -> Made:
    """The car with what was read, and a line of the log for each damper."""
    evening = Evening(asked.at_work, asked.typed, asked.system)
    if asked.given_up:
        lines = given_up(evening, asked.at)
        return Made(car=evening.car, typed=kept_for_next(evening), log=lines)
    if evening.problems:
        raise Refused(next(iter(evening.problems.values())))
    car, entries = finished(evening, asked.at)
    return Made(car=car, typed=kept_for_next(evening), log=entries)


def damper(asked: DamperAsked) -> Made:
    """What was done with a damper, as lines of the log."""
    car, entries = dampers.happened(
        asked.at_work, asked.at, asked.did, asked.name, asked.corner, asked.lines
    )
    return Made(car=car, log=entries)
