"""Now it is hotter (or colder): one instruction for the oil of each end."""

from collections.abc import Iterator, Mapping

from calc.answering.answer import Answer, Caution
from calc.answering.uncertainty import COVERAGE
from calc.forms.bottles import none_entered, owned
from calc.forms.cautions import opened
from calc.forms.hotter.ends import EndPart, of_ends
from calc.forms.hotter.hurry import hurried
from calc.forms.hotter.inputs import Asked
from calc.forms.hotter.pictures import plot, table, working
from calc.forms.names import dampers_label
from calc.forms.oil_choice import bottle_name, nearest
from calc.forms.oil_warm import law_uncertainty, oil_cautions
from calc.language import tr
from calc.model.corners import End
from calc.model.oil import clamp
from calc.physics.warm import dynamic_at
from calc.replying.figures import Figures, Propagated, figure
from calc.replying.form import Form


class HotterFigures(Figures):
    front_wanted: float = figure("Front oil that feels now as it did at {front}", kind="viscosity")
    rear_wanted: float = figure("Rear oil that feels now as it did at {rear}", kind="viscosity")
    change: float = figure("The oil now is thicker or thinner (−) than at {front}", kind="share")


def figures(asked: Asked) -> HotterFigures:
    then, now = asked.then(End.FRONT), clamp(asked.now)
    grade = asked.front_oil
    return HotterFigures(
        front_wanted=asked.wanted(End.FRONT) * asked.front_law,
        rear_wanted=asked.wanted(End.REAR) * asked.rear_law,
        change=dynamic_at(grade, now) / dynamic_at(grade, then) * asked.front_law - 1,
    )


_MUCH_WARMER = 10.0  # K; less moves the force by less than its own doubt


def _squeezed(asked: Asked) -> tuple[Caution, ...]:
    """A word about trapped air where the oil has grown by the heat."""
    if asked.now - min(asked.front_at, asked.rear_at) < _MUCH_WARMER:
        return ()
    return (
        Caution(
            tr(
                "Warmer oil expands and squeezes the air trapped in the dampers: they come back "
                "with more force, whatever the oil. Fill and bleed says how much more."
            )
        ),
    )


def _straight(
    asked: Asked, ends: Mapping[End, EndPart], found: Propagated[HotterFigures]
) -> Iterator[str]:
    """Where a bottle as it is would serve as well as the mix, by the ± of what is wanted."""
    for end, part in ends.items():
        wanted = found.uncertain[f"{end}_wanted"]
        if part.made is None or part.made.mix.single:
            continue
        within = COVERAGE * wanted.u
        serve = [
            one
            for one in owned(asked.bottles)
            if one.at_most >= asked.fills[end].to_make
            and abs(one.viscosity - wanted.value) <= within
        ]
        if (near := nearest(serve, wanted.value)) is not None:
            yield tr(
                "{dampers}: straight {oil} lies within the ± too ({wanted} ± {within}) and needs "
                "no mixing.",
                dampers=dampers_label(end),
                oil=bottle_name(near, asked.say),
                wanted=asked.say(wanted.value, "viscosity"),
                within=asked.say(within, "viscosity"),
            )


def solve(asked: Asked) -> Answer:
    uncertain = asked.assuming(
        (Asked.front_law, 1.0, law_uncertainty(asked.now, asked.front_at)),
        (Asked.rear_law, 1.0, law_uncertainty(asked.now, asked.rear_at)),
    )
    front, rear = (asked.typed(at, "temperature") for at in (asked.front_at, asked.rear_at))
    grades = [asked.front_oil, asked.rear_oil]
    ends = of_ends(asked)
    first, tables, done = hurried(asked, ends)
    parts = [ends[end] for end in done]
    found = uncertain.propagate(figures)
    return Answer(
        steps=(*first, *(step for part in parts for step in part.steps)),
        quantities=uncertain.quantities(found, front=front, rear=rear),
        tables=(*tables, table(asked)),
        plots=(plot(asked),),
        cautions=(
            *oil_cautions(asked, grades, [asked.front_at, asked.rear_at, asked.now]),
            *(none_entered(asked.bottles) if any(part.lacking for part in parts) else ()),
            *_squeezed(asked),
            *((opened(),) if any(part.writes for part in parts) else ()),
        ),
        on_uncertainty=lambda: tuple(_straight(asked, {end: ends[end] for end in done}, found)),
        working=working(asked),
        writes=tuple(write for part in parts for write in part.writes),
        pours=tuple(pour for part in parts for pour in part.pours),
    )


FORM = Form(
    slug="hotter",
    title="Oil for today",
    moment="track",
    asks="At the track, hotter or colder than when the oils were right: leave them in, or refill "
    "an end, and with what?",
    inputs=Asked,
    solve=solve,
    first=("front_at", "rear_at"),
)
