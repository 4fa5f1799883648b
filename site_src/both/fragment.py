"""Answers and sheets as HTML, by the same templates at build time and in the browser."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from calc import units
from calc.answering.answer import Answer, AtCorner, Plot, Quantity, Step
from calc.answering.hand import GiveOrTake, give_or_take
from calc.kept.chapters import RECORD
from calc.kept.since import Since
from calc.language import abridged, tr
from calc.model.car import Car
from calc.replying.advice import advice
from calc.replying.form import Form, Reply
from calc.replying.plain import is_doubted, quantity_text
from calc.replying.resting import not_known, of_record, resting, still_missing, to_measure
from calc.sheet.blocks import CARD, Sheet, sheet
from site_src.both import above, plot, scale_drawing
from site_src.both.ink import Picture
from site_src.both.paper.folds import folds, ruler, sketch
from site_src.both.paper.layout import Heading, Plan, absent, name_kind, plan
from site_src.both.paper.measure import clipped
from site_src.both.paper.sizes import BY_KEY as SIZES
from site_src.both.paper.sizes import PANELS, Size

ENVIRONMENT = Environment(
    loader=FileSystemLoader(Path(__file__).parent / "templates"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
    auto_reload=False,  # in the browser the templates are in memory only, restored from the image
)
ENVIRONMENT.globals.update(tr=tr, absent=absent, ruler=ruler, sketch=sketch)


_NOTHING = Since()
_OFFERED = 2  # entries to save that are named before the rest is counted
_FEW = 4  # figures that stand open; the form names those that matter first

ShowAtRest = Callable[[Picture], Markup]
"""Gives the element that shows a picture in a page that is not live yet. In such a page the
controls are left out too, because nothing would happen: they come with the first live answer."""


def answer_html(
    form: Form,
    reply: Reply,
    system: str,
    *,
    at_rest: ShowAtRest | None = None,
) -> str:
    """The content of the answer panel: the answer, or what prevents one."""
    doubts = doubts_html(form, reply, system)
    figures = figures_html(form, reply, system, at_rest=at_rest)
    return _panel(form, reply, system, doubts, figures, live=at_rest is None)


def words_html(form: Form, reply: Reply, system: str, since: Since = _NOTHING) -> str:
    """The answer panel before any uncertainty is worked out: each figure without its ±, and an
    empty place for plots, drawings, tables and working. What is to be done, what stops it and what
    "Done" notes are the same to the letter. What was carried out or seen `since` comes before."""
    quantities = (reply.answer or reply.early or Answer(())).quantities
    doubts = _doubts(quantities, [_coming(one, system) for one in quantities])
    return _panel(form, reply, system, doubts, coming=True, since=since)


def doubts_html(form: Form, reply: Reply, system: str) -> str:
    """The figures of an answer with their uncertainty, and what that says; empty without one."""
    answer = reply.answer or reply.early
    if answer is None:
        return ""
    labels = {name: cell.said for name, cell in form.by_name.items()}
    ordered = sorted(answer.quantities, key=lambda one: _is_nothing(one, system))
    return _doubts(
        ordered,
        [_quantity(one, system) for one in ordered],
        advice(form, answer, labels, reply.sources),
        answer.on_uncertainty(),
        _surely(answer),
    )


def unsaved_html(found: Sequence[tuple[Form, int]]) -> str:
    """How many values typed in each of these forms the car does not have; empty where none are."""
    return ENVIRONMENT.get_template("unsaved.html").render(found=found)


def _brief(steps: Sequence[Step]) -> Step | None:
    """The instruction that stays in sight when the card is scrolled away: the first that turns a
    collar, else the first with a number, where there is one."""
    turning = [step for step in steps if step.way]
    numbered = [step for step in steps if any(map(str.isdecimal, step.text))]
    return next(iter((*turning, *numbered, *steps)), None)


def _surely(answer: Answer) -> list[GiveOrTake | None]:
    """Of each instruction, how surely something is turned."""
    return [give_or_take(step, answer.quantities) for step in answer.steps]


def _doubts(
    of: Collection[Quantity],
    shown: Sequence[Mapping[str, Any]],
    advised: str = "",
    on_uncertainty: Sequence[str] = (),
    surely: Sequence[GiveOrTake | None] = (),
) -> str:
    few = _FEW if len(of) > _FEW + 1 else len(of)
    return ENVIRONMENT.get_template("doubts.html").render(
        quantities=shown, few=few, advice=advised, on_uncertainty=on_uncertainty, surely=surely
    )


def _panel(
    form: Form,
    reply: Reply,
    system: str,
    doubts: str,
    figures: str = "",
    *,
    live: bool = True,
    coming: bool = False,
    since: Since = _NOTHING,
) -> str:
    answer = reply.answer.workable if reply.answer else Answer(())
    labels = {name: cell.said for name, cell in form.by_name.items()}
    stopped = {caution.at for caution in answer.cautions if caution.stop}
    lacking, is_record = not_known(form, reply, system), form.slug == RECORD
    return ENVIRONMENT.get_template("answer.html").render(
        slug=form.slug,
        since=since,
        answer=answer if reply.answer else None,
        early=reply.early or Answer(()),
        problems=[
            {"name": name, "sentence": sentence} for name, sentence in reply.problems.items()
        ],
        open=lacking,
        missing=still_missing(lacking),
        is_record=is_record,
        record=of_record(form, reply) if is_record and reply.open else None,
        rests=resting(form, reply) if reply.answer else None,
        brief=_brief((reply.answer or reply.early or answer).steps),
        to_measure=to_measure(form, reply),
        unusual=[(name, labels[name]) for name in reply.unusual if name not in stopped],
        keepable=abridged([labels[name] for name in reply.keepable], _OFFERED),
        labels=labels,
        turned={quantity.name for quantity in answer.quantities},
        surely=[] if coming else _surely(answer),
        doubts=Markup(doubts),
        coming=coming,
        figures=Markup(figures),
        live=live,
    )


def figures_html(
    form: Form, reply: Reply, system: str, *, at_rest: ShowAtRest | None = None
) -> str:
    """Plots, drawings, tables and working of an answer; empty without an answer."""
    if reply.answer is None:
        return ""
    answer = reply.answer.workable
    return ENVIRONMENT.get_template("figures.html").render(
        answer=answer,
        above=from_above(answer.above, f"{form.slug}-above", at_rest),
        figures=[
            figure(one, system, f"{form.slug}-plot-{number}", at_rest=at_rest)
            for number, one in enumerate(answer.plots)
        ],
        drawings=[
            _shown(scale_drawing.draw(one, system, f"{form.slug}-drawing-{number}"), at_rest)
            for number, one in enumerate(answer.drawings)
        ],
    )


def from_above(
    corners: Sequence[AtCorner], key: str, at_rest: ShowAtRest | None = None
) -> dict[str, Any] | None:
    """The car from above, and the same as a list; nothing where nothing is done at the corners."""
    if not corners:
        return None
    return {"shown": _shown(above.draw(corners, key), at_rest), "said": above.said(corners)}


def _is_nothing(quantity: Quantity, system: str) -> bool:
    """What is shown as 0, and nothing but that, comes after what says more."""
    number = units.number_text(quantity.value, quantity.kind, system, quantity.decimals)
    return not number.strip("−0.,") and not is_doubted(quantity, system)


def _quantity(quantity: Quantity, system: str) -> dict[str, Any]:
    return {
        **_named(quantity, system),
        "text": quantity_text(quantity, system),
        "main": quantity.main_label if is_doubted(quantity, system) else "",
        "share": tr("{number}%", number=f"{100 * quantity.main_share:.0f}"),
    }


def _coming(quantity: Quantity, system: str) -> dict[str, Any]:
    """Where the ± is still to come, its place."""
    shown = units.show(quantity.value, quantity.kind, system, quantity.decimals)
    return {
        **_named(quantity, system),
        "text": f"{shown} ± …" if quantity.uncertain else shown,
        "main": "",
    }


def _named(quantity: Quantity, system: str) -> dict[str, str]:
    unit = units.unit_of(quantity.kind, system)
    return {
        "name": quantity.name,
        "label": quantity.label,
        "value": repr(unit.from_si(quantity.value)),
        "unit": unit.symbol,
    }


def _shown(picture: Picture, at_rest: ShowAtRest | None) -> Markup:
    return at_rest(picture) if at_rest else Markup(picture.svg)


def figure(
    one: Plot, system: str, key: str, *, at_rest: ShowAtRest | None = None
) -> dict[str, Any]:
    """A plot with its values along the x axis and its table."""
    drawn = plot.figure(one, system, key)
    last = len(drawn.columns[0].texts) - 1
    return {
        "id": key,
        "title": one.title,
        "shown": _shown(drawn.picture, at_rest),
        "live": at_rest is None,
        "columns": drawn.columns,
        "last": last,
        "middle": last // 2,
        "table": drawn.table,
    }


def sheet_html(
    car: Car,
    system: str,
    made: str,
    *,
    size: str = "one",
    blocks: Iterable[str] | None = None,
    build: Mapping[str, str] = MappingProxyType({}),
    address: str = "",
    today: str = "",
) -> str:
    """The cheat sheet on paper of a size, with these blocks in this order or the usual ones; or
    the card of the build list, with what was entered there (`build`).

    `made` names the build of the site; `address` is that of the page, for the code to scan; `today`
    is the date of printing, left to the pencil if unknown.
    """
    to_print = SIZES[size]
    content = sheet(car, system, blocks, to_print.kind, build)
    heading = sheet_heading(content, to_print, today)
    return plan_html(plan(content, to_print, heading, address), heading, made)


def plan_html(laid: Plan, heading: Heading, made: str) -> str:
    """A sheet as it was planned."""
    paper = laid.size.paper
    return ENVIRONMENT.get_template("sheet.html").render(
        heading=heading,
        plan=laid,
        made=made,
        panels=PANELS,
        folds=folds(*paper) if paper else "",
    )


def sheet_heading(content: Sheet, size: Size, today: str = "") -> Heading:
    """The name of the car, of two lines at most on a card, and beside it when it was printed, in
    which units and for whom."""
    name = content.car
    printed = tr("Printed {day}", day=today or "____________")
    demo = [tr("Demo car, invented: not yours.")] if content.demo else []
    lines = [" · ".join([printed, content.units, *demo])]
    if size.folds:
        lines.append(tr("Card from {paper}: print at 100%", paper=size.from_paper))
        name = clipped(name, size.width, name_kind(size.types[-1]), True, 2)
    elif size.kind == CARD:
        lines.append(tr("Built by {name} on {day}", name="_" * 20, day="_" * 12))
    else:
        owner = "_" * 20
        lines.append(tr("Owner {owner} Tel {number}", owner=owner, number=owner))
    lines += [", ".join(content.marks)] if content.marks else []
    return Heading(name, tuple(lines))
