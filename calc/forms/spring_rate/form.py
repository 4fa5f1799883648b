"""Spring rate: from a label, a scale and a ruler, the wire; two in series; a clipped coil."""

from collections.abc import Callable, Mapping

from calc.answering.answer import Answer
from calc.forms.spring_rate import clip, made, pair, read
from calc.forms.spring_rate.inputs import Asked, Known
from calc.replying.form import Form

_WAYS: Mapping[Known, Callable[[Asked], Answer]] = {
    "label": made.solve_label,
    "readings": read.solve,
    "wire": made.solve_wire,
    "series": pair.solve,
    "clipped": clip.solve,
}


def solve(asked: Asked) -> Answer:
    return _WAYS[asked.known](asked)


FORM = Form(
    slug="spring-rate",
    title="Spring rate",
    moment="bench",
    asks="How stiff is this spring, from its label, a scale and a ruler, or its wire?",
    inputs=Asked,
    solve=solve,
    drawings={"length": "spring-scale", "mass": "spring-scale"},
)
