"""Collar turns and ride height: one end, both ends, or four corners; turns from height or back."""

from calc.answering.answer import Answer
from calc.forms.collar_turns import corners, ends
from calc.forms.collar_turns.inputs import Asked
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    return corners.solve(asked) if asked.scope == "corners" else ends.solve(asked)


FORM = Form(
    slug="collar-turns",
    title="Collar turns and ride height",
    moment="car",
    asks="How far do the collars turn for the height you want?",
    inputs=Asked,
    solve=solve,
    first=(
        "ride_height",
        "wanted_height",
        "end.ride_height",
        "end.wanted_height",
        "corner.load",
        "corner.height",
        "corner.wanted",
    ),
    drawings={"wanted": "ride-height"},
)
