"""Every form of the catalogue with every way through it, and what must hold of any reply."""

import math
import re
from collections.abc import Callable, Iterator
from itertools import combinations_with_replacement
from typing import Any

import pytest

from calc import units
from calc.answering.answer import Answer
from calc.asking.entry import Number
from calc.forms.catalogue import FORMS
from calc.model.car import LEFT_HAND, entry_at
from calc.replying.form import Form, Reply
from calc.replying.plain import quantity_text
from tests.forms.ways import Choices, ways

# What a slip in making a text leaves behind.
SLIP = re.compile(
    r"(?<![a-z])(nan|inf|infinity|none|true|false)(?![a-z])|[{}]|\de[+−-]?\d|  ", re.I
)
QUOTED = re.compile("“[^”]*”")
SENTENCE_ENDS = (".", "?", "!")
Along = Callable[[Form], list[Choices]]
each_form = pytest.mark.parametrize("form", FORMS, ids=lambda form: form.slug)
MORE_TOGETHER = pytest.mark.wide("every two choices are asked together in fewer ways")
SAME_BUT_FOR_THE_HAND = pytest.mark.wide("another thread changes the words of a turn alone")


def few_ways(form: Form) -> list[Choices]:
    """Every way through a form, of those through a left-hand thread one."""
    left, rest = [], []
    for way in ways(form):
        (left if way.get("thread_hand") == LEFT_HAND else rest).append(way)
    return rest + left[:1]


def paired_ways(form: Form) -> list[Choices]:
    """Ways that have every two choices together that any way has; greedily, the first where several
    add as many."""
    few = few_ways(form)
    pairs = [set(combinations_with_replacement(way.items(), 2)) for way in few]
    open_ = set[object]().union(*pairs)
    found = few[:1]
    open_ -= pairs[0]
    while open_:
        best = max(range(len(few)), key=lambda n: len(pairs[n] & open_))
        found.append(few[best])
        open_ -= pairs[best]
    return found


def _each_way(some: Along, why: pytest.MarkDecorator) -> Iterator[Any]:
    """Every way, those that are not among some of them wide."""
    for form in FORMS:
        few = some(form)
        for way in ways(form):
            marks = [] if way in few else [why]
            yield pytest.param(form, way, id=f"{form.slug}-{'-'.join(way.values())}", marks=marks)


each_way = pytest.mark.parametrize(
    ("form", "way"), list(_each_way(few_ways, SAME_BUT_FOR_THE_HAND))
)
each_pair = pytest.mark.parametrize(("form", "way"), list(_each_way(paired_ways, MORE_TOGETHER)))
along_few_or_all = pytest.mark.parametrize(
    "along", [paired_ways, pytest.param(ways, marks=MORE_TOGETHER)], ids=["few", "all"]
)


def texts(answer: Answer) -> Iterator[str]:
    """Every text of an answer that somebody reads, the empty ones left out."""
    for step in answer.steps:
        yield from (step.text, step.gives)
    for table in answer.tables:
        yield from (table.title, *table.heads, *(cell for row in table.rows for cell in row))
    for plot in answer.plots:
        yield from (plot.title, plot.says, plot.x.label, plot.y.label)
        yield from (curve.label for curve in plot.curves)
        yield from (mark.label for mark in plot.marks)
    yield from (caution.text for caution in answer.all_cautions)
    for working in answer.working:
        yield from (working.relation, working.filled, working.source)
    yield from (write.says for write in answer.writes)
    for quantity in answer.quantities:
        yield from (quantity.label, quantity.note, quantity.main_label)
        yield from (quantity_text(quantity, system) for system in units.SYSTEMS)


def figures(answer: Answer) -> Iterator[float]:
    """Every number of an answer that is drawn, stored or passed on."""
    for quantity in answer.quantities:
        yield from (quantity.value, quantity.u, quantity.main_share)
    for plot in answer.plots:
        yield from (n for curve in plot.curves for point in curve.points for n in point)
        yield from (n for mark in plot.marks for n in (mark.x, mark.y))
    yield from (write.value for write in answer.writes)


def check_reply(form: Form, reply: Reply) -> None:
    names = {name for _, name, _ in form.cells()}
    assert (reply.answer is None) == bool(reply.problems or reply.open)
    for name, sentence in reply.problems.items():
        assert name in names
        own_words = QUOTED.sub("it", sentence)  # what was typed stands in the sentence as it was
        assert own_words.endswith(SENTENCE_ENDS) and not SLIP.search(own_words), sentence
    if reply.answer is not None:
        check_answer(reply.answer)


def check_answer(answer: Answer) -> None:
    assert answer.steps and all(step.text.endswith(SENTENCE_ENDS) for step in answer.steps)
    for text in texts(answer):
        assert not SLIP.search(text), text
    assert all(map(math.isfinite, figures(answer)))
    assert all(quantity.u >= 0 for quantity in answer.quantities)
    names = [quantity.name for quantity in answer.quantities]
    assert len(names) == len(set(names))
    for table in answer.tables:
        assert all(len(row) == len(table.heads) for row in table.rows)
        assert -1 <= table.mark < len(table.rows)
    for write in answer.writes:
        entry = entry_at(write.path)
        assert isinstance(entry, Number)
        entry.check(write.value)  # or the stored car could not be read again
