"""What the page asks Python about a field while something is entered in it."""

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from calc.asking.entry import Number
from calc.asking.next_unit import in_next_unit

if TYPE_CHECKING:
    from site_src.live.questions import Question


def _unit(question: "Question") -> dict[str, Any]:
    """What was typed in a field, in the next unit; `first` is what was typed before any other."""
    more = question.more
    cell = next((cell for _, name, cell in question.asked.cells() if name == more["name"]), None)
    text = more["text"]
    if isinstance(cell, Number):
        own = question.car.weight_scale.units(cell.kind)
        text = in_next_unit(text, cell.kind, question.system, own, more.get("first", ""))
    return {"text": text}


QUESTIONS: Mapping[str, Callable[["Question"], dict[str, Any]]] = {"unit": _unit}
