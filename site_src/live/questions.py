"""What the page asks Python while it is live: one question as JSON in, one reply as JSON out."""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from calc import units
from calc.asking.entry import Number, Refused
from calc.asking.typed import convert_text
from calc.forms.catalogue import BY_SLUG
from calc.language import spoken, tr, use
from calc.model.car import Car, from_json, put, to_json
from calc.replying.form import Form, Reply
from calc.replying.reading import keep, run
from calc.replying.stepping import own_steps
from calc.sheet.blocks import BY_KEY as BLOCKS
from site_src.both.fragment import figures_html, sheet_html, words_html
from site_src.both.paper.sizes import BY_KEY as SIZES
from site_src.live import entering, garage


@dataclass(frozen=True)
class Question:
    """What came from the page: the form (none for the sheet), what was typed in it, the car."""

    form: Form | None
    typed: Mapping[str, str]
    car: Car
    system: str
    more: Mapping[str, Any]

    @property
    def asked(self) -> Form:
        if self.form is None:
            raise LookupError("this question needs a form")
        return self.form


def speak(code: str, words: str) -> None:
    """Answer in this language from now on; `words` is its dictionary as JSON, which the page has
    fetched: the memory that is restored holds none."""
    use(code, json.loads(words))


def answer(request: str) -> str:
    """The reply to a question of the page; `refused` is the sentence where there can be none."""
    told: dict[str, Any] = json.loads(request)
    try:
        return json.dumps(_QUESTIONS[told["ask"]](_question(told)))
    except Refused as refused:
        return json.dumps({"refused": str(refused)})


def _question(told: Mapping[str, Any]) -> Question:
    stored = told.get("car")
    system = told.get("system")
    return Question(
        form=BY_SLUG.get(told.get("form", "")),
        typed=told.get("typed", {}),
        car=from_json(stored) if stored else Car(),
        system=system if system in units.SYSTEMS else units.METRIC,
        more=told,
    )


_said: tuple[object, Reply] | None = None
"""What was asked last, and the reply: an answer's figures are asked for after its words."""


def _replied(question: Question) -> Reply:
    """What the form says; asked for again, it is not worked out again."""
    global _said
    told = {name: part for name, part in question.more.items() if name != "ask"}, spoken().code
    if _said is None or _said[0] != told:
        _said = told, run(question.asked, question.typed, question.car, question.system)
    return _said[1]


def _answer(question: Question) -> dict[str, Any]:
    """Answer a form: the panel's HTML but for the figures, problems by field, texts of the fields
    not typed, and the steps of its numbers where the car's tools have their own."""
    reply = _replied(question)
    return {
        "html": words_html(question.asked, reply, question.system),
        "problems": dict(reply.problems),
        "filled": dict(reply.filled),
        "steps": own_steps(question.asked, question.car.tools),
        "demo": question.car.demo,
    }


def _figures(question: Question) -> dict[str, Any]:
    """Plots, drawings, tables and working of an answer. The page asks for them once it shows the
    words, so that those do not wait for them."""
    return {"html": figures_html(question.asked, _replied(question), question.system)}


def _keep(question: Question) -> dict[str, Any]:
    """Write what was typed to the car."""
    return _kept(question, keep(question.asked, question.typed, question.car, question.system))


def _done(question: Question) -> dict[str, Any]:
    """Write to the car what has changed on it once the answer was carried out."""
    reply = _replied(question)
    car = keep(question.asked, question.typed, question.car, question.system)
    for write in reply.answer.writes if reply.answer else ():
        car = put(car, write.path, write.value)
    car = from_json(
        to_json(car)
    )  # a value that the record cannot hold is refused before it is kept
    kept = _kept(question, car)
    # What was measured before is over; the car says how it stands now.
    over = {name for _, name, cell in question.asked.cells() if cell.fills_only}
    return {**kept, "typed": {n: text for n, text in kept["typed"].items() if n not in over}}


def _kept(question: Question, car: Car) -> dict[str, Any]:
    """The car, and the typed texts that are not in it and so have to stay in the form."""
    homes = {name for _, name, cell in question.asked.cells() if cell.car and not cell.fills_only}
    left = {name: text for name, text in question.typed.items() if name not in homes}
    note = tr("From {form}", form=question.asked.said_title)
    return {
        "car": to_json(car),
        "typed": left,
        "log": garage.turned(question, car, note),
    }


def _sheet(question: Question) -> dict[str, Any]:
    """The sheet on paper: its size, its blocks in order, the page's own address, the date."""
    more = question.more
    blocks = more.get("blocks")
    html = sheet_html(
        question.car,
        question.system,
        more["made"],
        size=more.get("size", "") if more.get("size", "") in SIZES else "one",
        blocks=None if blocks is None else [key for key in blocks if key in BLOCKS],
        address=more.get("address", ""),
        today=more.get("today", ""),
    )
    return {"html": html}


def _convert(question: Question) -> dict[str, Any]:
    """What was typed without a unit, in the units of the system that is chosen now."""
    before = question.more["before"]
    typed = question.more["all"]
    return {
        "typed": {
            slug: _converted(BY_SLUG[slug], texts, before, question.system)
            for slug, texts in typed.items()
            if slug in BY_SLUG
        }
    }


def _converted(form: Form, texts: Mapping[str, str], before: str, after: str) -> dict[str, str]:
    numbers = {name: cell for _, name, cell in form.cells() if isinstance(cell, Number)}
    return {
        name: convert_text(text, numbers[name].kind, before, after) if name in numbers else text
        for name, text in texts.items()
    }


_QUESTIONS: Mapping[str, Callable[[Question], dict[str, Any]]] = {
    "answer": _answer,
    "figures": _figures,
    "keep": _keep,
    "done": _done,
    "sheet": _sheet,
    "convert": _convert,
    **garage.QUESTIONS,
    **entering.QUESTIONS,
}
