"""Which entry is worth measuring better: one sentence for an answer, where it matters."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from calc.answering.answer import Answer, Quantity
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
    alike = {name: entry.name for name, entry in entries.items()}
    alike |= {one.name: one.cause for one in form.inputs.assumptions if one.cause}
    causes: dict[str, list[Quantity]] = {}
    for figure in uncertain:
        causes.setdefault(alike.get(figure.main, figure.main), []).append(figure)
    shares = {
        name: sum(figure.main_share for figure in figures) / len(uncertain)
        for name, figures in causes.items()
    }
    cause = max(shares, key=lambda name: shares[name], default="")
    if not cause or shares[cause] < _MUCH:
        return ""
    share = tr("{number}%", number=f"{100 * shares[cause]:.0f}")
    mains = [figure.main for figure in causes[cause]]
    if mains[0] not in entries:
        reason = causes[cause][0].main_label
        return tr(
            "{share} of the ± is in none of the entries: {reason}.", share=share, reason=reason
        )
    label = entries[mains[0]].label
    if any(sources[name].how in _NEVER_MEASURED for name in mains if name in sources):
        return tr(
            "Worth measuring: {entry} (it causes {share} of the ±).", entry=label, share=share
        )
    return tr(
        "Worth measuring again: {entry} (it causes {share} of the ±).", entry=label, share=share
    )


@dataclass(frozen=True)
class _Entry:
    """One for all that is measured in the same way at all four corners; `label` in the language
    spoken."""

    name: str
    label: str


def _entries(form: Form, labels: Mapping[str, str], wanted: Collection[str]) -> dict[str, _Entry]:
    """The entries wanted, by the name of their field."""
    found = {}
    for entry, name, cell in form.cells():
        if name in wanted and isinstance(cell, Number):
            if isinstance(entry, Rows) and entry.every:
                _, _, column = name.split(".", 2)
                found[name] = _Entry(f"{entry.name}.{column}", tr(cell.parts[1]))
            else:
                found[name] = _Entry(name, labels[name])
    return found
