"""Oil for the evening: all four dampers from the bottles there are, and one's own weight line."""

from calc.answering.answer import Answer
from calc.forms.evening_oil import evening, weights
from calc.forms.evening_oil.inputs import Asked
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    return evening.solve(asked) if asked.task == "set" else weights.solve(asked)


FORM = Form(
    slug="evening-oil",
    title="Oil for the evening",
    moment="bench",
    asks="Before a build, all four dampers: how much oil, from which bottles, and how much "
    "remains?",
    inputs=Asked,
    solve=solve,
    first=("end.target",),
    finer=("waste", "spare", "name"),
    drawings={"waste": "batch", "spare": "batch"},
)
