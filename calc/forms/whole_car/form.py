"""One thing changes: what else has to be turned, filled or drilled, for the whole car at once."""

from dataclasses import replace

from calc.answering.answer import Answer
from calc.forms.whole_car import words
from calc.forms.whole_car.change import writes
from calc.forms.whole_car.figures import figures, plan, shown
from calc.forms.whole_car.hurry import fitted
from calc.forms.whole_car.inputs import Asked
from calc.forms.whole_car.pictures import plot, tables
from calc.forms.whole_car.state import after, before, check_holes, joined
from calc.replying.form import Form


def solve(asked: Asked) -> Answer:
    asked = joined(asked)
    check_holes(asked)
    fits = fitted(asked, plan(asked, before(asked), after(asked)))
    made = fits.plan
    found = asked.propagate(lambda at: figures(at, made))
    answer = Answer(
        steps=(*fits.first, *words.steps(asked, made)),
        above=words.above(asked, made),
        quantities=asked.quantities(found.showing(shown(found.value, made))),
        tables=(*fits.tables, *tables(asked, made)),
        plots=(plot(asked, made),),
        cautions=words.cautions(asked, made),
        working=words.working(asked, made),
        writes=writes(asked, made),
        pours=made.pours,
        drawings=words.drawings(asked, made),
    )
    if fits.nothing:
        return replace(answer, steps=fits.first, above=(), cautions=(), writes=(), pours=())
    return answer


FORM = Form(
    slug="whole-car",
    title="Change one thing",
    moment="car",
    asks="Another spring, hole, piston, oil or load: what else has to change to keep the car as it "
    "was?",
    inputs=Asked,
    solve=solve,
    first=(),
    finer=("speed",),
)
