"""What worker.js calls: a question of the page as JSON in, its reply as JSON out."""

import json
from collections.abc import Callable
from typing import Any

from calc.asking.entry import Refused
from calc.language import tr, use
from site_src.live import build_list, entering, forms, garage, sheet
from site_src.live import questions as q
from site_src.live.questions import QUESTIONS, A, Question, R
from site_src.live.wire import Misfit, written

ANSWERS: dict[str, Callable[[Any], Any]] = {}


def _answer_with(question: Question[A, R], function: Callable[[A], R]) -> None:
    ANSWERS[question.name] = function


_answer_with(q.ANSWER, forms.answer)
_answer_with(q.DOUBTS, forms.doubts)
_answer_with(q.FIGURES, forms.figures)
_answer_with(q.KEEP, forms.keep)
_answer_with(q.DONE, forms.done)
_answer_with(q.ASSUME, forms.assume)
_answer_with(q.UNSAVED, forms.unsaved)
_answer_with(q.SHEET, sheet.sheet)
_answer_with(q.CONVERT, entering.convert)
_answer_with(q.UNIT, entering.unit)
_answer_with(q.LOG, garage.log)
_answer_with(q.COLLAR, garage.collar)
_answer_with(q.UNDO, garage.undo)
_answer_with(q.BUILD, build_list.build)
_answer_with(q.BUILT, build_list.built)
_answer_with(q.DAMPER, build_list.damper)
_answer_with(q.CSV, garage.csv)
_answer_with(q.SETUPS, garage.setup_list)
_answer_with(q.SETUP, garage.setup)
_answer_with(q.COMPARE, garage.compare)
_answer_with(q.TAKE, garage.take)
_answer_with(q.CARS, garage.cars)
_answer_with(q.SHARE, garage.share)
_answer_with(q.ANOTHER, garage.another)
_answer_with(q.BACKUP, garage.backup)
_answer_with(q.RESTORE, garage.restore)
_answer_with(q.RECEIVED, garage.received)


def speak(code: str, words: str) -> None:
    """Answer in this language from now on; `words` is its dictionary as JSON, which the page has
    fetched: the memory that is restored holds none."""
    use(code, json.loads(words))


def answer(request: str) -> str:
    """The reply to a question of the page; `refused` is the sentence where there can be none.
    Raises KeyError for a question that is not in the table: no script of this version asks one, so
    something is damaged, and the page starts Python again."""
    told: dict[str, Any] = json.loads(request)
    question = QUESTIONS[told.pop("ask")]
    try:
        return json.dumps(written(ANSWERS[question.name](question.read(told))))
    except Misfit as misfit:
        return json.dumps({"refused": _sentence(question.name, misfit)})
    except Refused as refused:
        return json.dumps({"refused": str(refused)})


def _sentence(question: str, misfit: Misfit) -> str:
    """Only another version of the page asks like that."""
    name = ".".join(misfit.path)
    if misfit.why == "missing":
        return tr(
            "The page asked for “{question}” without “{name}”: load it again.",
            question=question, name=name,
        )  # fmt: skip
    if misfit.why == "unknown":
        return tr(
            "The page asked for “{question}” with “{name}”, which is unknown: load it again.",
            question=question, name=name,
        )  # fmt: skip
    return tr(
        "The page asked for “{question}” with a “{name}” that is not understood: load it again.",
        question=question, name=name,
    )  # fmt: skip
