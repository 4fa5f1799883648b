"""Which entry is worth measuring better: one sentence for an answer, where it matters."""

from collections.abc import Collection, Mapping

from calc.answering.answer import Answer
from calc.asking.entry import Number, Rows
from calc.language import tr
from calc.replying.form import Form

_MAIN = 3
"""The first figures with a doubt are what was asked for; the rest stands beside them."""
_MUCH = 0.5  # of the doubt; less is not worth a sentence


def advice(form: Form, answer: Answer, labels: Mapping[str, str]) -> str:
    """What makes most of the doubt in the main figures; nothing if that is less than half.

    `labels` are those of the form's cells by name, in the language spoken. A figure names only
    what makes most of its own doubt, so a mean share is a lower bound.
    """
    doubted = [figure for figure in answer.quantities if figure.main][:_MAIN]
    entries = _entries(form, labels, {figure.main for figure in doubted})
    shares: dict[str, float] = {}
    for figure in doubted:
        name = entries.get(figure.main, figure.main)
        shares[name] = shares.get(name, 0.0) + figure.main_share / len(doubted)
    name = max(shares, key=lambda name: shares[name], default="")
    if not name or shares[name] < _MUCH:
        return ""
    share = tr("{number}%", number=f"{100 * shares[name]:.0f}")
    if name in entries.values():
        return tr(
            "Measure this better: {entry}. It makes {share} of the doubt.", entry=name, share=share
        )
    return tr("{share} of the doubt is in none of the entries: {reason}.", share=share, reason=name)


def _entries(form: Form, labels: Mapping[str, str], wanted: Collection[str]) -> dict[str, str]:
    """The entries among the labels wanted -> what they are called in the sentence: what is
    measured in the same way at all four corners counts as one."""
    found = {}
    for entry, name, cell in form.cells():
        label = labels[name]
        if label in wanted and isinstance(cell, Number):
            alike = isinstance(entry, Rows) and entry.every
            found[label] = tr(cell.parts[1]) if alike else label
    return found
