"""Corner loads: shares of four scale readings, and the opposite turns for a cross weight."""

from math import copysign

from calc.answering.answer import Answer
from calc.forms.corner_loads import words
from calc.forms.corner_loads.figures import best, exact, figures, stand, weights
from calc.forms.corner_loads.inputs import Asked
from calc.forms.entered import with_growths
from calc.forms.findings import check_thread
from calc.forms.friction import with_corner_frictions
from calc.model.corners import CORNERS
from calc.physics.chassis import shares
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    asked = with_corner_frictions(with_growths(asked))
    now = stand(asked)
    turns = best(asked, now)
    for corner, leg, n in zip(CORNERS, now.legs, turns, strict=True):
        check_thread(Asked.cross_wanted, corner, n, leg.pitch, leg.seat.stack.free)
    after = now.turned(turns)
    front, _, _, rear = exact(asked, now)
    ways = copysign(1.0, front), copysign(1.0, rear)
    found = asked.propagate(lambda at: figures(at, turns, ways))
    return Answer(
        steps=words.steps(asked, turns, after),
        above=words.above(asked, turns, after),
        quantities=asked.quantities(found, **words.opposite(ways)),
        tables=words.tables(asked, now, turns, after),
        plots=(words.plot(asked, now, turns),),
        cautions=words.cautions(asked, now, turns, after),
        on_uncertainty=lambda: tuple(words.hidden(asked, after, found.uncertain["cross_weight"])),
        working=words.working(asked, now),
        writes=words.writes(asked, turns),
    )


def weighed(asked: Asked) -> Answer | None:
    """What four scales tell before anything is known of the springs."""
    if len(asked.corner) < len(CORNERS):
        return None
    found = asked.propagate(weights)
    masses = [row.load for row in asked.corner]
    return Answer(
        steps=(words.now(asked, shares(masses)),),
        quantities=asked.quantities(found),
        on_uncertainty=lambda: (words.by_scales_alone(),),
    )


FORM = Form(
    slug="corner-loads",
    title="Corner loads and cross weight",
    moment="car",
    asks="How is the weight shared out, and which turns correct the cross weight?",
    inputs=Asked,
    solve=solve,
    first=("corner.load",),
    early=weighed,
)
