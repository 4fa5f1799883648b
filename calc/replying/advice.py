"""Which entry is worth measuring better: one sentence for an answer, where it matters."""

from collections.abc import Collection, Mapping

from calc.answering.answer import Answer
from calc.asking.entry import Number, Rows
from calc.language import tr
from calc.model.origin import How, Origin
from calc.replying.form import Form
from calc.replying.plain import is_doubted

_MAIN = 3
"""The first figures with an uncertainty are what was asked for; the rest stands beside them."""
_MUCH = 0.5  # of the uncertainty; less is not worth a sentence
_NEVER_MEASURED: tuple[How, ...] = ("assumed", "label")


def advice(
    form: Form, answer: Answer, labels: Mapping[str, str], sources: Mapping[str, Origin]
) -> str:
    """The input behind most of the uncertainty of the main figures; nothing if that is less than
    half.

    `labels` are those of the form's cells by name, in the language spoken, `sources` where their
    values come from. A figure names only the main input of its own uncertainty, so a mean share is
    a lower bound.
    """
    uncertain = [one for one in answer.quantities if one.main and is_doubted(one)][:_MAIN]
    entries = _entries(form, labels, {figure.main for figure in uncertain})
    shares: dict[str, float] = {}
    for figure in uncertain:
        label = entries.get(figure.main, figure.main_label)
        shares[label] = shares.get(label, 0.0) + figure.main_share / len(uncertain)
    label = max(shares, key=lambda label: shares[label], default="")
    if not label or shares[label] < _MUCH:
        return ""
    share = tr("{number}%", number=f"{100 * shares[label]:.0f}")
    if label in entries.values():
        never = any(
            entries[name] == label and sources[name].how in _NEVER_MEASURED
            for name in entries.keys() & sources.keys()
        )
        if never:
            return tr(
                "Worth measuring: {entry} (it causes {share} of the ±).", entry=label, share=share
            )
        return tr(
            "Worth measuring again: {entry} (it causes {share} of the ±).", entry=label, share=share
        )
    return tr("{share} of the ± is in none of the entries: {reason}.", share=share, reason=label)


def _entries(form: Form, labels: Mapping[str, str], wanted: Collection[str]) -> dict[str, str]:
    """The entries wanted -> what they are called in the sentence: what is measured in the same
    way at all four corners counts as one."""
    found = {}
    for entry, name, cell in form.cells():
        if name in wanted and isinstance(cell, Number):
            alike = isinstance(entry, Rows) and entry.every
            found[name] = tr(cell.parts[1]) if alike else labels[name]
    return found
