"""Ride frequency and damping ratio of both ends, and the oil for a wanted ratio."""

from calc.answering.answer import Answer
from calc.forms.entered import with_growths
from calc.forms.gas import with_gases
from calc.forms.oil_warm import with_law
from calc.forms.ride_frequency import words
from calc.forms.ride_frequency.figures import figures, ride
from calc.forms.ride_frequency.inputs import Asked
from calc.model.corners import ENDS
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    asked = with_growths(with_law(with_gases(asked, asked.gases)))
    ends = {end: ride(asked, end) for end in ENDS}
    found = asked.propagate(lambda at: figures(at, ends))
    oils = words.oils_for(asked, ends, found)
    return Answer(
        steps=tuple(words.step(asked, ends[end], oils[end]) for end in ENDS),
        quantities=words.quantities(asked, found, oils),
        tables=words.tables(asked, ends),
        plots=words.plots(asked, ends, oils),
        cautions=words.cautions(asked, ends, oils),
        working=words.working(asked, ends),
        writes=words.writes(asked, oils),
        pours=words.pours_of(oils),
    )


FORM = Form(
    slug="ride-frequency",
    title="Ride frequency and damping ratio",
    moment="car",
    asks="How fast does each end bounce, how well is it damped, and which oil damps it as you "
    "want?",
    inputs=Asked,
    solve=solve,
    first=("end.oil",),
    drawings={"wanted": "settle"},
)
