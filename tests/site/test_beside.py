"""Python in the page and Python beside it say the same, so a test may ask the quicker one.

What they say of every form is compared in test_page.py.
"""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import Page

from calc.language import NAMES
from site_src.live import worker
from site_src.live.questions import QUESTIONS
from tests.site import beside
from tests.site.hands import ask


def nine_digits(reply: str) -> Any:
    """A reply whose numbers lack their last bits, in which two C libraries may differ."""
    return json.loads(reply, parse_float=lambda number: float(f"{float(number):.9g}"))


def test_every_question_has_the_same_reply(
    within: Page, site: object, questions: list[dict[str, Any]]
) -> None:
    assert {question["ask"] for question in questions} == set(QUESTIONS)
    for question in questions:
        here = beside.reply("en", json.dumps(question))
        there = json.dumps(ask(within, **question))
        assert nine_digits(there) == nine_digits(here), question


@pytest.mark.parametrize("code", NAMES)
def test_it_speaks_the_language_of_the_page_and_no_other_after_it(code: str) -> None:
    form = {"form": "stroke", "typed": {}, "car": None, "system": "metric"}
    question = json.dumps({"ask": "answer", **form})
    before = worker.answer(question)
    replies = {one: beside.reply(one, question) for one in NAMES}
    assert len(set(replies.values())) == len(NAMES)
    assert beside.reply(code, question) == replies[code]
    assert worker.answer(question) == before == replies["en"]
