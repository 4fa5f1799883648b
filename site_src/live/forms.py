"""Replies to what the page asks about a form: its answer, its figures, the car with both kept."""

from calc.forms.catalogue import BY_SLUG
from calc.language import spoken, tr
from calc.model.car import Car, from_json, put, to_json
from calc.replying.form import Form, Reply
from calc.replying.reading import keep as with_typed
from calc.replying.reading import run
from calc.replying.stepping import own_steps
from site_src.both.fragment import figures_html, words_html
from site_src.live.garage import turned
from site_src.live.questions import Answer, Html, Made, OfForm, Written
from site_src.live.wire import Misfit

_said: tuple[object, Reply] | None = None
"""What was asked last, and the reply: an answer's figures are asked for after its words."""


def form_at(slug: str) -> Form:
    """The form of this name. Raises Misfit."""
    if slug not in BY_SLUG:
        raise Misfit("wrong", "form")
    return BY_SLUG[slug]


def _replied(asked: OfForm) -> Reply:
    """What the form says; asked for again, it is not worked out again."""
    global _said
    told = asked.form, asked.typed, asked.car, asked.system, spoken().code
    if _said is None or _said[0] != told:
        reply = run(form_at(asked.form), asked.typed, asked.at_work, asked.system)
        _said = told, reply
    return _said[1]


def answer(asked: OfForm) -> Answer:
    form, car, reply = form_at(asked.form), asked.at_work, _replied(asked)
    return Answer(
        html=words_html(form, reply, asked.system),
        problems=reply.problems,
        filled=reply.filled,
        steps=own_steps(form, car.tools),
        demo=car.demo,
    )


def figures(asked: OfForm) -> Html:
    """Plots, drawings, tables and working of an answer. The page asks for them once it shows the
    words, so that those do not wait for them."""
    return Html(html=figures_html(form_at(asked.form), _replied(asked), asked.system))


def keep(asked: Written) -> Made:
    """Write what was typed to the car."""
    return _kept(asked, _typed_into_car(asked))


def done(asked: Written) -> Made:
    """Write to the car what has changed on it once the answer was carried out."""
    reply = _replied(asked)
    car = _typed_into_car(asked)
    for write in reply.answer.writes if reply.answer else ():
        car = put(car, write.path, write.value)
    # A value that the record cannot hold is refused before it is kept.
    car = from_json(to_json(car))
    # What was measured before is over; the car says how it stands now.
    over = {name for _, name, cell in form_at(asked.form).cells() if cell.fills_only}
    return _kept(asked, car, frozenset(over))


def _typed_into_car(asked: Written) -> Car:
    return with_typed(form_at(asked.form), asked.typed, asked.at_work, asked.system)


def _kept(asked: Written, car: Car, over: frozenset[str] = frozenset()) -> Made:
    """The car, and the typed texts that are not in it and so have to stay in the form, less those
    that are over."""
    form = form_at(asked.form)
    homes = {name for _, name, cell in form.cells() if cell.car and not cell.fills_only}
    left = {name: text for name, text in asked.typed.items() if name not in homes | over}
    note = tr("From {form}", form=form.said_title)
    return Made(car=car, typed=left, log=turned(asked.at_work, car, asked.at, note))
