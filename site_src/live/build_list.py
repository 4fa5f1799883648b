"""Replies to what the page of the build list asks."""

from calc.asking.entry import Refused
from calc.kept import dampers
from calc.kept.build.build import Build
from calc.kept.build.finish import can_finish, finished, given_up, kept_for_next
from site_src.both import build_list as html
from site_src.live.questions import BuildAsked, BuildHtml, BuildWritten, DamperAsked, Made


def build(asked: BuildAsked) -> BuildHtml:
    """The list as it is now."""
    under_way = Build(asked.at_work, asked.texts, asked.system)
    made = html.list_html(under_way)
    return BuildHtml(
        html=made.steps,
        top=made.top,
        parts=made.parts,
        problems=under_way.problems,
        records=html.records_html(asked.at_work, asked.lines, asked.system, under_way.due),
        order=under_way.order,
        ready=can_finish(under_way),
    )


def built(asked: BuildWritten) -> Made:
    """The car with what was read, and a line of the log for each damper."""
    under_way = Build(asked.at_work, asked.typed, asked.system)
    if asked.given_up:
        lines = given_up(under_way, asked.at)
        return Made(car=under_way.car, typed=kept_for_next(under_way), log=lines)
    if under_way.problems:
        raise Refused(next(iter(under_way.problems.values())))
    car, entries = finished(under_way, asked.at)
    return Made(car=car, typed=kept_for_next(under_way), log=entries)


def damper(asked: DamperAsked) -> Made:
    """What was done with a damper, as lines of the log."""
    car, entries = dampers.happened(
        asked.at_work, asked.at, asked.did, asked.name, asked.corner, asked.lines
    )
    return Made(car=car, log=entries)
