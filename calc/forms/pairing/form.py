"""Pairing: which of the measured springs, pistons or dampers belong together."""

from calc.answering.answer import Answer, Caution, OfDamper
from calc.forms.cautions import hanging_mass, opened, springs_off
from calc.forms.oil_warm import with_law
from calc.forms.pairing import words
from calc.forms.pairing.figures import chosen, figures
from calc.forms.pairing.inputs import Asked, DamperRow
from calc.language import tr
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    pairs = chosen(asked)
    if asked.parts == "pistons":
        asked = with_law(asked)
    found = asked.propagate(lambda at: figures(at, pairs))
    return Answer(
        steps=words.steps(asked, pairs, found),
        quantities=asked.quantities(found),
        tables=(words.table(asked, pairs),),
        cautions=(_caution(asked),),
        working=words.working(asked, pairs),
        measured=_measured(asked),
    )


def _measured(asked: Asked) -> tuple[OfDamper, ...]:
    """The times of the dampers that have a letter."""
    if asked.parts != "dampers":
        return ()
    return tuple(
        OfDamper("", row.letter, "hang", row.time, asked.u[row.at(DamperRow.time)], tr("Pairing"))
        for row in asked.dampers
        if row.letter
    )


def _caution(asked: Asked) -> Caution:
    match asked.parts:
        case "springs":
            return springs_off()
        case "pistons":
            return opened()
        case "dampers":
            return hanging_mass()


FORM = Form(
    slug="pairing",
    title="Pairing",
    moment="bench",
    asks="Which of these springs, pistons or dampers belong together, and how far apart "
    "are they still?",
    inputs=Asked,
    solve=solve,
    first=(),
    finer=("speed",),
    drawings={"rate": "in-a-row", "free": "in-a-row", "time": "drop-test"},
)
