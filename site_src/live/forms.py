"""Replies to what the page asks about a form: its answer, its figures, the car with both kept."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Generic, TypeVar

from calc.asking.entry import Number, Rows
from calc.forms.catalogue import BY_SLUG
from calc.kept import doing, log
from calc.kept.chapters import RECORD, chapters
from calc.kept.deeds import Deed
from calc.kept.log import Entry
from calc.kept.since import Past, Since, outdated, since
from calc.language import spoken, tr
from calc.model.car import Car, empty
from calc.replying.form import Form, Reply
from calc.replying.reading import read, run
from calc.replying.resting import counted, of_record, said_origins
from calc.replying.stepping import own_steps
from site_src.both.fragment import doubts_html, figures_html, unsaved_html, words_html
from site_src.live.garage import happened
from site_src.live.questions import Answer, Html, Made, OfForm, Unsaved, UnsavedAsked, Written
from site_src.live.wire import Misfit

T = TypeVar("T")
_ROOM = 5
"""Places in the log for the lines of each deed of one touch."""


class _Last(Generic[T]):
    """A cache of one result."""

    def __init__(self) -> None:
        self._kept: tuple[object, T] | None = None

    def of(self, key: object, make: Callable[[], T]) -> T:
        """The result kept if it is of this key, else a new one in its place."""
        if self._kept is None or self._kept[0] != key:
            self._kept = key, make()
        return self._kept[1]


_reply: _Last[Reply] = _Last()
"""An answer's doubts and figures are asked for after its words."""
_known: _Last[dict[str, str]] = _Last()
"""What is typed on the page of the car does not change what is known of it."""


def form_at(slug: str) -> Form:
    """The form of this name. Raises Misfit."""
    if slug not in BY_SLUG:
        raise Misfit("wrong", "form")
    return BY_SLUG[slug]


_lines: _Last[tuple[Entry, ...]] = _Last()
"""The log is the same for all that is typed between two lines of it."""


def _past(asked: OfForm) -> Past:
    lines = _lines.of(asked.lines, lambda: tuple(map(log.from_json, asked.lines)))
    return Past(lines, asked.touched, asked.today, asked.typed_at)


def _counting(asked: OfForm) -> tuple[OfForm, tuple[str, ...]]:
    """The question with only those texts that tell of the car as it is; the fields of the rest."""
    form = form_at(asked.form)
    left = outdated(form, asked.typed, asked.at_work, _past(asked), asked.system)
    typed = {name: text for name, text in asked.typed.items() if name not in left}
    return replace(asked, typed=typed), tuple(left)


def _replied(asked: OfForm) -> Reply:
    """What the form says to texts that count."""
    form = form_at(asked.form)
    key = asked.form, asked.typed, asked.car, asked.system, spoken().code
    return _reply.of(key, lambda: run(form, asked.typed, asked.at_work, asked.system))


def _known_of(car: Car) -> dict[str, str]:
    """By chapter of the page of the car: what is known of it, and what waits for it."""
    return _known.of((car, spoken().code), lambda: {one.key: one.said for one in chapters(car)})


def answer(asked: OfForm) -> Answer:
    asked, left = _counting(asked)
    form, car, reply = form_at(asked.form), asked.at_work, _replied(asked)
    past = _since(asked, reply)
    is_record = form.slug == RECORD and not car.demo
    return Answer(
        html=words_html(form, reply, asked.system, past),
        # What was carried out has used up what it was made of: no fault of what is typed.
        problems={} if past.done else reply.problems,
        unusual=reply.unusual,
        filled=reply.filled,
        steps=own_steps(form, car.tools),
        origins=dict(said_origins(form, reply, asked.system)),
        assumed=reply.assumed,
        open=reply.open,
        outdated=left,
        unfinished=_unfinished(asked, form, reply),
        chapters=_known_of(car) if asked.form == RECORD else {},
        demo=car.demo,
        rests=of_record(form, reply).said if is_record else counted(form, reply),
    )


def _unfinished(asked: OfForm, form: Form, reply: Reply) -> tuple[str, ...]:
    return tuple(
        name
        for name in reply.problems
        if isinstance(cell := form.by_name[name], Number)
        and cell.may_become(
            asked.typed.get(name, ""), asked.system, asked.at_work.own_units(cell.kind)
        )
    )


def unsaved(asked: UnsavedAsked) -> Unsaved:
    """What was typed in forms and is not in the car, where the car is shown without it."""
    found: list[tuple[Form, int]] = []
    old: dict[str, tuple[str, ...]] = {}
    for one in asked.forms:
        form = form_at(one.form)
        of_form, left = _counting(
            OfForm(
                form=one.form, typed=one.typed, typed_at=one.typed_at,
                car=asked.car, system=asked.system, lines=asked.lines,
            )
        )  # fmt: skip
        _, reply = read(form, of_form.typed, asked.at_work, asked.system)
        if reply.keepable:
            found.append((form, len(reply.keepable)))
            old[one.form] = left
    return Unsaved(html=unsaved_html(found), outdated=old)


def _since(asked: OfForm, reply: Reply) -> Since:
    """What the log says of the form's own work."""
    form = form_at(asked.form)
    return since(form, asked.typed, reply, asked.at_work, _past(asked), asked.system)


def doubts(asked: OfForm) -> Html:
    """The figures of an answer with their uncertainty, which takes many times as long as the
    instruction. The page asks for them once it shows that."""
    reply = _replied(_counting(asked)[0])
    return Html(html=doubts_html(form_at(asked.form), reply, asked.system))


def figures(asked: OfForm) -> Html:
    """Plots, drawings, tables and working of an answer, asked for last."""
    reply = _replied(_counting(asked)[0])
    return Html(html=figures_html(form_at(asked.form), reply, asked.system))


def keep(asked: Written) -> Made:
    """Save what was typed to the car. With the demo car at work that begins a car of one's own."""
    form, car = form_at(asked.form), own(asked.at_work)
    deed = doing.saved(form, asked.typed, car, asked.at.time, asked.system)
    return _kept(asked, car, log.ENTERED, deed)


def assume(asked: Written) -> Made:
    """Let what is usual stand in for all that the form needs and nobody knows."""
    form, car = form_at(asked.form), own(asked.at_work)
    deed = doing.assumed(form, asked.typed, car, asked.at.time)
    made = _kept(asked, car, log.ENTERED, deed)
    return replace(made, typed=asked.typed)


def done(asked: Written) -> Made:
    """The answer has been carried out: the car, and all that follows."""
    form = form_at(asked.form)
    if asked.shown is not None and _is_done_since(form, asked.at.newest, asked.shown):
        return Made(car=asked.at_work, typed=asked.typed)
    now, entered = _entered(asked)
    car, at = now.at_work, now.at
    answer = run(form, asked.typed, car, asked.system).answer
    answer = answer.workable if answer else None
    made = _kept(now, car, log.DONE, doing.done(answer, car, at.time, form.slug), over=True)
    newest = None if entered or made.log else at.newest
    of_dampers = doing.measured(answer, made.car, log.after(at, _ROOM), form.slug, newest)
    return replace(
        made,
        log=(*entered, *(made.log or ()), *of_dampers) or None,
        again=doing.measure_again(car, made.car),
    )


def _entered(asked: Written) -> tuple[Written, tuple[Entry, ...]]:
    """The question about the car to which what was typed has been saved, and the lines of the log
    for that. It is a deed of its own: whoever takes the work back has still typed the numbers."""
    form, at, car = form_at(asked.form), asked.at, asked.at_work
    saved = doing.saved(form, asked.typed, car, at.time, asked.system)
    if saved.is_empty:
        return asked, ()
    car, lines = happened(car, at, log.ENTERED, saved, _from(form))
    then = replace(log.part_of(at, "1", _ROOM), based=True, newest=None)
    return replace(asked, car=car, at=then), lines


def _from(form: Form) -> str:
    """The note of a line that a form has made."""
    return tr("From {form}", form=form.said_title)


def _is_done_since(form: Form, newest: Entry | None, shown: str) -> bool:
    """Whether the work was carried out since its instruction was shown: by a finger that was
    quicker than the screen, or in another window."""
    return newest is not None and log.is_work_of(form.slug, newest) and newest.id != shown


def own(car: Car) -> Car:
    """The car to write to: nothing of one's own is ever written beside what was invented."""
    return empty(tr("My car")) if car.demo else car


def _not_read(form: Form, typed: Mapping[str, str], car: Car, system: str) -> set[str]:
    """Fields whose texts no car can take over: those with a problem, and of rows that grow, which
    are kept as one list, those in a row that nothing is made of yet, or all where one is wrong."""
    given, reply = read(form, typed, car, system)
    left = set(reply.problems)
    for rows in form.fields:
        if isinstance(rows, Rows) and not rows.every:
            mine = {name for name in typed if name.startswith(f"{rows.name}.")}
            wrong = any(name.startswith(f"{rows.name}.") for name in reply.problems)
            made = {key for key, _ in given.row_labels.get(rows.name, ())}
            left |= {name for name in mine if wrong or name.split(".")[1] not in made}
    return left


def _kept(asked: Written, car: Car, kind: str, deed: Deed, *, over: bool = False) -> Made:
    """The car after a deed, and the typed texts that are not in it and so have to stay in the form;
    where a measurement is `over` because the work has changed it, that goes too."""
    form = form_at(asked.form)
    homes = {name for _, name, cell in form.cells() if cell.car and (over or not cell.fills_only)}
    homes -= _not_read(form, asked.typed, car, asked.system)
    left = {name: text for name, text in asked.typed.items() if name not in homes}
    if deed.is_empty:
        return Made(car=car, typed=left)
    after, entries = happened(car, asked.at, kind, deed, _from(form))
    return Made(car=after, typed=left, log=entries)
