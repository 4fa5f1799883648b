"""Run in the browser's Python when the memory image is made: use everything once.

What is imported, compiled and rendered here is there at once when the image is restored.
"""

import json

from calc import units
from calc.catalogue import FORMS
from site_src import live


def use_everything() -> None:
    """Answer every question that the page can ask, for the demo car, in every system."""
    for system in units.SYSTEMS:
        for form in FORMS:
            for question in ("answer", "keep", "done"):
                _ask(ask=question, form=form.slug, system=system)
            _ask(ask="answer", form=form.slug, system=system, typed=_nonsense(form.slug))
        _ask(ask="sheet", system=system, made="")
        typed = {form.slug: _nonsense(form.slug) for form in FORMS}
        _ask(ask="convert", all=typed, before=units.METRIC, system=system)


def _nonsense(slug: str) -> dict[str, str]:
    """Something that cannot be understood in every field: the way to every refusal."""
    (form,) = (form for form in FORMS if form.slug == slug)
    return {name: "?" for _, name, _ in form.cells()}


def _ask(**question: object) -> None:
    live.answer(json.dumps(question))


use_everything()
